"""Numbers as people write them into a survey: ratings with their unit, counts, years.

    read_amount(text, holds)   amperes, kVA, percent, kiloamperes or a plain number
    read_count(text)           "2", "2 ea", "x2", "two"
    read_year(text)            "1998", "Mar 1998"
    WrittenNumber              the number, and a sentence where something stood beside it

What is not one number is no number: "225/400", "42-44", "about 100" raise ValueError with
the reason in words for the reader. Not here: lengths and voltages (electrical).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.survey.typed_text import straight

__all__ = ["NUMBER_WORDS", "WrittenNumber", "read_amount", "read_count", "read_year"]

# No more letters than the month has: "may" and not "maybe".
_MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?"
    r"|nov(?:ember)?|dec(?:ember)?)\.?|0?[1-9]|1[0-2]"
)


class WrittenNumber(NamedTuple):
    """A number, and a sentence where something was left beside it."""

    number: float
    note: str = ""


class _Unit(NamedTuple):
    """How a quantity is written: what may stand behind the number, and by what each multiplies."""

    name: str
    factors: dict[str, float]
    before: str = ""
    beside: str = ""


_UNITS = {
    "amperes": _Unit(
        "amperes",
        dict.fromkeys(("a", "amp", "amps", "ampere", "amperes", "amp.", "amps.", "at", "af"), 1.0),
        before=r"(?:rated|rating)\s*[:=]?",
        beside=r"(?<![0-9.])[1-4]\s*-?\s*(?:p|pole|poles)\b",
    ),
    "kva": _Unit(
        "kVA",
        {"kva": 1.0, "k.v.a": 1.0, "k": 1.0, "mva": 1000.0, "va": 0.001},
        beside=r"(?:(?<![0-9.])[123]|single|three)\s*-?\s*(?:phase|ph|ø)\b\.?",
    ),
    "percent": _Unit(
        "percent",
        dict.fromkeys(("%", "pct", "percent", "% z", "%z", "% iz", "%iz", "% imp", "%imp", "% impedance", "%impedance"), 1.0),
        before=r"(?:%\s*i?z|i?z\s*%?|%\s*imp(?:edance)?\.?|imp(?:edance)?\.?)\s*[:=]?",
        beside=r"(?:@|at)\s*[0-9]+\s*(?:°|º|deg(?:rees)?)?\s*c\b",
    ),
    "kiloamperes": _Unit(
        "kA",
        {**dict.fromkeys(("ka", "k", "kaic", "kamps", "ka sym", "kaic sym", "k aic", "ka rms", "ka rms sym"), 1.0),
         **dict.fromkeys(("a", "amps", "amp", "amperes", "aic", "a aic"), 0.001)},
        before=r"(?:sccr|aic|kaic)\s*[:=]?",
        beside=r"(?:@|at)\s*[0-9]{2,3}(?:y/[0-9]{3})?\s*v(?:ac)?\b",
    ),
    "number": _Unit("number", {}),
}  # fmt: skip

_NUMBER = r"[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+(?:\.[0-9]*)?|[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_FRACTION = re.compile(r"([0-9]+)(?: | ?- ?)([0-9]+)/([0-9]+)(?![0-9])")
_ONE_NUMBER = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
NUMBER_WORDS = (
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
"""The numbers that people write as words, each at its own place."""
_COUNT_WORDS = {word: number for number, word in enumerate(NUMBER_WORDS)}
_NO_COUNT = frozenset(
    [
        "a",
        "amp",
        "amps",
        "v",
        "volt",
        "volts",
        "ka",
        "kva",
        "in",
        "inch",
        "inches",
        "ft",
        "feet",
        "mm",
        "cm",
        "m",
        "percent",
        "w",
        "ph",
        "phase",
    ]
)


@lru_cache(maxsize=16384)
def read_amount(text: str, holds: str) -> WrittenNumber:
    """Read one number with or without the unit that its column holds.

    Parameters
    ----------
    text : str
        "1600A", "1,600", "75 kVA", "5.0%", "%Z = 5.75", "65kAIC", "22,000 A".
    holds : str
        "amperes", "kva", "percent", "kiloamperes" or "number". The number comes back in
        A, kVA, % or kA.

    Returns
    -------
    written : WrittenNumber
        With a note when words stood beside the number ("225A MLO").

    Raises
    ------
    ValueError
        Not one number, or another unit than the column's.

    Examples
    --------
    >>> read_amount("1600A", "amperes").number, read_amount("22,000 A", "kiloamperes").number
    (1600.0, 22.0)
    >>> read_amount("225A MLO", "amperes")
    WrittenNumber(number=225.0, note="'225A MLO' was read as 225; the rest of the text was not read")
    >>> read_amount("225/400", "amperes")
    Traceback (most recent call last):
    ValueError: '225/400' holds more than one number; one number in amperes is needed
    """
    unit = _UNITS[holds]
    cleaned = straight(text).casefold()
    needed = f"one number in {unit.name} is needed" if unit.factors else "one number is needed"
    said = f"{text.strip()!r}"
    if not re.search("[0-9]", cleaned):
        raise ValueError(f"{said} holds no number; {needed}")
    bare = _FRACTION.sub(_with_fraction, cleaned)
    if unit.before:
        bare = re.sub(rf"^{unit.before}\s*", "", bare)
    left_out = False
    if unit.beside:
        shorter = re.sub(rf"[\s,/]*{unit.beside}[\s,/]*", " ", bare).strip()
        left_out = shorter != bare
        bare = shorter if re.search("[0-9]", shorter) else bare
    found = _ONE_NUMBER.fullmatch(bare)
    if found is None:
        what = (
            "is no exact number"
            if re.match(r"[^0-9]*[0-9.,]+[^0-9]*$", bare)
            else "holds more than one number"
        )
        raise ValueError(f"{said} {what}; {needed}")
    number, rest = float(found[1].replace(",", "")), " ".join(found[2].split())
    rest = re.sub(r"^-\s?(?=[a-z%])", "", rest)  # 225-A
    if re.search("[0-9]", rest):
        if rest.startswith(","):
            raise ValueError(f"{said} has a comma, which can mean two things; {needed}")
        raise ValueError(f"{said} holds more than one number; {needed}")
    factor, words = _factor(rest, unit)
    if factor is None:
        raise ValueError(f"{said} is not in {unit.name}; {needed}" if unit.factors else f"{said}: {needed}")
    if factor != 1.0:
        number = round(number * factor, 9)
    if not (left_out or words):
        return WrittenNumber(number)
    return WrittenNumber(number, f"{said} was read as {number:g}; the rest of the text was not read")


def _with_fraction(found: re.Match[str]) -> str:
    """Write 37 1/2 as 37.5; 100 480/277 holds no fraction, and stays."""
    top, bottom = int(found[2]), int(found[3])
    return repr(int(found[1]) + top / bottom) if top < bottom else found[0]


def _factor(rest: str, unit: _Unit) -> tuple[float | None, str]:
    """Return by what the number multiplies and the words left over; None for a unit of something else."""
    rest = rest.strip().rstrip(".").strip()
    if not rest:
        return 1.0, ""
    if rest in unit.factors:
        return unit.factors[rest], ""
    first, _, words = rest.partition(" ")
    first = first.rstrip(".,;:(")
    if first in unit.factors and re.fullmatch(r"[a-z ,.()\-/&']+", words):
        return unit.factors[first], words
    return None, ""


@lru_cache(maxsize=4096)
def read_count(text: str) -> WrittenNumber:
    """Read a whole number of things.

    Raises
    ------
    ValueError
        Not one whole number, or a number with a unit of measure.

    Examples
    --------
    >>> [int(read_count(text).number) for text in ("2", "2 ea", "x3", "two", "6 motions", "4.0")]
    [2, 2, 3, 2, 6, 4]
    >>> read_count("several")
    Traceback (most recent call last):
    ValueError: 'several' is no count; one whole number is needed
    """
    cleaned = straight(text).casefold().strip("() .")
    found = re.fullmatch(r"x?\s*\(?([+-]?[0-9]+)(?:\.0+)?\)?\s*(?:x\b)?\s*([a-z][a-z .\-/]*)?", cleaned)
    word = re.fullmatch(r"([a-z]+)(?:\s*\(([0-9]+)\))?(?:\s+[a-z]+)?", cleaned)
    if found and (found[2] or "").strip(" .").partition(" ")[0] not in _NO_COUNT:
        return WrittenNumber(int(found[1]))
    if word and word[1] in _COUNT_WORDS and word[2] in (None, str(_COUNT_WORDS[word[1]])):
        return WrittenNumber(_COUNT_WORDS[word[1]])
    raise ValueError(f"{text.strip()!r} is no count; one whole number is needed")


@lru_cache(maxsize=4096)
def read_year(text: str) -> WrittenNumber:
    """Read a year of four digits; a month beside it may stand.

    Raises
    ------
    ValueError
        No year of four digits, or something else beside it.

    What follows a year after a stroke may be a month or another year: the note says so.

    Examples
    --------
    >>> int(read_year("1998").number), int(read_year("Mar 1998").number), int(read_year("06/2019").number)
    (1998, 1998, 2019)
    >>> read_year("'98")
    Traceback (most recent call last):
    ValueError: "'98" is no year of four digits
    """
    cleaned = straight(text).casefold()
    found = re.fullmatch(
        rf"(?:(?:{_MONTH})[\s/.,-]+)?([0-9]{{4}})(?:\.0+)?(?:[\s/.,-]+(?:{_MONTH}))?", cleaned
    )
    if found is None:
        raise ValueError(f"{text.strip()!r} is no year of four digits")
    year = int(found[1])
    behind = cleaned[found.end(1) :]
    if (
        re.fullmatch(r"(?:\.0+)?", behind)
        or re.search(r"[a-z]", behind)
        or re.fullmatch(r"-[0-9]{2}", behind)
    ):
        return WrittenNumber(year)
    return WrittenNumber(
        year, f"{text.strip()!r} was read as the year {year}; {behind.strip(' /.,-')} was not read"
    )

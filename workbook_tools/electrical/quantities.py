"""Lengths as people write them.

    read_length(text, unit)              a Length, or ValueError: what it is not and why
    write_length(length)                 a text that reads back as the same length
    likely_unit(length, low, high)       the unit that a suspicious number was meant in
    Length                               number and unit as typed, in inches and millimetres

Inches, feet, millimetres, centimetres and metres are read at once; any other unit is asked
of pint, which is loaded then. Not here: which length is long enough (clearances).
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache
from math import gcd
from typing import Any

from workbook_tools.electrical.written_signs import FRACTION_SIGNS, PLAIN_SIGNS

__all__ = ["Length", "likely_unit", "read_length", "write_length"]

UNITS = ("in", "ft", "mm", "cm", "m")
LONGEST_UNIT = 20  # letters; what is longer is a remark, not a unit

_NAMES = {
    **dict.fromkeys(("in", "inch", "inches", "ins", '"'), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters", "mtr"), "m"),
}


@dataclass(frozen=True, slots=True)
class Length:
    """A length with the number and the unit it was typed in.

    Parameters
    ----------
    number : float
        Not below 0. [unit]
    unit : str
        "in", "ft", "mm", "cm" or "m"; feet and inches together are inches.
    unit_said : bool, optional
        False when the number stood alone and the unit is the job's. Two lengths that differ
        only in this are equal.

    Raises
    ------
    ValueError
        A number below 0 or not finite, or another unit.

    Examples
    --------
    >>> Length(1067, "mm").inches, Length(3.5, "ft").inches, Length(42, "in").millimetres
    (42.00787, 42.0, 1066.8)
    """

    number: float
    unit: str
    unit_said: bool = field(default=True, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Refuse what is no length; a whole number becomes a float."""
        if self.unit not in UNITS:
            raise ValueError(f"unit must be one of {', '.join(UNITS)}, not {self.unit!r}")
        if not 0 <= self.number < float("inf"):
            raise ValueError(f"a length must be a number from 0 up, not {self.number!r}")
        object.__setattr__(self, "number", float(self.number))

    @property
    def inches(self) -> float:
        """The length in inches."""
        return _convert(self.number, self.unit, "in")

    @property
    def millimetres(self) -> float:
        """The length in millimetres."""
        return _convert(self.number, self.unit, "mm")

    @property
    def metric(self) -> bool:
        """Whether it was measured in a metric unit."""
        return self.unit in ("mm", "cm", "m")


def read_length(text: str, unit: str = "in") -> Length:
    r"""Read a length as people write it.

    Parameters
    ----------
    text : str
        ``3'-6"``, ``3 ft 6 in``, ``3'6``, ``36 1/2``, ``42"``, ``1.07 m``, ``1067mm``, ``42``;
        straight or curly quotes, dashes and fractions of any kind.
    unit : str, optional
        The job's unit, for a number that stands alone.

    Returns
    -------
    length : Length
        Feet and inches together come back in inches, everything else in the unit written.

    Raises
    ------
    ValueError
        A text that is no one length: words, a range ("42-44"), a negative number, a comma
        (it can mean two things), a blank; or a unit that is not known.

    Examples
    --------
    >>> read_length("3'-6\"").inches, read_length("36 1/2").inches, read_length("1.07 m").inches
    (42.0, 36.5, 42.12598)
    >>> read_length("1.5 yd").inches, read_length("9 dm").millimetres
    (54.0, 900.0)
    >>> read_length("42-44")
    Traceback (most recent call last):
    ValueError: '42-44' reads as a range; one length is needed
    """
    if unit not in UNITS:
        raise ValueError(f"unit must be one of {', '.join(UNITS)}, not {unit!r}")
    return _read(text, unit)


def write_length(length: Length) -> str:
    r"""Write a length so that it reads back as the same length.

    Parameters
    ----------
    length : Length
        Any length.

    Returns
    -------
    text : str
        The number in full and the unit: "42 in", "1.07 m".

    Examples
    --------
    >>> write_length(read_length("3'-6 1/2\"")), write_length(read_length("1067mm"))
    ('42.5 in', '1067 mm')
    """
    number = repr(length.number)
    if "e" in number:
        number = format(Decimal(number), "f")
    return f"{number.removesuffix('.0')} {length.unit}"


def likely_unit(length: Length, low_in: float, high_in: float) -> str | None:
    """Name the unit in which a number out of range would make sense.

    Parameters
    ----------
    length : Length
        The length as read.
    low_in, high_in : float
        The range that the trade meets. [in]

    Returns
    -------
    unit : str or None
        None when the length is inside the range, or makes no sense in any unit.

    Raises
    ------
    ValueError
        A range whose low end is above its high end.

    Examples
    --------
    >>> likely_unit(read_length("914"), 12, 240), likely_unit(read_length("4"), 12, 240)
    ('mm', 'ft')
    >>> likely_unit(read_length("36", unit="mm"), 12, 240), likely_unit(read_length("42"), 12, 240)
    ('in', None)
    >>> likely_unit(read_length("36", unit="ft"), 12, 360)
    'in'
    """
    if not low_in <= high_in:
        raise ValueError(f"low_in must not be above high_in, not {low_in!r} and {high_in!r}")
    if low_in <= length.inches <= high_in:
        return None
    # The other unit of the same tape first: 36 in a column of feet is inches, not centimetres.
    order = ("in", "m", "ft", "cm") if length.metric else ("in", "mm", "ft", "m", "cm")
    for unit in order:
        if unit != length.unit and low_in <= _convert(length.number, unit, "in") <= high_in:
            return unit
    return None


_PLAIN = str.maketrans({**PLAIN_SIGNS, **FRACTION_SIGNS, "〃": '"'})
_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_AMOUNT = rf"(?:(?:[0-9]+(?:\s+|\s?-\s?))?[0-9]+\s?/\s?[0-9]+|{_DECIMAL})"
_FEET, _INCHES = r"(?:'|feet|foot|ft\.?)", r"(?:\"|''|inches|inch|ins\.?|in\.?)"
_FEET_AND_INCHES = re.compile(rf"({_AMOUNT})\s*{_FEET}(?:\s*-?\s*({_AMOUNT})\s*{_INCHES}?)?")
_ONE_NUMBER = re.compile(rf"({_AMOUNT})\s*({_INCHES}|[a-z]+\.?)?")
_TWO_NUMBERS = re.compile(rf"{_AMOUNT}\s*(?:\"|'|[a-z]*\.?)\s*(?:-|to|\.\.+|…|or)\s*{_AMOUNT}.*")


@lru_cache(maxsize=65536)
def _read(text: str, unit: str) -> Length:
    plain = " ".join(text.translate(_PLAIN).lower().split())
    if not plain:
        raise ValueError("no length is entered")
    if len(plain) > 400:
        raise ValueError(f"{text[:60]!r}… is too long for a length")
    found = _FEET_AND_INCHES.fullmatch(plain)
    if found:
        feet = _amount(found[1], text)
        if found[2] is None:
            return Length(feet, "ft")
        return Length(_convert(feet, "ft", "in") + _amount(found[2], text), "in")
    found = _ONE_NUMBER.fullmatch(plain)
    if found:
        word = (found[2] or "").rstrip(".").replace("''", '"')
        named = _NAMES.get(word)
        if word and named is None:
            return _of_another_unit(_amount(found[1], text), word, text)
        return Length(_amount(found[1], text), named or unit, named is not None)
    if _TWO_NUMBERS.fullmatch(plain):
        raise ValueError(f"{text!r} reads as a range; one length is needed")
    if re.match(r"-\s*[0-9.]", plain):
        raise ValueError(f"{text!r} is negative; a length is 0 or more")
    if re.search(r"[0-9],[0-9]", plain):
        dot, none = text.strip().replace(",", "."), text.strip().replace(",", "")
        raise ValueError(f"{text!r} has a comma, which can mean two things; write {dot} or {none}")
    if not re.search(r"[0-9]", plain):
        raise ValueError(f"{text!r} holds no number; a length like 42, 3'-6\" or 1067 mm is needed")
    raise ValueError(f"{text!r} cannot be read as one length; a length like 42, 3'-6\" or 1067 mm is needed")


def _amount(written: str, text: str) -> float:
    whole, slash, below = written.partition("/")
    if not slash:
        return float(written)
    parts = re.findall(r"[0-9]+", whole)
    top, bottom = int(parts[-1]), int(below)
    if bottom == 0 or (len(parts) > 1 and top >= bottom):
        raise ValueError(f"{text!r} has a fraction that is none: {top}/{bottom}")
    try:
        return (int(parts[0]) if len(parts) > 1 else 0) + top / bottom
    except OverflowError:
        raise ValueError(f"{text[:60]!r}… is too large for a length") from None


def _convert(number: float, unit: str, into: str) -> float:
    if unit == into:
        return number
    multiply, divide = _factor(unit, into)
    return number * multiply / divide


def _of_another_unit(number: float, word: str, text: str) -> Length:
    """Read a unit that is none of the five through pint: yards become inches, decimetres millimetres."""
    millimetres = _millimetres_of(word)
    if millimetres is None:
        raise ValueError(
            f"{text[:60]!r} ends in {word[:30]!r}, which is no unit of length; one of {', '.join(UNITS)} is needed"
        )
    inches = round(millimetres / 25.4)
    is_customary = inches >= 1 and abs(millimetres / 25.4 - inches) < 1e-9
    return Length(number * inches, "in") if is_customary else Length(number * millimetres, "mm")


@lru_cache(maxsize=256)
def _millimetres_of(word: str) -> float | None:
    if not 2 <= len(word) <= LONGEST_UNIT:
        return None
    import pint

    try:
        return float(_registry().Quantity(1, word.replace("metre", "meter")).to("millimetre").magnitude)
    except (pint.PintError, ArithmeticError, AttributeError, TypeError, ValueError):
        return None


# Exact, by the definition of the international inch (25.4 mm). A test holds the five to pint, whose registry
# alone takes a third of a second and 30 MB to build: too much for every check of a survey, so it is asked only
# about the units that are none of these.
_TENTHS_OF_MM = {"mm": 10, "cm": 100, "m": 10_000, "in": 254, "ft": 3048}


@lru_cache(maxsize=64)
def _factor(unit: str, into: str) -> tuple[int, int]:
    """Exact ratio of two units, in lowest terms."""
    multiply, divide = _TENTHS_OF_MM[unit], _TENTHS_OF_MM[into]
    common = gcd(multiply, divide)
    return multiply // common, divide // common


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()

"""The parts of a voltage text: phases, wires and volts.

    read_phases(text), read_wires(text)   the number in "3 ph", "3Ø", "single phase", "4W"
    plain_text(text)                      look-alike signs, quotes and spaces made plain
    take_counts(plain)                    phases and wires taken out of a plain text
    take_volts(plain)                     the voltages in what is left
    connection_words(plain)               delta, wye, grounded corner, high leg

Not here: which system a text names (voltage_systems).
"""

from __future__ import annotations

import re

from workbook_tools.electrical.written_signs import PLAIN_SIGNS

__all__ = ["read_phases", "read_wires"]


def read_phases(text: str | None) -> int | None:
    """Return the number of phases that a text names, None when it names none.

    Parameters
    ----------
    text : str or None
        "3", "3 ph", "3Ø", "single phase", "three-phase".

    Returns
    -------
    phases : int or None
        1 or 3; another number when one is written ("2 phase"). [-]

    Examples
    --------
    >>> read_phases("3Ø"), read_phases("single phase"), read_phases("1"), read_phases("N/V")
    (3, 1, 1, None)
    """
    plain = plain_text(text or "")
    bare = re.fullmatch(r"([1-9])(?:\.0)?\s*p?", plain)
    return int(bare[1]) if bare else take_counts(plain)[1]


def read_wires(text: str | None) -> int | None:
    """Return the number of wires that a text names, None when it names none.

    Parameters
    ----------
    text : str or None
        "4", "4W", "4-wire", "three wire", "4W+G" (a ground is not counted as a wire).

    Returns
    -------
    wires : int or None
        The number written. [-]

    Examples
    --------
    >>> read_wires("4W+G"), read_wires("3-wire"), read_wires("2"), read_wires("")
    (4, 3, 2, None)
    """
    plain = plain_text(text or "")
    bare = re.fullmatch(r"([1-9])(?:\.0)?(?:\s*(?:\+|&|plus|and)\s*(?:g|gnd|ground))?", plain)
    return int(bare[1]) if bare else take_counts(plain)[2]


_QUOTES = ["'", '"', *(sign for sign, plain in PLAIN_SIGNS.items() if plain in ("'", '"'))]
_LOOKALIKES = str.maketrans(
    {**PLAIN_SIGNS, **dict.fromkeys(_QUOTES, ""), **dict.fromkeys("Øø∅⌀φΦϕ", "ph"), **dict.fromkeys("Δ∆δ", " delta "),
     "×": "x"}
)  # fmt: skip
_COUNT_WORDS = {"one": "1", "single": "1", "two": "2", "three": "3", "four": "4", "five": "5"}
_HIGH_LEG = r"(?:high|hi|wild|stinger|red|crazy)[\s-]*leg"
_OTHER_UNITS = (
    r"[0-9][0-9.,]*\s*-?\s*(?:hz|hertz|cycles?|ka|kaic|aic|amps?|amperes?|a|kva|mva|va|kw|hp)(?![a-z])"
)


def plain_text(text: str) -> str:
    """Write look-alike signs, quotes, dashes and spaces in one way, in small letters."""
    return re.sub(r"\s+", " ", text.translate(_LOOKALIKES).lower()).strip()


def take_counts(plain: str) -> tuple[str, int | None, int | None]:
    """Take phases and wires out of a text; what is left holds the volts."""
    plain = re.sub(
        r"\b(one|single|two|three|four|five)(?=[\s-]*(?:ph|wire|w\b))",
        lambda word: _COUNT_WORDS[word[1]],
        plain,
    )
    plain = re.sub(r"\bsplit[\s-]*ph(?:ase)?\b", "1ph 3w", plain)
    phases = wires = None
    short_form = re.search(r"[/-]\s*([13])\s*(?:ph)?\s*[/-]\s*(?:50|60)\b(?:\s*hz)?", plain)  # 460/3/60
    if short_form:
        phases = int(short_form[1])
        plain = plain[: short_form.start()] + " " + plain[short_form.end() :]
    bare_pair = re.search(r"(?<=[0-9vy])[\s,;/-]+([13])[\s,;/-]+([234])$", plain)  # 480Y/277 3 4
    if bare_pair:
        phases, wires = int(bare_pair[1]), int(bare_pair[2])
        plain = plain[: bare_pair.start()]
    found = re.search(
        r"(?<![0-9.])([1-9])\s*-?\s*(?:wires?|w)(?![a-z])(?:\s*(?:\+|&|plus|and)\s*(?:1\s*)?(?:gnd|ground|g)\b)?",
        plain,
    )
    if found:
        wires = int(found[1])
        plain = plain[: found.start()] + " " + plain[found.end() :]
        poles = re.search(r"(?<![0-9.])([13])\s*p(?![a-z])", plain)  # "3P 4W": beside wires a P is a phase
    else:
        poles = None
    named = re.search(r"(?<![0-9.])([1-9])\s*-?\s*(?:phases?|phs?)(?![a-z])\.?", plain) or poles
    if named:
        phases = int(named[1])
        plain = plain[: named.start()] + " " + plain[named.end() :]
    if wires is None and phases == 3 and re.search(r"(?:\+|&|plus|and|with|w/)\s*n(?:eutral)?\b", plain):
        wires = 4  # "3PH+N"
    return plain, phases, wires


def take_volts(plain: str) -> tuple[float, ...]:
    """Find the voltages in what take_counts left, in the order written; kV become volts."""
    plain = re.sub(r"(?<![0-9])[1-4]\s*-?\s*(?:poles?|p)(?![a-z])", " ", plain)
    plain = re.sub(_OTHER_UNITS, " ", plain)
    plain = re.sub(r"(?<![0-9.])([0-9]{2}) ([0-9]{3})(?![0-9])", r"\1\2", plain)  # 12 470Y/7200
    numbers = re.findall(r"([0-9]{1,3}(?:,[0-9]{3})+(?![0-9])|[0-9]+)(\.[0-9]+)?", plain)
    volts = [min(float(whole.replace(",", "") + fraction), 1e9) for whole, fraction in numbers]
    if re.search(r"[0-9][\s,]*k(?:v|\b)", plain):
        volts = [round(value * 1000, 6) if value < 1000 else value for value in volts]
    return tuple(int(value) if value.is_integer() else value for value in volts)


def connection_words(plain: str) -> tuple[bool, bool, bool, bool]:
    """Whether a text says delta, wye, a grounded corner, a high leg."""
    corner = r"corner|\bcg\b|(?<!un)grounded[\s-]*(?:delta|b\b)|b[\s-]*(?:phase|ph)[\s-]*ground"
    return (
        re.search(r"delta|(?<=[0-9v])\s?d\b|^d\s*(?=[0-9])", plain) is not None,
        re.search(r"\bwye\b|\bstar\b|(?<=[0-9v])\s?(?:y|wye)(?![a-z])|^y\s*(?=[0-9])", plain) is not None,
        re.search(corner, plain) is not None,
        re.search(_HIGH_LEG, plain) is not None,
    )

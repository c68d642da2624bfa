"""What one cell of a list says at once: "225A 208Y/120 3PH 4W" is a rating, a voltage, phases and wires.

    parts_of(text)      Parts: each quantity of the cell as a text of its own, and what is left over
    several_tags(text)  the tags of a cell that names several, each alone
    pair_of(text)       the two sides of a transformer's voltage, "480-208Y/120"

A part is what stands in the cell, never computed: "35K" stays 35 kA, "100A/3P" gives 100A and three phases,
since a breaker of three poles is on three phases (common practice).

Not here: which column a part goes to (rows).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.electrical import read_phases, read_voltage, read_wires
from workbook_tools.electrical.voltage_texts import plain_text

__all__ = ["USUAL_VOLTS", "Parts", "counts_of", "pair_of", "parts_of", "several_tags"]


class Parts(NamedTuple):
    """The quantities of a cell as texts, "" for none; `rest` is what none of them took."""

    amperes: str = ""
    trip: str = ""
    kva: str = ""
    kiloamperes: str = ""
    voltage: str = ""
    primary: str = ""
    secondary: str = ""
    phase: str = ""
    wires: str = ""
    main_device: str = ""
    rest: str = ""

    @property
    def how_many(self) -> int:
        """How many quantities the cell holds."""
        return sum(bool(part) for part in self[:-1])


USUAL_VOLTS = frozenset((24, 48, 110, 115, 120, 125, 127, 200, 208, 220, 230, 240, 250, 277, 347, 380, 400, 415, 440, 460,
    480, 575, 600, 690, 2400, 4160, 7200, 12000, 12470, 13200, 13800, 24900, 34500))  # fmt: skip
"""Voltages that stand on placards, nominal and of equipment (common practice; ANSI C84.1 has the systems)."""

_NUMBER = r"\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+(?:[.,]\d+)?"
_KVA = re.compile(rf"(?<![\w.])({_NUMBER})\s*(?:kva|mva)\b", re.IGNORECASE)
_KA = re.compile(
    rf"(?<![\w.])({_NUMBER})\s*(?:kaic|ka\s*ic|k\s*aic|ka|k)\b(?:\s*(?:aic|sccr|sym|rms))*", re.IGNORECASE
)
_FRAME_TRIP = re.compile(rf"(?<![\w.])({_NUMBER})\s*AF\s*[/,]?\s*({_NUMBER})\s*AT\b", re.IGNORECASE)
_AMPERES = re.compile(rf"(?<![\w.])({_NUMBER})\s*-?\s*(?:amperes?|amps?|a)\b(?!\s*ic)\.?", re.IGNORECASE)
_POLES = re.compile(r"(?<![\w.])([1-4])\s*-?\s*(?:poles?|p)\b", re.IGNORECASE)
_PHASES = re.compile(
    r"(?<![\w.])(?:[123]|one|single|three)\s*-?\s*(?:phases?|phs?|ø|φ)\.?(?![a-z])|(?<=[ ,;])[13]\s*p(?=[ ,;]+[2345]\s*-?\s*w)",
    re.IGNORECASE,
)
_WIRES = re.compile(
    r"(?<![\w.])[2-5]\s*-?\s*(?:wires?|w)(?:\s*\+\s*(?:g|gnd|ground))?(?![a-z])", re.IGNORECASE
)
_ONE_VOLTAGE = (
    r"\d{2,3}(?:\.\d+)?\s*k?v?\s*[yd]?\s*/\s*\d{2,3}(?:\.\d+)?\s*(?:kv|volts?|vac|v)?\s*(?:wye|delta|y|d|Δ)?"
    r"|\d{1,2}(?:\.\d+)?\s*kv|\d{2,5}\s*(?:volts?|vac|v)\b(?:\s*(?:wye|delta|Δ))?"
)
_VOLTAGE = re.compile(rf"(?<![\w.])(?:{_ONE_VOLTAGE})(?!\w)", re.IGNORECASE)
_SIDE = r"\d{2,5}(?:\.\d+)?\s*(?:kv|volts?|v)?\s*(?:wye|delta|y|d|Δ)?(?:\s*/\s*\d{2,4})?\s*(?:volts?|v)?\s*(?:wye|delta|y|d|Δ)?"
_PAIR = re.compile(
    rf"(?<![\w.])({_SIDE})\s*(?:(?:pri\w*)\s*)?(?:-|–|—|:|→|>|\bto\b)\s*({_SIDE})(?:\s*sec\w*)?(?![\w.])",
    re.IGNORECASE,
)
_PRIMARY = re.compile(rf"(?<![\w.])({_ONE_VOLTAGE})\s*(?:primary|prim|pri)\b\.?", re.IGNORECASE)
_SECONDARY = re.compile(rf"(?<![\w.])({_ONE_VOLTAGE})\s*(?:secondary|sec)\b\.?", re.IGNORECASE)
_TRIPLE = re.compile(r"\s*/\s*([13])\s*/\s*([234])\s*$")
"""Phases and wires behind a voltage, parted by strokes: 480Y/277 / 3 / 4."""
_APART = re.compile(r"\s+/\s+|[,;]\s*|\s+[-–]\s+")
_SIDES_OF_ONE = 2
_DEVICES = (
    ("Main lugs", re.compile(r"\b(?:m\.?l\.?o\.?|main\s+lugs?(?:\s+only)?|lugs\s+only)(?![a-z])", re.IGNORECASE)),
    ("Main breaker", re.compile(r"\b(?:m\.?c\.?b\.?|main\s+(?:circuit\s+)?(?:breaker|bkr|cb)|mb)(?![a-z])", re.IGNORECASE)),
    ("Switch without fuses", re.compile(r"\b(?:non-?\s?fus(?:ed|ible)|unfused)(?:\s+(?:switch|disconnect))?\b", re.IGNORECASE)),
    ("Fused switch", re.compile(r"\b(?:fus(?:ed|ible))(?:\s+(?:switch|disconnect|main))?\b", re.IGNORECASE)),
)  # fmt: skip
_TAG = re.compile(r"(?=.*[A-Za-z])[A-Za-z0-9][\w .#-]{1,18}")
_BETWEEN_TAGS = re.compile(r"\s*(?:[;\n&+]|,|/|\band\b)\s*", re.IGNORECASE)
_TIGHT_SLASH = re.compile(r"\S/\S")
_COUNTS = re.compile(r"([13])\s*(?:phases?|phs?|ø|φ)?\s*[/,-]\s*([2345])\s*(?:wires?|w)?", re.IGNORECASE)
_LETTERS = re.compile(r"[A-Za-z]*")
_LONGEST = 300


@lru_cache(maxsize=16384)
def parts_of(text: str) -> Parts:
    """Take a cell apart.

    Examples
    --------
    >>> parts = parts_of("225A 208Y/120 3PH 4W")
    >>> parts.amperes, parts.voltage, parts.phase, parts.wires, parts.rest
    ('225A', '208Y/120', '3', '4', '')
    >>> parts_of("75 kVA 480-208Y/120")[2:7]
    ('75 kVA', '', '', '480', '208Y/120')
    >>> parts_of("800A MLO").main_device, parts_of("208Y/120V, 600A").amperes, parts_of("Room 101").how_many
    ('Main lugs', '600A', 0)
    >>> parts_of("480Y/277 / 3 / 4")[4:9:1], parts_of("15 kVA, 480 V primary, 120/240 V secondary")[2:7]
    (('480Y/277', '', '', '3', '4'), ('15 kVA', '', '', '480 V', '120/240 V'))
    >>> parts_of("112.5 kVA / 480 V / 208Y/120 V")[2:7]
    ('112.5 kVA', '', '', '480 V', '208Y/120 V')
    """
    if len(text) > _LONGEST or not any(c.isdigit() for c in text):
        device, rest = _main_device(text) if len(text) <= _LONGEST else ("", text)
        return Parts(main_device=device, rest=rest)
    rest = " ".join(text.split())
    kva, rest = _take(_KVA, rest)
    trip = ""
    frame = _FRAME_TRIP.search(rest)
    if frame is not None:
        amperes, trip = f"{frame[1]} A", f"{frame[2]} A"
        rest = f"{rest[: frame.start()]} {rest[frame.end() :]}"
    else:
        amperes, rest = _take(_AMPERES, rest)
    sides = pair_of(rest)
    primary, secondary, voltage = "", "", ""
    spelled = _sides_in_words(rest, bool(kva)) if sides is None else None
    if spelled is not None:
        primary, secondary, rest = spelled
        sides = primary, secondary
    elif sides is not None:
        primary, secondary = sides
        rest = _PAIR.sub(" ", rest, count=1)
    triple = _TRIPLE.search(rest)
    if triple is not None:
        rest = f"{rest[: triple.start()]} {triple[1]}PH {triple[2]}W"
    phases, rest_behind = _take(_PHASES, rest)
    wires, rest_behind = _take(_WIRES, rest_behind)
    poles, rest_behind = _take(_POLES, rest_behind)
    if sides is None:
        voltage, rest_behind = _take_voltage(rest_behind)
    kiloamperes, rest_behind = _take(_KA, rest_behind)
    device, rest_behind = _main_device(rest_behind)
    count = read_phases(phases or (poles if poles.strip().startswith("3") else ""))
    return Parts(
        amperes, trip, kva, _as_ka(kiloamperes), voltage, primary, secondary,
        str(count) if count else "", str(read_wires(wires) or "") if wires else "", device, rest_behind.strip(" ,;/-–()"),
    )  # fmt: skip


def _sides_in_words(text: str, of_kva: bool) -> tuple[str, str, str] | None:
    """Return primary, secondary and what is left, where the sides are named or stand one after the other behind a size."""
    found = _PRIMARY.search(text), _SECONDARY.search(text)
    if found[0] is not None and found[1] is not None:
        rest = _SECONDARY.sub(" ", _PRIMARY.sub(" ", text, count=1), count=1)
        return found[0][1].strip(), found[1][1].strip(), rest
    pieces = [piece.strip() for piece in _APART.split(text)]
    volts = [piece for piece in pieces if _VOLTAGE.fullmatch(piece) and _is_voltage(piece)]
    if not of_kva or len(volts) != _SIDES_OF_ONE:
        return None
    return volts[0], volts[1], ", ".join(piece for piece in pieces if piece not in volts)


def _take(pattern: re.Pattern[str], text: str) -> tuple[str, str]:
    found = pattern.search(text)
    if found is None:
        return "", text
    return found[0].strip(), f"{text[: found.start()]} {text[found.end() :]}"


def _take_voltage(text: str) -> tuple[str, str]:
    for found in _VOLTAGE.finditer(text):
        if _is_voltage(found[0]):
            return found[0].strip(), f"{text[: found.start()]} {text[found.end() :]}"
    return "", text


def _as_ka(text: str) -> str:
    number = re.match(_NUMBER, text)
    return f"{number[0]} kA" if number else ""


def _main_device(text: str) -> tuple[str, str]:
    for name, pattern in _DEVICES:
        found = pattern.search(text)
        if found is not None:
            return name, f"{text[: found.start()]} {text[found.end() :]}".strip()
    return "", text


@lru_cache(maxsize=4096)
def _is_voltage(text: str) -> bool:
    reading = read_voltage(text)
    return reading.outcome in ("one system", "ambiguous") or (
        reading.outcome == "not nominal" and all(24 <= volts <= 40_000 for volts in reading.volts)
    )


def pair_of(text: str) -> tuple[str, str] | None:
    """Return the two sides of a transformer's voltage as they are written, None where it is no such pair.

    Examples
    --------
    >>> pair_of("480-208Y/120"), pair_of("480V Δ to 208Y/120V"), pair_of("480Y/277")
    (('480', '208Y/120'), ('480V Δ', '208Y/120V'), None)
    """
    found = _PAIR.search(text.replace("∆", "Δ"))
    if found is None:
        return None
    first, second = found[1].strip(), found[2].strip()
    if all(
        _is_voltage(plain_text(side)) and USUAL_VOLTS & set(read_voltage(side).volts)
        for side in (first, second)
    ):
        return first, second
    return None  # "101-104" are rooms


def counts_of(text: str) -> tuple[str, str] | None:
    """Return phases and wires written as a pair; None where a text is no such pair. A heading must ask for them.

    Examples
    --------
    >>> counts_of("3/4"), counts_of("3ph/4w"), counts_of("1/2 in")
    (('3', '4'), ('3', '4'), None)
    """
    found = _COUNTS.fullmatch(text.strip())
    return (found[1], found[2]) if found is not None else None


def several_tags(text: str) -> tuple[str, ...]:
    """Return the tags of a cell that names several; none where it names one, or is no list of tags.

    Examples
    --------
    >>> several_tags("LP-1 & LP-2"), several_tags("MSB / GEN-1"), several_tags("Lighting, level 1")
    (('LP-1', 'LP-2'), ('MSB', 'GEN-1'), ())
    """
    pieces = [piece for piece in _BETWEEN_TAGS.split(text.strip()) if piece]
    if len(pieces) < 2 or len(text) > _LONGEST:
        return ()
    if _TIGHT_SLASH.search(text) and len({_LETTERS.match(piece)[0] for piece in pieces}) > 1:  # type: ignore[index]
        return ()  # "DP/EM-1" may be one tag
    if all(_TAG.fullmatch(piece) and _looks_like_a_tag(piece) for piece in pieces):
        return tuple(pieces)
    return ()


def _looks_like_a_tag(text: str) -> bool:
    words = text.split()
    return (
        len(words) <= 2
        and (text.isupper() or any(c.isdigit() for c in text))
        and words[0].upper() == words[0]
    )

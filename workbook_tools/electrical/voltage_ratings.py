"""What a piece of equipment is marked for in volts, as against the voltage of its system.

    read_voltage_rating(text)   a VoltageRating
    VoltageRating               one voltage (600), or a slash rating (480Y/277)

A plain number holds between the lines and to ground alike. Of a slash rating the higher figure
holds between the lines, the lower to ground: it may serve only where no line is further from
ground than that. Not here: the voltage of a system (voltage_systems).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbook_tools.electrical.voltage_texts import plain_text, take_counts, take_volts

__all__ = ["VoltageRating", "read_voltage_rating"]

_LOWEST, _HIGHEST = 12.0, 800_000.0
_DIRECT = re.compile(r"[0-9][0-9.,]*\s*v?\s*-?\s*dc\b")
_NOT_VOLTS = re.compile(r"[0-9]\s*(?:hz|ka|kaic|aic|a|amps?|kva|hp|kw)\b")
_RANGE = re.compile(r"[0-9]\s*v?\s*(?:-|to|\.\.+)\s*[0-9]")
_TWO_OF_ONE = (1.6, 2.1)  # line to leg: 1.73 of a wye, 2 of a centre tap, as printed


@dataclass(frozen=True, slots=True)
class VoltageRating:
    """A marked voltage rating [V].

    ``line_volts`` is what it may have between its lines; ``volts_to_ground`` what a slash rating
    allows to ground, None for a plain rating, which holds to ground too.
    """

    line_volts: float
    volts_to_ground: float | None = None

    @property
    def is_slash(self) -> bool:
        """Whether it is a slash rating."""
        return self.volts_to_ground is not None

    def __str__(self) -> str:
        """Return it as it is marked: "600", "480Y/277", "120/240"."""
        if self.volts_to_ground is None:
            return f"{self.line_volts:g}"
        if self.line_volts == 2 * self.volts_to_ground:
            return f"{self.volts_to_ground:g}/{self.line_volts:g}"
        return f"{self.line_volts:g}Y/{self.volts_to_ground:g}"


def read_voltage_rating(text: str) -> VoltageRating:
    """Read a voltage rating as it is marked.

    Parameters
    ----------
    text : str
        "600", "600 V AC", "480Y/277", "277/480", "120/240V", "15 kV". A rating for direct current
        beside it ("600VAC 250VDC") is left aside; alone it is the rating.

    Returns
    -------
    rating : VoltageRating
        [V]

    Raises
    ------
    ValueError
        No voltage, more than one rating, or two figures that are no line and leg of one system.
        The text says what was read and what is expected.

    References
    ----------
    .. [1] NFPA 70 240.85, on slash and straight ratings (from memory).

    Examples
    --------
    >>> str(read_voltage_rating("277/480 V")), str(read_voltage_rating("600VAC")), str(read_voltage_rating("240/120"))
    ('480Y/277', '600', '120/240')
    """
    expected = "a rating like 600, 250, 480Y/277 or 120/240 is needed"
    plain = take_counts(plain_text(text))[0]
    if _RANGE.search(plain) or _NOT_VOLTS.search(plain):
        raise ValueError(f"{text!r} is no single voltage rating; {expected}")
    without_direct = _DIRECT.sub(" ", plain)
    volts = take_volts(without_direct) or take_volts(plain)
    if not volts:
        raise ValueError(f"{text!r} names no volts; {expected}")
    if any(not _LOWEST <= value <= _HIGHEST for value in volts):
        raise ValueError(f"{text!r} is no voltage that equipment is marked for; {expected}")
    if len(volts) == 1:
        return VoltageRating(volts[0])
    low, high = min(volts), max(volts)
    if len(volts) == 2 and _TWO_OF_ONE[0] <= high / low <= _TWO_OF_ONE[1]:
        return VoltageRating(high, low)
    raise ValueError(f"{text!r} names more than one rating; {expected}")

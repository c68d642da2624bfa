"""The two sides of a transformer and what follows from them.

    direction(primary_volts, secondary_volts)     "step-up", "step-down", "isolation"
    turns_ratio(primary_volts, secondary_volts)   of the line voltages
    read_transformer_side(text, phases)           the line voltage of one side

Compare line-to-line with line-to-line: 480 to 480Y/277 is isolation, not step-down. Not
here: currents (currents), listed sizes and least impedances (transformer_sizes).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbook_tools.electrical.voltage_systems import VoltageReading, read_voltage

__all__ = [
    "TransformerSide",
    "direction",
    "read_transformer_side",
    "turns_ratio",
]


def direction(primary_volts: float, secondary_volts: float) -> str:
    """Say which way a transformer changes the voltage.

    Parameters
    ----------
    primary_volts, secondary_volts : float
        Line-to-line voltages, above 0; a single-phase 120/240 side counts as 240. [V]

    Returns
    -------
    direction : str
        "step-up", "step-down" or "isolation".

    Raises
    ------
    ValueError
        A voltage that isn't above 0.

    References
    ----------
    .. [1] Common practice (TRADE in sources.csv).

    Examples
    --------
    >>> direction(480, 208), direction(208, 480), direction(480, 480)
    ('step-down', 'step-up', 'isolation')
    """
    ratio = turns_ratio(primary_volts, secondary_volts)
    return "isolation" if ratio == 1 else "step-down" if ratio > 1 else "step-up"


def turns_ratio(primary_volts: float, secondary_volts: float) -> float:
    """Ratio of the rated line voltages, primary to secondary.

    It is the ratio of the turns where both windings are connected alike. For delta-wye the
    windings themselves stand in another ratio.

    Parameters
    ----------
    primary_volts, secondary_volts : float
        Line-to-line voltages, above 0. [V]

    Returns
    -------
    ratio : float
        Not rounded; above 1 for step-down. [-]

    Raises
    ------
    ValueError
        A voltage that isn't above 0.

    Examples
    --------
    >>> round(turns_ratio(480, 208), 3)
    2.308
    """
    for name, volts in (("primary_volts", primary_volts), ("secondary_volts", secondary_volts)):
        if not 0 < volts < float("inf"):
            raise ValueError(f"{name} must be above 0, not {volts!r}")
    return primary_volts / secondary_volts


@dataclass(frozen=True, slots=True)
class TransformerSide:
    """One side of a nameplate as read.

    ``line_volts`` is None where the text names no voltage or more than one.
    """

    text: str
    line_volts: float | None
    reading: VoltageReading
    says: str


def read_transformer_side(text: str, phases: str | int | None = None) -> TransformerSide:
    """Read the primary or secondary voltage from a nameplate.

    Parameters
    ----------
    text : str
        "480 delta", "208Y/120", "120/240", "12.47kV".
    phases : str or int, optional
        Phases of the transformer, as typed.

    Returns
    -------
    side : TransformerSide
        Never raises for a text. Phase and wires need not be said: the line voltage is the
        higher number of a pair.

    Examples
    --------
    >>> read_transformer_side("480 delta", "3").line_volts, read_transformer_side("120/240", 1).line_volts
    (480, 240)
    """
    reading = read_voltage(text, phases)
    volts = sorted(set(reading.volts))
    if not volts:
        return TransformerSide(text, None, reading, reading.says)
    lines = {system.line_volts for system in reading.candidates}
    series_parallel = re.search(r"[0-9]\s*v?\s*[x×]\s*[0-9]", text.lower()) is not None
    if len(volts) > 1 and (len(lines) != 1 or series_parallel or reading.outcome == "not nominal"):
        return TransformerSide(
            text, None, reading, f"{text.strip()} names more than one voltage; say which one is connected."
        )
    return TransformerSide(text, volts[-1], reading, reading.says)

"""What a transformer's nameplate says and what follows from it.

    direction(primary_volts, secondary_volts)   "step-up", "step-down", "isolation"
    turns_ratio, winding_ratio                  of the line voltages, of the windings
    read_transformer_side(text, phases)         the line voltage of one side
    read_kva(text), read_impedance(text)        "112 1/2 kVA", "5.75 %Z"
    nameplate_items(kva, …)                     what must stand on the nameplate

Compare line-to-line with line-to-line: 480 to 480Y/277 is isolation, not step-down. Not
here: currents (currents), listed sizes and usual impedances (transformer_sizes).
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from workbook_tools.electrical.transformer_sizes import nameplate_impedance_required
from workbook_tools.electrical.voltage_systems import VoltageReading, read_voltage
from workbook_tools.electrical.voltage_texts import read_phases

__all__ = [
    "TransformerSide",
    "direction",
    "nameplate_items",
    "read_impedance",
    "read_kva",
    "read_transformer_side",
    "turns_ratio",
    "winding_ratio",
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
    windings themselves stand in another ratio: see winding_ratio.

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

    ``line_volts`` is None where the text names no voltage or more than one; ``winding_volts``
    is the voltage across one winding, None where the connection is not said.
    """

    text: str
    line_volts: float | None
    winding_volts: float | None
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
    >>> read_transformer_side("208Y/120", 3).winding_volts
    120
    """
    reading = read_voltage(text, phases)
    volts = sorted(set(reading.volts))
    if not volts:
        return TransformerSide(text, None, None, reading, reading.says)
    lines = {system.line_volts for system in reading.candidates}
    series_parallel = re.search(r"[0-9]\s*v?\s*[x×]\s*[0-9]", text.lower()) is not None
    if len(volts) > 1 and (len(lines) != 1 or series_parallel or reading.outcome == "not nominal"):
        return TransformerSide(
            text,
            None,
            None,
            reading,
            f"{text.strip()} names more than one voltage; say which one is connected.",
        )
    line = volts[-1]
    system = reading.system
    three = (system.phases if system else _count(phases) or reading.phases) == 3
    winding: float | None = None
    delta = "delta" in text.lower() or "Δ" in text or (system is not None and system.high_leg)
    if not three or delta:
        winding = line
    elif system is not None and system.connection == "wye":
        winding = volts[0] if len(volts) > 1 else system.neutral_volts
    return TransformerSide(text, line, winding, reading, reading.says)


def _count(phases: str | int | None) -> int | None:
    return phases if isinstance(phases, int) else read_phases(phases)


def winding_ratio(primary: TransformerSide, secondary: TransformerSide) -> float | None:
    """Ratio of the voltages across the windings, the turns ratio that a test set measures.

    Parameters
    ----------
    primary, secondary : TransformerSide
        From read_transformer_side. A plain three-phase number ("480") is taken as delta.

    Returns
    -------
    ratio : float or None
        480 delta to 208Y/120 is 4.0; None where a winding voltage is not known. [-]

    Examples
    --------
    >>> winding_ratio(read_transformer_side("480 delta", 3), read_transformer_side("208Y/120", 3))
    4.0
    """
    sides = []
    for side in (primary, secondary):
        volts = side.winding_volts
        if volts is None and side.line_volts is not None and len(side.reading.volts) == 1:
            volts = side.line_volts  # C84.1 notation: a plain number has no neutral
        sides.append(volts)
    return turns_ratio(sides[0], sides[1]) if sides[0] and sides[1] else None


_NUMBER = r"([0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,9})?(\.[0-9]{1,9})?(?:\s*-?\s*([0-9]{1,3})\s*/\s*([0-9]{1,3}))?"


def _one_number(plain: str, unit: str) -> tuple[float, str] | None:
    plain = plain.replace("½", " 1/2").replace("¼", " 1/4").replace("¾", " 3/4").replace("⁄", "/")
    plain = " ".join(plain.replace("\u00a0", " ").replace("\u202f", " ").lower().split())
    found = re.fullmatch(rf"{_NUMBER}\s*({unit})?\.?(?:\s*,?\s*[13]\s*-?\s*(?:ph|phase|ø)\.?)?", plain)
    if not found or not (found[1] or found[2]) or (found[3] and (found[2] or int(found[4]) <= int(found[3]))):
        return None
    number = float((found[1] or "0").replace(",", "") + (found[2] or ""))
    return number + (int(found[3]) / int(found[4]) if found[3] else 0), found[5] or ""


def read_kva(text: str) -> float:
    """Read a transformer's rating as people write it.

    Parameters
    ----------
    text : str
        "75", "112.5 kVA", "112 1/2", "1 MVA", "500 VA", "75kVA 3PH".

    Returns
    -------
    kva : float
        [kVA]

    Raises
    ------
    ValueError
        A text that is no one rating: words, a range, nothing, or not above 0.

    Examples
    --------
    >>> read_kva("112 1/2 kVA"), read_kva("1.5 MVA"), read_kva("500 VA")
    (112.5, 1500.0, 0.5)
    """
    if not text.strip():
        raise ValueError("no kVA rating is entered")
    found = _one_number(text, "kva|mva|va|k\\.v\\.a")
    if found is None:
        raise ValueError(f"{text!r} cannot be read as one kVA rating; a number like 75 or 112.5 is needed")
    kva = round(found[0] * {"mva": 1000.0, "va": 0.001}.get(found[1], 1.0), 9)
    if not kva > 0:
        raise ValueError(f"{text!r} is not above 0; a kVA rating is")
    return kva


def read_impedance(text: str) -> float:
    """Read a nameplate impedance as people write it.

    Parameters
    ----------
    text : str
        "5.75", "5.75%", "5.75 %Z", "Z = 4.2".

    Returns
    -------
    percent : float
        [%]

    Raises
    ------
    ValueError
        A text that is no one percentage, or not above 0.

    Examples
    --------
    >>> read_impedance("5.75 %Z"), read_impedance("4.2%")
    (5.75, 4.2)
    """
    if not text.strip():
        raise ValueError("no impedance is entered")
    plain = re.sub(r"^\s*%?\s*(?:z|imp(?:edance)?\.?)\s*[=:]?\s*", "", text, flags=re.IGNORECASE)
    found = _one_number(plain, r"%\s*(?:z|imp\.?|impedance)?|percent|pct")
    if found is None:
        raise ValueError(f"{text!r} cannot be read as one impedance; a percentage like 5.75 is needed")
    if not found[0] > 0:
        raise ValueError(f"{text!r} is not above 0; an impedance is")
    return found[0]


def nameplate_items(kva: float, *, dry: bool = True, vented: bool = True) -> tuple[str, ...]:
    """List what must stand on the nameplate of a transformer.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    dry : bool, optional
        False for a liquid-filled unit.
    vented : bool, optional
        Whether the enclosure has ventilating openings.

    Returns
    -------
    items : tuple of str
        In our own words.

    Raises
    ------
    ValueError
        A rating that isn't above 0.

    References
    ----------
    .. [1] NFPA 70 450.11(A) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> "impedance" in nameplate_items(75), "impedance" in nameplate_items(15)
    (True, False)
    """
    impedance = ("impedance",) if nameplate_impedance_required(kva) else ()
    clearances = ("clearances for the ventilating openings",) if vented else ()
    inside = ("insulation class",) if dry else ("kind and amount of liquid",)
    return (
        "maker",
        "kVA",
        "frequency",
        "primary voltage",
        "secondary voltage",
        *impedance,
        *clearances,
        *inside,
    )

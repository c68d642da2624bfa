"""What a transformer's nameplate says and what follows from it.

    direction(primary_volts, secondary_volts)    "step-up", "step-down", "isolation"
    turns_ratio, winding_ratio                   of the line voltages, of the windings
    KVA_SIZES, is_listed_kva, kva_neighbours, next_listed_kva, minimum_efficiency
    impedance_expected, minimum_impedance, nameplate_impedance_required
    read_kva, read_impedance, read_transformer_side

Compare line-to-line with line-to-line: 480 to 480Y/277 is isolation, not step-down. The
sizes are in transformer_sizes.csv beside this module. Not here: currents (currents).
"""

from __future__ import annotations

import csv
import os.path
import re
from typing import NamedTuple

from .voltage_systems import VoltageReading, read_phases, read_voltage

__all__ = [
    "KVA_SIZES",
    "ImpedanceRange",
    "TransformerSide",
    "direction",
    "impedance_expected",
    "is_listed_kva",
    "kva_neighbours",
    "minimum_efficiency",
    "minimum_impedance",
    "nameplate_impedance_required",
    "next_listed_kva",
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


class TransformerSide(NamedTuple):
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
    if not three:
        winding = line
    elif "delta" in text.lower() or "Δ" in text or (system is not None and system.high_leg):
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


class _Size(NamedTuple):
    """One row of transformer_sizes.csv."""

    listing: str
    phases: int
    kva: float
    efficiency_2007: float | None
    efficiency_2016: float | None


def _read_sizes() -> tuple[_Size, ...]:
    path = os.path.join(os.path.dirname(__file__), "transformer_sizes.csv")
    with open(path, encoding="utf-8", newline="") as table:
        return tuple(
            _Size(
                row["list"],
                int(row["phases"]),
                float(row["kva"]),
                float(row["min_efficiency_2007"]) if row["min_efficiency_2007"] else None,
                float(row["min_efficiency_2016"]) if row["min_efficiency_2016"] else None,
            )
            for row in csv.DictReader(table)
        )


_SIZES = _read_sizes()
LISTINGS = tuple(dict.fromkeys(size.listing for size in _SIZES))
FEDERAL_LISTING = "low-voltage dry-type"

# All listed sizes by phases, rising: the federal tables and the small trade sizes below them.
KVA_SIZES: dict[int, tuple[float, ...]] = {
    phases: tuple(sorted({size.kva for size in _SIZES if size.phases == phases})) for phases in (1, 3)
}


def _sizes(phases: int, listing: str | None) -> tuple[float, ...]:
    if phases not in (1, 3):
        raise ValueError(f"phases must be 1 or 3, not {phases!r}")
    if listing is None:
        return KVA_SIZES[phases]
    if listing not in LISTINGS:
        raise ValueError(f"listing must be one of {', '.join(LISTINGS)}, not {listing!r}")
    return tuple(sorted(size.kva for size in _SIZES if (size.phases, size.listing) == (phases, listing)))


def _above_zero(kva: float) -> float:
    if not 0 < kva < float("inf"):
        raise ValueError(f"kva must be above 0, not {kva!r}")
    return kva


def is_listed_kva(kva: float, phases: int, listing: str | None = None) -> bool:
    """Whether a size stands in a published list for its phases.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    phases : 1 or 3
        Phases. [-]
    listing : str, optional
        One of the lists ("low-voltage dry-type" is the federal table); any of them if not
        given.

    Returns
    -------
    listed : bool
        A size that is not listed is no defect; read the nameplate again.

    Raises
    ------
    ValueError
        A rating that isn't above 0, phases other than 1 and 3, an unknown list.

    References
    ----------
    .. [1] 10CFR431.196 and MFR-FLC in sources.csv.

    Examples
    --------
    >>> is_listed_kva(112.5, 3), is_listed_kva(112.5, 1), is_listed_kva(100, 3)
    (True, False, False)
    """
    return _above_zero(kva) in _sizes(phases, listing)


def kva_neighbours(kva: float, phases: int, listing: str | None = None) -> tuple[float | None, float | None]:
    """Return the listed sizes below and above, the size itself left out.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    phases : 1 or 3
        Phases. [-]
    listing : str, optional
        One of the lists; all of them together if not given.

    Returns
    -------
    below, above : float or None
        None where the list ends. [kVA]

    Raises
    ------
    ValueError
        A rating that isn't above 0, phases other than 1 and 3, an unknown list.

    Examples
    --------
    >>> kva_neighbours(100, 3), kva_neighbours(2500, 3)
    ((75.0, 112.5), (2000.0, None))
    """
    _above_zero(kva)
    sizes = _sizes(phases, listing)
    below = [size for size in sizes if size < kva]
    above = [size for size in sizes if size > kva]
    return (below[-1] if below else None, above[0] if above else None)


def next_listed_kva(kva: float, phases: int, listing: str | None = FEDERAL_LISTING) -> float | None:
    """Return the smallest listed size that is not below a load.

    Parameters
    ----------
    kva : float
        Load, above 0. [kVA]
    phases : 1 or 3
        Phases. [-]
    listing : str or None, optional
        One of the lists; None for all of them together.

    Returns
    -------
    size : float or None
        None above the largest. [kVA]

    References
    ----------
    .. [1] UFC-3-520-01-2002 B-5 in sources.csv: a load of 10.8 kVA takes 15 kVA.

    Examples
    --------
    >>> next_listed_kva(10.8, 3)
    15.0
    """
    _above_zero(kva)
    return next((size for size in _sizes(phases, listing) if size >= kva), None)


def minimum_efficiency(kva: float, phases: int, year_made: int) -> float:
    """Minimum efficiency of a low-voltage dry-type transformer at 35 % load.

    Parameters
    ----------
    kva : float
        Nameplate rating, within the federal table; sizes between are interpolated, as the
        rule says. [kVA]
    phases : 1 or 3
        Phases. [-]
    year_made : int
        2007 to 2028; from 2016 on three-phase units have the higher set.

    Returns
    -------
    percent : float
        [%]

    Raises
    ------
    ValueError
        A size outside the table, or a year outside 2007 to 2028 (a new set starts on
        23 April 2029; the year 2029 has both).

    References
    ----------
    .. [1] 10CFR431.196(a) and WAC-51-11C-40507 in sources.csv.

    Examples
    --------
    >>> minimum_efficiency(75, 3, 2018), round(minimum_efficiency(37.5, 3, 2018), 3)
    (98.6, 98.315)
    """
    if not 2007 <= year_made <= 2028:
        raise ValueError(f"year_made must be from 2007 to 2028, not {year_made!r}")
    _sizes(phases, FEDERAL_LISTING)
    points = []
    for size in _SIZES:
        percent = size.efficiency_2016 if year_made >= 2016 else size.efficiency_2007
        if size.listing == FEDERAL_LISTING and size.phases == phases and percent is not None:
            points.append((size.kva, percent))
    points.sort()
    for (low, at_low), (high, at_high) in zip(points, points[1:], strict=False):
        if low <= kva <= high:
            return at_low + (at_high - at_low) * (kva - low) / (high - low)
    raise ValueError(f"kva must be from {points[0][0]:g} to {points[-1][0]:g}, not {kva!r}")


class ImpedanceRange(NamedTuple):
    """Usual nameplate impedance; outside ``misread_below`` to ``misread_above`` read it again."""

    low: float
    high: float
    misread_below: float
    misread_above: float
    source: str
    status: str


def impedance_expected(kva: float) -> ImpedanceRange:
    """Return the usual impedance of a low-voltage transformer of this size.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]

    Returns
    -------
    range : ImpedanceRange
        A size between two groups belongs to the lower one's end. [%]

    Raises
    ------
    ValueError
        A rating that isn't above 0.

    References
    ----------
    .. [1] Common practice (TRADE in sources.csv); no single published source.

    Examples
    --------
    >>> impedance_expected(75)[:2], impedance_expected(500)[:2]
    ((2.0, 6.0), (4.5, 8.0))
    """
    _above_zero(kva)
    # Below 15 and above 1000 kVA the trade has no usual range of its own: only the misread limits hold.
    ranges = ((15, 1.0, 10.0), (112.5, 2.0, 6.0), (500, 3.0, 7.0), (1000.001, 4.5, 8.0))
    low, high = next(((low, high) for below, low, high in ranges if kva < below), (1.0, 10.0))
    return ImpedanceRange(low, high, 1.0, 10.0, "TRADE", "common practice")


def minimum_impedance(kva: float) -> float | None:
    """Published minimum impedance by size.

    Parameters
    ----------
    kva : float
        Base rating, above 0. [kVA]

    Returns
    -------
    percent : float or None
        None up to 150 kVA, where it is the maker's standard. [%]

    Raises
    ------
    ValueError
        A rating that isn't above 0.

    References
    ----------
    .. [1] EEP-Z in sources.csv.

    Examples
    --------
    >>> minimum_impedance(300), minimum_impedance(1500), minimum_impedance(75)
    (4.0, 6.0, None)
    """
    _above_zero(kva)
    table = ((150, None), (300, 4.0), (600, 5.0), (2500, 6.0), (5000, 6.5), (7500, 7.5), (10000, 8.5))
    return next((percent for up_to, percent in table if kva <= up_to), 9.5)


def nameplate_impedance_required(kva: float) -> bool:
    """Whether the nameplate must show the impedance.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]

    Returns
    -------
    required : bool
        From 25 kVA up; smaller units may honestly have none.

    References
    ----------
    .. [1] NFPA 70 450.11(A)(5) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> nameplate_impedance_required(25), nameplate_impedance_required(15)
    (True, False)
    """
    return _above_zero(kva) >= 25


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

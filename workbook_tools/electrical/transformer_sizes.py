"""Listed transformer sizes, their efficiency and impedance.

    KVA_SIZES                     every listed size, by phases
    is_listed_kva, kva_neighbours, next_listed_kva
    minimum_efficiency            of a low-voltage dry-type unit, by size and year made
    minimum_impedance, nameplate_impedance_required

The sizes are in transformer_sizes.csv beside this module. Sizes are looked up, never
interpolated. Not here: reading a nameplate (transformers).
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from workbook_tools.electrical.code_profiles import CodeProfile, profile_of

__all__ = [
    "FEDERAL_LISTING",
    "KVA_SIZES",
    "is_listed_kva",
    "kva_neighbours",
    "minimum_efficiency",
    "minimum_impedance",
    "nameplate_impedance_required",
    "next_listed_kva",
]


@dataclass(frozen=True, slots=True)
class _Size:
    """One row of transformer_sizes.csv."""

    listing: str
    phases: int
    kva: float
    efficiency_2007: float | None
    efficiency_2016: float | None


def _read_table() -> tuple[_Size, ...]:
    with open(Path(__file__).with_name("transformer_sizes.csv"), encoding="utf-8", newline="") as table:
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


_TABLE = _read_table()
FEDERAL_LISTING = "low-voltage dry-type"
_LISTINGS = tuple(dict.fromkeys(size.listing for size in _TABLE))


def _sizes(phases: int, listing: str | None) -> tuple[float, ...]:
    if phases not in (1, 3):
        raise ValueError(f"phases must be 1 or 3, not {phases!r}")
    if listing is not None and listing not in _LISTINGS:
        raise ValueError(f"listing must be one of {', '.join(_LISTINGS)}, not {listing!r}")
    return tuple(
        sorted({size.kva for size in _TABLE if size.phases == phases and listing in (None, size.listing)})
    )


KVA_SIZES: Mapping[int, tuple[float, ...]] = {phases: _sizes(phases, None) for phases in (1, 3)}


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
    for size in _TABLE:
        percent = size.efficiency_2016 if year_made >= 2016 else size.efficiency_2007
        if size.listing == FEDERAL_LISTING and size.phases == phases and percent is not None:
            points.append((size.kva, percent))
    points.sort()
    for (low, at_low), (high, at_high) in pairwise(points):
        if low <= kva <= high:
            return at_low + (at_high - at_low) * (kva - low) / (high - low)
    raise ValueError(f"kva must be from {points[0][0]:g} to {points[-1][0]:g}, not {kva!r}")


def minimum_impedance(kva: float) -> float | None:
    """Return the published minimum impedance of a size.

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


def nameplate_impedance_required(kva: float, profile: CodeProfile | str = "nec-2023") -> bool:
    """Whether the nameplate must show the impedance.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    profile : CodeProfile or str
        The code profile, or its name.

    Returns
    -------
    required : bool
        From 25 kVA up; smaller units may honestly have none.

    Raises
    ------
    ValueError
        A rating that isn't above 0.

    References
    ----------
    .. [1] NFPA 70 450.11(A)(5) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> nameplate_impedance_required(25), nameplate_impedance_required(15)
    (True, False)
    """
    limit = profile_of(profile).impedance_marked_from_kva
    return _above_zero(kva) >= (float("inf") if limit is None else limit.number)

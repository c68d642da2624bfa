"""Currents from nameplate values.

Pure arithmetic on plain numbers: the unit is in each argument's name, and only the standard
library is imported.

    full_load_current(kva, volts, phases)      amps on the side whose volts are given
    kva_of_load(amps, volts, phases)           the way back
    secondary_fault_current(kva, volts, …)     fault current between lines behind a transformer
    highest_fault_current(kva, volts, …)       the same with the lowest impedance the plate allows, and to a centre tap
    impedance_tolerance(kva, percent)          how far the impedance may lie below the plate's
    primary_fault_current(kva, volts, …)       the same fault as seen on the primary
    protection_limits(amps, case, …)           the limits of NFPA 70 Table 450.3(B)

Not here: conductor or breaker sizes. The survey records; it does not design.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbook_tools.electrical.code_profiles import CodeProfile
from workbook_tools.electrical.ratings import is_standard, next_standard_rating, rating_neighbours

__all__ = [
    "CENTRE_TAP_FACTOR",
    "LOW_IMPEDANCE_PERCENT",
    "SMALL_KVA",
    "ProtectionLimit",
    "full_load_current",
    "highest_fault_current",
    "impedance_tolerance",
    "kva_of_load",
    "primary_fault_current",
    "protection_limits",
    "secondary_fault_current",
]

_ROOT_3 = 3**0.5


def _check(phases: int, **above_zero: float) -> None:
    for name, value in above_zero.items():
        if not 0 < value < float("inf"):
            raise ValueError(f"{name} must be above 0, not {value!r}")
    if phases not in (1, 3):
        raise ValueError(f"phases must be 1 or 3, not {phases!r}")


def full_load_current(kva: float, volts: float, phases: int) -> float:
    """Line current at rated load, on the side whose voltage is given.

    I = 1000 S / V for one phase, 1000 S / (sqrt(3) V) for three. Rating only: no power
    factor, no derating, no tap position.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    volts : float
        Line-to-line voltage of that side, above 0: 208 for "208Y/120V". [V]
    phases : 1 or 3
        Phases of that side. [-]

    Returns
    -------
    amps : float
        Not rounded; rounding belongs to whoever prints it. [A]

    Raises
    ------
    ValueError
        A rating or voltage that isn't above 0, or phases other than 1 and 3.

    References
    ----------
    .. [1] Maker's application guide, full-load amperes, single-phase and three-phase tables
       (MFR-FLC in sources.csv); formula in UFC-3-520-01-2002 B-5.

    Examples
    --------
    75 kVA at 480 V three-phase; [1]_ prints 90 A.

    >>> round(full_load_current(75, 480, 3), 1)
    90.2
    """
    _check(phases, kva=kva, volts=volts)
    return 1000 * kva / volts / (_ROOT_3 if phases == 3 else 1.0)


def kva_of_load(amps: float, volts: float, phases: int) -> float:
    """Apparent power of a current: the full-load formula the other way round.

    Parameters
    ----------
    amps : float
        Line current, above 0. [A]
    volts : float
        Line-to-line voltage, above 0. [V]
    phases : 1 or 3
        Phases. [-]

    Returns
    -------
    kva : float
        [kVA]

    Raises
    ------
    ValueError
        A current or voltage that isn't above 0, or phases other than 1 and 3.

    References
    ----------
    .. [1] UFC-3-520-01-2002 B-5 in sources.csv: 30 A at 208 V three-phase is 10.8 kVA.

    Examples
    --------
    >>> round(kva_of_load(30, 208, 3), 1)
    10.8
    """
    _check(phases, amps=amps, volts=volts)
    return amps * volts / 1000 * (_ROOT_3 if phases == 3 else 1.0)


def secondary_fault_current(
    kva: float,
    volts: float,
    phases: int,
    impedance_percent: float,
    tolerance_percent: float = 0.0,
    source_mva: float | None = None,
) -> float:
    """Highest bolted fault current at the secondary terminals, from nameplate values.

    I = full-load current x 100 / %Z: no impedance ahead of the transformer, no motors. It is
    not the available fault current that must be posted.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    volts : float
        Line-to-line voltage of the secondary, above 0. [V]
    phases : 1 or 3
        Phases of the secondary. [-]
    impedance_percent : float
        Nameplate impedance, above 0. [%]
    tolerance_percent : float, optional
        How far the true impedance may lie below the nameplate: 7.5 for two windings, 10 for
        others. %Z is multiplied by 1 - tolerance/100; 0 takes the nameplate as it stands. [%]
    source_mva : float, optional
        Short-circuit power of the source; adds 100 x transformer MVA / source MVA to %Z. [MVA]

    Returns
    -------
    amps : float
        Not rounded. [A]

    Raises
    ------
    ValueError
        A value that isn't above 0, phases other than 1 and 3, a tolerance outside 0 to 100.

    References
    ----------
    .. [1] IAEI-2018 in sources.csv: 1500 kVA, 480 V, 5.75 % gives 31 374 A (from a rounded
       full-load current). Tolerance: EEP-Z in sources.csv.

    Examples
    --------
    >>> round(secondary_fault_current(1500, 480, 3, 5.75), 1)
    31377.7
    >>> round(secondary_fault_current(1500, 480, 3, 5.75, tolerance_percent=7.5), 1)
    33921.9
    """
    _check(phases, kva=kva, volts=volts, impedance_percent=impedance_percent)
    if not 0 <= tolerance_percent < 100:
        raise ValueError(f"tolerance_percent must be from 0 to under 100, not {tolerance_percent!r}")
    percent = impedance_percent * (1 - tolerance_percent / 100)
    if source_mva is not None:
        _check(phases, source_mva=source_mva)
        percent += 100 * (kva / 1000) / source_mva
    return full_load_current(kva, volts, phases) * 100 / percent


LOW_IMPEDANCE_PERCENT, SMALL_KVA = 2.5, 25
CENTRE_TAP_FACTOR = 1.5
"""Line to neutral against line to line at the terminals of a centre-tapped single-phase secondary: a rule of
thumb (TRADE in sources.csv, common practice); from memory it lies between 1.33 and 1.67."""


def impedance_tolerance(kva: float, impedance_percent: float) -> float:
    """How far the true impedance of a two-winding transformer may lie below its plate's.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    impedance_percent : float
        Nameplate impedance, above 0. [%]

    Returns
    -------
    percent : float
        Of the nameplate impedance: 7.5, or 10 for an impedance of 2.5 % or less and for a unit
        under 25 kVA. [%]

    References
    ----------
    .. [1] 7.5 % for two windings: EEP-Z in sources.csv. 10 % for low impedances: IEEE C57.12.01,
       from memory; for units so small that the plate need not show an impedance: common practice.

    Examples
    --------
    >>> impedance_tolerance(75, 5.0), impedance_tolerance(75, 2.5), impedance_tolerance(15, 3.0)
    (7.5, 10.0, 10.0)
    """
    return 10.0 if impedance_percent <= LOW_IMPEDANCE_PERCENT or kva < SMALL_KVA else 7.5


def highest_fault_current(
    kva: float, volts: float, phases: int, impedance_percent: float, *, centre_tapped: bool = False
) -> float:
    """Highest fault current that a transformer can give at its terminals, its supply taken as unlimited.

    The impedance is the lowest that its tolerance allows. What other transformers and running
    motors add is not in it; conductors bring it down.

    Parameters
    ----------
    kva, volts, phases, impedance_percent
        As in secondary_fault_current.
    centre_tapped : bool, optional
        A single-phase secondary with a neutral at its middle: a fault from a line to the
        neutral is about 1.5 times that between the lines.

    Returns
    -------
    amps : float
        Not rounded. [A]

    Raises
    ------
    ValueError
        As secondary_fault_current.

    References
    ----------
    .. [1] IAEI-2018, EEP-Z and TRADE in sources.csv; see impedance_tolerance.

    Examples
    --------
    >>> round(highest_fault_current(75, 208, 3, 5.0)), round(highest_fault_current(50, 240, 1, 3.0, centre_tapped=True))
    (4501, 11261)
    """
    tolerance = impedance_tolerance(kva, impedance_percent)
    between_lines = secondary_fault_current(kva, volts, phases, impedance_percent, tolerance)
    return between_lines * (CENTRE_TAP_FACTOR if centre_tapped else 1)


def primary_fault_current(kva: float, volts: float, phases: int, impedance_percent: float) -> float:
    """Return the current in the primary while the secondary terminals are bolted together.

    Parameters
    ----------
    kva : float
        Nameplate rating, above 0. [kVA]
    volts : float
        Line-to-line voltage of the primary, above 0. [V]
    phases : 1 or 3
        Phases of the primary. [-]
    impedance_percent : float
        Nameplate impedance, above 0. [%]

    Returns
    -------
    amps : float
        Not rounded. [A]

    Raises
    ------
    ValueError
        A value that isn't above 0, or phases other than 1 and 3.

    References
    ----------
    .. [1] WEB-Z15 in sources.csv: 15 kVA single-phase, 480 V, 2.8 % gives 1116 A.

    Examples
    --------
    >>> round(primary_fault_current(15, 480, 1, 2.8))
    1116
    """
    _check(phases, kva=kva, volts=volts, impedance_percent=impedance_percent)
    return full_load_current(kva, volts, phases) * 100 / impedance_percent


@dataclass(frozen=True, slots=True)
class ProtectionLimit:
    """The limit for one overcurrent device of a transformer.

    ``amps`` is the percentage of the full-load current; ``largest_device`` the largest
    standard rating that the table allows (the next one up only where ``next_size_up``), None
    where no standard rating is that small.
    """

    case: str
    percent: int
    amps: float
    next_size_up: bool
    largest_device: int | None
    section: str
    status: str


# NFPA 70 Table 450.3(B), 1000 V and below (NFPA70-2023, seen): percent at 9 A or more, under 9 A, under 2 A.
# Note 1 stands only on the two 125 % cells.
_TABLE_450_3_B = {
    "primary only": (125, 167, 300),
    "primary with secondary": (250, 250, 250),
    "secondary": (125, 167, 167),
}


def protection_limits(
    amps: float, case: str, profile: CodeProfile | str = "nec-2023", *, fuse: bool = False
) -> ProtectionLimit:
    """Limit of one overcurrent device of a transformer of 1000 V and below.

    Parameters
    ----------
    amps : float
        Full-load current of the side that the device is on, above 0. [A]
    case : str
        "primary only" (nothing on the secondary), "primary with secondary" (the primary
        device when there is one on the secondary too), or "secondary".
    profile : CodeProfile or str
        The code profile, or its name, for the list of standard ratings.
    fuse : bool, optional
        True for a fuse, whose additional standard ratings count too.

    Returns
    -------
    limit : ProtectionLimit
        Only 125 % may go up to the next standard rating; 167, 250 and 300 % are ceilings.

    Raises
    ------
    ValueError
        A current that isn't above 0, or another case.

    References
    ----------
    .. [1] NFPA 70 Table 450.3(B) with notes (NFPA70-2023 in sources.csv).

    Examples
    --------
    The secondary of 75 kVA at 208 V carries 208.2 A; 125 % is 260.2 A, and 300 A is allowed.

    >>> protection_limits(208.2, "secondary").largest_device
    300
    >>> protection_limits(90.2, "primary with secondary").largest_device
    225
    """
    if case not in _TABLE_450_3_B:
        raise ValueError(f"case must be one of {', '.join(_TABLE_450_3_B)}, not {case!r}")
    _check(1, amps=amps)
    percent = _TABLE_450_3_B[case][0 if amps >= 9 else 1 if amps >= 2 else 2]
    limit = amps * percent / 100
    next_size_up = percent == 125
    largest: int | None
    if next_size_up and (above := next_standard_rating(limit, profile, fuse=fuse)) is not None:
        largest = above
    elif is_standard(limit, profile, fuse=fuse):
        largest = int(limit)
    else:
        largest = rating_neighbours(limit, profile, fuse=fuse)[0]
    edition = profile if isinstance(profile, str) else profile.name
    status = "seen" if edition == "nec-2023" else "from memory"  # the table was read in the 2023 text
    return ProtectionLimit(case, percent, limit, next_size_up, largest, "NFPA 70 Table 450.3(B)", status)

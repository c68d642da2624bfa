"""Which equipment has a space of its own, and how it is entered.

    KINDS                                       the kinds of equipment of a survey
    needs_working_space(kind)                   likely to be worked on while energized
    needs_dedicated_space(profile, kind)        nothing foreign above and below it; None: the kind does not tell
    holds_devices(kind)                         overcurrent, switching or control devices in it
    dedicated_space_top                         where that space ends
    entrances_needed, panic_hardware_needed     large equipment
    shows_its_rating(kind)                      a placard that tells what a switch is built for

Not here: how deep, wide and high the working space is (clearances).
"""

from __future__ import annotations

from workbook_tools.electrical.clearances import Limit, meets
from workbook_tools.electrical.code_profiles import CodeProfile, profile_of
from workbook_tools.electrical.quantities import Length

__all__ = [
    "KINDS",
    "SHOW_THEIR_RATING",
    "dedicated_space_top",
    "entrances_needed",
    "holds_devices",
    "needs_dedicated_space",
    "needs_working_space",
    "panic_hardware_needed",
    "shows_its_rating",
]

# Kinds of equipment of the survey, and whether somebody is likely to examine, adjust, service or maintain
# them while energized, which is what 110.26(A) asks (NFPA70-2023). Which kinds are likely: common practice.
_WORKED_ON_LIVE = {
    "Service disconnect": True,
    "Switchboard": True,
    "Switchgear": True,
    "Panelboard": True,
    "Motor control center": True,
    "Transformer": False,
    "Disconnect switch": True,
    "Enclosed circuit breaker": True,
    "Control panel": True,
    "Transfer switch": True,
    "Generator": True,
    "Meter center": True,
    "CT cabinet": True,  # the utility tests its transformers with the power on
    "PV inverter": True,
    "PV disconnect": True,
    "EV charging equipment": True,
    "Lift controller": False,  # outside the survey
    "Low-voltage system": False,
    "Battery system": True,
    "Busway": False,
}
KINDS = tuple(_WORKED_ON_LIVE)
SHOW_THEIR_RATING = (
    "Service disconnect",
    "Disconnect switch",
    "Enclosed circuit breaker",
    "Transfer switch",
    "PV disconnect",
    "EV charging equipment",
    "Busway",
)


def needs_dedicated_space(profile: CodeProfile | str, kind: str) -> bool | None:
    """Whether the space above and below a kind of equipment is dedicated to it; None where the kind does not tell.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    kind : str
        One of KINDS.

    Returns
    -------
    needed : bool or None
        By the list of the profile's edition; dry-type transformers and plain disconnect
        switches are not in it. None for a service disconnect in an edition that lists boards
        but no service equipment: a board that is the service has the space, a switch has not.

    Raises
    ------
    ValueError
        A kind that is not one of KINDS.

    References
    ----------
    .. [1] NFPA 70 110.26(E) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> needs_dedicated_space("nec-2023", "Panelboard"), needs_dedicated_space("nec-2023", "Transformer")
    (True, False)
    >>> needs_dedicated_space("nec-2020", "Service disconnect") is None
    True
    """
    rules = profile_of(profile)
    if _known(kind) in rules.dedicated_space_perhaps:
        return None
    return kind in rules.dedicated_space_kinds


_HOLD_NO_DEVICES = (
    "Transformer", "CT cabinet", "Busway", "Generator", "PV inverter", "EV charging equipment", "Lift controller",
    "Low-voltage system", "Battery system",
)  # fmt: skip


def holds_devices(kind: str | None) -> bool:
    """Whether a kind of equipment is there for overcurrent, switching or control devices.

    Parameters
    ----------
    kind : str or None
        One of KINDS; of another, or none, nothing is known.

    Returns
    -------
    holds : bool
        What 110.26(C) speaks of; which kinds those are is common practice.

    Examples
    --------
    >>> holds_devices("Switchboard"), holds_devices("Transformer"), holds_devices(None)
    (True, False, False)
    """
    return kind in KINDS and kind not in _HOLD_NO_DEVICES


def needs_working_space(kind: str) -> bool:
    """Whether a kind of equipment is likely to be worked on while energized.

    Parameters
    ----------
    kind : str
        One of KINDS.

    Returns
    -------
    needed : bool
        What 110.26(A) asks; which kinds are likely is common practice.

    Raises
    ------
    ValueError
        A kind that is not one of KINDS.

    Examples
    --------
    >>> needs_working_space("Panelboard"), needs_working_space("Low-voltage system")
    (True, False)
    """
    return _WORKED_ON_LIVE[_known(kind)]


def shows_its_rating(kind: str | None) -> bool:
    """Whether the placard of a kind shows the voltage that it is built for, as that of a switch does.

    Parameters
    ----------
    kind : str or None
        One of KINDS; another, or None, shows the system's.

    Returns
    -------
    rating : bool
        Common practice: a switch marked 240 V or 600 V serves on any lower voltage.

    Examples
    --------
    >>> shows_its_rating("Disconnect switch"), shows_its_rating("Panelboard")
    (True, False)
    """
    return kind in SHOW_THEIR_RATING


def _known(kind: str) -> str:
    if kind not in _WORKED_ON_LIVE:
        raise ValueError(f"kind must be one of {', '.join(KINDS)}, not {kind!r}")
    return kind


def dedicated_space_top(
    profile: CodeProfile | str, equipment_top_in: float, structural_ceiling_in: float
) -> float:
    """Height above the floor at which the dedicated space of equipment ends.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    equipment_top_in, structural_ceiling_in : float
        Heights above the floor; a suspended ceiling is not structural. [in]

    Returns
    -------
    height : float
        The lower of the structural ceiling and the printed height above the top. [in]

    References
    ----------
    .. [1] NFPA 70 110.26(E)(1)(a) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> dedicated_space_top("nec-2023", 76, 180)
    148
    """
    return min(equipment_top_in + profile_of(profile).dedicated_space_above.inches, structural_ceiling_in)


def entrances_needed(
    profile: CodeProfile | str,
    amps: float,
    width: Length,
    *,
    volts_to_ground: float | None = None,
    depth_doubled: bool = False,
    unobstructed_egress: bool = False,
) -> int:
    """Entrances that the working space of one piece of equipment needs.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    amps : float
        Ampere rating; "or more" counts. [A]
    width : Length
        Width of the equipment; only more than the printed width counts, tolerance allowed.
    volts_to_ground : float, optional
        Nominal voltage to ground: above the profile's high voltage the amperes do not count. [V]
    depth_doubled, unobstructed_egress : bool, optional
        The two cases in which one entrance is enough.

    Returns
    -------
    entrances : int
        1, or 2 (one at each end) for large equipment.

    Raises
    ------
    ValueError
        A negative rating.

    References
    ----------
    .. [1] NFPA 70 110.26(C)(2) (NFPA70-2023 in sources.csv); 110.33(A)(1), from memory.

    Examples
    --------
    >>> from workbook_tools.electrical import read_length
    >>> entrances_needed("nec-2023", 1200, read_length("80")), entrances_needed("nec-2023", 1200, read_length("6 ft"))
    (2, 1)
    """
    rules = profile_of(profile)
    if not amps >= 0:
        raise ValueError(f"amps must be 0 or more, not {amps!r}")
    high = rules.high_voltage_at(volts_to_ground)
    figure = rules.large_wider_than if high is None else high.wider_than
    wide = not meets(Limit(*figure, "the width of large equipment", at_most=True), width, rules)
    large = wide and (high is not None or amps >= rules.large_amperes)
    return rules.large_entrances if large and not (depth_doubled or unobstructed_egress) else 1


def panic_hardware_needed(profile: CodeProfile | str, amps: float, door_distance: Length) -> bool:
    """Whether a personnel door near the working space needs panic hardware.

    Parameters
    ----------
    profile : CodeProfile or str
        The code profile, or its name.
    amps : float
        Ampere rating of the equipment; "or more" counts. [A]
    door_distance : Length
        From the nearest edge of the working space; only "less than" counts.

    Returns
    -------
    needed : bool
        False in a profile without the rule.

    References
    ----------
    .. [1] NFPA 70 110.26(C)(3) (NFPA70-2023 in sources.csv).

    Examples
    --------
    >>> from workbook_tools.electrical import read_length
    >>> panic_hardware_needed("nec-2023", 800, read_length("20 ft"))
    True
    """
    rules = profile_of(profile)
    if rules.panic_amperes is None or rules.panic_nearer_than is None:
        return False
    return amps >= rules.panic_amperes and door_distance.inches < rules.panic_nearer_than.inches

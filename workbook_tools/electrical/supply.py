"""Which voltage system can be fed from which, with no transformer between, and what follows.

    can_feed(source, load)            Feeding: true or false, the reason, and a sentence
    taken_on_its_plate(source, plate) what equipment takes whose placard shows its own rating: 600 on 480Y/277
    volts_to_ground(system, source)   the highest voltage to ground, the source taken into account

Not here: transformers, whose secondary is a source of its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from workbook_tools.electrical.nominal_systems import SYSTEMS, VoltageSystem, nominal_class

__all__ = ["Feeding", "can_feed", "taken_on_its_plate", "volts_to_ground"]


@dataclass(frozen=True, slots=True)
class Feeding:
    """Whether a source can feed a load; true when it can.

    ``reason`` is None, "voltage", "phase" or "neutral": the first of ``reasons``, which holds
    all that stand in the way.
    """

    reason: str | None
    says: str
    reasons: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Return True when the source can feed the load."""
        return self.reason is None


def can_feed(source: VoltageSystem, load: VoltageSystem) -> Feeding:
    """Say whether equipment of one system can be fed from another without a transformer.

    Voltages are compared by their nominal class (460 on 480). Three phases never come from
    one, and a neutral never from a source that has none.

    Parameters
    ----------
    source : VoltageSystem
        The system that feeds.
    load : VoltageSystem
        The system of what is fed.

    Returns
    -------
    feeding : Feeding
        Truthy when the load can be fed; else the reasons, "voltage", "phase", "neutral".

    References
    ----------
    .. [1] Follows from the definitions of the systems (C84.1-2020, NFPA70-2023 in
       sources.csv); common practice.

    Examples
    --------
    >>> from workbook_tools.electrical import SYSTEMS
    >>> bool(can_feed(SYSTEMS["208Y/120-3P4W"], SYSTEMS["120/208-1P3W"]))
    True
    >>> can_feed(SYSTEMS["480-3P3W"], SYSTEMS["277-1P2W"]).reason
    'neutral'
    >>> can_feed(SYSTEMS["208Y/120-3P4W"], SYSTEMS["240/120-3P4W"]).reason
    'voltage'
    """
    voltage, neutral = _voltage_and_neutral(source, load)
    reasons = tuple(
        name
        for name, stands in (
            ("voltage", not voltage),
            ("phase", load.phases > source.phases),
            ("neutral", voltage and not neutral),
        )
        if stands
    )
    if not reasons:
        return Feeding(None, f"{load.description} can be taken from {source.description}.")
    because = {
        "voltage": f"{source.name} does not give {load.name}",
        "phase": f"a {source.phases}-phase source cannot feed {load.phases}-phase equipment",
        "neutral": f"{source.description} has no neutral and {load.description} needs one",
    }
    says = f"{load.description} cannot be taken from {source.description} without a transformer: "
    return Feeding(reasons[0], says + "; ".join(because[reason] for reason in reasons) + ".", reasons)


def _voltage_and_neutral(source: VoltageSystem, load: VoltageSystem) -> tuple[bool, bool]:
    """Whether the voltages agree, and whether the neutral that the load needs is there."""
    source_line, load_line = nominal_class(source.line_volts), nominal_class(load.line_volts)
    source_leg = _leg(source)
    if load.phases == 1 and load.wires == 2:
        if not load.has_neutral:  # two lines, or one line and the neutral where that is the same voltage
            leg_of_wye = source.has_neutral and source_leg == load_line
            return source_line == load_line or leg_of_wye, True
        if source.has_neutral and source_leg is not None:
            return source_leg == load_line, True
        return load_line in _legs_not_brought_out(source), False
    if source_line != load_line:
        return False, True
    if "one corner" in load.grounding:
        return not source.has_neutral, True
    if not load.has_neutral:
        return True, True
    if not source.has_neutral or source_leg is None:
        return True, False
    return source_leg == _leg(load), True


_RATINGS = (240, 480, 600)
"""Line voltages for which switches and breakers are rated (common practice): they serve any lower system too."""


def taken_on_its_plate(source: VoltageSystem, plate: VoltageSystem) -> VoltageSystem | None:
    """Return the system that equipment takes from a source below the voltage on its placard.

    A switch marked 240 V serves on 208Y/120, one marked 600 V on 480Y/277, a single-phase
    120/240 load center on two legs of 208Y/120: the placard shows what it is built for.

    Parameters
    ----------
    source : VoltageSystem
        The system that feeds it.
    plate : VoltageSystem
        The system that its placard was read as.

    Returns
    -------
    taken : VoltageSystem or None
        A system of the source's voltage with the plate's phases and wires; None where the
        plate is no rating for the source, or is what the source gives.

    References
    ----------
    .. [1] Marked ratings may exceed the system voltage: common practice.

    Examples
    --------
    >>> from workbook_tools.electrical import SYSTEMS
    >>> taken_on_its_plate(SYSTEMS["480Y/277-3P4W"], SYSTEMS["600-3P3W"]).name
    '480 delta'
    >>> taken_on_its_plate(SYSTEMS["600Y/347-3P4W"], SYSTEMS["480-3P3W"]) is None
    True
    """
    slash = plate.key == "120/240-1P3W"
    if not slash and (plate.neutral_volts is not None or plate.line_volts not in _RATINGS):
        return None
    if nominal_class(source.line_volts) >= nominal_class(plate.line_volts) or can_feed(source, plate):
        return None
    alike = (
        system
        for system in SYSTEMS.values()
        if (system.phases, system.wires, system.has_neutral) == (plate.phases, plate.wires, plate.has_neutral)
        and nominal_class(system.line_volts) == nominal_class(source.line_volts)
        and (not slash or _leg(system) == _leg(plate))
        and "one corner" not in system.grounding
        and can_feed(source, system)
    )
    return next(alike, None)


def _leg(system: VoltageSystem) -> float | None:
    return None if system.neutral_volts is None else nominal_class(system.neutral_volts)


def _legs_not_brought_out(source: VoltageSystem) -> set[float | None]:
    """Line-to-neutral voltages of the systems that are this source with a neutral."""
    line = nominal_class(source.line_volts)
    return {
        _leg(system)
        for system in SYSTEMS.values()
        if system.has_neutral
        and system.wires > 2
        and system.phases == source.phases
        and nominal_class(system.line_volts) == line
    }


def volts_to_ground(
    system: VoltageSystem, source: VoltageSystem | None = None, source_to_ground: float | None = None
) -> float:
    """Highest voltage to ground of a system, by the definition in NFPA 70 Article 100.

    A grounded circuit counts from the conductor to the grounded point, an ungrounded one
    counts the highest voltage to any other conductor. Equipment without a neutral takes
    the grounding of what feeds it: 480 three-wire is 277 V to ground behind a 480Y/277
    board and 480 V behind an ungrounded delta.

    Parameters
    ----------
    system : VoltageSystem
        The system of the equipment.
    source : VoltageSystem, optional
        The system that feeds it, with no transformer between. Unknown, or one that cannot
        feed it: the system is taken alone.
    source_to_ground : float, optional
        The source's own voltage to ground, when its own source is known too. [V]

    Returns
    -------
    volts : float
        Nominal voltage to ground, the one that picks the row of the depth table. [V]

    References
    ----------
    .. [1] NFPA70-2023 in sources.csv, Article 100, voltage to ground.

    Examples
    --------
    >>> from workbook_tools.electrical import SYSTEMS
    >>> volts_to_ground(SYSTEMS["480-3P3W"]), volts_to_ground(SYSTEMS["480-3P3W"], SYSTEMS["480Y/277-3P4W"])
    (480, 277)
    >>> volts_to_ground(SYSTEMS["240/120-3P4W"])
    208
    """
    if source is None or system.neutral_volts is not None or "one corner" in system.grounding:
        return system.volts_to_ground  # it names its own grounding
    if not can_feed(source, system):
        return system.volts_to_ground
    line = nominal_class(system.line_volts)
    if source.neutral_volts is not None and nominal_class(source.line_volts) != line:
        return source.neutral_volts  # one leg and the neutral: 240 V single-phase on 415Y/240
    return source.volts_to_ground if source_to_ground is None else source_to_ground

"""Rules about the ways out of rooms with large equipment.

second-entrance-check    fewer entrances than equipment this large needs
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import HighVoltage, Length, entrances_needed
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import length_as_read, section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment, Room

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Ways out"


def _settled_by_one(
    assessment: Assessment, row: Clearance, equipment: Equipment, volts: float | None
) -> bool:
    """Whether the width or the rating alone tells that one entrance is enough."""
    profile, width, amps = assessment.profile, row.equipment_width.value, equipment.rating_a.value
    if isinstance(width, Length):
        return entrances_needed(profile, profile.large_amperes, width, volts_to_ground=volts) < 2
    return amps is not None and amps < profile.large_amperes and profile.high_voltage_at(volts) is None


def second_entrance_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large equipment in a room with fewer entrances than it needs."""
    rule, profile = SECOND_ENTRANCE_CHECK, assessment.profile
    seen: set[Equipment] = set()
    for row, equipment, facts in assessment.measured:
        width, amps, volts = row.equipment_width.value, equipment.rating_a.value, facts.volts_to_ground
        high = profile.high_voltage_at(volts)
        if high is not None and amps is None:
            amps = 0  # amperes do not count there
        if equipment in seen or equipment.stock_kind == "Transformer":
            continue  # a transformer holds no overcurrent, switching or control device
        if width is None or amps is None:
            lacking = rule.lacking(row, equipment)
            if lacking is not None and not _settled_by_one(assessment, row, equipment, volts):
                yield rule.not_checked(row, *lacking)
            continue
        if amps < 0 or not assessment.is_reliable(row.equipment_width):
            continue
        needed = entrances_needed(profile, amps, width, volts_to_ground=volts)
        if needed < 2:
            continue
        seen.add(equipment)
        room = assessment.survey.room(equipment.room.value)
        if room is None:
            yield rule.not_checked(row, equipment.room, equipment)
            continue
        entrances = room.entrances.value
        if entrances is None:
            yield from rule.ask(row, room)
        elif entrances < needed:
            counted = {0: "no entrance", 1: "one entrance"}.get(entrances, f"{entrances} entrances")
            yield rule.problem(
                row,
                row.equipment_width,
                f"{_how_large(assessment, row, amps, high)}; {room.called} has {counted} "
                f"({section(assessment, high.entrances_section if high else profile.large_wider_than.section)}).",
                phrase=f"{'only one' if entrances == 1 else 'no'} way out was recorded from a room with equipment this large",
                expected=f"{room.entrances.heading} {needed}, or one of the two exceptions",
            )


def _how_large(assessment: Assessment, row: Clearance, amps: float, high: HighVoltage | None) -> str:
    profile, wide = assessment.profile, length_as_read(row.equipment_width)
    if high is not None:
        return (
            f"{row.called} is over {high.above.number:g} V to ground and {wide} wide. Such equipment over "
            f"{high.wider_than.inches:g} in wide has an entrance at each end of the working space"
        )
    return (
        f"{row.called} is {amps:g} A and {wide} wide. Equipment of {profile.large_amperes:g} A or more and over "
        f"{profile.large_wider_than.inches:g} in wide has an entrance at each end of the working space"
    )


_MSB = {"tag": "MSB", "kind": "Switchboard", "room": "Main electrical room", "rating_a": "1600"}

SECOND_ENTRANCE_CHECK = Rule(
    slug="second-entrance-check",
    class_="confirm",
    subject="Clearances",
    what="Equipment of 1200 A or more and over 6 ft wide stands in a room with fewer than two entrances.",
    why="A flash can cut off the only way out.",
    mend="Count the ways out again. One is enough where the way out is unobstructed, or where the depth is doubled and the "
    "door is far enough from the equipment: answer No issue with which. If neither holds, Tell the client.",
    source="NFPA 70 110.26(C)(2)",
    needs=(Clearance.equipment_width, Equipment.rating_a, Room.entrances),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.ON, Effort.ENGINEER, Danger.ACCESS),
        do="Have a licensed electrical engineer and the local authority look at the ways out.",
        why="A flash at the equipment can cut off the only way out.",
        in_short="too few ways out recorded",
    ),
    compares="Ways out of rooms with large equipment",
    check=second_entrance_check,
    fires=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "1"}],
        equipment=[_MSB],
        clearances=[{"tag": "MSB", "equipment_width": "90"}],
    ),
    passes=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "1"}],
        equipment=[_MSB],
        clearances=[{"tag": "MSB", "equipment_width": "72"}],
    ),
)

RULES = (SECOND_ENTRANCE_CHECK,)

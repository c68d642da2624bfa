"""Rules about the doors by which one leaves a room with large equipment.

door-hardware-missing    it does not open the way out, or a hand must work a handle

Not here: how many ways out there are (ways_out).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import HighVoltage, holds_devices
from workbook_tools.rules.client import Condition
from workbook_tools.rules.contradictions import reads
from workbook_tools.rules.in_words import section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome, Room

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Doors of rooms"

_DOORS_OF_HIGH_VOLTAGE = "(3)"
"""Where 110.33(A) speaks of doors; it has no amperes (NFPA 70, from memory)."""

_OUTSIDE = re.compile(r"\b(?:outside|outdoors?|exterior|roof|yard|courtyard)\b", re.IGNORECASE)


def door_hardware_missing(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look at the doors near large and high-voltage equipment: which way they open, and what opens them."""
    rule, near = DOOR_HARDWARE_MISSING, assessment.profile.panic_nearer_than
    if near is None:
        return
    asking = _asking(assessment)
    for room in assessment.survey.rooms if asking else ():
        rows = asking.get(plain(room.room.value or ""), [])
        opens, hardware = room.door_opens_out, room.door_hardware
        if not rows or room.access.value not in (None, "Entered"):
            continue
        if Outcome.NOT_APPLICABLE in (opens.outcome, hardware.outcome):
            continue  # no door that near
        against = opens.value == "No"
        latched = hardware.value == "Lever or knob"
        if against or latched:
            largest, size, by = _largest(assessment, rows)
            what = listed(
                ["has a lever or a knob"] * latched
                + ["opens into the room, against people leaving"] * against
            )
            right = listed(
                ["Yes in Door opens out"] * against + ["Panic hardware in Door hardware"] * latched
            )
            yield rule.problem(
                room,
                opens if against else hardware,
                f"{room.called} holds {largest.called} of {size}, and its door {what}. {by}, "
                f"a door nearer than {near.inches / 12:g} ft opens the way out and has panic or fire exit hardware.",
                phrase=f"in a room with equipment of {size} the door {what}",
                expected=f"{right}; N/A where no door is that near",
            )
        if not _is_outside(room):
            yield from rule.ask(room)


def _asking(assessment: Assessment) -> dict[str, list[Equipment]]:
    """Return the equipment that asks for such a door, by room: large, or of a voltage with rules of its own."""
    least = assessment.profile.panic_amperes
    asking: dict[str, list[Equipment]] = {}
    for row in assessment.survey.equipment:
        if not row.room.value or not holds_devices(row.stock_kind):
            continue
        large = (
            least is not None and (row.rating_a.value or 0) >= least and assessment.is_plausible(row.rating_a)
        )
        if large or _high_voltage(assessment, row) is not None:
            asking.setdefault(plain(row.room.value), []).append(row)
    return asking


def _high_voltage(assessment: Assessment, row: Equipment) -> HighVoltage | None:
    if not row.voltage.value or not assessment.is_in_scope(row):
        return None
    return assessment.profile.high_voltage_at(assessment.equipment(row).volts_to_ground)


def _largest(assessment: Assessment, rows: list[Equipment]) -> tuple[Equipment, str, str]:
    """Return the equipment that a message names, its size or voltage, and the rule that it falls under."""
    least, near = assessment.profile.panic_amperes, assessment.profile.panic_nearer_than
    for row in rows:
        high, system = _high_voltage(assessment, row), assessment.own_system(row)
        if high is not None and system is not None:
            by = section(assessment, f"{high.entrances_section}{_DOORS_OF_HIGH_VOLTAGE}")
            whatever = f"Above {high.above.number:g} V to ground ({by}), whatever the amperes"
            return row, f"{system.name} V", whatever
    biggest = max(rows, key=lambda row: row.rating_a.value or 0)
    by = section(assessment, near.section) if near is not None else ""
    return biggest, f"{biggest.rating_a.value:g} A", f"From {least:g} A ({by})"


def _door_is_fine(assessment: Assessment, subject: str) -> str:
    """Say where the door of a room, or of the room of a tag, was recorded as it should be."""
    tagged = assessment.survey.tagged(subject)
    room = assessment.survey.room(tagged[0].room.value if tagged else subject)
    if room is None or room.door_opens_out.value != "Yes" or room.door_hardware.value != "Panic hardware":
        return ""
    return f"{reads(room.door_opens_out)} and {reads(room.door_hardware)}"


def _is_outside(room: Room) -> bool:
    """Whether a room is in the open, where no door for people stands beside the equipment."""
    said = f"{room.level.typed} {room.called}"
    return room.entrances.outcome is Outcome.NOT_APPLICABLE or _OUTSIDE.search(said) is not None


_MSB = {"tag": "MSB", "kind": "Switchboard", "room": "Main electrical room", "rating_a": "800"}
_MAIN = {"room": "Main electrical room", "access": "Entered"}

DOOR_HARDWARE_MISSING = Rule(
    slug="door-hardware-missing",
    class_="report",
    priority="Correct soon",
    subject="Rooms",
    what="A door within 25 ft of equipment of 800 A or more, or of more than 1000 V to ground, opens into the room, or has a lever "
    "or a knob.",
    why="Whoever is burned or blinded by a flash must be able to fall through the door.",
    mend="Look again; N/A where no door for people is that near. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(C)(3), 110.33(A)(3)",
    needs=(Room.door_opens_out, Room.door_hardware),
    client=Condition(
        work=Work(Trade.BUILDING, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Have the door changed so that it opens the way out when somebody presses against it; the local authority says what "
        "is needed there.",
        why="Somebody hurt by a flash must be able to leave without working a handle.",
    ),
    compares="Doors of rooms with large equipment",
    fine=_door_is_fine,
    check=door_hardware_missing,
    fires=as_typed(
        rooms=[{**_MAIN, "door_opens_out": "No", "door_hardware": "Lever or knob"}], equipment=[_MSB]
    ),
    passes=as_typed(
        rooms=[{**_MAIN, "door_opens_out": "Yes", "door_hardware": "Panic hardware"}], equipment=[_MSB]
    ),
)

RULES = (DOOR_HARDWARE_MISSING,)

"""Rules about the doors by which one leaves a room with large equipment.

door-hardware-missing    it does not open the way out, or a hand must work a handle

Not here: how many ways out there are (ways_out).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import (
    holds_devices,
)
from workbook_tools.rules.client import Condition, Trade
from workbook_tools.rules.contradictions import reads
from workbook_tools.rules.in_words import section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome, Room

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Doors of rooms"

_OUTSIDE = re.compile(r"\b(?:outside|outdoors?|exterior|roof|yard|courtyard)\b", re.IGNORECASE)


def door_hardware_missing(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look at the doors near large equipment: which way they open, and what opens them."""
    rule, least, near = (
        DOOR_HARDWARE_MISSING,
        assessment.profile.panic_amperes,
        assessment.profile.panic_nearer_than,
    )
    if least is None or near is None:
        return
    large: dict[str, list[Equipment]] = {}
    for row in assessment.survey.equipment:
        amps = row.rating_a.value or 0
        if (
            not holds_devices(row.stock_kind)
            or not row.room.value
            or not assessment.is_plausible(row.rating_a)
        ):
            continue
        if amps >= least:
            large.setdefault(plain(row.room.value), []).append(row)
    for room in assessment.survey.rooms:
        rows = large.get(plain(room.room.value or ""), [])
        opens, hardware = room.door_opens_out, room.door_hardware
        if not rows or room.access.value not in (None, "Entered"):
            continue
        if Outcome.NOT_APPLICABLE in (opens.outcome, hardware.outcome):
            continue  # no door that near
        against = opens.value == "No"
        latched = hardware.value == "Lever or knob"
        if against or latched:
            biggest = max(rows, key=lambda row: row.rating_a.value or 0)
            what = listed(["does not open the way out"] * against + ["has a lever or a knob"] * latched)
            yield rule.problem(
                room,
                opens if against else hardware,
                f"{room.called} holds {biggest.called} of {biggest.rating_a.value:g} A, and its door {what}. From {least:g} A, "
                f"a door nearer than {near.inches / 12:g} ft opens the way out and has panic or fire exit hardware "
                f"({section(assessment, near.section)}).",
                phrase=f"the door {what}, in a room with equipment of {biggest.rating_a.value:g} A",
                expected="Yes, and Panic hardware; N/A where no door is that near",
            )
        if not _is_outside(room):
            yield from rule.ask(room)


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
    what="A door within 25 ft of equipment of 800 A or more does not open the way out, or has a lever or a knob.",
    why="Whoever is burned or blinded by a flash must be able to fall through the door.",
    mend="Look again; N/A where no door for people is that near. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(C)(3)",
    needs=(Room.door_opens_out, Room.door_hardware),
    client=Condition(
        do="Have the door changed so that it opens the way out when somebody presses against it; the local authority says what "
        "is needed there.",
        trade=Trade.OWNER,
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

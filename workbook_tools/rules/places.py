"""Rules about where equipment stands, and how one reaches it.

    door-hardware-missing                    the door by which one leaves large equipment
    panel-in-unsuitable-room                 overcurrent devices in a bathroom, a clothes closet, over steps
    handle-height-check                      an enclosure that reaches above the height of a hand
    transformer-disconnect-not-in-sight      a transformer whose source stands in another room
    open-above-unexplained                   little room above, and nothing named that takes it

Not here: entrances (ways_out), what is foreign above the equipment (clear_spaces).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import KINDS, Length, Limit, meets, needs_dedicated_space
from workbook_tools.rules.client import Condition, Trade
from workbook_tools.rules.client import Limit as Unrecorded
from workbook_tools.rules.contradictions import reads
from workbook_tools.rules.in_words import edition, length_as_read, section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import found_already, says
from workbook_tools.survey import Equipment, Outcome, Room

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Where equipment stands"

WITH_DEVICES = (
    "Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Disconnect switch",
    "Enclosed circuit breaker", "Transfer switch", "Meter center", "Control panel", "PV disconnect",
)  # fmt: skip
"""Kinds that hold overcurrent, switching or control devices (110.26(C)); transformers and busway hold none."""

_OUTSIDE = re.compile(r"\b(?:outside|outdoors?|exterior|roof|yard|courtyard)\b", re.IGNORECASE)


# -- doors


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
            row.stock_kind not in WITH_DEVICES
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


# -- rooms

_BATH = re.compile(
    r"\b(?:baths?|bath[\s-]?rooms?|locker[\s-]?rooms?|rest[\s-]?rooms?|toilets?|wash[\s-]?rooms?|lavator(?:y|ies)|showers?|shower[\s-]?rooms?|wc)\b",
    re.IGNORECASE,
)
_CLOTHES = re.compile(r"\b(?:clothes|coats?|linen|wardrobes?|cloak[\s-]?rooms?)\b", re.IGNORECASE)
_STEPS = re.compile(r"\bstair(?:s|way|well|case)?\b|\bsteps\b", re.IGNORECASE)
_BESIDE = re.compile(
    r"\b(?:beside|outside|near|next to|opposite|adjacent|adjoining|behind|between|corridor|hall(?:way)?|landing|lobby|fans?|"
    r"exhaust|riser|pump|under|below|beneath|not over|by)\b",
    re.IGNORECASE,
)
_NOT_THERE = re.compile(
    r"\b(?:beside|outside|next to|adjoining|landing|corridor|hallway|under|below|not over|no showers?)\b",
    re.IGNORECASE,
)
_GUESTS = re.compile(r"hotel|motel|residential|apartment|dwelling|dormitor|guest", re.IGNORECASE)


def panel_in_unsuitable_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look at the names of the rooms in which overcurrent devices stand."""
    for row in assessment.survey.equipment:
        room = row.room.value
        if (
            room is None
            or not _holds_overcurrent_devices(row)
            or _BESIDE.search(room)
            or says(assessment, _NOT_THERE, row)
        ):
            continue
        asked = _asked_about(assessment, row, room)
        if asked and not found_already(assessment, PANEL_IN_UNSUITABLE_ROOM.slug, row):
            place, cited = asked
            yield PANEL_IN_UNSUITABLE_ROOM.problem(
                row,
                row.room,
                f"{row.called} is recorded in {room}: does it stand {place}? The code keeps overcurrent devices out of there "
                f"({cited}).",
                phrase=f"recorded in {room}; whether it stands {place} is not settled",
                expected="Another room, or in Remarks where exactly it stands",
            )


def _holds_overcurrent_devices(row: Equipment) -> bool:
    switch = row.stock_kind in ("Disconnect switch", "Transfer switch", "PV disconnect")
    return row.stock_kind in WITH_DEVICES and (
        not switch or row.main_device.value in ("Fused switch", "Main breaker")
    )


def _asked_about(assessment: Assessment, row: Equipment, room: str) -> tuple[str, str] | None:
    """Return where the equipment may stand, and the section against it; None where nothing is asked."""
    by = edition(assessment)
    if _CLOTHES.search(room):
        return "among clothes or linen", f"{by} 240.24(D)"
    if _STEPS.search(room):
        return "over the steps", f"{by} 240.24(F)"
    if not _BATH.search(room):
        return None
    anywhere = assessment.profile.any_bathroom
    if row.stock_kind == "Service disconnect":
        return "in a bathroom", f"{by} 230.70(A)(2)"
    if anywhere is not None:
        return "in a bathroom or with a shower", section(assessment, anywhere.section, anywhere.basis)
    # Before, bathrooms of dwellings, dormitories and guest rooms alone.
    return (
        ("in a bathroom of a dwelling or a guest room", f"{by} 240.24(E)")
        if _for_guests(assessment)
        else None
    )


def _for_guests(assessment: Assessment) -> bool:
    return _GUESTS.search(assessment.survey.job.building_use.typed) is not None


# -- handles

_LOW_HANDLES = (
    "Disconnect switch",
    "Enclosed circuit breaker",
    "PV disconnect",
    "Panelboard",
    "Service disconnect",
)
_HANDLE = re.compile(r"handle|reach|grip|hook|portable|platform", re.IGNORECASE)
_TALL_BOARD_IN = (
    60.0  # a board this wide stands on the floor, its handles far below its top (common practice)
)


def handle_height_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for switches and panels whose top is above the height that a handle may have."""
    highest = assessment.profile.handle_height
    if highest is None:
        return
    limit = Limit(*highest, "the height of a handle", at_most=True)
    for row, equipment, _facts in assessment.measured:
        top, width = row.equipment_height, row.equipment_width.value
        measured = top.value
        if measured is None or equipment.stock_kind not in _LOW_HANDLES or not assessment.is_reliable(top):
            continue
        on_the_floor = isinstance(width, Length) and width.inches >= _TALL_BOARD_IN
        if on_the_floor or assessment.suspect_unit(top) or meets(limit, measured, assessment.profile):
            continue
        if says(assessment, _HANDLE, equipment) or _HANDLE.search(row.remarks.typed):
            continue
        yield HANDLE_HEIGHT_CHECK.problem(
            row,
            top,
            f"The top of {equipment.called} is {length_as_read(top)} above the floor. The grip of its highest handle stands at "
            f"most {highest.inches:g} in high ({section(assessment, highest.section)}); how high it is was not recorded.",
            expected="In Remarks how high the highest handle is",
        )


# -- transformers

_IN_SIGHT = re.compile(
    r"disconnect|lockable|\block(?:ed|s|ing)?[\s-]*(?:out|open|off)|in sight|isolator|switch (?:beside|at|on|by|near)|local switch",
    re.IGNORECASE,
)


def transformer_disconnect_not_in_sight(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transformers that are fed from another room, and nothing is written of a switch."""
    asked = assessment.profile.transformer_disconnect
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for row in assessment.survey.equipment:
        feeder = assessment.supply.feeder(row)
        if row.stock_kind != "Transformer" or feeder is None or assessment.supply.feeds_itself(row):
            continue
        here, there = row.room.value, feeder.room.value
        if here is None or there is None or plain(here) == plain(there) or says(assessment, _IN_SIGHT, row):
            continue
        yield TRANSFORMER_DISCONNECT_NOT_IN_SIGHT.problem(
            row,
            row.remarks,
            f"{row.called} stands in {here} and is fed from {feeder.called} in {there}; a switch in sight of it, or a mark that "
            f"names a remote one that can be locked, was not recorded ({section(assessment, asked.section, asked.basis)}).",
            expected="Its disconnect, and where that is",
        )


# -- above

_EXPLAINED = re.compile(
    r"ceiling|slab|deck|structur|beam|joist|roof|tray|conduit|raceway|busway|wireway|gutter|light|sprinkler|outdoor|outside",
    re.IGNORECASE,
)


def open_above_unexplained(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for a measured height above that ends before it should, with nothing named that ends it."""
    above = assessment.profile.dedicated_space_above
    needed = Limit(*above, "the dedicated space above")
    for row, equipment, _facts in assessment.measured:
        measured, kind = row.open_above.value, equipment.stock_kind
        if (
            kind not in KINDS
            or not needs_dedicated_space(assessment.profile, kind)
            or not isinstance(measured, Length)
        ):
            continue
        if assessment.suspect_unit(row.open_above) or meets(needed, measured, assessment.profile):
            continue
        named = [item for item in row.items_above.value or () if item != "None"]
        if named or row.items_above.outcome is Outcome.UNREADABLE or _EXPLAINED.search(row.remarks.typed):
            continue
        yield OPEN_ABOVE_UNEXPLAINED.problem(
            row,
            row.open_above,
            f"Above {equipment.called} {length_as_read(row.open_above)} are free, and what is there was not recorded: is it the "
            f"structural ceiling? The dedicated space ends there, or {above.inches:g} in up "
            f"({section(assessment, above.section)}).",
            phrase=f"{length_as_read(row.open_above)} free above it, and what ends that was not recorded",
            expected="Structure, or in Items above what is there",
        )


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

PANEL_IN_UNSUITABLE_ROOM = Rule(
    slug="panel-in-unsuitable-room",
    class_="confirm",
    subject="Equipment",
    what="Overcurrent devices are recorded in a room whose name is that of a bathroom, a clothes closet or a stair.",
    why="Water, cloth that burns, and a step backwards into nothing are all beside somebody who must switch off.",
    mend="Say in Remarks where it stands (beside the stairs, on the landing, in the corridor), or correct the room. Confirm "
    "where it does stand there.",
    source="NFPA 70 240.24",
    client=Condition(
        do="Have a licensed electrician and the local authority say whether it can stay there.",
        why="Water, cloth that burns or a fall down the steps is close to somebody who must switch off.",
    ),
    check=panel_in_unsuitable_room,
    fires=as_typed(equipment=[{"tag": "LP-1", "kind": "Panelboard", "room": "Men's restroom"}]),
    passes=as_typed(equipment=[{"tag": "LP-1", "kind": "Panelboard", "room": "Corridor by the restrooms"}]),
)

HANDLE_HEIGHT_CHECK = Rule(
    slug="handle-height-check",
    class_="confirm",
    subject="Clearances",
    what="The top of a switch or a panel is higher than the grip of a handle may be, and nothing is written of its handle.",
    why="A handle that nobody reaches does not shut anything off.",
    mend="Write in Remarks how high the grip of the highest handle is; where it is too high, record the finding.",
    source="NFPA 70 404.8(A)",
    client=Unrecorded(
        one="How high the highest handle of this equipment is was not recorded.",
        many="How high the highest handles of this equipment are was not recorded.",
    ),
    check=handle_height_check,
    fires=as_typed(
        equipment=[{"tag": "DS-1", "kind": "Disconnect switch"}],
        clearances=[{"tag": "DS-1", "equipment_height": "84"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "DS-1", "kind": "Disconnect switch"}],
        clearances=[{"tag": "DS-1", "equipment_height": "79"}],
    ),
)

_T1 = {"tag": "T-1", "kind": "Transformer", "room": "Roof", "fed_from": "DP-1"}
_DP1 = {"tag": "DP-1", "kind": "Panelboard", "room": "Main electrical room"}

TRANSFORMER_DISCONNECT_NOT_IN_SIGHT = Rule(
    slug="transformer-disconnect-not-in-sight",
    class_="confirm",
    subject="Equipment",
    what="A transformer is fed from another room, and nothing is written of a switch in sight of it or of a remote one. Not "
    "asked of a building older than the edition that first asked for it.",
    why="Whoever works on the transformer must be sure that nobody switches it on again.",
    mend="Write in Remarks of the transformer where its disconnect is, or name the switch in Fed from and list it.",
    source="NFPA 70 450.14",
    client=Unrecorded(
        one="Where this transformer is switched off was not recorded.",
        many="Where these transformers are switched off was not recorded.",
    ),
    check=transformer_disconnect_not_in_sight,
    fires=as_typed(equipment=[_DP1, _T1]),
    passes=as_typed(equipment=[_DP1, {**_T1, "room": "Main electrical room"}]),
)

OPEN_ABOVE_UNEXPLAINED = Rule(
    slug="open-above-unexplained",
    class_="confirm",
    subject="Clearances",
    what="The space above is open for less than 6 ft, not to the structure, and nothing above was named.",
    why="Something ends it: the structural ceiling may, a pipe or a duct may not.",
    mend="Write Structure where it is free to the structural ceiling; else name in Items above what is there.",
    source="NFPA 70 110.26(E)",
    client=Condition(
        do="Have somebody look at what is above the equipment.",
        trade=Trade.OWNER,
        why="Whatever leaks or falls from there ends up in live equipment.",
        in_short="space above not explained",
    ),
    check=open_above_unexplained,
    fires=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard"}],
        clearances=[{"tag": "DP-1", "open_above": "40 in", "items_above": "None"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard"}],
        clearances=[{"tag": "DP-1", "open_above": "Structure", "items_above": "None"}],
    ),
)

RULES = (
    DOOR_HARDWARE_MISSING,
    PANEL_IN_UNSUITABLE_ROOM,
    HANDLE_HEIGHT_CHECK,
    TRANSFORMER_DISCONNECT_NOT_IN_SIGHT,
    OPEN_ABOVE_UNEXPLAINED,
)

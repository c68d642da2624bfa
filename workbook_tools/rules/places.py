"""Rules about where equipment stands.

    panel-in-unsuitable-room                 overcurrent devices in a bathroom, a clothes closet, over steps
    transformer-disconnect-not-in-sight      a transformer whose source stands in another room
    transformer-disconnect-absent            the same, and Remarks say that there is no switch
    open-above-unexplained                   little room above, and nothing named that takes it

Not here: doors (room_doors), what is foreign above the equipment (clear_spaces).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import (
    KINDS,
    Length,
    Limit,
    holds_devices,
    meets,
    needs_dedicated_space,
)
from workbook_tools.rules.client import Condition
from workbook_tools.rules.client import Limit as Unrecorded
from workbook_tools.rules.in_words import edition, length_as_read, section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Answer, answer, answer_in, found_already
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Where equipment stands"

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
# "Stair 2 electrical room", "Bath & Body stock room": the name of another room, beside a stair or of a shop.
_NAMED_AFTER = re.compile(
    r"\b(?:electric(?:al)?|elec\.?|switch(?:gear)?|meter|mechanical|mech\.?|boiler|plant|machine|equipment|server|telecom|data|"
    r"utility|service|sales|control|generator|transformer)\s*(?:rooms?|closets?|areas?|floor|space|vault|cupboard)\b",
    re.IGNORECASE,
)
_STORED_THERE = re.compile(
    r"\b(?:stock|store|storage|back|janitor(?:'?s)?|office)\s*(?:rooms?|closets?|areas?)?\s*$|\b(?:stock|store)rooms?\b",
    re.IGNORECASE,
)
_GUESTS = re.compile(r"hotel|motel|residential|apartment|dwelling|dormitor|guest", re.IGNORECASE)


@lru_cache(maxsize=4096)
def _kind_of_place(room: str) -> str:
    """Return what the name of a room says of it: "clothes", "steps", "bath", or "" for nothing."""
    if _BESIDE.search(room):
        return ""
    kinds = (("clothes", _CLOTHES), ("steps", _STEPS), ("bath", _BATH))
    kind = next((kind for kind, words in kinds if words.search(room)), "")
    # A linen store is a closet for linen still; the store of a bathroom shop is no bathroom.
    if _NAMED_AFTER.search(room) or (kind != "clothes" and _STORED_THERE.search(room)):
        return ""
    return kind


def panel_in_unsuitable_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look at the names of the rooms in which overcurrent devices stand."""
    rule = PANEL_IN_UNSUITABLE_ROOM
    for row in assessment.survey.equipment:
        kind = _kind_of_place(row.room.value or "")
        asked = _asked_about(assessment, row, kind) if kind and _holds_overcurrent_devices(row) else None
        if (
            asked
            and not answer(assessment, _NOT_THERE, row).settled
            and not found_already(assessment, rule.slug, row)
        ):
            place, cited = asked
            yield rule.problem(
                row,
                row.room,
                f"{row.called} is recorded in {row.room.said}: does it stand {place}? The code keeps overcurrent devices out of "
                f"there ({cited}).",
                phrase=f"recorded in {row.room.said}; whether it stands {place} is not settled",
                expected="Another room, or in Remarks where exactly it stands",
            )


def _holds_overcurrent_devices(row: Equipment) -> bool:
    switch = row.stock_kind in ("Disconnect switch", "Transfer switch", "PV disconnect")
    return holds_devices(row.stock_kind) and (
        not switch or row.main_device.value in ("Fused switch", "Main breaker")
    )


def _asked_about(assessment: Assessment, row: Equipment, kind: str) -> tuple[str, str] | None:
    """Return where the equipment may stand, and the section against it; None where nothing is asked."""
    by = edition(assessment)
    if kind == "clothes":
        return "among clothes or linen", f"{by} 240.24(D)"
    if kind == "steps":
        return "over the steps", f"{by} 240.24(F)"
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


_IN_SIGHT = re.compile(
    r"disconnect(?!ed)|lockable|\block(?:ed|s|ing)?[\s-]*(?:out|open|off)|in sight|isolator|switch (?:beside|at|on|by|near)|local switch",
    re.IGNORECASE,
)


def _disconnect_asked(assessment: Assessment) -> Iterator[tuple[Equipment, str, str, Answer]]:
    """Yield the transformers fed from another room: where they and their source stand, by what, what was said."""
    asked = assessment.profile.transformer_disconnect
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for row in assessment.survey.equipment:
        feeder = assessment.supply.feeder(row) if row.stock_kind == "Transformer" else None
        if feeder is None or assessment.supply.feeds_itself(row):
            continue
        here, there = row.room.value, feeder.room.value
        if here is not None and there is not None and _are_two_rooms(assessment, here, there):
            what = f"{row.called} stands in {here} and is fed from {feeder.called} in {there}"
            by = section(assessment, asked.section, asked.basis)
            yield row, what, by, answer(assessment, _IN_SIGHT, row)


def _are_two_rooms(assessment: Assessment, here: str, there: str) -> bool:
    """Whether two names of rooms are of two; one that Rooms does not list may be the other, mistyped."""
    survey = assessment.survey
    listed = not survey.rooms or None not in (survey.room(here), survey.room(there))
    return listed and plain(here) != plain(there)


def transformer_disconnect_not_in_sight(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transformers that are fed from another room, and nothing is written of a switch."""
    for row, what, by, said in _disconnect_asked(assessment):
        if not (said.settled or said.denied):
            yield TRANSFORMER_DISCONNECT_NOT_IN_SIGHT.problem(
                row,
                row.remarks,
                f"{what}; a switch in sight of it, or a mark that names a remote one that can be locked, was not recorded ({by}).",
                expected="Its disconnect, and where that is",
            )


def transformer_disconnect_absent(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transformers that are fed from another room, and remarks that say that there is no switch."""
    for row, what, by, said in _disconnect_asked(assessment):
        if said.denied:
            yield TRANSFORMER_DISCONNECT_ABSENT.problem(
                row,
                row.remarks,
                f"{what}; its disconnect is recorded as absent: {said.quoted}. The code asks for a switch in sight of it, or for a "
                f"mark that names a remote one that can be locked ({by}).",
                phrase=f"no switch in sight of it, as recorded: {said.quoted}",
                expected="Its disconnect, and where that is",
            )


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
        if (
            named
            or row.items_above.outcome is Outcome.UNREADABLE
            or answer_in(_EXPLAINED, row.remarks.typed).there
        ):
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


PANEL_IN_UNSUITABLE_ROOM = Rule(
    slug="panel-in-unsuitable-room",
    class_="confirm",
    subject="Equipment",
    what="Overcurrent devices are recorded in a room whose name is that of a bathroom, a clothes closet or a stair.",
    why="Water, cloth that burns, and a step backwards into nothing are all beside somebody who must switch off.",
    mend="Say in Remarks where it stands (beside the stairs, on the landing, in the corridor), or correct the room. Where it "
    "does stand there, answer Tell the client.",
    source="NFPA 70 240.24",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS),
        do="Have a licensed electrician and the local authority say whether it can stay there.",
        why="Water, cloth that burns or a fall down the steps is close to somebody who must switch off.",
    ),
    check=panel_in_unsuitable_room,
    fires=as_typed(equipment=[{"tag": "LP-1", "kind": "Panelboard", "room": "Men's restroom"}]),
    passes=as_typed(equipment=[{"tag": "LP-1", "kind": "Panelboard", "room": "Corridor by the restrooms"}]),
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

TRANSFORMER_DISCONNECT_ABSENT = Rule(
    slug="transformer-disconnect-absent",
    class_="confirm",
    subject="Equipment",
    what="A transformer is fed from another room, and Remarks say that no switch is in sight of it. Not asked of a building older "
    "than the edition that first asked for it.",
    why="Whoever works on the transformer must be sure that nobody switches it on again.",
    mend="Look for a mark on the transformer that names a remote switch, and for its lock. Answer Tell the client where there is none.",
    source="NFPA 70 450.14",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Have a licensed electrician say where the transformer is switched off, and have that marked on it.",
    ),
    check=transformer_disconnect_absent,
    fires=as_typed(equipment=[_DP1, {**_T1, "remarks": "No disconnect in sight"}]),
    passes=as_typed(equipment=[_DP1, {**_T1, "remarks": "Disconnect beside it"}]),
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
        work=Work(Trade.OWNER, Power.ON, Effort.OWN, Danger.SHOCK_OR_FIRE, ladder=True),
        do="Have somebody look at what is above the equipment.",
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
    PANEL_IN_UNSUITABLE_ROOM,
    TRANSFORMER_DISCONNECT_NOT_IN_SIGHT,
    TRANSFORMER_DISCONNECT_ABSENT,
    OPEN_ABOVE_UNEXPLAINED,
)

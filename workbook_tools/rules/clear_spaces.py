"""Rules about what stands in the spaces that must be clear.

    dedicated-space-obstructed    pipe, duct or storage in the space above the equipment
    dedicated-space-check         the same over what may be a board or a switch
    foreign-piping-above          foreign things beyond that space: are they protected against leaks
    sprinkler-above               a sprinkler there is no foreign item, and that is said
    working-space-storage         anything stored in the working space

The dedicated space belongs to the kinds that the edition lists (no transformers, no plain
disconnect switches). The measured lengths are in clearances.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import KINDS, Length, Limit, meets, needs_dedicated_space
from workbook_tools.rules.client import Condition, Remark
from workbook_tools.rules.contradictions import answered
from workbook_tools.rules.in_words import items_in_words, length_as_read, section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import answer_in
from workbook_tools.survey import Clearance, Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Clear spaces"

_NOTHING, _SPRINKLER = "None", "Sprinkler only"

# What belongs to the electrical installation or to the building's frame is not foreign to it, and a light or a
# detector over the equipment is no piping (NFPA 70 110.26(E), common practice) ...
_NOT_FOREIGN = re.compile(
    r"\b(?:conduits?|raceways?|wireways?|wiring|wires?|cables?|trays?|emt|imc|rmc|bus ?ways?|bus ?ducts?|troughs?|gutters?|"
    r"(?:junction|pull|splice|tap) box(?:es)?|electric|electrical|lights?|lighting|luminaires?|lamps?|exit signs?|detectors?|"
    r"sensors?|meters?|ceilings?|ceiling tiles?|beams?|joists?|truss(?:es)?|girders?|purlins?|slabs?|decks?|decking|"
    r"struts?|hangers?|supports?)\b",
    re.IGNORECASE,
)
# ... unless the words beside it say that it carries water, air or rain: a roof gutter, a drain tray, a heating duct.
_FOREIGN = re.compile(
    r"\b(?:pip(?:e|es|ing)|plumbing|drains?|drainage|waste|sewer|sewage|water|rain|rainwater|roof|storm|downspouts?|steam|"
    r"condensate|chilled|glycol|refrigerant|hydronic|sprinklers?|leaks?|drip|hvac|ventilation|exhaust|heating|"
    r"(?<!bus )ducts?|ductwork|stor(?:age|ed))\b",
    re.IGNORECASE,
)


_PROTECTED = re.compile(
    r"\bdrip|\b(?:leak|splash|spray)[\s-]*(?:protect|pan|shield|guard|tray)|\bshield|\bcanop(?:y|ies)\b|\bhoods?\b|\bpans?\b|"
    r"\bprotected\b|\bprotection\b|double[\s-]*wall",
    re.IGNORECASE,
)
"""What keeps water from above off the equipment."""

_NOT_STORED = re.compile(
    r"\b(?:mats?|matting|floor (?:marking|markings|tape|line|lines|paint)|(?:yellow|painted) lines?)\b",
    re.IGNORECASE,
)
"""What lies on the floor for whoever works there, or marks the space: an insulating mat (common practice)."""


class _Above(NamedTuple):
    """What is above a piece of equipment: the foreign things, whether they are in its dedicated space, and all of it.

    `dedicated` is None where the kind does not tell whether there is such a space; `beyond` says
    that more than the space was measured free, so that what is named is further up.
    """

    row: Clearance
    items: tuple[str, ...]
    foreign: list[str]
    dedicated: bool | None
    beyond: bool


def _is_foreign(item: str) -> bool:
    return item not in (_NOTHING, _SPRINKLER) and bool(_FOREIGN.search(item) or not _NOT_FOREIGN.search(item))


def _above(rule: Rule, assessment: Assessment) -> Iterator[_Above | NotChecked]:
    """Yield what is above equipment that has, or may have, a dedicated space; a NotChecked where nobody said."""
    profile = assessment.profile
    # Only more than that height says that somebody looked past it: "6 ft" is also written where just that was looked at.
    top = Limit(*profile.dedicated_space_above, "the end of the dedicated space", at_most=True)
    for row, equipment, _facts in assessment.measured:
        items, kind = row.items_above.value, equipment.stock_kind
        if kind is None:
            yield from rule.unanswered(row, equipment.kind, equipment)
            continue
        dedicated = needs_dedicated_space(profile, kind) if kind in KINDS else False
        if dedicated is False:
            continue
        if items is None:
            yield from rule.unanswered(row, row.items_above)
            continue
        free = row.open_above.value
        beyond = (
            isinstance(free, Length)
            and not meets(top, free, profile)
            and not assessment.suspect_unit(row.open_above)
            and assessment.is_reliable(row.open_above)
        )
        yield _Above(row, items, [item for item in items if _is_foreign(item)], dedicated, beyond)


def _how_far(assessment: Assessment) -> str:
    above = assessment.profile.dedicated_space_above
    return (
        f"is kept for the electrical installation up to {above.inches:g} in over it, or to the structural ceiling where that "
        f"is lower ({section(assessment, above.section, above.basis)})"
    )


def dedicated_space_obstructed(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for foreign items in the space above equipment that has a dedicated space."""
    rule = DEDICATED_SPACE_OBSTRUCTED
    for found in _above(rule, assessment):
        if isinstance(found, NotChecked):
            yield found
        elif found.foreign and found.dedicated and not found.beyond:
            named = items_in_words(found.items, (_NOTHING, _SPRINKLER)) or "something foreign"
            yield rule.problem(
                found.row,
                found.row.items_above,
                f"{listed(found.foreign)} in the space above {found.row.called}, which {_how_far(assessment)}.",
                phrase=f"{named} in the dedicated space above",
                expected="None, or Sprinkler only",
            )
        elif not found.foreign:
            # Nothing was seen, but how far up was looked?
            yield from rule.ask(found.row)


def dedicated_space_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for foreign items above a service disconnect that may be a board or a switch."""
    for found in _above(
        DEDICATED_SPACE_CHECK, assessment
    ):  # what is missing, dedicated-space-obstructed says
        if isinstance(found, _Above) and found.foreign and found.dedicated is None and not found.beyond:
            yield DEDICATED_SPACE_CHECK.problem(
                found.row,
                found.row.items_above,
                f"{listed(found.foreign)} above {found.row.called}. Is it a switchboard or panelboard, or a switch or breaker in "
                f"an enclosure of its own? Over a board the space {_how_far(assessment)}; a switch has no such space.",
                phrase=f"{items_in_words(found.foreign)} above what may be a board",
                expected="what stands in the enclosure",
            )


def foreign_piping_above(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for foreign items beyond the dedicated space."""
    for found in _above(FOREIGN_PIPING_ABOVE, assessment):
        if isinstance(found, _Above) and found.foreign and found.beyond:
            said = answer_in(_PROTECTED, found.row.remarks.typed)
            if said.there:
                continue
            free = length_as_read(found.row.open_above)
            known = (
                f"that it is not was recorded: {said.quoted}"
                if said.denied
                else "whether it is was not recorded"
            )
            seen = (
                f"nothing protects the equipment against leaks, as recorded: {said.quoted}"
                if said.denied
                else "whether the equipment is protected against leaks was not seen"
            )
            yield FOREIGN_PIPING_ABOVE.problem(
                found.row,
                found.row.items_above,
                f"{listed(found.foreign)} above {found.row.called}, beyond the {free} that are free. It may run there "
                f"where the equipment is protected against leaks, breaks and dripping water; {known}.",
                phrase=f"{items_in_words(found.foreign)} further up; {seen}",
                expected="protected against leaks, or not",
            )


def sprinkler_above(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for sprinklers in a dedicated space."""
    for found in _above(SPRINKLER_ABOVE, assessment):
        if isinstance(found, NotChecked):
            yield found
        elif _SPRINKLER in found.items:
            yield SPRINKLER_ABOVE.problem(
                found.row,
                found.row.items_above,
                f"A sprinkler is above {found.row.called}; one that protects the space counts as no foreign item there.",
            )


def working_space_storage(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for anything in the working space."""
    for row, _equipment, _facts in assessment.measured:
        yield from WORKING_SPACE_STORAGE.ask(row)
        stored = [
            item
            for item in row.items_in_space.value or ()
            if item != _NOTHING and not _NOT_STORED.search(item)
        ]
        if stored:
            yield WORKING_SPACE_STORAGE.problem(
                row,
                row.items_in_space,
                f"{listed(stored)} in the working space of {row.called}, which is for nothing but the work, at all times "
                f"({section(assessment, assessment.profile.clear_space_section)}).",
                phrase=f"{items_in_words(stored)} in the working space",
                expected="None",
            )


_DP1 = {"tag": "DP-1", "kind": "Panelboard"}

DEDICATED_SPACE_OBSTRUCTED = Rule(
    slug="dedicated-space-obstructed",
    class_="report",
    priority="Correct soon",
    subject="Clearances",
    what="Foreign items (pipe, duct, storage) are in the space above the equipment.",
    why="What leaks or falls there lands inside live equipment.",
    mend="Look again. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(E)",
    needs=(Equipment.kind, Clearance.items_above, Clearance.open_above),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE, ladder=True),
        do="Have what is foreign moved out of the space, or a licensed electrician look at what protects the equipment.",
        why="Whatever leaks or falls from it ends up in live equipment.",
    ),
    compares="Dedicated space above the equipment",
    fine=answered(Clearance.items_above, (_NOTHING,)),
    check=dedicated_space_obstructed,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "Sprinkler only; Pipe"}]),
    passes=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "Sprinkler only", "open_above": "6 ft"}]
    ),
)

DEDICATED_SPACE_CHECK = Rule(
    slug="dedicated-space-check",
    class_="confirm",
    subject="Clearances",
    what="Foreign items are above a service disconnect, and its kind does not tell whether it is a board.",
    why="A board that is the service has a dedicated space above it, a switch or breaker in an enclosure of its own has not; "
    "the editions before 2023 do not list service equipment as such.",
    mend="If it is a board, the condition goes to the client; if it is a switch or a breaker in its own enclosure, answer so.",
    source="NFPA 70 110.26(E)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE, ladder=True),
        do="Ask a licensed electrician whether the space above belongs to the equipment alone, and have what is foreign moved or shielded if so.",
        why="Whatever leaks or falls from it ends up in live equipment.",
    ),
    check=dedicated_space_check,
    fires=as_typed(
        job={"code_profile": "nec-2020"},
        equipment=[{"tag": "SD-1", "kind": "Service disconnect"}],
        clearances=[{"tag": "SD-1", "items_above": "Pipe"}],
    ),
    passes=as_typed(
        job={"code_profile": "nec-2020"},
        equipment=[{"tag": "SD-1", "kind": "Service disconnect"}],
        clearances=[{"tag": "SD-1", "items_above": "Conduit"}],
    ),
)

FOREIGN_PIPING_ABOVE = Rule(
    slug="foreign-piping-above",
    class_="confirm",
    subject="Clearances",
    what="Piping, ducts or other foreign things are above the dedicated space.",
    why="They may run there where the equipment is protected against condensation, leaks and breaks; a survey sheet does not "
    "tell whether it is.",
    mend="Look for a drip pan, a shield or a pipe that cannot reach it, and write it in Remarks; answer No issue with what protects it, else Tell the client.",
    source="NFPA 70 110.26(E)(1)(b)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE, ladder=True),
        do="Have a licensed electrician look at whether the equipment is protected against what runs above it.",
        why="Whatever leaks from it can end up in live equipment.",
    ),
    check=foreign_piping_above,
    fires=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "Pipe", "open_above": "7 ft"}]
    ),
    passes=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "Pipe", "open_above": "4 ft"}]
    ),
)

SPRINKLER_ABOVE = Rule(
    slug="sprinkler-above",
    class_="note",
    subject="Clearances",
    what="A sprinkler is in the dedicated space: it counts as no foreign item, and that is said.",
    why="A reader of the schedule would otherwise ask.",
    mend="Nothing to do.",
    source="NFPA 70 110.26(E)",
    needs=(Equipment.kind, Clearance.items_above),
    client=Remark(),
    check=sprinkler_above,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "Sprinkler only"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_above": "None"}]),
)

WORKING_SPACE_STORAGE = Rule(
    slug="working-space-storage",
    class_="report",
    priority="Correct soon",
    subject="Clearances",
    what="Something is stored in the working space.",
    why="It delays shutting off in an emergency, blocks the way back, and burns.",
    mend="Leave the cell: it goes to the client, also where the goods were moved during the visit.",
    source="29 CFR 1910.303(g)(1)(ii); NFPA 70 110.26(B)",
    needs=(Clearance.items_in_space,),
    client=Condition(
        work=Work(Trade.OWNER, Power.ON, Effort.OWN, Danger.ACCESS),
        do="Move it away, and keep the space clear.",
        why="It slows down shutting off in an emergency, blocks the way out, and can burn.",
    ),
    compares="Things stored in the working space",
    fine=answered(Clearance.items_in_space, (_NOTHING,)),
    check=working_space_storage,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_in_space": "Pallets"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_in_space": "None"}]),
)

RULES = (
    DEDICATED_SPACE_OBSTRUCTED,
    DEDICATED_SPACE_CHECK,
    FOREIGN_PIPING_ABOVE,
    SPRINKLER_ABOVE,
    WORKING_SPACE_STORAGE,
)

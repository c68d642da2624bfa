"""Rules about what stands in the spaces that must be clear.

    dedicated-space-obstructed    pipe, duct or storage in the space above the equipment
    sprinkler-above               a sprinkler there is no foreign item, and that is said
    working-space-storage         anything stored in the working space

The dedicated space belongs to the kinds that the edition lists (no transformers, no plain
disconnect switches). The measured lengths are in clearances.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import KINDS, needs_dedicated_space
from workbook_tools.rules.client import Condition, Remark, Trade
from workbook_tools.rules.contradictions import answered
from workbook_tools.rules.in_words import items_in_words, section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Clear spaces"

_NOTHING, _SPRINKLER = "None", "Sprinkler only"

# What belongs to the electrical installation is not foreign to it (NFPA 70 110.26(E), common practice), and a
# light or a detector over the equipment is no piping.
_NOT_FOREIGN = re.compile(
    r"conduit|raceway|wireway|cable|tray|\bemt\b|busway|bus ?duct|trough|gutter|light|luminaire|lamp|detector|sensor",
    re.IGNORECASE,
)


def _dedicated(
    rule: Rule, assessment: Assessment
) -> Iterator[tuple[Clearance, tuple[str, ...]] | NotChecked]:
    """Yield what is above each piece of equipment that has a dedicated space, and a NotChecked where nobody said."""
    for row, equipment, _facts in assessment.measured:
        items, kind = row.items_above.value, equipment.stock_kind
        if kind is None:
            yield from rule.unanswered(row, equipment.kind, equipment)
        elif kind not in KINDS or not needs_dedicated_space(assessment.profile, kind):
            continue
        elif items is not None:
            yield row, items
        else:
            yield from rule.unanswered(row, row.items_above)


def dedicated_space_obstructed(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for foreign items in the space above equipment that has a dedicated space."""
    above = assessment.profile.dedicated_space_above
    for found in _dedicated(DEDICATED_SPACE_OBSTRUCTED, assessment):
        if isinstance(found, NotChecked):
            yield found
            continue
        row, items = found
        foreign = [
            item for item in items if item not in (_NOTHING, _SPRINKLER) and not _NOT_FOREIGN.search(item)
        ]
        if foreign:
            named = items_in_words(items, (_NOTHING, _SPRINKLER)) or "something foreign"
            yield DEDICATED_SPACE_OBSTRUCTED.problem(
                row,
                row.items_above,
                f"{listed(foreign)} in the space above {row.called}: up to {above.inches:g} in over it, or to the "
                "structural ceiling where that is lower, the space is the electrical installation's alone "
                f"({section(assessment, above.section)}).",
                phrase=f"{named} in the dedicated space above",
                expected="None, or Sprinkler only",
            )
        else:
            # Nothing was seen, but how far up was looked?
            yield from DEDICATED_SPACE_OBSTRUCTED.ask(row)


def sprinkler_above(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for sprinklers in a dedicated space."""
    for found in _dedicated(SPRINKLER_ABOVE, assessment):
        if isinstance(found, NotChecked):
            yield found
            continue
        row, items = found
        if _SPRINKLER in items:
            yield SPRINKLER_ABOVE.problem(
                row,
                row.items_above,
                f"A sprinkler is above {row.called}; one that protects the space counts as no foreign item there.",
            )


def working_space_storage(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for anything in the working space."""
    for row, _equipment, _facts in assessment.measured:
        yield from WORKING_SPACE_STORAGE.ask(row)
        stored = [item for item in row.items_in_space.value or () if item != _NOTHING]
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
        do="Move it away, and keep the space clear.",
        trade=Trade.OWNER,
        why="It slows down shutting off in an emergency, blocks the way out, and can burn.",
    ),
    compares="Things stored in the working space",
    fine=answered(Clearance.items_in_space, (_NOTHING,)),
    check=working_space_storage,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_in_space": "Pallets"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "items_in_space": "None"}]),
)

RULES = (DEDICATED_SPACE_OBSTRUCTED, SPRINKLER_ABOVE, WORKING_SPACE_STORAGE)

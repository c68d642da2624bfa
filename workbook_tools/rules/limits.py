"""Rules about the limits of the survey: they go to the client as what could not be seen.

    not-visible           the inspector answered N/V
    room-not-entered      access is anything but Entered
    outside-scope-item    a kind that is recorded but not inspected

One thing is said once: what stands in a room that was not entered, or is of a kind that is
not inspected, is not also reported as not visible.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import groupby
from operator import itemgetter

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.rules.client import Limit, LimitGroup
from workbook_tools.rules.plain_english import capital, listed, plural
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Job, Outcome, Room, Row

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Limits of the survey"


def not_visible(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for N/V; one note for each row."""
    for row, found in groupby(assessment.survey.unsettled, key=itemgetter(0)):
        unseen = [value for _, value in found if value.outcome is Outcome.NOT_VISIBLE]
        if unseen and not _goes_without_saying(assessment, row):
            headings = [value.heading for value in unseen]
            yield NOT_VISIBLE.problem(
                row,
                unseen[0],
                f"{listed(headings)} could not be seen: a limitation of the survey.",
                action="Nothing to do, unless the owner or the building's papers tell it."
                if isinstance(row, Job)
                else None,
            )


def _goes_without_saying(assessment: Assessment, row: Row) -> bool:
    """Whether another note says it: the room was not entered, or the kind is not inspected."""
    if isinstance(row, Room):
        return row.access.value not in (None, "Entered")
    return isinstance(row, Equipment) and (
        not assessment.is_in_scope(row) or assessment.is_entered(row) is False
    )


def room_not_entered(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rooms whose access is anything but Entered."""
    held = Counter(plain(row.room.value) for row in assessment.survey.equipment if row.room.value)
    for room in assessment.survey.rooms:
        access = room.access.value
        if access is not None and access != "Entered":
            inside = held.get(plain(room.room.value or ""), 0)
            pieces = capital(plural(inside, "piece"))
            here = (
                f" {pieces} of equipment {'is' if inside == 1 else 'are'} recorded there." if inside else ""
            )
            yield ROOM_NOT_ENTERED.problem(
                room, room.access, f"The room {room.called} was not entered ({access.lower()}).{here}"
            )


def outside_scope_item(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for kinds that the template records but does not inspect."""
    for row in assessment.survey.equipment:
        if not assessment.is_in_scope(row):
            yield OUTSIDE_SCOPE_ITEM.problem(
                row,
                row.kind,
                f"{row.called} is of the kind {row.kind.value}: recorded, not inspected.",
            )


NOT_VISIBLE = Rule(
    slug="not-visible",
    class_="note",
    subject="any field",
    what="The inspector answered N/V.",
    why="The client must know what could not be seen: it goes to the limits of the survey.",
    mend="Nothing to do, unless it can be seen on a photo after all.",
    source="common practice",
    client=Limit(LimitGroup.UNSEEN),
    check=not_visible,
    fires=as_typed(equipment=[{"tag": "INV-1", "rating_a": "N/V"}]),
    passes=as_typed(equipment=[{"tag": "INV-1", "rating_a": "N/A"}]),
)

ROOM_NOT_ENTERED = Rule(
    slug="room-not-entered",
    class_="note",
    subject="Rooms",
    what="Access to the room is anything but Entered.",
    why="The client must know which rooms nobody looked into: it goes to the limits of the survey.",
    mend="Nothing to do, unless the room was entered after all.",
    source="common practice",
    client=Limit(LimitGroup.ROOMS),
    check=room_not_entered,
    fires=as_typed(rooms=[{"room": "Tenant store", "access": "Locked"}]),
    passes=as_typed(rooms=[{"room": "Tenant store", "access": "Entered"}]),
)

OUTSIDE_SCOPE_ITEM = Rule(
    slug="outside-scope-item",
    class_="note",
    subject="Equipment",
    what="A kind that is recorded but not inspected: lift controller, low-voltage system.",
    why="The client must not take its place in the list for an inspection.",
    mend="Nothing to do, unless the kind is wrong.",
    source="common practice",
    client=Limit(LimitGroup.OUTSIDE),
    check=outside_scope_item,
    fires=as_typed(equipment=[{"tag": "LC-1", "kind": "Lift controller"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard"}]),
)

RULES = (NOT_VISIBLE, ROOM_NOT_ENTERED, OUTSIDE_SCOPE_ITEM)

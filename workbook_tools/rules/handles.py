"""Rules about how a switch is reached.

handle-height-check    an enclosure, or a handle, above the height of a hand
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import (
    Length,
    Limit,
    holds_devices,
    meets,
    read_length,
    write_length,
)
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import length_as_read, section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import says

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Handles"

_LOW_HANDLES = (
    "Disconnect switch",
    "Enclosed circuit breaker",
    "PV disconnect",
    "Panelboard",
    "Service disconnect",
)
_HANDLE = re.compile(r"handle|reach|grip|hook|portable|platform", re.IGNORECASE)
_HANDLE_AT = re.compile(r"\b(?:handle|grip)s?\b[^.;\d]{0,40}(?P<at>\d[^;]*)", re.IGNORECASE)
_WORKED_OTHERWISE = re.compile(r"hook|stick|chain|portable|platform|from the floor", re.IGNORECASE)
"""The exceptions of 404.8(A): busway switches, equipment beside what it serves, hook sticks."""
_TALL_BOARD_IN = (
    60.0  # a board this wide stands on the floor, its handles far below its top (common practice)
)


def handle_height_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for handles that are said to be high, and for switches and panels whose top is above a handle's height."""
    highest = assessment.profile.handle_height
    if highest is not None:
        limit = Limit(*highest, "the height of a handle", at_most=True)
        by = f"at most {highest.inches:g} in high ({section(assessment, highest.section)})"
        yield from _handles_said(assessment, limit, by)
        yield from _tops_measured(assessment, limit, by)


def _handles_said(assessment: Assessment, limit: Limit, by: str) -> Iterator[Problem]:
    for row in assessment.survey.equipment:
        said = _HANDLE_AT.search(row.remarks.typed)
        grip = _length(said["at"]) if said is not None else None
        if not holds_devices(row.stock_kind) or grip is None or _WORKED_OTHERWISE.search(row.remarks.typed):
            continue
        if not meets(limit, grip, assessment.profile):
            yield HANDLE_HEIGHT_CHECK.problem(
                row,
                row.remarks,
                f"A handle of {row.called} is said to be at {write_length(grip)}; the grip of a handle stands {by}, unless "
                "it is worked from the floor by other means.",
                phrase=f"a handle recorded at {write_length(grip)}, where the code's figure is at most {limit.inches:g} in",
            )


def _tops_measured(assessment: Assessment, limit: Limit, by: str) -> Iterator[Problem]:
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
            f"The top of {equipment.called} is {length_as_read(top)} above the floor. The grip of its highest handle stands {by}; "
            "how high it is was not recorded.",
            phrase=f"the top at {length_as_read(top)}; how high its highest handle is was not recorded",
            expected="In Remarks how high the highest handle is",
        )


def _length(text: str) -> Length | None:
    """Return the length that a text begins with: the longest that can be read."""
    words = text.split()[:4]
    for count in range(len(words), 0, -1):
        try:
            return read_length(" ".join(words[:count]).rstrip(".,;"), "in")
        except ValueError:
            continue
    return None


HANDLE_HEIGHT_CHECK = Rule(
    slug="handle-height-check",
    class_="confirm",
    subject="Equipment Clearances",
    what="The top of a switch or a panel is higher than the grip of a handle may be, and nothing is written of its handle; or "
    "a handle is said to be higher.",
    why="A handle that nobody reaches does not shut anything off.",
    mend="Write in Remarks how high the grip of the highest handle is, and how it is worked where it is higher; where it is too "
    "high, record the finding.",
    source="NFPA 70 404.8(A)",
    client=Condition(
        do="Have a licensed electrician measure how high the highest handle is, and say how it is reached.",
        in_short="height of the handle",
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

RULES = (HANDLE_HEIGHT_CHECK,)

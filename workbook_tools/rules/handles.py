"""Rules about how a switch is reached.

handle-height-check    an enclosure, or a handle, above the height of a hand
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
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
from workbook_tools.rules.written import answer, answer_in
from workbook_tools.survey import Clearance, Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Handles"

_LOW_HANDLES = (
    "Disconnect switch",
    "Enclosed circuit breaker",
    "PV disconnect",
    "Panelboard",
    "Service disconnect",
)
# What answers how high it is, or how it is worked; a handle that is merely named ("handle broken") answers nothing.
_ANSWERED = re.compile(
    r"\breach|hook|stick|portable|platform|from the floor|"
    r"\b(?:handle|grip)s?\b[^.;]{0,40}?(?:\d|\blow\b|below|under|within|reach|waist|chest|shoulder|eye|height|level)",
    re.IGNORECASE,
)
_OUT_OF_REACH = re.compile(
    r"\b(?:out of|beyond|above) (?:\w+ )?reach\b|\btoo high\b|\bunreachable\b", re.IGNORECASE
)
_HANDLE_AT = re.compile(
    r"\b(?:handle|grip)s?\b[^.;\d]{0,40}(?P<at>\d(?:(?!\bhandle|\bgrip)[^;])*)", re.IGNORECASE
)
_WORKED_OTHERWISE = re.compile(r"hook|stick|chain|portable|platform|from the floor", re.IGNORECASE)
"""The exceptions of 404.8(A): busway switches, equipment beside what it serves, hook sticks."""
_HANDLES_IN = (24.0, 144.0)  # where handles are [in] (common practice)
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
    units = assessment.survey.job.dimension_unit.value or "in"
    for row, equipment in _with_remarks(assessment):
        grip = _grip_in(row.remarks.typed, units)
        if grip is None or answer_in(_WORKED_OTHERWISE, row.remarks.typed).there:
            continue
        if not meets(limit, grip, assessment.profile):
            yield HANDLE_HEIGHT_CHECK.problem(
                row,
                row.remarks,
                f"A handle of {equipment.called} is said to be at {write_length(grip)}; the grip of a handle stands {by}, unless "
                "it is worked from the floor by other means.",
                phrase=f"a handle recorded at {write_length(grip)}, where the code's figure is at most {limit.inches:g} in",
            )


def _with_remarks(assessment: Assessment) -> Iterator[tuple[Equipment | Clearance, Equipment]]:
    """Yield every row whose remarks may speak of a handle, with the equipment that has it."""
    for row in assessment.survey.equipment:
        if row.typed(Equipment.remarks) and holds_devices(row.stock_kind):
            yield row, row
    for measured, equipment, _facts in assessment.measured:
        if measured.typed(Clearance.remarks) and holds_devices(equipment.stock_kind):
            yield measured, equipment


def _grip_in(text: str, unit: str) -> Length | None:
    """Return how high the highest handle of a text is said to be."""
    heights = [
        height for said in _HANDLE_AT.finditer(text) if (height := _length(said["at"], unit)) is not None
    ]
    return max(heights, key=lambda height: height.inches, default=None)


def _tops_measured(assessment: Assessment, limit: Limit, by: str) -> Iterator[Problem]:
    for row, equipment, _facts in assessment.measured:
        top, width = row.equipment_height, row.equipment_width.value
        measured = top.value
        if measured is None or equipment.stock_kind not in _LOW_HANDLES or not assessment.is_reliable(top):
            continue
        on_the_floor = isinstance(width, Length) and width.inches >= _TALL_BOARD_IN
        if on_the_floor or assessment.suspect_unit(top) or meets(limit, measured, assessment.profile):
            continue
        if _is_answered(assessment, row, equipment):
            continue
        yield HANDLE_HEIGHT_CHECK.problem(
            row,
            top,
            f"The top of {equipment.called} is {length_as_read(top)} above the floor. The grip of its highest handle stands {by}; "
            "how high it is was not recorded.",
            phrase=f"the top at {length_as_read(top)}; how high its highest handle is was not recorded",
            expected="In Remarks how high the highest handle is",
        )


def _is_answered(assessment: Assessment, row: Clearance, equipment: Equipment) -> bool:
    """Whether something is written of how high the handles are, or how they are worked."""
    if any(_OUT_OF_REACH.search(one.remarks.typed) for one in (row, equipment)):
        return False
    return answer(assessment, _ANSWERED, equipment).settled or answer_in(_ANSWERED, row.remarks.typed).there


def _length(text: str, unit: str) -> Length | None:
    """Return the length that a text begins with: the longest that can be read.

    A bare number counts where it can be the height of a handle: "handle 2 broken" is none.
    """
    words = text.split()[:4]
    for count in range(len(words), 0, -1):
        try:
            length = read_length(" ".join(words[:count]).rstrip(".,;"), unit)
        except ValueError:
            continue
        low, high = _HANDLES_IN
        return length if length.unit_said or low <= length.inches <= high else None
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
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
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

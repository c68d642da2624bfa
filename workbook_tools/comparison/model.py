"""What came of comparing two surveys.

Comparison         all of it; comparison_json(comparison) as one object
EquipmentChange    a piece that is new or gone, one answer that changed, or a tag that may be another's
IssueState         an issue of either survey, and whether it is new, still there, mended, or not seen again
Change, State      the words for both
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Any, Literal, get_args

__all__ = [
    "CHANGES",
    "STATES",
    "Change",
    "Comparison",
    "EquipmentChange",
    "IssueState",
    "State",
    "comparison_json",
]

Change = Literal["new", "gone", "changed", "renamed?"]
State = Literal["new", "still there", "mended", "not seen again"]

CHANGES: tuple[Change, ...] = get_args(Change)
STATES: tuple[State, ...] = get_args(State)


@dataclass(frozen=True, slots=True)
class EquipmentChange:
    """One change of the equipment.

    `field` is the heading of the answer that changed and `sheet` its sheet, `was` and `is_` what was
    answered ("" for nothing). Of a tag that may have been renamed, `tag` and `is_` are this year's, `was`
    last year's.
    """

    change: Change
    tag: str
    sheet: str = ""
    field: str = ""
    was: str = ""
    is_: str = ""


@dataclass(frozen=True, slots=True)
class IssueState:
    """One issue, by its number, with what became of it since the earlier survey.

    `rule` is the rule that found it, `finding` the inspector's finding; both where both did. `why` says
    by what it counts as mended, or why it was not seen again.
    """

    state: State
    id: str
    subject: str
    rule: str
    finding: str
    priority: str
    place: str
    what: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two surveys held against each other; `said` is what is to be known about the two."""

    building: str
    last: str
    this: str
    equipment: tuple[EquipmentChange, ...]
    issues: tuple[IssueState, ...]
    said: tuple[str, ...] = ()

    @property
    def pieces(self) -> dict[Change, int]:
        """How many pieces of equipment are new, gone, changed, or may have been renamed."""
        tags = {change: {c.tag for c in self.equipment if c.change == change} for change in CHANGES}
        return {change: len(tags[change]) for change in CHANGES}

    @property
    def states(self) -> dict[State, int]:
        """How many issues are new, still there, mended, not seen again."""
        counts = Counter(issue.state for issue in self.issues)
        return {state: counts[state] for state in STATES}


def comparison_json(comparison: Comparison) -> dict[str, Any]:
    """Return the comparison as one object of plain values, with the headings of the sheets as field names."""
    return {
        "property": comparison.building,
        "last": comparison.last,
        "this": comparison.this,
        "equipment": [
            {"change": c.change, "tag": c.tag, "sheet": c.sheet, "field": c.field, "was": c.was, "is": c.is_}
            for c in comparison.equipment
        ],
        "issues": [
            {
                "state": i.state,
                "subject": i.subject,
                "rule": i.rule,
                "finding": i.finding,
                "id": i.id,
                "priority": i.priority,
                "what": i.what,
                "why": i.why,
            }
            for i in comparison.issues
        ],
        "said": list(comparison.said),
    }

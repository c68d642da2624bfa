"""One thing that a rule found, with its place and its cure.

    Problem         the record; the same names stand in --json and in the review workbook
    NotChecked      a rule that could not be applied to a row, and the field that was missing
    in_sheet_order  how problems are listed

Not here: the rules themselves.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

__all__ = ["CLASSES", "NotChecked", "Problem", "in_sheet_order"]

CLASSES = ("correct", "confirm", "report", "note")
"""correct: the inspector mends the workbook. confirm: the reviewer answers. report: a condition
of the property, for the client. note: for the limitations or remarks."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem. `sheet` and `cell` are the survey's own; `order` sorts by sheet, row and column."""

    rule: str
    class_: str
    priority: str
    sheet: str
    cell: str
    subject: str
    field: str
    read: str
    expected: str
    message: str
    action: str
    source: str
    order: tuple[int, int, int] = (0, 0, 0)

    def as_json(self) -> dict[str, Any]:
        """Return the record with the names of the --json output."""
        return {
            "rule": self.rule,
            "class": self.class_,
            "priority": self.priority,
            "sheet": self.sheet,
            "cell": self.cell,
            "subject": self.subject,
            "field": self.field,
            "read": self.read,
            "expected": self.expected,
            "message": self.message,
            "action": self.action,
            "source": self.source,
        }


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A rule that could not be applied: never a pass."""

    rule: str
    subject: str
    sheet: str
    cell: str
    missing: str


def in_sheet_order(problems: Iterable[Problem]) -> list[Problem]:
    """Return the problems by sheet, row and column, as a person walks through the workbook."""
    return sorted(problems, key=lambda p: (p.order, p.rule))

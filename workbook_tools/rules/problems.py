"""One thing that a rule found, with its place and its cure.

    Problem         the record; the same names stand in --json and in the review workbook
    NotChecked      a rule that could not be applied to a row, and the field that was missing
    in_sheet_order  how problems are listed

Not here: the rules themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields
from dataclasses import field as part
from typing import Any, Literal, get_args

from workbook_tools.survey import Row

__all__ = ["CLASSES", "RECORD", "NotChecked", "Problem", "ProblemClass", "in_sheet_order"]

ProblemClass = Literal["correct", "confirm", "report", "note"]
CLASSES: tuple[ProblemClass, ...] = get_args(ProblemClass)
"""correct: the inspector mends the workbook. confirm: the reviewer answers. report: a condition
of the property, for the client. note: for the limitations or remarks."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem. `sheet` and `cell` are the survey's own; `order` sorts by sheet, row and column.

    `row` is the row that it stands in, `phrase` how the client reads it inside a sentence; both
    are there only while the survey is.
    """

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
    row: Row | None = part(default=None, compare=False, repr=False)
    phrase: str = part(default="", compare=False)

    @property
    def place(self) -> str:
        """Where it stands: "Equipment!C5", or the sheet alone."""
        return f"{self.sheet}!{self.cell}" if self.cell else self.sheet

    @classmethod
    def from_record(cls, texts: Mapping[str, str]) -> Problem:
        """Return a problem as it was written down, "" for what is missing."""
        written: dict[str, Any] = {name: texts.get(name, "") for name in RECORD}
        return cls(**written)

    def as_json(self) -> dict[str, str]:
        """Return the record with the names of the --json output."""
        return {name.rstrip("_"): getattr(self, name) for name in RECORD}


RECORD = tuple(one.name for one in fields(Problem) if one.name not in ("order", "row", "phrase"))
"""The parts of a problem that are written down: in --json and in the review workbook."""


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

"""One cell of a survey, and what came of reading it.

    Value      outcome, value, typed text, sheet and cell, the column it answers
    Outcome    VALUE, BLANK, NOT_VISIBLE, NOT_APPLICABLE, UNREADABLE

Not here: rows (rows), and how a text is read (values).
"""

from __future__ import annotations

from enum import Enum
from functools import cache
from typing import Generic, NamedTuple, TypeVar

from workbook_tools.definitions import Column

__all__ = ["Outcome", "Value", "column_alone"]

T = TypeVar("T")


class Outcome(Enum):
    """What reading a cell came to. The five are never merged."""

    VALUE = "value"
    BLANK = "blank"
    NOT_VISIBLE = "not visible"
    NOT_APPLICABLE = "not applicable"
    UNREADABLE = "unreadable"


@cache
def column_alone(field: str) -> Column:
    """Return a column that the template does not have, under plain words: "Equipment width"."""
    return Column(field, field.replace("_", " ").capitalize())


NO_COLUMN = column_alone("")
"""The column of what stands in no column: a note beside a table, a title above it."""


class Value(NamedTuple, Generic[T]):
    """One cell of the survey.

    `value` is what was read, None where the outcome is anything but VALUE. `sheet` and `cell`
    are the file's own ("Equipment", "C5"); `column` is the one that the cell answers. `why` says
    for an unreadable value what is wrong with it, in words for the reader; `unknown_choice` marks
    text that is no choice of a closed vocabulary. `note` says for a value that was read what
    could be doubted ("5/6/2026 was read as month/day/year"); `formula` is the one behind the
    cell; `like` is the stock kind of equipment that a firm's own kind is treated as.
    """

    outcome: Outcome
    typed: str = ""
    value: T | None = None
    sheet: str = ""
    cell: str = ""
    why: str = ""
    unknown_choice: bool = False
    note: str = ""
    formula: str = ""
    like: str = ""
    column: Column = NO_COLUMN

    @property
    def answered(self) -> bool:
        """Whether anything at all stands in the cell."""
        return self.outcome is not Outcome.BLANK

    @property
    def said(self) -> str:
        """The typed text without the spaces around it."""
        return self.typed.strip()

    @property
    def place(self) -> str:
        """Where it stands: "Equipment!C5"."""
        return f"{self.sheet}!{self.cell}"

    @property
    def heading(self) -> str:
        """The words over the column, or plain words where the template has no such column."""
        return self.column.heading

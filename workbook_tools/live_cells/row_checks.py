"""The row check in Python: what is missing or odd next on a row, as the sheet's formulas see it.

    RowChecks(assessment, readable, systems).row_check(row)    "OK", "Fill in: Room, Maker", "Tag twice", ...
    NAMED_ONCE, CLOSED, MOST_SAID, wanted, asks_of_last_time    what the formulas share with it

One thing at a time, in the order in which it helps to mend it. OK stands where `check` has nothing to correct
or to confirm about the row, but for what needs several sheets at once or more than a formula can read.

Not here: what is asked of one sheet alone (sheet_checks); the formulas (survey_workbook.row_check), which look
no further into what people typed than these do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column, Sheet, Template
from workbook_tools.electrical import Length
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.sheet_checks import SheetChecks, key_of
from workbook_tools.live_cells.systems_read import SystemsRead
from workbook_tools.live_cells.typed_forms import AMOUNT_UNITS
from workbook_tools.live_cells.wording import (
    FILL_IN,
    NOT_A_CHOICE,
    OK,
    READ_AS,
    READ_LATER,
    STILL_OPEN,
    UNUSUAL,
    not_in,
    of_last_time,
    twice,
)
from workbook_tools.survey import Equipment, Finding, Room, Row, Transformer

__all__ = ["CLOSED", "MOST_SAID", "NAMED_ONCE", "RowChecks", "asks_of_last_time", "echoed", "wanted"]

NAMED_ONCE = (Room.key, Equipment.key, Transformer.key)
"""Tables in which a name stands on one row only; equipment can have a working space on two sides."""

CLOSED = ("choice", "phase", "wires")
"""What a column holds whose answer is one of its choices."""

YES_NO = "yes_no"
MOST_SAID = 200
"""Letters that a line of headings has at most."""


def wanted(table: str, template: Template) -> list[Column]:
    """Return the columns of a table that nobody must fill in, and that the check asks for all the same."""
    asked = {
        Equipment.key: Equipment.touch_test.name,
        Finding.key: Finding.photos.name,
        Transformer.key: Transformer.nameplate_photo.name,
    }
    found = template.by_key[table].by_field.get(asked.get(table, ""))
    return [found] if found is not None else []


def asks_of_last_time(sheet: Sheet, template: Template) -> str:
    """Return what is asked of a row that was carried over: "Still so? Answer This year"; "" on sheets without such rows."""
    column = sheet.by_field.get(Finding.this_year.name)
    vocabulary = template.vocabulary_of(column) if column is not None and column.carried else None
    return (
        of_last_time(vocabulary.names[0], column.heading)
        if vocabulary is not None and column is not None
        else ""
    )


def echoed(sheet: Sheet) -> list[Column]:
    """Return the columns of which the row check says how a free answer was read; a yes or a no needs no echo."""
    return [column for column in sheet.typed if column.holds == "choice" and column.vocabulary != YES_NO]


class RowChecks:
    """The row checks of one survey."""

    def __init__(self, assessment: Assessment, readable: Readable, systems: SystemsRead) -> None:
        self.assessment = assessment
        self.survey = assessment.survey
        self.template = assessment.survey.template
        self.readable = readable
        self.systems = systems
        self.sheets = SheetChecks(assessment, readable, systems)

    def row_check(self, row: Row) -> str:
        """Say what is missing or odd next on the row."""
        steps: tuple[Callable[[Row], str], ...] = (
            self._no_choices, self._gaps, self._twice, self._unread, self._unusual, self._nowhere, self.sheets.of_its_sheet,
            self._of_last_time, self._still_open,
        )  # fmt: skip
        for step in steps:
            said = step(row)
            if said:
                return said
        read_as = self._read_as(row)
        return f"{OK}{READ_AS}{', '.join(read_as)}" if read_as else OK

    # -- what is typed

    def _gaps(self, row: Row) -> str:
        return _said(FILL_IN, (c.heading for c in row.definition.typed if self._is_gap(row, c)))

    def _is_gap(self, row: Row, column: Column) -> bool:
        if row[column].typed.strip(" ") or not (column.required or column.required_for):
            return False
        if not isinstance(row, Equipment):
            return column.required
        if column.optional_for and column.required and not self.readable.choice(row.kind):
            return False
        if not column.is_required(row.kind.value):
            return False
        if column.field == Equipment.phase.name:
            return not self._said_in_voltage(row, self.readable.phases_said)
        if column.field == Equipment.wires.name:
            return not self._said_in_voltage(row, self.readable.wires_said)
        return True

    def _said_in_voltage(self, row: Equipment, said: Callable[[str], int]) -> bool:
        typed = row.voltage.typed
        if self.readable.voltage(typed) == "unread" or said(typed):
            return True
        return self.assessment.own_system(row) is not None and self.systems.own_read(row)

    def _twice(self, row: Row) -> str:
        sheet = row.definition
        first = sheet.columns[0]
        if sheet.key not in NAMED_ONCE or first.holds not in ("tag", "room"):
            return ""
        key = key_of(row[first].typed)
        return twice(first.heading) if key and self.sheets.keys(sheet.key)[key] > 1 else ""

    def _no_choices(self, row: Row) -> str:
        closed = (c for c in row.definition.typed if c.holds in CLOSED)
        return _said(NOT_A_CHOICE, (c.heading for c in closed if not self.readable.choice(row[c])))

    def _unread(self, row: Row) -> str:
        return _said(READ_LATER, (c.heading for c in row.definition.typed if self._is_unread(row, c)))

    def _is_unread(self, row: Row, column: Column) -> bool:
        cell = row[column]
        if column.holds in AMOUNT_UNITS:
            return self.readable.amount(cell) == "unread"
        if column.holds == "length":
            in_words = bool(column.vocabulary) and self.readable.choice(cell)
            return not in_words and self.readable.length(cell.typed, self.job_unit_read) == "unread"
        if column.holds == "voltage":
            if isinstance(row, Transformer) and column.field in (
                Transformer.primary_v.name,
                Transformer.secondary_v.name,
            ):
                return not self.systems.side_read(row, cell)
            return self.readable.voltage(cell.typed) == "unread"
        if column.holds == "year":
            return not self.readable.year(cell.typed)
        return column.holds == "date" and not self.readable.date(cell.typed)

    @cached_property
    def job_unit_read(self) -> bool:
        """Whether the sheet can read the unit of a bare number."""
        return self.readable.choice(self.survey.job.dimension_unit)

    def _unusual(self, row: Row) -> str:
        return _said(UNUSUAL, (c.heading for c in row.definition.typed if self._is_unusual(row, c)))

    def _is_unusual(self, row: Row, column: Column) -> bool:
        value = row[column].value
        if column.plausible is None or value is None or self._is_unread(row, column):
            return False
        low, high = column.plausible
        if isinstance(value, Length):
            return (
                self.readable.length(row[column].typed, self.job_unit_read) == "known"
                and not low <= value.inches <= high
            )
        return isinstance(value, int | float) and not low <= value <= high

    # -- names

    def _nowhere(self, row: Row) -> str:
        for column in row.definition.typed:
            names = [key for key in column.refers_to if key in self.template.by_key]
            if names and column.holds in ("tag", "room") and self._is_nowhere(row, column, names):
                return not_in(column.heading, [self.template.by_key[key].name for key in names])
        return ""

    def _is_nowhere(self, row: Row, column: Column, names: list[str]) -> bool:
        typed = row[column].typed
        key = key_of(typed)
        if not key or self.readable.answers_none(typed):
            return False
        return not any(self.sheets.keys(name)[key] for name in names)

    # -- what may be left open, and what was understood

    def _of_last_time(self, row: Row) -> str:
        return asks_of_last_time(row.definition, self.template) if self.is_of_last_time(row) else ""

    def is_of_last_time(self, row: Row) -> bool:
        """Return whether the row was carried over, and nobody has said what it is this year."""
        carried, answer = row.typed(Finding.last_seen), row.typed(Finding.this_year)
        return bool(carried.strip(" ")) and not answer.strip(" ")

    def _still_open(self, row: Row) -> str:
        if isinstance(row, Equipment) and not self.sheets.is_visited(row):
            return ""
        if isinstance(row, Finding) and not self.sheets.is_found(row):
            return ""
        asked = (c for c in wanted(row.definition.key, self.template) if not row[c].typed.strip(" "))
        return _said(STILL_OPEN, (column.heading for column in asked))

    def is_open(self, row: Row) -> bool:
        """Return whether something is blank that nobody must fill in and the check asks for all the same."""
        return bool(self._still_open(row))

    def is_not_understood(self, row: Row) -> bool:
        """Return whether an answer is none of the choices, or left to the check."""
        return bool(self._no_choices(row) or self._unread(row))

    def is_access_said(self, room: Room) -> bool:
        """Return whether a room is said to be entered, or why not."""
        return self.readable.choice_of(room.access) not in ("", "?")

    def _read_as(self, row: Row) -> list[str]:
        """Return what free answers were taken for: choices in other words, and a system whose phases and wires nobody typed."""
        found = []
        for column in echoed(row.definition):
            choice = self.readable.choice_of(row[column])
            if choice and choice.casefold() != row[column].typed.strip(" ").casefold():
                found.append(choice)
        if isinstance(row, Equipment) and not (row.phase.typed.strip(" ") and row.wires.typed.strip(" ")):
            system = self.assessment.own_system(row) if self.systems.own_read(row) else None
            if system is not None:
                found.append(system.description)
        return found


def _said(begins: str, headings: Iterable[str]) -> str:
    listed = ", ".join(headings)
    return begins + listed[:MOST_SAID] if listed else ""

"""The row check in Python: what is missing next on a row.

    RowChecks(assessment, readable).row_check(row)           the text of the cell
    system_read(readable, row)    whether the sheet can read the voltage system of a row

Not here: the same as a formula (survey_workbook), every other live cell (results).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import cached_property

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.typed_forms import TAG
from workbook_tools.live_cells.wording import FILL_IN, OK, not_in, twice
from workbook_tools.survey import Clearance, Equipment, Room, Row, Transformer

__all__ = ["NAMED_ONCE", "SEVERAL_SIGNS", "RowChecks", "system_read"]

NAMED_ONCE = (Room.key, Equipment.key, Transformer.key, Clearance.key)
"""Tables in which a name stands on one row only."""

SEVERAL_SIGNS = ("&", "/", "+", " and ")
"""What can part two tags in Fed from where both are known; the check looks into it."""


def system_read(readable: Readable, row: Equipment) -> bool:
    """Whether the sheet can read the row's own system; a row without a voltage has none to read."""
    voltage = readable.voltage(row.voltage.typed)
    counts = readable.choice(row.phase) and readable.choice(row.wires)
    return voltage == "none" or (voltage == "known" and counts)


class RowChecks:
    """The row checks of one survey."""

    def __init__(self, assessment: Assessment, readable: Readable) -> None:
        self.assessment = assessment
        self.survey = assessment.survey
        self.template = assessment.survey.template
        self.readable = readable

    def row_check(self, row: Row) -> str:
        """Say what is missing next on the row."""
        sheet = row.definition
        gaps = [column.heading for column in sheet.typed if self._is_gap(row, column)]
        if gaps:
            return (FILL_IN + ", ".join(gaps))[: len(FILL_IN) + 200]
        first = sheet.columns[0]
        if sheet.key in NAMED_ONCE and first.holds in ("tag", "room"):
            key = _key(row[first].typed)
            if key and self._keys(sheet.key)[key] > 1:
                return twice(first.heading)
        for column in sheet.typed:
            names = [key for key in column.refers_to if key in self.template.by_key]
            if names and column.holds in ("tag", "room") and self._nowhere(row, column, names):
                return not_in(column.heading, [self.template.by_key[key].name for key in names])
        if isinstance(row, Equipment) and self._source_unknown(row):
            return not_in(row.fed_from.heading, [sheet.name])
        return OK

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
        return self.assessment.own_system(row) is not None and system_read(self.readable, row)

    @cached_property
    def _counts(self) -> dict[str, Counter[str]]:
        found = {}
        for key, rows in self.survey.tables.items():
            first = self.template.by_key[key].columns[0]
            found[key] = Counter(_key(row[first].typed) for row in rows)
        return found

    def _keys(self, table: str) -> Counter[str]:
        return self._counts.get(table, Counter())

    def _nowhere(self, row: Row, column: Column, names: list[str]) -> bool:
        typed = row[column].typed
        key = _key(typed)
        if not key or self.readable.answers_none(typed):
            return False
        return not any(self._keys(name)[key] for name in names)

    def _source_unknown(self, row: Equipment) -> bool:
        typed = row.fed_from.typed
        sources = row.fed_from.value or ()
        if (
            len(sources) != 1
            or self.readable.answers_none(typed)
            or any(sign in typed for sign in SEVERAL_SIGNS)
        ):
            return False
        return not self._keys(Equipment.key)[_key(sources[0])] and not self.survey.is_outside_source(
            sources[0]
        )


def _key(typed: str) -> str:
    key = TAG.of(typed) if typed.strip(" ") else ""
    return "" if key == TAG.prefix else key

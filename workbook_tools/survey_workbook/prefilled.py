"""What prefilled rows come to: the cached results of live cells.

    Prefilled(template, tables, job)
        .results(key, index)    {field of a live cell: what it shows} for one row
        .progress(lists, name)  the progress line of a sheet or a priority
        .profile, .year_built, .unit, .job_text(field)

A blank workbook reads nothing: a survey is made of the texts only when some are prefilled.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path

from workbook_tools.assessment import profile_of
from workbook_tools.definitions import Column, Sheet, Template, plain
from workbook_tools.electrical import CodeProfile
from workbook_tools.live_cells.results import LiveResults, Shown, blank_progress
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey.model import Outcome, Row, Survey, Value
from workbook_tools.survey.typed_text import straight
from workbook_tools.survey.values import ColumnReader
from workbook_tools.survey_workbook.layout import FIRST_ROW
from workbook_tools.survey_workbook.lists import Lists

__all__ = ["Prefilled"]

_DEFAULTS = ("code_profile", "dimension_unit")


class Prefilled:
    """The texts of a new workbook, and what its live cells show of them."""

    def __init__(
        self, template: Template, tables: Mapping[str, Sequence[Mapping[str, str]]], job: Mapping[str, str]
    ) -> None:
        self.template = template
        self.tables = tables
        self.job = dict(job)
        for field in _DEFAULTS:
            if field in template.by_key["job"].by_field and not self.job.get(field):
                self.job[field] = str(getattr(template, field))

    def job_text(self, field: str) -> str:
        """Return the answer that the Job sheet starts with."""
        return self.job.get(field, "")

    @cached_property
    def survey(self) -> Survey:
        """The survey that the prefilled texts make."""
        return survey_of_texts(self.template, self.tables, self.job)

    @property
    def _given(self) -> bool:
        return any(self.tables.values()) or any(
            self.job.get(f) != getattr(self.template, f, None) for f in self.job
        )

    @cached_property
    def _live(self) -> LiveResults:

        return LiveResults(self.survey)

    @property
    def profile(self) -> CodeProfile:
        """The code profile that the Job sheet names."""
        if self._given:
            return self._live.assessment.profile

        return profile_of(self.template)

    @property
    def year_built(self) -> int | None:
        """The year built, where the Job sheet says so."""
        return self._live.assessment.year_built if self._given else None

    @property
    def unit(self) -> str:
        """The unit of a bare length."""
        return (
            str(self.survey.job.get("dimension_unit") or self.template.dimension_unit)
            if self._given
            else self.template.dimension_unit
        )

    def results(self, key: str, index: int) -> Mapping[str, Shown]:
        """Return what the live cells of a prefilled row show."""
        return self._live.row(self.survey.tables[key][index])

    def progress(self, lists: Lists, name: str) -> str:
        """Return a progress line."""
        return self._live.progress(name) if self._given else blank_progress(self.template, name)


def survey_of_texts(
    template: Template, tables: Mapping[str, Sequence[Mapping[str, str]]], job: Mapping[str, str]
) -> Survey:
    """Return the survey that texts make, each read as the reader of workbooks reads it."""

    def read(reader: ColumnReader, text: str, sheet: str) -> Value:
        return reader.read(Cell("text", text, text), sheet, "")

    definition = template.by_key["job"]
    label_row = Row("job", definition.name, FIRST_ROW, {})
    for column in definition.typed:
        reader = ColumnReader(column, template, template.dimension_unit, ())
        if job.get(column.field):
            label_row.values[column.field] = read(reader, job[column.field], definition.name)
    unit = str(label_row.get("dimension_unit") or template.dimension_unit)
    tags = {plain(source) for source in template.outside_sources}
    tags |= {plain(straight(row.get("tag", ""))) for row in tables.get("equipment", ())}

    def row_of(
        sheet: Sheet, readers: Mapping[str, ColumnReader], texts: Mapping[str, str], number: int
    ) -> Row:
        row = Row(sheet.key, sheet.name, number, {})
        for field, text in texts.items():
            if field in readers and text:
                row.values[field] = read(readers[field], text, sheet.name)
            elif text:
                row.extra[field] = Value(Outcome.VALUE, text, text, sheet.name)
        return row

    found = {}
    for sheet in template.sheets:
        if sheet.layout == "table":
            readers = {c.field: _reader(c, template, unit, tags) for c in sheet.typed}
            found[sheet.key] = [
                row_of(sheet, readers, texts, number)
                for number, texts in enumerate(tables.get(sheet.key, ()), FIRST_ROW)
            ]
    return Survey(Path("prefilled"), template, label_row, found)


def _reader(column: Column, template: Template, unit: str, tags: set[str]) -> ColumnReader:

    return ColumnReader(column, template, unit, frozenset(tags - {""}))

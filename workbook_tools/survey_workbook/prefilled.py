"""What prefilled rows come to: the cached results of live cells.

    Prefilled(template, tables, job)
        .results(key, index)    {field of a live cell: what it shows} for one row
        .progress(name), .left(line)   a line of the first sheet; .rows_left(line, key): what it counts
        .profile, .year_built, .unit, .job_text(field)

A blank workbook reads nothing: a survey is made of the texts only when some are prefilled.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

from workbook_tools.assessment import profile_of
from workbook_tools.definitions import Template
from workbook_tools.electrical import CodeProfile
from workbook_tools.live_cells.guide_lines import GuideLines, Left, blank_progress, nothing_left
from workbook_tools.live_cells.results import LiveResults, Shown
from workbook_tools.rules.assess import assess
from workbook_tools.survey import Job, Row, Survey, survey_of_texts
from workbook_tools.survey_workbook.layout import FIRST_ROW

__all__ = ["Prefilled"]


class Prefilled:
    """The texts of a new workbook, and what its live cells show of them."""

    def __init__(
        self, template: Template, tables: Mapping[str, Sequence[Mapping[str, str]]], job: Mapping[str, str]
    ) -> None:
        self.template = template
        self.tables = tables
        self.job = dict(job)
        self._defaults = {
            field.name: text
            for field, text in (
                (Job.code_profile, template.code_profile),
                (Job.dimension_unit, template.dimension_unit),
            )
            if field.name in template.by_key[Job.key].by_field
        }
        for name, text in self._defaults.items():
            self.job[name] = self.job.get(name) or text

    def job_text(self, field: str) -> str:
        """Return the answer that the Job sheet starts with."""
        return self.job.get(field, "")

    @cached_property
    def survey(self) -> Survey:
        """The survey that the prefilled texts make."""
        return survey_of_texts(self.template, self.tables, self.job, first_row=FIRST_ROW, source="prefilled")

    @property
    def _given(self) -> bool:
        return any(self.tables.values()) or any(
            text != self._defaults.get(name) for name, text in self.job.items()
        )

    @cached_property
    def _live(self) -> LiveResults:
        return LiveResults(assess(self.survey))

    @property
    def profile(self) -> CodeProfile:
        """The code profile that the Job sheet names."""
        if self._given:
            return self._live.assessment.profile

        return profile_of(self.template)

    @property
    def year_built(self) -> int | None:
        """The year built, where the Job sheet says so."""
        return self.survey.job.year_built.value if self._given else None

    @property
    def unit(self) -> str:
        """The unit of a bare length."""
        return (
            self.survey.job.dimension_unit.value or self.template.dimension_unit
            if self._given
            else self.template.dimension_unit
        )

    def results(self, key: str, index: int) -> Mapping[str, Shown]:
        """Return what the live cells of a prefilled row show."""
        return self._live.row(self.survey.tables[key][index])

    @cached_property
    def _guide(self) -> GuideLines:
        return GuideLines(self._live)

    def progress(self, name: str) -> str:
        """Return the progress line of a sheet, by key, or of a priority."""
        return self._guide.progress(name) if self._given else blank_progress(self.template, name)

    def left(self, line: Left) -> str:
        """Return a line of what is left to do."""
        return self._guide.left(line) if self._given else nothing_left(line)

    def rows_left(self, line: Left, table: str) -> list[Row]:
        """Return the rows of a table on which something is left to do."""
        return self._guide.rows_left(line, table) if self._given else []

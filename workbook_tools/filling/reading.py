"""From fill sources to a Filling.

    read_fill(sources, template, job=..., placement=...)    everything that the new workbook can take over

An earlier survey is taken over by its own headings, any other list by what its headings mean. Several sources become
one, the first before the next. Nothing is dropped: what has no place stands in extra columns, extra labels or extra
sheets, and the report says so. How it was filled stands on a sheet of its own.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbook_tools.definitions import Template, spelling
from workbook_tools.errors import Unusable
from workbook_tools.filling.client_lists import take_list
from workbook_tools.filling.earlier_surveys import take_survey
from workbook_tools.filling.gaps import questions
from workbook_tools.filling.gathered import Gathered, combined
from workbook_tools.filling.homes import Homes
from workbook_tools.filling.job_details import job_answers
from workbook_tools.filling.model import ExtraSheet, Filling, FillReport, Target
from workbook_tools.filling.placement_file import Corrections, placement_rows
from workbook_tools.filling.report import is_own, report_lines
from workbook_tools.filling.sources import Source, SourceSheet, read_source
from workbook_tools.spreadsheet.cells import cell_name
from workbook_tools.survey import Equipment, Job, Room
from workbook_tools.survey.own_texts import HOW_FILLED, HOW_FILLED_SAYS

__all__ = ["CARRIED_OVER", "read_fill"]

CARRIED_OVER = "Carried over"
"""The sheet that keeps cells which belong to no row of a table: titles, totals, notes."""

AnySource = str | os.PathLike[str] | Source


def read_fill(
    sources: AnySource | Sequence[AnySource],
    template: Template,
    *,
    job: Mapping[str, str] | None = None,
    placement: Corrections | None = None,
) -> Filling:
    r"""Read what a new survey workbook can be filled with.

    Parameters
    ----------
    sources : str, path or Source, or several
        Each a folder of CSV files (one for each sheet, `job.csv` with Item,Value), a CSV, JSON, Markdown or text
        file, the data of a delivery, or a workbook: an old list, another firm's, last year's survey.
    template : Template
        Of the workbook to be made.
    job : mapping, optional
        Job details that go before those of the sources, by heading, field or spelling.
    placement : Corrections, optional
        A corrected placement file, which is obeyed.

    Returns
    -------
    filling : Filling
        With `report`, which says what was taken for what and what was kept elsewhere.

    Raises
    ------
    Unusable
        A source cannot be read or holds nothing, or `job` has an unknown key.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> path = getfixture("tmp_path") / "old list.csv"
    >>> _ = path.write_text("Panel,Amps,Colour\nLP-1,225,grey\n")
    >>> filling = read_fill(path, load_template("office"))
    >>> filling.tables["equipment"], filling.extra_columns
    ([{'tag': 'LP-1', 'rating_a': '225', 'Colour': 'grey'}], {'equipment': ['Colour']})
    """
    given = job_answers(job or {}, template)
    listed = [sources] if isinstance(sources, str | os.PathLike | Source) else list(sources)
    read = [source if isinstance(source, Source) else read_source(source) for source in listed]
    for source in read:
        if not any(sheet.grid.texts for sheet in source.sheets):
            raise Unusable(f"{source.name} holds nothing to fill from: every sheet is blank.")
    return _Filler(read, template, given, placement).filling()


class _Filler:
    def __init__(
        self,
        sources: list[Source],
        template: Template,
        given: Mapping[str, str],
        corrections: Corrections | None,
    ) -> None:
        self.sources, self.template, self.given, self.corrections = sources, template, given, corrections
        self.homes = Homes(template)
        self.levels: dict[str, tuple[str, str]] = {}

    def filling(self) -> Filling:
        whole = combined([self._gathered(source) for source in self.sources])
        self._rooms(whole)
        self._answer(whole)
        asked = questions(whole, self.template)
        self._keep_outside(whole)
        self._say_unused(whole)
        report = FillReport(
            whole.name,
            (),
            tuple(whole.placement),
            tuple(sheet.name for sheet in whole.sheets),
            {s.key: len(whole.tables[s.key]) for s in self.template.sheets if whole.tables.get(s.key)},
        )
        lines = report_lines(
            report, self.template, len(whole.job), [*whole.remarks, *asked], len(whole.outside), CARRIED_OVER
        )
        return Filling(
            whole.tables, whole.job, whole.extra, whole.extra_job, whole.sheets, self._how_filled(whole),
            replace(report, lines=lines),
        )  # fmt: skip

    def _gathered(self, source: Source) -> Gathered:
        into = Gathered(source.name, self.template, remarks=list(source.remarks), levels=self.levels)
        if source.survey:
            take_survey(source, into, lambda: self._unit(into), self._said_of_survey)
        else:
            take_list(source, into, lambda: self._unit(into), self._said, self.homes)
        return into

    def _said(self, sheet: SourceSheet, table: str, heading: str, nth: int) -> tuple[Target, ...] | None:
        if self.corrections is None:
            return None
        return self.corrections.of((sheet.file, sheet.grid.name, table, heading), nth)

    def _said_of_survey(self, sheet: SourceSheet, heading: str, nth: int) -> tuple[Target, ...] | None:
        return self._said(sheet, "1", heading, nth)

    def _unit(self, into: Gathered) -> str:
        unit = Job.dimension_unit.name
        vocabulary = self.template.vocabularies.get(unit)
        said = self.given.get(unit) or into.job.get(unit) or ""
        choice = vocabulary.find(said) if vocabulary is not None else None
        return choice.name if choice is not None else self.template.dimension_unit

    def _answer(self, whole: Gathered) -> None:
        """Let the answers given by hand go before those of the lists, which are kept beside them."""
        labels = self.template.by_key[Job.key].by_field
        for name, text in self.given.items():
            listed = whole.job.get(name, text)
            if spelling(listed) != spelling(text):
                whole.extra_job.append((f"{labels[name].heading} in {whole.name}", listed))
        whole.job = {**whole.job, **self.given}

    def _rooms(self, whole: Gathered) -> None:
        """List the rooms that equipment names where no list has them, and say the floor of each."""
        rooms = self.template.by_key.get(Room.key)
        if rooms is None:
            return
        room, level = Room.room.name, Room.level.name
        listed = whole.tables.get(Room.key, [])
        named = {spelling(row.get(room, "")): row for row in listed}
        new: dict[str, dict[str, str]] = {}
        if not listed:
            for row in whole.tables.get(Equipment.key, []):
                said = row.get(Equipment.room.name, "").strip()
                if spelling(said) not in ("", "nv", "na"):
                    new.setdefault(spelling(said), {room: said})
        for key, (said, floor) in self.levels.items():
            row = named.get(key) or new.setdefault(key, {room: said})
            if level in rooms.by_field and not row.get(level):
                row[level] = floor
        if new:
            whole.tables[Room.key] = [*listed, *new.values()]
            which = "the one room" if len(new) == 1 else f"the {len(new)} rooms"
            whole.remarks.append(f"{rooms.name}: {which} that the equipment names.")

    def _keep_outside(self, whole: Gathered) -> None:
        if whole.outside:
            rows = [("From", "Cell", "Text")]
            rows += [(cell.label, cell_name(cell.row, cell.column), cell.text) for cell in whole.outside]
            whole.sheets.append(ExtraSheet(CARRIED_OVER, whole.name, tuple(rows)))

    def _say_unused(self, whole: Gathered) -> None:
        """Name what the placement file speaks of and no list has."""
        if self.corrections is None:
            return
        unused = sorted(
            heading for heading in self.corrections.headings if spelling(heading) not in self.corrections.used
        )
        if unused:
            whole.remarks.append(
                f"{self.corrections.name} speaks of columns that the lists do not have: {', '.join(unused[:8])}."
            )

    def _how_filled(self, whole: Gathered) -> ExtraSheet | None:
        """Return the sheet that says it; none where every column had the survey's own heading."""
        if all(is_own(placed, self.template) for placed in whole.placement):
            return None
        rows = placement_rows(whole.placement, self.template)
        return ExtraSheet(HOW_FILLED, whole.name, tuple(rows), HOW_FILLED_SAYS)

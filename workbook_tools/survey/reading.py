"""From a workbook to a Survey.

    read_survey(path, template)     a Survey from whatever came back from the site
    survey_of(workbook, template)   the same from a workbook that was read already

Sheets are matched by their headings first and their name second, columns by the words of
their heading. Nothing that was typed is lost: a cell is an answer (`Row.values`), an own
column of the firm (`Row.extra`), a live cell (`Row.live`), a comment on a cell (`Row.comments`), or it is
kept with its place in `Survey.titles`, `stray` or `other_sheets`. The file is only read, never written to.

Not here: the file formats (spreadsheet), headings, single values, and what is wrong with
what was typed (rules).
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator, Sequence, Sized
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from workbook_tools.definitions import Column, Template, plain
from workbook_tools.definitions import Sheet as Definition
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Sheet, Workbook, cell_name, read_workbook
from workbook_tools.survey.bounds import READ, refuse_more_than
from workbook_tools.survey.cells import NO_COLUMN, Outcome, Value
from workbook_tools.survey.heading_words import WORKINGS, is_of_workings
from workbook_tools.survey.headings import HEADING_ROWS, Grid, Heading, SheetFound, find_sheets
from workbook_tools.survey.labels import read_labels
from workbook_tools.survey.model import HeadingTaken, Survey
from workbook_tools.survey.origin import (
    NotASurvey,
    number_of,
    refuse_another_kind,
    stated_template,
    template_of,
)
from workbook_tools.survey.own_texts import OwnTexts, how_filled, typed_on_lists
from workbook_tools.survey.rows import Equipment, Job, Row
from workbook_tools.survey.tables import as_value, column_readers, comment, read_rows
from workbook_tools.survey.typed_text import straight

__all__ = ["read_survey", "survey_of"]

_ROWS_FOR_HEADINGS = HEADING_ROWS + 60
_FEWEST_FIELDS = 3
_STRAY_SHOWN = 60
_LONGEST_SHOWN = 300


def read_survey(path: str | os.PathLike[str], template: str | Path | Template | None = None) -> Survey:
    """Read a survey workbook that came back, whatever program saved it.

    Parameters
    ----------
    path : str or path
        An .xlsx, .xlsm or .ods file that once was a survey workbook.
    template : str, Path or Template, optional
        The template it was made from: a stock name, a .toml file, or a loaded template.
        Without it, the one that the file names; "office" where it names none, which
        `Survey.notes` says.

    Returns
    -------
    survey : Survey
        Every value with its sheet, cell and typed text.

    Raises
    ------
    Unusable
        No file that can be read, no sheet with the headings of a survey, or no such template.

    Examples
    --------
    >>> import xlsxwriter
    >>> path = getfixture("tmp_path") / "survey.xlsx"
    >>> with xlsxwriter.Workbook(path) as book:
    ...     sheet = book.add_worksheet("Panels")
    ...     _ = sheet.write_row(0, 0, ["Panel", "Location", "Amps", "Volts"])
    ...     _ = sheet.write_row(1, 0, ["RP-1", "Boiler room", "225A", "120/208"])
    >>> survey = read_survey(path, "office")
    >>> survey.equipment[0].rating_a.value, survey.equipment[0].rating_a.cell
    (225.0, 'C2')
    """
    with _collector_at_rest():
        return survey_of(read_workbook(path, quiet_formulas=False, workings=WORKINGS), template)


def survey_of(workbook: Workbook, template: str | Path | Template | None = None) -> Survey:
    """Return the survey that a workbook, once read, holds; as `read_survey` does from a file."""
    refuse_another_kind(workbook)
    chosen, notes = template_of(workbook, template)
    survey = _Reader(workbook, chosen, notes).survey()
    refuse_more_than(READ, survey)
    return survey


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Keep the garbage collector from walking through the growing model again and again.

    Reading makes no circles of objects; measured on 950,000 cells it takes a quarter less time.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


class _Reader:
    def __init__(self, workbook: Workbook, template: Template, notes: list[str]) -> None:
        self.workbook = workbook
        self.template = template
        self.own = OwnTexts(template)
        self.found = find_sheets([_grid(sheet) for sheet in workbook.sheets], template)
        labels = template.by_key[Job.key]
        self.out = Survey(workbook.path, template, Job(labels, labels.name, 1), {}, notes=notes)

    def survey(self) -> Survey:
        survey = self.out
        by_key = self._sheets_by_key()
        if not any(self.template.by_key[key].layout == "table" for key in by_key):
            raise self._no_survey()
        survey.pictures = self.workbook.pictures
        survey.number = number_of(self.workbook)
        if self.workbook.has_macros:
            survey.notes.append("The file carries macros; they were not run and not looked at.")
        for damage in self.workbook.damage:
            survey.damage.append(
                Value(Outcome.UNREADABLE, damage.text, None, damage.sheet, damage.cell or "", damage.says)
            )
        self._read_job(by_key)
        unit = self._unit()
        tags = self._tags(by_key)
        tables: dict[str, list[Row]] = {}
        for definition in self.template.sheets:
            if definition.layout == "table":
                tables[definition.key] = self._read_table(
                    definition, by_key.get(definition.key, []), unit, tags
                )
        survey.tables = tables
        survey.missing_sheets = [
            definition.name
            for definition in self.template.sheets
            if definition.layout in ("table", "labels") and definition.key not in by_key
        ]
        self._keep_other_sheets(by_key)
        self._take_remarks(by_key)
        self._say_what_is_stray()
        return survey

    def _sheets_by_key(self) -> dict[str, list[int]]:
        """Return the sheets of the file for each table, those that only resemble it left out."""
        by_key: dict[str, list[int]] = {}
        best: dict[str, float] = {}
        for found in self.found:
            if found.key is not None and not found.rival:
                best[found.key] = found.score
        for i, found in enumerate(self.found):
            if found.key is None or self.template.by_key[found.key].layout not in ("table", "labels"):
                continue
            if self.template.by_key[found.key].layout == "labels" and found.rival:
                continue
            if self._is_that_table(found, best.get(found.key, 0.0)):
                by_key.setdefault(found.key, []).append(i)
        return by_key

    def _is_that_table(self, found: SheetFound, best: float) -> bool:
        definition = self.template.by_key[found.key or ""]
        typed = {column.field for column in definition.typed}
        fields = sum(heading.field in typed for heading in found.headings)
        if found.rival:
            return fields >= min(_FEWEST_FIELDS, len(typed)) and found.score * 2 >= best
        return found.named or fields >= min(_FEWEST_FIELDS, len(typed))

    def _no_survey(self) -> Unusable:
        name = self.workbook.path.name
        sheets = [sheet.name for sheet in self.workbook.sheets]
        listed = ", ".join(sheets[:8]) + (f" and {len(sheets) - 8} more" if len(sheets) > 8 else "")
        if len(sheets) == 1:
            said = f"its one sheet, {listed}, has none of"
        else:
            said = f"none of its sheets ({listed}) has" if sheets else "it has no sheets and none of"
        wanted = ", ".join(column.heading for column in self.template.by_key[Equipment.key].typed[:4])
        sentence = (
            f"{name} is no survey workbook: {said} the headings of a survey ({wanted}, ...){self._nearest()}; "
            "choose the workbook that was filled in."
        )
        # One that says it was a survey has lost its headings: nobody is to take it for something else.
        return NotASurvey(sentence) if stated_template(self.workbook) is None else Unusable(sentence)

    def _nearest(self) -> str:
        near = max(
            (found for found in self.found if found.key is not None and found.headings),
            key=lambda found: found.score,
            default=None,
        )
        read = (
            [heading.text for heading in near.headings if heading.field is not None]
            if near is not None
            else []
        )
        return f", the nearest are {', '.join(read)} on {near.name}" if near is not None and read else ""

    def _read_job(self, by_key: dict[str, list[int]]) -> None:
        definition = self.template.by_key[Job.key]
        for i in by_key.get(definition.key, [])[:1]:
            read = read_labels(self.workbook.sheets[i], self.found[i], definition, self.template, self.own)
            self.out.job = read.row
            self.out.titles.extend(read.titles)
            self.out.stray.extend(read.stray)
            self._note_headings(self.found[i])

    def _unit(self) -> str:
        value = self.out.job.dimension_unit
        if value.value is not None:
            return value.value
        unit = self.template.dimension_unit
        if value.answered:
            self.out.notes.append(
                f"The dimension unit on the Job sheet cannot be read; bare lengths were read in {unit}."
            )
        return unit

    def _tags(self, by_key: dict[str, list[int]]) -> frozenset[str]:
        """Every tag of Equipment and every outside source, as names are compared."""
        tags = {plain(source) for source in self.template.outside_sources}
        for i in by_key.get(Equipment.key, []):
            column = self.found[i].columns.get(Equipment.tag.name)
            for (row, at), cell in self.workbook.sheets[i].cells.items():
                if at == column and row > self.found[i].row:
                    tags.add(plain(straight(cell.text)))
        return frozenset(tags - {""})

    def _read_table(
        self, definition: Definition, places: list[int], unit: str, tags: frozenset[str]
    ) -> list[Row]:
        rows: list[Row] = []
        seen: dict[tuple[tuple[str, str], ...], str] = {}
        for i in places:
            sheet, found = self.workbook.sheets[i], self.found[i]
            readers = column_readers(definition, found, self.template, unit, tags)
            read = read_rows(sheet, found, definition, readers, self.own)
            self._note_headings(found)
            self.out.titles.extend(read.titles)
            self.out.stray.extend(read.stray)
            rows.extend(self._without_copies(read.rows, seen, sheet) if len(places) > 1 else read.rows)
        if len(places) > 1:
            names = " and ".join(self.workbook.sheets[i].name for i in places)
            self.out.notes.append(f"{definition.name} stands on more than one sheet: {names}. All were read.")
        return rows

    def _without_copies(
        self, rows: list[Row], seen: dict[tuple[tuple[str, str], ...], str], sheet: Sheet
    ) -> list[Row]:
        """Leave out the rows that a copied sheet repeats word for word, and say so."""
        kept, repeated, first = [], 0, ""
        for row in rows:
            content = tuple(sorted((name, value.typed.strip()) for name, value in row.values.items()))
            if seen.get(content, sheet.name) != sheet.name:
                repeated, first = repeated + 1, seen[content]
            else:
                seen[content] = sheet.name
                kept.append(row)
        if repeated:
            what = "a row" if repeated == 1 else f"{repeated} rows"
            self.out.notes.append(
                f"{sheet.name} repeats {what} of {first} word for word; each was taken once."
            )
        return kept

    def _note_headings(self, found: SheetFound) -> None:
        for heading in found.headings:
            if heading.field is None and is_of_workings(heading.text):
                continue
            self.out.headings.append(
                HeadingTaken(
                    found.name,
                    cell_name(heading.row, heading.column),
                    heading.text,
                    found.key or "",
                    heading.field,
                    heading.exact,
                )
            )

    def _say_what_is_stray(self) -> None:
        """Say what was taken for a note or a total, so that an entry among them is missed by nobody."""
        by_sheet: dict[str, list[Value[Any]]] = {}
        for value in self.out.stray:
            by_sheet.setdefault(value.sheet, []).append(value)
        for sheet, values in by_sheet.items():
            self.out.notes.append(
                f"Kept as notes on the sheet {sheet}, not as entries of it: {_listed(values)}."
            )

    def _keep_other_sheets(self, by_key: dict[str, list[int]]) -> None:
        read = {i for places in by_key.values() for i in places}
        for i, sheet in enumerate(self.workbook.sheets):
            if i in read or not sheet.cells:
                continue
            found = self.found[i]
            layout = self.template.by_key[found.key].layout if found.key is not None and found.named else ""
            typed = self._typed_on(sheet, layout)
            if typed is not None:
                self.out.stray += [as_value(sheet.cells[at], sheet.name, cell_name(*at)) for at in typed]
                if layout == "guide":
                    ours = sheet.cells.keys() - set(typed)
                    self.out.titles += [
                        as_value(sheet.cells[at], sheet.name, cell_name(*at)) for at in sorted(ours)
                    ]
                continue
            ours = how_filled(sheet)
            self.out.titles += [as_value(sheet.cells[at], sheet.name, cell_name(*at)) for at in sorted(ours)]
            values = [
                as_value(cell, sheet.name, cell_name(row, column))
                for (row, column), cell in sheet.cells.items()
                if cell.text.strip() and (row, column) not in ours
            ]
            if not values:
                continue
            self.out.other_sheets.setdefault(sheet.name, []).extend(values)
            if layout == "labels":
                self.out.notes.append(
                    f"The sheet {sheet.name} is another sheet of job details; {self.out.job.sheet} was read, and its "
                    f"{_cells_were(values)} kept, not read: {_listed(values)}."
                )
            else:
                self.out.notes.append(
                    f"The sheet {sheet.name} is none of the survey's tables; its {_cells_were(values)} kept, not read: "
                    f"{_listed(values)}."
                )

    def _typed_on(self, sheet: Sheet, layout: str) -> list[tuple[int, int]] | None:
        """Return the places of what was typed on the guide or among the choices; None for any other sheet."""
        if layout == "lists":
            return typed_on_lists(sheet, self.own)
        return self.own.typed_on_guide(sheet) if layout == "guide" else None

    def _take_remarks(self, by_key: dict[str, list[int]]) -> None:
        """Give comments to the rows on whose cells they stand, and keep every other text over the cells."""
        if not any(sheet.remarks for sheet in self.workbook.sheets):
            return
        rows = {(row.sheet, row.number): row for table in self.out.tables.values() for row in table}
        columns = {
            (self.found[i].name, heading.column): self._column_of(heading, self.template.by_key[key])
            for key, places in by_key.items()
            for i in places
            for heading in self.found[i].headings
        }
        job = self.out.job
        labels = {
            heading.row: self._column_of(heading, job.definition)
            for i in by_key.get(job.key, [])[:1]
            for heading in self.found[i].headings
        }
        for sheet in self.workbook.sheets:
            on_labels = bool(labels) and sheet.name == job.sheet
            for remark in sheet.remarks:
                place = cell_name(remark.row, remark.column) if remark.row else ""
                row = job if on_labels and remark.row in labels else rows.get((sheet.name, remark.row))
                if remark.kind != "comment" or row is None:
                    kept = Value(Outcome.VALUE, remark.text, remark.text, sheet.name, place or "A1")
                    self.out.stray.append(kept._replace(note=remark.kind))
                    continue
                of = labels[remark.row] if row is job else columns.get((sheet.name, remark.column), NO_COLUMN)
                row.comments += (comment(remark.text, sheet.name, place, of),)

    def _column_of(self, heading: Heading, definition: Definition) -> Column:
        """Return the column that a heading stands for; an own one under its own words."""
        return definition.by_field.get(heading.field or "") or Column("", heading.text)


def _cells_were(values: Sized) -> str:
    return "one cell was" if len(values) == 1 else f"{len(values)} cells were"


def _listed(values: Sequence[Value[Any]]) -> str:
    more = f" and {len(values) - _STRAY_SHOWN} more" if len(values) > _STRAY_SHOWN else ""
    return ", ".join(map(_in_words, values[:_STRAY_SHOWN])) + more


def _in_words(value: Value[Any]) -> str:
    text = " ".join(value.typed.split())
    text = text if len(text) <= _LONGEST_SHOWN else f"{text[: _LONGEST_SHOWN - 1]}…"
    return f"{value.cell} {f'({value.note}) ' if value.note else ''}{text!r}"


def _grid(sheet: Sheet) -> Grid:
    texts = {}
    for place, cell in sheet.cells.items():
        if place[0] <= _ROWS_FOR_HEADINGS and cell.text:
            texts[place] = cell.text
    return Grid(sheet.name, texts, sheet.merged)

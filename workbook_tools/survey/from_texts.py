"""A survey in memory, from texts as somebody would type them.

    survey_of_texts(template, tables, job)    each text read as the reader of workbooks reads it

The examples of the rules, their tests, and the cached results of a prefilled workbook are made
of it; no file is touched. Cells stand where a new workbook has them.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path
from typing import Any

from workbook_tools.definitions import Column, Sheet, Template, plain
from workbook_tools.spreadsheet import Cell, cell_name
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.model import HeadingTaken, Survey
from workbook_tools.survey.rows import Equipment, Job, Row, row_class
from workbook_tools.survey.typed_text import straight
from workbook_tools.survey.values import ColumnReader

__all__ = ["survey_of_texts"]

Texts = Mapping[str, str]


def survey_of_texts(
    template: Template,
    tables: Mapping[str, Sequence[Texts]],
    job: Texts,
    *,
    first_row: int,
    source: str = "typed",
) -> Survey:
    """Return the survey that texts make.

    Parameters
    ----------
    template : Template
        What the sheets hold.
    tables : mapping
        For each sheet key the rows: field to text. A text under a name that is no field is an
        own column; one under a live field was typed over it.
    job : mapping
        Answers of the label sheet, field to text.
    first_row : int
        The row in which tables and labels begin.
    source : str, optional
        What stands as the file's name.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> rows = {"equipment": [{"tag": "DP-1", "rating_a": "400 A"}]}
    >>> survey = survey_of_texts(load_template("office"), rows, {}, first_row=5)
    >>> survey.equipment[0].rating_a.value, survey.equipment[0].tag.cell
    (400.0, 'A5')
    """
    labels = template.by_key[Job.key]
    answers = Job(labels, labels.name, first_row)
    for number, column in enumerate(labels.typed, first_row):
        place = f"B{number}"
        text = job.get(column.field, "")
        answers.values[column.field] = (
            _read(ColumnReader(column, template, template.dimension_unit, ()), text, labels.name, place)
            if text
            else Value(Outcome.BLANK, sheet=labels.name, cell=place, column=column)
        )
    unit = answers.dimension_unit.value or template.dimension_unit
    tags = {plain(source) for source in template.outside_sources}
    tags |= {plain(straight(row.get(Equipment.tag.name, ""))) for row in tables.get(Equipment.key, ())}
    found: dict[str, list[Row]] = {}
    headings = []
    for sheet in template.as_written(tables).sheets:
        if sheet.layout == "table":
            make = _RowMaker(template, sheet, unit, frozenset(tags - {""}))
            rows = tables.get(sheet.key, ())
            found[sheet.key] = [make.row(texts, number) for number, texts in enumerate(rows, first_row)]
            headings += [
                HeadingTaken(
                    sheet.name, cell_name(first_row - 1, at), column.heading, sheet.key, column.field, True
                )
                for at, column in enumerate(sheet.columns, 1)
            ]
    return Survey(Path(source), template, answers, found, headings)


class _RowMaker:
    """Makes the rows of one sheet."""

    def __init__(self, template: Template, sheet: Sheet, unit: str, tags: Collection[str]) -> None:
        self.sheet = sheet
        self.places = {column.field: column_letters(at) for at, column in enumerate(sheet.columns, 1)}
        self.readers = {column.field: ColumnReader(column, template, unit, tags) for column in sheet.typed}

    def row(self, texts: Texts, number: int) -> Row:
        row = row_class(self.sheet.key)(self.sheet, self.sheet.name, number, places=self.places)
        for field, text in texts.items():
            if not text:
                continue
            place = f"{self.places[field]}{number}" if field in self.places else ""
            if field in self.readers:
                row.values[field] = _read(self.readers[field], text, row.sheet, place)
            elif field in self.places:
                row.live[field] = _as_typed(text, row.sheet, place, self.sheet.by_field[field])
            else:
                row.extra[field] = Value(Outcome.VALUE, text, text, row.sheet)
        return row


def _read(reader: ColumnReader, text: str, sheet: str, place: str) -> Value[Any]:
    return reader.read(Cell("text", text, text), sheet, place)


def _as_typed(text: str, sheet: str, place: str, column: Column) -> Value[Any]:
    return Value(Outcome.VALUE, text, text, sheet, place, column=column)

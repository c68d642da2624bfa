"""A small survey in memory, from cells as somebody typed them.

    survey_of(typed)         a Survey whose cells stand where the template puts them
    assessment_of(typed)     its Assessment, with the photo folder of the example

The texts go through the same value readers as those of a workbook. The examples of the
rules and their tests are made of it; no file is touched.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column, Sheet, Template, load_template
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.rules.rule import Typed
from workbook_tools.spreadsheet import Cell
from workbook_tools.survey.model import HeadingTaken, Outcome, Row, Survey, Value
from workbook_tools.survey.values import ColumnReader

__all__ = ["assessment_of", "survey_of"]

FIRST_ROW = 5
"""Where the rows of an example begin: under a title and the headings, as in the stock workbook."""


def survey_of(typed: Typed, template: Template | None = None) -> Survey:
    """Return the survey that the typed cells make.

    Examples
    --------
    >>> from workbook_tools.rules.rule import as_typed
    >>> survey = survey_of(as_typed(equipment=[{"tag": "DP-1", "rating_a": "400 A"}]))
    >>> survey.equipment[0].get("rating_a"), survey.equipment[0]["tag"].cell
    (400.0, 'A5')
    """
    template = template or _stock()
    sheets = template.by_key
    unit = typed.job.get("dimension_unit") or template.dimension_unit
    job = Row("job", sheets["job"].name, FIRST_ROW, {})
    for number, column in enumerate(sheets["job"].typed, FIRST_ROW):
        if typed.job.get(column.field):
            job.values[column.field] = _value(
                template, column, typed.job[column.field], unit, "Job", f"B{number}"
            )
        else:
            job.values[column.field] = Value(Outcome.BLANK, sheet="Job", cell=f"B{number}")
    tables = {}
    headings = []
    for key, sheet in sheets.items():
        if sheet.layout != "table":
            continue
        rows = typed.tables.get(key, ())
        tables[key] = [_row(template, sheet, row, number, unit) for number, row in enumerate(rows, FIRST_ROW)]
        headings += [
            HeadingTaken(
                sheet.name, f"{_letters(place)}{FIRST_ROW - 1}", column.heading, key, column.field, True
            )
            for place, column in enumerate(sheet.columns, 1)
        ]
    return Survey(Path("as_typed.xlsx"), template, job, tables, headings)


def assessment_of(typed: Typed, template: Template | None = None) -> Assessment:
    """Return the assessment of the typed cells."""
    files = typed.photo_folder
    photos = PhotoFolder(Path("photos"), tuple(files), {}) if files is not None else None
    return Assessment(survey_of(typed, template), photos=photos)


@lru_cache(maxsize=1)
def _stock() -> Template:
    return load_template("office")


def _row(template: Template, sheet: Sheet, typed: Mapping[str, str], number: int, unit: str) -> Row:
    unknown = typed.keys() - sheet.by_field.keys()
    if unknown:
        raise ValueError(f"{sheet.name} has no field {', '.join(sorted(unknown))}")
    places = {column.field: _letters(place) for place, column in enumerate(sheet.columns, 1)}
    row = Row(sheet.key, sheet.name, number, {}, places=places)
    for column in sheet.columns:
        cell = f"{places[column.field]}{number}"
        text = typed.get(column.field, "")
        if column.live:
            if text:
                row.live[column.field] = Value(Outcome.VALUE, text, text, sheet.name, cell)
        elif text:
            row.values[column.field] = _value(template, column, text, unit, sheet.name, cell)
    return row


def _letters(place: int) -> str:
    letters = ""
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _value(template: Template, column: Column, text: str, unit: str, sheet: str, cell: str) -> Value:
    return ColumnReader(column, template, unit, ()).read(Cell("text", text, text), sheet, cell)

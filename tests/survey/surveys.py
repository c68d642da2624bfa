"""Survey workbooks for the tests: written by code, read back, compared by what they say.

write_workbook(path, sheets)   sheets of plain rows, written with xlsxwriter
sheets_of_notes(folder)        field notes as sheets with the template's headings
said_by(survey)                all that a survey says, without places: to compare two of them
typed_in(survey)               what was typed, row by row
reading, equipment, tags       a workbook of these rows read back; its tags
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import xlsxwriter

from workbook_tools.definitions import load_template
from workbook_tools.survey import Survey, Value, read_survey

BAKERY = Path(__file__).resolve().parents[1] / "data" / "bakery"
"""Field notes of an invented bakery, one file for each sheet."""

OFFICE = load_template("office")

Rows = Sequence[Sequence[Any]]
Sheets = dict[str, list[list[Any]]]

EQUIPMENT = [
    ["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage", "Phase", "Wires", "Maker"],
    ["MSB", "Switchboard", "Main", "Utility", "1600", "480Y/277", "3", "4", "Marlowe"],
    ["DP-1", "Panelboard", "Main", "MSB", "400", "480Y/277", "3", "4", "Marlowe"],
]
"""Two rows of an invented survey."""


def write_workbook(
    path: Path, sheets: Mapping[str, Rows], properties: Mapping[str, str] | None = None
) -> Path:
    """Write plain sheets: text as text, numbers as numbers, dates as dates; "=..." as a formula."""
    book = xlsxwriter.Workbook(path, {"strings_to_urls": False, "strings_to_formulas": False})
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    for name, value in (properties or {}).items():
        book.set_custom_property(name, value)
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for r, row in enumerate(rows):
            for c, value in enumerate(row):
                if value is None or value == "":
                    continue
                if isinstance(value, date):
                    sheet.write_datetime(r, c, value, day)
                elif isinstance(value, str) and value.startswith("="):
                    formula, _, result = value.partition(" -> ")
                    sheet.write_formula(r, c, formula, None, result)
                else:
                    sheet.write(r, c, value)
    book.close()
    return path


def sheets_of_notes(folder: Path = BAKERY) -> dict[str, list[list[Any]]]:
    """Return field notes as the sheets of the office template, headings and labels included."""
    sheets = {}
    for definition in OFFICE.sheets:
        notes = folder / f"{definition.key}.csv"
        if definition.layout in ("table", "labels") and notes.is_file():
            with notes.open(encoding="utf-8", newline="") as file:
                sheets[definition.name] = [list(row) for row in csv.reader(file)]
    return sheets


def said_by(survey: Survey) -> dict[str, Any]:
    """Return all that a survey says, by table and field, without places and typed text."""
    return {
        "job": _said(survey.job.values),
        "tables": {
            key: [(_said(row.values), _typed(row.extra)) for row in rows]
            for key, rows in survey.tables.items()
        },
    }


def _said(values: Mapping[str, Value]) -> dict[str, Any]:
    return {
        name: (value.outcome, value.value, value.why, value.unknown_choice)
        for name, value in sorted(values.items())
        if value.answered
    }


def _typed(values: Mapping[str, Value]) -> dict[str, str]:
    return {name: value.typed for name, value in sorted(values.items())}


def typed_in(survey: Survey) -> list[tuple[str, int, dict[str, str]]]:
    """Return what was typed into every row, by field, with the row's place."""
    return [(row.sheet, row.number, _typed(row.values)) for row in survey.rows()]


def reading(tmp_path: Path, sheets: Sheets, template: str | None = "office") -> Survey:
    return read_survey(write_workbook(tmp_path / "messy.xlsx", sheets), template)


def equipment(tmp_path: Path, rows: list[list[Any]], name: str = "Equipment") -> Survey:
    return reading(tmp_path, {name: rows})


def tags(survey: Survey) -> list[Any]:
    return [row.tag.value for row in survey.equipment]

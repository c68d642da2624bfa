"""The bakery in its first and in its second year, and what an inspector types into a workbook that was filled.

    first_year(folder)                  the survey of 2026, mended, as the tests of delivery have it
    filled(survey, folder, ...)         a new workbook, filled from it
    typed_into(workbook, notes, out)    the answers of a folder of notes, each in the row that it is about
    SECOND_YEAR                         the notes of 2027, and the expected answers beside them

All of it is invented. expected.csv was written by hand, before anything was run on the notes.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from tests.delivery.test_bakery import SHEETS, notes
from workbook_tools.commands import new

__all__ = ["SECOND_YEAR", "expected", "filled", "first_year", "typed_into"]

SECOND_YEAR = Path(__file__).parents[1] / "data" / "bakery_second_year"


def expected() -> list[dict[str, str]]:
    """Return what an expert expects of the second year: gone, mended, this year's, or as of the first."""
    with (SECOND_YEAR / "expected.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def first_year(folder: Path) -> Path:
    typed = folder / "notes"
    typed.mkdir()
    for key, title in SHEETS.items():
        rows = notes(mended=True)[title]
        with (typed / f"{key}.csv").open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows([["Item", "Value"], *rows] if key == "job" else rows)
    return new(folder / "first_year.xlsx", template="office", fill=typed, rows=10).path


def filled(survey: Path, path: Path, **job: str) -> Path:
    return new(path, template="office", fill=survey, job=job, rows=10).path


def typed_into(workbook: Path, folder: Path, out: Path) -> Path:
    """Type notes into a workbook as somebody does who sees the rows: a row that is not there goes below the last."""
    book = load_workbook(workbook)
    for key, title in SHEETS.items():
        if (folder / f"{key}.csv").exists():
            with (folder / f"{key}.csv").open(encoding="utf-8", newline="") as file:
                _type(book[title], list(csv.DictReader(file)), key)
    book.save(out)
    return out


def _type(sheet: Any, rows: list[dict[str, str]], key: str) -> None:
    if key == "job":
        labels = {cell.value: cell.row for (cell,) in sheet.iter_rows(max_col=1)}
        for row in rows:
            sheet.cell(labels[row["Item"]], 2, row["Value"])
        return
    columns = {cell.value: cell.column for cell in sheet[2] if cell.value}
    names = ("Subject", "Finding") if key == "findings" else (next(iter(rows[0])),)
    there = {
        tuple(sheet.cell(at, columns[name]).value for name in names): at
        for at in range(3, sheet.max_row + 1)
        if sheet.cell(at, columns[names[0]]).value
    }
    below = max(there.values()) + 1
    for row in rows:
        at = there.get(tuple(row[name] for name in names), below)
        below += at == below
        for heading, text in row.items():
            if text:
                sheet.cell(at, columns[heading], text)

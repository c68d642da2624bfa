"""What a reviewer writes beside the answers stays when the survey is checked again."""

import datetime
from pathlib import Path
from typing import Any

import openpyxl

from tests.review.test_review_workbook import bakery_with, checked
from workbook_tools.review import read_review, write_review
from workbook_tools.spreadsheet.cells import column_letters

FIRST, LATER = datetime.date(2026, 9, 20), datetime.date(2026, 10, 1)


def own_of(path: Path, heading: str, sheet: str = "Problems") -> dict[tuple[str, str], str]:
    """Return what stands under a heading of a sheet, by rule and subject, as another library reads it."""
    rows = list(openpyxl.load_workbook(path)[sheet].iter_rows(values_only=True))
    at = {str(text): n for n, text in enumerate(rows[0]) if text}
    if heading not in at:
        return {}
    return {
        (str(row[at["Rule"]]), str(row[at["Subject"]])): str(row[at[heading]])
        for row in rows[1:]
        if row[at[heading]]
    }


def strays_of(path: Path) -> list[tuple[str, ...]]:
    book = openpyxl.load_workbook(path)
    if "Carried over" not in book.sheetnames:
        return []
    return [tuple(map(str, row)) for row in book["Carried over"].iter_rows(min_row=2, values_only=True)]


def at(sheet: Any) -> dict[str, int]:
    """Return the column of each heading, from 1."""
    return {cell.value: cell.column for cell in sheet[1] if cell.value}


def with_notes(path: Path) -> None:
    book = openpyxl.load_workbook(path)
    sheet = book["Problems"]
    sheet.insert_cols(4)  # before Reason
    sheet.cell(1, 4, "Who")
    column = at(sheet)
    for row in range(2, sheet.max_row + 1):
        if sheet.cell(row, column["Subject"]).value in ("DP-1", "ATS-1", "MSB"):
            sheet.cell(row, 4, "B. Colleague (invented)")
    last = sheet.max_column
    sheet.cell(1, last + 1, "Remark")
    sheet.cell(3, last + 1, "asked the owner")
    sheet.cell(3, last + 3, "beside, without a heading")
    sheet.cell(sheet.max_row + 3, last + 1, "below the table")
    book["Sign-off"].cell(5, 4, "call before signing")
    book["Summary"].cell(2, 6, "for the office")
    book.create_sheet("Notes").cell(2, 2, "a sheet of my own")
    book.save(path)


def test_own_columns_go_with_their_rows_wherever_these_go(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    write_review(checked(folder=tmp_path), path, today=FIRST)
    with_notes(path)
    third = openpyxl.load_workbook(path)["Problems"]
    asked = next(e for e in read_review(path).entries if ("Remark", "asked the owner") in e.own)
    where = third.cell(3, at(third)["Rule"]).value, third.cell(3, at(third)["Sheet"]).value
    assert (asked.problem.rule, asked.problem.sheet) == where
    unnamed = f"Column {column_letters(third.max_column)}"
    before = own_of(path, "Who")
    assert len(before) >= 2
    # The depth reads differently now: that problem is open again, and keeps what was written beside it.
    again = checked(bakery_with("clearances", "DP-1", depth="39"), tmp_path)
    for _ in range(3):
        write_review(again, path, read_review(path), today=LATER)
        assert own_of(path, "Who") == before
        assert list(own_of(path, "Remark").values()) == ["asked the owner"]
        assert list(own_of(path, unnamed).values()) == ["beside, without a heading"]


def test_an_own_column_goes_on_to_the_closed_sheet_and_back(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    write_review(checked(folder=tmp_path), path, today=FIRST)
    with_notes(path)
    before = own_of(path, "Who")
    mended = checked(bakery_with("clearances", "DP-1", depth="60"), tmp_path)
    write_review(mended, path, read_review(path), today=LATER)
    closed = own_of(path, "Who", "Closed")
    assert ("working-depth-short", "DP-1") in closed
    assert own_of(path, "Who") | closed == before
    write_review(checked(folder=tmp_path), path, read_review(path), today=LATER)
    assert own_of(path, "Who") == before


def test_texts_that_belong_to_no_row_are_kept_with_their_place(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    result = checked(folder=tmp_path)
    write_review(result, path, today=FIRST)
    with_notes(path)
    sheet = openpyxl.load_workbook(path)["Problems"]
    below = f"{column_letters(sheet.max_column - 2)}{sheet.max_row}"
    for _ in range(3):
        write_review(result, path, read_review(path), today=LATER)
        assert sorted(strays_of(path)) == [
            ("Notes", "B2", "a sheet of my own"),
            ("Problems", below, "below the table"),
            ("Sign-off", "D5", "call before signing"),
            ("Summary", "F2", "for the office"),
        ]


def test_a_review_that_nobody_wrote_into_has_nothing_to_keep(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = write_review(checked(folder=tmp_path), path, today=FIRST)
    read = read_review(path)
    assert (read.strays, {entry.own for entry in read.entries}) == ([], {()})
    write_review(checked(bakery_with("clearances", "DP-1", depth="60"), tmp_path), path, first, today=LATER)
    again = read_review(path)
    assert (again.strays, {closed.entry.own for closed in again.closed}) == ([], {()})

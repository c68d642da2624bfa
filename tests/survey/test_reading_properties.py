"""What holds for any workbook: reading ends, loses nothing, and does not depend on order."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from tests.survey.surveys import said_by, sheets_of_notes, write_workbook
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Cell, Range, Sheet, Workbook, cell_name
from workbook_tools.survey import Survey, Value, read_survey
from workbook_tools.survey.reading import survey_of

OFFICE = load_template("office")

ANSWERS = [
    "N/V", "n/a", "-", "–", '"', "?", "Total", "Count", "Note: see roof", "Utility", "MSB", "MSB; GEN-1", "RP-1 & RP-2",
    "225A", "1600/1200", "112,5", "5.0%", "65kAIC", "3 ph", "4W", "208Y/120V", "480 delta", "3’-6 ½”", "1067mm", "42-44",
    "2 ea", "1998", "2026-09-16", "5/6/2026", "Yes", "✓", "#N/A", "=T1", "Panelboard?", "Structure", "Pipe, Duct",
    "QS_1.jpg; QS_2.jpg", "Tag", "Kind", "Room", "Depth", "survey 1 office", "survey 99 nowhere", " ", "\u200b", "\n;\n",
    "1" * 400, "9" * 25, "٣", "½", "0x10", "1e5", "nan", "inf", "-0", "１２", "e\u0301", "😀",
]  # fmt: skip
TEXTS = st.one_of(st.sampled_from(ANSWERS), st.text(max_size=12))
CELLS = st.one_of(
    TEXTS.filter(bool).map(lambda text: Cell("text", text, text)),
    st.floats(allow_nan=False, allow_infinity=False).map(lambda n: Cell("number", n, repr(n))),
    st.sampled_from([
        Cell("bool", True, "TRUE"), Cell("error", "#REF!", "#REF!"), Cell("error", None, ""),
        Cell("picture", None, ""), Cell("date", date(2026, 1, 2), "2026-01-02", None, "m/d/yy"),
        Cell("date", time(10, 0), "10:00:00", None, "h AM/PM"), Cell("date", 9e9, "9000000000", None, "d-mmm"),
        Cell("number", 400.0, "400", "=200*2"), Cell("text", "MSB", "MSB", "=A2"), Cell("number", 0.05, "0.05", None, "0%"),
        Cell("text", "", "", '=""'), Cell("number", None, "", "=1/0"), Cell("number", 7.0, "7", None, "000"),
    ]),
)  # fmt: skip


def sheet_of(
    name: str, headings: list[str], rows: list[list[Cell | None]], merged: list[Range], titles: list[Cell]
) -> Sheet:
    cells = {(r, 1): cell for r, cell in enumerate(titles, 1)}
    top = len(titles) + 1
    cells.update({(top, c): Cell("text", text, text) for c, text in enumerate(headings, 1)})
    for r, row in enumerate(rows, top + 1):
        cells.update({(r, c): cell for c, cell in enumerate(row, 1) if cell is not None})
    return Sheet(name, False, cells, merged)


@st.composite
def workbooks(draw: st.DrawFn) -> Workbook:
    """Draw a workbook with sheets of known headings in any order, some left out, and any cells below."""
    sheets = []
    for key in draw(
        st.sets(st.sampled_from(["job", "equipment", "transformers", "clearances", "findings"]), min_size=1)
    ):
        definition = OFFICE.by_key[key]
        known = [column.heading for column in definition]
        headings = draw(st.permutations([*known, "Barcode"]))[: draw(st.integers(4, len(known)))]
        width = len(headings) + 2
        rows = draw(st.lists(st.lists(st.none() | CELLS, min_size=width, max_size=width), max_size=5))
        starts = st.tuples(st.integers(1, 5), st.integers(1, width))
        merged = [
            Range(top, left, top + draw(st.integers(0, 3)), left + draw(st.integers(0, 3)))
            for top, left in draw(st.lists(starts, max_size=2))
        ]
        titles = draw(st.lists(CELLS, max_size=2))
        sheets.append(sheet_of(definition.name, list(headings), rows, merged, titles))
    free = draw(st.lists(st.lists(st.none() | CELLS, min_size=3, max_size=3), max_size=4))
    sheets.append(sheet_of(draw(st.sampled_from(["Lists", "Sketch", "Start here"])), [], free, [], []))
    return Workbook(Path("drawn.xlsx"), "xlsx", sheets)


def read_or_refuse(workbook: Workbook) -> Survey | None:
    try:
        return survey_of(workbook, OFFICE)
    except Unusable:
        return None


@sampled_property(max_examples=200)
@given(workbooks())
def test_reading_ends_with_a_survey_or_one_sentence_and_twice_the_same(workbook: Workbook) -> None:
    first, second = (content(read_or_refuse(workbook)) for _ in range(2))
    assert first == second


def content(survey: Survey | None) -> object:
    """Return everything that a survey holds; rows themselves are compared by identity."""
    if survey is None:
        return None
    rows = [(row.sheet, row.number, row.values, row.extra, row.live) for row in survey.rows()]
    return replace(survey, job=None, tables={}), rows


@sampled_property(max_examples=200)
@given(workbooks())
def test_everything_that_stands_in_a_cell_is_kept_with_its_place(workbook: Workbook) -> None:
    survey = read_or_refuse(workbook)
    if survey is None:
        return
    kept = {(value.sheet, value.cell, value.typed) for value in values_of(survey)}
    headings = {(heading.sheet, heading.cell) for heading in survey.headings}
    # What a live cell or a column of the firm computes was not typed.
    live = {
        (h.sheet, column_of(h.cell)) for h in survey.headings if h.field is None or h.field in LIVE[h.key]
    }
    for sheet in workbook.sheets:
        for place, cell in sheet.cells.items():
            name = cell_name(*place)
            computed = cell.formula is not None and (sheet.name, column_of(name)) in live
            if cell.text.strip() and not computed and (sheet.name, name) not in headings:
                assert (sheet.name, name, cell.text) in kept


LIVE = {sheet.key: {column.field for column in sheet.live} for sheet in OFFICE.sheets}


def column_of(name: str) -> str:
    return name.rstrip("0123456789")


def values_of(survey: Survey) -> list[Value]:
    values = [*survey.stray, *survey.titles, *survey.damage]
    for sheet in survey.other_sheets.values():
        values += sheet
    for row in survey.rows():
        values += [*row.values.values(), *row.extra.values(), *row.live.values()]
    return values


@pytest.mark.parametrize("seed", range(12))
def test_the_order_of_sheets_columns_and_rows_changes_nothing_but_cells(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)
    sheets = sheets_of_notes()
    shuffled: dict[str, list[list[Any]]] = {}
    for name in chance.sample(list(sheets), len(sheets)):
        headings, *rows = sheets[name]
        columns = list(range(len(headings)))
        if name != "Job":
            chance.shuffle(columns)
        chance.shuffle(rows)
        shuffled[name] = [[row[c] if c < len(row) else "" for c in columns] for row in (headings, *rows)]
    before = said_by(read_survey(write_workbook(tmp_path / "a.xlsx", sheets), OFFICE))
    after = said_by(read_survey(write_workbook(tmp_path / "b.xlsx", shuffled), OFFICE))
    assert after["job"] == before["job"]
    for key, rows_before in before["tables"].items():
        assert sorted(map(repr, after["tables"][key])) == sorted(map(repr, rows_before)), key

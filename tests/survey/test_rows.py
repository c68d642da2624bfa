"""The classes of the rows are those of the stock template, and a row is itself."""

from typing import get_origin

import pytest

from workbook_tools.definitions import load_template
from workbook_tools.survey import Clearance, Equipment, Field, Outcome, Row, survey_of_texts
from workbook_tools.survey.rows import row_class

TEMPLATE = load_template("office")
FIELDS = [
    pytest.param(sheet.key, attribute, id=f"{sheet.key}.{name}")
    for sheet in TEMPLATE.sheets
    for name, attribute in vars(row_class(sheet.key)).items()
    if isinstance(attribute, Field)
]
SAMPLES = {
    "amperes": "400 A",
    "count": "3",
    "date": "2026-09-16",
    "finding": "Open knockout",
    "items": "Duct; Pipe",
    "kiloamperes": "22 kA",
    "kva": "75 kVA",
    "length": "42 in",
    "number": "3",
    "percent": "5.75 %",
    "phase": "3",
    "photos": "HH_01.jpg; HH_02.jpg",
    "room": "Plant room",
    "tag": "DP-1",
    "tags": "DP-1; DP-2",
    "text": "as seen",
    "voltage": "480Y/277",
    "voltage_rating": "600 V",
    "wires": "4",
    "year": "1998",
}


def sample(column):
    if column.vocabulary and column.holds == "choice":
        return TEMPLATE.vocabularies[column.vocabulary].names[0]
    return SAMPLES[column.holds]


def survey_with(key, field, text):
    if TEMPLATE.by_key[key].layout == "table":
        return survey_of_texts(TEMPLATE, {key: [{field: text}]}, {}, first_row=5)
    return survey_of_texts(TEMPLATE, {}, {field: text}, first_row=5)


def test_every_stock_sheet_has_its_class():
    assert all(
        row_class(sheet.key) is not Row for sheet in TEMPLATE.sheets if sheet.layout in ("labels", "table")
    )
    assert row_class("a sheet of the firm") is Row


@pytest.mark.parametrize(("key", "attribute"), FIELDS)
def test_an_attribute_is_a_column_of_the_stock_template_and_holds_what_it_reads(key, attribute):
    column = TEMPLATE.by_key[key].by_field[attribute.name]
    survey = survey_with(key, attribute.name, sample(column))
    row = survey.tables[key][0] if TEMPLATE.by_key[key].layout == "table" else survey.job
    cell = attribute.__get__(row, type(row))
    assert cell.outcome is Outcome.VALUE
    (told,) = attribute.__orig_class__.__args__
    assert isinstance(cell.value, get_origin(told) if get_origin(told) is tuple else told)
    assert cell is row[attribute] is row[column]


def test_a_blank_cell_says_where_it_is():
    row = survey_with("clearances", "tag", "DP-1").clearances[0]
    assert (row.depth.outcome, row.depth.value, row.depth.heading) == (Outcome.BLANK, None, "Depth")
    assert row.depth.cell == row[Clearance.depth].cell != row.width.cell


def test_two_rows_with_the_same_words_are_two():
    rows = survey_of_texts(
        TEMPLATE, {"equipment": [{"tag": "DP-1"}, {"tag": "DP-1"}]}, {}, first_row=5
    ).equipment
    assert rows[0] != rows[1]
    assert len(set(rows)) == 2
    assert repr(Equipment.rating_a) == "Equipment.rating_a"

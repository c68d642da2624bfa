"""The fingerprint holds for the content of a survey, whatever its file looks like."""

import random

import pytest

from tests.rules.notes import BAKERY, typed_notes
from workbook_tools.checking import check_survey
from workbook_tools.definitions import load_template
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey import fingerprint

NOTES = typed_notes(BAKERY)
BEFORE = fingerprint(survey_of(NOTES))
CELLS = [
    (key, number, field)
    for key, rows in NOTES.tables.items()
    for number, row in enumerate(rows)
    for field in row
]


def changed(key: str, number: int, field: str, text: str) -> str:
    tables = {name: [dict(row) for row in rows] for name, rows in NOTES.tables.items()}
    tables[key][number][field] = text
    return fingerprint(survey_of(Typed(NOTES.job, tables)))


def test_any_answer_that_changes_changes_it():
    dice = random.Random(4)
    for key, number, field in dice.sample(CELLS, 60):
        text = NOTES.tables[key][number][field]
        other = "N/V" if text != "N/V" else "N/A"
        assert changed(key, number, field, other) != BEFORE, (key, number, field)


@pytest.mark.parametrize("field", list(NOTES.job))
def test_an_answer_of_the_job_sheet_changes_it(field: str):
    assert fingerprint(survey_of(Typed({**NOTES.job, field: ""}, NOTES.tables))) != BEFORE


def test_a_row_more_or_less_changes_it():
    fewer = {**NOTES.tables, "findings": NOTES.tables["findings"][1:]}
    assert fingerprint(survey_of(Typed(NOTES.job, fewer))) != BEFORE
    twice = {**NOTES.tables, "findings": [*NOTES.tables["findings"], NOTES.tables["findings"][0]]}
    assert fingerprint(survey_of(Typed(NOTES.job, twice))) != BEFORE


def test_the_order_of_rows_and_columns_does_not():
    turned = {
        key: [dict(reversed(row.items())) for row in reversed(rows)] for key, rows in NOTES.tables.items()
    }
    assert fingerprint(survey_of(Typed(NOTES.job, turned))) == BEFORE


def test_the_names_of_the_sheets_and_the_typing_of_a_number_do_not():
    survey = survey_of(NOTES)
    for row in survey.rows():
        row.sheet = f"{row.sheet} (2)"
    assert fingerprint(survey) == BEFORE
    place = next(n for n, row in enumerate(NOTES.tables["equipment"]) if row["tag"] == "MSB")
    assert changed("equipment", place, "rating_a", "1600") == BEFORE  # typed as 1600A in the notes


def test_live_cells_do_not():
    template = load_template("office")
    live = template.by_key["equipment"].live[0].field
    assert changed("equipment", 0, live, "typed over") == BEFORE


@pytest.mark.parametrize(
    ("key", "field", "plain", "with_words"),
    [
        ("equipment", "hand_motions", "2", "2 HOT"),
        ("equipment", "wires", "4", "4W HOT"),
        ("equipment", "kind", "Service disconnect", "Service disconnect (DO NOT USE)"),
        ("equipment", "rating_a", "225", "225 A DO NOT USE"),
        ("transformers", "kva", "75", "75 kVA DO NOT USE"),
    ],
)
def test_words_that_stand_beside_a_value_change_it_and_are_asked_about(key, field, plain, with_words):
    assert changed(key, 0, field, plain) != changed(key, 0, field, with_words)
    tables = {name: [dict(row) for row in rows] for name, rows in NOTES.tables.items()}
    tables[key][0][field] = with_words
    problems = check_survey(survey_of(Typed(NOTES.job, tables))).problems
    assert [p for p in problems if with_words in p.message and p.class_ == "confirm"]

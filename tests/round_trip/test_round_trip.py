"""A survey typed in with a real spreadsheet program says the same after any other saved it."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from tests.office.programs import Office
from tests.round_trip.saved_again import ONLY_XLSX, PROGRAMS
from tests.survey.surveys import BAKERY, said_by, sheets_of_notes
from workbook_tools.definitions import load_template
from workbook_tools.survey import Survey, read_survey

pytestmark = pytest.mark.office

OFFICE = load_template("office")


def blank_workbook(path: Path) -> Path:
    """Write the sheets and headings of the office template, every cell to type in as text."""
    book = xlsxwriter.Workbook(path)
    text = book.add_format({"num_format": "@"})
    book.set_custom_property("workbook-schema", "survey 1 office")
    for definition in OFFICE.sheets:
        sheet = book.add_worksheet(definition.name)
        if definition.layout == "guide":
            sheet.write_string(0, 0, "survey 1 office")
        elif definition.layout == "labels":
            for row, column in enumerate(definition):
                sheet.write_string(row, 0, column.heading)
                sheet.write_blank(row, 1, None, text)
        elif definition.layout == "table":
            sheet.write_string(0, 0, definition.ask)
            for column, defined in enumerate(definition):
                sheet.write_string(1, column, defined.heading)
                for row in range(2, 60):
                    if defined.live:
                        sheet.write_formula(row, column, f'=IF($A{row + 1}="","","ok")', None, "")
                    else:
                        sheet.write_blank(row, column, None, text)
    book.close()
    return path


@pytest.fixture(scope="module", params=["xlsx", "ods"])
def typed(request: pytest.FixtureRequest, office: Office, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("typed")
    blank = blank_workbook(folder / "blank.xlsx")
    return office.type_survey(blank, BAKERY, folder / f"bakery.{request.param}")


@pytest.fixture(scope="module")
def survey(typed: Path) -> Survey:
    return read_survey(typed)


def test_a_typed_survey_holds_exactly_the_field_notes(survey: Survey) -> None:
    notes = sheets_of_notes(BAKERY)
    for definition in OFFICE.sheets:
        if definition.layout == "table":
            rows = survey.tables[definition.key]
            assert [[row[c.field].typed for c in definition.typed] for row in rows] == notes[definition.name][1:]
    assert {value.typed for value in survey.job.values.values()} - {""} == {row[1] for row in notes["Job"][1:]}
    assert (survey.notes, survey.stray, survey.damage, survey.missing_sheets) == ([], [], [], [])


@pytest.mark.parametrize("program", PROGRAMS)
def test_a_survey_says_the_same_after_another_program_saved_it(
    program: str, typed: Path, survey: Survey, office: Office, tmp_path: Path
) -> None:
    if typed.suffix == ".ods" and program in ONLY_XLSX:
        typed = office.convert(typed, "xlsx")
    again = read_survey(PROGRAMS[program](office, typed, tmp_path))
    assert said_by(again) == said_by(survey)
    assert (again.template.name, again.stray, again.damage, again.missing_sheets) == ("office", [], [], [])

"""A survey typed in with a real spreadsheet program says the same after any other saved it.

The field notes of an invented bakery are typed into a blank survey workbook through
LibreOffice's own input parser, saved as .xlsx and as .ods, and both are then opened and saved
by eight programs and libraries. Beside the notes stand an expert's answers (expected.csv),
written by hand before the rules.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.office.programs import Office
from tests.round_trip.saved_again import ONLY_XLSX, PROGRAMS
from tests.rules.notes import expected_problems
from tests.sampling import drawn
from tests.survey.surveys import BAKERY, said_by, sheets_of_notes, typed_in
from workbook_tools.checking import check_survey
from workbook_tools.survey import Survey, read_survey

pytestmark = pytest.mark.office

ENDINGS = drawn("endings of a typed survey", ["xlsx", "ods"], lambda ending: "any")
TRIPS = [(ending, program) for program in PROGRAMS for ending in ENDINGS]


def kind_of_program(trip: tuple[str, str]) -> str:
    """Return what a sample holds one of: an office program, a library from PyPI, one from npm."""
    return {"openpyxl": "PyPI", "IronCalc": "PyPI", "exceljs": "npm", "npm xlsx": "npm"}.get(
        trip[1], "office"
    )


@pytest.fixture(scope="module", params=ENDINGS)
def typed(request: pytest.FixtureRequest, typed_bakery: Callable[[str], Path]) -> Path:
    return typed_bakery(request.param)


@pytest.fixture(scope="module")
def survey(typed: Path) -> Survey:
    return read_survey(typed)


def problems(survey: Survey) -> list[tuple[str, ...]]:
    checked = check_survey(survey)
    assert checked.crashed == []
    return [
        (p.rule, p.class_, p.sheet, p.cell, p.subject, p.field, p.read, p.message) for p in checked.problems
    ]


@pytest.mark.sampled
def test_a_typed_survey_holds_exactly_the_field_notes(survey: Survey) -> None:
    notes = sheets_of_notes(BAKERY)
    for definition in survey.template.sheets:
        if definition.layout == "table":
            headings, *noted = notes[definition.name]
            by_heading = {column.heading: column for column in definition.typed}
            columns = [by_heading[heading] for heading in headings]
            assert [
                [row[column].typed for column in columns] for row in survey.tables[definition.key]
            ] == noted
    assert {value.typed for value in survey.job.values.values()} - {""} == {
        row[1] for row in notes["Job"][1:]
    }
    assert (survey.template.name, survey.notes, survey.stray) == ("office", [], [])
    assert (survey.damage, survey.missing_sheets) == ([], [])
    assert [heading for heading in survey.headings if heading.field is None] == []


@pytest.mark.sampled
def test_a_typed_survey_has_exactly_the_experts_problems(survey: Survey) -> None:
    found = [(p.rule, p.subject, p.class_) for p in check_survey(survey).problems]
    expected = [(row["rule"], row["subject"], row["class"]) for row in expected_problems(BAKERY)]
    assert sorted(p for p in found if p[2] != "note") == sorted(p for p in expected if p[2] != "note")
    assert {p for p in expected if p[2] == "note"} <= set(found)


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("typed", "program"), drawn("round trips", TRIPS, kind_of_program), indirect=["typed"]
)
def test_a_survey_says_the_same_after_another_program_saved_it(
    program: str, typed: Path, survey: Survey, office: Office, tmp_path: Path
) -> None:
    if typed.suffix == ".ods" and program in ONLY_XLSX:
        typed = office.convert(typed, "xlsx")
    again = read_survey(PROGRAMS[program](office, typed, tmp_path))
    assert said_by(again) == said_by(survey)
    assert typed_in(again) == typed_in(survey)
    assert problems(again) == problems(survey)
    assert (again.template.name, again.notes, again.stray) == ("office", [], [])
    assert (again.damage, again.missing_sheets) == ([], [])
    assert again.number == survey.number != ""

"""The Job sheet, the template a file was made from, and files that are no survey."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from tests.survey.surveys import (
    EQUIPMENT,
    OFFICE,
    Sheets,
    reading,
    said_by,
    sheets_of_notes,
    tags,
    write_workbook,
)
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Damage, read_workbook
from workbook_tools.survey import Outcome, Survey, read_survey
from workbook_tools.survey.reading import survey_of

# -- Job


def test_labels_elsewhere_and_reworded_are_found(tmp_path: Path) -> None:
    job = [
        ["JOB DETAILS"],
        [],
        ["", "Building:", "", "Quarry Street Bakery", "", "left of the river"],
        ["", "Date of inspection", ":", "9/16/2026"],
        ["", "Inspected by", "", "Lead inspector"],
        ["", "Weather", "", "Dry"],
        ["", "Client", "", "", "ask at the desk"],
        ["", "Code edition", "", "2020 NEC"],
    ]
    survey = reading(tmp_path, {"Project": job, "Equipment": EQUIPMENT})
    assert survey.job.property.value == "Quarry Street Bakery"
    assert survey.job.inspection_date.value == date(2026, 9, 16)
    assert survey.job.code_profile.value == "nec-2020"
    assert survey.job.extra["Weather"].typed == "Dry"
    assert survey.job.client.outcome is Outcome.BLANK
    assert {"left of the river", "ask at the desk"} <= {value.typed for value in survey.stray}


def test_instructions_beside_blank_answers_are_no_answers(tmp_path: Path) -> None:
    job = OFFICE.by_key["job"]
    rows = [[column.heading, "", column.ask] for column in job]
    survey = reading(tmp_path, {"Job": rows, "Equipment": EQUIPMENT})
    assert {value.outcome for value in survey.job.values.values()} == {Outcome.BLANK}
    assert survey.job.inspector.cell == "B6"
    rows[0][1] = "Quarry Street Bakery"
    rows[2][2] = "an instruction of an older template"
    survey = reading(tmp_path, {"Job": rows, "Equipment": EQUIPMENT})
    assert survey.job.property.value == "Quarry Street Bakery"
    assert survey.job.client.outcome is Outcome.BLANK


def test_a_second_sheet_of_job_details_is_said(clean: Survey, tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Job (2)"] = [["Property", "Another building"], ["Inspector", "Somebody else"]]
    survey = reading(tmp_path, sheets)
    assert said_by(survey) == said_by(clean)
    assert any(
        note.startswith("The sheet Job (2) is another sheet of job details; Job was read")
        for note in survey.notes
    )
    assert "Another building" in [value.typed for value in survey.other_sheets["Job (2)"]]


def test_labels_across_the_top_have_their_answers_below(tmp_path: Path) -> None:
    job = [["Property", "Inspection date", "Inspector"], ["Bakery", "2026-09-16", "Lead inspector"]]
    survey = reading(tmp_path, {"Job": job, "Equipment": EQUIPMENT})
    assert (survey.job.property.value, survey.job.inspector.value) == ("Bakery", "Lead inspector")


# -- which template


def test_a_firm_may_put_the_tag_behind_other_columns(tmp_path: Path) -> None:
    office = OFFICE.by_key["equipment"]
    tag, *others = office.columns
    turned = replace(office, columns=(*others[:3], tag, *others[3:]))
    firm = replace(OFFICE, sheets=tuple(turned if sheet is office else sheet for sheet in OFFICE.sheets))
    path = write_workbook(tmp_path / "firm.xlsx", {"Gear": [*EQUIPMENT, ["Total", "", "", "", "2000"]]})
    survey = read_survey(path, firm)
    assert tags(survey) == ["MSB", "DP-1"]
    assert [value.typed for value in survey.stray] == ["Total", "2000"]


def test_the_file_names_its_template(tmp_path: Path) -> None:
    by_cell = {"Start here": [["survey 1 retail"]], "Equipment": EQUIPMENT}
    assert reading(tmp_path, by_cell, None).template.name == "retail"
    path = write_workbook(
        tmp_path / "p.xlsx", {"Equipment": EQUIPMENT}, {"workbook-schema": "\n survey 1 school \n"}
    )
    survey = read_survey(path)
    assert (survey.template.name, survey.notes) == ("school", [])


def test_a_file_that_names_no_template_is_read_as_office_and_says_so(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Equipment": EQUIPMENT}, None)
    assert survey.template.name == "office"
    assert any("--template" in note for note in survey.notes)


def test_a_template_of_a_firm_must_be_named(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Start here": [["survey 1 acme"]], "Equipment": EQUIPMENT}, None)
    assert any("'acme'" in note and "--template" in note for note in survey.notes)


def test_a_later_layout_is_said(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Start here": [["survey 7 office"]], "Equipment": EQUIPMENT}, None)
    assert any("later version" in note for note in survey.notes)


def test_an_unknown_template_asked_for_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match="ofice"):
        reading(tmp_path, {"Equipment": EQUIPMENT}, "ofice")


# -- no survey at all


@pytest.mark.parametrize(
    "sheets",
    [
        {"Sheet1": []},
        {"Budget": [["Month", "Rent", "Food"], ["May", 900, 300]]},
        {"People": [["Name", "Company", "Phone"], ["A. Tester", "Invented Ltd", "555-0100"]]},
        {"Job": [["Property", "Bakery"], ["Inspector", "Lead inspector"], ["Client", "Owner"]]},
    ],
)
def test_a_file_that_is_no_survey_is_refused_in_one_sentence(sheets: Sheets, tmp_path: Path) -> None:
    with pytest.raises(Unusable) as refused:
        reading(tmp_path, sheets, None)
    message = str(refused.value)
    assert message.startswith("messy.xlsx is no survey workbook")
    assert all(name in message for name in sheets)
    assert "\n" not in message


def test_the_refusal_names_the_nearest_headings(tmp_path: Path) -> None:
    people = {
        "People": [["Name", "Company", "Notes"], ["A. Tester", "Invented Ltd", "555-0100"]],
        "Plan": [["x"]],
    }
    with pytest.raises(Unusable, match="nearest are Name, Notes on People"):
        reading(tmp_path, people, None)


def test_damage_and_macros_are_said(tmp_path: Path) -> None:
    workbook = read_workbook(write_workbook(tmp_path / "s.xlsx", {"Equipment": EQUIPMENT}))
    workbook.damage.append(
        Damage("Equipment", "E9", "xyz", "This cell should hold a number; the file says xyz.")
    )
    workbook.has_macros = True
    survey = survey_of(workbook, "office")
    (damage,) = survey.damage
    assert (damage.outcome, damage.sheet, damage.cell, damage.typed) == (
        Outcome.UNREADABLE,
        "Equipment",
        "E9",
        "xyz",
    )
    assert "should hold a number" in damage.why
    assert any("macros" in note and "not run" in note for note in survey.notes)


@pytest.mark.parametrize(
    ("schema", "what"), [("review 1 office", "review workbook"), ("client schedule 1", "client schedule")]
)
def test_another_workbook_of_the_tool_is_no_survey(schema: str, what: str, tmp_path: Path) -> None:
    path = write_workbook(tmp_path / "other.xlsx", {"Schedule": EQUIPMENT}, {"workbook-schema": schema})
    with pytest.raises(Unusable, match=f"other.xlsx is a {what}, not a survey workbook"):
        read_survey(path)

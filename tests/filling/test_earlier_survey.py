"""Last year's survey workbook is carried over, and what is true of one visit is asked anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import Template, load_template
from workbook_tools.filling import Filling, read_fill
from workbook_tools.survey import Outcome, read_survey

BAKERY = Path(__file__).parents[1] / "data" / "bakery"
ASKED_ANEW = {
    "rooms": {"access", "lighting", "remarks"},
    "equipment": {"circuit_directory", "touch_test", "photos", "remarks"},
    "transformers": {"nameplate_photo", "remarks"},
    "findings": {"photos"},
}


@pytest.fixture(scope="module")
def template() -> Template:
    return load_template("office")


@pytest.fixture(scope="module")
def last_year(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the bakery's survey, with what an inspector adds to a workbook."""
    folder = tmp_path_factory.mktemp("last_year")
    path = folder / "last_year.xlsx"
    new_workbook(path, template="office", fill=BAKERY, rows=30)
    book = load_workbook(path)
    equipment = book["Equipment"]
    headings = {
        cell.value: cell.column for row in equipment.iter_rows(max_row=3) for cell in row if cell.value
    }
    free = equipment.max_column + 1
    equipment.cell(2, free, "Barcode")
    equipment.cell(3, free, "0017")
    equipment.cell(1, 5, "walked with the caretaker")
    equipment.cell(4, headings["Row check"], "looked at twice")
    equipment.cell(5, headings["Remarks"], "=1+1")
    book.create_sheet("My notes")["B3"] = "bring the long ladder"
    book.save(path)
    return path


@pytest.fixture(scope="module")
def filling(last_year: Path, template: Template) -> Filling:
    return read_fill(last_year, template)


def test_every_row_and_answer_is_carried(filling: Filling) -> None:
    notes = read_fill(BAKERY, load_template("office"))
    for key in ("rooms", "equipment", "transformers", "clearances", "findings", "not_inspected"):
        asked_anew = ASKED_ANEW.get(key, set())
        typed = [{f: t for f, t in row.items() if f not in asked_anew} for row in notes.tables[key]]
        names = {f for row in typed for f in row}
        carried = [{f: t for f, t in row.items() if f in names} for row in filling.tables[key]]
        assert carried == typed


def test_what_is_true_of_one_visit_is_blank_and_its_old_answer_kept(filling: Filling) -> None:
    first = filling.tables["equipment"][0]
    assert "touch_test" not in first
    assert first["Touch test on 2026-09-16"] == "No alert"
    assert first["Photos on 2026-09-16"] == "QS_0101.jpg"
    assert filling.tables["rooms"][0]["Access on 2026-09-16"] == "Entered"
    assert "access" not in filling.tables["rooms"][0]
    assert filling.extra_columns["transformers"] == ["Nameplate photo on 2026-09-16"]
    assert filling.tables["rooms"][5]["Lighting on 2026-09-16"] == "No"
    assert filling.tables["rooms"][5]["Remarks on 2026-09-16"] == "Lamp out"
    assert filling.tables["equipment"][7]["Circuit directory on 2026-09-16"] == "Missing"


def test_the_date_and_the_report_number_are_not_answered_again(filling: Filling) -> None:
    assert filling.job["property"] == "Quarry Street Bakery and Cold Store"
    assert not {"inspection_date", "report_no", "power_on", "inspector", "scope_notes"} & filling.job.keys()
    assert ("Inspector of the survey of 2026-09-16", "Lead inspector") in filling.extra_job
    assert ("Report no. of the survey of 2026-09-16", "QS-2026-031") in filling.extra_job


def test_what_the_inspector_added_is_kept(filling: Filling) -> None:
    assert filling.tables["equipment"][0]["Barcode"] == "0017"
    carried = {s.name: s.rows for s in filling.extra_sheets}
    assert [row[2] for row in carried["Carried over"][1:]] == ["walked with the caretaker", "looked at twice"]
    assert carried["My notes"] == (("bring the long ladder",),)


def test_last_years_photos_are_a_list_of_their_own(filling: Filling) -> None:
    assert "photos" not in filling.tables
    photos = {s.name: s.rows for s in filling.extra_sheets}["Photos on 2026-09-16"]
    assert photos[0] == ("File on 2026-09-16", "Subject on 2026-09-16", "Caption on 2026-09-16")
    assert photos[1] == ("QS_0101.jpg", "SD-1", "Service disconnect")
    assert len(photos) == 3


def test_the_workbook_s_own_words_and_live_cells_are_not_carried(filling: Filling) -> None:
    kept = [t for s in filling.extra_sheets for row in s.rows for t in row]
    kept += [h for headings in filling.extra_columns.values() for h in headings]
    for own in ("Start here", "Volts to ground", "Touch nothing before", "Workings"):
        assert not any(own in text for text in kept), own


def test_the_report_says_so(filling: Filling) -> None:
    assert filling.report is not None
    said = "\n".join(filling.report.lines)
    assert "This is the survey of 2026-09-16: what is true of one visit is asked anew" in said
    assert "Touch test (Equipment)" in said


def test_the_new_workbook_reads_as_this_years(last_year: Path, tmp_path: Path) -> None:
    path = tmp_path / "this_year.xlsx"
    made = new_workbook(path, template="office", fill=last_year, job={"Date": "2027-09-15"}, rows=30)
    assert made.filled is not None
    survey = read_survey(path)
    assert survey.job.inspection_date.typed == "2027-09-15"
    assert survey.job.report_no.outcome is Outcome.BLANK
    assert len(survey.equipment) == 23
    assert survey.equipment[0].rating_a.value == 1600
    assert survey.equipment[0].extra["Barcode"].typed == "0017"
    assert all(row.touch_test.outcome is Outcome.BLANK for row in survey.equipment)
    assert survey.photos == []
    assert not survey.missing_sheets


def test_a_prepared_workbook_without_a_date_is_carried_whole(template: Template, tmp_path: Path) -> None:
    (tmp_path / "equipment.csv").write_text("Tag,Touch test\nLP-1,No alert\n", encoding="utf-8")
    new_workbook(tmp_path / "a.xlsx", template="office", fill=tmp_path / "equipment.csv", rows=5)
    filling = read_fill(tmp_path / "a.xlsx", template)
    assert filling.tables["equipment"] == [{"tag": "LP-1", "touch_test": "No alert"}]
    assert not filling.extra_job
    assert not filling.extra_sheets
    assert filling.job == {"code_profile": "nec-2023", "dimension_unit": "in"}

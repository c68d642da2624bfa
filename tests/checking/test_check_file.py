"""From a survey file to its review workbook, and back again."""

import csv
import shutil
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from tests.rules.notes import BAKERY, expected_problems
from workbook_tools import new as new_workbook
from workbook_tools.commands import check
from workbook_tools.errors import Unusable
from workbook_tools.review import desk, read_review


@pytest.fixture(scope="module")
def bakery(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bakery")
    notes = folder / "notes"
    shutil.copytree(BAKERY, notes, ignore=shutil.ignore_patterns("expected.csv"))
    new_workbook(folder / "bakery.xlsx", fill=notes, rows=40)
    return folder / "bakery.xlsx"


def test_a_survey_file_gives_exactly_the_experts_problems(bakery: Path):
    found = [(p.rule, p.subject, p.class_) for p in check(bakery).problems if p.class_ != "note"]
    expected = [
        (r["rule"], r["subject"], r["class"]) for r in expected_problems(BAKERY) if r["class"] != "note"
    ]
    assert sorted(found) == sorted(expected)


def test_the_survey_file_is_left_as_it_was(bakery: Path, tmp_path: Path):
    before = bakery.read_bytes()
    check(bakery, output=tmp_path / "review.xlsx")
    assert bakery.read_bytes() == before


def test_answers_given_in_the_review_file_are_carried_over(bakery: Path, tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = check(bakery, output=path)
    book = openpyxl.load_workbook(path)
    sheet = book["Problems"]
    columns = {cell.value: cell.column for cell in sheet[1]}
    for row in range(2, sheet.max_row + 1):
        if sheet.cell(row, columns["Rule"]).value:
            sheet.cell(row, columns["Disposition"]).value = "include"
    book.save(path)
    check(bakery, output=path)
    review = read_review(path)
    assert len(review.entries) == len(desk(first))
    assert {entry.disposition for entry in review.entries} == {"Tell the client"}
    assert review.seal.mark
    elsewhere = tmp_path / "second.xlsx"
    check(bakery, output=elsewhere, earlier=path)
    assert {entry.disposition for entry in read_review(elsewhere).entries} == {"Tell the client"}


def test_the_photo_folder_is_looked_into(bakery: Path, tmp_path: Path):
    with (BAKERY / "photos.csv").open(encoding="utf-8", newline="") as file:
        names = [row["File"] for row in csv.DictReader(file)]
    for name in (*names, "QS_9999.jpg"):
        (tmp_path / name).write_bytes(b"")
    problems = check(bakery, photos=tmp_path).problems
    missing = {problem.read for problem in problems if problem.rule == "photo-missing"}
    assert "QS_0102.jpg" in missing
    assert not missing & set(names)
    assert [problem.subject for problem in problems if problem.rule == "photo-unused"] == ["QS_9999.jpg"]


def test_the_survey_itself_is_never_the_review(bakery: Path):
    before = bakery.read_bytes()
    with pytest.raises(Unusable, match="is the survey itself"):
        check(bakery, output=bakery)
    assert bakery.read_bytes() == before


def test_a_file_that_is_no_review_is_not_written_over(bakery: Path, tmp_path: Path):
    other = tmp_path / "somebody's.xlsx"
    book = openpyxl.Workbook()
    book.active.append(["a", "b"])
    book.save(other)
    before = other.read_bytes()
    with pytest.raises(Unusable, match="is no review workbook"):
        check(bakery, output=other)
    assert other.read_bytes() == before


@pytest.mark.parametrize("stands_there", [True, False])
def test_an_output_that_is_no_workbook_is_refused_as_an_output(
    bakery: Path, tmp_path: Path, stands_there: bool
):
    target = tmp_path / "list.csv"
    if stands_there:
        target.write_text("Panel,Amps\n", encoding="utf-8")
    with pytest.raises(Unusable, match=r"^list\.csv: the review is written as .* such as list\.xlsx\.$"):
        check(bakery, output=target)
    assert target.exists() is stands_there


def test_photos_that_are_no_pictures_are_told_before_the_delivery(bakery: Path, tmp_path: Path):
    from PIL import Image

    for name in ("a.jpg", "b.png", "c.gif", "d.bmp", "e.tif", "f.webp"):
        Image.new("RGB", (4, 4)).save(tmp_path / name)
    assert not [said for said in check(bakery, photos=tmp_path).said if "The photo" in said]
    (tmp_path / "empty.jpg").touch()
    (tmp_path / "page.jpg").write_text("<!DOCTYPE html>", encoding="utf-8")
    told = [said for said in check(bakery, photos=tmp_path).said if "The photo" in said]
    assert [said.split()[2] for said in told] == ["empty.jpg", "page.jpg"]
    assert "empty file" in told[0]


def test_a_code_profile_that_cannot_be_used_is_said_in_one_sentence(bakery: Path):
    from workbook_tools.checking import check_survey

    survey = check(bakery).survey
    survey.template = replace(survey.template, amendments="no such file.toml")
    with pytest.raises(Unusable, match=r"The template office cannot be used: .*no such file"):
        check_survey(survey)


@pytest.mark.parametrize(("cells", "said"), [(1, "its one cell was kept"), (2, "its 2 cells were kept")])
def test_a_sheet_of_somebody_else_is_counted_in_good_english(tmp_path: Path, cells: int, said: str):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Equipment"
    sheet.append(["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage"])
    sheet.append(["DP-1", "Panelboard", "Yard", "Utility", 400, "480Y/277"])
    book.create_sheet("Lunch").append(["soup", "bread"][:cells])
    book.save(tmp_path / "survey.xlsx")
    assert any(said in note for note in check(tmp_path / "survey.xlsx").survey.notes)

"""A review belongs to one survey, told by its number, its property and its report number."""

from pathlib import Path

import pytest

from tests.review.test_review_workbook import checked
from workbook_tools.commands import check, new
from workbook_tools.errors import Unusable
from workbook_tools.review import WhichSurvey, another_survey, read_review, write_review
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey import Survey, read_survey
from workbook_tools.survey.origin import draw_number

HERE, THERE = "2345-6789-ABCD", "EFGH-JKMN-PQRS"


def survey(
    name: str = "Harbour House", report: str = "", number: str = HERE, file: str = "survey.xlsx"
) -> Survey:
    made = survey_of(as_typed(job={"property": name, "report_no": report}))
    made.number, made.path = number, Path(file)
    return made


def refused(theirs: Survey, ours: Survey) -> str:
    return another_survey("review.xlsx", WhichSurvey.of(theirs), ours)


SAME = {
    "the same": (survey(), survey()),
    "saved under another name": (survey(), survey(file="final.xlsx")),
    "a report number filled in later": (survey(), survey(report="12-7")),
    "a property filled in later": (survey(""), survey()),
    "spelled with other spaces and case": (survey(), survey("harbour  house")),
    "a name corrected under one report number": (survey("Harbor House", "12-7"), survey(report="12-7")),
    "made by hand, without a number": (survey(number=""), survey(number="")),
    "a number that was lost": (survey(), survey(number="")),
    "nothing known but the file": (survey("", number=""), survey(number="")),
}
OTHER = {
    "another number": (survey(), survey(number=THERE)),
    "another property": (survey(), survey("Mill Lane")),
    "another property, by hand": (survey(number=""), survey("Mill Lane", number="")),
    "another report of one workbook": (survey(report="12-7"), survey(report="13-1")),
    "another property and no number on one": (survey(), survey("Mill Lane", number="")),
    "a name corrected without a report number": (survey("Harbor House"), survey()),
    "a number where the review has none": (survey(number=""), survey()),
    "a copy without a property": (survey(), survey("")),
    "nothing known, another file": (survey("", number=""), survey("", number="", file="b.xlsx")),
}


@pytest.mark.parametrize("pair", SAME.values(), ids=SAME)
def test_it_is_the_same_survey(pair):
    assert refused(*pair) == ""


@pytest.mark.parametrize("pair", OTHER.values(), ids=OTHER)
def test_it_is_another_survey_and_both_are_named(pair):
    said = refused(*pair)
    assert WhichSurvey.of(pair[0]).in_words in said
    assert WhichSurvey.of(pair[1]).in_words in said


def test_a_corrected_name_is_written_into_the_review_as_the_refusal_says(tmp_path):
    from openpyxl import load_workbook

    path = tmp_path / "survey.xlsx"
    new(path, rows=3, job={"Property": "Harbor House"})
    check(path, output=tmp_path / "review.xlsx")
    book = load_workbook(path)
    cell = next(c for row in book["Job"].iter_rows() for c in row if c.value == "Harbor House")
    cell.value = "Harbour House"
    book.save(path)
    with pytest.raises(
        Unusable,
        match=r"beside Property and Report no\. on the sheet Sign-off of review\.xlsx .*: Harbour House, blank\.",
    ):
        check(path, output=tmp_path / "review.xlsx")
    book = load_workbook(tmp_path / "review.xlsx")
    cell = next(c for row in book["Sign-off"].iter_rows() for c in row if c.value == "Harbor House")
    cell.value = "Harbour House"
    book.save(tmp_path / "review.xlsx")
    check(path, output=tmp_path / "review.xlsx")
    assert read_review(tmp_path / "review.xlsx").which.building == "Harbour House"


def test_every_new_survey_has_a_number_of_its_own_that_is_kept_where_it_is_given(tmp_path):
    numbers = set()
    for name in ("a.xlsx", "b.xlsx"):
        new(tmp_path / name, rows=2)
        numbers.add(read_survey(tmp_path / name).number)
    assert len(numbers) == 2
    assert "" not in numbers
    number = draw_number()
    new(tmp_path / "again.xlsx", rows=2, number=number)
    assert read_survey(tmp_path / "again.xlsx").number == number


def test_write_review_takes_no_answer_from_another_survey(tmp_path):
    earlier = write_review(checked(folder=tmp_path), tmp_path / "review.xlsx")
    other = checked(folder=tmp_path)
    other.survey.number, earlier.which = THERE, earlier.which._replace(number=HERE)
    before = (tmp_path / "review.xlsx").read_bytes()
    with pytest.raises(Unusable, match="nothing was written"):
        write_review(other, tmp_path / "review.xlsx", earlier)
    assert (tmp_path / "review.xlsx").read_bytes() == before

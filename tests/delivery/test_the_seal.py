"""Every way to come by a signed delivery after something has changed: each is refused, and named.

A `Change` is what somebody does after the reviewer signed, and what the refusal has to say.
"""

import csv
import re
import shutil
import zipfile
from collections.abc import Callable, Mapping
from io import StringIO
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple

import pytest
from openpyxl import load_workbook

from tests.delivery.made_surveys import (
    DAY,
    SHEETS,
    deliver,
    edit_review,
    picture,
    review_and_sign,
    sign,
    table,
    write_survey,
)
from workbook_tools.commands import check, new
from workbook_tools.errors import Unusable
from workbook_tools.review import read_review

READY: dict[str, Any] = SHEETS | {
    "Clearances": [*SHEETS["Clearances"][:2], ["RP-1", "Clear", "36", "1.07 m", "N/V", "20"]]
}
PHOTOS = ("QS_0104.jpg", "qs_0107.jpg", "QS_0108.jpg", "QS_0109.jpg", "QS_0110.jpg")
ANSWERS = {
    "confirm": ("No issue", "asked on site, and seen again"),
    "working-depth-short": ("Leave out", "measured again: 42 in"),
}
TEMPLATE = '[template]\nname = "firm"\nextends = "office"\n'
AMENDED = TEMPLATE + 'amendments = "county.toml"\n'


class Job:
    """A job as it lies on a reviewer's disk, checked, answered and signed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.survey, self.review = folder / "survey.xlsx", folder / "review.xlsx"
        self.template, self.photos = folder / "firm.toml", folder / "photos"

    def make(self) -> None:
        write_survey(self.survey, READY)
        self.template.write_text(TEMPLATE, encoding="utf-8")
        self.photos.mkdir()
        for number, name in enumerate(PHOTOS):
            (self.photos / name).write_bytes(picture(size=(90 + number, 60)))
        review_and_sign(self.survey, self.review, ANSWERS, photos=self.photos, template=self.template)

    def deliver(self, name: str = "delivery", **options: Any) -> Any:
        options = {"review": self.review, "photos": self.photos, "template": self.template} | options
        return deliver(self.survey, output=self.folder / name, **options)

    def write(self, sheet: str, row: int, column: int, text: str) -> None:
        sheets = {name: [list(cells) for cells in rows] for name, rows in READY.items()}
        sheets[sheet][row][column] = text
        write_survey(self.survey, sheets)

    def add_to_template(self, text: str) -> None:
        self.template.write_text(self.template.read_text(encoding="utf-8") + text, encoding="utf-8")


@pytest.fixture(scope="module")
def as_signed(tmp_path_factory) -> Path:
    folder: Path = tmp_path_factory.mktemp("signed")
    Job(folder).make()
    return folder


@pytest.fixture
def job(as_signed, tmp_path) -> Job:
    shutil.copytree(as_signed, tmp_path, dirs_exist_ok=True)
    return Job(tmp_path)


def rows_of_problems(review: Path, change: Callable[[dict[str, int], list[Any], Any], None]) -> None:
    book = load_workbook(review)
    sheet = book["Problems"]
    headings, rows = table(sheet)
    change(headings, [row for row in rows if row[headings["Rule"]].value], sheet)
    book.save(review)


def emptied(headings: dict[str, int], rows: list[Any], sheet: Any) -> None:
    sheet.delete_rows(rows[0][0].row, rows[-1][0].row - rows[0][0].row + 1)


def without_a_row(headings: dict[str, int], rows: list[Any], sheet: Any) -> None:
    sheet.delete_rows(rows[0][0].row)


def with_a_row_copied(headings: dict[str, int], rows: list[Any], sheet: Any) -> None:
    row = next(row for row in rows if row[headings["Disposition"]].value == "Leave out")
    for cell in row:
        sheet.cell(sheet.max_row + (cell.column == 1), cell.column).value = cell.value
    sheet.cell(sheet.max_row, headings["Disposition"] + 1).value = "Tell the client"


def with_subjects_sorted_alone(headings: dict[str, int], rows: list[Any], sheet: Any) -> None:
    cells = [row[headings["Subject"]] for row in rows]
    texts = [cell.value for cell in cells]
    for cell, text in zip(cells, [*texts[3:], *texts[:3]], strict=True):
        cell.value = text


def sign_off_cell(job: Job, label: str, text: str) -> None:
    book = load_workbook(job.review)
    for row in book["Sign-off"].iter_rows():
        if row[0].value == label:
            row[1].value = text
    book.save(job.review)


def without_the_seal(job: Job) -> None:
    book = load_workbook(job.review)
    del book["Seal"]
    book.save(job.review)


def with_an_edited_seal(job: Job) -> None:
    book = load_workbook(job.review)
    book["Seal"]["B5"].value = '["rooms",["Roof",{"access":"Entered"}]]'
    book.save(job.review)


class Change(NamedTuple):
    do: Callable[[Job], object]
    says: str
    options: Mapping[str, Any] = MappingProxyType({})


CHANGES = {
    "a measured depth": Change(
        lambda job: job.write("Clearances", 2, 2, "42"),
        r"Clearances!C3 \(RP-1, Depth\) was 36 in, is 42 in\.",
    ),
    "a word beside a value": Change(
        lambda job: job.write("Equipment", 1, 1, "Panelboard (DO NOT USE)"),
        r"Equipment!B2 \(DP-1, Kind\) was Panelboard, is Panelboard \(typed: Panelboard \(DO NOT USE\)\)",
    ),
    "a row more": Change(
        lambda job: write_survey(job.survey, READY | {"Rooms": [*READY["Rooms"], ["Yard", "Entered"]]}),
        r"Rooms, row 4: Yard is new\.",
    ),
    "a row less": Change(
        lambda job: write_survey(job.survey, READY | {"Findings": READY["Findings"][:2]}),
        r"Findings: DP-1 is gone\.",
    ),
    "another code profile": Change(
        lambda job: job.write("Job", 3, 1, "nec-2014"),
        r"Job!B4 \(Job, Code profile\) was nec-2023, is nec-2014.*Code profile: was nec-2023, is nec-2014"
        r"|Code profile\) was nec-2023, is nec-2014",
    ),
    "another picture of the same name": Change(
        lambda job: (job.photos / "QS_0110.jpg").write_bytes(picture("blue")),
        r"What was reviewed in review\.xlsx has changed since .* Photo QS_0110\.jpg is another picture",
    ),
    "a photo taken out": Change(
        lambda job: (job.photos / "QS_0110.jpg").unlink(),
        r"Photo QS_0110(\.jpg)? is (named no longer|not in the folder)",
    ),
    "a rule switched off": Change(
        lambda job: job.add_to_template(
            '\n[rules.rating-not-standard]\noff = true\nreason = "Agreed with the client"\n'
        ),
        r"Template: rule rating-not-standard is switched off \(Agreed with the client\)\.",
    ),
    "a rule given another priority": Change(
        lambda job: job.add_to_template(
            '\n[rules.working-depth-short]\npriority = "Record"\nreason = "Old building"\n'
        ),
        r"Template: rule working-depth-short is given the priority Record",
    ),
    "another finding library": Change(
        lambda job: job.add_to_template(
            '\n[[findings]]\ncode = "WS-99"\nname = "Bicycle in front"\ncategory = "Working space"\nlook_for = "x"\n'
            'why = "x"\npriority = "Record"\naction = "Move it."\nsection = "110.26(B)"\nsource = "29CFR1910.303"\n'
            'status = "common practice"\n'
        ),
        r"Template: (priority of the )?finding (of )?.*Bicycle in front",
    ),
    "an amendment": Change(
        lambda job: (
            job.template.write_text(AMENDED, encoding="utf-8"),
            (job.folder / "county.toml").write_text(
                'basis = "County ordinance (invented)"\n[width]\nminimum_in = 36\n', encoding="utf-8"
            ),
        ),
        r"Code profile: width inches was 30, is 36\.",
    ),
    "another template": Change(
        lambda job: None,
        r"was made with the template firm \(firm\.toml\).*--template firm\.toml",
        {"template": None},
    ),
    "no photo folder any more": Change(
        lambda job: None,
        r"5 different photo files are named and no folder was given",
        {"photos": None, "without_photos": False},
    ),
    "a review without its rows": Change(
        lambda job: rows_of_problems(job.review, emptied),
        r"problems that were found are not in review\.xlsx: .*Run check again",
    ),
    "a review without one of its rows": Change(
        lambda job: rows_of_problems(job.review, without_a_row),
        r"One problem that was found is not in review\.xlsx",
    ),
    "a row answered twice": Change(
        lambda job: rows_of_problems(job.review, with_a_row_copied),
        r"Problems!C\d+ and Problems!C\d+ of review\.xlsx answer the same problem differently",
    ),
    "a column sorted by itself": Change(
        lambda job: rows_of_problems(job.review, with_subjects_sorted_alone),
        r"answers of review\.xlsx match no problem: rows \d+, \d+",
    ),
    "an answer of another word": Change(
        lambda job: edit_review(job.review, "working-depth-short", Disposition="later"),
        r"answered at Problems!C\d+, is answered 'later'",
    ),
    "a reason taken out": Change(
        lambda job: edit_review(job.review, "working-depth-short", Reason=None),
        r"is left out without a reason",
    ),
    "the name taken out": Change(
        lambda job: sign(job.review, "", "2026-09-20"), r"review\.xlsx names no reviewer"
    ),
    "a date that is still to come": Change(
        lambda job: sign(job.review, date="2026-11-02"), r"dated 2026-11-02, which is after today \(2026-11-01\)"
    ),
    "a date before the inspection": Change(
        lambda job: sign(job.review, date="Sept 15, 2026"), r"dated 2026-09-15, before the inspection on 2026-09-16"
    ),
    "a changed statement": Change(
        lambda job: sign_off_cell(job, "Statement", "I have seen the basement only."),
        r"The statement on the sheet Sign-off of review\.xlsx was changed",
    ),
    "a statement taken out": Change(
        lambda job: sign_off_cell(job, "Statement", ""), r"The statement .* was taken away"
    ),
    "the seal taken out": Change(without_the_seal, r"The sheet Seal of the review is gone"),
    "the seal written over": Change(with_an_edited_seal, r"The seal of the review was written over"),
}  # fmt: skip


def test_unchanged_it_is_delivered_twice(job):
    assert job.deliver().folder.is_dir()
    assert job.deliver("again").folder.is_dir()


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_after_a_change_nothing_signed_is_delivered_and_the_change_is_named(job, change):
    change.do(job)
    with pytest.raises(Unusable, match=f"(?s){change.says}"):
        job.deliver(**change.options)
    assert not (job.folder / "delivery").exists()
    assert not list(job.folder.glob("* - for the file.csv"))


@pytest.mark.parametrize(
    "name", ["not signed", "N/A", "TBD", "?", "x", "-", "12", "unsigned", "pending", "XXX", "Reviewer"]
)
def test_what_is_no_name_signs_nothing(job, name):
    sign(job.review, name)
    with pytest.raises(Unusable, match="where the reviewer's name is needed"):
        job.deliver()


@pytest.mark.parametrize("date", ["yesterday", "N/A", "2026", "31.02.2026", "x"])
def test_what_is_no_date_dates_nothing(job, date):
    sign(job.review, date=date)
    with pytest.raises(Unusable, match="which is no date: write one like 2026-11-01"):
        job.deliver()


@pytest.mark.parametrize("date", ["2026-09-20", "9/20/2026", "20 Sep 2026", "Sept. 20th, 2026", "20.9.2026"])
def test_a_date_is_read_in_the_usual_forms_and_printed_in_one(job, date):
    sign(job.review, date=date)
    made = job.deliver()
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    assert read_review(job.review).sign_off.date == "2026-09-20"
    assert '"date": "2026-09-20"' in (made.folder / "schedule.json").read_text(encoding="utf-8")
    assert "2026-09-20: survey.xlsx" in made.record.read_text(encoding="utf-8")


# ---------------------------------------------------------------- answers after the signature


def test_answers_changed_after_a_delivery_need_another_signature(job):
    job.deliver()
    edit_review(job.review, "working-depth-short", Disposition="Tell the client", Reason="")
    with pytest.raises(Unusable) as refused:
        job.deliver("second")
    said = str(refused.value)
    assert "review.xlsx has other answers than those delivered under the same signature" in said
    assert "was Leave out | measured again: 42 in, is Tell the client" in said
    # A check in between does not make the old signature hold for the new answers.
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    with pytest.raises(Unusable, match="has other answers than those delivered under the same signature"):
        job.deliver("second")
    # As the refusal says: name and date cleared, checked again, signed again.
    sign(job.review, "", "")
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    sign(job.review)
    assert job.deliver("second").folder.is_dir()


def test_answers_changed_after_a_signed_review_was_checked_again_are_named(job):
    kept = check(job.survey, output=job.review, photos=job.photos, template=job.template)
    assert read_review(job.review).sign_off.is_signed
    assert any("The signature of R. Reviewer (invented) (2026-09-20) holds" in line for line in kept.said)
    assert job.deliver("same").folder.is_dir()
    edit_review(job.review, "working-depth-short", Disposition="Tell the client", Reason="")
    with pytest.raises(
        Unusable, match=r"(?s)Answers: working-depth-short of DP-1 .* was Leave out \| .*, is Tell"
    ):
        job.deliver()
    checked = check(job.survey, output=job.review, photos=job.photos, template=job.template)
    assert any("and that no longer holds" in line and "working-depth-short" in line for line in checked.said)
    assert not read_review(job.review).sign_off.is_signed


@pytest.mark.parametrize(("saved", "told"), [("2026-09-21T15:00:00Z", True), ("2026-09-20T15:00:00Z", False)])
def test_a_review_that_was_saved_after_the_day_of_its_signature_is_told(job, saved, told):
    def saved_then(kind: str, content: bytes) -> bytes:
        return re.sub(rb"(<dcterms:modified[^>]*>)[^<]*", rb"\g<1>" + saved.encode(), content)

    rewrite_part(job.review, "docProps/core.xml", saved_then)
    said = [line for line in job.deliver().lines if "It was last saved on 2026-09-21" in line]
    assert bool(said) is told
    # Where the signed review was checked once more, its answers are sealed, and nothing is left to say.
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    assert not [line for line in job.deliver("again").lines if "not sealed" in line]


def test_another_name_under_a_sealed_review_is_named(job):
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    book = load_workbook(job.review)
    sheet = book["Sign-off"]
    cell = next(
        cell
        for row in sheet.iter_rows()
        for cell in row
        if cell.value == read_review(job.review).sign_off.reviewer
    )
    cell.value = "Q. Other"
    book.save(job.review)
    with pytest.raises(Unusable, match=r"(?s)the signature .*was .*, is Q\. Other"):
        job.deliver()
    checked = check(job.survey, output=job.review, photos=job.photos, template=job.template)
    assert any("no longer holds" in line for line in checked.said)


def test_a_mark_that_was_taken_away_is_told(job):
    book = load_workbook(job.review)
    sheet = book["Sign-off"]
    mark = read_review(job.review).seal.said_mark
    next(cell for row in sheet.iter_rows() for cell in row if cell.value == mark).value = None
    book.save(job.review)
    with pytest.raises(Unusable, match="was written over"):
        job.deliver()


def rewrite_part(workbook: Path, name: str, change: Callable[[str, bytes], bytes]) -> None:
    with zipfile.ZipFile(workbook) as package:
        parts = {part: package.read(part) for part in package.namelist()}
    with zipfile.ZipFile(workbook, "w", zipfile.ZIP_DEFLATED) as package:
        for part, content in parts.items():
            package.writestr(part, change(part, content) if part == name else content)


def test_own_issues_and_words_added_after_the_signature_are_named(job):
    check(job.survey, output=job.review, photos=job.photos, template=job.template)
    book = load_workbook(job.review)
    headings, rows = table(book["Problems"])
    own = next(row for row in rows if row[headings["Class"]].value == "your own")
    own[headings["Subject"]].value, own[headings["What is wrong"]].value = "DP-1", "The door is blocked"
    book.save(job.review)
    with pytest.raises(Unusable, match=r"Answers: your own issue DP-1: The door is blocked is"):
        job.deliver()


def test_a_check_that_finds_a_change_takes_the_signature_off_and_says_so(job):
    job.write("Clearances", 2, 2, "42")
    checked = check(job.survey, output=job.review, photos=job.photos, template=job.template)
    (lapsed,) = [line for line in checked.said if "no longer holds" in line]
    assert "R. Reviewer (invented) signed on 2026-09-20" in lapsed
    assert "Clearances!C3 (RP-1, Depth) was 36 in, is 42 in." in lapsed
    review = read_review(job.review)
    assert not review.sign_off.is_signed
    assert any(entry.disposition == "Leave out" for entry in review.entries)


# ---------------------------------------------------------------- another building


def another(job: Job, folder: str = "other") -> Job:
    """Make a second job beside the first, of another property with the same rows."""
    other = Job(job.folder / folder)
    other.folder.mkdir()
    other.make()
    sheets = READY | {"Job": [["Property", "Mill Lane (invented)"], *READY["Job"][1:]]}
    write_survey(other.survey, sheets)
    other.review.unlink()
    review_and_sign(other.survey, other.review, ANSWERS, photos=other.photos, template=other.template)
    return other


def test_another_buildings_review_is_refused_by_both_commands_naming_both(job):
    other = another(job)
    before = other.review.read_bytes()
    says = r"Mill Lane \(invented\).*Harbour House \(invented\): no answer goes from one building to another"
    with pytest.raises(Unusable, match=says):
        job.deliver(review=other.review)
    with pytest.raises(Unusable, match=says):
        job.deliver(review=other.review, draft=True)
    with pytest.raises(Unusable, match=says):
        check(job.survey, output=other.review)
    with pytest.raises(Unusable, match=says):
        check(job.survey, output=job.folder / "new.xlsx", earlier=other.review)
    with pytest.raises(Unusable, match=says):
        check(job.survey, output=other.review, earlier=job.review)
    assert other.review.read_bytes() == before
    assert not (job.folder / "new.xlsx").exists()


def test_the_next_edition_of_a_building_is_another_survey(job):
    this_year, next_year = job.folder / "this_year.xlsx", job.folder / "next_year.xlsx"
    for edition in (this_year, next_year):
        new(edition, fill=job.survey, template=job.template, rows=5)
    before = job.folder / "review of this year.xlsx"
    check(this_year, output=before, template=job.template)
    for review in (job.review, before):
        with pytest.raises(Unusable, match="no answer goes from one building to another"):
            check(next_year, output=review, template=job.template)
        with pytest.raises(Unusable, match="no answer goes from one building to another"):
            deliver(next_year, output=job.folder / "d", review=sign(review), template=job.template)


def test_a_review_copied_to_another_building_answers_nothing_there(job):
    other = another(job)
    shutil.copyfile(job.review, other.review)
    with pytest.raises(Unusable, match="no answer goes from one building to another"):
        other.deliver()


@pytest.mark.parametrize("name", ["survey.xlsx", "schedule.xlsx", "somebody's.xlsx"])
def test_check_writes_over_nothing_but_this_surveys_review(job, name):
    made = job.deliver()
    load_workbook(job.review).save(job.folder / "other.xlsx")
    target = {"survey.xlsx": job.survey, "schedule.xlsx": made.folder / "schedule.xlsx"}.get(
        name, job.folder / name
    )
    if not target.exists():
        write_survey(target, {"Notes": [["mine"]]})
    before = target.read_bytes()
    with pytest.raises(Unusable):
        check(job.survey, output=target)
    assert target.read_bytes() == before


# ---------------------------------------------------------------- photos and the firm's record


def test_photos_that_are_named_are_asked_for(job):
    with pytest.raises(
        Unusable, match=r"5 different photo files are named .* --photos, or say --without-photos"
    ):
        job.deliver(photos=None, without_photos=False)
    made = job.deliver(photos=None, without_photos=True)
    assert not (made.folder / "photos").exists()
    assert "Delivered without photos." in made.record.read_text(encoding="utf-8")
    with pytest.raises(Unusable, match="leave one of them out"):
        job.deliver("both", without_photos=True)


def test_a_review_made_without_photos_does_not_cover_them(job):
    review_and_sign(job.survey, job.folder / "bare.xlsx", ANSWERS, template=job.template)
    with pytest.raises(Unusable, match="The review was made without the photo folder"):
        job.deliver(review=job.folder / "bare.xlsx")


def test_a_picture_pasted_into_the_survey_is_sealed_with_or_without_the_photo_folder(job):
    def paste(colour: str) -> None:
        write_survey(job.survey, READY, [("Findings", 1, 5, picture(colour), "floating")])

    paste("green")
    bare = review_and_sign(job.survey, job.folder / "bare.xlsx", ANSWERS, template=job.template)
    assert job.deliver("same", review=bare, photos=None, without_photos=True).folder.is_dir()
    paste("yellow")
    with pytest.raises(Unusable, match=r"Picture pasted on Findings is another picture"):
        job.deliver(review=bare, photos=None, without_photos=True)


def test_the_record_names_what_the_delivery_was_made_from(job):
    made = job.deliver()
    text = made.record.read_bytes().decode("utf-8-sig")
    rows = list(csv.DictReader(StringIO(text, newline="")))
    said = {row["What"]: row["Message"] for row in rows}
    assert said["Survey"].startswith("survey.xlsx: Harbour House (invented)")
    assert said["Template"] == "firm (firm.toml)."
    assert said["Code profile"].endswith("(nec-2023).")
    assert said["Review"].startswith("review.xlsx, checked on 20")
    assert [row["Message"].partition(",")[0] for row in rows if row["What"] == "Photo used"] == sorted(PHOTOS)
    answers = [row for row in rows if row["What"] == "Answer"]
    assert len(answers) == sum(any(entry.answer) for entry in read_review(job.review).entries)
    assert {row["Reason"] for row in rows if row["What"] == "No issue"} == {ANSWERS["confirm"][1]}


# ---------------------------------------------------------------- two reviews


def test_two_reviews_are_taken_as_one_where_they_agree(job):
    second = review_and_sign(
        job.survey, job.folder / "second.xlsx", {"confirm": ANSWERS["confirm"]}, reviewer="S. Second (invented)",
        date="2026-09-22", photos=job.photos, template=job.template,
    )  # fmt: skip
    made = job.deliver(review=[job.review, second])
    said = (made.folder / "schedule.json").read_text(encoding="utf-8")
    assert '"reviewer": "R. Reviewer (invented) and S. Second (invented)"' in said
    assert '"date": "2026-09-22"' in said
    assert any("1 problem left out" in line for line in made.lines)


def test_two_reviews_that_disagree_are_refused_naming_both_cells(job):
    second = review_and_sign(
        job.survey, job.folder / "second.xlsx", {**ANSWERS, "working-depth-short": ("Tell the client", "")},
        reviewer="S. Second (invented)", photos=job.photos, template=job.template,
    )  # fmt: skip
    says = r"Problems!C\d+ of review\.xlsx and Problems!C\d+ of second\.xlsx answer .* differently"
    with pytest.raises(Unusable, match=says):
        job.deliver(review=[job.review, second])


def test_each_of_two_reviews_must_be_signed(job):
    second = review_and_sign(
        job.survey, job.folder / "second.xlsx", ANSWERS, reviewer="", photos=job.photos, template=job.template
    )
    with pytest.raises(Unusable, match=r"second\.xlsx names no reviewer"):
        job.deliver(review=[job.review, second])


def test_the_day_of_the_tests_is_a_day_of_the_calendar_and_not_of_the_clock(job):
    sign(job.review, date=DAY.isoformat())
    assert job.deliver().folder.is_dir()


def test_another_firms_name_after_the_signature_is_named(job):
    job.add_to_template('[firm]\nname = "Quay Surveys (invented)"\n')
    with pytest.raises(Unusable, match=r"(?s)Template: firm .*Quay Surveys"):
        job.deliver()


def test_a_signed_review_is_not_checked_without_its_photos(job):
    before = job.review.read_bytes()
    with pytest.raises(Unusable, match="name their folder with --photos"):
        check(job.survey, output=job.review, template=job.template)
    assert job.review.read_bytes() == before

"""A delivery from end to end: what is refused, what the client gets, what the firm keeps."""

import csv
import errno
import json
import shutil
import sys
from io import StringIO
from pathlib import Path
from typing import Any

import frictionless
import pytest
from openpyxl import load_workbook

from tests.delivery.made_surveys import SHEETS, deliver, picture, review_and_sign, write_survey
from tests.files.injection_payloads import PAYLOADS
from tests.sampling import drawn, in_groups_of
from workbook_tools.errors import Unusable
from workbook_tools.files.contents import LIST
from workbook_tools.schedule.recorder import printable
from workbook_tools.typesetting.typesetter import NO_TYPESETTER

READY: dict[str, Any] = SHEETS | {
    "Clearances": [
        SHEETS["Clearances"][0],
        SHEETS["Clearances"][1],
        ["RP-1", "Clear", "36", "1.07 m", "N/V", "20"],
    ]
}
"""The same job with nothing left to correct."""

FILES = {"schedule.xlsx", "schedule.json", "data/datapackage.json", "data/equipment.csv", "data/issues.csv"}


@pytest.fixture(scope="module")
def as_signed(tmp_path_factory) -> Path:
    folder: Path = tmp_path_factory.mktemp("signed")
    review_and_sign(write_survey(folder / "survey.xlsx", READY), folder / "review.xlsx")
    return folder


@pytest.fixture
def survey(tmp_path, as_signed) -> Path:
    return shutil.copy(as_signed / "survey.xlsx", tmp_path / "survey.xlsx")


@pytest.fixture
def review(tmp_path, as_signed) -> Path:
    return shutil.copy(as_signed / "review.xlsx", tmp_path / "review.xlsx")


def names_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def texts_of(workbook: Path, *sheets: str) -> list[str]:
    book = load_workbook(workbook)
    return [
        str(cell.value)
        for sheet in book.worksheets
        if not sheets or sheet.title in sheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    ]


def rows_of(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(path.read_bytes().decode("utf-8-sig"), newline="")))


def test_a_signed_review_is_delivered_whole(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    assert names_in(made.folder) >= FILES
    assert {path.relative_to(made.folder).as_posix() for path in made.files} == names_in(made.folder)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "delivery", "delivery - for the file.csv", "review.xlsx", "survey.xlsx",
    ]  # fmt: skip
    assert made.lines[0] == f"{tmp_path / 'delivery'} holds the schedule of Harbour House (invented)."
    report = frictionless.validate(str(made.folder / "data" / "datapackage.json"))
    assert report.flatten(["type", "message"]) == []


def test_the_survey_and_the_review_are_left_as_they_were(tmp_path, survey, review):
    before = survey.read_bytes(), review.read_bytes()
    deliver(survey, output=tmp_path / "delivery", review=review)
    assert (survey.read_bytes(), review.read_bytes()) == before


def test_the_json_holds_what_the_workbook_says(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    said = json.loads((made.folder / "schedule.json").read_text(encoding="utf-8"))
    assert said["schema"] == "client schedule 2"
    assert said["signed"] == {"reviewer": "R. Reviewer (invented)", "date": "2026-09-20"}
    assert said["draft"] is False
    texts = texts_of(made.folder / "schedule.xlsx")
    for condition in said["conditions"]:
        assert condition["seen"] in texts
    assert str(survey.parent) not in json.dumps(said)


def test_without_a_review_it_stops_and_says_how(tmp_path, survey):
    with pytest.raises(Unusable, match=r"There is no review workbook: make it with check -o"):
        deliver(survey, output=tmp_path / "delivery")
    assert not (tmp_path / "delivery").exists()


@pytest.mark.parametrize(
    ("reviewer", "date", "says"), [("", "2026-09-20", "names no reviewer"), ("R.", " ", "has no date")]
)
def test_a_sign_off_needs_a_name_and_a_date(tmp_path, survey, reviewer, date, says):
    review = review_and_sign(survey, tmp_path / "review.xlsx", reviewer=reviewer, date=date)
    with pytest.raises(Unusable, match=says):
        deliver(survey, output=tmp_path / "delivery", review=review)


def test_a_survey_changed_after_the_sign_off_is_refused(tmp_path, survey, review):
    changed = READY | {"Rooms": [*READY["Rooms"], ["Yard", "Entered"]]}
    write_survey(survey, changed)
    with pytest.raises(Unusable, match=r"survey\.xlsx has changed since the sign-off \(R\. Reviewer"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    made = deliver(survey, output=tmp_path / "draft", review=review, draft=True)
    assert "R. Reviewer" not in " ".join(texts_of(made.folder / "schedule.xlsx"))


def test_the_same_survey_saved_again_is_not_refused(tmp_path, survey, review):
    load_workbook(survey).save(survey)
    assert deliver(survey, output=tmp_path / "delivery", review=review).folder.is_dir()


def test_what_is_to_be_corrected_stops_it_with_a_list(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx", SHEETS)
    review = review_and_sign(survey, tmp_path / "review.xlsx", {"*": ("Mended", "")}, reviewer="")
    with pytest.raises(Unusable) as refused:
        deliver(survey, output=tmp_path / "delivery", review=review)
    lines = str(refused.value).splitlines()
    assert lines[0].startswith("survey.xlsx was not delivered.")
    assert any("names no reviewer" in line for line in lines)
    assert any(
        line.startswith("  - Clearances!C3 (RP-1, unreadable-value), answered at Problems!C")
        and ", marked Mended, is still there" in line
        for line in lines
    )
    assert not (tmp_path / "delivery").exists()


def test_what_is_left_out_is_kept_for_the_file_and_not_for_the_client(tmp_path, survey):
    answers = {"working-depth-short": ("Leave out", "measured again on 21 September: 42 in")}
    review = review_and_sign(survey, tmp_path / "review.xlsx", answers)
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    issues = rows_of(made.folder / "data" / "issues.csv")
    assert not [row for row in issues if "42 in" in row["seen"]]
    kept = [row for row in rows_of(made.record) if row["What"] == "Left out"]
    assert [(row["Rule"], row["Cell"], row["Reason"]) for row in kept] == [
        ("working-depth-short", "C2", "measured again on 21 September: 42 in")
    ]
    everything = (
        " ".join(texts_of(made.folder / "schedule.xlsx")) + (made.folder / "schedule.json").read_text()
    )
    assert "measured again on 21 September" not in everything
    assert any("1 problem left out with a reason" in line for line in made.lines)


def test_what_is_included_or_not_answered_reaches_the_client(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    issues = rows_of(made.folder / "data" / "issues.csv")
    assert [row for row in issues if row["subject"] == "DP-1" and "42 in" in row["seen"]]


def test_questions_that_nobody_answered_stand_among_the_limits(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    limits = " ".join(row["what"] + row["reason"] for row in rows_of(made.folder / "data" / "limits.csv"))
    assert "No row of Equipment is a service disconnect" in limits
    assert sum("not answered" in line for line in made.lines) == 1
    answers = {"confirm": ("No issue", "seen again on site")}
    answered = review_and_sign(survey, tmp_path / "answered.xlsx", answers, date="2026-09-21")
    again = deliver(survey, output=tmp_path / "again", review=answered)
    assert not any("not answered" in line for line in again.lines)


def test_a_draft_is_marked_on_every_page_and_lists_what_is_open(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx", SHEETS)
    made = deliver(survey, output=tmp_path / "draft", draft=True)
    book = load_workbook(made.folder / "schedule.xlsx")
    for sheet in book.worksheets:
        page = sheet.oddHeader.left.text, sheet.oddHeader.center.text, sheet.oddHeader.right.text
        foot = sheet.oddFooter.left.text, sheet.oddFooter.center.text, sheet.oddFooter.right.text
        assert "DRAFT" in " ".join(text or "" for text in (*page, *foot)), sheet.title
    assert json.loads((made.folder / "schedule.json").read_text())["title"].startswith("DRAFT: ")
    assert "as a DRAFT" in made.lines[0]
    assert any("knee high" in line for line in made.lines)
    assert any("There is no review workbook" in line for line in made.lines)
    limits = " ".join(row["reason"] for row in rows_of(made.folder / "data" / "limits.csv"))
    assert "knee high" in limits


def test_a_delivery_is_marked_nowhere_as_a_draft(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    for sheet in load_workbook(made.folder / "schedule.xlsx").worksheets:
        parts = (sheet.oddHeader.left, sheet.oddHeader.center, sheet.oddHeader.right, sheet.oddFooter.left,
                 sheet.oddFooter.center, sheet.oddFooter.right)  # fmt: skip
        assert "DRAFT" not in " ".join(part.text or "" for part in parts)
    assert not [text for text in texts_of(made.folder / "schedule.xlsx") if "DRAFT" in text]


def test_photos_are_delivered_by_number_and_the_rest_is_said(tmp_path, survey):
    photos = tmp_path / "photos"
    photos.mkdir()
    for name in ("QS_0104.jpg", "qs_0107.JPG", "QS_0108.jpg", "QS_0109.jpg", "QS_0110.jpg", "QS_0777.jpg"):
        (photos / name).write_bytes(picture(size=(300, 200)) + name.encode())
    review = review_and_sign(survey, tmp_path / "review.xlsx", photos=photos)
    made = deliver(survey, output=tmp_path / "delivery", review=review, photos=photos)
    assert sorted(path.name for path in (made.folder / "photos").iterdir()) == [
        f"photo-{n:03}.jpg" for n in range(1, 6)
    ]
    listed = rows_of(made.folder / "data" / "delivered_photos.csv")
    assert [(row["number"], row["file"]) for row in listed][:2] == [
        ("1", "photos/photo-001.jpg"),
        ("2", "photos/photo-002.jpg"),
    ]
    assert any("QS_0777.jpg in the folder is named nowhere" in line for line in made.lines)
    book = load_workbook(made.folder / "schedule.xlsx")
    assert sum(len(sheet._images) for sheet in book.worksheets) >= 5


def test_a_missing_photo_stops_it_and_is_named(tmp_path, survey):
    (tmp_path / "photos").mkdir()
    review = review_and_sign(survey, tmp_path / "review.xlsx", photos=tmp_path / "photos")
    with pytest.raises(Unusable, match=r"photo-missing.*QS_0104"):
        deliver(survey, output=tmp_path / "delivery", review=review, photos=tmp_path / "photos")


def test_nothing_is_overwritten_without_force(tmp_path, survey, review):
    (tmp_path / "delivery").mkdir()
    (tmp_path / "delivery" / "notes.txt").write_text("the firm's")
    with pytest.raises(Unusable, match="exists already and was left as it is"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert names_in(tmp_path / "delivery") == {"notes.txt"}
    with pytest.raises(Unusable, match="has no list of its files"):
        deliver(survey, output=tmp_path / "delivery", review=review, force=True)
    assert names_in(tmp_path / "delivery") == {"notes.txt"}


def test_a_forced_delivery_deletes_nothing_that_is_not_its_own(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    mine = ("photos/full size.jpg", "data/pivot.xlsx", "letter.docx")
    for name in mine:
        (made.folder / name).parent.mkdir(exist_ok=True)
        (made.folder / name).write_text("mine")
    made = deliver(survey, output=tmp_path / "delivery", review=review, force=True)
    assert names_in(made.folder) >= {*FILES, *mine}
    assert {(made.folder / name).read_text() for name in mine} == {"mine"}
    assert made.lines[-1] == (
        "data/pivot.xlsx, letter.docx, photos/full size.jpg were not written by this tool and stayed in the folder: "
        "look whether the client is to have them."
    )
    assert {path.relative_to(made.folder).as_posix() for path in made.files} == names_in(made.folder) - {
        *mine
    }


@pytest.mark.parametrize(
    "name", ["delivery/schedule.xlsx", "delivery/data/equipment.csv", "delivery - for the file.csv"]
)
def test_a_forced_delivery_replaces_nothing_that_was_changed_by_hand(tmp_path, survey, review, name):
    deliver(survey, output=tmp_path / "delivery", review=review)
    (tmp_path / name).write_text("with my notes")
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    with pytest.raises(Unusable, match=f"{name.removeprefix('delivery/')} was changed since it was written"):
        deliver(survey, output=tmp_path / "delivery", review=review, force=True)
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("output", ["photos/delivery", "photos", "link/delivery", "photos/../photos/x"])
def test_the_photo_folder_is_no_place_to_deliver_to(tmp_path, survey, review, output):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "QS_0104.jpg").write_bytes(picture())
    (tmp_path / "link").symlink_to(tmp_path / "photos")
    with pytest.raises(
        Unusable, match=r"lies in photos, the photo folder|holds photos, which the delivery is made"
    ):
        deliver(
            survey,
            output=tmp_path / output,
            review=review,
            photos=tmp_path / "photos",
            draft=True,
            force=True,
        )
    assert names_in(tmp_path / "photos") == {"QS_0104.jpg"}


@pytest.mark.parametrize(
    "step",
    ["write_schedule", "write_data", "write_record"],
)
def test_a_full_disk_is_said_and_leaves_nothing(tmp_path, survey, review, monkeypatch, step):
    def full(*_: Any, **__: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(f"workbook_tools.delivery.folder.{step}", full)
    with pytest.raises(Unusable, match="cannot be written \\(no space left on device\\)"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["review.xlsx", "survey.xlsx"]


def test_what_stands_in_the_way_is_said_before_the_photos_take_their_time(
    tmp_path, survey, review, monkeypatch
):
    from workbook_tools.delivery import folder

    (tmp_path / "delivery").mkdir()
    (tmp_path / "delivery" / "x").write_text("x")
    monkeypatch.setattr(folder, "gather_photos", lambda *_: pytest.fail("the photos were prepared"))
    with pytest.raises(Unusable, match="exists already"):
        deliver(survey, output=tmp_path / "delivery", review=review)


def test_a_rule_that_failed_is_told(tmp_path, survey, monkeypatch):
    from dataclasses import replace

    from workbook_tools.checking import running

    rules = dict(running.catalogue())

    def broken(_: Any) -> Any:
        raise KeyError("broken")

    rules["working-depth-short"] = replace(rules["working-depth-short"], check=broken)
    monkeypatch.setattr(running, "catalogue", lambda: rules)
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    assert any("The rule working-depth-short failed" in line for line in made.lines)
    limits = rows_of(made.folder / "data" / "limits.csv")
    assert any("The comparison failed" in row["reason"] for row in limits)


def test_delivering_again_names_the_folder_that_stands_there(tmp_path, survey, review):
    deliver(survey, output=tmp_path / "delivery", review=review)
    with pytest.raises(Unusable, match=r"delivery exists already"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert deliver(survey, output=tmp_path / "delivery", review=review, force=True).record.is_file()


def test_the_firms_record_is_not_overwritten_without_force(tmp_path, survey, review):
    (tmp_path / "delivery - for the file.csv").write_text("of last year")
    with pytest.raises(Unusable, match=r"for the file\.csv exists already"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert not (tmp_path / "delivery").exists()
    assert (tmp_path / "delivery - for the file.csv").read_text() == "of last year"


def test_a_forced_delivery_leaves_no_photo_of_the_one_before(tmp_path, survey, review, monkeypatch):
    from workbook_tools.delivery import folder

    write = folder.write_schedule

    def with_more(finished: Any, path: Path) -> Any:
        (path.parent / "photos").mkdir()
        (path.parent / "photos" / "photo-009.jpg").write_bytes(b"old")
        return write(finished, path)

    monkeypatch.setattr(folder, "write_schedule", with_more)
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    assert names_in(made.folder) >= {"photos/photo-009.jpg"}
    monkeypatch.undo()
    made = deliver(survey, output=tmp_path / "delivery", review=review, force=True)
    assert not names_in(made.folder) & {"photos/photo-009.jpg"}


@pytest.mark.parametrize("output", [".", "..", "sub/.."])
def test_a_folder_that_holds_the_survey_is_no_place_to_deliver_to(
    tmp_path, survey, review, output, monkeypatch
):
    (tmp_path / "sub").mkdir()
    monkeypatch.chdir(tmp_path)
    with pytest.raises(Unusable, match="which the delivery is made from"):
        deliver(survey, output=output, review=review, force=True)
    assert survey.is_file()


@pytest.mark.parametrize("output", ["", "/", "a\0b"])
def test_what_names_no_folder_is_said(survey, review, output):
    with pytest.raises(Unusable, match=r"names no folder|which the delivery is made from"):
        deliver(survey, output=output, review=review)


def test_an_empty_folder_may_be_filled_from_within(tmp_path, survey, review, monkeypatch):
    (tmp_path / "delivery").mkdir()
    monkeypatch.chdir(tmp_path / "delivery")
    made = deliver(survey, output=".", review=review)
    assert names_in(tmp_path / "delivery") >= FILES
    assert made.record == tmp_path / "delivery - for the file.csv"


PLACES = {
    "Job": [1, 2, 3], "Rooms": [], "Equipment": [8, 10], "Findings": [3], "Photos": [2], "Not inspected": [0, 1, 2],
}  # fmt: skip


STARTS = range(0, len(PAYLOADS), 6)


@pytest.mark.sampled
@pytest.mark.parametrize("start", drawn("deliveries of payloads", STARTS, in_groups_of(4, STARTS)))
def test_no_published_payload_runs_or_links_in_the_clients_workbook(tmp_path, start):
    payloads = iter([*PAYLOADS[start : start + 6]] * 4)
    sheets = {name: [list(row) for row in rows] for name, rows in READY.items()}
    sheets["Job"][0][1] = PAYLOADS[start]
    for name, columns in PLACES.items():
        for row in sheets[name][1:] if name != "Job" else []:
            for column in columns:
                row[column] = next(payloads, row[column])
    survey = write_survey(tmp_path / "survey.xlsx", sheets)
    made = deliver(survey, output=tmp_path / "draft", draft=True)
    book = load_workbook(made.folder / "schedule.xlsx")
    cells = [cell for sheet in book.worksheets for row in sheet.iter_rows() for cell in row]
    assert [cell.coordinate for cell in cells if cell.data_type == "f"] == []
    assert [
        cell.hyperlink.target for cell in cells if cell.hyperlink is not None and cell.hyperlink.target
    ] == []
    # As it is printed: without marks that nobody sees.
    shown = printable(PAYLOADS[start]).strip()
    assert any(str(cell.value).strip() == shown or shown.split()[0] in str(cell.value) for cell in cells)
    assert frictionless.validate(str(made.folder / "data" / "datapackage.json")).valid
    for table in (made.folder / "data").glob("*.csv"):
        for row in csv.reader(StringIO(table.read_text(encoding="utf-8"), newline="")):
            assert not [text for text in row if text.startswith(("=", "+", "@", "\t", "\r", "\n"))]
    assert {path.name for path in made.folder.iterdir()} == {
        "schedule.xlsx",
        "schedule.pdf",
        "schedule.json",
        "data",
        LIST,
    }


def test_without_the_typesetter_the_delivery_goes_out_and_a_sentence_says_so(
    tmp_path, survey, review, monkeypatch
):
    monkeypatch.setitem(sys.modules, "typst", None)
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    assert made.lines[-1] == NO_TYPESETTER
    assert names_in(made.folder) >= {"schedule.xlsx", "schedule.json"}
    assert "schedule.pdf" not in names_in(made.folder)


def test_a_workbook_that_is_not_as_meant_is_not_delivered(tmp_path, survey, review, monkeypatch):
    from workbook_tools.delivery import folder

    write = folder.write_schedule

    def wrong(finished: Any, path: Path) -> Any:
        meant = write(finished, path)
        book = load_workbook(path)
        book.worksheets[1]["A1"].value = "something else"
        book.save(path)
        return meant

    monkeypatch.setattr(folder, "write_schedule", wrong)
    with pytest.raises(Unusable, match=r"is not what was meant: .*A1"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["review.xlsx", "survey.xlsx"]


def test_a_schedule_without_a_firms_name_says_so(tmp_path, survey, review):
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    assert any("No firm's name is on it" in line for line in made.lines)

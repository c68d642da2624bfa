"""The review workbook: written, read back, carried over."""

import datetime
from collections import Counter
from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest
from PIL import Image

from tests.rules.notes import BAKERY, typed_notes
from workbook_tools.checking import Checked, check_survey
from workbook_tools.errors import Unusable
from workbook_tools.photos.folder import list_photos
from workbook_tools.review import (
    DISPOSITIONS,
    Entry,
    OwnIssue,
    Review,
    changes,
    desk,
    read_review,
    write_review,
)
from workbook_tools.review.answers import answer_of
from workbook_tools.review.columns import PRINTED, PROBLEM_COLUMNS
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import survey_of

SAVED = Path(__file__).resolve().parents[1] / "data" / "saved_reviews"
FIRST, LATER = datetime.date(2026, 9, 20), datetime.date(2026, 10, 1)


def checked(typed: Typed | None = None, folder: Path = Path()) -> Checked:
    survey = survey_of(typed or typed_notes(BAKERY))
    survey.path = folder / "survey.xlsx"
    return check_survey(survey)


def answered(review: Review, **by_rule: tuple[str, str]) -> Review:
    """Return the review with the answers of a reviewer, by rule (with _ for -)."""
    answers = {rule.replace("_", "-"): answer for rule, answer in by_rule.items()}
    entries = [
        replace(e, disposition=answers[e.problem.rule][0], reason=answers[e.problem.rule][1])
        if e.problem.rule in answers
        else e
        for e in review.entries
    ]
    return replace(review, entries=entries, _alike=None)


def bakery_with(table: str, tag: str, **cells: str) -> Typed:
    typed = typed_notes(BAKERY)
    rows = [{**row, **cells} if row.get("tag") == tag else row for row in typed.tables[table]]
    return Typed(typed.job, {**typed.tables, table: rows})


def test_what_was_written_is_read_back(tmp_path: Path):
    result = checked(folder=tmp_path)
    written = write_review(result, tmp_path / "review.xlsx", today=FIRST)
    read = read_review(tmp_path / "review.xlsx")
    found = [replace(e.problem, order=(0, 0, 0)) for e in written.entries]
    assert found == [e.problem for e in read.entries]
    assert {entry.first_seen for entry in read.entries} == {"2026-09-20"}
    assert read.seal.mark == read.seal.said_mark == written.seal.mark
    assert dict(read.seal.parts).keys() == dict(written.seal.parts).keys()
    assert read.which == written.which
    assert not read.sign_off.is_signed
    assert read.said == []
    assert all(read.answer_to(problem) is not None for problem in desk(result))


def test_answers_stay_with_problems_that_still_stand_wherever_their_rows_went(tmp_path: Path):
    first = answered(
        write_review(checked(folder=tmp_path), tmp_path / "review.xlsx", today=FIRST),
        working_depth_short=("Leave out", "Covered by the lease"),
        second_entrance_check=("No issue", "two doors"),
    )
    typed = typed_notes(BAKERY)
    moved = Typed(typed.job, {key: list(rows)[::-1] for key, rows in typed.tables.items()})
    second = write_review(checked(moved, tmp_path), tmp_path / "again.xlsx", first, today=LATER)
    by_rule = {(e.problem.rule, e.problem.subject): e for e in second.entries}
    for tag in ("DP-1", "ATS-1"):
        entry = by_rule["working-depth-short", tag]
        assert (entry.disposition, entry.reason, entry.remark) == ("Leave out", "Covered by the lease", "")
        assert entry.first_seen == "2026-09-20"
    assert by_rule["second-entrance-check", "MSB"].disposition == "No issue"
    assert second.closed == []


def test_a_problem_that_reads_differently_is_open_again_and_says_what_it_was(tmp_path: Path):
    first = answered(
        write_review(checked(folder=tmp_path), tmp_path / "r.xlsx", today=FIRST),
        working_depth_short=("Tell the client", ""),
    )
    second = write_review(
        checked(bakery_with("clearances", "DP-1", depth="39"), tmp_path),
        tmp_path / "r.xlsx",
        first,
        today=LATER,
    )
    entry = next(
        e for e in second.entries if (e.problem.rule, e.problem.subject) == ("working-depth-short", "DP-1")
    )
    assert (entry.disposition, entry.remark) == ("", "was: 38, answered Tell the client")
    other = next(
        e for e in second.entries if (e.problem.rule, e.problem.subject) == ("working-depth-short", "ATS-1")
    )
    assert other.disposition == "Tell the client"


def test_an_answer_does_not_outlive_the_figures_it_was_given_for(tmp_path: Path):
    # The depth reads the same, but another opposite side asks for more.
    first = answered(
        write_review(checked(folder=tmp_path), tmp_path / "r.xlsx", today=FIRST),
        working_depth_short=("Tell the client", ""),
    )
    second = write_review(
        checked(bakery_with("clearances", "DP-1", opposite_side="Live parts"), tmp_path),
        tmp_path / "r.xlsx",
        first,
    )
    entry = next(
        e for e in second.entries if (e.problem.rule, e.problem.subject) == ("working-depth-short", "DP-1")
    )
    assert entry.disposition == ""


def test_what_was_mended_moves_to_closed_with_the_date_and_comes_back_if_it_does(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = answered(
        write_review(checked(folder=tmp_path), path, today=FIRST), fed_from_unknown=("Mended", "")
    )
    mended = bakery_with("equipment", "RP-4", fed_from="RP-2")
    write_review(checked(mended, tmp_path), path, first, today=LATER)
    read = read_review(path)
    assert "fed-from-unknown" not in {entry.problem.rule for entry in read.entries}
    assert [
        (c.entry.problem.rule, c.entry.problem.subject, c.entry.disposition, c.closed_on) for c in read.closed
    ] == [("fed-from-unknown", "RP-4", "Mended", "2026-10-01")]
    third = write_review(checked(folder=tmp_path), path, read, today=LATER)
    back = next(entry for entry in third.entries if entry.problem.rule == "fed-from-unknown")
    assert (back.remark, back.first_seen) == ("was closed on 2026-10-01 and is back", "2026-09-20")


def test_a_sign_off_holds_for_the_state_that_was_signed_only(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = write_review(checked(folder=tmp_path), path, today=FIRST)
    signed = replace(first, sign_off=replace(first.sign_off, reviewer="R. Viewer", date="2026-09-21"))
    same = write_review(checked(folder=tmp_path), path, signed, today=LATER)
    assert (same.sign_off.reviewer, same.sign_off.is_signed) == ("R. Viewer", True)
    changed = write_review(
        checked(bakery_with("clearances", "DP-1", depth="44"), tmp_path), path, signed, today=LATER
    )
    assert not changed.sign_off.is_signed
    (lapsed,) = changed.lapsed
    assert lapsed.startswith("R. Viewer signed on 2026-09-21, and that no longer holds")
    assert "Clearances!D" in lapsed
    assert "(DP-1, Depth) was 38 in, is 44 in." in lapsed


def test_a_name_typed_into_the_sign_off_by_hand_is_read(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    result = checked(folder=tmp_path)
    write_review(result, path, today=FIRST)
    book = openpyxl.load_workbook(path)
    sheet = book["Sign-off"]
    labels = {sheet.cell(row, 1).value: row for row in range(1, 20)}
    sheet.cell(labels["Reviewer"], 2).value = "R. Viewer"
    sheet.cell(labels["Date"], 2).value = datetime.datetime(2026, 9, 21)
    book["Problems"].insert_cols(1)
    book.move_sheet("Sign-off", -3)
    book["Problems"].title = "Everything found"
    book.save(path)
    read = read_review(path)
    assert read.sign_off.is_signed
    assert (read.sign_off.reviewer, read.sign_off.date) == ("R. Viewer", "2026-09-21")
    assert len(read.entries) == len(desk(result))


@pytest.mark.parametrize(
    ("typed", "class_", "meant"),
    [(name, "confirm", name) for name in DISPOSITIONS]
    + [
        ("leave-out", "report", "Leave out"),
        (" FIXED ", "correct", "Mended"),
        ("ask inspector", "confirm", "Ask the inspector"),
        ("not an issue", "confirm", "No issue"),
        # The words of earlier workbooks.
        ("Include", "report", "Tell the client"),
        ("included", "note", "Tell the client"),
        ("Confirmed", "confirm", "No issue"),
        ("ok", "confirm", "No issue"),
        ("Confirmed", "report", "Tell the client"),
        ("Confirmed", "note", ""),
        (" ", "report", ""),
    ],
)
def test_the_usual_spellings_of_an_answer_are_understood(typed: str, class_: str, meant: str):
    assert answer_of(typed, Problem.from_record({"class_": class_})) == meant


def test_confirmed_of_earlier_workbooks_lets_a_limit_stand():
    no_clearance = Problem.from_record({"rule": "no-clearance-record", "class_": "confirm"})
    assert answer_of("Confirmed", no_clearance) == "Tell the client"


def test_an_answer_that_is_none_is_kept_and_said(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = answered(write_review(checked(folder=tmp_path), path), duplicate_tag=("ask Tom", ""))
    write_review(checked(folder=tmp_path), path, first)
    read = read_review(path)
    assert next(e for e in read.entries if e.problem.rule == "duplicate-tag").disposition == "ask Tom"
    assert len(read.said) == 1
    assert (
        "'ask Tom' is none of Mended, Ask the inspector, No issue, Tell the client, Leave out" in read.said[0]
    )
    assert read.said[0].startswith("Problems!C")


def test_every_problem_has_a_link_to_its_cell_and_the_text_beside_it(tmp_path: Path):
    result = checked(folder=tmp_path / "a survey's folder")
    write_review(result, tmp_path / "review.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "review.xlsx")["Problems"]
    at = {column.field: number for number, column in enumerate(PROBLEM_COLUMNS, 1)}
    rows = [row for row in range(2, sheet.max_row + 1) if sheet.cell(row, at["rule"]).value]
    for row, problem in zip(rows, desk(result), strict=True):
        cell = sheet.cell(row, at["cell"])
        assert (sheet.cell(row, at["sheet"]).value, cell.value) == (problem.sheet, problem.cell)
        assert cell.hyperlink is not None
        assert cell.hyperlink.location == f"'{problem.sheet}'!{problem.cell}"
        # The writer's library spells a folder in a link the way Windows does; programs elsewhere take both.
        assert cell.hyperlink.target.replace("%20", " ").replace("\\", "/") == "a survey's folder/survey.xlsx"


def test_nothing_typed_becomes_a_formula_or_a_link(tmp_path: Path):
    bad = ("=1+1", "+T1", "@SUM(A1)", "-2", "https://example.invalid/x", '=HYPERLINK("x")')
    typed = as_typed(equipment=[{"tag": text, "kind": text, "fed_from": text} for text in bad])
    write_review(checked(typed, tmp_path), tmp_path / "review.xlsx")
    book = openpyxl.load_workbook(tmp_path / "review.xlsx")
    found = [cell for cells in book["Problems"].iter_rows() for cell in cells if cell.value in bad]
    assert len(found) > len(bad)
    assert all(cell.data_type == "s" and cell.hyperlink is None for cell in found)


def test_the_page_is_set_up_for_print(tmp_path: Path):
    write_review(checked(folder=tmp_path), tmp_path / "review.xlsx")
    book = openpyxl.load_workbook(tmp_path / "review.xlsx")
    assert book.sheetnames == ["Summary", "Problems", "Closed", "Sign-off", "Seal"]
    assert book["Seal"].sheet_state == "hidden"
    for sheet in book.worksheets[:-1]:
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.page_setup.paperSize == 1
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.page_setup.fitToHeight == 0
        assert "&P" in sheet.oddFooter.right.text or "Page" in sheet.oddFooter.right.text
    assert book["Problems"].print_title_rows == "$1:$1"
    offered = {v.formula1 for v in book["Problems"].data_validations.dataValidation if v.type == "list"}
    assert '"Mended,Ask the inspector"' in offered
    assert '"No issue,Tell the client,Leave out,Ask the inspector,Mended"' in offered
    # No dialog asks before an answer of another kind is taken: Enter would delete it.
    assert not any(v.showErrorMessage for v in book["Problems"].data_validations.dataValidation)


@pytest.mark.parametrize("name", ["review.ods", "review", "review.csv"])
def test_a_name_that_is_no_xlsx_is_refused_and_nothing_written(tmp_path: Path, name: str):
    with pytest.raises(Unusable, match=r"is written as an \.xlsx workbook; name another file"):
        write_review(checked(folder=tmp_path), tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_workbook_that_is_no_review_is_refused(tmp_path: Path):
    book = openpyxl.Workbook()
    book.active.append(["Tag", "Kind", "Room"])
    book.save(tmp_path / "other.xlsx")
    with pytest.raises(Unusable, match=r"other\.xlsx is no review workbook"):
        read_review(tmp_path / "other.xlsx")


def test_problems_that_are_alike_keep_their_own_answers(tmp_path: Path):
    rows = [
        {"subject": "MSB", "finding": f"Own words {n}", "count": "2 or more", "photos": "a.jpg"}
        for n in range(3)
    ]
    typed = as_typed(equipment=[{"tag": "MSB"}], findings=rows)
    review = write_review(checked(typed, tmp_path), tmp_path / "r.xlsx")
    alike = [e for e in review.entries if e.problem.rule == "read-with-doubt"]
    answers = iter(["Tell the client", "Leave out", "No issue"])
    entries = [replace(e, disposition=next(answers)) if e in alike else e for e in review.entries]
    again = write_review(
        checked(typed, tmp_path), tmp_path / "r.xlsx", replace(review, entries=entries, _alike=None)
    )
    assert [e.disposition for e in again.entries if e.problem.rule == "read-with-doubt"] == [
        "Tell the client",
        "Leave out",
        "No issue",
    ]


def test_alike_problems_with_answers_of_their_own_are_open_again_where_their_rows_moved(tmp_path: Path):
    rows = [
        {"subject": "MSB", "finding": f"Own words {n}", "count": "2 or more", "photos": "a.jpg"}
        for n in range(3)
    ]
    review = write_review(
        checked(as_typed(equipment=[{"tag": "MSB"}], findings=rows), tmp_path), tmp_path / "r.xlsx"
    )
    alike = [e for e in review.entries if e.problem.rule == "read-with-doubt"]
    answers = iter(["Mended", "Ask the inspector", ""])
    entries = [replace(e, disposition=next(answers)) if e in alike else e for e in review.entries]
    fewer = write_review(
        checked(as_typed(equipment=[{"tag": "MSB"}], findings=rows[1:]), tmp_path),
        tmp_path / "r.xlsx",
        replace(review, entries=entries, _alike=None),
    )
    left = [e for e in fewer.entries if e.problem.rule == "read-with-doubt"]
    assert [e.disposition for e in left] == ["", ""]
    assert [e.remark for e in left] == [
        "was: 2 or more, answered Mended",
        "was: 2 or more, answered Ask the inspector",
    ]


def test_an_earlier_review_made_in_memory_is_carried_over(tmp_path: Path):
    result = checked(folder=tmp_path)
    first = write_review(result, tmp_path / "first.xlsx")
    earlier = replace(
        first,
        entries=[Entry(entry.problem, "Tell the client") for entry in first.entries],
        sign_off=replace(first.sign_off, reviewer="R. Viewer", date="2026-09-21"),
        _alike=None,
    )
    review = write_review(result, tmp_path / "review.xlsx", earlier)
    assert {entry.disposition for entry in review.entries} == {"Tell the client"}
    assert review.sign_off.is_signed
    assert read_review(tmp_path / "review.xlsx").sign_off.is_signed


def test_what_is_new_is_marked_for_the_day_and_nothing_else_is(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = write_review(checked(bakery_with("clearances", "DP-1", depth="60"), tmp_path), path, today=FIRST)
    assert {entry.remark for entry in first.entries} == {""}
    for day, mark in ((LATER, "New"), (LATER, "New"), (LATER + datetime.timedelta(1), "")):
        again = write_review(checked(folder=tmp_path), path, read_review(path), today=day)
        marks = {(e.problem.rule, e.problem.subject): e.remark for e in again.entries}
        assert marks.pop(("working-depth-short", "DP-1")) == mark
        assert set(marks.values()) == {""}


def test_the_most_urgent_and_dangerous_stands_first_and_notes_are_folded(tmp_path: Path):
    review = write_review(checked(folder=tmp_path), tmp_path / "review.xlsx")
    ranks = [e.problem.priority if e.problem.priority else e.problem.class_ for e in review.entries]
    order = ["Act now", "correct", "Correct soon", "confirm", "Upkeep", "Record", "note"]
    assert [order.index(rank) for rank in ranks] == sorted(order.index(rank) for rank in ranks)
    assert review.entries[0].problem.rule == "touch-test-alerted"
    sheet = openpyxl.load_workbook(tmp_path / "review.xlsx")["Problems"]
    class_ = next(cell.column for cell in sheet[1] if cell.value == "Class")
    folded = {
        sheet.cell(row, class_).value
        for row in range(2, sheet.max_row + 1)
        if sheet.row_dimensions[row].hidden
    }
    assert folded == {"note"}
    assert (sheet.freeze_panes, sheet.sheet_properties.outlinePr.summaryBelow) == ("E2", False)


def test_the_reviewers_edits_and_own_issues_are_kept_through_a_new_check(tmp_path: Path):
    path = tmp_path / "review.xlsx"
    first = write_review(checked(folder=tmp_path), path, today=FIRST)
    edited = [
        replace(e, priority="Record", words="It is tight.", second="S. Second")
        if (e.problem.rule, e.problem.subject) == ("working-depth-short", "DP-1")
        else e
        for e in first.entries
    ]
    own = [OwnIssue("MSB", "Door blocked", "Clear it", "Act now")]
    write_review(checked(folder=tmp_path), path, replace(first, entries=edited, own=own, _alike=None))
    for _ in range(2):
        read = read_review(path)
        write_review(checked(folder=tmp_path), path, read)
    (entry,) = [e for e in read.entries if e.words]
    assert (entry.priority, entry.words, entry.second) == ("Record", "It is tight.", "S. Second")
    assert [replace(issue, place="") for issue in read.own] == own
    # Where the problem reads differently, what was said of it is told, and it is open again.
    depth = checked(bakery_with("clearances", "DP-1", depth="39"), tmp_path)
    (again,) = [e for e in write_review(depth, path, read).entries if e.remark.startswith("was: 38")]
    assert again.remark.endswith("your priority Record, your words: It is tight.")
    assert not any(again.answer)


def test_the_review_of_an_earlier_version_is_read_and_its_signature_does_not_hold(tmp_path: Path):
    read = read_review(SAVED / "of_an_earlier_version.xlsx")
    assert read.sign_off.is_signed
    assert read.seal.mark == ""
    assert read.said == []
    given = Counter((e.problem.class_, e.disposition) for e in read.entries if e.disposition)
    assert set(given) == {
        ("report", "Tell the client"),
        ("confirm", "Tell the client"),
        ("confirm", "No issue"),
        ("report", "Leave out"),
    }
    result = checked(folder=tmp_path)
    assert changes(read.seal, read.seal, result.survey) == [
        "The review carries no seal, or an earlier version made it."
    ]


def test_a_small_photo_stands_beside_what_names_one(tmp_path: Path):
    (tmp_path / "photos").mkdir()
    Image.new("RGB", (400, 300), "blue").save(tmp_path / "photos" / "QS_1.jpg")
    typed = as_typed(findings=[{"subject": "MSB", "finding": "Open knockout", "photos": "QS_1"}])
    survey = survey_of(typed)
    survey.path = tmp_path / "survey.xlsx"
    write_review(check_survey(survey, list_photos(tmp_path / "photos")), tmp_path / "review.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "review.xlsx")["Problems"]
    (picture,) = sheet._images
    row = picture.anchor._from.row + 1
    named = [cell.value for cell in sheet[row] if cell.value == "QS_1.jpg"]
    assert named == ["QS_1.jpg"]
    assert sheet.row_dimensions[row].height >= 60


def test_no_text_of_a_printed_row_is_cut(tmp_path: Path):
    words = "what was seen behind the panel in the narrow room; " * 12
    found = {
        "subject": "MSB and the long name of it",
        "finding": "Open knockout",
        "seen": words,
        "action": words[:250],
    }
    typed = as_typed(findings=[found])
    write_review(checked(typed, tmp_path), tmp_path / "review.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "review.xlsx")["Problems"]
    printed = PROBLEM_COLUMNS[:PRINTED]
    for row in range(2, sheet.max_row + 1):
        # A column of so many figures holds about as many letters; a line is 15 points high.
        lines = [
            len(str(sheet.cell(row, at).value or "")) / column.width for at, column in enumerate(printed, 1)
        ]
        assert (sheet.row_dimensions[row].height or 15) >= min(15 * max(lines) * 0.95, 400), row

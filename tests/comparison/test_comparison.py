"""Two surveys of one building: each pair here is planted, with one thing that changed.

That nothing counts as mended unless somebody looked is common practice of surveys.
"""

import json
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from tests.sampling import sampled_property
from tests.schedule.notes import bakery
from workbook_tools.checking import check_survey
from workbook_tools.cli import main
from workbook_tools.commands import compare, deliver, new
from workbook_tools.comparison import compare_checked, comparison_json
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey import survey_of_texts

BOARD = {
    "kind": "Panelboard", "room": "Closet", "fed_from": "Utility", "rating_a": "225", "voltage": "208Y/120",
    "maker": "Ostrevik", "main_device": "Main breaker", "touch_test": "No alert",
}  # fmt: skip
ROOM = [{"room": "Closet", "access": "Entered"}]
CLEAR = {
    "depth": "48",
    "width": "36",
    "equipment_width": "20",
    "height": "84",
    "opposite_side": "Clear",
    "items_in_space": "None",
}


def checked(**tables):
    return check_survey(survey_of(as_typed(**{"rooms": ROOM, **tables})))


def states(last, this, **more):
    return {(i.state, i.subject) for i in compare_checked(last, this, **more).issues}


def test_a_survey_beside_itself_has_changed_in_nothing():
    one, other = check_survey(bakery()), check_survey(bakery())
    compared = compare_checked(one, other)
    assert compared.equipment == ()
    assert {issue.state for issue in compared.issues} == {"still there"}
    assert compared.said == ()


def test_equipment_is_new_gone_and_changed_answer_by_answer():
    last = checked(equipment=[{"tag": "LP-1", **BOARD}, {"tag": "OLD", "kind": "Busway", "fed_from": "LP-1"}])
    this = checked(
        equipment=[{"tag": "lp-1", **BOARD, "rating_a": "225 A", "maker": "", "main_device": "Main lugs", "touch_test": "ALERTED"},
                   {"tag": "NEW", "kind": "Generator"}]
    )  # fmt: skip
    said = [(c.change, c.tag, c.field, c.was, c.is_) for c in compare_checked(last, this).equipment]
    assert said == [
        ("changed", "lp-1", "Maker", "Ostrevik", ""),
        ("changed", "lp-1", "Main device", "Main breaker", "Main lugs"),
        ("new", "NEW", "", "", ""),
        ("gone", "OLD", "", "", ""),
    ]


def test_plates_and_clearances_are_compared_too_and_a_missing_row_is_said():
    last = checked(
        equipment=[{"tag": "LP-1", **BOARD}, {"tag": "T-1", "kind": "Transformer", "fed_from": "LP-1"}],
        transformers=[{"tag": "T-1", "kva": "45", "primary_v": "480"}],
        clearances=[{"tag": "LP-1", "depth": "3 ft 6 in"}],
    )
    this = checked(
        equipment=[{"tag": "LP-1", **BOARD}, {"tag": "T-1", "kind": "Transformer", "fed_from": "LP-1"}],
        transformers=[{"tag": "T-1", "kva": "75", "primary_v": "480"}],
    )
    said = [(c.tag, c.sheet, c.field, c.was, c.is_) for c in compare_checked(last, this).equipment]
    assert said == [
        ("LP-1", "Clearances", "Clearances", "recorded", ""),
        ("T-1", "Transformers", "kVA", "45", "75"),
    ]


def test_a_tag_that_may_have_been_changed_is_asked_about_and_an_answer_is_obeyed():
    last = checked(
        equipment=[{"tag": "LP-3", **BOARD}], findings=[{"subject": "LP-3", "finding": "Open knockout"}]
    )
    this = checked(
        equipment=[{"tag": "LP-4", **BOARD}], findings=[{"subject": "LP-4", "finding": "Open knockout"}]
    )
    (asked,) = compare_checked(last, this).equipment
    assert (asked.change, asked.tag, asked.was, asked.is_) == ("renamed?", "LP-4", "LP-3", "LP-4")
    assert states(last, this) == {("new", "LP-4"), ("not seen again", "LP-3")}
    answered = compare_checked(last, this, {"lp-3": "LP-4"})
    assert [(c.change, c.field, c.was, c.is_) for c in answered.equipment] == [
        ("changed", "Tag", "LP-3", "LP-4")
    ]
    assert {(i.state, i.subject) for i in answered.issues} == {("still there", "LP-4")}


def test_two_that_are_equally_alike_are_not_guessed_between():
    last = checked(equipment=[{"tag": "LP-3", **BOARD}])
    this = checked(equipment=[{"tag": "LP-4", **BOARD}, {"tag": "LP-5", **BOARD}])
    assert Counter(c.change for c in compare_checked(last, this).equipment) == {"new": 2, "gone": 1}


def test_an_issue_is_mended_only_where_it_was_looked_at_again():
    short = {"tag": "LP-1", **CLEAR, "depth": "20"}
    last = checked(equipment=[{"tag": "LP-1", **BOARD}], clearances=[short])
    board = [{"tag": "LP-1", **BOARD}]
    assert ("mended", "LP-1") in states(last, checked(equipment=board, clearances=[{"tag": "LP-1", **CLEAR}]))
    assert ("still there", "LP-1") in states(last, checked(equipment=board, clearances=[short]))
    for unseen in (
        {"clearances": []},
        {"clearances": [{"tag": "LP-1", **CLEAR, "depth": ""}]},
        {"clearances": [{"tag": "LP-1", **CLEAR, "depth": "N/V"}]},
        {"clearances": [{"tag": "LP-1", **CLEAR}], "equipment": []},
    ):
        found = states(last, checked(**{"equipment": board, **unseen}))
        assert ("not seen again", "LP-1") in found, unseen
        assert not any(state == "mended" for state, _ in found), unseen


def test_a_finding_that_nobody_wrote_again_is_not_mended_unless_a_value_says_so():
    finding = [{"subject": "LP-1", "finding": "Circuit directory missing"}]
    last = checked(equipment=[{"tag": "LP-1", **BOARD}], findings=finding)
    silent = compare_checked(last, checked(equipment=[{"tag": "LP-1", **BOARD}]))
    assert [(i.state, i.why) for i in silent.issues] == [
        ("not seen again", "Nothing in this year's survey says whether it was looked at again.")
    ]
    told = compare_checked(
        last, checked(equipment=[{"tag": "LP-1", **BOARD, "circuit_directory": "Present"}])
    )
    (issue,) = told.issues
    assert (issue.state, issue.finding) == ("mended", "Circuit directory missing")
    assert issue.why.startswith("This year ")


def test_a_room_that_was_not_entered_and_a_piece_that_is_gone_are_the_reason():
    last = checked(
        equipment=[{"tag": "LP-1", **BOARD}], findings=[{"subject": "LP-1", "finding": "Open knockout"}]
    )
    locked = checked(rooms=[{"room": "Closet", "access": "Locked"}], equipment=[{"tag": "LP-1", **BOARD}])
    assert [i.why for i in compare_checked(last, locked).issues if i.finding] == [
        "Its room was not entered this year."
    ]
    gone = compare_checked(last, checked(equipment=[]))
    assert [i.why for i in gone.issues if i.finding] == ["It is not in the list this year."]


def test_what_makes_the_comparison_doubtful_is_said():
    job = {"property": "North House (invented)", "inspection_date": "2027-03-01"}
    last = checked(job=job)
    this = checked(job={"property": "South House (invented)", "inspection_date": "2026-03-01"})
    said = compare_checked(last, this).said
    assert [text.split(":")[0] for text in said] == [
        "The two surveys name two properties", "The survey named first was inspected later (2027-03-01) than the second (2026-03-01)",
    ]  # fmt: skip


@sampled_property(max_examples=100)
@given(st.data())
def test_every_issue_of_either_year_has_one_state(data):
    survey, later = bakery(), bakery()
    for key in ("findings", "clearances", "equipment"):
        rows = list(later.tables[key])
        kept = data.draw(st.lists(st.booleans(), min_size=len(rows), max_size=len(rows)), label=key)
        later.tables[key] = [row for row, keep in zip(rows, kept, strict=True) if keep]
    last, this = check_survey(survey), check_survey(later)
    compared = compare_checked(last, this)
    numbers = [issue.id for issue in compared.issues]
    assert len(numbers) == len(set(numbers))
    back = compare_checked(this, last)
    of = {state: {i.id for i in compared.issues if i.state == state} for state in ("new", "still there")}
    assert of["still there"] == {i.id for i in back.issues if i.state == "still there"}
    assert of["new"] == {i.id for i in back.issues if i.state in ("mended", "not seen again")}
    gone = {c.tag for c in compared.equipment if c.change == "gone"}
    assert gone <= {c.tag for c in back.equipment if c.change == "new"} | {
        c.tag for c in back.equipment if c.change == "renamed?"
    }


@pytest.fixture(scope="module")
def two_years(tmp_path_factory):
    folder = tmp_path_factory.mktemp("years")
    for name, amps, finding in (("last", "225", "Open knockout"), ("this", "400", "Cover screws missing")):
        source = folder / name
        source.mkdir()
        (source / "equipment.csv").write_text(f"Tag,Kind,Rating (A)\nLP-1,Panelboard,{amps}\n")
        (source / "findings.csv").write_text(f"Subject,Finding\nLP-1,{finding}\n")
        new(folder / f"{name}.xlsx", fill=source, job={"Property": "North House (invented)"}, rows=5)
    return folder


def test_the_workbook_holds_what_the_terminal_and_the_json_say(two_years, tmp_path, capsys):
    last, this = str(two_years / "last.xlsx"), str(two_years / "this.xlsx")
    assert main(["compare", last, this, "-o", str(tmp_path / "changes.xlsx")]) == 0
    said = capsys.readouterr().out
    assert "Issues: 1 new, 0 still there, 0 mended, 1 not seen again." in said
    assert "Equipment: 0 new, 0 gone, 1 changed, 0 renamed?." in said
    assert main(["compare", last, this, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told == comparison_json(compare(last, this))
    workbook = load_workbook(tmp_path / "changes.xlsx")
    rows = [[cell.value for cell in row] for row in workbook["Since last year"].iter_rows()]
    shown = {(row[1], str(row[0]).lower()) for row in rows if len(row) > 1 and row[1]}
    assert {(issue["id"], issue["state"]) for issue in told["issues"]} <= shown
    changed = [[cell.value for cell in row] for row in workbook["Changed equipment"].iter_rows()]
    assert ["Changed", "LP-1", "Equipment: Rating (A)", "225", "400"] in changed
    # It is no survey, and says so.
    with pytest.raises(Unusable, match="is a client schedule, not a survey workbook"):
        compare(last, tmp_path / "changes.xlsx")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--same", "LP-9=LP-1"], "last.xlsx: the earlier survey has no equipment with the tag 'LP-9'."),
        (["--same", "LP-1=LP-9"], "this.xlsx: the later survey has no equipment with the tag 'LP-9'."),
        (["--same", "LP-1"], "--same 'LP-1' is no OLD=NEW"),
        (["-o", "changes.csv"], "The changes are written as .xlsx: name the workbook changes.xlsx."),
        (["-o", "{last}"], "is one of the two surveys"),
    ],
)
def test_a_wrong_call_ends_in_one_sentence(two_years, capsys, words, sentence):
    last, this = str(two_years / "last.xlsx"), str(two_years / "this.xlsx")
    assert main(["compare", last, this, *(word.format(last=last) for word in words)]) == 2
    assert sentence in capsys.readouterr().err


def test_a_delivery_says_what_has_changed_since(two_years, tmp_path):
    made = deliver(
        two_years / "this.xlsx", output=tmp_path / "draft", draft=True, since=two_years / "last.xlsx"
    )
    workbook = load_workbook(tmp_path / "draft" / "schedule.xlsx")
    shown = [cell.value for row in workbook["Since last year"].iter_rows() for cell in row if cell.value]
    assert "Issues: 1 new, 0 still there, 0 mended, 1 not seen again." in shown
    since = json.loads((tmp_path / "draft" / "schedule.json").read_text())["since"]
    assert {issue["state"] for issue in since["issues"]} == {"new", "not seen again"}
    assert "Compared with" in made.record.read_text(encoding="utf-8-sig")
    plain = deliver(two_years / "this.xlsx", output=tmp_path / "without", draft=True)
    assert "Since last year" not in load_workbook(plain.folder / "schedule.xlsx").sheetnames


CARRIED = {"last_seen": "2025-10-06"}


def test_what_was_carried_over_and_not_seen_again_is_neither_mended_nor_still_there():
    short = {"tag": "LP-1", **CLEAR, "depth": "20"}
    board = [{"tag": "LP-1", **BOARD}]
    last = checked(equipment=board, clearances=[short])
    for answer, state in (
        ("", "not seen again"),
        ("Not seen", "not seen again"),
        ("Still so", "still there"),
    ):
        this = checked(equipment=board, clearances=[{**short, **CARRIED, "this_year": answer}])
        (issue,) = compare_checked(last, this).issues
        assert (issue.state, issue.subject) == (state, "LP-1"), answer
        assert (issue.why == "Nobody has looked again since October 6, 2025.") == (state == "not seen again")
    enough = {**short, **CARRIED, "depth": "48"}
    assert states(last, checked(equipment=board, clearances=[enough])) == {("not seen again", "LP-1")}
    looked = checked(equipment=board, clearances=[{**enough, "this_year": "Changed"}])
    assert states(last, looked) == {("mended", "LP-1")}


@pytest.mark.parametrize("spelled", ["Open knockout", "open knockouts", "Bird nest in the gutter"])
def test_a_finding_marked_mended_is_mended_and_an_answer_is_no_change_of_the_equipment(spelled):
    board, finding = [{"tag": "LP-1", **BOARD}], {"subject": "LP-1", "finding": spelled}
    last = checked(equipment=board, findings=[finding])
    this = checked(
        equipment=board, findings=[{**finding, **CARRIED, "subject": "lp-1", "this_year": "fixed"}]
    )
    compared = compare_checked(last, this)
    assert [(i.state, i.finding, i.why) for i in compared.issues] == [
        ("mended", spelled, "The inspector says so.")
    ]
    assert compared.equipment == ()
    unsaid = checked(equipment=board, findings=[{**finding, **CARRIED}])
    assert {issue.state for issue in compare_checked(last, unsaid).issues} == {"not seen again"}


def test_what_is_asked_anew_is_compared_where_both_visits_answered():
    def of(**answers):
        return checked(equipment=[{"tag": "LP-1", **BOARD, **answers}])

    both = compare_checked(of(circuit_directory="Missing"), of(circuit_directory="Present")).equipment
    assert [(c.field, c.was, c.is_) for c in both] == [("Circuit directory", "Missing", "Present")]
    assert compare_checked(of(remarks="humming"), of()).equipment == ()
    kept = {"rooms": ROOM, "equipment": [{"tag": "LP-1", **BOARD, "Touch test on 2025-10-06": "No alert"}]}
    filled = check_survey(survey_of_texts(load_template("office"), kept, {}, first_row=3))
    assert filled.survey.equipment[0].extra
    assert compare_checked(of(), filled).equipment == ()

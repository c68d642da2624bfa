"""What goes to the client, what stays in the firm's file, and what stops a delivery."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.delivery.gate import MOST_LISTED, Judgment, judge, not_ready
from workbook_tools.errors import Unusable
from workbook_tools.review import DISPOSITIONS, Entry, OwnIssue, Review, SignOff
from workbook_tools.rules.problems import CLASSES, Problem


def problem(class_: str, rule: str = "some-rule", cell: str = "C5") -> Problem:
    return Problem(rule, class_, "Correct soon", "Clearances", cell, "DP-1", "Depth", "41 in", "42 in",
                   "Depth reads 41 in.", "Measure again.", "common practice")  # fmt: skip


def fate(class_: str, disposition: str = "", reason: str = "") -> str:
    found = problem(class_)
    judged = judge([found], Review(entries=[Entry(found, disposition, reason)]))
    fates = {
        "client": judged.for_client,
        "answered": judged.no_issue,
        "question": judged.questions,
        "file": judged.left_out,
        "open": judged.open,
    }
    assert sum(map(len, fates.values())) == 1
    return next(name for name, found in fates.items() if found)


@pytest.mark.parametrize("disposition", ["", *DISPOSITIONS])
def test_a_survey_that_is_still_wrong_is_open_whatever_was_answered(disposition):
    assert fate("correct", disposition, "a reason") == "open"


@pytest.mark.parametrize("class_", ["confirm", "report", "note", "finding"])
@pytest.mark.parametrize("disposition", ["Tell the client", " tell the CLIENT ", "Include"])
def test_tell_the_client_reaches_the_client(class_, disposition):
    found = problem(class_)
    judged = judge([found], Review(entries=[Entry(found, disposition)]))
    assert judged.open == ()
    assert not judged.left_out
    assert class_ == "finding" or judged.for_client == (found,)


def test_no_issue_answers_a_question_and_needs_a_reason():
    assert fate("confirm", "No issue", "the plate was read again") == "answered"
    assert fate("confirm", "No issue", "  ") == "open"
    assert fate("confirm", "Confirmed", "the plate was read again") == "answered"


@pytest.mark.parametrize("class_", ["report", "note", "finding"])
def test_what_is_no_question_takes_no_issue_for_no_answer(class_):
    found = problem(class_)
    (said,) = judge([found], Review(entries=[Entry(found, "No issue", "a reason", place="Problems!C7")])).open
    assert "answered at Problems!C7" in said
    assert "which is for questions" in said


def test_a_question_without_an_issue_is_told_only_in_words_for_the_client():
    found = problem("confirm")
    silent = judge([found], Review(entries=[Entry(found, "No issue", "read again")]))
    assert (silent.conditions, silent.asked, silent.told) == ([], [], [])
    worded = judge(
        [found], Review(entries=[Entry(found, "No issue", "read again", words="The plate says 42.")])
    )
    assert worded.told == [("DP-1", "The plate says 42.")]


@pytest.mark.parametrize("class_", ["correct", "confirm", "report", "note", "finding"])
def test_what_waits_for_the_inspector_is_open(class_):
    found = problem(class_)
    (said,) = judge([found], Review(entries=[Entry(found, "Ask the inspector")])).open
    assert "waits for the inspector" in said


ACT_NOW = replace(problem("report"), priority="Act now")
LONG = "The enclosure was de-energised and locked before we left."


@pytest.mark.parametrize(
    ("reason", "second", "says"),
    [
        ("ok", "S. Second", "the reason has to tell why"),
        (LONG, "", "a second person"),
        (LONG, "n/a", "a second person"),
        (LONG, "R. Viewer", "a second person"),
        (LONG, "S. Second", ""),
    ],
)
def test_what_is_to_act_on_now_is_left_out_by_two_people_with_a_sentence(reason, second, says):
    entry = Entry(ACT_NOW, "Leave out", reason, second=second)
    judged = judge([ACT_NOW], Review(entries=[entry], sign_off=SignOff("R. Viewer", "2026-09-20")))
    assert [says in line for line in judged.open] == ([True] if says else [])
    assert [out.second for out in judged.urgent_left_out] == ([] if says else [second])


def test_what_is_to_act_on_now_is_ranked_lower_only_with_a_sentence_and_a_second_name():
    signed = SignOff("R. Reviewer", "2026-10-08")
    assert judge([ACT_NOW], Review(entries=[Entry(ACT_NOW, priority="Record")])).open
    for second in ("", "Reviewer, R.", "r reviewer jr"):
        entry = Entry(ACT_NOW, reason=LONG, priority="Record", second=second)
        (said,) = judge([ACT_NOW], Review(entries=[entry], sign_off=signed)).open
        assert "is ranked lower: a second person" in said
    entry = Entry(ACT_NOW, reason=LONG, priority="Record", second="S. Second")
    judged = judge([ACT_NOW], Review(entries=[entry], sign_off=signed))
    assert not judged.open
    assert [p.priority for p in judged.conditions] == ["Record"]
    assert [(one.words, one.second) for one in judged.lowered] == [("Record", "S. Second")]


def test_what_is_to_act_on_now_is_reworded_only_with_a_reason():
    (said,) = judge([ACT_NOW], Review(entries=[Entry(ACT_NOW, words="All is well.")])).open
    assert "is told in your words: the reason has to tell why" in said
    judged = judge([ACT_NOW], Review(entries=[Entry(ACT_NOW, words="The cover was live.", reason="plainer")]))
    assert (judged.open, [p.priority for p in judged.conditions]) == ((), ["Act now"])


def test_a_priority_and_words_of_the_reviewers_are_marked_as_such():
    found = problem("report")
    judged = judge([found], Review(entries=[Entry(found, priority="upkeep", words="It is tight in front.")]))
    (told,) = judged.conditions
    assert (told.priority, told.message, told.phrase) == (
        "Upkeep",
        "It is tight in front.",
        "It is tight in front",
    )
    assert told.source.endswith("ranked by the reviewer; worded by the reviewer")
    assert [p for p, _ in judged.edited] == [found]
    assert judge([found], Review(entries=[Entry(found, priority="urgent")])).open


@pytest.mark.parametrize(
    "entry", [{"reason": "why"}, {"second": "S. Second"}], ids=lambda said: next(iter(said))
)
def test_a_reason_without_an_answer_is_open(entry):
    found = problem("report")
    (said,) = judge([found], Review(entries=[Entry(found, **entry)])).open
    assert "has a reason and no answer" in said


def test_words_beside_a_question_without_an_answer_are_open():
    found = problem("confirm")
    assert judge([found], Review(entries=[Entry(found, words="It is fine.")])).open


def test_the_reviewers_own_issues_go_out_or_say_what_they_lack():
    own = [
        OwnIssue("DP-1", "Door is blocked", "Clear it", "Act now"),
        OwnIssue("", "Door is blocked", place="Problems, row 70"),
        OwnIssue("DP-1", "", "Clear it", place="Problems, row 71"),
        OwnIssue("DP-1", "Door", priority="urgent", place="Problems, row 72"),
    ]
    judged = judge([], Review(own=own))
    assert [one.seen for one in judged.own] == ["Door is blocked"]
    assert [line.partition(":")[0] for line in judged.open] == [f"Problems, row {n}" for n in (70, 71, 72)]


@pytest.mark.parametrize("class_", ["confirm", "report", "note"])
def test_leave_out_needs_a_reason(class_):
    assert fate(class_, "Leave out", "seen again: it is 42 in") == "file"
    assert fate(class_, "Leave out", "  ") == "open"


@pytest.mark.parametrize(
    ("class_", "where"), [("confirm", "question"), ("report", "client"), ("note", "client")]
)
def test_without_an_answer(class_, where):
    assert fate(class_) == where


@pytest.mark.parametrize("class_", ["confirm", "report", "note"])
def test_what_is_marked_mended_and_still_there_is_open(class_):
    assert fate(class_, "Mended") == "open"


@pytest.mark.parametrize("class_", ["confirm", "report", "note"])
def test_an_answer_that_is_none_is_open(class_):
    assert fate(class_, "maybe") == "open"


def test_what_is_open_names_the_place_and_what_to_do():
    found = problem("correct", "missing-value")
    judged = judge([found], Review(entries=[Entry(found, "Mended")]))
    assert judged.open == (
        "Clearances!C5 (DP-1, missing-value), marked Mended, is still there: Depth reads 41 in. Measure again.",
    )


def test_the_refusal_lists_what_is_open_one_to_a_line():
    with pytest.raises(Unusable) as refused:
        raise not_ready(Path("jobs/survey.xlsx"), ["first.", "second."])
    first, *rest = str(refused.value).splitlines()
    assert (
        first
        == "survey.xlsx was not delivered. 2 things are open (--draft delivers it all the same, marked DRAFT):"
    )
    assert rest == ["  - first.", "  - second."]


def test_a_long_list_is_cut_and_counted():
    lines = str(not_ready(Path("survey.xlsx"), [f"{n}." for n in range(MOST_LISTED + 5)])).splitlines()
    assert len(lines) == MOST_LISTED + 2
    assert lines[-1].startswith("  - and 5 more")


@given(
    st.lists(
        st.tuples(
            st.sampled_from(CLASSES),
            st.sampled_from(["", *DISPOSITIONS, "x"]),
            st.sampled_from(["", " ", "reason"]),
        )
    )
)
def test_every_problem_has_exactly_one_fate_and_keeps_its_order(answered):
    problems = [problem(class_, cell=f"C{n}") for n, (class_, _, _) in enumerate(answered)]
    answers = {p.cell: Entry(p, d, r) for p, (_, d, r) in zip(problems, answered, strict=True)}
    judged: Judgment = judge(problems, Review(entries=list(answers.values())))
    out = [left.problem for left in judged.left_out]
    kept_ones = (judged.for_client, judged.questions, out, judged.no_issue, judged.open)
    assert sum(map(len, kept_ones)) == len(problems)
    for kept in (judged.for_client, judged.questions, out):
        assert [problems.index(p) for p in kept] == sorted(problems.index(p) for p in kept)
    assert all(answers[p.cell].disposition != "Leave out" for p in judged.for_client)


def test_without_a_review_nothing_is_answered():
    judged = judge([problem("confirm"), problem("report")], None)
    assert (len(judged.questions), len(judged.for_client), judged.left_out, judged.open) == (1, 1, (), ())

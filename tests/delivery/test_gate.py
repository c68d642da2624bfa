"""What goes to the client, what stays in the firm's file, and what stops a delivery."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.delivery.gate import MOST_LISTED, Judgment, judge, not_ready
from workbook_tools.errors import Unusable
from workbook_tools.review import Entry, Review
from workbook_tools.rules.problems import CLASSES, Problem


def problem(class_: str, rule: str = "some-rule", cell: str = "C5") -> Problem:
    return Problem(rule, class_, "Correct soon", "Clearances", cell, "DP-1", "Depth", "41 in", "42 in",
                   "Depth reads 41 in.", "Measure again.", "common practice")  # fmt: skip


def fate(class_: str, disposition: str = "", reason: str = "") -> str:
    found = problem(class_)
    judged = judge([found], Review(entries=[Entry(found, disposition, reason)]))
    fates = {
        "client": judged.for_client,
        "question": judged.questions,
        "file": judged.left_out,
        "open": judged.open,
    }
    assert sum(map(len, fates.values())) == 1
    return next(name for name, found in fates.items() if found)


@pytest.mark.parametrize("disposition", ["", "Mended", "Include", "Confirmed", "Leave out"])
def test_a_survey_that_is_still_wrong_is_open_whatever_was_answered(disposition):
    assert fate("correct", disposition, "a reason") == "open"


@pytest.mark.parametrize("class_", ["confirm", "report", "note"])
@pytest.mark.parametrize("disposition", ["Include", "Confirmed", " include ", "CONFIRMED"])
def test_include_and_confirmed_reach_the_client(class_, disposition):
    assert fate(class_, disposition) == "client"


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
            st.sampled_from(["", "Include", "Confirmed", "Leave out", "Mended", "x"]),
            st.sampled_from(["", " ", "reason"]),
        )
    )
)
def test_every_problem_has_exactly_one_fate_and_keeps_its_order(answered):
    problems = [problem(class_, cell=f"C{n}") for n, (class_, _, _) in enumerate(answered)]
    answers = {p.cell: Entry(p, d, r) for p, (_, d, r) in zip(problems, answered, strict=True)}
    judged: Judgment = judge(problems, Review(entries=list(answers.values())))
    out = [left.problem for left in judged.left_out]
    assert len(judged.for_client) + len(judged.questions) + len(out) + len(judged.open) == len(problems)
    for kept in (judged.for_client, judged.questions, out):
        assert [problems.index(p) for p in kept] == sorted(problems.index(p) for p in kept)
    assert all(answers[p.cell].disposition != "Leave out" for p in judged.for_client)


def test_without_a_review_nothing_is_answered():
    judged = judge([problem("confirm"), problem("report")], None)
    assert (len(judged.questions), len(judged.for_client), judged.left_out, judged.open) == (1, 1, (), ())

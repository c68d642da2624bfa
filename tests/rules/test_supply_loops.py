"""Loops of Fed from: found, printed, and never a reason to hang."""

from workbook_tools.assessment import Supply
from workbook_tools.checking import check_survey
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of


def loops_of(*pairs: tuple[str, str]) -> list[list[str]]:
    survey = survey_of(as_typed(equipment=[{"tag": tag, "fed_from": source} for tag, source in pairs]))
    return [[row.called for row in loop] for loop in Supply(survey).loops]


def messages(*pairs: tuple[str, str]) -> list[str]:
    survey = survey_of(as_typed(equipment=[{"tag": tag, "fed_from": source} for tag, source in pairs]))
    return [problem.message for problem in check_survey(survey).problems if problem.rule == "supply-loop"]


def test_a_loop_begins_at_its_first_row_and_goes_from_load_to_source():
    assert loops_of(("A-1", "C-1"), ("B-1", "A-1"), ("C-1", "B-1"), ("D-1", "C-1")) == [["A-1", "C-1", "B-1"]]


def test_the_loop_is_printed():
    assert messages(("A-1", "B-1"), ("B-1", "A-1")) == [
        "Following Fed from comes back to the same tag: A-1 <- B-1 <- A-1."
    ]
    assert messages(("A-1", "A-1")) == ["A-1 is fed from itself."]


def test_two_loops_are_two_problems_and_a_shared_source_is_none():
    assert loops_of(("A-1", "B-1"), ("B-1", "A-1"), ("C-1", "D-1"), ("D-1", "C-1")) == [
        ["A-1", "B-1"],
        ["C-1", "D-1"],
    ]
    assert (
        loops_of(("M-1", "Utility"), ("G-1", "N/A"), ("S-1", "M-1; G-1"), ("P-1", "S-1"), ("Q-1", "S-1"))
        == []
    )


def test_a_loop_of_ten_thousand_neither_hangs_nor_recurses():
    tags = [f"P-{number}" for number in range(10_000)]
    survey = survey_of(
        as_typed(equipment=[{"tag": t, "fed_from": tags[place - 1]} for place, t in enumerate(tags)])
    )
    checked = check_survey(survey)
    assert checked.crashed == []
    found = [problem for problem in checked.problems if problem.rule == "supply-loop"]
    assert len(found) == 1
    assert found[0].message.startswith(
        "Following Fed from comes back to the same tag: P-0 <- P-9999 <- P-9998"
    )
    assert "(9988 more)" in found[0].message
    assert len(found[0].message) < 300


def test_disconnects_are_summed_for_the_service_that_they_hang_on():
    rows = [
        {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"},
        {"tag": "MC-1", "kind": "Meter center", "fed_from": "utility 1"},
        {"tag": "SD-2", "kind": "Service disconnect", "fed_from": "MC-1"},
        {"tag": "SD-3", "kind": "Service disconnect", "fed_from": "Utility 2"},
        {"tag": "SD-4", "kind": "Service disconnect", "fed_from": "SD-3"},
        {"tag": "SD-5", "kind": "Service disconnect", "fed_from": "N/V"},
    ]
    found = Supply(survey_of(as_typed(equipment=rows))).services
    assert {name: [row.called for row in rows] for name, rows in found.items()} == {
        "Utility": ["SD-1", "SD-2"],
        "Utility 2": ["SD-3"],
        "": ["SD-5"],
    }

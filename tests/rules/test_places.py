"""Where a problem stands, and where it is said that something was not checked: at the cell to look at."""

from dataclasses import replace

import pytest

from tests.rules.asking import DP1, WYE_208, WYE_480, Row, not_checked_of, problems_of
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import NotChecked, Problem, in_sheet_order
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import assessment_of, survey_of
from workbook_tools.survey import Clearance, Equipment

T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
RP1 = {"tag": "RP-1", "kind": "Panelboard", "fed_from": "T-1", **WYE_208}
PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}


def measured(**cells: str) -> Typed:
    return as_typed(equipment=[DP1], clearances=[{"tag": "X"}, {"tag": "DP-1", **cells}])


@pytest.mark.parametrize(
    ("rule", "typed", "place", "missing"),
    [
        ("working-depth-short", measured(opposite_side="Grounded"), "Clearances!D6", "Depth"),
        ("working-width-short", measured(equipment_width="20"), "Clearances!F6", "Width"),
        ("working-width-short", measured(width="30"), "Clearances!G6", "Equipment width"),
        ("working-height-short", measured(), "Clearances!I6", "Height"),
        ("door-swing-limited", measured(), "Clearances!P6", "Door opens 90°"),
        ("dedicated-space-obstructed", measured(), "Clearances!N6", "Items above"),
        ("working-space-storage", measured(), "Clearances!L6", "Items in working space"),
        ("touch-test-alerted", as_typed(equipment=[{"tag": "A"}, {"tag": "B", "touch_test": "No alert"}]), "Equipment!O5", "Touch test"),
        ("kva-not-standard", as_typed(transformers=[{"tag": "T-1", "phase": "3"}]), "Transformers!C5", "kVA"),
    ],
)  # fmt: skip
def test_a_missing_cell_of_the_row_itself_is_where_to_look(rule: str, typed: Typed, place: str, missing: str):
    (found,) = not_checked_of(rule, typed)
    assert (f"{found.sheet}!{found.cell}", found.missing) == (place, missing)


@pytest.mark.parametrize(
    ("rule", "typed", "place", "missing"),
    [
        (
            "working-depth-short",
            as_typed(
                equipment=[{**DP1, "voltage": ""}],
                clearances=[{"tag": "X"}, {"tag": "DP-1", "opposite_side": "Grounded", "depth": "42"}],
            ),
            "Clearances!A6",
            "Voltage of DP-1",
        ),
        (
            "dedicated-space-obstructed",
            as_typed(equipment=[{**DP1, "kind": ""}], clearances=[{"tag": "DP-1", "items_above": "None"}]),
            "Clearances!A5",
            "Kind of DP-1",
        ),
        (
            "voltage-differs-from-source",
            as_typed(equipment=[{"tag": "DP-1"}, {"tag": "RP-1", "fed_from": "DP-1", **WYE_480}]),
            "Equipment!A6",
            "Voltage of DP-1",
        ),
        (
            "transformer-primary-mismatch",
            as_typed(equipment=[{"tag": "DP-1"}, T1], transformers=[PLATE]),
            "Transformers!A5",
            "Voltage of DP-1",
        ),
        (
            "short-circuit-rating-low",
            as_typed(equipment=[T1, {**RP1, "short_circuit_rating_ka": "10"}], transformers=[PLATE]),
            "Equipment!A6",
            "Impedance (%) of T-1",
        ),
        (
            "no-clearance-record",
            as_typed(rooms=[{"room": "Yard"}], equipment=[{**DP1, "room": "Yard"}]),
            "Equipment!A5",
            "Access of Yard",
        ),
    ],
)
def test_a_missing_cell_of_another_row_is_said_at_the_first_column(
    rule: str, typed: Typed, place: str, missing: str
):
    (found,) = not_checked_of(rule, typed)
    assert (f"{found.sheet}!{found.cell}", found.missing) == (place, missing)


def test_a_row_without_a_tag_is_called_by_its_column_alone():
    rows = as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard"}, {"kind": "Panelboard"}])
    survey = survey_of(rows)
    rule, (row, other) = catalogue()["working-depth-short"], survey.equipment
    assert rule.not_checked(row, other.voltage, other).missing == "Voltage"
    assert rule.not_checked(other, row.voltage, row).missing == "Voltage of DP-1"
    assert rule.not_checked(row, row.voltage, row).missing == "Voltage"
    assert rule.not_checked(row, row.voltage).missing == "Voltage"


def test_a_column_that_the_file_does_not_have_is_said_at_the_first_column():
    row = survey_of(as_typed(equipment=[{"tag": "DP-1"}])).equipment[0]
    rule, nowhere = catalogue()["touch-test-alerted"], row.touch_test._replace(cell="")
    assert rule.not_checked(row, nowhere) == NotChecked(
        "touch-test-alerted", "DP-1", "Equipment", "A5", "Touch test"
    )
    found = rule.problem(row, nowhere, "It is not there.")
    assert (found.place, found.order) == ("Equipment!A5", (row.definition.position, 5, 1))


# -- which of several columns is asked


def lacking(rule: str, **cells: str) -> str:
    (row,) = survey_of(as_typed(clearances=[{"tag": "DP-1", **cells}])).clearances
    found = catalogue()[rule].lacking(row)
    return found[0].heading if found is not None else ""


def test_the_first_column_that_is_missing_is_the_one_asked_for():
    assert lacking("working-width-short") == "Width"
    assert lacking("working-width-short", width="30") == "Equipment width"
    assert lacking("working-width-short", equipment_width="30") == "Width"
    assert lacking("working-width-short", width="30", equipment_width="30") == ""


@pytest.mark.parametrize("cells", [{"width": "N/A"}, {"equipment_width": "N/A"}])
def test_not_applicable_in_one_of_them_answers_for_all(cells: Row):
    assert lacking("working-width-short", **cells) == ""


@pytest.mark.parametrize("said", ["N/V", "", "as wide as a bus"])
def test_not_seen_blank_and_unreadable_are_missing_alike(said: str):
    assert lacking("working-width-short", width=said, equipment_width="30") == "Width"


def test_a_row_that_is_not_there_is_not_asked():
    survey = survey_of(
        as_typed(equipment=[{"tag": "MSB"}], clearances=[{"tag": "MSB", "equipment_width": "90"}])
    )
    rule, (row,), (board,) = catalogue()["second-entrance-check"], survey.clearances, survey.equipment
    assert rule.needs[:2] == (Clearance.equipment_width, Equipment.rating_a)
    assert rule.lacking(row, None) is None
    assert rule.lacking(None, board) == (board.rating_a, board)
    assert rule.lacking(row, board) == (board.rating_a, board)


# -- the record of a problem


def test_a_problem_takes_its_words_from_the_cell_and_the_card():
    (problem,) = problems_of("door-swing-limited", measured(door_opens_90="No"))
    assert (problem.place, problem.subject, problem.field, problem.read) == (
        "Clearances!P6",
        "DP-1",
        "Door opens 90°",
        "No",
    )
    assert problem.action == catalogue()["door-swing-limited"].mend
    assert problem.row is not None
    assert problem.row.number == 6


def test_a_problem_that_expects_nothing_special_asks_what_the_column_asks():
    (problem,) = problems_of("unreadable-value", measured(depth="knee high"))
    assert problem.expected == survey_of(measured()).clearances[0].depth.column.ask != ""


def test_a_problem_of_the_job_is_the_jobs():
    (problem,) = [p for p in problems_of("job-detail-missing", as_typed(job={"property": "P", "inspection_date": "2026-09-16", "code_profile": "nec-2023"}))]  # fmt: skip
    assert (problem.sheet, problem.subject, problem.field, problem.read) == ("Job", "Job", "Inspector", "")


def test_problems_are_listed_by_sheet_row_and_column_and_then_by_rule():
    typed = as_typed(
        rooms=[{"room": "Yard", "access": "Locked"}],
        equipment=[{"tag": "A", "rating_a": "9000"}, {"tag": "B", "kind": "Panelbord", "rating_a": "2 or 3"}],
        clearances=[{"tag": "A", "depth": "914"}],
    )
    assessment = assessment_of(typed)
    found = [
        problem
        for slug in (
            "unit-suspect",
            "unreadable-value",
            "unknown-choice",
            "implausible-value",
            "room-not-entered",
        )
        for problem in catalogue()[slug].check(assessment)
        if isinstance(problem, Problem)
    ]
    assert [problem.place for problem in in_sheet_order(found)] == [
        "Rooms!D5", "Equipment!F5", "Equipment!C6", "Equipment!F6", "Clearances!D5",
    ]  # fmt: skip
    same = [problem for problem in found if problem.place == "Equipment!F5"]
    later = [replace(same[0], rule="z"), replace(same[0], rule="a")]
    assert [problem.rule for problem in in_sheet_order(later)] == ["a", "z"]


def test_a_problem_of_no_cell_stands_on_its_sheet():
    typed = as_typed(findings=[{"subject": "A"}], photo_folder=["b.jpg"])
    assert [problem.place for problem in problems_of("photo-unused", typed)] == ["Photos"]

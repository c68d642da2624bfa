"""What somebody typed over a cell that computes its own answer: only another answer is a problem."""

import pytest

from tests.rules.asking import DP1, cells_of, messages_of, problems_of
from workbook_tools.rules.rule import Typed, as_typed

RULE = "formula-overtyped"


def over_direction(text: str) -> Typed:
    plate = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
    return as_typed(transformers=[{**plate, "direction": text}])


def over_volts(text: str) -> Typed:
    return as_typed(equipment=[{**DP1, "volts_to_ground": text}])


@pytest.mark.parametrize("text", ["Step-down", "step-down", "STEP-DOWN", " Step-down", "Step-down  "])
def test_the_computed_words_in_any_case_and_spacing_are_the_same_answer(text: str):
    assert messages_of(RULE, over_direction(text)) == []


@pytest.mark.parametrize("text", ["Step-up", "Step", "Step-down?"])
def test_other_words_than_the_computed_ones_are_said(text: str):
    assert messages_of(RULE, over_direction(text)) == [
        f"{text!r} was typed over a cell that computes its own answer, Step-down. The typed value is not used."
    ]


@pytest.mark.parametrize("text", ["277", "277.0", " 277 ", "2.77e2"])
def test_the_computed_number_however_written_is_the_same_answer(text: str):
    assert messages_of(RULE, over_volts(text)) == []


@pytest.mark.parametrize("text", ["276", "278", "277.01", "-277", "277 V", "line to ground"])
def test_another_number_or_no_number_is_said(text: str):
    (problem,) = problems_of(RULE, over_volts(text))
    assert problem.message == (
        f"{text!r} was typed over a cell that computes its own answer, 277. The typed value is not used."
    )
    assert (problem.read, problem.expected) == (text, "277")


@pytest.mark.parametrize("text", ["", "   "])
def test_an_emptied_live_cell_is_no_answer(text: str):
    assert messages_of(RULE, over_volts(text)) == []
    assert messages_of(RULE, over_direction(text)) == []


def test_a_number_where_nothing_can_be_computed_stands_against_a_blank():
    (problem,) = problems_of(RULE, as_typed(transformers=[{"tag": "T-1", "turns_ratio": "2"}]))
    assert problem.message == (
        "'2' was typed over a cell that computes its own answer, a blank. The typed value is not used."
    )
    assert problem.expected == "(blank)"


def test_each_cell_typed_over_is_said_for_itself():
    row = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
    typed = as_typed(
        transformers=[{**row, "direction": "Step-down", "turns_ratio": "3", "primary_a": "80"}, row]
    )
    assert len(cells_of(RULE, typed)) == 2
    assert [problem.field for problem in problems_of(RULE, typed)] == ["Turns ratio", "Primary A"]

"""A word that a length column offers is an answer: the row check reads it as the tool does, and no other word."""

import pytest

from tests.rules.asking import DP1, problems_of
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.live_cells.wording import OK, READ_LATER
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import assessment_of

SPACE = {
    "tag": "DP-1",
    "opposite_side": "Clear",
    "depth": "48",
    "width": "36",
    "height": "84",
    "equipment_width": "20",
}


@pytest.mark.parametrize(
    ("field", "typed", "read"),
    [
        ("open_above", "Structure", True),
        ("open_above", "to deck", True),
        ("open_above", "flush", False),
        ("open_above", "clear", False),
        ("front_projection", "none", True),
        ("front_projection", "0", True),
        ("front_projection", "to deck", False),
        ("depth", "Structure", False),
        ("depth", "none", False),
    ],
)
def test_the_sheet_and_the_check_read_the_same_words(field: str, typed: str, read: bool):
    survey = as_typed(equipment=[DP1], clearances=[{**SPACE, field: typed}])
    assessment = assessment_of(survey)
    said = str(LiveResults(assessment).row(assessment.survey.clearances[0])["row_check"])
    heading = assessment.survey.template.by_key["clearances"].by_field[field].heading
    assert said.startswith(OK) if read else said == f"{READ_LATER}{heading}"
    assert (problems_of("unreadable-value", survey) == []) == read


def test_a_word_for_nothing_is_a_length_of_nothing():
    assessment = assessment_of(as_typed(equipment=[DP1], clearances=[{**SPACE, "front_projection": "none"}]))
    length = assessment.survey.clearances[0].front_projection.value
    assert length is not None
    assert length.inches == 0

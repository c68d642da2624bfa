"""A rule that could not look at a row says so, with the heading of what is missing; N/A is an answer."""

import pytest

from tests.rules.clean_survey import JOB, PHOTO_FOLDER, TABLES
from workbook_tools.checking import Checked, check_survey
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.rules import catalogue
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import assessment_of
from workbook_tools.schedule.limits import limits_of

DP1, T1 = 2, 3  # rows of the clean survey, the same in Equipment and in Clearances
CASES = [
    ("front-projection-over", "clearances", DP1, "front_projection", "Front projection"),
    ("door-swing-limited", "clearances", DP1, "door_opens_90", "Door opens 90°"),
    ("dedicated-space-obstructed", "clearances", DP1, "items_above", "Items above"),
    ("dedicated-space-obstructed", "clearances", DP1, "open_above", "Open above"),
    ("sprinkler-above", "clearances", DP1, "items_above", "Items above"),
    ("working-space-storage", "clearances", DP1, "items_in_space", "Items in working space"),
    ("second-entrance-check", "clearances", 1, "equipment_width", "Equipment width"),
    ("touch-test-alerted", "equipment", DP1, "touch_test", "Touch test"),
    ("bad-circuit-directory", "equipment", DP1, "circuit_directory", "Circuit directory"),
    ("no-working-light", "rooms", 0, "lighting", "Lighting"),
]


def with_cell(table: str, row: int, field: str, text: str) -> Checked:
    tables = {key: [dict(cells) for cells in rows] for key, rows in TABLES.items()}
    tables[table][row][field] = text
    assessment = assessment_of(Typed(JOB, tables, PHOTO_FOLDER))
    return check_survey(assessment.survey, assessment.photos)


def not_checked(checked: Checked, rule: str) -> list[str]:
    return [entry.missing for entry in checked.not_checked if entry.rule == rule]


@pytest.mark.parametrize("text", ["", "N/V"], ids=["blank", "not visible"])
@pytest.mark.parametrize(("rule", "table", "row", "field", "heading"), CASES)
def test_what_nobody_recorded_is_not_checked(
    rule: str, table: str, row: int, field: str, heading: str, text: str
):
    checked = with_cell(table, row, field, text)
    assert not_checked(checked, rule) == [heading]
    assert rule not in {problem.rule for problem in checked.problems}


@pytest.mark.parametrize(("rule", "table", "row", "field", "heading"), CASES)
def test_not_applicable_is_an_answer(rule: str, table: str, row: int, field: str, heading: str):
    assert not_checked(with_cell(table, row, field, "N/A"), rule) == [], heading


@pytest.mark.parametrize(("rule", "table", "row", "field", "heading"), CASES)
def test_the_card_of_the_rule_names_the_field(rule: str, table: str, row: int, field: str, heading: str):
    assert (table, field) in {(need.owner.key, need.name) for need in catalogue()[rule].needs}, (row, heading)


@pytest.mark.parametrize(
    ("field", "heading"), [("primary_v", "Primary (V)"), ("secondary_v", "Secondary (V)")]
)
def test_a_transformers_depth_takes_both_sides(field: str, heading: str):
    checked = with_cell("transformers", 0, field, "")
    assert not_checked(checked, "working-space-check") == [f"{heading} of T-1"]


@pytest.mark.parametrize("rule", ["phase-exceeds-source", "neutral-not-supplied"])
def test_behind_a_transformer_its_secondary_is_compared(rule: str):
    assert "Secondary (V) of T-1" in not_checked(with_cell("transformers", 0, "secondary_v", ""), rule)


def test_between_transformers_nothing_is_compared_without_the_secondary():
    checked = with_cell("transformers", 0, "secondary_v", "")
    assert not_checked(checked, "voltage-differs-from-source") == []


def test_no_dedicated_space_is_asked_of_a_transformer():
    assert not_checked(with_cell("clearances", T1, "items_above", ""), "dedicated-space-obstructed") == []


def test_a_kind_that_nobody_recorded_may_have_a_dedicated_space():
    checked = with_cell("equipment", DP1, "kind", "")
    assert not_checked(checked, "dedicated-space-obstructed") == ["Kind of DP-1"]


def test_a_narrow_or_small_board_needs_no_second_entrance_whatever_the_other_figure_is():
    assert not_checked(with_cell("equipment", DP1, "rating_a", "N/V"), "second-entrance-check") == []
    assert not_checked(with_cell("clearances", DP1, "equipment_width", "N/V"), "second-entrance-check") == []
    unrated = with_cell("equipment", 1, "rating_a", "N/V")  # MSB is 90 in wide
    assert not_checked(unrated, "second-entrance-check") == ["Rating (A) of MSB"]


def test_the_clean_survey_was_looked_at_everywhere():
    assert with_cell("rooms", 0, "lighting", "Yes").not_checked == []


def test_the_result_on_the_sheet_claims_only_what_it_compared():
    checked = with_cell("clearances", DP1, "items_in_space", "")
    row = checked.survey.clearances[DP1]
    shown = LiveResults(checked.assessment).row(row)["result"]
    assert shown == "Depth, Width, Height OK"


@pytest.mark.parametrize(
    ("field", "what", "reason"),
    [
        ("door_opens_90", "Opening of the doors of the equipment", "Door opens 90° was not recorded."),
        ("front_projection", "Things that stand out past the front", "Front projection was not recorded."),
        ("open_above", "Dedicated space above the equipment", "Open above was not recorded."),
        ("items_in_space", "Things stored in the working space", "Items in working space were not recorded."),
    ],
)
def test_the_client_reads_what_was_not_checked_among_the_limits(field: str, what: str, reason: str):
    limits = limits_of(with_cell("clearances", DP1, field, ""))
    assert (f"{what}: DP-1", reason) in [(line.what, line.reason) for line in limits]

"""Row check tells the truth: OK stands where the check has nothing to correct or confirm about the row.

What a sheet cannot know is listed with its reason. The formulas are compared with the Python results on buildings
with one slip each, as test_live_cells compares them on rows in which everything is odd at once.
"""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.office.programs import Office
from tests.sampling import drawn, so_many
from tests.survey_workbook.slipped_buildings import slipped
from tests.survey_workbook.test_live_cells import ENGINES, disagreements, generated
from workbook_tools.checking import Checked, check_survey
from workbook_tools.definitions import load_template
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.live_cells.wording import AGAINST_SOURCE, OK, ONE_SOURCE, READ_AS
from workbook_tools.rules import catalogue
from workbook_tools.spreadsheet import position
from workbook_tools.survey import Row, Survey, survey_of_texts
from workbook_tools.survey_workbook.layout import FIRST_ROW
from workbook_tools.survey_workbook.writing import write_survey_workbook

_JOB = {
    "property": "Harbour House", "inspector": "A. Inspector", "inspection_date": "2026-09-16", "code_profile": "nec-2023",
    "dimension_unit": "in",
}  # fmt: skip

_SEVERAL_ROWS = "it follows the supply over several rows"
_FREE_WORDS = "it reads Remarks and findings as well"
_ALLOWANCE = "it weighs what the code allows with what else stands on the row"
_PART_READ = "only the check reads words in brackets or around a number"

NOT_IN_THE_SHEET = {
    "supply-loop": _SEVERAL_ROWS,
    "supply-both-ways": _SEVERAL_ROWS,
    "sources-not-kept-apart": _SEVERAL_ROWS,
    "service-without-disconnect": _SEVERAL_ROWS,
    "service-disconnect-cannot-open": _SEVERAL_ROWS,
    "panel-without-protection": _SEVERAL_ROWS,
    "voltage-differs-from-source": "of two sources in one Fed from only the check knows both",
    "voltage-rating-below-system": _SEVERAL_ROWS,
    "ground-detector-not-recorded": _FREE_WORDS,
    "transformer-disconnect-not-in-sight": _FREE_WORDS,
    "open-above-unexplained": _FREE_WORDS,
    "working-space-check": _ALLOWANCE,
    "handle-height-check": _ALLOWANCE,
    "kva-not-standard": "the standard sizes stand in no list of the workbook",
    "not-a-transformer": _PART_READ,
    "read-with-doubt": _PART_READ,
    "finding-disagrees": "it compares a finding with what was recorded on other sheets",
    "unreadable-value": "a voltage rating is read by the check alone",
}
"""Rules that can ask about a row whose Row check says OK, each with what the sheet lacks."""


def surveys() -> list[Survey]:
    found = [
        survey_of_texts(load_template("office"), slipped(seed), _JOB, first_row=FIRST_ROW)
        for seed in range(6)
    ]
    for seed in range(1):
        tables, answers = generated(seed, code_profile="nec-2023", dimension_unit="in")
        found.append(survey_of_texts(load_template("office"), tables, answers, first_row=FIRST_ROW))
    return found


@pytest.fixture(scope="module")
def checked() -> list[Checked]:
    return [check_survey(survey) for survey in surveys()]


def asked(result: Checked) -> dict[tuple[str, int], set[str]]:
    """Return the rules that ask about each row, by its sheet and number."""
    found: dict[tuple[str, int], set[str]] = {}
    for problem in result.problems:
        if problem.class_ in ("correct", "confirm") and problem.cell:
            found.setdefault((problem.sheet, position(problem.cell)[0]), set()).add(problem.rule)  # type: ignore[index]
    return found


def said(results: LiveResults, row: Row) -> str:
    return str(results.row(row).get("row_check", ""))


def test_where_it_says_ok_the_check_asks_nothing_that_the_sheet_could_know(checked: list[Checked]) -> None:
    seen: Counter[str] = Counter()
    for result in checked:
        questions, results = asked(result), LiveResults(result.assessment)
        for row in result.assessment.survey.rows():
            if not said(results, row).startswith(OK):
                continue
            rules = questions.get((row.sheet, row.number), set())
            assert rules <= NOT_IN_THE_SHEET.keys(), (
                f"{row.place} {row.called}: {rules - NOT_IN_THE_SHEET.keys()}"
            )
            seen.update(rules or {OK})
    assert seen[OK] > 1500
    assert len(seen) > 5


def test_what_the_sheet_cannot_know_is_a_rule_with_a_reason() -> None:
    assert NOT_IN_THE_SHEET.keys() <= catalogue().keys()
    assert all(NOT_IN_THE_SHEET.values())


def test_a_building_as_it_should_be_is_ok_in_every_row() -> None:
    result = check_survey(survey_of_texts(load_template("office"), slipped(0, 1), _JOB, first_row=FIRST_ROW))
    results = LiveResults(result.assessment)
    rows = [row for row in result.assessment.survey.rows() if "row_check" in results.row(row)]
    assert len(rows) > 10
    assert {said(results, row) for row in rows} == {OK}


def test_each_thing_that_can_be_said_is_said_of_some_slip(checked: list[Checked]) -> None:
    every = Counter(
        said(results, row).partition(":")[0]
        for results in (LiveResults(result.assessment) for result in checked)
        for row in results.survey.rows()
    )
    for words in (
        "Fill in", "Tag twice", "Room twice", "Not one of the choices", "Only the check reads", "Outside the usual range",
        "Room not in Rooms", "Tag not in Equipment", "Subject not in Equipment or Rooms", "Fed from not in Equipment",
        "Fed from itself", "Voltage, Phase, Wires disagree", "No nominal voltage", "No row in Transformers",
        "No row in Clearances", "Its source gives another voltage", "Its source is single-phase", "Primary is not what feeds it",
        "Marked direction is another", "In Equipment this is no transformer", "Recorded twice", "Still open",
        "Still so? Answer This year", "Still there? Answer This year", "Sides swapped? What feeds it is the secondary", "What it feeds has another voltage", "Two systems fit",
    ):  # fmt: skip
        assert every[words], words


def test_a_neutral_that_the_source_does_not_have_is_said_of_what_it_feeds() -> None:
    tables = slipped(0, 1)
    tables["equipment"][0].update(voltage="480", wires="3")
    result = check_survey(survey_of_texts(load_template("office"), tables, _JOB, first_row=FIRST_ROW))
    fed = result.assessment.survey.equipment[1]
    assert said(LiveResults(result.assessment), fed) == AGAINST_SOURCE["neutral"]
    assert "neutral-not-supplied" in {rule for rules in asked(result).values() for rule in rules}


@pytest.mark.parametrize(
    ("key", "changed", "words"),
    [
        ("clearances", {"last_seen": "2025-10-06"}, "Still so? Answer This year"),
        ("clearances", {"last_seen": "2025-10-06", "this_year": "Still so"}, OK),
        ("clearances", {"last_seen": "2025-10-06", "this_year": "same"}, f"{OK}{READ_AS}Still so"),
        ("clearances", {"last_seen": "2025-10-06", "this_year": "Not seen"}, OK),
        (
            "clearances",
            {"last_seen": "2025-10-06", "this_year": "perhaps"},
            "Not one of the choices: This year",
        ),
        ("clearances", {"last_seen": "autumn of 2025", "depth": ""}, "Fill in: Depth"),
        ("findings", {"last_seen": "2025-10-06", "photos": ""}, "Still there? Answer This year"),
        ("findings", {"last_seen": "2025-10-06", "photos": "", "this_year": "Not seen"}, OK),
        ("findings", {"last_seen": "2025-10-06", "photos": "", "this_year": "Mended"}, OK),
        (
            "findings",
            {"last_seen": "2025-10-06", "photos": "", "this_year": "Still there"},
            "Still open: Photos",
        ),
        ("findings", {"photos": "", "this_year": "Mended"}, OK),
    ],
)
def test_what_is_said_of_a_row_that_was_carried_over(key: str, changed: dict[str, str], words: str) -> None:
    tables = slipped(0, 1)
    tables[key][0].update(changed)
    result = check_survey(survey_of_texts(load_template("office"), tables, _JOB, first_row=FIRST_ROW))
    row = result.assessment.survey.tables[key][0]
    assert said(LiveResults(result.assessment), row) == words
    questions = asked(result).get((row.sheet, row.number), set())
    assert bool(questions) == (not words.startswith(OK)), questions


def test_a_finding_that_was_mended_and_came_back_is_not_recorded_twice() -> None:
    tables = slipped(0, 1)
    again = dict(tables["findings"][0])
    tables["findings"][0] |= {"last_seen": "2025-10-06", "this_year": "Mended"}
    tables["findings"].append(again)
    result = check_survey(survey_of_texts(load_template("office"), tables, _JOB, first_row=FIRST_ROW))
    results = LiveResults(result.assessment)
    assert {said(results, row) for row in result.assessment.survey.findings} == {OK}
    assert "finding-duplicated" not in {problem.rule for problem in result.problems}
    assert [results.priority_counted(row) for row in result.assessment.survey.findings] == [
        "",
        "Correct soon",
    ]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"kind": "Transfer switch"}, ONE_SOURCE),
        ({"fed_from": "MSB-0/nobody"}, "Fed from not in Equipment"),
        ({"fed_from": "MSB-0; Nobody-1"}, "Fed from not in Equipment"),
        ({"fed_from": "Utility, MSB-0"}, OK),
        ({"fed_from": "n/a"}, OK),
        ({"kind": "cupboard", "maker": ""}, "Not one of the choices: Kind"),
    ],
)
def test_what_is_said_of_a_row_that_is_otherwise_in_order(changed: dict[str, str], words: str) -> None:
    tables = slipped(0, 1)
    tables["equipment"][1].update(changed)
    result = check_survey(survey_of_texts(load_template("office"), tables, _JOB, first_row=FIRST_ROW))
    assert said(LiveResults(result.assessment), result.assessment.survey.equipment[1]) == words


BUILDINGS = so_many("buildings of a workbook with slips", 20, 60)
CASES = [(seed, engine) for seed in range(3) for engine in ENGINES]


@pytest.mark.office
@pytest.mark.slow
@pytest.mark.sampled
@pytest.mark.timeout(600)
@pytest.mark.parametrize(
    ("seed", "engine"),
    drawn("workbooks with slips", CASES, lambda case: "any"),
    ids=lambda value: value.__name__ if callable(value) else str(value),
)
def test_the_formulas_say_what_python_says(seed: int, engine: Any, office: Office, tmp_path: Path) -> None:
    path = tmp_path / "survey.xlsx"
    template = load_template("office")
    tables = slipped(seed, BUILDINGS)
    write_survey_workbook(path, template, tables, _JOB, rows=1)
    results = LiveResults(
        check_survey(survey_of_texts(template, tables, _JOB, first_row=FIRST_ROW)).assessment
    )
    found = list(disagreements(engine(path, office), results))
    assert not found, f"{len(found)} cells, the first: " + "\n".join(found[:5])

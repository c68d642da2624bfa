"""Parts of a second year put together: who has looked again says what the row is, whoever left it as it was."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from tests.schedule.notes import BAKERY, read_notes
from workbook_tools.checking import check_survey
from workbook_tools.combining import Whole, combine_parts
from workbook_tools.definitions import load_template
from workbook_tools.survey import survey_of_texts

OFFICE, DAY = load_template("office"), "2026-09-16"
NOTES = read_notes(BAKERY)
CARRIED = {
    key: [
        {**{f: text for f, text in row.items() if f != "photos"}, "last_seen": DAY}
        for row in NOTES.tables[key]
    ]
    for key in ("clearances", "findings")
}
ANSWERS = {
    "clearances": [
        {"this_year": "Still so"},
        {"this_year": "Changed", "depth": "50"},
        {"this_year": "Not seen"},
        {},
    ],
    "findings": [
        {"this_year": "Still there", "photos": "Y2.jpg"},
        {"this_year": "Mended"},
        {"this_year": "Not seen"},
        {},
    ],
}


def whole(*parts: dict[str, list[dict[str, str]]]) -> Whole:
    surveys = [
        survey_of_texts(
            OFFICE, {**NOTES.tables, **part}, NOTES.job, first_row=3, source=f"part {number}.xlsx"
        )
        for number, part in enumerate(parts)
    ]
    return combine_parts(surveys)


def typed(rows: object, *fields: str) -> list[tuple[str, ...]]:
    return [tuple(row.get(field, "") for field in fields) for row in rows]  # type: ignore[attr-defined]


@sampled_property(max_examples=40, fewest=6)
@given(st.integers(0, 10_000))
def test_each_row_is_answered_by_one_part_and_the_whole_says_what_one_inspector_would(seed: int) -> None:
    dice = random.Random(seed)
    alone: dict[str, list[dict[str, str]]] = {}
    parts: list[dict[str, list[dict[str, str]]]] = [{}, {}, {}]
    for key, rows in CARRIED.items():
        # The bakery has one finding twice; of two that are alike nobody can say which part means which.
        rows = rows if key == "clearances" else rows[:9]
        answers = [dice.choice(ANSWERS[key]) for _ in rows]
        holder = [dice.randrange(len(parts)) for _ in rows]
        alone[key] = [{**row, **answer} for row, answer in zip(rows, answers, strict=True)]
        for number, part in enumerate(parts):
            part[key] = [
                mine if who == number else row
                for mine, row, who in zip(alone[key], rows, holder, strict=True)
            ]
    together = whole(*parts)
    for key, rows in alone.items():
        fields = ("tag", "subject", "finding", "depth", "photos", "last_seen", "this_year")
        assert sorted(typed(together.tables[key], *fields)) == sorted(typed(rows, *fields))
    assert {difference.follows for difference in together.differences} <= {"seen again in one of the two"}


def test_two_that_have_both_looked_and_disagree_are_both_shown() -> None:
    (row, *_) = CARRIED["clearances"]
    first, second = (
        {**row, "this_year": "Changed", "depth": "50"},
        {**row, "this_year": "Changed", "depth": "40"},
    )
    together = whole({"clearances": [first]}, {"clearances": [second]})
    assert typed(together.tables["clearances"], "depth") == [("50",), ("40",)]
    assert {difference.follows for difference in together.differences} == {"asked about"}


def test_a_measurement_that_was_corrected_without_an_answer_is_asked_about() -> None:
    (row, *_) = CARRIED["clearances"]
    together = whole(
        {"clearances": [{**row, "this_year": "Still so"}]}, {"clearances": [{**row, "depth": "40"}]}
    )
    assert len(together.tables["clearances"]) == 2
    survey = survey_of_texts(OFFICE, together.tables, NOTES.job, first_row=3)
    assert "not-looked-at-again" in {problem.rule for problem in check_survey(survey).problems}

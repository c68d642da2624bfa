"""Field notes of an invented bakery, typed in: no live cell contradicts the expert's answers.

The notes go through LibreOffice's own input parser, cell by cell, as a person types them. The
answers are those of tests/data/bakery/expected.csv.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.round_trip.test_round_trip import ENDINGS
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.rules.assess import assess
from workbook_tools.survey import Survey, read_survey

pytestmark = [pytest.mark.office, pytest.mark.timeout(300)]

NOTES = Path(__file__).resolve().parent.parent / "data" / "bakery"
SHORT = {
    "working-depth-short": "Depth",
    "working-width-short": "Width",
    "working-height-short": "Height",
}


@pytest.fixture(scope="module")
def bakery(typed_bakery: Callable[[str], Path]) -> Survey:
    return read_survey(typed_bakery(ENDINGS[0]))


@pytest.fixture(scope="module")
def expected() -> set[tuple[str, str]]:
    with open(NOTES / "expected.csv", newline="", encoding="utf-8") as answers:
        return {(row["rule"], row["subject"]) for row in csv.DictReader(answers)}


def _shown(survey: Survey, key: str, subject: str, field: str) -> set[object]:
    return {
        row.live[field].value for row in survey.tables[key] if row.called == subject and field in row.live
    }


def test_what_is_short_is_what_the_expert_found(bakery: Survey, expected: set[tuple[str, str]]) -> None:
    found = {
        (rule, row.called)
        for row in bakery.clearances
        for rule, heading in SHORT.items()
        for part in str(row.live["result"].value).split("; ")
        if part.startswith(heading) and part.endswith("short")
    }
    assert found == {(rule, subject) for rule, subject in expected if rule in SHORT}


def test_a_doubted_unit_is_asked_about(bakery: Survey, expected: set[tuple[str, str]]) -> None:
    found = {
        ("unit-suspect", row.called) for row in bakery.clearances if "Unit?" in str(row.live["result"].value)
    }
    assert found == {(rule, subject) for rule, subject in expected if rule == "unit-suspect"}


def test_names_are_missed_and_doubled_where_the_expert_says_so(
    bakery: Survey, expected: set[tuple[str, str]]
) -> None:
    def subjects(key: str, said: str) -> set[str]:
        return {row.called for row in bakery.tables[key] if said in str(row.live["row_check"].value)}

    def answers(rule: str) -> set[str]:
        return {subject for name, subject in expected if name == rule}

    assert subjects("equipment", "Tag twice") == answers("duplicate-tag")
    assert subjects("equipment", "Fed from not in") == answers("fed-from-unknown")
    assert subjects("findings", "not in") == answers("unknown-tag")


def test_the_direction_is_the_computed_one(bakery: Survey, expected: set[tuple[str, str]]) -> None:
    disagreeing = {
        row.called for row in bakery.transformers if row.live["direction"].value != row.marked_direction.value
    }
    assert disagreeing == {subject for rule, subject in expected if rule == "direction-disagrees"}
    assert _shown(bakery, "transformers", "T-3", "direction") == {"Step-up"}


def test_every_live_cell_is_the_python_result(bakery: Survey) -> None:
    results = LiveResults(assess(bakery))
    compared = 0
    for rows in bakery.tables.values():
        for row in rows:
            for field, wanted in results.row(row).items():
                live = row.live.get(field)
                assert (live.value if live is not None else "") == pytest.approx(wanted), (
                    f"{row.sheet} {row.called} {field}"
                )
                compared += 1
    assert compared > 200


def test_what_was_typed_came_back_as_typed(bakery: Survey) -> None:
    for path in sorted(NOTES.glob("*.csv")):
        if path.stem not in bakery.tables:
            continue
        by_heading = {column.heading: column.field for column in bakery.template.by_key[path.stem].typed}
        with open(path, newline="", encoding="utf-8") as notes:
            for row, noted in zip(bakery.tables[path.stem], csv.DictReader(notes), strict=True):
                assert {f: v.typed for f, v in row.values.items() if v.typed} == {
                    by_heading[heading]: text for heading, text in noted.items() if text
                }
    assert bakery.stray == []
    assert all(not row.extra for rows in bakery.tables.values() for row in rows)

"""A cause is reported once, and not again as its consequence."""

import pytest

from tests.rules.clean_survey import JOB, PHOTO_FOLDER, TABLES
from workbook_tools.checking import check_survey
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import survey_of


def changed(table: str, row: int, **cells: str) -> Typed:
    tables = {key: [dict(r) for r in rows] for key, rows in TABLES.items()}
    tables[table][row] |= cells
    return Typed(JOB, tables, PHOTO_FOLDER)


def rules_found(typed: Typed) -> list[str]:
    checked = check_survey(survey_of(typed))
    assert checked.crashed == []
    return sorted(problem.rule for problem in checked.problems if problem.class_ != "note")


def tag_at(row: int) -> str:
    return TABLES["equipment"][row]["tag"]


@pytest.mark.parametrize(
    ("typed", "rule"),
    [
        pytest.param(
            changed("equipment", 4, fed_from="T-11"), "fed-from-unknown", id="unknown source, no mismatch"
        ),
        pytest.param(changed("clearances", 2, depth="4"), "unit-suspect", id="feet in inches, no shortfall"),
        pytest.param(
            changed("clearances", 2, equipment_width="914"), "unit-suspect", id="own width, no shortfall"
        ),
        pytest.param(
            changed("clearances", 2, depth="5 in"), "working-depth-short", id="far too short, not implausible"
        ),
        pytest.param(
            changed("equipment", 2, voltage="scratched"), "unreadable-value", id="no voltage, nothing of it"
        ),
        pytest.param(
            changed("equipment", 2, voltage="scratched", phase="", wires=""),
            "unreadable-value",
            id="no voltage, no missing phase",
        ),
        pytest.param(
            changed("equipment", 2, voltage="48O/277", phase="", wires=""),
            "voltage-not-recognized",
            id="a letter for a digit, no doubt and no missing phase",
        ),
        pytest.param(
            changed("equipment", 2, room="Main elctrical room"),
            "unknown-room",
            id="mistyped room, no transformer in another",
        ),
        pytest.param(changed("equipment", 2, kind="Panelbord"), "unknown-choice", id="unknown kind"),
        pytest.param(
            changed("equipment", 3, kind="Transfrmr"), "unknown-choice", id="unread kind, no missing rating"
        ),
        pytest.param(
            changed("rooms", 1, room="Plnt room"), "unknown-room", id="mistyped room of five pieces"
        ),
        pytest.param(
            changed("equipment", 0, kind="Servce disc"), "unknown-choice", id="unread kind, maybe the service"
        ),
        pytest.param(
            changed("equipment", 2, rating_a="9000"), "implausible-value", id="implausible, not non-standard"
        ),
        pytest.param(
            changed("clearances", 2, tag="DP-11"), "unknown-tag", id="mistyped tag, no missing record"
        ),
        pytest.param(
            changed("transformers", 0, tag="T-11"), "unknown-tag", id="mistyped tag, no missing plate"
        ),
        pytest.param(
            changed("equipment", 6, touch_test="seems fine"),
            "unknown-choice",
            id="unread test, not unrecorded",
        ),
        pytest.param(changed("clearances", 2, depth=""), "missing-value", id="blank depth, no shortfall"),
        pytest.param(
            changed("clearances", 2, opposite_side="a fence"), "unknown-choice", id="unread opposite side"
        ),
    ],
)
def test_a_cause_is_reported_alone(typed: Typed, rule: str):
    assert rules_found(typed) == [rule]


def test_a_loop_is_not_also_a_voltage_that_differs():
    # DP-1 (480Y/277) fed from RP-1 (208Y/120), which hangs on it through T-1.
    assert rules_found(changed("equipment", 2, fed_from="RP-1")) == ["supply-loop"]


def test_what_is_not_inspected_is_only_recorded():
    lift = {
        "tag": "LC-1",
        "kind": "Lift controller",
        "room": "Plant room",
        "fed_from": "DP-1",
        "rating_a": "N/V",
    }
    lift |= {"voltage": "208Y/120", "phase": "3", "wires": "4", "maker": "N/V"}
    tables = {**TABLES, "equipment": [*TABLES["equipment"], lift]}
    checked = check_survey(survey_of(Typed(JOB, tables)))
    assert [(problem.rule, problem.subject) for problem in checked.problems] == [
        ("outside-scope-item", "LC-1")
    ]


def test_a_panel_may_take_its_neutral_from_one_of_two_sources():
    fed = changed("equipment", 2, fed_from="MSB; PVD-1")
    assert rules_found(fed) == []


def test_a_doubled_source_is_not_compared_with():
    typed = as_typed(
        job=JOB,
        equipment=[
            {"tag": "HP-1", "voltage": "208Y/120", "phase": "3", "wires": "4"},
            {"tag": "HP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"},
            {"tag": "LP-1", "fed_from": "HP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"},
        ],
    )
    assert "voltage-differs-from-source" not in rules_found(typed)


@pytest.mark.parametrize(
    ("phase", "wires", "cell"),
    [("1", "4", "I5"), ("3", "2", "J5")],
    ids=["phase is odd", "wires are odd"],
)
def test_a_conflict_is_placed_at_the_cell_that_stands_against_the_others(phase: str, wires: str, cell: str):
    typed = as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": phase, "wires": wires}])
    found = [p for p in check_survey(survey_of(typed)).problems if p.rule == "phase-wire-conflict"]
    assert [problem.cell for problem in found] == [cell]

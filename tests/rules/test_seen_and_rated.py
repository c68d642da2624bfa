"""What could not be seen or touched, and voltages and ratings as recorded."""

import pytest

from tests.rules.asking import (
    DP1,
    WYE_208,
    WYE_480,
    Row,
    cells_of,
    messages_of,
    missing,
)
from workbook_tools.rules.rule import as_typed

# -- what could not be seen


@pytest.mark.parametrize(
    ("equipment", "access", "said"),
    [
        ({"rating_a": "N/V"}, "Entered", ["Rating (A) could not be seen: a limitation of the survey."]),
        (
            {"rating_a": "N/V", "maker": "N/V"},
            "",
            ["Rating (A) and Maker could not be seen: a limitation of the survey."],
        ),
        ({"rating_a": "N/V"}, "Locked", []),
        ({"rating_a": "N/V", "kind": "Lift controller"}, "Entered", []),
        ({"rating_a": "N/A", "maker": ""}, "Entered", []),
    ],
)
def test_what_was_not_seen_is_said_once(equipment: Row, access: str, said: list[str]):
    row = {**DP1, "room": "Main", **equipment}
    typed = as_typed(rooms=[{"room": "Main", "access": access}], equipment=[row])
    assert messages_of("not-visible", typed) == said


@pytest.mark.parametrize(("access", "seen"), [("Entered", True), ("", True), ("Locked", False)])
def test_of_a_room_that_was_not_entered_that_alone_is_said(access: str, seen: bool):
    typed = as_typed(rooms=[{"room": "Main", "access": access, "lighting": "N/V"}])
    assert bool(messages_of("not-visible", typed)) == seen
    assert bool(messages_of("room-not-entered", typed)) == (access == "Locked")


def test_a_clearance_that_was_not_seen_is_said_for_its_row():
    typed = as_typed(equipment=[DP1], clearances=[{"tag": "DP-1", "depth": "N/V"}])
    assert cells_of("not-visible", typed) == ["Clearances!D5"]


@pytest.mark.parametrize(
    ("cells", "problem"),
    [({}, True), ({"touch_test": "No alert"}, False), ({"touch_test": "N/V"}, False), ({"touch_test": "qqq"}, False),
     ({"kind": "Lift controller"}, False), ({"room": "Store"}, False), ({"room": "Elsewhere"}, True)],
)  # fmt: skip
def test_a_touch_test_is_asked_of_what_somebody_could_touch(cells: Row, problem: bool):
    rooms = [{"room": "Main", "access": "Entered"}, {"room": "Store", "access": "Locked"}]
    typed = as_typed(rooms=rooms, equipment=[{**DP1, "room": "Main", **cells}])
    assert bool(messages_of("touch-test-not-recorded", typed)) == problem


def test_an_alert_is_reported_whatever_alerted():
    lift = {"tag": "LC-1", "kind": "Lift controller"}
    assert messages_of("touch-test-alerted", as_typed(equipment=[{**lift, "touch_test": "ALERTED"}])) != []
    assert missing("touch-test-alerted", as_typed(equipment=[lift])) == []
    assert missing("touch-test-alerted", as_typed(equipment=[DP1])) == ["Touch test"]


# -- voltages and ratings


@pytest.mark.parametrize(
    ("cells", "problem"),
    [({"rating_a": "225"}, False), ({"rating_a": "220"}, True), ({"rating_a": "601"}, True), ({"rating_a": "601", "main_device": "Fused switch"}, False),
     ({"rating_a": "0"}, False), ({"rating_a": "-5"}, False), ({"rating_a": ""}, False), ({"rating_a": "9000"}, False), ({"rating_a": "6000"}, False),
     ({"rating_a": "220", "kind": "Transfer switch"}, False), ({"rating_a": "220", "kind": "Generator"}, False), ({"rating_a": "220", "kind": ""}, False)],
)  # fmt: skip
def test_ratings_are_looked_up_where_a_device_carries_them(cells: Row, problem: bool):
    # NFPA 70 240.6(A); 601 A is a standard rating of fuses alone.
    assert bool(messages_of("rating-not-standard", as_typed(equipment=[{**DP1, **cells}]))) == problem


@pytest.mark.parametrize(
    ("profile", "device", "problem"),
    [
        ("nec-2014", "Main breaker", True),
        ("nec-2014", "Fused switch", False),
        ("nec-2023", "Main breaker", False),
        ("nec-2023", "Fused switch", False),
    ],
)
def test_ten_amperes_are_standard_for_fuses_and_lately_for_breakers(profile: str, device: str, problem: bool):
    # NFPA 70 240.6(A): the table began at 15 A until the edition that took in 10 A; fuses had 1, 3, 6, 10 and 601 A.
    row = {**DP1, "rating_a": "10", "main_device": device}
    typed = as_typed(job={"code_profile": profile}, equipment=[row])
    assert bool(messages_of("rating-not-standard", typed)) == problem


@pytest.mark.parametrize(
    "kind",
    ["Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Disconnect switch", "Enclosed circuit breaker", "PV disconnect"],
)  # fmt: skip
def test_every_kind_with_a_device_is_looked_up(kind: str):
    assert (
        messages_of(
            "rating-not-standard", as_typed(equipment=[{"tag": "A", "kind": kind, "rating_a": "220"}])
        )
        != []
    )


@pytest.mark.parametrize(
    ("table", "cells", "places"),
    [
        ("equipment", {"voltage": "490"}, ["Equipment!G5"]),
        ("equipment", {"voltage": "490", "kind": "Transformer"}, ["Equipment!G5"]),
        ("equipment", {"voltage": "490", "kind": "Lift controller"}, []),
        ("equipment", WYE_480, []),
        ("equipment", {"voltage": ""}, []),
        ("transformers", {"primary_v": "490", "secondary_v": "208Y/120"}, ["Transformers!D5"]),
        ("transformers", {"primary_v": "480", "secondary_v": "215"}, ["Transformers!E5"]),
        ("transformers", {"primary_v": "490", "secondary_v": "215"}, ["Transformers!D5", "Transformers!E5"]),
    ],
)
def test_every_voltage_is_looked_up_in_the_table(table: str, cells: Row, places: list[str]):
    assert cells_of("voltage-not-recognized", as_typed(**{table: [{"tag": "A", **cells}]})) == places


@pytest.mark.parametrize(
    ("cells", "place"),
    [
        ({"voltage": "480Y/277", "phase": "1", "wires": "4"}, "Equipment!I5"),
        ({"voltage": "480Y/277", "phase": "3", "wires": "2"}, "Equipment!J5"),
        ({"voltage": "480 3ph", "phase": "1", "wires": ""}, "Equipment!I5"),
        ({"voltage": "480Y/277 1ph 4w", "phase": "", "wires": ""}, "Equipment!G5"),
        ({"voltage": "480Y/277 1ph 4w", "phase": "3", "wires": "2"}, "Equipment!G5"),
        ({"voltage": "480Y/277 1ph 4w", "phase": "3", "wires": ""}, "Equipment!G5"),
        ({"voltage": "480Y/277 1ph 4w", "phase": "", "wires": "2"}, "Equipment!G5"),
        ({"voltage": "480Y/277 4w", "phase": "1", "wires": ""}, "Equipment!I5"),
        ({"voltage": "480Y/277 4w", "phase": "", "wires": "2"}, "Equipment!J5"),
    ],
)
def test_a_conflict_stands_at_the_cell_that_is_alone_against_the_others(cells: Row, place: str):
    assert cells_of("phase-wire-conflict", as_typed(equipment=[{"tag": "A", **cells}])) == [place]


@pytest.mark.parametrize(
    ("cells", "place"),
    [
        ({"secondary_v": "240/120 delta high leg", "phase": "1"}, "Transformers!H5"),
        ({"secondary_v": "208Y/120 4w", "phase": "1"}, "Transformers!H5"),
        ({"secondary_v": "480Y/277 1ph 4w"}, "Transformers!E5"),
    ],
)
def test_a_conflict_of_a_plate_stands_at_its_phase_or_its_voltage(cells: Row, place: str):
    assert cells_of("phase-wire-conflict", as_typed(transformers=[{"tag": "A", **cells}])) == [place]


def test_a_high_leg_is_said_where_it_is_inspected():
    delta = {"tag": "A", "kind": "Panelboard", "voltage": "240/120", "phase": "3", "wires": "4"}
    assert cells_of("high-leg-present", as_typed(equipment=[delta])) == ["Equipment!G5"]
    assert messages_of("high-leg-present", as_typed(equipment=[{**delta, "kind": "Lift controller"}])) == []
    assert messages_of("high-leg-present", as_typed(equipment=[{**delta, **WYE_208}])) == []

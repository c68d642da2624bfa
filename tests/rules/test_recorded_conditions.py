"""A bad directory and a dark room reach the client from their own cell; a finding of the same thing counts once."""

import pytest

from tests.rules.asking import DP1, Row, cells_of, messages_of, not_checked_of
from workbook_tools.checking import check_survey
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule


def directory(state: str, finding: str = "", subject: str = "DP-1", kind: str = "Panelboard") -> Typed:
    findings = [{"subject": subject, "finding": finding}] if finding else []
    return as_typed(equipment=[{**DP1, "kind": kind, "circuit_directory": state}], findings=findings)


@pytest.mark.parametrize("state", ["Missing", "Outdated", "Unreadable"])
def test_a_bad_directory_is_told_unless_a_finding_says_it(state: str):
    says = f"The circuit directory of DP-1 is recorded as {state.lower()}."
    assert messages_of("bad-circuit-directory", directory(state)) == [says]
    assert messages_of("bad-circuit-directory", directory(state, "Open knockout")) == [says]
    about_another = directory(state, f"Circuit directory {state.lower()}", subject="DP-2")
    assert messages_of("bad-circuit-directory", about_another) == [says]
    # Any finding about the directory will do: whether it is outdated or unreadable is a matter of words.
    assert messages_of("bad-circuit-directory", directory(state, "Circuit directory missing")) == []


def test_a_bad_directory_is_a_condition_whatever_carries_it():
    typed = directory("Outdated", kind="Motor control center")
    assert cells_of("bad-circuit-directory", typed) == ["Equipment!N5"]


@pytest.mark.parametrize("state", ["Present", "N/A"])
def test_a_good_directory_is_no_condition(state: str):
    assert messages_of("bad-circuit-directory", directory(state)) == []
    assert not_checked_of("bad-circuit-directory", directory(state)) == []


@pytest.mark.parametrize(
    ("kind", "asked"),
    [
        ("Panelboard", True),
        ("Switchboard", True),
        ("Switchgear", True),
        ("Disconnect switch", False),
        ("Transformer", False),
        ("Lift controller", False),
    ],
)
def test_a_directory_is_asked_of_boards_alone(kind: str, asked: bool):
    missing = [one.missing for one in not_checked_of("bad-circuit-directory", directory("", kind=kind))]
    assert missing == (["Circuit directory"] if asked else [])


def test_what_is_not_inspected_has_no_bad_directory():
    typed = directory("Missing", kind="Lift controller")
    assert messages_of("bad-circuit-directory", typed) == []


def dark(*findings: Row, held: str = "Boiler room", **cells: str) -> Typed:
    room = {"room": "Boiler room", "access": "Entered", "lighting": "No", **cells}
    equipment = [{**DP1, "room": held, "circuit_directory": "N/A"}]
    return as_typed(rooms=[room], equipment=equipment, findings=findings)


def test_a_dark_room_with_equipment_is_told():
    says = "The room Boiler room holds equipment and is recorded as having no working light."
    assert messages_of("no-working-light", dark()) == [says]
    assert cells_of("no-working-light", dark()) == ["Rooms!E5"]
    about_another = dark({"subject": "DP-1", "finding": "No light"})
    assert messages_of("no-working-light", about_another) == [says]
    about_something_else = dark({"subject": "Boiler room", "finding": "Water on the floor"})
    assert messages_of("no-working-light", about_something_else) == [says]


@pytest.mark.parametrize(
    "finding",
    [{"finding": "No LIGHT over the panel"}, {"finding": "Dark", "seen": "one lamp is out"}, {"finding": "both lamps out"}],
)  # fmt: skip
def test_a_finding_about_the_light_says_so(finding: Row):
    assert messages_of("no-working-light", dark({"subject": "boiler ROOM", **finding})) == []


def test_a_dark_room_without_equipment_is_left_alone():
    assert messages_of("no-working-light", dark(held="Yard")) == []
    assert not_checked_of("no-working-light", dark(held="Yard", lighting="")) == []


@pytest.mark.parametrize(("access", "asked"), [("Entered", True), ("", True), ("Locked", False)])
def test_the_light_is_asked_of_rooms_that_may_have_been_entered(access: str, asked: bool):
    missing = [one.missing for one in not_checked_of("no-working-light", dark(access=access, lighting=""))]
    assert missing == (["Lighting"] if asked else [])


# -- a finding of the same thing on the same subject counts once, also where its tag is mistyped


@pytest.mark.parametrize("subject", ["DP-1", "dp 1", "DP1"])
def test_a_finding_about_the_directory_is_the_only_word_on_it(subject: str):
    typed = directory("Missing", "no directory", subject)
    assert messages_of("bad-circuit-directory", typed) == []


@pytest.mark.parametrize(
    ("typed", "subject", "issues"),
    [
        (directory("Outdated"), "DP-1", ["Outdated circuit directory."]),
        (directory("Outdated", "directory not current"), "DP-1", ["Outdated circuit directory."]),
        (dark(), "Boiler room", ["No working light over the equipment."]),
        (dark({"subject": "Boiler room", "finding": "lamp out"}), "Boiler room", ["Failed or poor lighting at the equipment."]),
    ],
    ids=["a directory", "a directory and its finding", "a dark room", "a dark room and its finding"],
)  # fmt: skip
def test_the_client_reads_it_once(typed: Typed, subject: str, issues: list[str]):
    schedule = build_schedule(check_survey(survey_of(typed)))
    assert [issue.seen for issue in schedule.conditions if issue.subject == subject] == issues


def test_goods_in_the_working_space_and_a_finding_of_them_are_one_issue():
    typed = as_typed(
        equipment=[DP1],
        clearances=[{"tag": "DP-1", "items_in_space": "Pallets"}],
        findings=[{"subject": "DP-1", "finding": "Stored goods in the working space"}],
    )
    schedule = build_schedule(check_survey(survey_of(typed)))
    assert len([issue for issue in schedule.conditions if issue.subject == "DP-1"]) == 1

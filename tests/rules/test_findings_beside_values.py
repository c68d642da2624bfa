"""A finding beside the value recorded for the same thing: do the two agree, and does a finding say it."""

from dataclasses import replace

import pytest

from tests.rules.asking import DP1, Row, cells_of, messages_of
from workbook_tools.definitions import load_template
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import assessment_of

DEPTH = {"opposite_side": "Grounded"}
CLEARANCES = [
    ("Working depth too small", {**DEPTH, "depth": "42"}, {**DEPTH, "depth": "41"}, "Depth reads 42 at Clearances!D5, which is enough"),
    ("Working width too small", {"width": "30", "equipment_width": "20"}, {"width": "29", "equipment_width": "20"}, "Width reads 30 at Clearances!F5, which is enough"),
    ("Headroom too low", {"height": "78"}, {"height": "70"}, "Height reads 78 at Clearances!I5, which is enough"),
    ("Adjacent equipment sticks out too far", {"front_projection": "6"}, {"front_projection": "9"}, "Front projection reads 6 at Clearances!O5, which is enough"),
    ("Door or hinged trim cannot swing 90 degrees", {"door_opens_90": "yes"}, {"door_opens_90": "No"}, "Door opens 90° reads yes at Clearances!P5"),
    ("Stored goods in the working space", {"items_in_space": "None"}, {"items_in_space": "Pallets"}, "Items in working space reads None at Clearances!L5"),
    ("Pipe, duct or drain in the dedicated space", {"items_above": "none"}, {"items_above": "Pipe"}, "Items above reads none at Clearances!N5"),
]  # fmt: skip
IDS = [case[0] for case in CLEARANCES]


def recorded(finding: str, *clearances: Row, subject: str = "DP-1", equipment: Row = DP1) -> Typed:
    return as_typed(
        equipment=[equipment],
        clearances=[{"tag": "DP-1", **cells} for cells in clearances],
        findings=[{"subject": subject, "finding": finding}],
    )


@pytest.mark.parametrize(("finding", "fine", "_bad", "says"), CLEARANCES, ids=IDS)
def test_a_finding_about_a_space_that_was_recorded_as_fine_disagrees(
    finding: str, fine: Row, _bad: Row, says: str
):
    typed = recorded(finding, fine)
    assert messages_of("finding-disagrees", typed) == [f"{finding} is recorded for DP-1, but {says}."]
    assert cells_of("finding-disagrees", typed) == ["Findings!C5"]


@pytest.mark.parametrize(("finding", "fine", "_bad", "says"), CLEARANCES, ids=IDS)
def test_the_tag_of_a_finding_is_compared_without_case_or_spaces(
    finding: str, fine: Row, _bad: Row, says: str
):
    said = messages_of("finding-disagrees", recorded(finding, fine, subject="dp -1"))
    assert said == [f"{finding} is recorded for dp -1, but {says}."]


@pytest.mark.parametrize(("finding", "_fine", "bad", "_says"), CLEARANCES, ids=IDS)
def test_a_finding_about_a_space_that_was_recorded_as_bad_agrees(
    finding: str, _fine: Row, bad: Row, _says: str
):
    assert messages_of("finding-disagrees", recorded(finding, bad)) == []


@pytest.mark.parametrize(("finding", "fine", "bad", "_says"), CLEARANCES, ids=IDS)
def test_one_bad_side_of_two_is_what_the_finding_means(finding: str, fine: Row, bad: Row, _says: str):
    assert messages_of("finding-disagrees", recorded(finding, fine, bad)) == []
    assert messages_of("finding-disagrees", recorded(finding, bad, fine)) == []
    assert len(messages_of("finding-disagrees", recorded(finding, fine, fine))) == 1


@pytest.mark.parametrize(("finding", "fine", "_bad", "_says"), CLEARANCES, ids=IDS)
@pytest.mark.parametrize("said", ["", "N/V", "N/A"])
def test_what_was_not_recorded_contradicts_nothing(finding: str, fine: Row, _bad: Row, _says: str, said: str):
    unsaid = {field: said for field in fine if field != "opposite_side"}
    assert messages_of("finding-disagrees", recorded(finding, unsaid)) == []
    assert messages_of("finding-disagrees", recorded(finding, fine, unsaid)) == []
    assert messages_of("finding-disagrees", recorded(finding)) == []


def test_a_sprinkler_above_is_not_nothing_above():
    typed = recorded("Pipe, duct or drain in the dedicated space", {"items_above": "Sprinkler only"})
    assert messages_of("finding-disagrees", typed) == []


def test_a_length_in_a_doubtful_unit_contradicts_nothing():
    typed = recorded("Working depth too small", {**DEPTH, "depth": "914"})
    assert messages_of("finding-disagrees", typed) == []


def test_a_quiet_enclosure_contradicts_a_live_one():
    finding = "Metal enclosure shows voltage on a non-contact tester"
    typed = recorded(finding, equipment={**DP1, "touch_test": "No alert"})
    said = "Touch test reads No alert at Equipment!O5"
    assert messages_of("finding-disagrees", typed) == [f"{finding} is recorded for DP-1, but {said}."]
    for answer in ("ALERTED", "Not touched", ""):
        assert (
            messages_of("finding-disagrees", recorded(finding, equipment={**DP1, "touch_test": answer})) == []
        )


@pytest.mark.parametrize("state", ["missing", "outdated", "unreadable"])
def test_a_directory_that_is_there_contradicts_one_that_is_not(state: str):
    finding = f"Circuit directory {state}"
    typed = recorded(finding, equipment={**DP1, "circuit_directory": "Present"})
    said = "Circuit directory reads Present at Equipment!N5"
    assert messages_of("finding-disagrees", typed) == [f"{finding} is recorded for DP-1, but {said}."]
    for answer in ("Missing", "Outdated", "Unreadable", "N/V", ""):
        equipment = {**DP1, "circuit_directory": answer}
        assert messages_of("finding-disagrees", recorded(finding, equipment=equipment)) == []


@pytest.mark.parametrize(
    ("finding", "answers"),
    [
        ("Circuit directory missing", {"circuit_directory": "Present"}),
        ("Metal enclosure shows voltage on a non-contact tester", {"touch_test": "No alert"}),
    ],
)
def test_a_tag_on_two_rows_contradicts_nothing_since_nobody_knows_which_is_meant(finding: str, answers: Row):
    row = {**DP1, **answers}
    typed = as_typed(equipment=[row, row], findings=[{"subject": "DP-1", "finding": finding}])
    assert messages_of("finding-disagrees", typed) == []


MOTIONS = "More than six service disconnects in one group"


def services(*motions: str, subject: str, source: str = "Utility") -> Typed:
    rows = [
        {"tag": f"SD-{place}", "kind": "Service disconnect", "fed_from": source, "hand_motions": count}
        for place, count in enumerate(motions, 1)
    ]
    return as_typed(equipment=rows, findings=[{"subject": subject, "finding": MOTIONS}])


@pytest.mark.parametrize("subject", ["SD-1", "sd-2", "Utility", "utility"])
def test_few_hand_motions_contradict_more_than_six(subject: str):
    said = messages_of("finding-disagrees", services("4", "2", subject=subject))
    assert said == [f"{MOTIONS} is recorded for {subject}, but the hand motions of Utility sum to 6."]


@pytest.mark.parametrize(
    ("motions", "subject"),
    [(("4", "3"), "SD-1"), (("4", ""), "SD-1"), (("4", "N/V"), "Utility"), (("4", "2"), "DP-1"), (("4", "2"), "Utility 2")],
    ids=["seven", "one not counted", "one not seen", "another board", "another service"],
)  # fmt: skip
def test_hand_motions_that_do_not_settle_it_contradict_nothing(motions: tuple[str, ...], subject: str):
    assert messages_of("finding-disagrees", services(*motions, subject=subject)) == []


def test_a_service_without_a_source_is_called_its_service():
    said = messages_of("finding-disagrees", services("4", "2", subject="SD-1", source="N/V"))
    assert said == [f"{MOTIONS} is recorded for SD-1, but the hand motions of its service sum to 6."]


# -- the same finding twice


@pytest.mark.parametrize(
    ("one", "other", "twice"),
    [
        (("DP-1", "Open knockout"), ("dp -1", "open knockout"), True),
        (("DP-1", "Bird nest in the gutter"), ("DP-1", "bird nest in the  gutter"), True),
        (("DP-1", "Open knockout"), ("DP-2", "Open knockout"), False),
        (("DP-1", "Open knockout"), ("DP-1", "Missing trim screws"), False),
        (("", "Open knockout"), ("", "Open knockout"), False),
        (("DP-1", ""), ("DP-1", ""), False),
    ],
    ids=["spelled otherwise", "own words", "another board", "another finding", "no subject", "no finding"],
)
def test_a_finding_is_written_once_for_a_subject(one: tuple[str, str], other: tuple[str, str], twice: bool):
    typed = as_typed(findings=[{"subject": subject, "finding": finding} for subject, finding in (one, other)])
    assert cells_of("finding-duplicated", typed) == (["Findings!C6"] if twice else [])


def test_what_is_written_twice_says_where_it_stands_first():
    typed = as_typed(findings=[{"subject": "DP-1", "finding": "Open knockout"}] * 3)
    assert (
        messages_of("finding-duplicated", typed)
        == ["Open knockout is already recorded for DP-1 at Findings!C5."] * 2
    )


@pytest.mark.parametrize(
    ("cells", "asks"),
    [
        ({"subject": "DP-1", "finding": "Open knockout"}, True),
        ({"subject": "DP-1"}, True),
        ({"finding": "Open knockout"}, True),
        ({"seen": "left side"}, False),
        ({"subject": "DP-1", "finding": "Open knockout", "photos": "N/A"}, False),
        ({"subject": "DP-1", "finding": "Open knockout", "photos": "a.jpg"}, False),
    ],
)
def test_a_finding_wants_a_photo_or_the_answer_that_there_is_none(cells: Row, asks: bool):
    assert bool(messages_of("finding-without-photo", as_typed(findings=[cells]))) == asks


def test_a_finding_that_has_no_name_yet_is_called_the_finding():
    assert messages_of("finding-without-photo", as_typed(findings=[{"subject": "DP-1"}])) == [
        "No photo is named for the finding."
    ]


# -- what a firm's own library says contradicts a finding


@pytest.mark.parametrize(
    ("contradictions", "says"),
    [
        (("main_device=Main lugs",), "Main device reads Main lugs at Equipment!L5"),
        (("main_device=Main breaker",), ""),
        (
            ("main_device=Main breaker", "main_device=Main lugs"),
            "Main device reads Main lugs at Equipment!L5",
        ),
        (("depth=42",), ""),
        (("supply-loop",), ""),
        (("no-such-rule",), ""),
        (("no-such-rule", "touch-test-alerted"), "Touch test reads No alert at Equipment!O5"),
        ((), ""),
    ],
)
def test_a_firm_names_the_value_that_contradicts_its_own_finding(contradictions: tuple[str, ...], says: str):
    office = load_template("office")
    own = office.findings[0]._replace(disagrees_with=contradictions)
    typed = recorded(own.name, equipment={**DP1, "main_device": "Main lugs", "touch_test": "No alert"})
    assessment = assessment_of(typed, replace(office, findings=(own,)))
    found = [one for one in catalogue()["finding-disagrees"].check(assessment) if isinstance(one, Problem)]
    said = [f"{own.name} is recorded for DP-1, but {says}."] if says else []
    assert [problem.message for problem in found] == said

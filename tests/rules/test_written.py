"""What free words say of a thing: the class of wordings that affirm, deny, or leave it open. Common practice."""

import re

import pytest

from tests.rules.asking import WYE_480, Row, problems_of
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.written import Said, answer_in

THING = re.compile(r"relay", re.IGNORECASE)

THERE = (
    "{}", "{} seen", "{} on the door", "{}: yes", "{}, not tested", "{} on the door, no label", "The {} has not been tested",
    "No damage; {} on the door", "No alert. {} seen", "Disconnect No. 2 has a {}", "{} with no visible damage", "no fan, {} seen",
    "{} without a test date", "Not touched, {} on the door", "No {} missing", "Fan or {} on the door", "Zero-sequence {} on the door", "Setting 0.3 s, {} on the door", "0.3 s at the {}", "add-on {} seen", "No fan or lamp, {} seen",
)  # fmt: skip
NOT_THERE = (
    "No {}", "no {} seen", "{} not seen", "{} was not seen", "{} wasn't there", "{} isn’t installed", "{}: none", "{} none", "{} - no",
    "{}? No.", "{}, none", "{}, not seen", "Without {}", "w/o {}", "{} missing", "Missing {}", "{} absent", "Lacking a {}", "Never had a {}",
    "None of them has a {}", "Neither {} nor lamp", "Neither lamp nor {}", "No fan or {}", "No lamp, fan or {}", "No {}, fan or lamp",
    "Did not see a {}", "Doesn't have a {}", "There is no {}", "No evidence of a {}", "All in one box, no {}", "0 {}", "{} N/A",
    "{} removed", "{} out of service", "{} disabled", "Dusty room; no {}; door bent", "Clean\nno {}", "Six mains but no {}",
)  # fmt: skip
OPEN = (
    "{}?", "{} N/V", "{} not visible", "Could not see a {}", "Unable to see the {}", "{} unknown", "Maybe a {}", "{} not verified",
    "Recommend a {}", "Needs a {}", "{} required", "{} to be installed", "Ask whether there is a {}", "Provide a {}", "No label on the {}",
    "{} cover missing", "Is there a {}",
)  # fmt: skip


@pytest.mark.parametrize("text", THERE)
def test_what_is_said_to_be_there_is_there(text: str):
    assert answer_in(THING, text.format("relay")).said is Said.THERE


@pytest.mark.parametrize("text", NOT_THERE)
def test_what_its_own_clause_denies_is_not_there(text: str):
    found = answer_in(THING, text.format("relay"))
    assert found.said is Said.NOT_THERE
    assert "relay" in found.words


@pytest.mark.parametrize("text", OPEN)
def test_a_question_a_wish_and_what_nobody_saw_leave_it_open(text: str):
    assert answer_in(THING, text.format("relay")).said in (Said.UNSEEN, Said.ASKED)


def test_other_words_say_nothing():
    assert answer_in(THING, "", "No fan", "a lamp").said is Said.NOTHING


def test_one_that_is_there_outweighs_one_that_is_not():
    assert answer_in(THING, "No relay on the left", "Relay on the right").said is Said.THERE


def test_a_long_clause_is_quoted_in_part():
    assert len(answer_in(THING, f"No relay {'on the door ' * 30}").quoted) < 90


SD: Row = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}
BIG: Row = {**SD, "main_device": "Main breaker", "rating_a": "2000", **WYE_480}
DELTA: Row = {**SD, "voltage": "480", "phase": "3", "wires": "3"}
GEN: Row = {"tag": "GEN-1", "kind": "Generator"}
DP: Row = {"tag": "DP-1", "kind": "Panelboard", "room": "Main"}
T1: Row = {"tag": "T-1", "kind": "Transformer", "room": "Roof", "fed_from": "DP-1"}

# The thing; the rule that asks where nothing is said, the one that tells where it is denied, and the rows, the first remarked.
QUESTIONS = {
    "ground-fault relay": ("ground-fault-protection-not-recorded", "ground-fault-protection-absent", [BIG]),
    "maintenance switch": ("arc-energy-reduction-not-recorded", "arc-energy-reduction-absent", [BIG]),
    "sign": ("source-sign-not-recorded", "source-sign-absent", [SD, GEN]),
    "ground detector": ("ground-detector-not-recorded", "ground-detector-absent", [DELTA]),
    "local switch": ("transformer-disconnect-not-in-sight", "transformer-disconnect-absent", [T1, DP]),
}


def remarked(rows: list[Row], text: str) -> Typed:
    return as_typed(equipment=[{**rows[0], "remarks": text}, *rows[1:]])


@pytest.mark.parametrize("thing", QUESTIONS)
def test_each_question_is_asked_told_or_settled_by_what_is_written(thing: str):
    asks, tells, rows = QUESTIONS[thing]

    def spoken(text: str) -> tuple[bool, bool]:
        typed = remarked(rows, text.format(thing))
        return bool(problems_of(asks, typed)), bool(problems_of(tells, typed))

    assert spoken("") == (True, False)
    assert {text: spoken(text) for text in THERE} == dict.fromkeys(THERE, (False, False))
    assert {text: spoken(text) for text in NOT_THERE} == dict.fromkeys(NOT_THERE, (False, True))
    assert {text: spoken(text) for text in OPEN} == dict.fromkeys(OPEN, (True, False))


@pytest.mark.parametrize("thing", QUESTIONS)
def test_a_finding_about_it_is_read_by_the_client_and_asked_no_more(thing: str):
    asks, tells, rows = QUESTIONS[thing]
    found = {"subject": rows[0]["tag"], "finding": "Other", "seen": f"No {thing}"}
    typed = as_typed(equipment=rows, findings=[found])
    assert problems_of(asks, typed) == problems_of(tells, typed) == []

"""Which name of a survey a mistyped one is held for: a slip, another hyphen, an abbreviation; else none."""

import pytest

from workbook_tools.assessment.nearest import Names

NAMES = (
    "LP-1",
    "LP-11",
    "RP-1",
    "RP-2",
    "MSB",
    "T-1",
    "Main electrical room",
    "Electrical closet 2",
    "Boiler room",
)


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("LP1", ["LP-1"]),
        ("lp 1", ["LP-1"]),
        ("lp_11", ["LP-11"]),
        ("RP-22", ["RP-2"]),
        ("RP-3", ["RP-1", "RP-2"]),
        ("mbs", ["MSB"]),
        ("T1", ["T-1"]),
        ("boiler rm", ["Boiler room"]),
        ("Main elec rm", ["Main electrical room"]),
        ("elec closet 2", ["Electrical closet 2"]),
        # Nothing is near: another number, another word, a lone letter or figure.
        ("elec closet 1", []),
        ("Yard", []),
        ("street", []),
        ("1", []),
        ("A", []),
        ("", []),
        ("-", []),
    ],
)
def test_a_near_name_is_offered_and_no_other(typed: str, near: list[str]):
    assert Names(NAMES).near(typed) == near


def test_two_tags_that_differ_by_a_hyphen_alone_are_both_offered():
    assert Names(["LP-1", "LP1"]).near("lp.1") == ["LP-1", "LP1"]


def test_a_thousand_mistyped_names_are_looked_up_through_the_index():
    names = Names(f"RP-{number}" for number in range(1000))
    assert all(names.near(f"RP{number}") == [f"RP-{number}"] for number in range(1000))

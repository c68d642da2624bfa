"""Which system may feed which.

Source: the definitions of the systems (C84.1-2020, NFPA70-2023 in sources.csv) and physics; the
pairs are common practice.
"""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.electrical import SYSTEMS, can_feed

SYSTEM = st.sampled_from(list(SYSTEMS.values()))

PAIRS = {
    "208Y/120-3P4W": "208Y/120-3P4W 120/208-1P3W 208-1P2W 208-3P3W 120-1P2W",
    "240/120-3P4W": "240/120-3P4W 120/240-1P3W 240-3P3W 240-1P2W 120-1P2W",
    "480Y/277-3P4W": "480Y/277-3P4W 480-3P3W 277-1P2W 480-1P2W 277/480-1P3W 460Y/265-3P4W",
    "600Y/347-3P4W": "600Y/347-3P4W 600-3P3W 347-1P2W 600-1P2W",
    "120/240-1P3W": "120/240-1P3W 240-1P2W 120-1P2W",
    "120/208-1P3W": "120/208-1P3W 208-1P2W 120-1P2W",
    "480-3P3W": "480-3P3W 480-1P2W 480-3P3W-corner",
    "480-3P3W-corner": "480-3P3W 480-1P2W 480-3P3W-corner",
    "240-1P2W": "240-1P2W",
    "415Y/240-3P4W": "415Y/240-3P4W 416Y/240-3P4W 415-3P3W 416-3P3W 240-1P2W",
    "277-1P2W": "277-1P2W",
    "12470Y/7200-3P4W": "12470Y/7200-3P4W 12470-3P3W 7200-1P2W",
}


@pytest.mark.parametrize("source", PAIRS)
def test_what_a_source_feeds_and_nothing_else(source):
    fed = {key for key, load in SYSTEMS.items() if can_feed(SYSTEMS[source], load) and "-of-" not in key}
    assert fed == set(PAIRS[source].split())


@pytest.mark.parametrize("key", [key for key in SYSTEMS if "-of-" in key])
def test_a_neutral_that_is_not_brought_along_is_not_missed(key):
    # 480Y/277 3-phase 3-wire is what a motor takes from a 480Y/277 board (common practice).
    load = SYSTEMS[key]
    whole = SYSTEMS[
        f"{key.rpartition('-')[0].rpartition('-')[0].rpartition('-')[0]}-{load.phases}P{load.wires + 1}W"
    ]
    assert (load.volts_to_ground, load.line_volts) == (whole.volts_to_ground, whole.line_volts)
    assert can_feed(whole, load)
    assert can_feed(load, whole).reason == "neutral"


@pytest.mark.parametrize(
    ("source", "load", "reasons"),
    [
        ("208Y/120-3P4W", "240/120-3P4W", ("voltage",)),
        ("208Y/120-3P4W", "120/240-1P3W", ("voltage",)),
        ("480Y/277-3P4W", "208Y/120-3P4W", ("voltage",)),
        ("120/240-1P3W", "240/120-3P4W", ("phase",)),
        ("120/208-1P3W", "208Y/120-3P4W", ("phase",)),
        ("120/240-1P3W", "208Y/120-3P4W", ("voltage", "phase")),
        ("480-3P3W", "480Y/277-3P4W", ("neutral",)),
        ("480-3P3W", "277-1P2W", ("neutral",)),
        ("240-3P3W", "120/240-1P3W", ("neutral",)),
        ("240-1P2W", "120-1P2W", ("neutral",)),
        ("208-1P2W", "120-1P2W", ("neutral",)),
        ("240/120-3P4W", "208-1P2W", ("voltage",)),
        ("240/120-3P4W", "240Y/139-3P4W", ("voltage",)),
        ("480Y/277-3P4W", "480-3P3W-corner", ("voltage",)),
        ("240-1P2W", "240-3P3W", ("phase",)),
        ("480-3P3W", "120-1P2W", ("voltage",)),  # another voltage: its neutral is not asked for
    ],
)
def test_what_stands_in_the_way(source, load, reasons):
    feeding = can_feed(SYSTEMS[source], SYSTEMS[load])
    assert not feeding
    assert (feeding.reason, feeding.reasons) == (reasons[0], reasons)
    assert SYSTEMS[load].name in feeding.says


@given(SYSTEM)
def test_every_system_feeds_itself(system):
    assert can_feed(system, system)


@given(SYSTEM, SYSTEM)
def test_three_phases_never_come_from_one_and_no_neutral_from_none(source, load):
    feeding = can_feed(source, load)
    if feeding:
        assert load.phases <= source.phases
        assert source.has_neutral or not load.has_neutral
    assert bool(feeding) == (feeding.reasons == ())


def test_what_is_fed_through_a_board_can_be_fed_from_its_source():
    # A corner is grounded at the source, which a board on a wye cannot do for it.
    systems = [system for system in SYSTEMS.values() if system.only_if != "corner"]
    for source, board in itertools.product(systems, systems):
        for load in systems if can_feed(source, board) else ():
            assert can_feed(source, load) or not can_feed(board, load), (source.key, board.key, load.key)

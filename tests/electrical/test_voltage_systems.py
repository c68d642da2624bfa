"""Reading voltages as people write them.

Spellings: common practice, listed in voltage_systems.csv among the test data; notation: ANSI C84.1
(C84.1-2020 in sources.csv); voltage to ground: NFPA 70 Article 100 (NFPA70-2023 in sources.csv).
"""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.electrical import (
    SYSTEMS,
    can_feed,
    needed_depth,
    nominal_class,
    read_phases,
    read_voltage,
    read_wires,
    volts_to_ground,
)

REFERENCE = Path(__file__).parents[1] / "data" / "reference"
with open(REFERENCE / "voltage_systems.csv", encoding="utf-8", newline="") as table:
    REFERENCE_ROWS = list(csv.DictReader(table))

SYSTEM = st.sampled_from(list(SYSTEMS.values()))


@pytest.mark.parametrize("row", REFERENCE_ROWS, ids=lambda row: row["key"])
def test_the_table_agrees_with_the_reference(row):
    system = SYSTEMS[row["key"]]
    assert (system.name, system.phases, system.wires) == (
        row["canonical"],
        int(row["phases"]),
        int(row["wires"]),
    )
    assert system.line_volts == int(row["v_ll"] or row["v_ln"])
    assert system.neutral_volts == (int(row["v_ln"]) if row["v_ln"] else None)
    assert system.volts_to_ground == int(row["max_v_to_ground"])
    low, _, high = row["clearance_row"].partition("-")
    depth = needed_depth("nec-2023", volts_to_ground(system), "Live parts").inches
    assert depth == needed_depth("nec-2023", int(low), "Live parts").inches
    assert depth == needed_depth("nec-2023", int(high), "Live parts").inches


# Spellings that fit two systems, or another one by the notation (a plain number is three-wire).
READ_OTHERWISE = {
    **dict.fromkeys(("120/240", "120/240V", "115/230", "110/220", "240/120", "480V"), "ambiguous"),
    **dict.fromkeys(("4.16kV", "4160V 3PH", "13.8kV", "13800V 3PH", "34.5kV", "34500V 3PH"), "one system"),
}
SPELLINGS = [
    (spelling, row["key"]) for row in REFERENCE_ROWS for spelling in row["spellings"].split("|") if spelling
]


@pytest.mark.parametrize(("spelling", "key"), SPELLINGS)
def test_every_listed_spelling_is_understood(spelling, key):
    reading = read_voltage(spelling)
    if spelling == "460/265":  # listed under the 480 class; we keep it with 265/460, which can be fed from it
        assert reading.system.key == "460Y/265-3P4W"
        assert can_feed(SYSTEMS[key], reading.system)
    elif spelling not in READ_OTHERWISE:
        assert (reading.outcome, reading.system.key) == ("one system", key)
    elif READ_OTHERWISE[spelling] == "ambiguous":
        assert (reading.outcome, reading.system) == ("ambiguous", None)
        assert SYSTEMS[key] in reading.candidates
    else:
        assert reading.system.wires == 3
        assert reading.system.line_volts == SYSTEMS[key].line_volts


@pytest.mark.parametrize(
    ("text", "phases", "wires", "key"),
    [
        # As they stand in a sheet with columns for phase and wires.
        ("480Y/277", "3", "4", "480Y/277-3P4W"),
        ("277/480V", "3", "4", "480Y/277-3P4W"),
        ("480/277", "3 ph", "4W", "480Y/277-3P4W"),
        ("480", "3", "3", "480-3P3W"),
        ("208", "1", "2", "208-1P2W"),
        ("208", 3, 3, "208-3P3W"),
        ("120/240", "3", "4", "240/120-3P4W"),
        ("120/240", "1", "3", "120/240-1P3W"),
        ("240/120", "single phase", "3-wire", "120/240-1P3W"),
        ("120/208", "1", "3", "120/208-1P3W"),
        ("240", "1", "3", "120/240-1P3W"),
        ("480", "3", "4", "480Y/277-3P4W"),
        ("460", "3", None, "480-3P3W"),
        ("230", "1", "2", "240-1P2W"),
        ("115", None, None, "120-1P2W"),
        ("347", "1", "2", "347-1P2W"),
        ("12470", "3", "3", "12470-3P3W"),
        ("4160", "3", "4", "4160Y/2400-3P4W"),
        # All in one text.
        ("208Y/120V 3PH 4W", None, None, "208Y/120-3P4W"),
        ("208y / 120 volts, 3 phase, 4 wire", None, None, "208Y/120-3P4W"),
        ("120/208V 3P4W", None, None, "208Y/120-3P4W"),
        ("480Y/277V 3Ø-4W+G", None, None, "480Y/277-3P4W"),
        ("480Y/277 3 4", None, None, "480Y/277-3P4W"),
        ("480/3/60", None, None, "480-3P3W"),
        ("460-3-60", None, None, "480-3P3W"),
        ("240V split phase", None, None, "120/240-1P3W"),
        ("120/240 split-phase", None, None, "120/240-1P3W"),
        ("480V 3PH+N", None, None, "480Y/277-3P4W"),
        ("Y 208", None, None, "208Y/120-3P4W"),
        ("240/120 delta high leg", None, None, "240/120-3P4W"),
        ("120/240 delta", None, None, "240/120-3P4W"),
        ("Wild leg 240", None, None, "240/120-3P4W"),
        ("480 corner grounded", None, None, "480-3P3W-corner"),
        ("480V delta, B phase grounded", None, None, "480-3P3W-corner"),
        ("480 ungrounded delta", None, None, "480-3P3W"),
        ("480∆ three-phase", None, None, "480-3P3W"),
        ("600Y/347", None, None, "600Y/347-3P4W"),
        ("480Y/277", "3", "3", "480Y/277-3P3W-of-4"),
        ("4160Y/2400", "3", "3", "4160Y/2400-3P3W-of-4"),
        ("208Y/120V 3PH 3W", None, None, "208Y/120-3P3W-of-4"),
        ("240/120 delta", "3", "3", "240/120-3P3W-of-4"),
        ("120/240", "1", "2", "120/240-1P2W-of-3"),
        ("480Y/277", "1", "2", "277/480-1P2W-of-3"),
        ("12.47kV", None, None, "12470Y/7200-3P4W"),
        ("12,470Y/7,200", None, None, "12470Y/7200-3P4W"),
        ("12.47/7.2 kV", None, None, "12470Y/7200-3P4W"),
        ("‘480Y/277’", None, None, "480Y/277-3P4W"),
        ("service 480Y/277 V, 1600 A, 65 kA, 60 Hz", None, None, "480Y/277-3P4W"),
        ("\u00a0208Y/120\u00a0", None, None, "208Y/120-3P4W"),
    ],
)  # fmt: skip
def test_what_people_write(text, phases, wires, key):
    reading = read_voltage(text, phases, wires)
    assert (reading.outcome, reading.system and reading.system.key) == ("one system", key)


@pytest.mark.parametrize(
    ("text", "phases", "wires", "outcome", "keys"),
    [
        ("120/240", None, None, "ambiguous", {"120/240-1P3W", "240/120-3P4W"}),
        ("480", None, None, "ambiguous", {"480-3P3W", "480-1P2W"}),
        ("240", "3", "4", "ambiguous", {"240/120-3P4W", "240Y/139-3P4W"}),
        ("208-230/1/60", None, None, "ambiguous", {"208-1P2W", "240-1P2W"}),
        ("480Y/277", "1", "4", "conflict", {"480Y/277-3P4W", "277/480-1P3W"}),
        ("480Y/277", "3", "2", "conflict", {"480Y/277-3P4W"}),
        ("120", "3", "4", "conflict", {"120-1P2W"}),
        ("208Y/120 delta", None, None, "conflict", {"208Y/120-3P4W"}),
        ("480Y/277V 3PH 4W", "1", None, "conflict", set()),
        ("480", "2", None, "not nominal", set()),
        ("240 V 2-phase 4-wire", None, None, "not nominal", set()),
        ("120/240 two phase", None, "5", "not nominal", set()),
        ("450", "3", "3", "not nominal", set()),
        ("380Y/220", "3", "4", "not nominal", set()),
        ("125 VDC", None, None, "not nominal", set()),
        ("480 or 208", None, None, "not nominal", set()),
        ("9" * 400, None, None, "not nominal", set()),
        ("N/V", None, None, "not a voltage", set()),
        ("3Ø", None, None, "not a voltage", set()),
        ("", None, None, "not a voltage", set()),
    ],
)
def test_what_cannot_be_one_system_is_said(text, phases, wires, outcome, keys):
    reading = read_voltage(text, phases, wires)
    assert (reading.outcome, reading.system) == (outcome, None)
    if outcome == "ambiguous":
        assert {system.key for system in reading.candidates} == keys
    else:
        assert {system.key for system in reading.candidates} == keys
    assert reading.says.endswith(".")


def test_a_nameplate_voltage_says_so():
    # Source: C84.1-2020 in sources.csv, nameplate voltages from memory.
    assert "nameplate voltage of the 480 V class" in read_voltage("460", "3").says
    assert "nameplate" not in read_voltage("480", "3").says


def test_the_text_keeps_what_it_said_apart_from_the_columns():
    reading = read_voltage("208Y/120V 3PH", wires="4")
    assert (reading.phases, reading.wires, reading.volts) == (3, None, (208, 120))


@pytest.mark.parametrize(
    ("text", "phases", "wires"),
    [
        ("3", 3, 3), ("3 ph", 3, None), ("3Ø", 3, None), ("three-phase", 3, None), ("single phase", 1, None),
        ("1φ", 1, None), ("4W", None, 4), ("4-wire", None, 4), ("four wire", None, 4), ("3PH 4W", 3, 4),
        ("3.0", 3, 3), ("", None, None), ("N/A", None, None), ("delta", None, None),
    ],
)  # fmt: skip
def test_phases_and_wires(text, phases, wires):
    assert (read_phases(text), read_wires(text)) == (phases, wires)


@pytest.mark.parametrize(
    ("system", "source", "volts"),
    [
        ("480-3P3W", None, 480), ("480-3P3W", "480Y/277-3P4W", 277), ("480-3P3W", "480-3P3W", 480),
        ("480-3P3W-corner", None, 480), ("480-1P2W", "480Y/277-3P4W", 277), ("480-1P2W", "480-3P3W", 480),
        ("208-1P2W", "208Y/120-3P4W", 120), ("208-3P3W", "208Y/120-3P4W", 120),
        ("240/120-3P4W", None, 208), ("240-3P3W", "240/120-3P4W", 208), ("240-1P2W", "240/120-3P4W", 208),
        ("120/240-1P3W", "240/120-3P4W", 120), ("240Y/139-3P4W", None, 139), ("240-1P2W", "415Y/240-3P4W", 240),
        ("12470-3P3W", "12470Y/7200-3P4W", 7200), ("480-3P3W", "208Y/120-3P4W", 480),
    ],
)  # fmt: skip
def test_volts_to_ground_take_the_source_into_account(system, source, volts):
    # Source: NFPA70-2023 Article 100, voltage to ground; the source decides where there is no neutral.
    assert volts_to_ground(SYSTEMS[system], SYSTEMS[source] if source else None) == volts


def test_grounding_is_passed_on_along_the_feeders():
    three_wire = SYSTEMS["480-3P3W"]
    board = volts_to_ground(three_wire, SYSTEMS["480Y/277-3P4W"])
    assert volts_to_ground(three_wire, three_wire, source_to_ground=board) == 277


@given(SYSTEM)
def test_a_written_system_reads_back_as_itself(system):
    assert read_voltage(written(system)).system == system


def written(system):
    """Return a text that says everything about the system: "480Y/277 V 3PH 4W"."""
    name, _, rest = system.name.partition(" ")
    return f"{name} V {rest + ' ' if rest else ''}{system.phases}PH {system.wires}W"


@given(
    SYSTEM,
    st.sampled_from(["{}", " {} ", "“{}”", "{}.", "main: {}"]),
    st.sampled_from([str, str.lower, str.upper]),
)
def test_a_system_typed_badly_reads_back_as_itself(system, around, case):
    text = around.format(case(written(system)).replace("/", " / ").replace("-", "–"))
    assert read_voltage(text).system == system


@given(st.text(max_size=40), st.none() | st.text(max_size=8), st.none() | st.text(max_size=8))
def test_reading_never_raises(text, phases, wires):
    reading = read_voltage(text, phases, wires)
    assert reading.text == text
    assert (reading.system is None) == (reading.outcome != "one system")
    assert reading.says


@given(st.text(alphabet="0123456789/ YVkPHWØΔdeltawire.,-'+xX", max_size=30))
def test_reading_never_raises_near_a_voltage(text):
    reading = read_voltage(text)
    assert (len(reading.candidates) == 1) >= (reading.outcome == "one system")
    assert (len(reading.candidates) > 1) >= (reading.outcome == "ambiguous")


@given(SYSTEM)
def test_voltage_to_ground_is_one_of_the_systems_own_voltages(system):
    own = {system.line_volts, system.neutral_volts, system.volts_to_ground}
    assert volts_to_ground(system, system) in own
    assert nominal_class(nominal_class(system.line_volts)) == nominal_class(system.line_volts)

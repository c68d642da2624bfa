"""Needed clearances, and whether a measured length meets them.

Sources: NFPA70-2023 110.26 and Table 110.34(A), WAC-296-24-95703 and WAC-296-800-28027 (keys in
sources.csv). That the two printed figures are no conversions of each other is visible in print: 3 ft 6 in
stands beside 1.0 m. The measuring tolerance is common practice.
"""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.electrical import (
    CONDITIONS,
    KINDS,
    PROFILE_NAMES,
    SYSTEMS,
    Length,
    entrances_needed,
    load_profile,
    meets,
    needed_depth,
    needed_height,
    needed_width,
    needs_dedicated_space,
    needs_working_space,
    panic_hardware_needed,
    projection_limit,
    read_length,
    volts_to_ground,
    wall_counts_as_grounded,
)

PROFILES = {name: load_profile(name) for name in PROFILE_NAMES}
NEC = PROFILES["nec-2023"]
PROFILE = st.sampled_from(list(PROFILES.values()))
VOLTS = st.floats(min_value=0, max_value=200_000)
SIDES = list(CONDITIONS)


def passes(limit, text):
    return meets(limit, read_length(text), NEC)


@pytest.mark.parametrize(
    ("system", "inches"),
    [
        ("480Y/277-3P4W", 42),  # 277 V to ground
        ("480-3P3W", 42),  # ungrounded: 480 V to ground
        ("240/120-3P4W", 42),  # the high leg is 208 V to ground
        ("240Y/139-3P4W", 36),  # 139 V stays in the first row
        ("208Y/120-3P4W", 36),
        ("240-3P3W-corner", 42),
        ("4160Y/2400-3P4W", 48),
    ],
)
def test_the_row_is_chosen_by_the_voltage_to_ground(system, inches):
    assert needed_depth(NEC, volts_to_ground(SYSTEMS[system]), "Grounded").inches == inches


@given(PROFILE, VOLTS, VOLTS, st.sampled_from(SIDES))
def test_depth_never_falls_when_the_voltage_rises(profile, one, other, opposite):
    low, high = sorted((one, other))
    lesser, greater = needed_depth(profile, low, opposite), needed_depth(profile, high, opposite)
    # 2014 prints a smaller metric figure for 3 ft over 600 V than below (900 beside 914 mm): inches decide.
    assert lesser.inches <= greater.inches


@given(PROFILE, VOLTS)
def test_depth_never_falls_when_the_opposite_side_gets_worse(profile, volts):
    limits = [needed_depth(profile, volts, opposite) for opposite in SIDES]
    assert limits[0].inches <= limits[1].inches <= limits[2].inches
    assert limits[0].millimetres <= limits[1].millimetres <= limits[2].millimetres


@given(PROFILE, VOLTS, st.sampled_from(SIDES), st.integers(1900, 2030))
def test_an_older_allowance_never_asks_for_more(profile, volts, opposite, year):
    assert (
        needed_depth(profile, volts, opposite, year).inches <= needed_depth(profile, volts, opposite).inches
    )
    assert needed_height(profile, year_built=year).inches <= needed_height(profile).inches


@pytest.mark.parametrize(
    ("volts", "opposite", "text", "enough"),
    [
        (277, "Grounded", "42", True),
        (277, "Grounded", "41 7/8", True),  # a tape is read to an eighth
        (277, "Grounded", "41 3/4", False),
        (277, "Grounded", "1.0 m", True),  # the printed metric figure, 39.4 in
        (277, "Grounded", "997 mm", True),
        (277, "Grounded", "996 mm", False),
        (277, "Grounded", "39.4", False),  # inches are held to the inch figure
        (120, "Clear", "914 mm", True),
        (120, "Clear", "900 mm", True),
        (120, "Clear", "896 mm", False),
        (277, "Live parts", "46", False),
    ],
)
def test_a_reading_is_compared_with_the_figure_of_its_own_unit(volts, opposite, text, enough):
    assert passes(needed_depth(NEC, volts, opposite), text) is enough


@pytest.mark.parametrize(
    ("text", "enough"),
    [
        ("78", True),
        ("6'-6", True),
        ("76", False),
        ("1981 mm", True),
        ("1978 mm", False),
        ("2.0 m", True),
        ("6 ft 5 7/8", True),
    ],
)
def test_height(text, enough):
    assert passes(needed_height(NEC), text) is enough


def test_a_metric_reading_may_meet_either_figure():
    limit = needed_depth(PROFILES["nec-2014"], 277, "Grounded")
    assert limit[:2] == (42, 1070)
    assert meets(limit, read_length("1067 mm"), "nec-2014")


@pytest.mark.parametrize(
    ("own", "text", "enough"),
    [
        ("20 in", "30", True), ("20 in", "28", False), ("20 in", "762 mm", True),
        ("80 in", "2 m", False),  # 78.7 in beside a cabinet of 80
        ("80 in", "79 7/8", True), ("80 in", "2030 mm", True), ("80 in", "2028 mm", False),
        ("2 m", "78 3/4", True), ("2 m", "78.5", False),
    ],
)  # fmt: skip
def test_width_against_the_equipments_own_width_is_compared_exactly(own, text, enough):
    assert passes(needed_width(NEC, read_length(own)), text) is enough


def test_an_unknown_equipment_width_leaves_the_printed_minimum():
    assert needed_width(NEC, None)[:2] == (30, 762)
    assert not needed_width(NEC, None).own
    assert needed_width(NEC, Length(31, "in")).own


@pytest.mark.parametrize(
    ("text", "enough"),
    [
        ("0", True),
        ("6", True),
        ("6 1/8", True),
        ("6.25", False),
        ("9", False),
        ("152 mm", True),
        ("156 mm", False),
    ],
)
def test_projection_must_not_exceed(text, enough):
    assert passes(projection_limit(NEC), text) is enough


@given(PROFILE, VOLTS, st.sampled_from(SIDES), st.floats(0, 400), st.floats(0, 400))
def test_more_room_is_never_worse(profile, volts, opposite, one, other):
    limit = needed_depth(profile, volts, opposite)
    less, more = sorted((one, other))
    for unit, scale in (("in", 1), ("mm", 25.4)):
        assert meets(limit, Length(more * scale, unit), profile) >= meets(
            limit, Length(less * scale, unit), profile
        )


def test_the_height_of_older_buildings():
    # Source: WAC-296-800-28027: 6.25 ft where built before 13 August 2007.
    osha = PROFILES["osha-1910"]
    assert needed_height(osha, year_built=date(2007, 8, 12)).inches == 75
    assert needed_height(osha, year_built=date(2007, 8, 13)).inches == 78
    assert needed_height(osha, year_built=2006).inches == 75
    assert needed_height(osha, year_built=2007).inches == 78
    assert needed_height(NEC, year_built=1950).inches == 78
    assert needed_height(osha, Length(90, "in"), year_built=1990).inches == 90


@pytest.mark.parametrize(
    ("amps", "width", "entrances"),
    [
        (1600, "90", 2),
        (1200, "73", 2),
        (1199, "90", 1),
        (1200, "6 ft", 1),
        (1200, "1.8 m", 1),
        (1200, "1.84 m", 2),
    ],
)
def test_large_equipment_needs_an_entrance_at_each_end(amps, width, entrances):
    # Source: NFPA70-2023 110.26(C)(2): 1200 A or more and more than 6 ft (1.8 m) wide.
    assert entrances_needed(NEC, amps, read_length(width)) == entrances


def test_the_two_reliefs_leave_one_entrance():
    wide = Length(100, "in")
    assert entrances_needed(NEC, 2000, wide, depth_doubled=True) == 1
    assert entrances_needed(NEC, 2000, wide, unobstructed_egress=True) == 1


def test_a_profile_without_the_panic_hardware_rule_needs_none():
    assert panic_hardware_needed(NEC, 800, Length(24, "ft"))
    assert not panic_hardware_needed(PROFILES["osha-1910"], 4000, Length(1, "ft"))


def test_dedicated_space_by_kind_and_edition():
    # Source: NFPA70-2023 110.26(E): service equipment joined the list in 2023; transformers are not in it.
    in_2023 = {kind for kind in KINDS if needs_dedicated_space(NEC, kind)}
    in_2020 = {kind for kind in KINDS if needs_dedicated_space("nec-2020", kind)}
    assert in_2020 == {"Switchboard", "Switchgear", "Panelboard", "Motor control center"}
    assert in_2023 - in_2020 == {"Service disconnect"}


def test_working_space_by_kind():
    # Common practice: what is likely to be worked on while energized.
    without = {kind for kind in KINDS if not needs_working_space(kind)}
    assert without == {"Transformer", "Lift controller", "Low-voltage system", "Busway"}


def test_walls():
    # Source: NFPA70-2023 Table 110.26(A)(1) note; block read as concrete is common practice.
    assert wall_counts_as_grounded("Painted concrete BLOCK")
    assert not wall_counts_as_grounded("drywall on studs")


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: needed_depth(NEC, -1, "Clear"), "volts_to_ground must be 0 or more, not -1"),
        (lambda: needed_depth(NEC, float("nan"), "Clear"), "volts_to_ground must be 0 or more, not nan"),
        (
            lambda: needed_depth(NEC, 120, "Wall"),
            "opposite must be one of Clear, Grounded, Live parts, not 'Wall'",
        ),
        (lambda: needed_depth("nec-1999", 120, "Clear"), "'nec-1999' is no code profile"),
        (lambda: entrances_needed(NEC, -5, Length(1, "in")), "amps must be 0 or more, not -5"),
        (lambda: needs_dedicated_space(NEC, "Toaster"), "kind must be one of .* not 'Toaster'"),
        (lambda: needs_working_space(""), "kind must be one of .* not ''"),
    ],
)
def test_bad_arguments_say_which_and_why(call, says):
    with pytest.raises(ValueError, match=says):
        call()

"""Nameplates, sizes, currents and protection of transformers.

Sources: NFPA70-2023 Table 450.3(B), EEP-Z, IAEI-2018 (keys in sources.csv); the rest is common
practice. Printed values are in published_values.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workbook_tools.electrical import (
    KVA_SIZES,
    direction,
    full_load_current,
    is_listed_kva,
    is_standard,
    kva_neighbours,
    kva_of_load,
    minimum_efficiency,
    next_standard_rating,
    protection_limits,
    rating_neighbours,
    read_transformer_side,
    secondary_fault_current,
    turns_ratio,
)

KVA = st.floats(0.05, 10_000)
VOLTS = st.floats(24, 35_000)
PHASES = st.sampled_from([1, 3])
PERCENT = st.floats(0.5, 15)
AMPS = st.floats(0.5, 7_000)


@pytest.mark.parametrize(
    ("text", "phases", "line_volts"),
    [
        ("480 delta", "3", 480), ("480Δ", 3, 480), ("480", "3", 480), ("480Y/277", 3, 480), ("208Y/120", 3, 208), ("120/208", 3, 208),
        ("120/240", 1, 240), ("240/120", "1", 240), ("120/240", None, 240), ("480V 1PH", None, 480), ("12.47kV", 3, 12470),
        ("7200", 1, 7200), ("460", 3, 460), ("277", 1, 277), ("450", 3, 450),
    ],
)  # fmt: skip
def test_the_line_voltage_of_one_side(text, phases, line_volts):
    assert read_transformer_side(text, phases).line_volts == line_volts


@pytest.mark.parametrize("text", ["240x480", "480-208Y/120", "208/230", "N/V", "", "delta"])
def test_a_side_without_one_voltage_says_so(text):
    side = read_transformer_side(text, "1")
    assert side.line_volts is None
    assert side.says.endswith(".")


def test_the_ratio_of_the_line_voltages():
    assert turns_ratio(480, 208) == pytest.approx(2.3077, abs=1e-4)


@given(VOLTS, VOLTS)
def test_direction_turns_with_the_sides(primary, secondary):
    opposite = {"step-up": "step-down", "step-down": "step-up", "isolation": "isolation"}
    assert direction(secondary, primary) == opposite[direction(primary, secondary)]
    assert (direction(primary, secondary) == "isolation") == (primary == secondary)


def test_the_smallest_difference_is_a_direction():
    # Common practice: only equal voltages are isolation.
    assert (direction(480.01, 480), direction(480, 480.01), direction(480, 480.0)) == (
        "step-down",
        "step-up",
        "isolation",
    )


@given(KVA, VOLTS, PHASES)
def test_doubling_the_voltage_halves_the_current(kva, volts, phases):
    amps = full_load_current(kva, volts, phases)
    assert full_load_current(kva, 2 * volts, phases) == pytest.approx(amps / 2)
    assert full_load_current(2 * kva, volts, phases) == pytest.approx(2 * amps)
    assert kva_of_load(amps, volts, phases) == pytest.approx(kva)


@given(KVA, VOLTS, PHASES, PERCENT, PERCENT)
def test_fault_current_falls_as_impedance_rises(kva, volts, phases, one, other):
    low, high = sorted((one, other))
    at_low = secondary_fault_current(kva, volts, phases, low)
    assert at_low >= secondary_fault_current(kva, volts, phases, high) > 0
    # The low end of the tolerance and a stiff source only ever raise it; a source lowers it.
    assert secondary_fault_current(kva, volts, phases, low, tolerance_percent=7.5) > at_low
    assert secondary_fault_current(kva, volts, phases, low, source_mva=500) < at_low


@given(AMPS, st.sampled_from(["primary only", "primary with secondary", "secondary"]), st.booleans())
def test_only_125_percent_goes_up_to_the_next_standard_rating(amps, case, fuse):
    # Source: NFPA70-2023 Table 450.3(B) note 1.
    limit = protection_limits(amps, case, fuse=fuse)
    assert limit.next_size_up == (limit.percent == 125)
    if limit.largest_device is None:
        assert limit.amps < (1 if fuse else 10)
        return
    assert is_standard(limit.largest_device, fuse=fuse)
    if limit.next_size_up and limit.amps <= 6000:
        assert limit.largest_device == next_standard_rating(limit.amps, fuse=fuse)
    else:
        assert limit.largest_device <= limit.amps
        above = rating_neighbours(limit.largest_device, fuse=fuse)[1]
        assert above is None or above > limit.amps


@pytest.mark.parametrize(
    ("amps", "case", "percent"),
    [
        (9, "primary only", 125), (8.99, "primary only", 167), (2, "primary only", 167), (1.99, "primary only", 300),
        (1.99, "secondary", 167), (1.99, "primary with secondary", 250),
    ],
)  # fmt: skip
def test_the_columns_of_the_protection_table(amps, case, percent):
    # Source: NFPA70-2023 Table 450.3(B): 9 A or more, less than 9 A, less than 2 A.
    assert protection_limits(amps, case).percent == percent


@given(st.floats(0.01, 3000), PHASES)
def test_the_neighbours_of_a_size_are_listed_and_enclose_it(kva, phases):
    below, above = kva_neighbours(kva, phases)
    assert below is None or (below < kva and is_listed_kva(below, phases))
    assert above is None or (above > kva and is_listed_kva(above, phases))
    between = [size for size in KVA_SIZES[phases] if (below or 0) < size < (above or float("inf"))]
    assert between in ([], [kva])


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: full_load_current(0, 480, 3), "kva must be above 0, not 0"),
        (lambda: full_load_current(75, -480, 3), "volts must be above 0, not -480"),
        (lambda: full_load_current(75, 480, 2), "phases must be 1 or 3, not 2"),
        (lambda: full_load_current(float("nan"), 480, 3), "kva must be above 0, not nan"),
        (lambda: secondary_fault_current(75, 208, 3, 0), "impedance_percent must be above 0, not 0"),
        (
            lambda: secondary_fault_current(75, 208, 3, 5, tolerance_percent=100),
            "tolerance_percent must be from 0",
        ),
        (lambda: secondary_fault_current(75, 208, 3, 5, source_mva=0), "source_mva must be above 0, not 0"),
        (lambda: direction(0, 208), "primary_volts must be above 0, not 0"),
        (lambda: turns_ratio(480, 0), "secondary_volts must be above 0, not 0"),
        (
            lambda: protection_limits(90, "both"),
            "case must be one of primary only, primary with secondary, secondary",
        ),
        (lambda: protection_limits(0, "secondary"), "amps must be above 0, not 0"),
        (lambda: kva_neighbours(75, 2), "phases must be 1 or 3, not 2"),
        (lambda: is_listed_kva(-1, 3), "kva must be above 0, not -1"),
        (lambda: is_listed_kva(75, 3, "oil"), "listing must be one of .*, not 'oil'"),
        (lambda: minimum_efficiency(75, 3, 2006), "year_made must be from 2007 to 2028, not 2006"),
        (lambda: minimum_efficiency(2500, 3, 2020), "kva must be from 15 to 1000, not 2500"),
        (lambda: is_standard(0), "amps must be above 0, not 0"),
    ],
)
def test_bad_arguments_say_which_and_why(call, says):
    with pytest.raises(ValueError, match=says):
        call()

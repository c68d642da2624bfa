"""Transformers: the plate by itself, what feeds them and what they feed."""

import pytest

from tests.rules.asking import WYE_208, WYE_480, Row, cells_of, messages_of, missing
from workbook_tools.rules.rule import Typed, as_typed

DP1 = {"tag": "DP-1", **WYE_480}
T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
RP1 = {"tag": "RP-1", "kind": "Panelboard", "fed_from": "T-1", **WYE_208}
PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}


def plated(*rows: Row, **plate: str) -> Typed:
    return as_typed(equipment=rows, transformers=[{**PLATE, **plate}])


def plate_alone(**cells: str) -> Typed:
    return as_typed(transformers=[{"tag": "T-1", **cells}])


# -- the primary


@pytest.mark.parametrize(
    ("source", "primary", "problem"),
    [
        (WYE_480, "480", False),
        (WYE_480, "480Y/277", False),
        (WYE_480, "277", False),
        (WYE_480, "600", True),
        (WYE_480, "208Y/120", True),
        (WYE_208, "480", True),
    ],
)
def test_the_primary_has_the_voltage_of_the_source(source: Row, primary: str, problem: bool):
    typed = plated({"tag": "DP-1", **source}, T1, primary_v=primary)
    assert bool(messages_of("transformer-primary-mismatch", typed)) == problem
    assert missing("transformer-primary-mismatch", typed) == []


def test_a_source_whose_secondary_agrees_suggests_that_the_sides_are_swapped():
    (swapped,) = messages_of(
        "transformer-primary-mismatch", plated(DP1, T1, primary_v="208Y/120", secondary_v="480")
    )
    assert swapped.endswith("The secondary agrees with it: are the two sides swapped?")
    (other,) = messages_of("transformer-primary-mismatch", plated(DP1, T1, primary_v="600"))
    assert "swapped" not in other


@pytest.mark.parametrize("said", ["", "N/V"])
def test_a_primary_or_a_source_without_a_voltage_is_not_compared(said: str):
    rule = "transformer-primary-mismatch"
    assert missing(rule, plated(DP1, T1, primary_v=said)) == ["Primary (V)"]
    assert missing(rule, plated({"tag": "DP-1", "voltage": said}, T1)) == ["Voltage of DP-1"]
    assert missing(rule, plated(DP1, T1, primary_v="N/A")) == []


@pytest.mark.parametrize("secondary", ["480", "480Y/277", "N/V", ""])
def test_behind_another_transformer_its_secondary_is_what_counts(secondary: str):
    above = {"tag": "T-0", "kind": "Transformer", "fed_from": "Utility"}
    plates = [PLATE, {**PLATE, "tag": "T-0", "primary_v": "13.2 kV", "secondary_v": secondary}]
    typed = as_typed(equipment=[above, {**T1, "fed_from": "T-0"}], transformers=plates)
    read = secondary.startswith("480")
    assert missing("transformer-primary-mismatch", typed) == ([] if read else ["Secondary (V) of T-0"])
    assert messages_of("transformer-primary-mismatch", typed) == []


def test_a_source_that_is_a_transformer_without_a_plate_gives_no_voltage():
    above = {"tag": "T-0", "kind": "Transformer", "fed_from": "Utility"}
    assert missing("transformer-primary-mismatch", plated(above, {**T1, "fed_from": "T-0"})) == [
        "Voltage of T-0"
    ]


@pytest.mark.parametrize("source", ["Utility", "", "N/V", "X-9"])
def test_a_source_that_is_no_row_is_not_compared(source: str):
    typed = plated(DP1, {**T1, "fed_from": source}, primary_v="600")
    assert messages_of("transformer-primary-mismatch", typed) == []
    assert missing("transformer-primary-mismatch", typed) == []


def test_each_of_two_sources_is_compared():
    typed = plated({"tag": "A-1", **WYE_208}, DP1, {**T1, "fed_from": "Utility; DP-1; A-1"})
    (said,) = messages_of("transformer-primary-mismatch", typed)
    assert "is fed from A-1, which gives 208Y/120." in said


def test_what_is_no_transformer_or_feeds_itself_is_left_alone():
    assert (
        messages_of(
            "transformer-primary-mismatch", plated(DP1, {**T1, "kind": "Panelboard"}, primary_v="600")
        )
        == []
    )
    loop = plated({**DP1, "fed_from": "T-1"}, T1, primary_v="600")
    assert messages_of("transformer-primary-mismatch", loop) == []


# -- the secondary


def test_the_loads_of_a_secondary_are_named_in_one_problem():
    rows = [T1, RP1, {**RP1, "tag": "RP-2", **WYE_480}, {**RP1, "tag": "RP-3", **WYE_480}]
    assert messages_of("transformer-secondary-mismatch", plated(*rows)) == [
        "T-1 has a secondary of 208Y/120, but what it feeds reads otherwise: RP-2 reads 480Y/277 and RP-3 reads 480Y/277."
    ]
    assert messages_of("transformer-secondary-mismatch", plated(T1, RP1)) == []


@pytest.mark.parametrize("said", ["", "N/V"])
def test_a_secondary_or_a_load_without_a_voltage_is_not_compared(said: str):
    rule = "transformer-secondary-mismatch"
    assert missing(rule, plated(T1, {**RP1, "voltage": said})) == ["Voltage of RP-1"]
    assert missing(rule, plated(T1, RP1, secondary_v=said)) == ["Secondary (V)"]
    assert missing(rule, as_typed(equipment=[T1, {**RP1, "voltage": said}])) == []
    assert missing(rule, as_typed(equipment=[DP1, {**RP1, "fed_from": "DP-1", "voltage": said}])) == []


def test_a_phase_too_many_is_no_other_voltage():
    typed = plated(T1, {**RP1, "voltage": "240", "wires": "3"}, secondary_v="120/240", phase="1")
    assert messages_of("transformer-secondary-mismatch", typed) == []


# -- Serves


@pytest.mark.parametrize(
    ("serves", "fed_from", "problem"),
    [
        ("RP-1", "T-1", False),
        ("rp-1", "t -1", False),
        ("RP-1", "DP-1", True),
        ("RP-1", "Utility", True),
        ("RP-1", "DP-1; T-1", False),
        ("RP-1", "", False),
        ("RP-1", "N/V", False),
        ("RP-1", "DP-9", False),
        ("RP-1", "DP-1; DP-9", False),
        ("RP-9", "DP-1", False),
        ("", "DP-1", False),
        ("RP-9; RP-1", "DP-1", True),
    ],
)
def test_serves_is_held_against_what_fed_from_says(serves: str, fed_from: str, problem: bool):
    typed = plated(DP1, T1, {**RP1, "fed_from": fed_from}, serves=serves)
    assert bool(messages_of("serves-disagrees", typed)) == problem


def test_a_load_on_two_rows_is_not_held_against_serves():
    rows = [DP1, T1, {**RP1, "fed_from": "DP-1"}, {**RP1, "fed_from": "DP-1"}]
    assert messages_of("serves-disagrees", plated(*rows, serves="RP-1")) == []


# -- protection of the secondary


@pytest.mark.parametrize(
    ("rating", "device", "problem"),
    [
        ("300", "Main breaker", False),
        ("301", "Main breaker", True),
        ("300", "Fused switch", False),
        ("350", "Fused switch", True),
        ("350", "Main lugs", False),
        ("350", "", False),
    ],
)
def test_the_first_main_is_held_against_the_limit(rating: str, device: str, problem: bool):
    # NFPA 70 Table 450.3(B): 125 % of 208.2 A is 260 A; the next standard rating is 300 A.
    typed = plated(T1, {**RP1, "rating_a": rating, "main_device": device})
    assert bool(messages_of("secondary-protection-check", typed)) == problem


def test_a_small_secondary_is_not_rounded_up():
    # NFPA 70 Table 450.3(B): below 9 A, 167 %; 3 kVA at 480 V is 3.6 A, so at most 6.0 A.
    small = {"kva": "3", "secondary_v": "480"}
    load = {**RP1, "voltage": "480", "wires": "3", "main_device": "Main breaker"}
    (said,) = messages_of("secondary-protection-check", plated(T1, {**load, "rating_a": "10"}, **small))
    assert "167 % of that is 6 A" in said
    assert "rounded up" not in said
    assert messages_of("secondary-protection-check", plated(T1, {**load, "rating_a": "6"}, **small)) == []


@pytest.mark.parametrize(
    ("load", "plate", "asked"),
    [
        ({"rating_a": ""}, {}, ["Rating (A) of RP-1"]),
        ({"rating_a": "N/V"}, {}, ["Rating (A) of RP-1"]),
        ({"rating_a": "N/A"}, {}, []),
        ({}, {"kva": ""}, ["kVA"]),
        ({}, {"secondary_v": "N/V"}, ["Secondary (V)"]),
        ({}, {"phase": ""}, ["Phase"]),
        ({"main_device": "Main lugs", "rating_a": ""}, {}, []),
    ],
)
def test_protection_without_its_figures_is_not_checked(load: Row, plate: Row, asked: list[str]):
    row = {**RP1, "rating_a": "350", "main_device": "Main breaker", **load}
    typed = plated(T1, row, **plate)
    assert missing("secondary-protection-check", typed) == asked
    if asked:
        assert messages_of("secondary-protection-check", typed) == []


@pytest.mark.parametrize(
    ("primary", "secondary", "problem"),
    [
        ("480", "208Y/120", True),
        ("4160", "208Y/120", False),
        ("13.2 kV", "480Y/277", False),
        ("1000", "480Y/277", True),
    ],
)
def test_above_a_thousand_volts_another_table_holds(primary: str, secondary: str, problem: bool):
    # NFPA 70 450.3(A) is for more than 1000 V on either side; it depends on who supervises the installation.
    row = {**RP1, "voltage": secondary, "rating_a": "4000", "main_device": "Main breaker"}
    typed = plated(T1, row, primary_v=primary, secondary_v=secondary)
    assert bool(messages_of("secondary-protection-check", typed)) == problem


# -- short-circuit rating


@pytest.mark.parametrize(
    ("marked", "impedance", "problem"),
    [("10", "2", True), ("14", "2", False), ("10", "5", False), ("4", "5", True), ("65", "2", False)],
)
def test_the_highest_fault_current_is_held_against_the_marking(marked: str, impedance: str, problem: bool):
    # 208.2 A / (2 % less 7.5 %) is 11.3 kA; at 5 % it is 4.5 kA.
    typed = plated(T1, {**RP1, "short_circuit_rating_ka": marked}, impedance_percent=impedance)
    assert bool(messages_of("short-circuit-rating-low", typed)) == problem


@pytest.mark.parametrize(
    ("load", "plate", "asked"),
    [
        ({"short_circuit_rating_ka": ""}, {}, ["Short-circuit rating (kA)"]),
        ({"short_circuit_rating_ka": "N/A"}, {}, []),
        ({}, {"impedance_percent": ""}, ["Impedance (%) of T-1"]),
        ({}, {"impedance_percent": "N/A"}, []),
        ({}, {"kva": "N/V"}, ["kVA of T-1"]),
        ({"kind": "Transformer", "short_circuit_rating_ka": ""}, {}, []),
    ],
)
def test_a_rating_without_its_figures_is_not_checked(load: Row, plate: Row, asked: list[str]):
    typed = plated(
        T1, {**RP1, "short_circuit_rating_ka": "10", **load}, **{"impedance_percent": "2", **plate}
    )
    assert missing("short-circuit-rating-low", typed) == asked


@pytest.mark.parametrize("rule", ["short-circuit-rating-low", "secondary-protection-check"])
def test_a_load_in_a_loop_is_compared_with_nothing(rule: str):
    row = {**RP1, "rating_a": "4000", "main_device": "Main breaker", "short_circuit_rating_ka": "1"}
    open_end = plated(T1, row, impedance_percent="2")
    assert len(messages_of(rule, open_end)) == 1
    looped = plated({**T1, "fed_from": "RP-1"}, row, impedance_percent="2")
    assert messages_of(rule, looped) == []
    assert missing(rule, looped) == []


# -- the plate alone


@pytest.mark.parametrize(
    ("kva", "phase", "problem"),
    [
        ("75", "3", False), ("112.5", "3", False), ("70", "3", True), ("50", "3", True), ("50", "1", False),
        ("45", "1", True), ("0", "3", False), ("-5", "3", False), ("N/A", "3", False),
    ],
)  # fmt: skip
def test_a_size_is_looked_up_for_its_phases(kva: str, phase: str, problem: bool):
    typed = plate_alone(kva=kva, phase=phase)
    assert bool(messages_of("kva-not-standard", typed)) == problem
    assert missing("kva-not-standard", typed) == []


def test_a_size_is_not_looked_up_without_its_phases():
    assert missing("kva-not-standard", plate_alone(kva="70")) == ["Phase"]
    assert missing("kva-not-standard", plate_alone(phase="3")) == ["kVA"]
    assert messages_of("kva-not-standard", plate_alone(kva="70")) == []


UP, DOWN, SAME = ("208", "480"), ("480", "208Y/120"), ("480", "480Y/277")


@pytest.mark.parametrize(
    ("volts", "marked", "problem"),
    [
        (DOWN, "Step-down", False), (DOWN, "step down", False), (DOWN, "Step-up", True), (DOWN, "Isolation", True),
        (UP, "Step-up", False), (UP, "Step-down", True), (SAME, "Isolation", False), (SAME, "Step-down", True),
        (UP, "Not marked", False), (UP, "", False), (UP, "N/A", False), (UP, "N/V", False),
    ],
)  # fmt: skip
def test_the_marked_direction_is_held_against_the_voltages(
    volts: tuple[str, str], marked: str, problem: bool
):
    typed = plate_alone(primary_v=volts[0], secondary_v=volts[1], phase="3", marked_direction=marked)
    assert bool(messages_of("direction-disagrees", typed)) == problem
    assert missing("direction-disagrees", typed) == []
    assert bool(messages_of("isolation-transformer", typed)) == (volts == SAME)


def test_a_direction_without_both_voltages_is_not_checked():
    assert missing("direction-disagrees", plate_alone(primary_v="480", marked_direction="Step-up")) == [
        "Secondary (V)"
    ]
    assert missing("direction-disagrees", plate_alone(secondary_v="480", marked_direction="Step-up")) == [
        "Primary (V)"
    ]
    assert missing("direction-disagrees", plate_alone(marked_direction="Not marked")) == []


@pytest.mark.parametrize(
    ("kva", "impedance", "problem"),
    [("25", "", True), ("24.9", "", False), ("75", "", True), ("75", "5", False), ("75", "N/V", False), ("75", "N/A", False), ("", "", False)],
)  # fmt: skip
def test_larger_plates_carry_an_impedance(kva: str, impedance: str, problem: bool):
    typed = plate_alone(kva=kva, impedance_percent=impedance)
    assert bool(messages_of("impedance-not-recorded", typed)) == problem


@pytest.mark.parametrize(("photo", "problem"), [("", True), ("a.jpg", False), ("N/A", False), ("N/V", False)])
def test_a_plate_wants_a_photo_or_the_answer_that_there_is_none(photo: str, problem: bool):
    typed = plate_alone(nameplate_photo=photo)
    assert cells_of("nameplate-photo-missing", typed) == (["Transformers!P5"] if problem else [])

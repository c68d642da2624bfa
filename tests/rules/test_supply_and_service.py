"""What feeds what, and how the building is shut off: where the rules speak, and where they keep still."""

import pytest

from tests.rules.asking import (
    WYE_208,
    WYE_480,
    Row,
    cells_of,
    messages_of,
    missing,
    not_checked_of,
    problems_of,
)
from workbook_tools.rules.rule import Typed, as_typed

SD = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}
LARGE = {**SD, "rating_a": "1600", **WYE_480}
DELTA_480 = {"voltage": "480", "phase": "3", "wires": "3"}


def equipment(*rows: Row) -> Typed:
    return as_typed(equipment=rows)


# -- the service disconnect


@pytest.mark.parametrize(
    ("kinds", "problem", "asked"),
    [
        (["Switchboard", "Panelboard"], True, []),
        (["Switchboard", "Service disconnect"], False, []),
        (["Switchboard", ""], False, ["Kind"]),
        (["Switchboard", "N/V"], False, ["Kind"]),
        (["Servce disc", "Switchboard"], False, ["Kind"]),
        (["Switchboard", "N/A"], True, []),
        (["", "Service disconnect"], False, []),
    ],
)
def test_a_kind_that_nobody_read_may_be_the_service_disconnect(
    kinds: list[str], problem: bool, asked: list[str]
):
    typed = equipment(*({"tag": f"A-{n}", "kind": kind} for n, kind in enumerate(kinds)))
    assert bool(messages_of("no-service-disconnect", typed)) == problem
    assert missing("no-service-disconnect", typed) == asked


def test_a_survey_without_equipment_misses_no_service_disconnect():
    assert messages_of("no-service-disconnect", as_typed(rooms=[{"room": "Yard"}])) == []


def motions(*counts: str, sources: tuple[str, ...] = ()) -> Typed:
    sources = sources or ("Utility",) * len(counts)
    return equipment(
        *(
            {**SD, "tag": f"SD-{n}", "fed_from": source, "hand_motions": count}
            for n, (count, source) in enumerate(zip(counts, sources, strict=True), 1)
        )
    )


@pytest.mark.parametrize(
    ("typed", "problem", "asked"),
    [
        (motions("6"), False, []),
        (motions("7"), True, []),
        (motions("3", "3"), False, []),
        (motions("3", "4"), True, []),
        (motions("3", "4", sources=("Utility", "Utility 2")), False, []),
        (motions("3", "4", sources=("Utility", "Utility 1")), True, []),
        (motions("3", ""), False, ["Hand motions"]),
        (motions("", "N/V"), False, ["Hand motions"]),
        (motions("7", ""), True, []),
        (motions("N/A", "4"), False, []),
    ],
)
def test_six_motions_of_the_hand_are_enough_for_one_service(typed: Typed, problem: bool, asked: list[str]):
    assert bool(messages_of("hand-motions-over-six", typed)) == problem
    assert missing("hand-motions-over-six", typed) == asked


def test_the_first_disconnect_that_was_not_counted_is_where_to_look():
    (found,) = not_checked_of("hand-motions-over-six", motions("1", "", ""))
    assert (found.subject, found.cell) == ("SD-2", "M6")


@pytest.mark.parametrize(
    ("cells", "wanted"),
    [
        ({}, True),
        ({"rating_a": "1000"}, True),
        ({"rating_a": "999"}, False),
        ({"rating_a": "800"}, False),
        ({"rating_a": ""}, False),
        ({"voltage": "600Y/347"}, True),
        ({"voltage": "208Y/120"}, False),
        ({"voltage": ""}, False),
        ({"voltage": "4160Y/2400"}, False),
        (DELTA_480, False),
        ({"kind": "Switchboard"}, False),
    ],
)
def test_ground_fault_protection_is_for_large_wye_services(cells: Row, wanted: bool):
    # NFPA 70 230.95: solidly grounded wye, over 150 V to ground, up to 1000 V between phases, 1000 A or more.
    assert bool(messages_of("ground-fault-protection-not-recorded", equipment({**LARGE, **cells}))) == wanted


@pytest.mark.parametrize(
    "text",
    ["Ground-fault relay", "ground fault light on", "groundfault", "GFP tested", "gfpe", "no GFR seen"],
)
def test_what_is_written_about_ground_faults_is_enough(text: str):
    rule = "ground-fault-protection-not-recorded"
    assert messages_of(rule, equipment({**LARGE, "remarks": text})) == []
    finding = {"subject": "sd-1", "finding": text}
    assert messages_of(rule, as_typed(equipment=[LARGE], findings=[finding])) == []
    seen = {"subject": "SD-1", "finding": "Other", "seen": text}
    assert messages_of(rule, as_typed(equipment=[LARGE], findings=[seen])) == []
    assert messages_of(rule, as_typed(equipment=[LARGE], findings=[{**finding, "subject": "SD-2"}])) != []


@pytest.mark.parametrize("text", ["ground bar", "GFCI outlets", "fault", "MGFP7"])
def test_other_words_are_not(text: str):
    assert messages_of("ground-fault-protection-not-recorded", equipment({**LARGE, "remarks": text})) != []


# -- sources


def test_every_source_of_a_row_is_looked_up():
    typed = equipment({"tag": "MSB"}, {"tag": "ATS-1", "fed_from": "MSB; GEN-9; Utility; Street"})
    said = messages_of("fed-from-unknown", typed)
    assert [text.partition(",")[0] for text in said] == ["Fed from names GEN-9", "Fed from names Street"]
    assert cells_of("fed-from-unknown", typed) == ["Equipment!E6"] * 2


@pytest.mark.parametrize("source", ["msb", "M SB", "Utility", "utility 2", "PV array", "N/A", "N/V", ""])
def test_a_source_that_is_known_or_not_there_is_not_unknown(source: str):
    typed = equipment({"tag": "MSB"}, {"tag": "DP-1", "fed_from": source})
    assert messages_of("fed-from-unknown", typed) == []


@pytest.mark.parametrize(
    ("length", "says"),
    [
        (11, "P-0 <- P-1 <- P-2 <- P-3 <- P-4 <- P-5 <- P-6 <- P-7 <- P-8 <- P-9 <- P-10 <- P-0."),
        (12, "P-0 <- P-1 <- P-2 <- P-3 <- P-4 <- P-5 <- P-6 <- P-7 <- P-8 <- P-9 <- P-10 <- P-11 <- P-0."),
        (13, "P-0 <- P-1 <- P-2 <- P-3 <- P-4 <- P-5 <- (1 more) <- P-7 <- P-8 <- P-9 <- P-10 <- P-11 <- P-12 <- P-0."),
        (20, "P-0 <- P-1 <- P-2 <- P-3 <- P-4 <- P-5 <- (8 more) <- P-14 <- P-15 <- P-16 <- P-17 <- P-18 <- P-19 <- P-0."),
    ],
)  # fmt: skip
def test_a_loop_of_more_than_a_dozen_is_printed_by_its_two_ends(length: int, says: str):
    rows = [{"tag": f"P-{n}", "fed_from": f"P-{(n + 1) % length}"} for n in range(length)]
    (said,) = messages_of("supply-loop", equipment(*rows))
    assert said == f"Following Fed from comes back to the same tag: {says}"


# -- voltage, phase and neutral of a source and what it feeds

A, B = {"tag": "A-1"}, {"tag": "B-1", "fed_from": "A-1"}
ONE = {"voltage": "240", "phase": "1", "wires": "2"}
RULES = ("voltage-differs-from-source", "phase-exceeds-source", "neutral-not-supplied")


@pytest.mark.parametrize(
    ("source", "load", "found"),
    [
        (WYE_480, WYE_480, []),
        (WYE_480, DELTA_480, []),
        (WYE_480, {"voltage": "277", "phase": "1", "wires": "2"}, []),
        (WYE_480, WYE_208, ["voltage-differs-from-source"]),
        (ONE, {"voltage": "240", "phase": "3", "wires": "3"}, ["phase-exceeds-source"]),
        ({"voltage": "240", "phase": "3", "wires": "3"}, ONE, []),
        (DELTA_480, WYE_480, ["neutral-not-supplied"]),
    ],
)
def test_one_thing_stands_in_the_way_of_a_supply(source: Row, load: Row, found: list[str]):
    typed = equipment({**A, **source}, {**B, **load})
    assert [rule for rule in RULES if messages_of(rule, typed)] == found
    assert [rule for rule in RULES if missing(rule, typed)] == []


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("said", ["", "N/V"])
def test_a_voltage_that_is_missing_on_either_side_is_not_compared(rule: str, said: str):
    unknown = {"voltage": said}
    assert missing(rule, equipment({**A, **unknown}, {**B, **WYE_480})) == ["Voltage of A-1"]
    assert missing(rule, equipment({**A, **WYE_480}, {**B, **unknown})) == ["Voltage"]
    assert missing(rule, equipment({**A, **WYE_480}, {**B, "voltage": "N/A"})) == []
    assert missing(rule, equipment({**A, **WYE_480}, {"tag": "C-1", **unknown})) == []


def test_a_neutral_may_come_from_another_source():
    rows = [{"tag": "M-1", **DELTA_480}, {"tag": "N-1", **WYE_480}]
    both = equipment(*rows, {"tag": "C-1", "fed_from": "M-1; N-1", **WYE_480})
    assert messages_of("neutral-not-supplied", both) == []
    neither = equipment(*rows, {"tag": "C-1", "fed_from": "M-1", **WYE_480})
    assert cells_of("neutral-not-supplied", neither) == ["Equipment!J7"]


def test_another_voltage_stays_one_although_a_second_source_fits():
    rows = [
        {"tag": "M-1", **WYE_208},
        {"tag": "N-1", **WYE_480},
        {"tag": "C-1", "fed_from": "M-1; N-1", **WYE_480},
    ]
    assert cells_of("voltage-differs-from-source", equipment(*rows)) == ["Equipment!G7"]


def test_behind_a_transformer_the_voltage_is_the_transformers_question():
    plate = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
    rows = [{"tag": "T-1", "kind": "Transformer"}, {"tag": "B-1", "fed_from": "T-1", **WYE_480}]
    typed = as_typed(equipment=rows, transformers=[plate])
    assert messages_of("voltage-differs-from-source", typed) == []
    assert len(messages_of("transformer-secondary-mismatch", typed)) == 1


# -- photovoltaics and transfer switches

INV = {"tag": "INV-1", "kind": "PV inverter"}


@pytest.mark.parametrize(
    ("kinds", "said"),
    [
        (["PV inverter"], ["A-0 is recorded, but no PV disconnect is."]),
        (["PV inverter", "PV inverter"], ["A-0 and A-1 are recorded, but no PV disconnect is."]),
        (["PV inverter", "PV disconnect"], []),
        (["Panelboard"], []),
        (["PV disconnect"], []),
    ],
)
def test_an_inverter_wants_a_disconnect(kinds: list[str], said: list[str]):
    typed = equipment(*({"tag": f"A-{n}", "kind": kind} for n, kind in enumerate(kinds)))
    assert messages_of("pv-disconnect-not-recorded", typed) == said


@pytest.mark.parametrize(
    ("kind", "source", "said"),
    [
        ("Transfer switch", "MSB", ["ATS-1 is a transfer switch, but only one source is named: MSB."]),
        (
            "Transfer switch",
            "Utility",
            ["ATS-1 is a transfer switch, but only one source is named: Utility."],
        ),
        ("Transfer switch", "MSB; Utility", []),
        ("Transfer switch", "", []),
        ("Transfer switch", "N/V", []),
        ("Panelboard", "MSB", []),
    ],
)
def test_a_transfer_switch_wants_two_sources(kind: str, source: str, said: list[str]):
    typed = equipment({"tag": "MSB"}, {"tag": "ATS-1", "kind": kind, "fed_from": source})
    assert messages_of("transfer-switch-one-source", typed) == said


@pytest.mark.parametrize(
    ("typed", "write"),
    [
        ("Utility #1", "Write Utility if"),
        ("utility service 2", "Write Utility 2 if"),
        ("Electric company", "Write Utility if"),
        ("the power co.", "Write Utility if"),
        ("Utility room panel", ""),
        ("RP-22", ""),
    ],
)
def test_the_utility_in_somebodys_own_words_is_offered(typed: str, write: str):
    (found,) = problems_of("fed-from-unknown", equipment({"tag": "P-1", "fed_from": typed}))
    assert found.action.startswith(write) if write else "Utility" not in found.action.partition(" or add")[0]

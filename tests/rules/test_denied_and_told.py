"""What Remarks deny is told, what they affirm is enough; mains, busways, doors and dates, each beside a lawful neighbour.

The sections are of NFPA 70, "seen" those that the reference tables in tests/data/reference cite from a text that was read.
The buildings are invented.
"""

import pytest

from tests.rules.asking import WYE_208, WYE_480, Row, problems_of
from tests.rules.planted import (
    AFC,
    ARC,
    BELOW,
    BIG_T,
    CORNER,
    DELTA,
    DELTA_240,
    DETECTOR,
    DOOR,
    DP,
    DS,
    FEEDER,
    FUSED,
    GEN,
    GFP,
    GOOD,
    HANDLE,
    LARGE,
    LP,
    MCB,
    MCC,
    MLO,
    MSB,
    ONE,
    OVER,
    PLACE,
    PLATE,
    POSTED,
    RP1,
    SD,
    SIGN,
    SLASH,
    T1,
    UNFUSED,
    WITHOUT,
    Case,
    behind,
    found_at,
    in_room,
    measured,
    units,
)
from workbook_tools.rules.rule import Typed, as_typed

# What Remarks deny is told; what they affirm is enough (the sections as above).
NO_GFP, NO_ARC, NO_SIGN = (
    "ground-fault-protection-absent",
    "arc-energy-reduction-absent",
    "source-sign-absent",
)
NO_DETECTOR, NO_SWITCH = "ground-detector-absent", "transformer-disconnect-absent"
SERIES = {**SD, "short_circuit_rating_ka": "10", "available_fault_ka": "22"}
BIG = {**SD, **MCB, "rating_a": "2000", **WYE_480}
SIX = {**SD, "hand_motions": "6"}
ROOF = {**T1, "room": "Roof"}


def said(row: Row, remarks: str, *others: Row) -> Typed:
    return units({**row, "remarks": remarks}, *others, code_profile="nec-2023", year_built="2024")


DENIED = [
    *(Case(OVER, text, "110.9, 240.86, from memory", said(SERIES, text), "R5") for text in (
        "Not series rated", "No series rating label seen", "Series 200 switch", "Series rated 18 kA label", "Series rating: none",
        "Series rated?", "Series rated, 18,000 AIC", "Series rated 18k", "Series rating label missing", "Breakers in series with a switch")),
    *(Case(OVER, text, "240.86, from memory", said(SERIES, text)) for text in (
        "Series rated 22 kA label", "Marked series rated 65/10 kA", "Series rating label, 65 kA", "Series-connected rating 42,000 A",
        "Series rated with the fuses ahead")),
    *(Case(ONE, text, "230.71(B), seen", said(SIX, text), "M5") for text in (
        "All six in one enclosure, no barriers", "Not in separate compartments", "No barriers or partitions seen",
        "Six switches with separate handles", "Barriers missing between the mains")),
    *(Case(ONE, text, "230.71(B), seen", said(SIX, text)) for text in (
        "Barriers between the six", "Six in separate enclosures", "Each in a section of its own, not numbered")),
    *(Case(NO_GFP, text, "230.95, seen", said(BIG, text), "Q5") for text in (
        "No ground-fault relay; no maintenance switch", "GFP: none", "Ground-fault protection not seen", "no GFR seen")),
    *(Case(NO_GFP, text, "230.95, seen", said(BIG, text)) for text in (
        "", "Ground-fault relay on the door", "GFP relay, no test date", "Ground-fault relay?", "GFP N/V")),
    Case(NO_GFP, "208Y/120", "230.95: over 150 V to ground, seen", said({**BIG, **WYE_208}, "No ground-fault relay")),
    Case(NO_GFP, "a fire pump", "695.6, from memory", said(BIG, "Fire pump, no ground-fault protection")),
    Case(NO_GFP, "behind a transformer", "215.10, from memory", behind({**LARGE, "fed_from": "T-1", "remarks": "No GFP"}, plate=BIG_T), "Q6"),
    Case(GFP, "denied is another rule's", "230.95, seen", said(BIG, "No ground-fault relay")),
    Case(GFP, "a question is no answer", "230.95, seen", said(BIG, "Ground-fault relay?"), "Q5"),
    *(Case(NO_ARC, text, "240.87, seen", said(BIG, text), "Q5") for text in (
        "No ground-fault relay; no maintenance switch", "No maintenance switch, ZSI or differential relay", "Arc reduction: none")),
    *(Case(NO_ARC, text, "240.87, seen", said(BIG, text)) for text in (
        "", "No ground-fault relay; maintenance switch on the door", "No maintenance switch. Zone interlocking label")),
    Case(ARC, "denied is another rule's", "240.87, seen", said(BIG, "No maintenance switch")),
    Case(ARC, "4160 V", "240.87: up to 1000 V, from memory", units({**LARGE, "voltage": "4160", "wires": "3"})),
    *(Case(NO_SIGN, text, "702.7, seen", said(SD, text, GEN), "Q5") for text in (
        "No sign", "Sign missing", "No sign with generator or transfer switch", "no placard for the generator seen")),
    *(Case(NO_SIGN, text, "702.7, seen", said(SD, text, GEN)) for text in ("", "Sign seen", "No signs of overheating", "Sign for GEN-1, no date")),
    Case(SIGN, "signs of something else", "702.7, seen", said(SD, "No signs of overheating", GEN), "Q5"),
    *(Case(NO_DETECTOR, text, "250.21(B), seen", said({**SD, **DELTA}, text), "Q5") for text in (
        "No ground detector", "Ground detector lamps not seen", "Not corner grounded, no ground detector")),
    *(Case(NO_DETECTOR, text, "250.21(B), seen", said({**SD, **DELTA}, text)) for text in (
        "", "Ground detector lamps on the door", "Corner grounded, no detector", "Not corner grounded")),
    *(Case(NO_SWITCH, text, "450.14, seen", units({**DP, "room": "Main"}, {**ROOF, "remarks": text}), "Q6") for text in (
        "No disconnect in sight", "disconnect not seen", "No local switch, not lockable")),
    *(Case(NO_SWITCH, text, "450.14, seen", units({**DP, "room": "Main"}, {**ROOF, "remarks": text})) for text in (
        "", "Disconnect beside it, no label")),
    *(Case(AFC, text, "110.24(A), seen", said(SD, text), "V5") for text in ("No fault current label", "Fault current not posted")),
    *(Case(HANDLE, text, "404.8(A), seen", measured({**DS, "remarks": text}, equipment_height="84"), "R5") for text in (
        "Handle not measured", "Handle out of reach", "No hook stick", "Handle broken off")),
    Case(HANDLE, "not measured, in the remarks of the clearance", "404.8(A), seen", measured(DS, equipment_height="84", remarks="handle not measured"), "R5"),
    Case(HANDLE, "the highest at 82 in", "404.8(A), seen", measured(DS, equipment_height="84", remarks="Highest handle 82 in"), "Q5"),
    Case(HANDLE, "the lower of two within reach", "404.8(A), seen", units({**DS, "remarks": "Lowest handle 40 in; highest handle 82 in"}), "Q5"),
    Case(HANDLE, "the highest at 78 in", "404.8(A), seen", measured(DS, equipment_height="84", remarks="Highest handle 78 in")),
    Case(HANDLE, "a number of a handle", "404.8(A), seen", units({**DS, "remarks": "handle 12 is bent"})),
    Case("open-above-unexplained", "no ceiling", "110.26(E)(1)(d), from memory",
         measured(DP, open_above="40 in", items_above="None", remarks="no ceiling here, something white"), "M5"),
    Case("foreign-piping-above", "no drip pan", "110.26(E)(1)(b), seen", measured(DP, items_above="Pipe", open_above="7 ft", remarks="No drip pan"), "N5"),
    Case("foreign-piping-above", "a drip pan", "110.26(E)(1)(b), seen", measured(DP, items_above="Pipe", open_above="7 ft", remarks="Drip pan over the panel")),
]  # fmt: skip

LARGER, LUGS, FAR = (
    "device-larger-than-its-enclosure",
    "main-lugs-with-a-rating",
    "rating-far-below-the-service",
)
ODD = "implausible-value"
BUSWAY = {"tag": "BW-1", "kind": "Busway", "rating_a": "800", "fed_from": "MSB"}
HIGH = {"tag": "SG-1", "kind": "Switchgear", "rating_a": "600", "voltage": "4160", "phase": "3", "wires": "3"}
LEG = {"voltage": "240/120 delta high leg", "phase": "3", "wires": "4"}
VISIT = {"inspection_date": "2026-09-16"}
NEXT = {**DP, "fed_from": "SD-1"}

MAINS_AND_REST = [
    Case(LARGER, "100 A fuses in a 60 A switch", "110.3(B), from memory", units({**DS, **FUSED, "rating_a": "60", "main_or_fuse_a": "100"}), "T5"),
    Case(LARGER, "400 A fuses in a 200 A service disconnect", "110.3(B), from memory", units({**SD, **FUSED, "rating_a": "200", "main_or_fuse_a": "400"}), "T5"),
    Case(LARGER, "a 225 A trip in a 100 A frame", "110.3(B), from memory",
         units({**DS, "kind": "Enclosed circuit breaker", "rating_a": "100", "main_or_fuse_a": "225"}), "T5"),
    Case(LARGER, "a main larger than the bus of a switchboard", "110.3(B), from memory", units({**LARGE, "main_or_fuse_a": "2000"}), "T5"),
    Case(LARGER, "60 A fuses in a 100 A switch", "110.3(B), from memory", units({**DS, **FUSED, "rating_a": "100", "main_or_fuse_a": "60"})),
    Case(LARGER, "fuses of just as much", "110.3(B), from memory", units({**DS, **FUSED, "rating_a": "60", "main_or_fuse_a": "60"})),
    Case(LARGER, "a panelboard", "panel-rating-below-source asks it", units({**RP1, **MCB, "main_or_fuse_a": "400"})),
    Case(LARGER, "the primary device of a transformer", "450.3(B) has its own limits", units({**T1, "rating_a": "50", "main_or_fuse_a": "100"})),
    Case(LARGER, "a generator's breaker", "a generator is no enclosure, common practice", units({**GEN, "rating_a": "200", "main_or_fuse_a": "225"})),
    Case(LUGS, "amperes beside main lugs", "common practice", units({**RP1, **MLO, "main_or_fuse_a": "225"}), "T5"),
    Case(LUGS, "amperes beside a switch without fuses", "common practice", units({**DS, **UNFUSED, "main_or_fuse_a": "200"}), "T5"),
    Case(LUGS, "a breaker elsewhere", "common practice", units({**RP1, **MLO, "main_or_fuse_a": "225", "remarks": "225 A breaker in MSB"})),
    Case(LUGS, "a main breaker", "common practice", units({**RP1, **MCB, "main_or_fuse_a": "225"})),
    Case(FAR, "14 kA behind 50 kA", "110.9, seen", units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "14"}), "R6"),
    Case(FAR, "two of them", "110.9, asked once", units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "14"},
                                                   {**NEXT, "tag": "DP-2", "short_circuit_rating_ka": "10"}), "R6"),
    Case(FAR, "42 kA behind 50 kA", "110.9: the distance decides, common practice", units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "42"})),
    Case(FAR, "a series rating", "240.86, from memory",
         units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "14", "remarks": "Series rated 65 kA with SD-1"})),
    Case(FAR, "further down", "110.9: the distance decides", units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "65"},
                                                                  {**LP, "fed_from": "DP-1", "short_circuit_rating_ka": "10"})),
    Case(FAR, "posted there too", "posted-fault-current-over-rating compares it", units({**SD, "available_fault_ka": "50"}, {**NEXT, **POSTED, "short_circuit_rating_ka": "14"})),
    Case(WITHOUT, "main lugs on a larger busway", "408.36, seen", units(BUSWAY, {**RP1, **MLO, "fed_from": "BW-1"}), "L6"),
    Case(WITHOUT, "a plug-in switch between", "408.36, seen", units(BUSWAY, {**DS, **FUSED, "fed_from": "BW-1"}, {**RP1, **MLO, "fed_from": "DS-1"})),
    Case(WITHOUT, "a bus as large as the busway", "408.36, seen", units(BUSWAY, {**RP1, **MLO, "rating_a": "800", "fed_from": "BW-1"})),
    Case(WITHOUT, "a main on a busway", "408.36, seen", units(BUSWAY, {**RP1, **MCB, "fed_from": "BW-1"})),
    Case(DOOR, "4160 V opens in", "110.33(A)(3): no amperes, from memory", in_room(HIGH, door_opens_out="No", door_hardware="Lever or knob"), "H5"),
    Case(DOOR, "4160 V as it should be", "110.33(A)(3), from memory", in_room(HIGH, **GOOD)),
    Case(DOOR, "600 A at 480 V", "110.26(C)(3): from 800 A, seen", in_room({**HIGH, **WYE_480}, door_opens_out="No")),
    Case(SLASH, "120/240 on a high leg", "240.85, seen (OCP-089)", units({**DP, **LEG, "voltage_rating": "120/240"}), "U5"),
    Case(SLASH, "a straight 240 on a high leg", "240.85, seen (OCP-090)", units({**DP, **LEG, "voltage_rating": "240"})),
    Case(SLASH, "the system's name on the placard of a high-leg panel", "common practice", units({**DP, **LEG, "voltage_rating": "240/120"})),
    Case(SLASH, "120/240 single-phase", "240.85, seen", units({**DP, "voltage": "120/240", "phase": "1", "wires": "3", "voltage_rating": "120/240"})),
    Case(ODD, "a fault current dated after the visit", "common practice", as_typed(job=VISIT, equipment=[{**SD, "fault_current_date": "2027-01-05"}]), "W5"),
    Case(ODD, "a fault current dated on the day", "common practice", as_typed(job=VISIT, equipment=[{**SD, "fault_current_date": "2026-09-16"}])),
    Case(AFC, "posted, and no date as recorded", "110.24(A), seen", units({**SD, "available_fault_ka": "22", "fault_current_date": "N/A"}), "W5"),
    Case(AFC, "posted, the date not visible", "the limits say so", units({**SD, "available_fault_ka": "22", "fault_current_date": "N/V"})),
    Case(ODD, "no entrance", "110.26(C)(1), seen", as_typed(rooms=[{"room": "Main", "entrances": "0"}]), "F5"),
    Case(ODD, "one entrance", "110.26(C)(1), seen", as_typed(rooms=[{"room": "Main", "entrances": "1"}])),
    Case(ODD, "0.5 %", "common practice", as_typed(transformers=[{**PLATE, "impedance_percent": "0.5"}]), "K5"),
    Case(ODD, "12 %", "common practice", as_typed(transformers=[{**PLATE, "impedance_percent": "12"}]), "K5"),
    Case(ODD, "5.75 %", "common practice", as_typed(transformers=[{**PLATE, "impedance_percent": "5.75"}])),
    Case(FEEDER, "the service disconnect behind the owner's own transformer", "230.95 asks it",
         as_typed(equipment=[{**T1, "fed_from": "Utility"}, {**BIG, "fed_from": "T-1"}], transformers=[{**PLATE, **BIG_T}])),
    Case(GFP, "the service disconnect behind the owner's own transformer", "230.95, seen",
         as_typed(equipment=[{**T1, "fed_from": "Utility"}, {**BIG, "fed_from": "T-1"}], transformers=[{**PLATE, **BIG_T}]), "Q6"),
    Case(DETECTOR, "three wires from a utility whose wye is recorded", "the neutral is not brought along",
         units({**SD, **WYE_480}, {"tag": "FP-1", "kind": "Control panel", "fed_from": "Utility", **DELTA})),
    Case(DETECTOR, "three wires from another service", "250.21(B), seen",
         units({**SD, **WYE_480}, {"tag": "FP-1", "kind": "Control panel", "fed_from": "Utility 2", **DELTA}), "Q6"),
    Case(DETECTOR, "behind an autotransformer", "its windings are joined, common practice",
         behind({**MCC, **DELTA}, plate={"secondary_v": "480 delta", "primary_v": "600"}, remarks="Autotransformer")),
    Case(DETECTOR, "behind what is no autotransformer", "250.21(B), seen",
         behind({**MCC, **DELTA}, plate={"secondary_v": "480 delta", "primary_v": "600"}, remarks="Not an autotransformer"), "Q6"),
    Case(PLACE, "an electrical room named after a stair", "240.24(F): over the steps, seen", units({**LP, "room": "Stair 2 electrical room"})),
    Case(PLACE, "the store of a bathroom shop", "240.24(E), seen", units({**LP, "room": "Bath & Body stock room"})),
    Case(PLACE, "a linen store", "240.24(D), seen", units({**LP, "room": "Linen storage"}), "D5"),
    Case(PLACE, "not on the landing", "240.24(F), seen", units({**LP, "room": "Stair 2", "remarks": "Not on the landing"}), "D5"),
]  # fmt: skip


@pytest.mark.parametrize("case", [*DENIED, *MAINS_AND_REST], ids=lambda case: f"{case.rule}, {case.label}")
def test_a_fault_is_found_at_its_cell_and_a_lawful_installation_is_not_one(case: Case):
    assert found_at(case) == ([case.cell] if case.cell else []), case.source


def message_of(rule: str, typed: Typed) -> str:
    (problem,) = problems_of(rule, typed)
    return problem.message


@pytest.mark.parametrize(
    ("rule", "typed", "words"),
    [
        (NO_GFP, said(BIG, "Room dusty. No ground-fault relay; no maintenance switch"), "recorded there as absent or out of order: 'No ground-fault relay'"),
        (NO_ARC, said(BIG, "No ground-fault relay; no maintenance switch"), "recorded there as absent or out of order: 'no maintenance switch'"),
        (NO_SIGN, said(SD, "No sign", GEN), "recorded as absent: 'No sign'"),
        (NO_DETECTOR, said({**SD, **DELTA}, "No ground detector"), "recorded as absent or out of order: 'No ground detector'"),
        (NO_SWITCH, units({**DP, "room": "Main"}, {**ROOF, "remarks": "No disconnect in sight"}), "recorded as absent: 'No disconnect in sight'"),
        (ONE, said(SIX, "All six in one enclosure, no barriers"), "recorded as not kept apart: 'no barriers'"),
        (ONE, said(SIX, ""), "Are these six mains in one enclosure?"),
        (OVER, said(SERIES, "Series rated 18 kA label"), "is marked 10 kA, with a series rating of 18 kA, and the fault current posted there is 22 kA"),
        (AFC, said(SD, "No fault current label"), "No available fault current is posted"),
        (AFC, units({**SD, "available_fault_ka": "22", "fault_current_date": "N/A"}), "without a date as recorded"),
        ("foreign-piping-above", measured(DP, items_above="Pipe", open_above="7 ft", remarks="No drip pan"), "that it is not was recorded: 'No drip pan'"),
        (DETECTOR, units({**SD, **DELTA, "voltage": "480 ungrounded"}), "Ground detectors watch an ungrounded system"),
        (DETECTOR, units({**SD, **DELTA_240}), "At SD-1 a three-wire system of 240 V begins, fed from Utility."),
        (BELOW, units({**RP1, **MCB, "main_or_fuse_a": "400"}), "its own main is 400 A"),
        (DOOR, in_room(MSB, **{**GOOD, "door_opens_out": "No"}), "its door opens into the room, against people leaving"),
        (DOOR, in_room(HIGH, door_opens_out="No"), "Above 1000 V to ground (NFPA 70-2023 110.33(A)(3)), whatever the amperes"),
        (FAR, units({**SD, "available_fault_ka": "50"}, {**NEXT, "short_circuit_rating_ka": "14"}), "DP-1 14 kA"),
        (ODD, units({**SD, "short_circuit_rating_ka": "65000 kA"}), "65,000 A is 65 kA"),
    ],
)  # fmt: skip
def test_a_message_says_what_was_recorded_and_what_was_not(rule: str, typed: Typed, words: str):
    assert words in message_of(rule, typed)


@pytest.mark.parametrize(
    ("rule", "typed", "there", "not_there"),
    [
        (DETECTOR, units({**SD, **DELTA}), "480Y/277", "240"),
        (DETECTOR, units({**SD, **DELTA_240}), "240 corner grounded", "480"),
        (DETECTOR, units({**SD, **LEG, "wires": "3"}), "240/120 and its 4 wires", "480"),
        (DETECTOR, units({**SD, **DELTA, "voltage": "480 ungrounded"}), "detector", "480Y/277"),
        (SLASH, units({**DP, **DELTA_240, "voltage": "240 delta"}), "240 is straight, 120/240", "480"),
        (SLASH, units({**DP, **CORNER}), "480 is straight, 480Y/277", "240"),
        ("not-visible", as_typed(job={"year_built": "N/V"}), "papers", "photo"),
    ],
)
def test_what_to_do_goes_by_the_system_and_by_what_is_known(
    rule: str, typed: Typed, there: str, not_there: str
):
    (problem,) = problems_of(rule, typed)
    assert there in problem.action
    assert not_there not in problem.action


def test_the_ratings_of_a_system_are_asked_once_with_the_boards_named():
    boards = [
        {**DP, **CORNER, "tag": f"DP-{n}", "fed_from": "SD-1" if n < 4 else "DP-1"} for n in range(1, 11)
    ]
    (problem,) = problems_of(SLASH, units({**SD, **CORNER}, *boards))
    assert problem.place == "Equipment!U5"
    assert all(f"DP-{n}" in problem.message for n in range(1, 11))
    behind_another = {**DP, **CORNER, "tag": "DP-20", "fed_from": "Utility 2"}
    in_a_loop = [{**DP, **CORNER, "tag": tag, "fed_from": other} for tag, other in (("A", "B"), ("B", "A"))]
    both = problems_of(SLASH, units({**SD, **CORNER}, *boards, behind_another, *in_a_loop))
    assert [problem.place for problem in both] == ["Equipment!U5", "Equipment!U16", "Equipment!U17"]


def test_an_over_duty_is_as_urgent_as_the_finding_of_the_same_cause():
    (problem,) = problems_of(OVER, said(SERIES, ""))
    assert problem.priority == "Act now"

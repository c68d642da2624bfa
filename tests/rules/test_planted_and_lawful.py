"""Installations with a fault, and lawful ones beside them that look alike, each with the section that tells them apart.

The sections are of NFPA 70. "seen" are those that the reference tables in tests/data/reference cite from a text that
was read (source NFPA70-2023, CEC-2022); the exceptions that go with them are from memory where it says so. The
buildings are invented.
"""

import pytest

from tests.rules.asking import WYE_208, WYE_480, Row, cells_of, missing, problems_of
from tests.rules.planted import (
    ABOVE,
    AFC,
    ARC,
    BELOW,
    BIG_T,
    CORNER,
    DELTA,
    DELTA_240,
    DELTA_PLATE,
    DETECTOR,
    DIRECT,
    DOOR,
    DP,
    DS,
    FEEDER,
    FUSED,
    GEN,
    GFP,
    GOOD,
    HANDLE,
    INV,
    LARGE,
    LP,
    MCB,
    MCC,
    MLO,
    MSB,
    NEWER,
    ONE,
    OVER,
    PLACE,
    PLATE,
    POSTED,
    QUIET,
    RATED,
    RP1,
    SD,
    SIGHT,
    SIGN,
    SLASH,
    SOURCE,
    T1,
    TOGETHER,
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


def side_by_side(
    widths: tuple[str, str], amps: tuple[str, str], *, entrances: str = "1", **job: str
) -> Typed:
    tags = ("SD-1", "SD-2")
    return as_typed(
        job=job,
        rooms=[{"room": "Main", "entrances": entrances}],
        equipment=[
            {**SD, "tag": tag, "room": "Main", "rating_a": amp} for tag, amp in zip(tags, amps, strict=True)
        ],
        clearances=[{"tag": tag, "equipment_width": width} for tag, width in zip(tags, widths, strict=True)],
    )


PROTECTION = [
    Case(WITHOUT, "main lugs on the secondary", "408.36(B), seen", behind({**RP1, **MLO}), "L6"),
    Case(WITHOUT, "no main at all", "408.36(B), seen", behind({**RP1, "main_device": "N/A"}), "L6"),
    Case(WITHOUT, "only a switch between", "408.36(B), seen", behind({**DS, **UNFUSED}, {**RP1, **MLO, "fed_from": "DS-1"}), "L7"),
    Case(WITHOUT, "a wye primary has no delta-delta exception", "240.21(C)(1), from memory",
         behind({**RP1, **DELTA_240, **MLO}, plate={"primary_v": "480Y/277", "secondary_v": "240 delta"}), "L6"),
    Case(WITHOUT, "a primary device too large for the panel", "240.21(C)(1), from memory",
         as_typed(equipment=[{"tag": "CB-1", "kind": "Enclosed circuit breaker", "rating_a": "150", **WYE_480}, {**T1, "fed_from": "CB-1"},
                             {**RP1, **DELTA_240, **MLO, "rating_a": "225"}], transformers=[{**PLATE, **DELTA_PLATE}]), "L7"),
    Case(WITHOUT, "main breaker", "408.36(B), seen", behind({**RP1, **MCB})),
    Case(WITHOUT, "an enclosed breaker between", "408.36(B), seen",
         behind({**DS, "kind": "Enclosed circuit breaker"}, {**RP1, **MLO, "fed_from": "DS-1"})),
    Case(WITHOUT, "a fused switch between", "408.36(B), seen", behind({**DS, **FUSED}, {**RP1, **MLO, "fed_from": "DS-1"})),
    Case(WITHOUT, "fuses behind a transfer switch", "408.36(B), seen",
         behind({**DS, **FUSED}, {"tag": "MTS", "kind": "Transfer switch", "fed_from": "DS-1"}, {**RP1, **MLO, "fed_from": "MTS"})),
    Case(WITHOUT, "a device on the secondary whose amperes stand beside the panel", "408.36(B), seen",
         behind({**RP1, **MLO, "main_or_fuse_a": "225"})),
    Case(WITHOUT, "two wires", "240.21(C)(1), from memory",
         behind({**RP1, "voltage": "120", "phase": "1", "wires": "2", **MLO}, plate={"secondary_v": "120", "phase": "1"})),
    Case(WITHOUT, "delta to delta", "240.21(C)(1), from memory", behind({**RP1, **DELTA_240, **MLO}, plate=DELTA_PLATE)),
    Case(WITHOUT, "a primary device small enough", "240.21(C)(1), from memory",
         as_typed(equipment=[{"tag": "CB-1", "kind": "Enclosed circuit breaker", "rating_a": "100", **WYE_480}, {**T1, "fed_from": "CB-1"},
                             {**RP1, **DELTA_240, **MLO, "rating_a": "225"}], transformers=[{**PLATE, **DELTA_PLATE}])),
    Case(WITHOUT, "main lugs on a board", "the branch breaker is not recorded",
         units({**DP, **MCB, **WYE_208}, {**RP1, **MLO, "fed_from": "DP-1"})),
    Case(WITHOUT, "main lugs behind the board on the secondary", "the branch breaker is not recorded",
         behind({**RP1, **MCB}, {**RP1, "tag": "RP-2", "fed_from": "RP-1", **MLO})),
    Case(BELOW, "a breaker ahead", "408.36, seen", units({**DS, "kind": "Enclosed circuit breaker", "rating_a": "400"}, {**RP1, **MLO, "fed_from": "DS-1"}), "F6"),
    Case(BELOW, "fuses ahead", "408.36, seen", units({**DS, **FUSED, "rating_a": "400", "main_or_fuse_a": "300"}, {**RP1, **MLO, "fed_from": "DS-1"}), "F6"),
    Case(BELOW, "a service disconnect with one load", "408.36, seen", units({**SD, **MCB, "rating_a": "400", "hand_motions": "1"}, {**RP1, **MLO, "fed_from": "SD-1"}), "F6"),
    Case(BELOW, "the frame alone is known", "asked: the fuses may be smaller", units({**DS, **FUSED, "rating_a": "400"}, {**RP1, **MLO, "fed_from": "DS-1"}), "F6"),
    Case(BELOW, "a main larger than its bus", "408.36, seen", units({**RP1, **MCB, "main_or_fuse_a": "400"}), "F5"),
    Case(BELOW, "a bus larger than its main", "408.36, seen", units({**RP1, **MCB, "rating_a": "400", "main_or_fuse_a": "225"})),
    Case(BELOW, "fuses smaller than the frame", "408.36, seen", units({**DS, **FUSED, "rating_a": "400", "main_or_fuse_a": "200"}, {**RP1, **MLO, "fed_from": "DS-1"})),
    Case(BELOW, "a main of its own", "408.36: in the panel or anywhere ahead", units({**DS, **FUSED, "rating_a": "400"}, {**RP1, **MCB, "fed_from": "DS-1"})),
    Case(BELOW, "an unfused switch larger than the panel", "a switch protects nothing", units({**DS, **UNFUSED, "rating_a": "400"}, {**RP1, **MLO, "fed_from": "DS-1"})),
    Case(BELOW, "a board with branches", "the branch breaker is not recorded", units({**DP, **MCB, **WYE_208, "rating_a": "400"}, {**RP1, **MLO, "fed_from": "DP-1"})),
    Case(BELOW, "a service disconnect with two loads", "the branch breaker is not recorded",
         units({**SD, **MCB, "rating_a": "800"}, {**RP1, **MLO, "fed_from": "SD-1"}, {**RP1, **MLO, "tag": "RP-2", "fed_from": "SD-1"})),
    Case(BELOW, "a service panel with several mains", "the mains are not recorded one by one",
         units({**SD, **MCB, "rating_a": "800", "hand_motions": "4"}, {**RP1, **MLO, "fed_from": "SD-1"})),
    Case(BELOW, "a smaller device nearer to it", "408.36: any device ahead",
         units({**DS, **FUSED, "rating_a": "400"}, {**DS, "tag": "CB-1", "kind": "Enclosed circuit breaker", "rating_a": "200", "fed_from": "DS-1"},
               {**RP1, **MLO, "fed_from": "CB-1"})),
]  # fmt: skip

SERVICE = [
    Case(AFC, "nothing recorded", "110.24(A), seen", units(SD), "V5"),
    Case(AFC, "none is posted", "110.24(A), seen", units({**SD, "available_fault_ka": "N/A"}), "V5"),
    Case(AFC, "posted without its date", "110.24(A), seen", units({**SD, "available_fault_ka": "22"}), "W5"),
    Case(AFC, "in the oldest edition we have", "110.24, since 2011, from memory", units(SD, code_profile="nec-2014"), "V5"),
    Case(AFC, "posted with its date", "110.24(A), seen", units({**SD, **POSTED})),
    Case(AFC, "posted at the board behind the disconnect", "common practice", units(SD, {**DP, "fed_from": "SD-1", **POSTED})),
    Case(AFC, "could not be seen", "the limits say so", units({**SD, "available_fault_ka": "N/V"})),
    Case(AFC, "another code that does not ask", "29 CFR 1910.303, from memory", units(SD, code_profile="osha-1910")),
    Case(AFC, "said in words", "common practice", units({**SD, "remarks": "Fault current label by the utility, unreadable"})),
    Case(AFC, "behind a locked door", "the limits say so", in_room(SD, access="Locked")),
    Case(AFC, "no service in the list", "110.24(A), seen", units(DP)),
    Case(OVER, "a low rating", "110.9, seen", units({**SD, "available_fault_ka": "42", "short_circuit_rating_ka": "22"}), "R5"),
    Case(OVER, "a rating of just as much", "110.9, seen", units({**SD, "available_fault_ka": "42", "short_circuit_rating_ka": "42"})),
    Case(OVER, "amperes written as kiloamperes", "implausible-value asks it", units({**SD, "available_fault_ka": "22400", "short_circuit_rating_ka": "65"})),
    Case(OVER, "a series rating", "240.86, from memory",
         units({**SD, "available_fault_ka": "42", "short_circuit_rating_ka": "22", "remarks": "Marked series rated 65 kA with the fuses ahead"})),
    Case(ONE, "four mains, year not known", "230.71(B), seen", units({**SD, "hand_motions": "4"}), "M5"),
    Case(ONE, "two mains in a new building", "230.71(B), seen", units({**SD, "hand_motions": "2"}, year_built="2022", code_profile="nec-2020"), "M5"),
    Case(ONE, "an older building", "230.71(B): what was there may stay, seen", units({**SD, "hand_motions": "4"}, year_built="1998")),
    Case(ONE, "an older edition", "230.71, through 2017, from memory", units({**SD, "hand_motions": "6"}, code_profile="nec-2017")),
    Case(ONE, "one main", "230.71(B), seen", units({**SD, "hand_motions": "1"})),
    Case(ONE, "sections with barriers", "230.71(B), seen", units({**SD, "hand_motions": "4", "remarks": "Four sections with barriers between"})),
    Case(ONE, "one main in each of three enclosures", "230.71(B), seen", units(*({**SD, "tag": f"SD-{n}", "hand_motions": "1"} for n in (1, 2, 3)))),
    Case(ONE, "a building that another one feeds", "225.33, seen", units({**SD, "hand_motions": "4", "fed_from": "MSB"}, {"tag": "MSB", "kind": "Switchboard"})),
    Case(ONE, "more than six is another rule's", "230.71, seen", units({**SD, "hand_motions": "8"})),
    Case(TOGETHER, "two of 800 A, 80 in together", "110.26(C)(2), seen", side_by_side(("40", "40"), ("800", "800")), "G5"),
    Case(TOGETHER, "an older edition", "110.26(C)(2) of 2017, from memory", side_by_side(("40", "40"), ("800", "800"), code_profile="nec-2017")),
    Case(TOGETHER, "an older building", "110.26(C)(2), since 2020, seen", side_by_side(("40", "40"), ("800", "800"), year_built="1998")),
    Case(TOGETHER, "two entrances", "110.26(C)(2), seen", side_by_side(("40", "40"), ("800", "800"), entrances="2")),
    Case(TOGETHER, "72 in is not over 6 ft", "110.26(C)(2), seen", side_by_side(("36", "36"), ("800", "800"))),
    Case(TOGETHER, "less than 1200 A", "110.26(C)(2), seen", side_by_side(("40", "40"), ("600", "400"))),
    Case(TOGETHER, "one of them is large alone", "second-entrance-check asks it", side_by_side(("80", "40"), ("1600", "800"))),
    Case(SIGN, "a generator", "702.7, seen", units(SD, GEN), "Q5"),
    Case(SIGN, "a placard that names the disconnect alone", "702.7, seen", units({**SD, "remarks": "Placard reads MAIN SERVICE DISCONNECT"}, GEN), "Q5"),
    Case(SIGN, "a placard that names the generator", "702.7, seen", units({**SD, "remarks": "Placard: standby generator in the yard"}, GEN)),
    Case(SIGN, "photovoltaics", "705.10, from memory", units(SD, INV), "Q5"),
    Case(SIGN, "a sign was seen", "702.7, seen", units({**SD, "remarks": "Sign: generator in the yard"}, GEN)),
    Case(SIGN, "a finding says that there is none", "702.7, seen",
         as_typed(equipment=[SD, GEN], findings=[{"subject": "SD-1", "finding": "Standby source sign missing"}])),
    Case(SIGN, "no second source", "702.7, seen", units(SD, DP)),
]  # fmt: skip

LARGE_BOARDS = [
    Case(FEEDER, "the first board behind a transformer", "215.10, from memory", behind({**LARGE, "fed_from": "T-1"}, plate=BIG_T), "Q6"),
    Case(FEEDER, "the second board behind it", "215.10: protection ahead, from memory",
         behind({**LARGE, "fed_from": "T-1", "remarks": "GFP relay"}, {**LARGE, "tag": "DP-2", "fed_from": "DP-1"}, plate=BIG_T)),
    Case(FEEDER, "behind the service", "215.10: the service has it, from memory", units({**SD, **MCB, "rating_a": "2000", **WYE_480}, {**LARGE, "fed_from": "SD-1"})),
    Case(FEEDER, "208Y/120", "230.95, 215.10: over 150 V to ground, seen", behind({**LARGE, **WYE_208, "fed_from": "T-1"}, plate={**BIG_T, "secondary_v": "208Y/120"})),
    Case(FEEDER, "800 A", "215.10, from memory", behind({**LARGE, "rating_a": "800", "fed_from": "T-1"}, plate=BIG_T)),
    Case(FEEDER, "a large bus behind an 800 A main", "215.10 goes by the disconnect, from memory",
         behind({**LARGE, "main_or_fuse_a": "800", "fed_from": "T-1"}, plate=BIG_T)),
    Case(FEEDER, "a fire pump", "695.6, from memory", behind({**LARGE, "fed_from": "T-1", "remarks": "Fire pump alone"}, plate=BIG_T)),
    Case(GFP, "a breaker of 1600 A", "230.95, seen", units({**SD, **MCB, "rating_a": "1600", **WYE_480}), "Q5"),
    Case(GFP, "fuses of 800 A in a 1600 A switch", "230.95: the largest fuse that can be installed, from memory",
         units({**SD, **FUSED, "rating_a": "1600", "main_or_fuse_a": "800", **WYE_480}), "Q5"),
    Case(GFP, "a breaker set no higher than 800 A in a 1600 A board", "230.95: the highest setting, from memory",
         units({**SD, **MCB, "rating_a": "1600", "main_or_fuse_a": "800", **WYE_480})),
    Case(GFP, "a fire pump's own service disconnect", "230.95, 695.6, from memory", units({**SD, **MCB, "rating_a": "1600", **WYE_480, "remarks": "fire pump"})),
    Case(ARC, "a breaker of 1200 A", "240.87, seen", units({**LARGE, "rating_a": "1200"}), "Q5"),
    Case(ARC, "fuses of 1200 A", "240.67, seen", units({**LARGE, **FUSED, "rating_a": "1200"}), "Q5"),
    Case(ARC, "fuses before the 2017 edition", "240.67, since 2017, from memory", units({**LARGE, **FUSED}, code_profile="nec-2014")),
    Case(ARC, "an older building", "240.87, since 2014, from memory", units(LARGE, year_built="1998")),
    Case(ARC, "a smaller trip in a large board", "240.87 goes by the setting, seen", units({**LARGE, "main_or_fuse_a": "1000"})),
    Case(ARC, "main lugs", "240.87, seen", units({**LARGE, **MLO})),
    Case(ARC, "a maintenance switch", "240.87(B), from memory", units({**LARGE, "remarks": "Maintenance switch on the door"})),
    Case(ARC, "an arc-flash label is no way", "240.87(B), from memory", units({**LARGE, "remarks": "Arc-flash label 2024"}), "Q5"),
    Case(ARC, "another code that does not ask", "29 CFR 1910.303, from memory", units(LARGE, code_profile="osha-1910")),
]  # fmt: skip

GROUNDING = [
    Case(DETECTOR, "a three-wire service", "250.21(B), seen", units({**SD, **DELTA}), "Q5"),
    Case(DETECTOR, "a delta secondary", "250.21(B), seen", behind({**MCC, **DELTA}, plate={"secondary_v": "480 delta"}), "Q6"),
    Case(DETECTOR, "ungrounded in words", "250.21(B), seen", units({**SD, **DELTA, "voltage": "480 ungrounded"}), "Q5"),
    Case(DETECTOR, "480 behind a wye board", "the neutral is not brought along", units({**DP, **WYE_480}, {**MCC, **DELTA, "fed_from": "DP-1"})),
    Case(DETECTOR, "a plain 480 behind a transformer", "the neutral may stay behind", behind({**MCC, **DELTA}, plate={"secondary_v": "480"})),
    Case(DETECTOR, "a corner is grounded", "250.26, seen", units({**SD, **CORNER})),
    Case(DETECTOR, "a detector was seen", "250.21(B), seen", units({**SD, **DELTA, "remarks": "ground detection lamps"})),
    Case(DETECTOR, "resistance grounding", "250.36, from memory", units({**SD, **DELTA, "remarks": "high-resistance grounded"})),
    Case(DETECTOR, "medium voltage", "250.21(B): up to 1000 V, seen", units({**SD, **DELTA, "voltage": "4160"})),
    Case(DETECTOR, "208 three-wire", "208 is a wye", units({**SD, **DELTA, "voltage": "208"})),
    Case(DETECTOR, "an inverter", "its system is the building's", units({**INV, **DELTA, "fed_from": "PV array"})),
    Case(SLASH, "a slash rating on an ungrounded system", "240.85, seen (OCP-092)", units({**SD, **DELTA, "voltage_rating": "480Y/277"}), "U5"),
    Case(SLASH, "a slash rating on a grounded corner", "240.85, seen (OCP-094)", units({**DP, **CORNER, "voltage_rating": "480Y/277"}), "U5"),
    Case(SLASH, "a grounded corner, and nothing read", "240.85, seen", units({**DP, **CORNER}), "U5"),
    Case(SLASH, "a delta in words, and nothing read", "240.85, seen", units({**DP, **DELTA, "voltage": "480 delta"}), "U5"),
    Case(SLASH, "a plain 480, and nothing read", "ground-detector-not-recorded asks first", units({**DP, **DELTA})),
    Case(SLASH, "a delta in words behind a grounded wye", "its volts to ground are the wye's", units({**DP, **WYE_480}, {**MCC, **DELTA, "voltage": "480 delta", "fed_from": "DP-1"})),
    Case(SLASH, "a slash-rated breaker on a high leg", "240.85, seen (OCP-089)",
         units({"tag": "CB-1", "kind": "Enclosed circuit breaker", "voltage": "240/120", "phase": "3", "wires": "4", "voltage_rating": "120/240"}), "U5"),
    Case(SLASH, "a straight breaker on a high leg", "240.85, seen (OCP-090)",
         units({"tag": "CB-1", "kind": "Enclosed circuit breaker", "voltage": "240/120", "phase": "3", "wires": "4", "voltage_rating": "240"})),
    Case(SLASH, "the placard of a high-leg panel", "common practice", units({**DP, "voltage": "240/120", "phase": "3", "wires": "4", "voltage_rating": "240/120"})),
    Case(SLASH, "480Y/277 on 480Y/277", "240.85, seen (OCP-091)", units({**DP, **WYE_480, "voltage_rating": "480Y/277"})),
    Case(SLASH, "480 three-wire behind a grounded wye", "240.85, seen", units({**DP, **WYE_480}, {**MCC, **DELTA, "fed_from": "DP-1", "voltage_rating": "480Y/277"})),
    Case(SLASH, "a straight rating on a grounded corner", "240.85, seen (OCP-093)", units({**DP, **CORNER, "voltage_rating": "480"})),
    Case(SLASH, "120/240 on two legs of 208Y/120", "240.85, seen (OCP-095)", units({**DP, "voltage": "120/208", "phase": "1", "wires": "3", "voltage_rating": "120/240"})),
    Case(SLASH, "fuses on a grounded corner", "slash ratings are breakers'", units({**DP, "kind": "Service disconnect", **FUSED, **CORNER})),
    Case(RATED, "a 240 V switch on 480", "110.4, from memory", units({**DS, **WYE_480, "voltage_rating": "240"}), "U5"),
    Case(RATED, "a 240 V switch on 208Y/120", "110.4, from memory", units({**DS, "voltage_rating": "240"})),
    Case(RATED, "a 600 V switch on 480", "110.4, from memory", units({**DS, **WYE_480, "voltage_rating": "600"})),
    Case(RATED, "a 250 V switch on 240", "110.4, from memory", units({**DS, **DELTA_240, "voltage_rating": "250"})),
    Case(RATED, "230 is of the 240 class", "ANSI C84.1, from memory", units({**DS, **DELTA_240, "voltage_rating": "230"})),
    Case(RATED, "a 120/240 load center on 208Y/120", "110.4, from memory", units({**DP, "voltage": "120/208", "phase": "1", "wires": "3", "voltage_rating": "120/240"})),
]  # fmt: skip

PLACES = [
    Case(DOOR, "opens in", "110.26(C)(3), seen", in_room(MSB, **{**GOOD, "door_opens_out": "No"}), "H5"),
    Case(DOOR, "a knob", "110.26(C)(3), seen", in_room(MSB, **{**GOOD, "door_hardware": "Lever or knob"}), "I5"),
    Case(DOOR, "a knob, and nobody said which way it opens", "110.26(C)(3), seen", in_room(MSB, door_hardware="knob"), "I5"),
    Case(DOOR, "as it should be", "110.26(C)(3), seen", in_room(MSB, **GOOD)),
    Case(DOOR, "no latch that holds", "it yields to pressure, common practice", in_room(MSB, door_opens_out="Yes", door_hardware="No latch")),
    Case(DOOR, "no door within 25 ft", "110.26(C)(3), seen", in_room(MSB, door_opens_out="N/A", door_hardware="N/A")),
    Case(DOOR, "600 A", "110.26(C)(3), seen", in_room({**MSB, "rating_a": "600"}, door_opens_out="No", door_hardware="knob")),
    Case(DOOR, "a large transformer holds no device", "110.26(C)(3), seen", in_room({**T1, "rating_a": "1200"}, door_opens_out="No")),
    Case(DOOR, "a code that has no such rule", "29 CFR 1910.303, from memory", in_room(MSB, job={"code_profile": "osha-1910"}, door_opens_out="No")),
    Case(PLACE, "a bathroom in 2023", "240.24(E), seen", units({**LP, "room": "Men's restroom"}), "D5"),
    Case(PLACE, "a bathroom of an office in 2020", "240.24(E): dwelling-type rooms, seen", units({**LP, "room": "Men's restroom"}, code_profile="nec-2020")),
    Case(PLACE, "a guest bathroom in 2020", "240.24(E), seen", units({**LP, "room": "Bathroom 214"}, code_profile="nec-2020", building_use="Hotel"), "D5"),
    Case(PLACE, "a service disconnect in a bathroom of any edition", "230.70(A)(2), seen", units({**SD, "room": "Washroom"}, code_profile="nec-2017"), "D5"),
    Case(PLACE, "a clothes closet", "240.24(D), seen", units({**LP, "room": "Clothes closet"}), "D5"),
    Case(PLACE, "an electrical closet", "240.24(D), seen", units({**LP, "room": "Electrical closet 2"})),
    Case(PLACE, "a janitor's closet", "240.24(D), seen", units({**LP, "room": "Janitor's closet"})),
    Case(PLACE, "a stair", "240.24(F), seen", units({**LP, "room": "Stair 2"}), "D5"),
    Case(PLACE, "a stair landing", "240.24(F): over the steps, seen", units({**LP, "room": "Roof stair landing"})),
    Case(PLACE, "under the stairs", "240.24(F): over the steps, seen", units({**LP, "room": "Store under stairs"})),
    Case(PLACE, "beside the restrooms", "240.24(E), seen", units({**LP, "room": "Corridor by restrooms"})),
    Case(PLACE, "not over the steps", "240.24(F), seen", units({**LP, "room": "Stair 2", "remarks": "On the wall beside the steps"})),
    Case(PLACE, "what it feeds says nothing of where it stands", "240.24(E), seen", units({**LP, "room": "Men's restroom", "remarks": "Feeds exhaust fans"}), "D5"),
    Case(PLACE, "a locker room with showers", "240.24(E), seen", units({**LP, "room": "Locker room"}), "D5"),
    Case(PLACE, "an unfused switch", "240.24 speaks of overcurrent devices, seen", units({**DS, **UNFUSED, "room": "Men's restroom"})),
    Case(PLACE, "a transformer", "240.24 speaks of overcurrent devices, seen", units({**T1, "room": "Stair 2"})),
    Case(HANDLE, "a switch whose top is at 84 in", "404.8(A), seen", measured(DS, equipment_height="84"), "R5"),
    Case(HANDLE, "metric", "404.8(A), seen", measured(DS, equipment_height="2.2 m"), "R5"),
    Case(HANDLE, "a handle said to be at 84 in", "404.8(A), seen (DSC-005)", units({**DS, "remarks": "Grip of the handle at 84 in"}), "Q5"),
    Case(HANDLE, "a handle in feet", "404.8(A), seen", units({**DS, "remarks": "handle 7'-0\" up"}), "Q5"),
    Case(HANDLE, "a handle said to be at 78 in", "404.8(A), seen (DSC-002)", units({**DS, "remarks": "handle at 78 in, door dented"})),
    Case(HANDLE, "a handle in metres", "404.8(A), seen", units({**DS, "remarks": "handle at 2.0 m"})),
    Case(HANDLE, "a high handle with a stick", "404.8(A) exception, seen", units({**DS, "remarks": "handle at 10 ft, hook stick beside it"})),
    Case(HANDLE, "no figure", "common practice", units({**DS, "remarks": "handle broken off"})),
    Case(HANDLE, "6 ft 7 in", "404.8(A), seen", measured(DS, equipment_height="6 ft 7 in")),
    Case(HANDLE, "a switchboard of 90 in", "its handles are below its top", measured(MSB, equipment_height="90")),
    Case(HANDLE, "the handle was measured", "404.8(A), seen", measured({**DS, "remarks": "handle at 70 in"}, equipment_height="84")),
    Case(HANDLE, "worked with a stick", "404.8(A) exception, seen", measured({**DS, "remarks": "hook stick"}, equipment_height="120")),
    Case(SIGHT, "fed from another room", "450.14, seen", units(SOURCE, {**T1, "room": "Roof"}), "Q6"),
    Case(SIGHT, "fed from the same room", "450.14, seen", units(SOURCE, {**T1, "room": "main"})),
    Case(SIGHT, "a lockable breaker", "450.14, seen", units(SOURCE, {**T1, "room": "Roof", "remarks": "lockable at DP-1, marked"})),
    Case(SIGHT, "the breaker that feeds it is no disconnect in sight", "450.14, seen", units(SOURCE, {**T1, "room": "Roof", "remarks": "fed by breaker 14"}), "Q6"),
    Case(SIGHT, "a switch beside it", "450.14, seen", units(SOURCE, {**DS, "fed_from": "DP-1", "room": "Roof"}, {**T1, "room": "Roof", "fed_from": "DS-1"})),
    Case(SIGHT, "an older building", "450.14, since 2011, from memory", units(SOURCE, {**T1, "room": "Roof"}, year_built="1998")),
    Case(ABOVE, "40 in and nothing named", "110.26(E)(1)(a), seen", measured(LP, open_above="40 in", items_above="None"), "M5"),
    Case(ABOVE, "40 in and nothing said", "110.26(E)(1)(a), seen", measured(LP, open_above="40 in"), "M5"),
    Case(ABOVE, "to the structure", "110.26(E)(1)(a), seen", measured(LP, open_above="Structure", items_above="None")),
    Case(ABOVE, "6 ft", "110.26(E)(1)(a), seen", measured(LP, open_above="6 ft", items_above="None")),
    Case(ABOVE, "1.8 m", "110.26(E)(1)(a), seen", measured(LP, open_above="1.8 m", items_above="None")),
    Case(ABOVE, "the pipe is named", "dedicated-space-obstructed reports it", measured(LP, open_above="40 in", items_above="Pipe")),
    Case(ABOVE, "a suspended ceiling", "110.26(E)(1)(d), from memory", measured(LP, open_above="40 in", items_above="None", remarks="lay-in ceiling above")),
    Case(ABOVE, "a plain switch", "110.26(E) lists the kinds, seen", measured(DS, open_above="10 in", items_above="None")),
    Case(ABOVE, "a transformer", "110.26(E) lists the kinds, seen", measured(T1, open_above="10 in", items_above="None")),
]  # fmt: skip

JOB_AND_TEST = [
    Case(NEWER, "1965 under 2023", "common practice", as_typed(job={"year_built": "1965", "code_profile": "nec-2023"}), "B13"),
    Case(NEWER, "2023 under 2023", "common practice", as_typed(job={"year_built": "2023", "code_profile": "nec-2023"})),
    Case(NEWER, "2019 under 2017", "common practice", as_typed(job={"year_built": "2019", "code_profile": "nec-2017"})),
    Case(NEWER, "year not known", "the limits say so", as_typed(job={"year_built": "N/V"})),
    Case(NEWER, "a rule with dates of its own", "29 CFR 1910.303 Table S-1 note 1, seen as WAC-296-24-95703",
         as_typed(job={"year_built": "1965", "code_profile": "osha-1910"})),
    Case(DIRECT, "an inverter", "common practice", units({**INV, **QUIET}), "O5"),
    Case(DIRECT, "a battery", "common practice", units({"tag": "B-1", "kind": "Battery system", **QUIET}), "O5"),
    Case(DIRECT, "a PV disconnect", "common practice", units({"tag": "P-1", "kind": "PV disconnect", **QUIET}), "O5"),
    Case(DIRECT, "whatever the array feeds", "common practice", units({"tag": "C-1", "kind": "Control panel", "fed_from": "PV array", **QUIET}), "O5"),
    Case(DIRECT, "alternating current alone", "common practice", units({"tag": "P-1", "kind": "PV disconnect", "remarks": "AC side", **QUIET})),
    Case(DIRECT, "not touched", "common practice", units({**INV, "touch_test": "Not touched"})),
    Case(DIRECT, "a panel", "common practice", units({**LP, **QUIET})),
]  # fmt: skip

CASES = [*PROTECTION, *SERVICE, *LARGE_BOARDS, *GROUNDING, *PLACES, *JOB_AND_TEST]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.rule}, {case.label}")
def test_a_fault_is_found_at_its_cell_and_a_lawful_installation_is_not_one(case: Case):
    assert found_at(case) == ([case.cell] if case.cell else []), case.source


@pytest.mark.parametrize(
    ("rule", "typed", "headings"),
    [
        (WITHOUT, behind(RP1), ["Main device"]),
        (WITHOUT, behind({**RP1, "main_device": "N/V"}), ["Main device"]),
        (WITHOUT, behind(DS, {**RP1, **MLO, "fed_from": "DS-1"}), ["Main device of DS-1"]),
        (WITHOUT, behind({**RP1, **MCB}), []),
        (BELOW, units({**DS, **FUSED, "main_or_fuse_a": "N/V"}, {**RP1, **MLO, "fed_from": "DS-1"}), ["Main or fuse rating (A) of DS-1"]),
        (BELOW, units({**DS, **FUSED, "main_or_fuse_a": "400"}, {**RP1, **MLO, "rating_a": "", "fed_from": "DS-1"}), ["Rating (A)"]),
        (BELOW, units(RP1), []),
        (OVER, units({**SD, **POSTED}), ["Short-circuit rating (kA)"]),
        (OVER, units(SD), []),
        (TOGETHER, side_by_side(("40", "40"), ("800", "800"), entrances="N/V"), ["Entrances of Main"]),
        (TOGETHER, side_by_side(("40", "N/V"), ("800", "800")), ["Equipment width of SD-2"]),
        (TOGETHER, side_by_side(("40", "40"), ("800", "")), ["Rating (A) of SD-2"]),
        (TOGETHER, side_by_side(("40", "40"), ("800", "9000")), []),
        (TOGETHER, side_by_side(("40", "900"), ("800", "800")), []),
        (TOGETHER, side_by_side(("20", "20"), ("800", "")), []),
        (TOGETHER, side_by_side(("40", ""), ("400", "400")), []),
        (SLASH, units({**DP, "voltage_rating": "480Y/277"}), ["Voltage"]),
        (SLASH, units({**DP, **CORNER, "voltage_rating": "N/V"}), ["Voltage rating"]),
        (RATED, units({**DP, "voltage_rating": "600"}), ["Voltage"]),
        (DOOR, in_room(MSB), ["Door opens out"]),
        (DOOR, in_room(MSB, door_opens_out="Yes"), ["Door hardware"]),
        (DOOR, in_room(MSB, door_opens_out="No"), ["Door hardware"]),
        (DOOR, in_room({**MSB, "rating_a": "600"}), []),
        (DOOR, in_room(MSB, level="Outside"), []),
        (DOOR, in_room(MSB, entrances="N/A"), []),
        (DOOR, in_room(MSB, access="Locked"), []),
    ],
)  # fmt: skip
def test_only_what_a_rule_needs_for_that_row_is_asked(rule: str, typed: Typed, headings: list[str]):
    assert missing(rule, typed) == headings


@pytest.mark.parametrize(
    ("rule", "row", "finding"),
    [
        (
            BELOW,
            {**RP1, **MCB, "main_or_fuse_a": "400"},
            "Panelboard without overcurrent protection on its supply",
        ),
        (
            ONE,
            {**SD, "hand_motions": "4"},
            "Two to six service disconnects share one enclosure (post-2017 work)",
        ),
        (PLACE, {**LP, "room": "Clothes closet"}, "Panelboard in a bathroom, clothes closet or over stairs"),
        (SLASH, {**DP, **CORNER}, "Slash-rated breaker on the wrong system"),
        (SIGN, SD, "Standby source sign missing"),
        (DETECTOR, {**SD, **DELTA}, "Ungrounded system not marked or no ground detector"),
        (AFC, SD, "Available fault current not posted at the service"),
    ],
)
def test_what_somebody_found_is_not_asked_again(rule: str, row: Row, finding: str):
    rows = [row, GEN] if rule == SIGN else [row]
    assert problems_of(rule, as_typed(equipment=rows))
    assert (
        problems_of(rule, as_typed(equipment=rows, findings=[{"subject": row["tag"], "finding": finding}]))
        == []
    )


def test_a_finding_about_a_door_is_held_against_what_was_recorded_of_it():
    said = as_typed(
        rooms=[{"room": "Main", **GOOD}],
        equipment=[{**MSB, "room": "Main"}],
        findings=[{"subject": "Main", "finding": "Electrical room door hardware or swing wrong"}],
    )
    (problem,) = problems_of("finding-disagrees", said)
    assert "Door opens out reads Yes at Rooms!H5 and Door hardware reads Panic hardware" in problem.message


@pytest.mark.parametrize(
    ("kind", "contradicted"), [("Panelboard", True), ("PV inverter", False), ("Battery system", False)]
)
def test_no_alert_contradicts_live_metal_only_where_a_tester_would_find_it(kind: str, contradicted: bool):
    said = as_typed(
        equipment=[{"tag": "A-1", "kind": kind, **QUIET}],
        findings=[{"subject": "A-1", "finding": "Metal enclosure shows voltage on a non-contact tester"}],
    )
    assert bool(problems_of("finding-disagrees", said)) == contradicted


def test_a_main_is_held_to_the_standard_ratings_beside_its_bus():
    rows = units({**RP1, **MCB, "main_or_fuse_a": "215"}, {**RP1, "tag": "RP-2", "main_or_fuse_a": "150"})
    assert cells_of("rating-not-standard", rows) == ["Equipment!T5"]


def test_a_service_is_asked_once_however_many_disconnects_it_has():
    several = units(*({**SD, "tag": f"SD-{n}"} for n in (1, 2, 3)), GEN, INV)
    assert cells_of(AFC, several) == ["Equipment!V5"]
    assert cells_of(SIGN, several) == ["Equipment!Q5"]


def test_a_system_is_asked_once_however_many_boards_begin_it():
    several = units(*({**SD, "tag": f"SD-{n}", **DELTA} for n in (1, 2, 3)))
    assert cells_of(DETECTOR, several) == ["Equipment!Q5"]


@pytest.mark.parametrize(
    ("rule", "typed", "cited"),
    [
        (WITHOUT, behind({**RP1, **MLO}), "NFPA 70-2023 408.36(B)"),
        (AFC, units(SD, code_profile="nec-2014"), "NFPA 70-2014 110.24(A)"),
        (ONE, units({**SD, "hand_motions": "4"}, code_profile="nec-2020"), "NFPA 70-2020 230.71(B)"),
        (ARC, units(LARGE, code_profile="nec-2017"), "NFPA 70-2017 240.87"),
        (PLACE, units({**LP, "room": "Stair 2"}, code_profile="osha-1910"), "NFPA 70 240.24(F)"),
        (HANDLE, measured(DS, equipment_height="84"), "NFPA 70-2023 404.8(A)"),
    ],
)
def test_a_section_is_that_of_the_edition_of_the_job(rule: str, typed: Typed, cited: str):
    (problem,) = problems_of(rule, typed)
    assert cited in problem.message


def test_a_clean_building_of_the_usual_kind_is_asked_none_of_it():
    usual = as_typed(
        job={"code_profile": "nec-2023", "year_built": "1998", "building_use": "Offices"},
        rooms=[{"room": "Main electrical room", "access": "Entered", "entrances": "1"}],
        equipment=[
            {**SD, **FUSED, "rating_a": "400", **WYE_208, "hand_motions": "1", "room": "Main electrical room", **POSTED, "short_circuit_rating_ka": "65"},
            {**DP, **MLO, "rating_a": "400", **WYE_208, "fed_from": "SD-1", "room": "Main electrical room", **QUIET, "short_circuit_rating_ka": "22"},
            {**LP, **MCB, "rating_a": "100", **WYE_208, "fed_from": "DP-1", "room": "Main electrical room", **QUIET},
        ],
        clearances=[{"tag": "LP-1", "open_above": "6 ft", "items_above": "None", "equipment_height": "72"}],
    )  # fmt: skip
    asked = {case.rule for case in CASES} - {NEWER}
    assert [rule for rule in asked if problems_of(rule, usual) or missing(rule, usual)] == []

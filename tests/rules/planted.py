"""A planted fault, or a lawful neighbour of one: its rule, its survey and the cell at which the rule must speak.

    Case, found_at                            one of them, and where its rule speaks
    behind, units, measured, in_room          the surveys that they are made of

With them the rows and the rules that several files name. The buildings are invented.
"""

from dataclasses import dataclass

from tests.rules.asking import WYE_208, WYE_480, Row, cells_of
from workbook_tools.rules.rule import Typed, as_typed

T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
RP1 = {"tag": "RP-1", "kind": "Panelboard", "fed_from": "T-1", "rating_a": "225", **WYE_208}
MLO, MCB = {"main_device": "Main lugs"}, {"main_device": "Main breaker"}
FUSED, UNFUSED = {"main_device": "Fused switch"}, {"main_device": "Switch without fuses"}
SD = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}
DELTA = {"voltage": "480", "phase": "3", "wires": "3"}
DP = {"tag": "DP-1", "kind": "Panelboard"}
POSTED = {"available_fault_ka": "22", "fault_current_date": "2021-03-08"}
LARGE = {**DP, "kind": "Switchboard", "rating_a": "1600", **WYE_480, **MCB}
WITHOUT, BELOW = "panel-without-protection", "panel-rating-below-source"
DELTA_PLATE = {"primary_v": "480 delta", "secondary_v": "240 delta"}
DELTA_240 = {"voltage": "240", "phase": "3", "wires": "3"}
DS = {"tag": "DS-1", "kind": "Disconnect switch", "fed_from": "T-1", "rating_a": "200", **WYE_208}
AFC, OVER, ONE = (
    "available-fault-current-not-posted",
    "posted-fault-current-over-rating",
    "mains-in-one-enclosure",
)
TOGETHER, SIGN = "combined-entrance-check", "source-sign-not-recorded"
GEN, INV = {"tag": "GEN-1", "kind": "Generator"}, {"tag": "INV-1", "kind": "PV inverter"}
FEEDER, ARC = "feeder-ground-fault-protection-not-recorded", "arc-energy-reduction-not-recorded"
GFP = "ground-fault-protection-not-recorded"
BIG_T = {"kva": "1500", "primary_v": "4160", "secondary_v": "480Y/277"}
DETECTOR, SLASH, RATED = "ground-detector-not-recorded", "slash-rating-check", "voltage-rating-below-system"
CORNER = {"voltage": "480 corner grounded", "phase": "3", "wires": "3"}
MCC = {"tag": "MCC-1", "kind": "Motor control center", "fed_from": "T-1"}
DOOR, PLACE, HANDLE = "door-hardware-missing", "panel-in-unsuitable-room", "handle-height-check"
SIGHT, ABOVE = "transformer-disconnect-not-in-sight", "open-above-unexplained"
MSB = {"tag": "MSB", "kind": "Switchboard", "rating_a": "800"}
GOOD = {"door_opens_out": "Yes", "door_hardware": "Panic hardware"}
LP = {"tag": "LP-1", "kind": "Panelboard"}
SOURCE = {**DP, "room": "Main"}
NEWER, DIRECT = "profile-newer-than-building", "touch-test-blind-to-direct-current"
QUIET = {"touch_test": "No alert"}


@dataclass(frozen=True)
class Case:
    """A survey, and at which cell a rule asks or reports; "" where it must keep still."""

    rule: str
    label: str
    source: str
    typed: Typed
    cell: str = ""


def found_at(case: Case) -> list[str]:
    """Return the cells at which the rule of a case speaks."""
    return [place.partition("!")[2] for place in cells_of(case.rule, case.typed)]


def behind(*rows: Row, plate: Row | None = None, **cells: str) -> Typed:
    """Return a transformer, what stands between, and a panelboard behind it."""
    return as_typed(
        equipment=[{**T1, "fed_from": "Utility", **cells}, *rows], transformers=[{**PLATE, **(plate or {})}]
    )


def units(*rows: Row, **job: str) -> Typed:
    return as_typed(job=job, equipment=rows)


def measured(row: Row, **cells: str) -> Typed:
    return as_typed(equipment=[row], clearances=[{"tag": row["tag"], **cells}])


def in_room(row: Row, *, job: Row | None = None, **room: str) -> Typed:
    named = {"room": "Main electrical room", "access": "Entered"}
    return as_typed(job=job, rooms=[{**named, **room}], equipment=[{"room": named["room"], **row}])

"""Rules about voltages, phases, wires and ratings as recorded.

    voltage-not-recognized    no nominal system of the table
    phase-wire-conflict       voltage, phase and wires cannot all be true
    high-leg-present          a 240/120 delta: which leg is 208 V, and what follows from it
    rating-not-standard       an ampere rating that is no standard one

A text that is no voltage at all is unreadable-value's.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import (
    VoltageReading,
    is_standard,
    rating_neighbours,
    read_transformer_side,
    read_voltage,
)
from workbook_tools.rules.client import Paperwork, Remark
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Transformer, Value

__all__ = ["RULES", "SUBJECT", "VOLTAGE_NOT_RECOGNIZED", "voltage_not_recognized"]

SUBJECT = "Voltages and ratings"

LOW_VOLTS = 60
"""Up to here a voltage is that of lighting or controls, and no system of the building (common practice)."""

RATED_AS_DEVICES = (
    "Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Disconnect switch",
    "Enclosed circuit breaker", "PV disconnect",
)  # fmt: skip
"""Kinds that carry the rating of an overcurrent device or a panel bus. Transfer switches, busway,
generators, chargers and inverters have sizes of their own (common practice)."""


def _readings(assessment: Assessment) -> Iterator[tuple[Equipment | Transformer, Value[str], VoltageReading]]:
    """Every voltage of the survey: the row, the cell, what the text says with phase and wires beside it."""
    for row in assessment.survey.equipment:
        reading = assessment.equipment(row).reading
        if reading is None and row.voltage.value:  # a transformer's own voltage cell, seldom filled in
            reading = read_voltage(row.voltage.value, row.phase.value, row.wires.value)
        if reading is not None and assessment.is_in_scope(row):
            yield row, row.voltage, reading
    for plate in assessment.survey.transformers:
        facts = assessment.transformer(plate)
        for cell, side in ((plate.primary_v, facts.primary), (plate.secondary_v, facts.secondary)):
            # The low secondary of a control transformer or a buck-boost unit is no system of the building.
            if side is not None and not (side is facts.secondary and facts.low_secondary):
                yield plate, cell, side.reading


def voltage_not_recognized(assessment: Assessment) -> Iterator[Problem]:
    """Look for voltages that no nominal system of the table has."""
    for row, cell, reading in _readings(assessment):
        if reading.outcome == "not nominal" and not reading.direct and max(reading.volts) > LOW_VOLTS:
            yield VOLTAGE_NOT_RECOGNIZED.problem(row, cell, reading.says)


def phase_wire_conflict(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for voltage, phase and wires that cannot all be true; placed at the one that stands against the others."""
    for row, cell, reading in _readings(assessment):
        if reading.outcome == "conflict":
            beside = (row.phase, row.wires) if isinstance(row, Equipment) else (row.phase,)
            yield PHASE_WIRE_CONFLICT.problem(
                row,
                _odd_one_out(row, cell),
                reading.says,
                read=", ".join(one.typed for one in (cell, *beside) if one.typed),
            )


def _odd_one_out(row: Equipment | Transformer, cell: Value[str]) -> Value[Any]:
    text, phase = str(cell.value), row.phase.value
    if isinstance(row, Transformer):
        agree_without_phase = read_transformer_side(text, None).reading.outcome != "conflict"
        return row.phase if phase is not None and agree_without_phase else cell
    agreeing: list[tuple[bool, Value[Any]]] = []
    for odd, beside in ((row.wires, (phase, None)), (row.phase, (None, row.wires.value))):
        reading = read_voltage(text, *beside)
        if odd.value is not None and reading.outcome != "conflict":
            # A system that needs no special mention is the likelier one: 480Y/277 with 4 wires has three phases.
            agreeing.append((any(not system.only_if for system in reading.candidates), odd))
    return max(agreeing, key=lambda found: found[0], default=(False, cell))[1]


def high_leg_present(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for delta systems with a grounded midpoint."""
    for row in assessment.survey.equipment:
        facts = assessment.equipment(row)
        system = facts.system
        if system is None or not system.high_leg or not assessment.is_in_scope(row):
            continue
        volts = facts.volts_to_ground or system.volts_to_ground
        upper = next((r.volts_max for r in assessment.profile.depth if volts <= r.volts_max), None)
        lower = max((r.volts_max for r in assessment.profile.depth if r.volts_max < volts), default=None)
        depth_row = (
            f"{'up to' if lower is None else f'{lower + 1:g} to'} {upper:g} V" if upper else "its volts"
        )
        yield HIGH_LEG_PRESENT.problem(
            row,
            row.voltage,
            f"{row.called} is {system.name}: phase B, the high leg, is {system.volts_to_ground} V to ground, the others "
            f"are {system.neutral_volts} V. The working depth is the one for {depth_row} to ground.",
            phrase=f"One conductor (phase B) is a high leg, {system.volts_to_ground} V to ground; the others have "
            f"{system.neutral_volts} V",
        )


def rating_not_standard(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for ampere ratings that are in no list of standard ratings."""
    for row in assessment.survey.equipment:
        if row.stock_kind not in RATED_AS_DEVICES:
            continue
        fused = row.main_device.value == "Fused switch"
        for cell in (row.rating_a, row.main_or_fuse_a):
            amps = cell.value
            if amps is None or amps <= 0 or is_standard(amps, assessment.profile, fuse=fused):
                continue
            if not assessment.is_plausible(cell):
                continue  # what lies outside the range that the trade meets is implausible-value's
            below, above = rating_neighbours(amps, assessment.profile, fuse=fused)
            neighbours = " and ".join(f"{near} A" for near in (below, above) if near is not None)
            yield RATING_NOT_STANDARD.problem(
                row, cell, f"{amps:g} A is not a standard rating; the nearest are {neighbours}."
            )


VOLTAGE_NOT_RECOGNIZED = Rule(
    slug="voltage-not-recognized",
    class_="confirm",
    subject="Equipment Transformers",
    what="The voltage is no nominal system of the table.",
    why="Most often a digit is wrong; without the system nothing that follows from it can be checked.",
    mend="Read the placard again; answer No issue where it reads so.",
    source="ANSI C84.1",
    client=Paperwork(),
    check=voltage_not_recognized,
    fires=as_typed(equipment=[{"tag": "DP-1", "voltage": "490"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "voltage": "460", "phase": "3", "wires": "3"}]),
)

PHASE_WIRE_CONFLICT = Rule(
    slug="phase-wire-conflict",
    class_="correct",
    subject="Equipment",
    what="The voltage system, phase and wires cannot all be true.",
    why="One of the three cells is wrong, and everything that follows depends on which.",
    mend="Correct the cell that is wrong. The ground is not counted as a wire.",
    source="ANSI C84.1",
    client=Paperwork(),
    check=phase_wire_conflict,
    fires=as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": "1", "wires": "4"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"}]),
)

HIGH_LEG_PRESENT = Rule(
    slug="high-leg-present",
    class_="note",
    subject="Equipment",
    what="A 240/120 delta high-leg system: one leg is 208 V to ground, and the depth table's second row applies.",
    why="Line-to-neutral loads on the high leg are destroyed, and the working space is deeper than 120 V suggests.",
    mend="Nothing to do, unless it is a single-phase 120/240 panel. Look whether the high leg is marked orange.",
    source="NFPA 70 110.15",
    client=Remark(),
    check=high_leg_present,
    fires=as_typed(equipment=[{"tag": "RP-3", "voltage": "240/120", "phase": "3", "wires": "4"}]),
    passes=as_typed(equipment=[{"tag": "RP-3", "voltage": "120/240", "phase": "1", "wires": "3"}]),
)

RATING_NOT_STANDARD = Rule(
    slug="rating-not-standard",
    class_="confirm",
    subject="Equipment",
    what="The ampere rating of an overcurrent device or panel is no standard rating; the neighbours are shown.",
    why="Ratings that are not standard exist, but a misread digit is likelier.",
    mend="Read the placard again; answer No issue where it reads so.",
    source="NFPA 70 240.6(A)",
    client=Paperwork(),
    check=rating_not_standard,
    fires=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", "rating_a": "220"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", "rating_a": "225"}]),
)

RULES = (VOLTAGE_NOT_RECOGNIZED, PHASE_WIRE_CONFLICT, HIGH_LEG_PRESENT, RATING_NOT_STANDARD)

"""Rules about voltages, phases, wires and ratings as recorded.

    voltage-not-recognized    no nominal system of the table
    phase-wire-conflict       voltage, phase and wires cannot all be true
    high-leg-present          a 240/120 delta: which leg is 208 V, and what follows from it
    rating-not-standard       an ampere rating that is no standard one

A text that is no voltage at all is unreadable-value's.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import (
    VoltageReading,
    is_standard,
    rating_neighbours,
    read_transformer_side,
    read_voltage,
)
from workbook_tools.rules.causes import is_in_scope
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey.model import Row

__all__ = ["RULES"]

RATED_AS_DEVICES = (
    "Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Disconnect switch",
    "Enclosed circuit breaker", "PV disconnect",
)  # fmt: skip
"""Kinds that carry the rating of an overcurrent device or a panel bus. Transfer switches, busway,
generators, chargers and inverters have sizes of their own (common practice)."""


def _readings(assessment: Assessment) -> Iterator[tuple[Row, str, VoltageReading]]:
    """Every voltage of the survey: the row, the field, what the text says with phase and wires beside it."""
    for row in assessment.survey.equipment:
        reading = assessment.equipment(row).reading
        if reading is None and row.get("voltage"):  # a transformer's own voltage cell, seldom filled in
            reading = read_voltage(str(row.get("voltage")), row.get("phase"), row.get("wires"))
        if reading is not None and is_in_scope(assessment, row):
            yield row, "voltage", reading
    for row in assessment.survey.transformers:
        facts = assessment.transformer(row)
        for field, side in (("primary_v", facts.primary), ("secondary_v", facts.secondary)):
            if side is not None:
                yield row, field, side.reading


def voltage_not_recognized(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for voltages that no nominal system of the table has."""
    for row, field, reading in _readings(assessment):
        if reading.outcome == "not nominal":
            yield VOLTAGE_NOT_RECOGNIZED.problem(assessment, row, field, reading.says)


def phase_wire_conflict(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for voltage, phase and wires that cannot all be true; placed at the one that stands against the others."""
    for row, field, reading in _readings(assessment):
        if reading.outcome == "conflict":
            yield PHASE_WIRE_CONFLICT.problem(
                assessment,
                row,
                _odd_one_out(row, field),
                reading.says,
                read=", ".join(row[name].typed for name in (field, "phase", "wires") if row[name].typed),
            )


def _odd_one_out(row: Row, field: str) -> str:
    text, phase, wires = str(row.get(field)), row.get("phase"), row.get("wires")
    if row.key == "transformers":
        agree_without_phase = read_transformer_side(text, None).reading.outcome != "conflict"
        return "phase" if phase is not None and agree_without_phase else field
    agreeing = {}
    for name, beside in (("wires", (phase, None)), ("phase", (None, wires))):
        reading = read_voltage(text, *beside)
        if row.get(name) is not None and reading.outcome != "conflict":
            # A system that needs no special mention is the likelier one: 480Y/277 with 4 wires has three phases.
            agreeing[name] = any(not system.only_if for system in reading.candidates)
    return max(agreeing, key=lambda name: agreeing[name], default=field)


def high_leg_present(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for delta systems with a grounded midpoint."""
    for row in assessment.survey.equipment:
        facts = assessment.equipment(row)
        system = facts.system
        if system is None or not system.high_leg or not is_in_scope(assessment, row):
            continue
        volts = facts.volts_to_ground or system.volts_to_ground
        upper = next((r.volts_max for r in assessment.profile.depth if volts <= r.volts_max), None)
        lower = max((r.volts_max for r in assessment.profile.depth if r.volts_max < volts), default=None)
        depth_row = (
            f"{'up to' if lower is None else f'{lower + 1:g} to'} {upper:g} V" if upper else "its volts"
        )
        yield HIGH_LEG_PRESENT.problem(
            assessment,
            row,
            "voltage",
            f"{row.subject} is {system.name}: phase B, the high leg, is {system.volts_to_ground} V to ground, the others "
            f"are {system.neutral_volts} V. The working depth is the one for {depth_row} to ground.",
        )


def rating_not_standard(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for ampere ratings that are in no list of standard ratings."""
    for row in assessment.survey.equipment:
        amps = row.get("rating_a")
        if row.kind not in RATED_AS_DEVICES or amps is None or amps <= 0:
            continue
        fused = row.get("main_device") == "Fused switch"
        low, high = _range(assessment)
        if is_standard(amps, assessment.profile, fuse=fused) or not low <= amps <= high:
            continue
        below, above = rating_neighbours(amps, assessment.profile, fuse=fused)
        neighbours = " and ".join(f"{near} A" for near in (below, above) if near is not None)
        yield RATING_NOT_STANDARD.problem(
            assessment, row, "rating_a", f"{amps:g} A is not a standard rating; the nearest are {neighbours}."
        )


def _range(assessment: Assessment) -> tuple[float, float]:
    """Return the plausible range: what lies outside it is implausible-value's."""
    column = assessment.survey.template.by_key["equipment"].by_field.get("rating_a")
    return column.plausible if column is not None and column.plausible else (0, float("inf"))


VOLTAGE_NOT_RECOGNIZED = Rule(
    slug="voltage-not-recognized",
    class_="confirm",
    subject="Equipment Transformers",
    what="The voltage is no nominal system of the table.",
    why="Most often a digit is wrong; without the system nothing that follows from it can be checked.",
    mend="Read the placard again; confirm it if it reads so.",
    source="ANSI C84.1",
    check=voltage_not_recognized,
    fires=as_typed(equipment=[{"tag": "DP-1", "voltage": "490"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "voltage": "460", "phase": "3", "wires": "3"}]),
)

PHASE_WIRE_CONFLICT = Rule(
    slug="phase-wire-conflict",
    class_="correct",
    subject="Equipment",
    needs=("voltage",),
    what="The voltage system, phase and wires cannot all be true.",
    why="One of the three cells is wrong, and everything that follows depends on which.",
    mend="Correct the cell that is wrong. The ground is not counted as a wire.",
    source="ANSI C84.1",
    check=phase_wire_conflict,
    fires=as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": "1", "wires": "4"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"}]),
)

HIGH_LEG_PRESENT = Rule(
    slug="high-leg-present",
    class_="note",
    subject="Equipment",
    needs=("voltage", "phase", "wires"),
    what="A 240/120 delta high-leg system: one leg is 208 V to ground, and the depth table's second row applies.",
    why="Line-to-neutral loads on the high leg are destroyed, and the working space is deeper than 120 V suggests.",
    mend="Nothing to do, unless it is a single-phase 120/240 panel. Look whether the high leg is marked orange.",
    source="NFPA 70 110.15",
    check=high_leg_present,
    fires=as_typed(equipment=[{"tag": "RP-3", "voltage": "240/120", "phase": "3", "wires": "4"}]),
    passes=as_typed(equipment=[{"tag": "RP-3", "voltage": "120/240", "phase": "1", "wires": "3"}]),
)

RATING_NOT_STANDARD = Rule(
    slug="rating-not-standard",
    class_="confirm",
    subject="Equipment",
    needs=("rating_a",),
    what="The ampere rating of an overcurrent device or panel is no standard rating; the neighbours are shown.",
    why="Ratings that are not standard exist, but a misread digit is likelier.",
    mend="Read the placard again; confirm it if it reads so.",
    source="NFPA 70 240.6(A)",
    check=rating_not_standard,
    fires=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", "rating_a": "220"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", "rating_a": "225"}]),
)

RULES = (VOLTAGE_NOT_RECOGNIZED, PHASE_WIRE_CONFLICT, HIGH_LEG_PRESENT, RATING_NOT_STANDARD)

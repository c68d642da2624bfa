"""The chapters that are lists: equipment, clearances, transformers, supply, limits, words.

    equipment, clearances, transformers, supply_tree, limits, words
        each takes the schedule and the places, and returns a Chapter, or None where it would be empty

Not here: the work list, the issue cards, the supply picture, the photos.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.equipment_texts import with_level
from workbook_tools.schedule.headings import (
    LIMIT_REASON,
    LIMIT_WHAT,
    LIMIT_WHO,
    OF_LIMITS,
    OF_TRANSFORMERS,
    PHOTOS,
    ROOM_LEVEL,
)
from workbook_tools.schedule.model import ClientSchedule, Figure, Measured, ScheduleRow
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Band, Chapter, Column, Run, Table, Words
from workbook_tools.typesetting.places import Places
from workbook_tools.typesetting.tables import FEW, named, one_table, row_of, words_of

__all__ = [
    "LIMITS",
    "clearances",
    "equipment",
    "limits",
    "supply_tree",
    "transformers",
    "words",
]

LIMITS = "limits"

_EQUIPMENT = (
    Column("Tag", 18),
    Column("Kind", 24),
    Column(ROOM_LEVEL, 30),
    Column("Rating", 20),
    Column("Voltage", 22),
    Column("Phase, wires", 15),
    Column("Maker", 19),
    Column("Main device, short-circuit rating", 25),
    Column("Fed from", 18),
    Column("Issues", 56),
    Column(PHOTOS, 14),
)


def equipment(schedule: ClientSchedule, places: Places) -> Chapter:
    """Return everything, in the order in which the power flows."""
    rows = [
        row_of(
            words_of(row.tag, strong=True), row.kind, with_level(row.room, row.level), row.rating, row.voltage,
            row.phase_wires, row.maker, _device(row), row.fed_from, _issues(places, row), places.photos(row.photos),
            id=f"row-{at}",
        )
        for at, row in enumerate(schedule.rows)
    ]  # fmt: skip
    return Chapter(
        "equipment",
        "Schedule of equipment",
        "In the order in which the power flows: the service first, then what it feeds; a generator or an inverter stands "
        "before what it feeds. Numbers in brackets lead to the issues."
        if rows
        else "No equipment was recorded.",
        wide=True,
        tables=one_table(_EQUIPMENT, rows) if rows else (),
    )


def _device(row: ScheduleRow) -> str:
    return ", ".join(named((("main device", row.main_device), ("rating", row.short_circuit))))


def _issues(places: Places, row: ScheduleRow) -> Words:
    """Return what is said about a line; each number of an issue in it leads there."""
    said: list[Run] = []
    left = row.issues
    for number in row.issue_ids:
        before, found, after = left.partition(f"[{number}]")
        if found:
            said += [Run(before), places.issue(number, found)]
            left = after
    said.append(Run(left))
    first, *rest = (run for run in said if run.text) if row.issues else (Run(""),)
    return replace(first, mark=mark_of(row.priority)), *rest


_CLEARANCES = (
    Column("Tag", 17),
    Column(ROOM_LEVEL, 32),
    Column("Volts to ground", 16, "right"),
    Column("Opposite side", 20),
    Column("Depth", 21),
    Column("needed", 19),
    Column("Width", 21),
    Column("needed", 19),
    Column("Height", 21),
    Column("needed", 19),
    Column("Front projection", 20),
    Column("Above", 26),
    Column("Result and remarks", 42),
)


def clearances(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return measured beside needed."""
    if not schedule.clearances:
        return None
    rows = [
        row_of(
            words_of(row.tag, strong=True), with_level(row.room, row.level), _figure(row.volts_to_ground, 0), row.opposite,
            *_pair(row.depth), *_pair(row.width), *_pair(row.height), _pair(row.projection)[0], row.above,
            words_of(" ".join(filter(None, (row.result, row.remarks))), strong=row.short), short=row.short,
        )
        for row in schedule.clearances
    ]  # fmt: skip
    return Chapter(
        "clearances",
        "Clearances: measured beside needed",
        f"{schedule.clearance_note} Bold figures with a triangle fall short; the result says it in words.",
        wide=True,
        tables=one_table(_CLEARANCES, rows),
    )


def _pair(measured: Measured) -> tuple[Words, Words]:
    falls_short = measured.enough is False
    mark = "triangle" if falls_short else ""
    said: Words = (Run(measured.measured, strong=falls_short, mark=mark),) if measured.measured else ()
    return said, words_of(measured.needed, strong=falls_short)


_TRANSFORMERS = (
    Column("Tag", 17),
    Column(ROOM_LEVEL, 34),
    Column("kVA", 14, "right"),
    Column("Phase", 13, "center"),
    Column("Primary (V)", 20),
    Column("Secondary (V)", 23),
    Column("Direction", 22),
    Column("Ratio", 17, "right"),
    Column("Primary at full load (A)", 20, "right"),
    Column("Secondary at full load (A)", 22, "right"),
    Column("Impedance (%)", 22, "right"),
    Column("Highest fault current (kA)", 23, "right"),
    Column("Remarks", 28),
    Column(PHOTOS, 15),
)


def transformers(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return direction, ratio and currents."""
    if not schedule.transformers:
        return None
    rows = [
        row_of(
            words_of(row.tag, strong=True), with_level(row.room, row.level), _figure(row.kva, 3), row.phase, row.primary, row.secondary, row.direction,
            _ratio(row.ratio), _figure(row.primary_amps, 1, 1), _figure(row.secondary_amps, 1, 1),
            _figure(row.impedance, 2, 1), _figure(row.highest_fault_ka, 1, 1), row.remarks, places.photos(row.photos),
        )
        for row in schedule.transformers
    ]  # fmt: skip
    return Chapter(
        "transformers",
        "Transformers",
        OF_TRANSFORMERS,
        wide=True,
        on=len(rows) <= FEW,
        tables=one_table(_TRANSFORMERS, rows),
    )


def _figure(value: Figure, most: int, least: int = 0) -> str:
    """Return a figure with so many places after the point at most, and at least so many.

    Examples
    --------
    >>> _figure(112.5, 3), _figure(75.0, 3), _figure(90.2, 1, 1), _figure(5, 2, 1), _figure("not visible", 1)
    ('112.5', '75', '90.2', '5.0', 'not visible')
    """
    if value is None or isinstance(value, str):
        return value or ""
    whole, _, places = f"{value:.{most}f}".partition(".")
    places = places.rstrip("0").ljust(least, "0")
    return f"{whole}.{places}" if places else whole


def _ratio(value: Figure) -> str:
    return f"{value:.2f} : 1" if isinstance(value, int | float) else value or ""


_TREE = (
    Column("What feeds what", 42),
    Column("Kind", 33),
    Column(ROOM_LEVEL, 44),
    Column("Rating and voltage", 48),
    Column("Issues", 13, "center"),
    Column("Remark", 34),
)


def supply_tree(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return the tree as lines, each under what feeds it."""
    if not schedule.tree:
        return None
    rows = []
    for node in schedule.tree:
        # No-break spaces keep their width at the beginning of a line.
        indent = Run("\u00a0" * 3 * min(node.depth, 9) + (f"({node.depth}) " if node.depth > 9 else ""))
        tag = Run(node.tag, strong=True)
        rows.append(
            row_of(
                (indent, tag),
                node.kind,
                with_level(node.room, node.level),
                node.short,
                str(node.issues or ""),
                sentence(node.note) if node.note else "",
            )
        )
    return Chapter(
        "tree",
        "Supply tree: what feeds what",
        "Each line is fed from the one above it that stands further left.",
        tables=one_table(_TREE, rows),
    )


_LIMITS = (Column(LIMIT_WHAT, 52), Column(LIMIT_REASON, 92), Column(LIMIT_WHO, 34))


def limits(schedule: ClientSchedule) -> Chapter | None:
    """Return what was not entered, not seen, not recorded or not compared."""
    if not schedule.limits:
        return None
    bands = tuple(
        Band(group, tuple(row_of(words_of(line.what, strong=True), line.reason, line.who) for line in lines))
        for group, lines in groupby(schedule.limits, key=lambda line: line.group)
    )
    return Chapter(
        LIMITS,
        "Limits of this survey",
        OF_LIMITS,
        tables=(Table("", _LIMITS, bands),),
    )


_WORDS = (Column("Word", 44), Column("What it means here", 134))


def words(schedule: ClientSchedule) -> Chapter | None:
    """Return the terms used, with their meanings."""
    if not schedule.words:
        return None
    rows = [row_of(words_of(word, strong=True), meaning) for word, meaning in schedule.words]
    return Chapter("words", "Words used", tables=one_table(_WORDS, rows))

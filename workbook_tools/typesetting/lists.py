"""The chapters that are tables: work, equipment, clearances, transformers, supply, limits, words.

    work_list, equipment, clearances, transformers, supply_tree, limits, words
        each takes the schedule and the places, and returns a Chapter, or None where it would be empty

Not here: the issue cards, the supply picture, the photos.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.headings import LIMIT_REASON, LIMIT_WHAT, LIMIT_WHO, PHOTOS, WHAT_TO_DO, WHERE
from workbook_tools.schedule.model import ClientSchedule, Figure, Measured
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Band, Chapter, Column, Row, Run, Table, Words
from workbook_tools.typesetting.places import Places, joined

__all__ = [
    "LIMITS",
    "clearances",
    "equipment",
    "limits",
    "supply_tree",
    "transformers",
    "words",
    "work_list",
]

LIMITS = "limits"

_LONGEST_WHOLE = 900
"""Letters of a row that is kept on one page."""


def _words(text: str, strong: bool = False) -> Words:
    return (Run(text, strong=strong),) if text else ()


def _row(*cells: Words | str, id: str = "", short: bool = False) -> Row:
    made = tuple(_words(cell) if isinstance(cell, str) else cell for cell in cells)
    longest = max(sum(len(run.text) for run in cell) for cell in made)
    return Row(made, id, longest <= _LONGEST_WHOLE, short)


def _table(columns: Sequence[Column], rows: Sequence[Row]) -> tuple[Table, ...]:
    return (Table("", tuple(columns), (Band("", tuple(rows)),)),)


def work_list(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return what is to be done as a list to carry along and to quote from."""
    if not schedule.conditions:
        return None
    columns = (
        Column("Done", 9, "center", box=True),
        Column("Issue", 13),
        Column("Priority", 22),
        Column(WHERE, 42),
        Column(WHAT_TO_DO, 92),
        Column("Price", 22),
        Column("Date and name", 32),
    )
    rows = [
        _row(
            "",
            (places.issue(at),),
            (Run(condition.priority, mark=mark_of(condition.priority)),),
            _words(condition.place, strong=True),
            condition.action,
            "",
            "",
        )
        for at, condition in enumerate(schedule.conditions)
    ]
    return Chapter(
        "work",
        "Work list",
        "One line for each issue, with room for a price and for who did it and when.",
        wide=True,
        tables=_table(columns, rows),
    )


_EQUIPMENT = (
    Column("Tag", 19),
    Column("Kind", 25),
    Column("Room", 27),
    Column("Rating", 21),
    Column("Voltage", 23),
    Column("Phase, wires", 16),
    Column("Maker", 19),
    Column("Fed from", 19),
    Column("Issues", 62),
    Column("Issue no.", 16),
    Column(PHOTOS, 15),
)


def equipment(schedule: ClientSchedule, places: Places) -> Chapter:
    """Return everything, in the order in which the power flows."""
    rows = [
        _row(
            _words(row.tag, strong=True), row.kind, row.room, row.rating, row.voltage, row.phase_wires, row.maker,
            row.fed_from, _issues(row.issues, row.priority),
            joined(places.issue(issue) for issue in places.issues_of(at)), places.photos(row.photos),
            id=f"row-{at}",
        )
        for at, row in enumerate(schedule.rows)
    ]  # fmt: skip
    return Chapter(
        "equipment",
        "Schedule of equipment",
        "In the order in which the power flows: the service first, then what it feeds; a generator or an inverter stands "
        "before what it feeds."
        if rows
        else "No equipment was recorded.",
        wide=True,
        tables=_table(_EQUIPMENT, rows) if rows else (),
    )


def _issues(text: str, priority: str) -> Words:
    return (Run(text, mark=mark_of(priority)),) if text else ()


_CLEARANCES = (
    Column("Tag", 17),
    Column("Room", 28),
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
        _row(
            _tag(places, row.tag), row.room, _figure(row.volts_to_ground, 0), row.opposite,
            *_pair(row.depth), *_pair(row.width), *_pair(row.height), _pair(row.projection)[0], row.above,
            _words(" ".join(filter(None, (row.result, row.remarks))), strong=row.short), short=row.short,
        )
        for row in schedule.clearances
    ]  # fmt: skip
    return Chapter(
        "clearances",
        "Clearances: measured beside needed",
        f"{schedule.clearance_note} Bold figures with a triangle fall short; the result says it in words.",
        wide=True,
        tables=_table(_CLEARANCES, rows),
    )


def _tag(places: Places, tag: str) -> Words:
    at = places.row_named(tag)
    return (Run(tag, strong=True),) if at is None else (Run(tag, to=f"row-{at}", strong=True),)


def _pair(measured: Measured) -> tuple[Words, Words]:
    falls_short = measured.enough is False
    mark = "triangle" if falls_short else ""
    said: Words = (Run(measured.measured, strong=falls_short, mark=mark),) if measured.measured else ()
    return said, _words(measured.needed, strong=falls_short)


_TRANSFORMERS = (
    Column("Tag", 17),
    Column("Room", 30),
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
        _row(
            _tag(places, row.tag), row.room, _figure(row.kva, 3), row.phase, row.primary, row.secondary, row.direction,
            _ratio(row.ratio), _figure(row.primary_amps, 1, 1), _figure(row.secondary_amps, 1, 1),
            _figure(row.impedance, 2, 1), _figure(row.highest_fault_ka, 1, 1), row.remarks, places.photos(row.photos),
        )
        for row in schedule.transformers
    ]  # fmt: skip
    return Chapter(
        "transformers",
        "Transformers",
        "Computed from the nameplates. The highest fault current is what this transformer alone can send to its secondary "
        "terminals, with an unlimited supply ahead of it and an impedance below the plate's by the usual tolerance; running "
        "motors and further transformers add to it, conductors bring it down. It is not the available fault current that is "
        "posted at the service, and no value to design with.",
        wide=True,
        tables=_table(_TRANSFORMERS, rows),
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
    Column("What feeds what", 60),
    Column("Kind", 36),
    Column("Room", 34),
    Column("Rating and voltage", 44),
    Column("Issues", 14, "center"),
    Column("Remark", 32),
)


def supply_tree(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return the tree as lines, each under what feeds it."""
    if not schedule.tree:
        return None
    rows = []
    for node in schedule.tree:
        at = None if node.source else places.row_named(node.tag)
        # No-break spaces keep their width at the beginning of a line.
        indent = Run("\u00a0" * 3 * min(node.level, 9) + (f"({node.level}) " if node.level > 9 else ""))
        tag = Run(node.tag, to="" if at is None else f"row-{at}", strong=True)
        rows.append(
            _row(
                (indent, tag),
                node.kind,
                node.room,
                node.short,
                str(node.issues or ""),
                sentence(node.note) if node.note else "",
            )
        )
    return Chapter(
        "tree",
        "Supply tree: what feeds what",
        "Each line is fed from the one above it that stands further left.",
        tables=_table(_TREE, rows),
    )


_LIMITS = (Column(LIMIT_WHAT, 52), Column(LIMIT_REASON, 92), Column(LIMIT_WHO, 34))


def limits(schedule: ClientSchedule) -> Chapter | None:
    """Return what was not entered, not seen, not recorded or not compared."""
    if not schedule.limits:
        return None
    bands = tuple(
        Band(group, tuple(_row(_words(line.what, strong=True), line.reason, line.who) for line in lines))
        for group, lines in groupby(schedule.limits, key=lambda line: line.group)
    )
    return Chapter(
        LIMITS,
        "Limits of this survey",
        "What was not entered, not seen, not recorded or not compared. Where nothing is said about a thing, nothing is known "
        "about it.",
        tables=(Table("", _LIMITS, bands),),
    )


_WORDS = (Column("Word", 44), Column("What it means here", 134))


def words(schedule: ClientSchedule) -> Chapter | None:
    """Return the terms used, with their meanings."""
    if not schedule.words:
        return None
    rows = [_row(_words(word, strong=True), meaning) for word, meaning in schedule.words]
    return Chapter("words", "Words used", tables=_table(_WORDS, rows))

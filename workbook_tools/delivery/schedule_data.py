"""The client schedule as data: the tables that the survey does not have, and one JSON object.

    schedule_tables(schedule)   issues, work_list, delivered_photos and limits
    schedule_json(schedule)     everything that the client reads, for another program

Not here: the survey's own tables (tables).
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import fields
from functools import cache
from typing import Any

from workbook_tools.definitions.model import PRIORITIES
from workbook_tools.files.table_schema import Cell, DataField, DataTable
from workbook_tools.schedule import ClientSchedule, headings

__all__ = ["PHOTO_FOLDER", "schedule_json", "schedule_tables"]

PHOTO_FOLDER = "photos"

SCHEMA = "client schedule 2"
"""Changes when a name in the JSON object changes its meaning."""

_ROW = DataField("row", "integer", "Row", "Position in the table, from 1.", {"minimum": 1})

_NUMBER = DataField("issue", "string", "Issue", "Number of the issue; a later edition gives it again.")
_PRIORITY = DataField("priority", "string", "Priority", "How urgent.", {"enum": list(PRIORITIES)})


def schedule_tables(schedule: ClientSchedule) -> list[DataTable]:
    """Return the conditions, the work, the photos and the limits that the client reads."""
    issues: Iterable[list[Cell]] = (
        [c.id, c.priority, c.subject, c.place, c.room, c.level, c.seen, c.why, c.action, c.basis, "; ".join(map(str, c.photos))]
        for c in schedule.conditions
    )  # fmt: skip
    work: Iterable[list[Cell]] = (
        [w.id, w.priority, w.trade, w.level, w.room, w.tag, w.kind, w.rating, w.voltage, w.phase_wires, w.maker, w.main_device,
         w.short_circuit, w.fed_from, w.feeds, w.seen, w.task, w.count, w.power, w.access, w.effort]
        for w in schedule.work
    )  # fmt: skip
    photos: Iterable[list[Cell]] = (
        [p.number, f"{PHOTO_FOLDER}/{p.file}", p.subject, p.caption] for p in schedule.photos
    )
    limits: Iterable[list[Cell]] = ([x.group, x.what, x.reason, x.who] for x in schedule.limits)
    return [
        _table(
            "issues",
            "Issues",
            "Conditions of the property, most urgent first.",
            (
                _NUMBER,
                _PRIORITY,
                DataField("subject", "string", "Subject", "Tag or room."),
                DataField("place", "string", headings.WHERE, "The subject with its kind, room and level."),
                DataField("room", "string", "Room", "Room that it stands in."),
                DataField("level", "string", "Level", "Level of the room."),
                DataField("seen", "string", headings.WHAT_WAS_SEEN, "One sentence."),
                DataField("why", "string", headings.WHY_IT_MATTERS, "One sentence."),
                DataField("action", "string", headings.WHAT_TO_DO, "One sentence."),
                DataField(
                    "basis", "string", headings.BASIS, "Related sections of codes, or common practice."
                ),
                DataField(
                    "photos", "string", headings.PHOTOS, 'Numbers of delivered_photos, parted by "; ".'
                ),
            ),
            issues,
        ),
        _table(
            "work_list",
            "Work list",
            "What is to be done, by trade, then level and room; one line for each issue.",
            (
                _NUMBER,
                _PRIORITY,
                DataField("trade", "string", headings.TRADE, "Who does it."),
                DataField("level", "string", "Level", "Level of the room."),
                DataField("room", "string", "Room", "Room."),
                DataField("tag", "string", "Tag", "Tag of the equipment, or the room."),
                DataField("kind", "string", "Kind", "Kind of the equipment."),
                DataField("rating", "string", "Rating", "Amperes or kVA, with unit."),
                DataField("voltage", "string", "Voltage", "With unit."),
                DataField("phase_wires", "string", "Phase, wires", "In words."),
                DataField("maker", "string", "Maker", "As typed."),
                DataField("main_device", "string", "Main device", "What switches it off."),
                DataField("short_circuit", "string", "Short-circuit rating", "As marked, in kA."),
                DataField("switched_off_at", "string", "Switched off at", "What feeds the equipment."),
                DataField("goes_off_with_it", "string", "Goes off with it", "What the equipment feeds."),
                DataField("seen", "string", headings.WHAT_WAS_SEEN, "One sentence."),
                DataField("task", "string", headings.WORK, "What is to be done."),
                DataField("count", "integer", "Count", "How many.", {"minimum": 1}),
                DataField("power", "string", headings.POWER, "Whether it has to be off."),
                DataField(
                    "access", "string", headings.ACCESS, "What it takes to get there, as far as it was noted."
                ),
                DataField("effort", "string", headings.EFFORT, "How it is ordered."),
            ),
            work,
        ),
        DataTable(
            "delivered_photos",
            "Photos",
            "The photos of this delivery.",
            (
                DataField("number", "integer", "Number", "As it stands beside the photo in the schedule."),
                DataField("file", "string", "File", "Path from the folder of the delivery."),
                DataField("subject", "string", "Subject", "Tags or rooms it shows."),
                DataField("caption", "string", "Caption", "One line."),
            ),
            [list(row) for row in photos],
            key=("number",),
        ),
        _table(
            "limits",
            "Limits of this survey",
            "What was not seen, not inspected or not checked, and why.",
            (
                DataField("group", "string", "Group", "Kind of limit."),
                DataField("what", "string", headings.LIMIT_WHAT, "What it is about."),
                DataField("reason", "string", headings.LIMIT_REASON, "Why."),
                DataField("who", "string", headings.LIMIT_WHO, "Suggested specialist."),
            ),
            limits,
        ),
    ]


def _table(
    name: str, title: str, description: str, columns: tuple[DataField, ...], rows: Iterable[list[Cell]]
) -> DataTable:
    numbered: list[list[Cell]] = [[n, *(cell or None for cell in row)] for n, row in enumerate(rows, 1)]
    return DataTable(name, title, description, (_ROW, *columns), numbered)


def schedule_json(schedule: ClientSchedule, about: dict[str, str]) -> str:
    """Return the whole schedule as one JSON object; photos by their file, not their pixels."""
    said = {"schema": SCHEMA, **about, **_parts(schedule)}
    return json.dumps(said, ensure_ascii=False, default=_parts) + "\n"


def _parts(value: Any) -> dict[str, Any]:
    """Return what one object of the schedule holds, but pixels."""
    kind: Any = type(value)
    held = ((name, getattr(value, name)) for name in _names(kind))
    return {name: part for name, part in held if not isinstance(part, bytes)}


@cache
def _names(kind: Any) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))

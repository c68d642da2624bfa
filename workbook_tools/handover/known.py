"""What is known of one piece of equipment or one room, answer by answer.

    of_equipment(row, assessment)   Known: rating, voltage, phases, wires, ratings, and the label plate of a transformer
    of_room(row)                    Known: access, lighting, entrances, doors

What nobody answered gives nothing; "not visible" and an answer that cannot be read give NOT_KNOWN and say why.
Not here: what is wrong with it (building takes that from the schedule).
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from workbook_tools.assessment import Assessment
from workbook_tools.handover.model import NOT_KNOWN
from workbook_tools.survey import Equipment, Outcome, Room, Row, Transformer, Value
from workbook_tools.survey.rows import Field

__all__ = ["Known", "of_equipment", "of_room", "written"]


class Known(NamedTuple):
    """One answer: what it is called, the answer, its unit, and what is to be said about it."""

    name: str
    value: str
    unit: str = NOT_KNOWN
    remark: str = NOT_KNOWN


_Asked = tuple[str, Field[Any], str]

_EQUIPMENT: tuple[_Asked, ...] = (
    ("Rating", Equipment.rating_a, "A"),
    ("Main breaker or fuses", Equipment.main_or_fuse_a, "A"),
    ("Voltage", Equipment.voltage, "V"),
    ("Phases", Equipment.phase, NOT_KNOWN),
    ("Wires", Equipment.wires, NOT_KNOWN),
    ("Main device", Equipment.main_device, NOT_KNOWN),
    ("Short-circuit rating", Equipment.short_circuit_rating_ka, "kA"),
    ("Voltage rating", Equipment.voltage_rating, "V"),
    ("Available fault current", Equipment.available_fault_ka, "kA"),
    ("Date of the fault current", Equipment.fault_current_date, NOT_KNOWN),
    ("Wiring method", Equipment.wiring_method, NOT_KNOWN),
    ("Circuit directory", Equipment.circuit_directory, NOT_KNOWN),
    ("Fed from", Equipment.fed_from, NOT_KNOWN),
)
_PLATE: tuple[_Asked, ...] = (
    ("Rated power", Transformer.kva, "kVA"),
    ("Primary voltage", Transformer.primary_v, "V"),
    ("Secondary voltage", Transformer.secondary_v, "V"),
    ("Phases on the plate", Transformer.phase, NOT_KNOWN),
    ("Impedance", Transformer.impedance_percent, "%"),
    ("Marked direction", Transformer.marked_direction, NOT_KNOWN),
    ("Year made", Transformer.year_made, NOT_KNOWN),
)
_ROOM: tuple[_Asked, ...] = (
    ("Access", Room.access, NOT_KNOWN),
    ("Lighting", Room.lighting, NOT_KNOWN),
    ("Entrances", Room.entrances, NOT_KNOWN),
    ("Door opens out", Room.door_opens_out, NOT_KNOWN),
    ("Door hardware", Room.door_hardware, NOT_KNOWN),
)


def of_equipment(row: Equipment, assessment: Assessment) -> Iterator[Known]:
    """Yield what is known of a piece of equipment."""
    yield from _answers(row, _EQUIPMENT)
    plate = assessment.plate(row)
    if plate is not None:
        yield from _answers(plate, _PLATE)


def of_room(row: Room) -> Iterator[Known]:
    """Yield what is known of a room."""
    yield from _answers(row, _ROOM)


def _answers(row: Row, asked: Iterable[_Asked]) -> Iterator[Known]:
    for name, column, unit in asked:
        value = row[column]
        if value.outcome is Outcome.VALUE:
            yield Known(name, written(value), unit)
        elif value.outcome is Outcome.NOT_VISIBLE:
            yield Known(name, NOT_KNOWN, unit, "Not visible on site.")
        elif value.outcome is Outcome.NOT_APPLICABLE:
            yield Known(name, NOT_KNOWN, unit, "Does not apply.")
        elif value.outcome is Outcome.UNREADABLE:
            yield Known(name, NOT_KNOWN, unit, f"Not readable: {value.said}")


def written(value: Value[Any]) -> str:
    """Return an answer as a text: a number without its unit, a day as year-month-day, names parted by "; "."""
    read = value.value
    if isinstance(read, int | float) and not isinstance(read, bool):
        return f"{read:.15g}"
    if isinstance(read, datetime.date):
        return read.isoformat()
    if isinstance(read, tuple) and all(isinstance(name, str) for name in read):
        return "; ".join(read)
    return read if isinstance(read, str) else value.said

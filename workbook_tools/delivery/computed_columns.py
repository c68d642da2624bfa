"""What follows from a row of the survey, as columns beside what was typed.

    computed_columns(key, survey, assessment, numbers)   columns for the table of that key

Every figure is taken from the Assessment; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from workbook_tools.assessment import Assessment, ClearanceFacts, TransformerFacts
from workbook_tools.electrical import Length
from workbook_tools.files.table_schema import Cell, DataField, number
from workbook_tools.survey import (
    Clearance,
    Equipment,
    Field,
    Finding,
    PhotoCaption,
    Room,
    Row,
    Survey,
    Transformer,
    Value,
)

__all__ = ["Columns", "Reading", "computed_columns"]

Reading = Callable[[Row], Cell]
Columns = list[tuple[DataField, Reading]]

R = TypeVar("R", bound=Row)
F = TypeVar("F")


def computed_columns(
    key: str, survey: Survey, assessment: Assessment, numbers: Mapping[Row, int]
) -> tuple[Columns, dict[str, str]]:
    """Return what follows from a row, and which of these columns number rows of another table.

    Parameters
    ----------
    key : str
        The table.
    survey, assessment : Survey, Assessment
        Where the figures come from.
    numbers : mapping of Row to int
        The position of each row in its table, from 1.
    """

    def of(kind: type[R], read: Callable[[R], Cell]) -> Reading:
        return lambda row: read(row) if isinstance(row, kind) else None

    def tagged(tag: Value[str]) -> Cell:
        return next((numbers[found] for found in survey.tagged(tag.value)), None)

    def in_room(name: Value[str]) -> Cell:
        room = survey.room(name.value)
        return numbers[room] if room is not None else None

    equipment_row = _computed(
        "equipment_row", "integer", "Row in equipment", "Row of equipment that the tag names."
    )
    room_row = _computed("room_row", "integer", "Row in rooms", "Row of rooms that is named.")
    to_equipment, to_room = {"equipment_row": Equipment.key}, {"room_row": Room.key}
    if key == Equipment.key:
        volts = _computed(
            "volts_to_ground", "number", "Volts to ground", "Voltage to ground of the system. [V]"
        )
        return [
            (volts, of(Equipment, lambda row: number(assessment.equipment(row).volts_to_ground))),
            (room_row, of(Equipment, lambda row: in_room(row.room))),
        ], to_room
    if key == Transformer.key:
        return [
            *((column, of(Transformer, _after(assessment.transformer, read))) for column, read in _OF_PLATES),
            (equipment_row, of(Transformer, lambda row: tagged(row.tag))),
        ], to_equipment
    as_of = _computed(
        "as_of",
        "string",
        "As of",
        "The day of an earlier survey, where this visit did not see the row again.",
    )
    carried = (
        [(as_of, lambda row: row.is_as_of or None)]
        if any(row.is_as_of for row in survey.tables.get(key, ()))
        else []
    )
    if key == Clearance.key:
        return [
            *carried,
            *(
                (column, of(Clearance, _after(assessment.clearance, read)))
                for column, read in _of_clearances()
            ),
            (equipment_row, of(Clearance, lambda row: tagged(row.tag))),
        ], to_equipment
    if key == Finding.key:
        return [
            *carried,
            (equipment_row, of(Finding, lambda row: tagged(row.subject))),
            (room_row, of(Finding, lambda row: in_room(row.subject))),
        ], to_equipment | to_room
    if key == PhotoCaption.key:
        return [
            (equipment_row, of(PhotoCaption, lambda row: tagged(row.subject))),
            (room_row, of(PhotoCaption, lambda row: in_room(row.subject))),
        ], to_equipment | to_room
    return [], {}


def _after(assess: Callable[[R], F], read: Callable[[F], Cell]) -> Callable[[R], Cell]:
    return lambda row: read(assess(row))


def _computed(name: str, kind: str, title: str, description: str) -> DataField:
    return DataField(name, kind, title, f"{description} Computed, not typed.")


_OF_PLATES: tuple[tuple[DataField, Callable[[TransformerFacts], Cell]], ...] = (
    (
        _computed(
            "direction", "string", "Direction", "Step-down, step-up or isolation, by the two voltages."
        ),
        lambda facts: facts.direction,
    ),
    (
        _computed(
            "turns_ratio", "number", "Turns ratio", "Primary volts over secondary volts, line to line."
        ),
        lambda facts: number(facts.turns_ratio),
    ),
    (
        _computed("primary_a", "number", "Primary A", "Line current at rated load, primary side. [A]"),
        lambda facts: number(facts.primary_amps, 3),
    ),
    (
        _computed("secondary_a", "number", "Secondary A", "Line current at rated load, secondary side. [A]"),
        lambda facts: number(facts.secondary_amps, 3),
    ),
    (
        _computed(
            "highest_fault_ka",
            "number",
            "Highest fault kA",
            "Highest fault current that the transformer can send to its secondary terminals, the supply taken as unlimited and no motors counted; line to neutral where the secondary is centre-tapped. [kA]",
        ),
        lambda facts: number(facts.highest_fault_ka, 3),
    ),
)


def _of_clearances() -> Iterator[tuple[DataField, Callable[[ClearanceFacts], Cell]]]:
    yield (
        _computed(
            "volts_to_ground", "number", "Volts to ground", "Of the equipment that the row speaks of. [V]"
        ),
        lambda facts: number(facts.volts_to_ground),
    )
    for length in (Clearance.depth, Clearance.width, Clearance.height):
        yield _needed(length.name, length)
        yield _enough(length.name, length, f"Whether the {length.name} measured meets what is needed.")
    yield _enough(
        "projection",
        Clearance.front_projection,
        "Whether what stands out past the front stays within the limit.",
    )


def _needed(name: str, length: Field[Length]) -> tuple[DataField, Callable[[ClearanceFacts], Cell]]:
    def read(facts: ClearanceFacts) -> Cell:
        limit = facts.needed(length)
        return number(limit.inches) if limit is not None else None

    title = f"Needed {name} (in)"
    return _computed(f"needed_{name}_in", "number", title, f"Needed {name} by the code profile. [in]"), read


def _enough(
    name: str, length: Field[Length], description: str
) -> tuple[DataField, Callable[[ClearanceFacts], Cell]]:
    def read(facts: ClearanceFacts) -> Cell:
        compared = facts.comparison(length)
        return None if compared is None else "true" if compared.enough else "false"

    return _computed(f"{name}_enough", "boolean", f"{name.capitalize()} enough", description), read

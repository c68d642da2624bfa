"""What follows from a row of the survey, as columns beside what was typed.

    computed_columns(key, survey, assessment, numbers)   columns for the table of that key

Every figure is taken from the Assessment; nothing is worked out here.
"""

from __future__ import annotations

from collections.abc import Callable

from workbook_tools.assessment import Assessment, Comparison
from workbook_tools.delivery.table_schema import Cell, DataField, number
from workbook_tools.electrical import Limit
from workbook_tools.survey import Row, Survey

__all__ = ["Columns", "Reading", "computed_columns"]

Reading = Callable[[Row], Cell]
Columns = list[tuple[DataField, Reading]]


def computed_columns(
    key: str, survey: Survey, assessment: Assessment, numbers: dict[int, int]
) -> tuple[Columns, dict[str, str]]:
    """Return what follows from a row, and which of these columns number rows of another table."""

    def tagged(name: str) -> Reading:
        return lambda row: next((numbers[id(found)] for found in survey.tagged(row.get(name) or "")), None)

    def in_room(name: str) -> Reading:
        def read(row: Row) -> Cell:
            room = survey.room(row.get(name) or "")
            return numbers[id(room)] if room is not None else None

        return read

    equipment_row = _computed(
        "equipment_row", "integer", "Row in equipment", "Row of equipment that the tag names."
    )
    room_row = _computed("room_row", "integer", "Row in rooms", "Row of rooms that is named.")
    if key == "equipment":
        volts = _computed(
            "volts_to_ground", "number", "Volts to ground", "Voltage to ground of the system. [V]"
        )
        return [
            (volts, lambda row: number(assessment.equipment(row).volts_to_ground)),
            (room_row, in_room("room")),
        ], {"room_row": "rooms"}
    if key == "transformers":
        return [*_transformer_columns(assessment), (equipment_row, tagged("tag"))], {
            "equipment_row": "equipment"
        }
    if key == "clearances":
        return [*_clearance_columns(assessment), (equipment_row, tagged("tag"))], {
            "equipment_row": "equipment"
        }
    if key in ("findings", "photos"):
        columns: Columns = [(equipment_row, tagged("subject")), (room_row, in_room("subject"))]
        return columns, {"equipment_row": "equipment", "room_row": "rooms"}
    return [], {}


def _computed(name: str, kind: str, title: str, description: str) -> DataField:
    return DataField(name, kind, title, f"{description} Computed, not typed.")


def _transformer_columns(assessment: Assessment) -> Columns:
    facts = assessment.transformer
    return [
        (
            _computed(
                "direction", "string", "Direction", "Step-down, step-up or isolation, by the two voltages."
            ),
            lambda row: facts(row).direction,
        ),
        (
            _computed(
                "turns_ratio", "number", "Turns ratio", "Primary volts over secondary volts, line to line."
            ),
            lambda row: number(facts(row).turns_ratio),
        ),
        (
            _computed("primary_a", "number", "Primary A", "Line current at rated load, primary side. [A]"),
            lambda row: number(facts(row).primary_amps, 3),
        ),
        (
            _computed(
                "secondary_a", "number", "Secondary A", "Line current at rated load, secondary side. [A]"
            ),
            lambda row: number(facts(row).secondary_amps, 3),
        ),
        (
            _computed(
                "highest_fault_ka",
                "number",
                "Highest fault kA",
                "Upper bound of the fault current at the secondary terminals, the supply taken as unlimited. [kA]",
            ),
            lambda row: number(facts(row).highest_fault_ka, 3),
        ),
    ]


def _clearance_columns(assessment: Assessment) -> Columns:
    facts = assessment.clearance
    columns: Columns = [
        (
            _computed(
                "volts_to_ground", "number", "Volts to ground", "Of the equipment that the row speaks of. [V]"
            ),
            lambda row: number(facts(row).volts_to_ground),
        )
    ]
    for name in ("depth", "width", "height"):
        columns.append(_needed_column(assessment, name))
        columns.append(_enough_column(assessment, name, f"Whether the {name} measured meets what is needed."))
    columns.append(
        _enough_column(
            assessment, "projection", "Whether what stands out past the front stays within the limit."
        )
    )
    return columns


def _needed_column(assessment: Assessment, name: str) -> tuple[DataField, Reading]:
    def read(row: Row) -> Cell:
        limit: Limit | None = getattr(assessment.clearance(row), f"needed_{name}")
        return number(limit.inches) if limit is not None else None

    title = f"Needed {name} (in)"
    return _computed(f"needed_{name}_in", "number", title, f"Needed {name} by the code profile. [in]"), read


def _enough_column(assessment: Assessment, name: str, description: str) -> tuple[DataField, Reading]:
    def read(row: Row) -> Cell:
        compared: Comparison | None = getattr(assessment.clearance(row), name)
        return None if compared is None else "true" if compared.enough else "false"

    return _computed(f"{name}_enough", "boolean", f"{name.capitalize()} enough", description), read

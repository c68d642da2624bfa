"""The survey as plain tables: one for each sheet, with what follows from it beside it.

    survey_tables(survey, assessment)   job, rooms, equipment, ..., and everything as typed
    DataTable, DataField                rows and the description of their columns

Rows are tied to rows by their number, since a tag may be typed in more than one way. Columns
that the template does not know are carried along under their headings.

Not here: the files (data_package), what the client reads (schedule).
"""

from __future__ import annotations

import datetime
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.assessment import Assessment, Comparison
from workbook_tools.definitions import Column, Sheet
from workbook_tools.electrical import Length, Limit
from workbook_tools.survey import Outcome, Row, Survey, Value

__all__ = ["MISSING", "DataField", "DataTable", "survey_tables"]

Cell = str | int | float | None

MISSING = {
    "": "the cell was left blank",
    "N/V": "not visible: the inspector looked and could not see it",
    "N/A": "not applicable",
    "(not readable)": "what was typed cannot be read as what the column holds; it stands in as_typed",
}
"""What stands in place of a value, and what it means."""

_OUTCOMES = {
    Outcome.BLANK: "",
    Outcome.NOT_VISIBLE: "N/V",
    Outcome.NOT_APPLICABLE: "N/A",
    Outcome.UNREADABLE: "(not readable)",
}
_INTEGERS = ("phase", "wires", "count", "year")
_NUMBERS = ("amperes", "kva", "percent", "kiloamperes", "number")
_LISTS = ("tags", "photos", "items")


@dataclass(frozen=True)
class DataField:
    """One column: a Table Schema type, the heading people know, and what it holds with its unit."""

    name: str
    type: str
    title: str
    description: str
    constraints: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class DataTable:
    """One table. `refers` maps a column of row numbers to the table they number."""

    name: str
    title: str
    description: str
    fields: tuple[DataField, ...]
    rows: list[list[Cell]]
    key: tuple[str, ...] = ("row",)
    refers: dict[str, str] = field(default_factory=dict)


Reading = Callable[[Row], Cell]
Columns = list[tuple[DataField, Reading]]

_ROW = DataField("row", "integer", "Row", "Position in the table, from 1.", {"minimum": 1})


def survey_tables(survey: Survey, assessment: Assessment) -> list[DataTable]:
    """Return the survey's tables, and last the table of everything as typed."""
    tables = [_job_table(survey)]
    numbers = {id(row): n for rows in survey.tables.values() for n, row in enumerate(rows, 1)}
    for sheet in survey.template.sheets:
        if sheet.layout != "table":
            continue
        rows = survey.tables.get(sheet.key, [])
        columns = _typed_columns(sheet)
        computed, refers = _computed_columns(sheet.key, survey, assessment, numbers)
        taken = {column.name for column, _ in (*columns, *computed)} | {"row"}
        columns = [*columns, *computed, *_extra_columns(rows, taken)]
        tables.append(
            DataTable(
                name=sheet.key,
                title=sheet.name,
                description=sheet.ask or sheet.name,
                fields=(_ROW, *(column for column, _ in columns)),
                rows=[[n, *(read(row) for _, read in columns)] for n, row in enumerate(rows, 1)],
                refers=refers,
            )
        )
    tables.append(_typed_table(survey))
    return tables


def _job_table(survey: Survey) -> DataTable:
    sheet = survey.template.by_key["job"]
    rows: list[list[Cell]] = [
        [column.field, column.heading, _plain(survey.job[column.field]) or None] for column in sheet.typed
    ]
    rows += [[f"extra:{heading}", heading, value.typed] for heading, value in survey.job.extra.items()]
    return DataTable(
        "job",
        sheet.name,
        "What the survey is of, who made it and when.",
        (
            DataField(
                "item", "string", "Item", "Name of the answer, the same in every survey.", {"unique": True}
            ),
            DataField("label", "string", "Label", "The label on the sheet."),
            DataField("answer", "string", "Answer", "The answer; a date as year-month-day."),
        ),
        rows,
        key=("item",),
    )


def _typed_columns(sheet: Sheet) -> Columns:
    columns: Columns = []
    for column in sheet.typed:
        columns.append((_described(column), _reader(column)))
        if column.holds == "length":
            inches = DataField(
                f"{column.field}_in", "number", f"{column.heading} (in)", f"{column.heading}, in inches. [in]"
            )
            columns.append((inches, _inches_reader(column.field)))
    return columns


def _described(column: Column) -> DataField:
    kind = "string"
    unit = f" [{column.unit}]" if column.unit and column.holds not in ("length", "voltage") else ""
    more = ""
    if column.holds in _INTEGERS:
        kind = "integer"
    elif column.holds in _NUMBERS:
        kind = "number"
    elif column.holds == "date":
        kind = "date"
    elif column.holds in _LISTS:
        more = ' Several are parted by "; ".'
    elif column.holds == "length":
        more = " As typed; the next column has it in inches."
    return DataField(column.field, kind, column.heading, f"{column.ask}{more}{unit}")


def _reader(column: Column) -> Reading:
    name, is_length = column.field, column.holds == "length"

    def read(row: Row) -> Cell:
        value = row[name]
        if value.outcome is not Outcome.VALUE:
            return _OUTCOMES[value.outcome] or None
        return value.typed if is_length else _cell(value.value)

    return read


def _inches_reader(name: str) -> Reading:
    def read(row: Row) -> Cell:
        value = row[name]
        if isinstance(value.value, Length) and value.outcome is Outcome.VALUE:
            return _number(value.value.inches)
        return _OUTCOMES.get(value.outcome) or None

    return read


def _cell(value: Any) -> Cell:
    if isinstance(value, tuple):
        return "; ".join(map(str, value))
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float):
        return _number(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    return str(value)


def _number(value: float | None, places: int = 6) -> int | float | None:
    if value is None:
        return None
    rounded = round(value, places)
    return int(rounded) if rounded == int(rounded) else rounded


def _plain(value: Value) -> str:
    if value.outcome is not Outcome.VALUE:
        return _OUTCOMES[value.outcome]
    return str(_cell(value.value))


def _computed_columns(
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
            (volts, lambda row: _number(assessment.equipment(row).volts_to_ground)),
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
            lambda row: _number(facts(row).turns_ratio),
        ),
        (
            _computed("primary_a", "number", "Primary A", "Line current at rated load, primary side. [A]"),
            lambda row: _number(facts(row).primary_amps, 3),
        ),
        (
            _computed(
                "secondary_a", "number", "Secondary A", "Line current at rated load, secondary side. [A]"
            ),
            lambda row: _number(facts(row).secondary_amps, 3),
        ),
        (
            _computed(
                "highest_fault_ka",
                "number",
                "Highest fault kA",
                "Upper bound of the fault current at the secondary terminals, the supply taken as unlimited. [kA]",
            ),
            lambda row: _number(facts(row).highest_fault_ka, 3),
        ),
    ]


def _clearance_columns(assessment: Assessment) -> Columns:
    facts = assessment.clearance
    columns: Columns = [
        (
            _computed(
                "volts_to_ground", "number", "Volts to ground", "Of the equipment that the row speaks of. [V]"
            ),
            lambda row: _number(facts(row).volts_to_ground),
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
        return _number(limit.inches) if limit is not None else None

    title = f"Needed {name} (in)"
    return _computed(f"needed_{name}_in", "number", title, f"Needed {name} by the code profile. [in]"), read


def _enough_column(assessment: Assessment, name: str, description: str) -> tuple[DataField, Reading]:
    def read(row: Row) -> Cell:
        compared: Comparison | None = getattr(assessment.clearance(row), name)
        return None if compared is None else "true" if compared.enough else "false"

    return _computed(f"{name}_enough", "boolean", f"{name.capitalize()} enough", description), read


def _extra_columns(rows: Iterable[Row], taken: set[str]) -> Columns:
    headings = dict.fromkeys(heading for row in rows for heading in row.extra)
    columns: Columns = []
    for heading in headings:
        name = _field_name(heading, taken)
        taken.add(name)
        described = DataField(name, "string", heading, "A column that was added to the survey; as typed.")
        columns.append((described, _extra_reader(heading)))
    return columns


def _extra_reader(heading: str) -> Reading:
    return lambda row: row.extra[heading].typed or None if heading in row.extra else None


def _field_name(heading: str, taken: set[str]) -> str:
    ascii_only = unicodedata.normalize("NFKD", heading).encode("ascii", "ignore").decode().casefold()
    words = "".join(c if c.isalnum() else " " for c in ascii_only).split()
    name = "extra_" + ("_".join(words)[:40].strip("_") or "column")
    numbered, n = name, 1
    while numbered in taken:
        n += 1
        numbered = f"{name}_{n}"
    return numbered


def _typed_table(survey: Survey) -> DataTable:
    headings = {(s.key, c.field): c.heading for s in survey.template.sheets for c in s}
    rows: list[list[Cell]] = []

    def add(table: str, number: int | None, name: str, heading: str, value: Value) -> None:
        if value.typed or value.outcome is not Outcome.BLANK:
            outcome = value.outcome.value
            place: list[Cell] = [value.sheet or None, value.cell or None]
            rows.append([len(rows) + 1, table, number, name, heading, *place, outcome, value.typed or None])

    for key, table in (("job", [survey.job]), *survey.tables.items()):
        for number, row in enumerate(table, 1):
            for name, value in row.values.items():
                add(key, number, name, headings.get((key, name), name), value)
            for heading, value in row.extra.items():
                add(key, number, "", heading, value)
    for value in survey.stray:
        add("", None, "", "", value)
    return DataTable(
        "as_typed",
        "Everything as typed",
        "Every cell that was filled in, with its place in the survey workbook and the text as typed.",
        (
            _ROW,
            DataField(
                "table", "string", "Table", "The table of this package; blank for a cell outside the tables."
            ),
            DataField("table_row", "integer", "Table row", "Position in that table, from 1."),
            DataField("field", "string", "Field", "The column of that table; blank for an added one."),
            DataField("heading", "string", "Heading", "The heading of the column."),
            DataField("sheet", "string", "Sheet", "Sheet of the survey workbook."),
            DataField("cell", "string", "Cell", "Cell of that sheet."),
            DataField(
                "outcome",
                "string",
                "Outcome",
                "What reading it came to.",
                {"enum": [outcome.value for outcome in Outcome]},
            ),
            DataField("typed", "string", "Typed", "The text as typed."),
        ),
        rows,
    )

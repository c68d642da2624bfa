"""The survey as plain tables: one for each sheet, with what follows from it beside it.

    survey_tables(survey, assessment)   job, rooms, equipment, ..., and everything as typed

Rows are tied to rows by their number, since a tag may be typed in more than one way. Columns
that the template does not know are carried along under their headings.

Not here: the files (data_package), what the client reads (schedule).
"""

from __future__ import annotations

import datetime
import unicodedata
from collections.abc import Iterable, Sequence
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column, Sheet
from workbook_tools.delivery.computed_columns import Columns, Reading, computed_columns
from workbook_tools.electrical import Length
from workbook_tools.files.table_schema import Cell, DataField, DataTable, number
from workbook_tools.survey import Outcome, Row, Survey, Value

__all__ = ["survey_tables"]

_OUTCOMES = {
    Outcome.BLANK: "",
    Outcome.NOT_VISIBLE: "N/V",
    Outcome.NOT_APPLICABLE: "N/A",
    Outcome.UNREADABLE: "(not readable)",
}
_INTEGERS = ("phase", "wires", "count", "year")
_NUMBERS = ("amperes", "kva", "percent", "kiloamperes", "number")
_LISTS = ("tags", "photos", "items")


_ROW = DataField("row", "integer", "Row", "Position in the table, from 1.", {"minimum": 1})


def survey_tables(survey: Survey, assessment: Assessment) -> list[DataTable]:
    """Return the survey's tables, and last the table of everything as typed."""
    tables = [_job_table(survey)]
    numbers = {row: n for rows in survey.tables.values() for n, row in enumerate(rows, 1)}
    for sheet in survey.template.sheets:
        if sheet.layout != "table":
            continue
        rows = survey.tables.get(sheet.key, [])
        columns = _typed_columns(sheet, rows)
        computed, refers = computed_columns(sheet.key, survey, assessment, numbers)
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
    sheet = survey.job.definition
    rows: list[list[Cell]] = [
        [column.field, column.heading, _plain(survey.job[column]) or None] for column in sheet.typed
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


def _typed_columns(sheet: Sheet, rows: Sequence[Row]) -> Columns:
    columns: Columns = []
    for column in sheet.typed:
        if column.carried and not any(row[column].answered for row in rows):
            continue  # nothing was carried over from an earlier survey
        columns.append((_described(column), _reader(column)))
        if column.holds == "length":
            inches = DataField(
                f"{column.field}_in", "number", f"{column.heading} (in)", f"{column.heading}, in inches. [in]"
            )
            columns.append((inches, _inches_reader(column)))
    return columns


def _described(column: Column) -> DataField:
    kind = "string"
    unit = (
        f" [{column.unit}]"
        if column.unit and column.holds not in ("length", "voltage", "voltage_rating")
        else ""
    )
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
    is_length = column.holds == "length"

    def read(row: Row) -> Cell:
        value = row[column]
        if value.outcome is not Outcome.VALUE:
            return _OUTCOMES[value.outcome] or None
        return value.typed if is_length else _cell(value.value)

    return read


def _inches_reader(column: Column) -> Reading:
    def read(row: Row) -> Cell:
        value = row[column]
        if isinstance(value.value, Length) and value.outcome is Outcome.VALUE:
            return number(value.value.inches)
        return _OUTCOMES.get(value.outcome) or None

    return read


def _cell(value: Any) -> Cell:
    if isinstance(value, tuple):
        return "; ".join(map(str, value))
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, float):
        return number(value)
    if isinstance(value, int) and not isinstance(value, bool):
        return value
    return str(value)


def _plain(value: Value[Any]) -> str:
    if value.outcome is not Outcome.VALUE:
        return _OUTCOMES[value.outcome]
    return str(_cell(value.value))


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
    rows: list[list[Cell]] = []

    def add(table: str | None, table_row: int | None, name: str, heading: str, value: Value[Any]) -> None:
        if value.typed or value.outcome is not Outcome.BLANK:
            outcome = value.outcome.value
            where: list[Cell] = [value.sheet or None, value.cell or None]
            rows.append(
                [len(rows) + 1, table, table_row, name, heading, *where, outcome, value.typed or None]
            )

    tables: list[Sequence[Row]] = [[survey.job], *survey.tables.values()]
    for table in tables:
        for place, row in enumerate(table, 1):
            for name, value in row.values.items():
                add(row.definition.key, place, name, value.heading, value)
            for heading, value in row.extra.items():
                add(row.definition.key, place, "", heading, value)
            for value in row.comments:
                add(
                    row.definition.key,
                    place,
                    value.column.field,
                    f"Comment on {value.heading}".strip(),
                    value,
                )
    for value in survey.typed_elsewhere():
        add(None, None, "", "Outside the tables", value)
    return DataTable(
        "as_typed",
        "Everything as typed",
        "Every text that was typed into the survey workbook, with its place there: cells of the tables, comments on "
        "them, and what stands outside the tables.",
        (
            _ROW,
            DataField(
                "table", "string", "Table", "The table of this package; blank for what stands in none."
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

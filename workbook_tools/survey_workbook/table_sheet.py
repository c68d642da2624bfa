"""One table sheet of a survey workbook, written: headings, rows to fill in, live cells, the hidden columns.

    write_table(sheet, look, lists, table, workings, filled, rows)
    in_view(table)     how many columns stay in sight, however far a phone scrolls

Not here: where columns stand (layout), formulas (workings, row_check), what a cell offers (validations).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from workbook_tools.files.text_width import wrapped
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.wording import OK, SHORT
from workbook_tools.survey import Equipment, Finding
from workbook_tools.survey_workbook.layout import FIRST_ROW, HEADING_ROW, WORKINGS, Table, letters
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.live_formulas import live_formula
from workbook_tools.survey_workbook.look import CHECK_SIZE, PIXELS_A_LETTER, ROW_HEIGHT, TEXT_SIZE, Look
from workbook_tools.survey_workbook.prefilled import Prefilled
from workbook_tools.survey_workbook.row_check import OF_LAST_TIME, unprepared_row_check
from workbook_tools.survey_workbook.validations import validation

__all__ = ["in_view", "write_table"]

HEADING_HEIGHT = 36
"""Points: two lines."""


BELOW = 20
"""Rows below the prepared ones whose row check says that they are only read when the file is checked."""


LINE_HEIGHT = 15.5
"""Points, of the letters that are typed."""


def in_view(table: Table) -> int:
    """Return how many columns stay in sight: the first, and the row check where it is the second."""
    second = table.columns[1:2]
    return 2 if second and second[0].live == "row_check" else 1


def write_table(
    sheet: Any, look: Look, lists: Lists, table: Table, workings: list[tuple[str, str]], filled: Prefilled,
    rows: Sequence[Mapping[str, str]],
) -> None:  # fmt: skip
    """Write the sheet of a table, its rows from the texts given."""
    definition = table.sheet
    sheet.set_default_row(ROW_HEIGHT)
    sheet.freeze_panes(HEADING_ROW, in_view(table))
    sheet.set_row(0, 22)
    sheet.set_row(HEADING_ROW - 1, HEADING_HEIGHT)
    start = next((s.name for s in lists.template.sheets if s.layout == "guide"), "")
    sheet.write_url(0, 0, f"internal:'{start}'!A1", look.back, start)
    sheet.write_string(0, 1, definition.ask, look.ask)
    formats = _formats(look, table)
    cells: list[tuple[int, str, Any, str]] = []  # column, field or heading, format, formula
    for number, column in enumerate(definition.columns):
        sheet.write_string(
            HEADING_ROW - 1, number, column.heading, look.live_heading if column.live else look.heading
        )
        sheet.set_column(
            number, number, column.width + 2, look.live_column if column.live else look.typed_column
        )
        formula = live_formula(lists, table, column.live) if column.live else ""
        cells.append((number, column.field, formats[column.field], formula))
    for number, heading in enumerate(table.extra, len(definition.columns)):
        sheet.write_string(HEADING_ROW - 1, number, heading, look.heading)
        sheet.set_column(number, number, 16, look.typed_column)
        cells.append((number, heading, look.typed, ""))
    seen = len(cells)
    for number, (name, formula) in enumerate(workings, seen):
        sheet.write_string(HEADING_ROW - 1, number, f"{WORKINGS}: {name}", look.working)
        cells.append((number, "", None, formula))
    sheet.set_column(seen, seen + len(workings) - 1, 12, None, {"hidden": True})
    _write_rows(sheet, table, cells, filled, rows)
    _write_below(sheet, look, table)
    _add_validations(sheet, lists, table)
    _add_conditions(sheet, look, table)
    last = seen - 1
    sheet.autofilter(HEADING_ROW - 1, 0, table.last_row - 1, last)
    sheet.ignore_errors({"number_stored_as_text": f"A{FIRST_ROW}:{_letters(table, last)}{table.last_row}"})
    sheet.repeat_rows(HEADING_ROW - 1)
    sheet.repeat_columns(0, in_view(table) - 1)
    look.print_table_setup(sheet, definition.name)


def _letters(table: Table, number: int) -> str:
    return [*table.letters.values(), *table.extra_letters.values()][number]


def _formats(look: Look, table: Table) -> dict[str, Any]:
    live = {c.field: look.check if c.live == "row_check" else look.live for c in table.columns if c.live}
    first = {table.columns[0].field: look.key} if table.columns else {}
    return {**{c.field: look.typed for c in table.columns}, **live, **first}


def _write_rows(
    sheet: Any,
    table: Table,
    cells: list[tuple[int, str, Any, str]],
    filled: Prefilled,
    rows: Sequence[Mapping[str, str]],
) -> None:
    formulas = [
        (number, field, style, sheet.formulas_down(formula, letters(number + 1), table.last_row))
        for number, field, style, formula in cells
        if formula
    ]
    typed = [(number, field, style) for number, field, style, formula in cells if not formula]
    write_formula, write_blank, write_string = sheet.write_formula, sheet.write_blank, sheet.write_string
    for row in range(FIRST_ROW - 1, table.last_row):
        index = row - FIRST_ROW + 1
        texts = rows[index] if index < len(rows) else None
        for number, field, style in typed:
            text = texts.get(field, "") if texts is not None else ""
            if text:
                write_string(row, number, text, style)
            else:
                write_blank(row, number, None, style)
        results = filled.results(table.sheet.key, index) if texts is not None else {}
        if texts is not None:
            sheet.set_row(row, _height(table, {**texts, **results}))
        for number, field, style, stated in formulas:
            write_formula(row, number, stated[index], style, results.get(field, ""))


def _height(table: Table, shown: Mapping[str, object]) -> float:
    """Return the points that a row needs so that no text on it is cut."""
    lines = 1
    for column in table.columns:
        text = str(shown.get(column.field, ""))
        if len(text) > column.width / 2:
            size = CHECK_SIZE if column.live == "row_check" else TEXT_SIZE
            lines = max(lines, len(wrapped(text, (column.width + 1) * PIXELS_A_LETTER, size)))
    return max(ROW_HEIGHT, lines * LINE_HEIGHT + 4)


def _write_below(sheet: Any, look: Look, table: Table) -> None:
    """Let some rows below the prepared ones say that they are only read when the file is checked."""
    checks = next((number for number, column in enumerate(table.columns) if column.live == "row_check"), None)
    if checks is not None:
        first, last = table.last_row + 1, table.last_row + BELOW
        formulas = sheet.formulas_down(f"={unprepared_row_check(table)}", letters(checks + 1), last, first)
        for row, formula in enumerate(formulas, first - 1):
            sheet.write_formula(row, checks, formula, look.check, "")


def _add_validations(sheet: Any, lists: Lists, table: Table) -> None:
    for number, column in enumerate(table.columns):
        if not column.live:
            sheet.data_validation(
                FIRST_ROW - 1, number, table.last_row - 1, number, validation(lists, column, table)
            )


def _add_conditions(sheet: Any, look: Look, table: Table) -> None:
    """Tint what is missing, short or alarming; the row check and the results say it in words."""

    def tinted(place: str, criteria: str, style: Any) -> None:
        area = f"{place}{FIRST_ROW}:{place}{table.last_row}"
        sheet.conditional_format(area, {"type": "formula", "criteria": f"={criteria}", "format": style})

    first = str(FIRST_ROW)
    gaps, entries = (table.cell(name).replace("{r}", first) for name in ("gaps", "entries"))
    checks = next(
        (f"${table.letters[column.field]}{first}" for column in table.columns if column.live == "row_check"),
        "",
    )
    for number, column in enumerate(table.columns):
        place = table.letters[column.field]
        cell = f"${place}{first}"
        if number == 0 and checks:
            # The first column stays in sight on a phone; the row check may be far to the right.
            tinted(place, f'AND({checks}<>"",LEFT({checks},{len(OK)})<>{quoted(OK)})', look.gap)
        if column.live == "row_check":
            tinted(place, f'AND({cell}<>"",LEFT({cell},{len(OK)})<>{quoted(OK)})', look.attention)
        elif column.live == "clearance_result":
            tinted(place, f"ISNUMBER(SEARCH({quoted(SHORT)},{cell}))", look.alarm)
        elif column.required or column.required_for:
            said = quoted(f", {column.heading},")
            tinted(place, f'AND({entries}>0,TRIM({cell})="",ISNUMBER(FIND({said},{gaps}&",")))', look.gap)
        if column.field == Finding.this_year.name and OF_LAST_TIME in table.workings:
            tinted(place, f'{table.cell(OF_LAST_TIME).replace("{r}", first)}<>""', look.gap)
        if column.field == Equipment.touch_test.name:
            tinted(place, f'ISNUMBER(SEARCH("ALERT",{cell}))*ISERROR(SEARCH("NO ALERT",{cell}))', look.alarm)

"""A survey workbook, written.

    write_survey_workbook(path, template, tables, job, extra_columns, rows, ...)

Takes finished texts; what is read out of them only serves the cached results of live cells.
Not here: the sheets Start here, Job and Lists (front_sheets), where columns stand (layout),
formulas (workings, row_check), reading a source to prefill from (filling).
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import xlsxwriter

from workbook_tools.definitions import Template
from workbook_tools.filling import ExtraSheet
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.wording import OK, SHORT
from workbook_tools.survey import Equipment
from workbook_tools.survey.origin import NUMBER_PROPERTY, PROPERTY, SCHEMA, number_in_words
from workbook_tools.survey_workbook.formula_sheet import FormulaSheet
from workbook_tools.survey_workbook.front_sheets import write_job, write_lists, write_start
from workbook_tools.survey_workbook.layout import FIRST_ROW, HEADING_ROW, WORKINGS, Layout, Table, letters
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.live_formulas import live_formula
from workbook_tools.survey_workbook.look import ROW_HEIGHT, Look
from workbook_tools.survey_workbook.prefilled import Prefilled
from workbook_tools.survey_workbook.validations import validation
from workbook_tools.survey_workbook.workings import all_workings

__all__ = ["identity", "write_survey_workbook"]

ROOM_TO_ADD = 50
"""Blank rows left behind prefilled ones, however few rows are asked for."""


def identity(template: Template) -> str:
    """Return the text by which a survey workbook says what it is."""
    return f"survey {SCHEMA} {template.name}"


def write_survey_workbook(
    path: str | os.PathLike[str],
    template: Template,
    tables: Mapping[str, Sequence[Mapping[str, str]]] | None = None,
    job: Mapping[str, str] | None = None,
    extra_columns: Mapping[str, Sequence[str]] | None = None,
    *,
    rows: int,
    extra_job: Sequence[tuple[str, str]] = (),
    extra_sheets: Sequence[ExtraSheet] = (),
    number: str = "",
) -> None:
    """Write a survey workbook, blank or prefilled.

    Parameters
    ----------
    path : str or path
        The .xlsx file to write; what stands there is replaced.
    template : Template
        What the workbook holds.
    tables : mapping, optional
        For each sheet key the rows to prefill: field (or the heading of an extra column) to text.
    job : mapping, optional
        Answers of the Job sheet, field to text.
    extra_columns : mapping, optional
        For each sheet key the headings of columns that the template does not have.
    rows : int
        Rows with live cells on every table; more where more are prefilled.
    extra_job : sequence of (label, text), optional
        Lines of the Job sheet that the template has no label for.
    extra_sheets : sequence of ExtraSheet, optional
        Sheets of plain texts to put behind the workbook's own.
    number : str, optional
        What tells this survey from every other (`survey.origin.draw_number`).
    """
    tables = {key: list(entries) for key, entries in (tables or {}).items()}
    sizes = {
        sheet.key: max(rows, len(tables[sheet.key]) + ROOM_TO_ADD) if tables.get(sheet.key) else rows
        for sheet in template.sheets
    }
    layout = Layout(template, extra_columns or {}, sizes)
    filled = Prefilled(template, tables, job or {})
    lists = Lists(layout, filled.profile, filled.year_built, filled.unit)
    workings = all_workings(lists)
    # Strings stay strings, whatever they begin with; the file is held in memory, since rows
    # written out of order would be lost otherwise.
    book = xlsxwriter.Workbook(os.fspath(path), {"strings_to_formulas": False, "strings_to_urls": False})
    look = Look(book, template.firm)
    book.set_properties(
        {"title": template.title, "company": template.firm.name, "comments": "Survey workbook"}
    )
    book.set_custom_property(PROPERTY, identity(template), "text")
    said = [identity(template)]
    if number:
        said.append(number_in_words(number))
        book.set_custom_property(NUMBER_PROPERTY, number_in_words(number), "text")
    book.set_size(2400, 1600)
    sheets = {sheet.key: book.add_worksheet(sheet.name, FormulaSheet) for sheet in template.sheets}
    for key, sheet in sheets.items():
        definition = template.by_key[key]
        if definition.layout == "guide":
            write_start(sheet, look, lists, filled, said)
        elif definition.layout == "labels":
            write_job(sheet, look, lists, filled, extra_job)
        elif definition.layout == "lists":
            write_lists(sheet, look, lists)
        else:
            _write_table(sheet, look, lists, layout.tables[key], workings[key], filled, tables.get(key, []))
    for extra in extra_sheets:
        _write_extra(book, look, extra, sheets.values())
    next(iter(sheets.values())).activate()
    book.close()


def _write_table(
    sheet: Any, look: Look, lists: Lists, table: Table, workings: list[tuple[str, str]], filled: Prefilled,
    rows: Sequence[Mapping[str, str]],
) -> None:  # fmt: skip
    definition = table.sheet
    sheet.set_default_row(ROW_HEIGHT)
    sheet.freeze_panes(HEADING_ROW, 1)
    sheet.set_row(0, 22)
    sheet.set_row(HEADING_ROW - 1, 48)
    start = next((s.name for s in lists.template.sheets if s.layout == "guide"), "")
    sheet.write_url(0, 0, f"internal:'{start}'!A1", look.back, start)
    sheet.write_string(0, 1, definition.ask, look.ask)
    formats = _typed_formats(look, table)
    cells: list[tuple[int, str, Any, str]] = []  # column, field or heading, format, formula
    for number, column in enumerate(definition.columns):
        sheet.write_string(
            HEADING_ROW - 1, number, column.heading, look.live_heading if column.live else look.heading
        )
        width = column.width if number else max(column.width, 12)
        sheet.set_column(number, number, width + 2, look.live_column if column.live else look.typed_column)
        formula = live_formula(lists, table, column.live) if column.live else ""
        cells.append((number, column.field, look.live if column.live else formats[column.field], formula))
    for number, heading in enumerate(table.extra, len(definition.columns)):
        sheet.write_string(HEADING_ROW - 1, number, heading, look.heading)
        sheet.set_column(number, number, 16, look.typed_column)
        cells.append((number, heading, look.typed_wide, ""))
    seen = len(cells)
    for number, (name, formula) in enumerate(workings, seen):
        sheet.write_string(HEADING_ROW - 1, number, f"{WORKINGS}: {name}", look.working)
        cells.append((number, "", None, formula))
    sheet.set_column(seen, seen + len(workings) - 1, 12, None, {"hidden": True})
    _write_rows(sheet, table, cells, filled, rows)
    _add_validations(sheet, lists, table)
    _add_conditions(sheet, look, table)
    last = seen - 1
    sheet.autofilter(HEADING_ROW - 1, 0, table.last_row - 1, last)
    sheet.ignore_errors({"number_stored_as_text": f"A{FIRST_ROW}:{_letters(table, last)}{table.last_row}"})
    sheet.repeat_rows(HEADING_ROW - 1)
    sheet.repeat_columns(0)
    look.print_setup(sheet, definition.name, landscape=True)


def _letters(table: Table, number: int) -> str:
    return [*table.letters.values(), *table.extra_letters.values()][number]


def _typed_formats(look: Look, table: Table) -> dict[str, Any]:
    wide = {
        c.field: look.typed_wide if c.width >= 24 or c.holds in ("items", "photos") else look.typed
        for c in table.columns
    }
    first = table.columns[0].field if table.columns else ""
    return {**wide, first: look.key}


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
        for number, field, style, stated in formulas:
            write_formula(row, number, stated[index], style, results.get(field, ""))


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
        if column.field == Equipment.touch_test.name:
            tinted(place, f'ISNUMBER(SEARCH("ALERT",{cell}))*ISERROR(SEARCH("NO ALERT",{cell}))', look.alarm)


def _write_extra(book: Any, look: Look, extra: ExtraSheet, sheets: Iterable[Any]) -> None:
    taken = {sheet.get_name().casefold() for sheet in (*sheets, *book.worksheets())}
    name = base = "".join(" " if c in "[]:*?/\\" else c for c in extra.name).strip(" '")[:28] or "Kept"
    number = 2
    while name.casefold() in taken or name.casefold() == "history":
        name, number = f"{base[:25]} {number}", number + 1
    sheet = book.add_worksheet(name)
    sheet.write_string(0, 0, extra.says or f"Kept as it was, from {extra.source}", look.ask)
    for row, texts in enumerate(extra.rows, 1):
        for column, text in enumerate(texts):
            if text:
                sheet.write_string(row, column, text[:32767], look.listed)
    for column in range(max(map(len, extra.rows), default=0)):
        longest = max((len(texts[column]) for texts in extra.rows if column < len(texts)), default=0)
        sheet.set_column(column, column, min(max(longest + 2, 10), 44))
    look.print_setup(sheet, name, landscape=True)

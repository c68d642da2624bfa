"""A survey workbook, written.

    write_survey_workbook(path, template, tables, job, extra_columns, rows, ...)

Takes finished texts; what is read out of them only serves the cached results of live cells.
Not here: the sheets Start here, Job and Lists (front_sheets), a table sheet (table_sheet), formulas
(workings, row_check), reading a source to prefill from (filling).
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

import xlsxwriter

from workbook_tools.definitions import Template
from workbook_tools.filling import ExtraSheet
from workbook_tools.survey.origin import NUMBER_PROPERTY, PROPERTY, SCHEMA, number_in_words
from workbook_tools.survey_workbook.formula_sheet import FormulaSheet
from workbook_tools.survey_workbook.front_sheets import write_job, write_lists, write_start
from workbook_tools.survey_workbook.guide_formulas import add_left
from workbook_tools.survey_workbook.layout import Layout
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.look import Look
from workbook_tools.survey_workbook.prefilled import Prefilled
from workbook_tools.survey_workbook.table_sheet import write_table
from workbook_tools.survey_workbook.workings import all_workings

__all__ = ["identity", "write_survey_workbook"]

ROOM_TO_ADD = 50
"""Blank rows left behind prefilled ones, however few rows are asked for."""

FOR_A_PHONE = 30_000_000
"""Bytes of unpacked parts up to which a workbook may be sent to a phone: some 800 rows on every sheet."""


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
    template = template.as_written(tables)
    sizes = {
        sheet.key: max(rows, len(tables[sheet.key]) + ROOM_TO_ADD) if tables.get(sheet.key) else rows
        for sheet in template.sheets
    }
    layout = Layout(template, extra_columns or {}, sizes)
    filled = Prefilled(template, tables, job or {})
    lists = Lists(layout, filled.profile, filled.year_built, filled.unit)
    workings = all_workings(lists)
    add_left(lists, filled)
    # Strings stay strings, whatever they begin with; the file is held in memory, since rows
    # written out of order would be lost otherwise.
    written = BytesIO()
    book = xlsxwriter.Workbook(written, {"strings_to_formulas": False, "strings_to_urls": False})
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
            table = layout.tables[key]
            write_table(sheet, look, lists, table, workings[key], filled, tables.get(key, []))
    for extra in extra_sheets:
        _write_extra(book, look, extra, sheets.values())
    next(iter(sheets.values())).activate()
    book.close()
    _pack(written, path)


def _pack(written: BytesIO, path: str | os.PathLike[str]) -> None:
    """Write the parts of a workbook as tightly as they go: a tenth less to send to a phone.

    Level 9 makes them no smaller than 8, and takes a fifth longer. What no phone is sent stays as it is: of 10,000
    rows, packing again would take a third of the time.
    """
    with ZipFile(written) as parts:
        if sum(part.file_size for part in parts.infolist()) > FOR_A_PHONE:
            Path(path).write_bytes(written.getbuffer())
            return
        with ZipFile(path, "w", ZIP_DEFLATED) as packed:
            for part in parts.infolist():
                packed.writestr(part, parts.read(part), compresslevel=8)


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

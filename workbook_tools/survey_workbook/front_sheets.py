"""The sheets around the tables: Start here, Job and Lists.

write_start(sheet, look, lists, filled, said)       cautions, the steps, live progress, what the workbook is
write_job(sheet, look, lists, filled, extra)        one answer beside each label
write_lists(sheet, look, lists)                     choices and look-up tables

Not here: what the lines of Start here count (guide_formulas).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbook_tools.definitions import PRIORITIES
from workbook_tools.files.text_width import wrapped
from workbook_tools.live_cells.guide_lines import lines_of
from workbook_tools.survey import Finding
from workbook_tools.survey.own_texts import BEFORE, HOW, HOW_TO_ANSWER, IN_ORDER, LEAVING, NONE_LEFT, SO_FAR
from workbook_tools.survey_workbook.guide_formulas import left_formulas, progress_formulas
from workbook_tools.survey_workbook.layout import FIRST_ROW, HEADING_ROW
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.look import PIXELS_A_LETTER, TEXT_SIZE, Look
from workbook_tools.survey_workbook.prefilled import Prefilled
from workbook_tools.survey_workbook.validations import validation

__all__ = ["write_job", "write_lists", "write_start"]

NUMBER_WIDTH, GUIDE_WIDTH = 4, 40
"""Letters across the guide: what a phone shows without turning it, the numbers of the steps beside it."""


def write_start(sheet: Any, look: Look, lists: Lists, filled: Prefilled, said: Sequence[str]) -> None:
    """Write the sheet that guides through the others."""
    template = lists.template
    sheet.hide_gridlines(2)
    sheet.set_column(0, 0, NUMBER_WIDTH)
    sheet.set_column(1, 1, GUIDE_WIDTH)
    line = _Lines(sheet)
    line.both(template.firm.name, look.firm_name)
    line.both(template.title, look.title, 26 * (1 + (len(template.title) - 1) // 26))
    line.skip()
    line.both(BEFORE, look.caution_head, 24)
    for caution in template.cautions:
        line.both(caution, look.caution, _height(caution, NUMBER_WIDTH + GUIDE_WIDTH))
    line.skip()
    line.both(LEAVING, look.section, 26)
    for left, formula in left_formulas(lists).items():
        text = filled.left(left)
        sheet.write_formula(line.row, 1, formula, look.progress, text)
        line.next(_height(text, GUIDE_WIDTH))
    sheet.conditional_format(
        line.row - len(lines_of(lists.template)),
        1,
        line.row - 1,
        1,
        {"type": "text", "criteria": "not containing", "value": f": {NONE_LEFT}", "format": look.attention},
    )
    line.skip()
    line.both(IN_ORDER, look.section, 26)
    progress = progress_formulas(lists)
    for number, definition in enumerate((s for s in template.sheets if s.layout in ("labels", "table")), 1):
        sheet.write_number(line.row, 0, number, look.number)
        sheet.write_url(line.row, 1, f"internal:'{definition.name}'!A{FIRST_ROW}", look.link, definition.name)
        line.next(28)
        sheet.write_string(line.row, 1, definition.ask, look.text)
        line.next(_height(definition.ask, GUIDE_WIDTH))
        sheet.write_formula(
            line.row, 1, progress[definition.key], look.progress, filled.progress(definition.key)
        )
        line.next(24)
    line.skip()
    if Finding.key in lists.layout.tables:
        line.both(SO_FAR, look.section, 26)
        for priority in PRIORITIES:
            sheet.write_formula(line.row, 1, progress[priority], look.progress, filled.progress(priority))
            line.next(22)
        line.skip()
    line.both(HOW, look.section, 26)
    for text in HOW_TO_ANSWER:
        sheet.write_string(line.row, 1, text, look.text)
        line.next(_height(text, GUIDE_WIDTH))
    line.skip()
    for text in said:
        sheet.write_string(line.row, 1, text, look.small)
        line.next(16)
    sheet.repeat_rows(0, 1)
    sheet.freeze_panes(2, 0)
    look.print_setup(sheet, template.by_key["start"].name, landscape=False)


class _Lines:
    """The row that is written next."""

    def __init__(self, sheet: Any) -> None:
        self.sheet = sheet
        self.row = 0

    def both(self, text: str, style: Any, height: float = 20) -> None:
        self.sheet.merge_range(self.row, 0, self.row, 1, text, style)
        self.next(height)

    def next(self, height: float) -> None:
        self.sheet.set_row(self.row, height)
        self.row += 1

    def skip(self) -> None:
        self.next(8)


def _height(text: str, width: int) -> float:
    """Points that a wrapped text of 12-point letters needs in a column of that width."""
    return 16.5 * len(wrapped(text, (width - 1) * PIXELS_A_LETTER, TEXT_SIZE)) + 5


def write_job(
    sheet: Any, look: Look, lists: Lists, filled: Prefilled, extra: Sequence[tuple[str, str]]
) -> None:
    """Write the sheet with one answer beside each label."""
    job = lists.layout.job
    start = next((s.name for s in lists.template.sheets if s.layout == "guide"), "")
    sheet.hide_gridlines(2)
    sheet.set_column(0, 0, 19)
    sheet.set_column(1, 1, 32)
    sheet.set_column(2, 2, 60)
    sheet.write_url(0, 0, f"internal:'{start}'!A1", look.back, start)
    sheet.write_string(0, 1, job.ask, look.ask)
    sheet.set_row(0, 22)
    row = FIRST_ROW - 1
    for column in job.columns:
        style = look.date if column.holds == "date" else look.typed
        text = filled.job_text(column.field)
        sheet.set_row(row, max(36, _height(text, 32)))
        sheet.write_string(row, 0, column.heading, look.label)
        if text:
            sheet.write_string(row, 1, text, style)
        else:
            sheet.write_blank(row, 1, None, style)
        sheet.write_string(row, 2, column.ask, look.hint)
        sheet.data_validation(row, 1, row, 1, validation(lists, column))
        if column.required:
            blank = f'=TRIM($B{row + 1})=""'
            sheet.conditional_format(
                row, 1, row, 1, {"type": "formula", "criteria": blank, "format": look.gap}
            )
        row += 1
    for label, text in extra:
        sheet.set_row(row, 36)
        sheet.write_string(row, 0, label, look.label)
        sheet.write_string(row, 1, text, look.typed)
        row += 1
    sheet.freeze_panes(HEADING_ROW, 1)
    sheet.ignore_errors({"number_stored_as_text": f"B{FIRST_ROW}:B{row}"})
    sheet.repeat_rows(0)
    look.print_setup(sheet, job.name, landscape=False)


def write_lists(sheet: Any, look: Look, lists: Lists) -> None:
    """Write the choices and the look-up tables side by side; what only formulas read is hidden."""
    sheet.freeze_panes(HEADING_ROW, 0)
    sheet.set_row(HEADING_ROW - 1, 34)
    for block in lists.blocks.values():
        first = block.first_column - 1
        sheet.write_string(0, first, block.title, look.section)
        for number, heading in enumerate(block.headings):
            sheet.write_string(HEADING_ROW - 1, first + number, heading, look.heading)
        last = first + len(block.headings)
        for number in range(len(block.headings)):
            texts = (
                [str(entries[number]) for entries in block.rows if number < len(entries)]
                if block.visible
                else []
            )
            width = min(
                max(map(len, (block.headings[number], *texts, block.title if number == 0 else ""))) + 2, 60
            )
            sheet.set_column(
                first + number, first + number, width, None, {} if block.visible else {"hidden": True}
            )
        sheet.set_column(last, last, 2, None, {} if block.visible else {"hidden": True})
        for index, entries in enumerate(block.rows):
            for number, entry in enumerate(entries):
                formula = block.formulas.get((index, number))
                row, column = FIRST_ROW - 1 + index, first + number
                if formula is not None:
                    sheet.write_formula(row, column, formula, look.figure, entry)
                elif isinstance(entry, str):
                    sheet.write_string(row, column, entry, look.listed)
                elif entry is not None:
                    sheet.write_number(row, column, entry, look.figure)
    look.print_setup(sheet, lists.template.by_key["lists"].name, landscape=True)
    never = (0, lists.next_column + 1)  # an empty cell behind the last block: the lists are for the screen
    sheet.print_area(*never, *never)

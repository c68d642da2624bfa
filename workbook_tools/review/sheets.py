"""The sheets of the review workbook, drawn with xlsxwriter.

    write_sheets(checked, review, path, desk)

Summary, Problems (problems_sheet), Closed, Sign-off, one for texts that were carried over, and one,
hidden, that holds the seal.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from workbook_tools.checking import Checked
from workbook_tools.checking.report import counts_by_class, not_checked_in_words, off_in_words, read_in_words
from workbook_tools.definitions import PRIORITIES
from workbook_tools.review.answers import FINDING, Disposition
from workbook_tools.review.columns import (
    CLOSED_ON,
    NOTHING,
    PRINTED,
    PROBLEM_COLUMNS,
    SCHEMA,
    SEAL_HEADINGS,
    SEAL_SHEET,
    SIGN_OFF_LABELS,
    SIGN_OFF_LINES,
    SIGN_OFF_TITLE,
    WAITING,
)
from workbook_tools.review.kept import CARRIED_OVER, STRAY_HEADINGS, Stray
from workbook_tools.review.look import Look, Pages
from workbook_tools.review.model import Review
from workbook_tools.review.problems_sheet import (
    AT,
    LONGEST,
    Desk,
    write_headings,
    write_own_columns,
    write_problems,
    write_table,
)
from workbook_tools.review.seal import Seal, as_text
from workbook_tools.spreadsheet.cells import column_letters

__all__ = ["write_sheets"]


def write_sheets(checked: Checked, review: Review, path: Path, desk: Desk) -> None:
    """Write the workbook to a path."""
    import xlsxwriter

    firm = checked.survey.template.firm
    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    with xlsxwriter.Workbook(str(path), options) as book:
        name = f"{SCHEMA} {checked.survey.template.name}"
        book.set_custom_property("workbook-schema", name)
        book.set_properties(
            {"title": f"Review of {checked.survey.path.name}", "author": "", "comments": name}
        )
        look = Look(book, firm)
        summary, problems, closed, sign_off = (
            book.add_worksheet(title) for title in ("Summary", "Problems", "Closed", "Sign-off")
        )
        pages = Pages(book, firm)
        pages.set_up(summary, problems, closed, sign_off)
        _write_summary(summary, look, checked, review, name)
        write_problems(problems, look, review, desk)
        _write_closed(closed, look, review)
        _write_sign_off(sign_off, look, review)
        if review.strays:
            carried = book.add_worksheet(CARRIED_OVER)
            pages.set_up(carried)
            _write_strays(carried, look, review.strays)
        seal = book.add_worksheet(SEAL_SHEET)
        _write_seal(seal, look, review.seal)
        seal.hide()


def _write_summary(sheet: Any, look: Look, checked: Checked, review: Review, name: str) -> None:
    survey = checked.survey
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 1, 12)
    sheet.set_column(2, 2, 84)
    sheet.set_row(0, 28)
    said_property = survey.job.property.said
    sheet.write_string(0, 0, f"Review: {said_property or survey.path.name}", look.title)
    sheet.write_string(1, 0, counts_by_class(checked.problems), look.under_title)
    row = 3
    for label, text in (
        ("Survey", survey.path.name),
        ("Read", read_in_words(survey)),
        (
            "Thresholds",
            f"{checked.assessment.profile.title} (code profile {checked.assessment.profile.name})",
        ),
        ("Template", review.template),
        ("This workbook", name),
    ):
        sheet.write_string(row, 0, label, look.label)
        sheet.merge_range(row, 1, row, 2, "", look.text)
        sheet.write_string(row, 1, text, look.text)
        row += 1
    row = _rows(
        sheet,
        look,
        row + 1,
        "Problems",
        ("Class and priority", "How many", "What to do with it"),
        _counts(review),
    )
    row = _rows(sheet, look, row, "To ask the inspector", ("Where", "Subject", "Question"), [
        (entry.problem.place, entry.problem.subject, f"{entry.problem.message} {entry.reason}".strip())
        for entry in review.entries if entry.disposition == Disposition.ASK
    ])  # fmt: skip
    row = _rows(sheet, look, row, "Not checked, which is no pass", ("Rule", "How often", "Missing"), [
        (rule, str(times), missing) for rule, times, missing in not_checked_in_words(checked.not_checked)
    ])  # fmt: skip
    said = [
        *off_in_words(checked),
        *survey.notes,
        *(f"Not in the file: {s}" for s in survey.missing_sheets),
        *review.said,
        *review.lapsed,
    ]
    row = _rows(sheet, look, row, "To know", ("", "", ""), [("", "", line) for line in said])
    _rows(sheet, look, row, "Headings that were taken for another", ("Heading in the file", "Cell", "Taken for"), [
        (t.heading, t.cell, f"{t.sheet}: {_meant(checked, t.key, t.field)}")
        for t in survey.headings if t.field is None or not t.exact
    ])  # fmt: skip


_TO_DO = {
    "correct": "The workbook is wrong: mend the survey and check it again.",
    "confirm": "May be right: answer No issue with a reason, or Tell the client; or mend the survey.",
    "report": "A condition of the property: it goes to the client unless it is left out with a reason.",
    FINDING: "What the inspector wrote down: it goes to the client unless it is left out with a reason.",
    "note": "For the limits of the survey or the remarks; an answer only to leave it out.",
}


def _counts(review: Review) -> list[tuple[str, str, str]]:
    counted: dict[tuple[str, str], int] = {}
    for problem in (entry.problem for entry in review.entries):
        counted[problem.class_, problem.priority] = counted.get((problem.class_, problem.priority), 0) + 1
    rows = []
    for name, to_do in _TO_DO.items():
        mine = {priority: number for (class_, priority), number in counted.items() if class_ == name}
        if not mine:
            rows.append((name, "0", to_do))
        for priority, number in sorted(mine.items(), key=lambda one: _place(one[0])):
            rows.append((f"{name}, {priority}" if priority else name, str(number), to_do))
    return rows


def _place(priority: str) -> int:
    return PRIORITIES.index(priority) if priority in PRIORITIES else len(PRIORITIES)


def _meant(checked: Checked, key: str, field: str | None) -> str:
    sheet = checked.survey.template.by_key.get(key)
    if sheet is None or field is None or field not in sheet.by_field:
        return "nothing; kept as a column of your own"
    return sheet.by_field[field].heading


def _rows(
    sheet: Any,
    look: Look,
    row: int,
    title: str,
    headings: tuple[str, str, str],
    rows: list[tuple[str, str, str]],
) -> int:
    if not rows:
        return row
    for column in range(3):
        sheet.write_string(row, column, title if column == 0 else "", look.section)
    row += 1
    if any(headings):
        for column, heading in enumerate(headings):
            sheet.write_string(row, column, heading, look.heading)
        row += 1
    for cells in rows:
        if not any(cells[:2]):
            sheet.merge_range(row, 0, row, 2, "", look.cell)
            sheet.write_string(row, 0, cells[2], look.cell)
            sheet.set_row(row, 15 * (1 + len(cells[2]) // 120))
        else:
            for column, text in enumerate(cells):
                format_ = look.classes.get(text.split(",")[0], look.cell) if column == 0 else look.cell
                sheet.write_string(row, column, text, format_)
            sheet.set_row(row, 15 * max(1 + len(cells[2]) // 88, 1 + len(cells[0]) // 36))
        row += 1
    return row + 1


def _write_closed(sheet: Any, look: Look, review: Review) -> None:
    write_headings(sheet, look, [*(column.heading for column in PROBLEM_COLUMNS), CLOSED_ON])
    for number, column in enumerate(PROBLEM_COLUMNS):
        sheet.set_column(number, number, column.width)
    last = len(PROBLEM_COLUMNS)
    sheet.set_column(last, last, 11)
    entries = [closed.entry for closed in review.closed]
    # No link and no picture: the cell may hold something else by now.
    write_table(sheet, look, entries, 1, Desk())
    for row, closed in enumerate(review.closed, 1):
        sheet.write_string(row, last, closed.closed_on, look.cell)
    write_own_columns(sheet, look, last + 1, entries, range(1, len(entries) + 1))
    sheet.print_area(0, 0, max(len(entries), 1), PRINTED - 1)
    if not entries:
        sheet.write_string(1, AT["message"], NOTHING["Closed"], look.cell)


def _write_strays(sheet: Any, look: Look, strays: Iterable[Stray]) -> None:
    write_headings(sheet, look, STRAY_HEADINGS)
    sheet.set_column(0, 1, 16)
    sheet.set_column(2, 2, 90)
    for row, stray in enumerate(strays, 1):
        for column, text in enumerate(stray):
            sheet.write_string(row, column, text[:LONGEST], look.cell)


def _write_seal(sheet: Any, look: Look, seal: Seal) -> None:
    """Write each item of each part as a line of plain letters; a long one goes on in the next cells."""
    write_headings(sheet, look, SEAL_HEADINGS)
    sheet.set_column(0, 0, 16)
    sheet.set_column(1, 1, 120)
    row = 1
    for name, items in seal.parts.items():
        for text in map(as_text, items):
            sheet.write_string(row, 0, name)
            for column, start in enumerate(range(0, len(text), LONGEST), 1):
                sheet.write_string(row, column, text[start : start + LONGEST])
            row += 1
        if not items:  # the part was looked at all the same
            sheet.write_string(row, 0, name)
            row += 1


def _write_sign_off(sheet: Any, look: Look, review: Review) -> None:
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 1, 90)
    sheet.set_row(0, 28)
    sheet.write_string(0, 0, SIGN_OFF_TITLE, look.title)
    waiting = sum(entry.is_open for entry in review.entries)
    answers = {
        "reviewer": review.sign_off.reviewer,
        "date": review.sign_off.date,
        "statement": review.sign_off.statement,
        "property": review.which.building,
        "report_no": review.which.report_no,
        "number": review.which.number,
        "survey": review.which.file,
        "template": review.template,
        "made": review.made,
        "mark": review.seal.mark,
    }
    for row, (field, label) in enumerate(SIGN_OFF_LABELS.items(), 2):
        sheet.write_string(row, 0, label, look.label)
        sheet.write_string(
            row, 1, answers[field], look.answer if field in ("reviewer", "date") else look.text
        )
        sheet.set_row(row, 42 if field == "statement" else 20)
    row = len(SIGN_OFF_LABELS) + 3
    answer, class_ = (column_letters(AT[name] + 1) for name in ("disposition", "class_"))
    last = len(review.entries) + 2
    sheet.write_string(row, 0, WAITING, look.label)
    counted = "+".join(
        f'COUNTIFS(Problems!${class_}$2:${class_}${last},"{name}",Problems!${answer}$2:${answer}${last},"")'
        for name in ("correct", "confirm")
    )
    sheet.write_formula(row, 1, f"={counted}", look.count, waiting)
    for line in SIGN_OFF_LINES:
        row += 1
        sheet.write_string(row + 1, 0, line, look.under_title)

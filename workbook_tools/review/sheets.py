"""The sheets of the review workbook, drawn with xlsxwriter.

    write_sheets(checked, review, path, link)

Every text goes in as text: nothing that somebody typed becomes a formula or a link. The link to
a cell of the survey stands in the column Cell, whose text names the cell for a program that
follows no links.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from workbook_tools.checking import Checked
from workbook_tools.checking.report import counts_by_class, not_checked_in_words, off_in_words, read_in_words
from workbook_tools.definitions import Firm
from workbook_tools.review.columns import (
    CLOSED_ON,
    NOTHING,
    PRINTED,
    PROBLEM_COLUMNS,
    SCHEMA,
    SIGN_OFF_LABELS,
    SIGN_OFF_LINES,
    SIGN_OFF_TITLE,
    WAITING,
)
from workbook_tools.review.kept import CARRIED_OVER, STRAY_HEADINGS, Stray
from workbook_tools.review.model import DISPOSITIONS, Entry, Review
from workbook_tools.rules.problems import RECORD

__all__ = ["write_sheets"]

_MOST_LINKS = 65_000
"""A sheet holds some 65,530 links; the cells after that are named without one."""
_LONGEST_LINK = 2000
_CLASS_FILL = {"correct": "#F6D9CC", "report": "#F9E7B9", "confirm": "#DCE9EE", "note": "#EEEEEE"}
_INK = {"correct": "#7A2E0E", "report": "#6B4E00", "confirm": "#1D4B5A", "note": "#444444"}


def write_sheets(checked: Checked, review: Review, path: Path, link: str) -> None:
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
        look = _Look(book, firm)
        summary, problems, closed, sign_off = (
            book.add_worksheet(title) for title in ("Summary", "Problems", "Closed", "Sign-off")
        )
        pages = _Pages(book, firm)
        pages.set_up(summary, problems, closed, sign_off)
        _write_summary(summary, look, checked, review, name)
        _write_problems(problems, look, review.entries, link)
        _write_closed(closed, look, review)
        _write_sign_off(sign_off, look, checked, review)
        if review.strays:
            carried = book.add_worksheet(CARRIED_OVER)
            pages.set_up(carried)
            _write_strays(carried, look, review.strays)


class _Look:
    """The formats, made once."""

    def __init__(self, book: Any, firm: Firm) -> None:
        self._book = book
        base = {"font_name": "Calibri", "font_size": 11, "valign": "top"}

        def make(**more: Any) -> Any:
            return book.add_format({**base, **more})

        self.title = make(font_size=18, bold=True, font_color=firm.colour)
        self.under_title = make(font_size=11, font_color="#444444")
        self.heading = make(bold=True, font_color="#FFFFFF", bg_color=firm.colour, text_wrap=True, border=1,
                            border_color=firm.colour)  # fmt: skip
        self.section = make(
            bold=True, font_size=12, font_color=firm.colour, bottom=1, bottom_color=firm.colour
        )
        self.text = make(text_wrap=True, num_format="@")
        self.cell = make(text_wrap=True, indent=1, num_format="@", bottom=1, bottom_color="#D0D0D0")
        self.strong = make(
            text_wrap=True, indent=1, num_format="@", bottom=1, bottom_color="#D0D0D0", bold=True
        )
        self.link = make(font_color="#0B5394", underline=1, num_format="@", bottom=1, bottom_color="#D0D0D0")
        self.answer = make(
            text_wrap=True, num_format="@", border=1, border_color="#A0A0A0", bg_color="#FFFDF2"
        )
        self.label = make(bold=True)
        self.count = make(bold=True, align="left", num_format="0")
        self.classes = {
            name: make(bold=True, bg_color=fill, font_color=_INK[name], bottom=1, bottom_color="#D0D0D0")
            for name, fill in _CLASS_FILL.items()
        }
        self.waiting = book.add_format({"bg_color": "#F7C9B5", "pattern": 1})


class _Pages:
    """Paper, margins, header and footer of every sheet."""

    def __init__(self, book: Any, firm: Firm) -> None:
        self.paper = 9 if firm.paper == "a4" else 1

    def set_up(self, *sheets: Any) -> None:
        for sheet in sheets:
            sheet.set_paper(self.paper)
            sheet.set_landscape()
            sheet.fit_to_pages(1, 0)
            sheet.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.6)
            sheet.set_header("&L&F&R&A")
            sheet.set_footer(
                "&LReview of a visual survey; no design or code-compliance ruling&RPage &P of &N"
            )
            sheet.hide_gridlines(2)


def _write_summary(sheet: Any, look: _Look, checked: Checked, review: Review, name: str) -> None:
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
        _counts(checked),
    )
    row = _rows(sheet, look, row, "Not checked, which is no pass", ("Rule", "How often", "Missing"), [
        (rule, str(times), missing) for rule, times, missing in not_checked_in_words(checked.not_checked)
    ])  # fmt: skip
    said = [
        *off_in_words(checked),
        *survey.notes,
        *(f"Not in the file: {s}" for s in survey.missing_sheets),
        *review.said,
    ]
    row = _rows(sheet, look, row, "To know", ("", "", ""), [("", "", line) for line in said])
    _rows(sheet, look, row, "Headings that were taken for another", ("Heading in the file", "Cell", "Taken for"), [
        (t.heading, t.cell, f"{t.sheet}: {_meant(checked, t.key, t.field)}")
        for t in survey.headings if t.field is None or not t.exact
    ])  # fmt: skip


_TO_DO = {
    "correct": "The workbook is wrong: mend the survey and check it again.",
    "confirm": "May be right: answer Confirmed, Include, or Leave out with a reason; or mend the survey.",
    "report": "A condition of the property: it goes to the client unless it is left out with a reason.",
    "note": "For the limits of the survey or the remarks; an answer only to leave it out.",
}


def _counts(checked: Checked) -> list[tuple[str, str, str]]:
    counted: dict[tuple[str, str], int] = {}
    for problem in checked.problems:
        counted[problem.class_, problem.priority] = counted.get((problem.class_, problem.priority), 0) + 1
    rows = []
    for name, to_do in _TO_DO.items():
        mine = {priority: number for (class_, priority), number in counted.items() if class_ == name}
        if not mine:
            rows.append((name, "0", to_do))
        for priority, number in sorted(mine.items()):
            rows.append((f"{name}, {priority}" if priority else name, str(number), to_do))
    return rows


def _meant(checked: Checked, key: str, field: str | None) -> str:
    sheet = checked.survey.template.by_key.get(key)
    if sheet is None or field is None or field not in sheet.by_field:
        return "nothing; kept as a column of your own"
    return sheet.by_field[field].heading


def _rows(
    sheet: Any,
    look: _Look,
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


def _write_headings(sheet: Any, look: _Look, headings: list[str]) -> None:
    sheet.set_row(0, 30)
    for column, heading in enumerate(headings):
        sheet.write_string(0, column, heading, look.heading)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)


def _lines_needed(texts: list[tuple[str, float]]) -> int:
    return max(
        (sum(1 + int(len(part) // (width * 1.05)) for part in text.split("\n")) for text, width in texts),
        default=1,
    )


def _cells_of(entry: Entry) -> dict[str, str]:
    return {
        **{name: getattr(entry.problem, name) for name in RECORD},
        "disposition": entry.disposition,
        "reason": entry.reason,
        "remark": entry.remark,
        "first_seen": entry.first_seen,
    }


def _own_of(entries: Iterable[Entry]) -> list[str]:
    """Return the headings of the reviewer's own columns, in the order they are met."""
    return list(dict.fromkeys(heading for entry in entries for heading, _ in entry.own))


def _write_own(sheet: Any, look: _Look, first: int, entries: Sequence[Entry]) -> None:
    """Write the reviewer's own columns from a column on, one entry to a row."""
    headings = _own_of(entries)
    if headings:
        sheet.set_column(first, first + len(headings) - 1, 20)
    for column, heading in enumerate(headings, first):
        sheet.write_string(0, column, heading[:32_000], look.heading)
        for row, entry in enumerate(entries, 1):
            text = dict(entry.own).get(heading, "")
            if text:
                sheet.write_string(row, column, text[:32_000], look.answer)


def _write_strays(sheet: Any, look: _Look, strays: Iterable[Stray]) -> None:
    _write_headings(sheet, look, list(STRAY_HEADINGS))
    sheet.set_column(0, 1, 16)
    sheet.set_column(2, 2, 90)
    for row, stray in enumerate(strays, 1):
        for column, text in enumerate(stray):
            sheet.write_string(row, column, text[:32_000], look.cell)


def _write_entry(sheet: Any, look: _Look, row: int, entry: Entry, link: str, *, links_left: int) -> int:
    """Write one entry; return how many links it took."""
    taken = 0
    cells = _cells_of(entry)
    for column, definition in enumerate(PROBLEM_COLUMNS):
        text = cells[definition.field][:32_000]
        if definition.field == "class_":
            sheet.write_string(row, column, text, look.classes.get(text, look.cell))
        elif definition.field == "cell" and text and link and links_left > 0:
            quoted = entry.problem.sheet.replace("'", "''")
            target = f"external:{link}#'{quoted}'!{text}"
            if len(target) < _LONGEST_LINK and sheet.write_url(row, column, target, look.link, text) == 0:
                taken = 1
            else:
                sheet.write_string(row, column, text, look.cell)
        elif definition.field in ("disposition", "reason"):
            sheet.write_string(row, column, text, look.answer) if text else sheet.write_blank(
                row, column, None, look.answer
            )
        else:
            sheet.write_string(row, column, text, look.strong if definition.field == "subject" else look.cell)
    lines = _lines_needed([(cells[c.field], c.width) for c in PROBLEM_COLUMNS])
    sheet.set_row(row, min(15 * lines + 3, 400))
    return taken


def _write_problems(sheet: Any, look: _Look, entries: list[Entry], link: str) -> None:
    _write_headings(sheet, look, [column.heading for column in PROBLEM_COLUMNS])
    for column, definition in enumerate(PROBLEM_COLUMNS):
        sheet.set_column(column, column, definition.width)
    links_left = _MOST_LINKS
    for row, entry in enumerate(entries, 1):
        links_left -= _write_entry(sheet, look, row, entry, link, links_left=links_left)
    last = max(len(entries), 1)
    fields = [column.field for column in PROBLEM_COLUMNS]
    answer = fields.index("disposition")
    sheet.data_validation(1, answer, last, answer, {
        "validate": "list",
        "source": list(DISPOSITIONS),
        "error_type": "warning",
        "input_title": "Disposition",
        "input_message": "Mended: the survey was corrected. Include: it goes to the client. Leave out: it does not, for the "
        "reason beside. Confirmed: it is right as recorded.",
    })  # fmt: skip
    letter = chr(65 + answer)
    sheet.conditional_format(1, answer, last, answer, {
        "type": "formula",
        "criteria": f'=AND(OR($A2="correct",$A2="confirm"),LEN(${letter}2)=0)',
        "format": look.waiting,
    })  # fmt: skip
    _write_own(sheet, look, len(fields), entries)
    sheet.autofilter(0, 0, last, len(fields) + len(_own_of(entries)) - 1)
    sheet.print_area(0, 0, last, PRINTED - 1)
    sheet.ignore_errors({"number_stored_as_text": f"A1:{chr(64 + len(fields))}{last + 1}"})
    if not entries:
        sheet.write_string(1, fields.index("message"), NOTHING["Problems"], look.cell)


def _write_closed(sheet: Any, look: _Look, review: Review) -> None:
    _write_headings(sheet, look, [*(column.heading for column in PROBLEM_COLUMNS), CLOSED_ON])
    for column, definition in enumerate(PROBLEM_COLUMNS):
        sheet.set_column(column, column, definition.width)
    last_column = len(PROBLEM_COLUMNS)
    sheet.set_column(last_column, last_column, 11)
    for row, closed in enumerate(review.closed, 1):
        # No link: the cell may hold something else by now.
        _write_entry(sheet, look, row, closed.entry, "", links_left=0)
        sheet.write_string(row, last_column, closed.closed_on, look.cell)
    _write_own(sheet, look, last_column + 1, [closed.entry for closed in review.closed])
    if not review.closed:
        sheet.write_string(
            1, [c.field for c in PROBLEM_COLUMNS].index("message"), NOTHING["Closed"], look.cell
        )


def _write_sign_off(sheet: Any, look: _Look, checked: Checked, review: Review) -> None:
    sheet.set_column(0, 0, 34)
    sheet.set_column(1, 1, 90)
    sheet.set_row(0, 28)
    sheet.write_string(0, 0, SIGN_OFF_TITLE, look.title)
    waiting = sum(entry.is_open for entry in review.entries)
    answers = {
        "reviewer": review.sign_off.reviewer,
        "date": review.sign_off.date,
        "statement": review.sign_off.statement,
        "survey": checked.survey.path.name,
        "template": review.template,
        "fingerprint": review.sign_off.fingerprint,
    }
    for row, (field, label) in enumerate(SIGN_OFF_LABELS.items(), 2):
        sheet.write_string(row, 0, label, look.label)
        sheet.write_string(
            row, 1, answers[field], look.answer if field in ("reviewer", "date") else look.text
        )
        sheet.set_row(row, 42 if field == "statement" else 20)
    row = len(SIGN_OFF_LABELS) + 3
    fields = [column.field for column in PROBLEM_COLUMNS]
    answer, last = chr(65 + fields.index("disposition")), max(len(review.entries), 1) + 1
    sheet.write_string(row, 0, WAITING, look.label)
    sheet.write_formula(
        row,
        1,
        f'=COUNTIFS(Problems!$A$2:$A${last},"correct",Problems!${answer}$2:${answer}${last},"")'
        f'+COUNTIFS(Problems!$A$2:$A${last},"confirm",Problems!${answer}$2:${answer}${last},"")',
        look.count,
        waiting,
    )
    for line in SIGN_OFF_LINES:
        row += 1
        sheet.write_string(row + 1, 0, line, look.under_title)

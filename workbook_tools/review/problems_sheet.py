"""The sheet Problems: what a reviewer sees, answers, re-ranks, rewords and adds.

    write_problems(sheet, look, review, desk)    the sheet
    write_table(sheet, look, entries, first)     rows of entries, also those of the sheet Closed
    Desk                                         what stands beside the entries: the survey's file and photos

The most urgent stands first and the notes last, folded; the reviewer's own issues are written below. Subject,
message, Disposition and Reason stay in sight. Every text goes in as text: nothing that somebody
typed becomes a formula or a link. The link to a cell of the survey stands in the column Cell,
whose text names the cell for a program that follows no links.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from workbook_tools.definitions import PRIORITIES
from workbook_tools.photos.looked_at import LookedAt
from workbook_tools.review.answers import DISPOSITIONS, TAKEN_BY, YOUR_OWN
from workbook_tools.review.carrying import NEW
from workbook_tools.review.columns import (
    ANSWERED,
    FROZEN,
    NOTES,
    NOTHING,
    PRINTED,
    PROBLEM_COLUMNS,
    YOUR_ISSUES,
)
from workbook_tools.review.look import Look, height
from workbook_tools.review.model import Entry, OwnIssue, Review
from workbook_tools.rules.problems import RECORD
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey import Row

__all__ = ["AT", "LONGEST", "Desk", "write_headings", "write_own_columns", "write_problems", "write_table"]

LONGEST = 32_000
"""Letters that go into one cell."""
_MOST_LINKS = 65_000
"""A sheet holds some 65,530 links; the cells after that are named without one."""
_LONGEST_LINK = 2000
_MOST_PICTURES = 400
_PICTURE_HEIGHT = 62
"""Pixels that a picture is high beside its problem."""
_ROOM_TO_ADD = 12
"""Rows for issues of the reviewer's own."""

AT = {column.field: number for number, column in enumerate(PROBLEM_COLUMNS)}
"""Where each column stands, from 0."""

_INPUT = {
    "disposition": (
        "Disposition",
        (
            "Mended: the survey was corrected. Ask the inspector: waits for the site. No issue: nothing is wrong (say why). "
            "Tell the client: it goes out. Leave out: it stays here (say why)."
        ),
    ),
    "your_priority": ("Your priority", "Where you rank it otherwise. Blank: as it stands."),
    "words": (
        "Your words",
        (
            "What the client reads instead. Beside No issue: what the client reads among what was asked and answered; "
            "blank: nothing."
        ),
    ),
    "second": ("Second name", "Who agrees that what is to act on now stays out."),
}


@dataclass(frozen=True)
class Desk:
    """What a problem is shown with: the survey's file as the review links to it, and the photos."""

    link: str = ""
    photos: LookedAt = field(default_factory=LookedAt)


def write_headings(sheet: Any, look: Look, headings: Sequence[str], frozen: int = 0) -> None:
    """Write the headings of a table, which stay in sight and on every page."""
    sheet.set_row(0, 30)
    for column, heading in enumerate(headings):
        sheet.write_string(0, column, heading[:LONGEST], look.heading)
    sheet.freeze_panes(1, frozen)
    sheet.repeat_rows(0)


def write_problems(sheet: Any, look: Look, review: Review, desk: Desk) -> None:
    """Write the sheet."""
    write_headings(sheet, look, [column.heading for column in PROBLEM_COLUMNS], FROZEN)
    _set_widths(sheet)
    open_ones = [entry for entry in review.entries if entry.problem.class_ != "note"]
    notes = [entry for entry in review.entries if entry.problem.class_ == "note"]
    row = write_table(sheet, look, open_ones, 1, desk)
    if not review.entries:
        sheet.write_string(row, AT["message"], NOTHING["Problems"], look.cell)
        row += 1
    if notes:
        told = f"{NOTES}: {len(notes)}. Unfold them with the sign at the left of this row."
        _write_section(sheet, look, row, told, collapsed=True)
        row = write_table(sheet, look, notes, row + 1, desk, folded=True)
    last = row - 1
    entries = [*open_ones, *notes]
    own = write_own_columns(sheet, look, len(PROBLEM_COLUMNS), entries, _rows_of(open_ones, notes))
    _offer_answers(sheet, look, open_ones, notes)
    sheet.autofilter(0, 0, max(last, 1), len(PROBLEM_COLUMNS) + own - 1)
    end = _write_your_issues(sheet, look, last + 2, review.own)
    sheet.print_area(0, 0, end, PRINTED - 1)
    sheet.ignore_errors(
        {"number_stored_as_text": f"A1:{column_letters(len(PROBLEM_COLUMNS) + own)}{end + 1}"}
    )
    sheet.outline_settings(True, False, True, False)


def _set_widths(sheet: Any) -> None:
    for number, column in enumerate(PROBLEM_COLUMNS):
        sheet.set_column(number, number, column.width)


def _write_section(sheet: Any, look: Look, row: int, text: str, *, collapsed: bool = False) -> None:
    for column in range(PRINTED):
        sheet.write_blank(row, column, None, look.band)
    sheet.write_string(row, AT["message"], text, look.band)
    pixels = PROBLEM_COLUMNS[AT["message"]].pixels
    sheet.set_row(row, height([(text, pixels, True)]), None, {"collapsed": True} if collapsed else {})


def _rows_of(open_ones: Sequence[Entry], notes: Sequence[Entry]) -> list[int]:
    """Return the row of each entry, those of the notes behind the line that folds them."""
    first = len(open_ones) + 2
    return [*range(1, len(open_ones) + 1), *range(first, first + len(notes))]


def write_table(
    sheet: Any, look: Look, entries: Iterable[Entry], first: int, desk: Desk, *, folded: bool = False
) -> int:
    """Write entries from a row on and return the row behind them."""
    shown: set[tuple[str, Row]] = set()
    row = first
    for row, entry in enumerate(entries, first):
        texts = _texts_of(entry, desk)
        _write_entry(sheet, look, row, entry, texts, desk.link)
        # A picture on a folded row would be drawn over the next one that is not.
        least = 0.0 if folded else _insert_picture(sheet, row, entry, desk, shown)
        needed = [
            (texts[column.field], column.pixels, column.field == "subject") for column in PROBLEM_COLUMNS
        ]
        fold = {"level": 1, "hidden": True} if folded else {}
        sheet.set_row(row, height(needed, least), None, fold)
    return row + 1 if entries else first


def _texts_of(entry: Entry, desk: Desk) -> dict[str, str]:
    return {
        **{name: getattr(entry.problem, name) for name in RECORD},
        "disposition": entry.disposition,
        "reason": entry.reason,
        "photo": desk.photos.named(entry.problem.row),
        "your_priority": entry.priority,
        "words": entry.words,
        "second": entry.second,
        "remark": entry.remark,
        "first_seen": entry.first_seen,
    }


def _write_entry(sheet: Any, look: Look, row: int, entry: Entry, texts: dict[str, str], link: str) -> None:
    for column, definition in enumerate(PROBLEM_COLUMNS):
        name, text = definition.field, texts[definition.field][:LONGEST]
        if name == "cell" and text and link and row <= _MOST_LINKS:
            quoted = entry.problem.sheet.replace("'", "''")
            target = f"external:{link}#'{quoted}'!{text}"
            if len(target) < _LONGEST_LINK and sheet.write_url(row, column, target, look.link, text) == 0:
                continue
        if name in ANSWERED:
            _write_answer(sheet, look, row, column, text)
        else:
            sheet.write_string(row, column, text, _style_of(look, name, text))


def _write_answer(sheet: Any, look: Look, row: int, column: int, text: str = "") -> None:
    if text:
        sheet.write_string(row, column, text, look.answer)
    else:
        sheet.write_blank(row, column, None, look.answer)


def _style_of(look: Look, name: str, text: str) -> Any:
    if name == "class_":
        return look.classes.get(text, look.cell)
    if name == "remark" and text == NEW:
        return look.new
    return look.strong if name == "subject" else look.cell


def _insert_picture(sheet: Any, row: int, entry: Entry, desk: Desk, shown: set[tuple[str, Row]]) -> float:
    """Put a small picture beside an entry, once for each row of the survey; return the points it needs."""
    of = entry.problem.row
    picture = desk.photos.small(of) if of is not None and len(shown) < _MOST_PICTURES else None
    if picture is None or of is None or (desk.photos.named(of), of) in shown:
        return 0
    shown.add((desk.photos.named(of), of))
    room = PROBLEM_COLUMNS[AT["photo"]].pixels - 6
    scale = min(_PICTURE_HEIGHT / picture.height, room / picture.width)
    sheet.insert_image(row, AT["photo"], "photo.jpg", {
        "image_data": BytesIO(picture.jpeg), "x_scale": scale, "y_scale": scale, "x_offset": 3, "y_offset": 20,
        "object_position": 1, "description": desk.photos.named(of),
    })  # fmt: skip
    return (20 + _PICTURE_HEIGHT + 4) * 0.75


def _offer_answers(sheet: Any, look: Look, open_ones: Sequence[Entry], notes: Sequence[Entry]) -> None:
    """Give every answer its drop-down: of those that the problem's class takes."""
    entries = list(zip(_rows_of(open_ones, notes), [*open_ones, *notes], strict=True))
    rows: dict[tuple[str, ...], list[int]] = {}
    for row, entry in entries:
        taken = TAKEN_BY.get(entry.problem.class_)
        rows.setdefault(tuple(taken) if taken else DISPOSITIONS, []).append(row)
    for answers, of in rows.items():
        _validate(sheet, AT["disposition"], of, _INPUT["disposition"], answers)
    every = [row for row, _ in entries]
    _validate(sheet, AT["your_priority"], every, _INPUT["your_priority"], PRIORITIES)
    for name in ("words", "second"):
        _validate(sheet, AT[name], every, _INPUT[name], ())
    if entries:
        answer, class_ = column_letters(AT["disposition"] + 1), column_letters(AT["class_"] + 1)
        waiting = f'=AND(OR(${class_}2="correct",${class_}2="confirm"),LEN(${answer}2)=0)'
        sheet.conditional_format(
            1, AT["disposition"], every[-1], AT["disposition"],
            {"type": "formula", "criteria": waiting, "format": look.waiting},
        )  # fmt: skip


def _validate(
    sheet: Any, column: int, rows: Sequence[int], told: tuple[str, str], choices: Sequence[str]
) -> None:
    """Offer choices and a message in the cells of a column; no dialog that would eat another answer."""
    blocks: list[list[int]] = []
    for row in rows:
        if blocks and blocks[-1][2] == row - 1:
            blocks[-1][2] = row
        else:
            blocks.append([row, column, row, column])
    if not blocks:
        return
    offered = (
        {"validate": "list", "source": [str(choice) for choice in choices]}
        if choices
        else {"validate": "any"}
    )
    sheet.data_validation(*blocks[0], {
        **offered, "show_error": False, "input_title": told[0], "input_message": told[1], "other_cells": blocks[1:],
    })  # fmt: skip


def _write_your_issues(sheet: Any, look: Look, row: int, own: Sequence[OwnIssue]) -> int:
    """Write the reviewer's own issues and room for more; return the last row."""
    _write_section(
        sheet, look, row, f"{YOUR_ISSUES}: subject, what is wrong, what to do, your priority; one to a row."
    )
    first = row + 1
    rows = range(first, first + len(own) + _ROOM_TO_ADD)
    for number, at in enumerate(rows):
        issue = own[number] if number < len(own) else OwnIssue("", "")
        texts = {
            "subject": issue.subject,
            "message": issue.message,
            "action": issue.action,
            "your_priority": issue.priority,
        }
        for name, text in texts.items():
            _write_answer(sheet, look, at, AT[name], text[:LONGEST])
        sheet.write_string(at, AT["class_"], YOUR_OWN, look.classes[YOUR_OWN])
        sheet.set_row(
            at, height((text, PROBLEM_COLUMNS[AT[name]].pixels, False) for name, text in texts.items())
        )
    _validate(sheet, AT["your_priority"], rows, _INPUT["your_priority"], PRIORITIES)
    return rows[-1]


def write_own_columns(
    sheet: Any, look: Look, first: int, entries: Sequence[Entry], rows: Sequence[int]
) -> int:
    """Write the columns that are the reviewer's own from a column on; return how many there are."""
    headings = list(dict.fromkeys(heading for entry in entries for heading, _ in entry.own))
    if headings:
        sheet.set_column(first, first + len(headings) - 1, 20)
    for column, heading in enumerate(headings, first):
        sheet.write_string(0, column, heading[:LONGEST], look.heading)
        for row, entry in zip(rows, entries, strict=True):
            text = dict(entry.own).get(heading, "")
            if text:
                sheet.write_string(row, column, text[:LONGEST], look.answer)
    return len(headings)

"""Read a review workbook back, whatever program saved it.

    read_review(path)    a Review: entries with their answers, what was closed, the sign-off

Sheets are told by their headings, columns by their words, labels by theirs; their order and
names do not matter. What a reviewer wrote besides is kept (kept). An answer in words that are not known is kept as typed and said.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from workbook_tools.definitions import spelling
from workbook_tools.errors import Unusable
from workbook_tools.review.columns import (
    CLOSED_ON,
    NOTHING,
    PROBLEM_COLUMNS,
    SIGN_OFF_LABELS,
    SIGN_OFF_LINES,
    SIGN_OFF_TITLE,
    SUMMARY_COLUMNS,
    WAITING,
)
from workbook_tools.review.kept import own_headings, strays_again, strays_of
from workbook_tools.review.model import DISPOSITIONS, Closed, Entry, Review, SignOff, disposition_of
from workbook_tools.rules.problems import Problem
from workbook_tools.spreadsheet import Sheet, read_workbook

__all__ = ["read_review"]

_HEADING_ROWS = 20
_NEEDED = ("rule", "subject", "disposition")
_FIELD_OF_HEADING = {spelling(column.heading): column.field for column in PROBLEM_COLUMNS} | {
    spelling(CLOSED_ON): "closed_on"
}
_FIELD_OF = _FIELD_OF_HEADING | {
    spelling(name): column.field for column in PROBLEM_COLUMNS for name in column.also_called
}
_LABEL_OF = {spelling(label): field for field, label in SIGN_OFF_LABELS.items()}
_FAR_TO_THE_RIGHT = 6


def read_review(path: str | os.PathLike[str]) -> Review:
    """Read a review workbook.

    Parameters
    ----------
    path : path
        An .xlsx or .ods file that once was a review workbook; it is only read.

    Raises
    ------
    Unusable
        A file that cannot be read, or one that is no review workbook.
    """
    workbook = read_workbook(path)
    review = Review(Path(path))
    found = False
    answers: dict[str, str] = {}
    for sheet in workbook.sheets:
        by_row = _by_row(sheet)
        again = strays_again(sheet.name, by_row)
        heading_row, columns = _find_headings(by_row)
        if again is not None:
            review.strays += again
        elif columns:
            rows = list(_rows_below(by_row, heading_row, columns))
            own = _own_columns(by_row, heading_row, columns, rows)
            review.strays += strays_of(sheet.name, by_row, _of_the_table(by_row, heading_row, rows, own))
            if "closed_on" in columns.values():
                review.closed += [
                    Closed(_entry(cells, [], own=_own_texts(by_row[row], own)), cells.get("closed_on", ""))
                    for row, cells in rows
                ]
            else:
                found = True
                review.entries += [
                    _entry(cells, review.said, f"{sheet.name}, row {row}", _own_texts(by_row[row], own))
                    for row, cells in rows
                ]
        else:
            labels, mine = _labels(by_row)
            answers |= {field: text for field, text in labels.items() if text or field not in answers}
            review.strays += strays_of(sheet.name, by_row, mine | _printed(by_row, labels))
    if not found:
        raise Unusable(
            f"{Path(path).name} is no review workbook: no sheet has the headings Rule, Subject and Disposition. "
            "Give the file that `workbook-tools check -o` wrote."
        )
    review.sign_off = SignOff(
        answers.get("reviewer", ""),
        answers.get("date", ""),
        answers.get("statement", ""),
        answers.get("fingerprint", ""),
    )
    review.strays = list(dict.fromkeys(review.strays))
    review.template = answers.get("template", "")
    review.said += [f"{damage.sheet or Path(path).name}: {damage.says}" for damage in workbook.damage]
    return review


def _by_row(sheet: Sheet) -> dict[int, dict[int, str]]:
    rows: dict[int, dict[int, str]] = {}
    for (row, column), cell in sheet.cells.items():
        text = cell.text.strip()
        if text:
            rows.setdefault(row, {})[column] = text
    return rows


def _find_headings(rows: Mapping[int, Mapping[int, str]]) -> tuple[int, dict[int, str]]:
    """Return the row of the headings and the field of each column; nothing where the sheet has none."""
    for row in sorted(rows)[:_HEADING_ROWS]:
        columns: dict[int, str] = {}
        # A heading as written goes before one that only means the same: the reviewer may have added that one.
        for known in (_FIELD_OF_HEADING, _FIELD_OF):
            for column, text in sorted(rows[row].items()):
                field = known.get(spelling(text))
                if field is not None and column not in columns and field not in columns.values():
                    columns[column] = field
        if all(field in columns.values() for field in _NEEDED):
            return row, columns
    return 0, {}


def _rows_below(
    rows: Mapping[int, Mapping[int, str]], heading_row: int, columns: Mapping[int, str]
) -> Iterator[tuple[int, dict[str, str]]]:
    for row in sorted(rows):
        cells = {field: rows[row][column] for column, field in columns.items() if column in rows[row]}
        # The headings repeated on a later page, and the line that says that nothing was found, are no entries.
        if row > heading_row and cells.get("rule") and spelling(cells["rule"]) not in _FIELD_OF:
            yield row, cells


def _own_columns(
    by_row: Mapping[int, Mapping[int, str]],
    heading_row: int,
    columns: Mapping[int, str],
    rows: Sequence[tuple[int, object]],
) -> dict[int, str]:
    filled = {column for row, _ in rows for column in by_row[row]}
    taken = [*(column.heading for column in PROBLEM_COLUMNS), CLOSED_ON]
    return own_headings(by_row[heading_row], columns, filled, taken)


def _own_texts(cells: Mapping[int, str], own: Mapping[int, str]) -> tuple[tuple[str, str], ...]:
    return tuple((heading, cells[column]) for column, heading in own.items() if column in cells)


def _of_the_table(
    by_row: Mapping[int, Mapping[int, str]],
    heading_row: int,
    rows: Sequence[tuple[int, object]],
    own: Mapping[int, str],
) -> set[tuple[int, int]]:
    """Return the places of a table: its headings, its rows, and what it says where it has none."""
    mine = {heading_row, *(row for row, _ in rows)}
    for row, cells in by_row.items():
        if all(spelling(text) in _FIELD_OF for text in cells.values()) or (
            len(cells) == 1 and next(iter(cells.values())) in NOTHING.values()
        ):
            mine.add(row)
    # A heading without a text below it says nothing by itself, but somebody wrote it.
    used = {column for row, _ in rows for column in by_row[row]}
    return {
        (row, column)
        for row in mine
        for column in by_row[row]
        if row != heading_row or column not in own or column in used
    }


def _printed(rows: Mapping[int, Mapping[int, str]], labels: Mapping[str, str]) -> set[tuple[int, int]]:
    """Return the places of what the sheets Summary and Sign-off say themselves."""
    if "reviewer" in labels:
        lines = {SIGN_OFF_TITLE, WAITING, *SIGN_OFF_LINES}
        mine = {(r, c) for r, cells in rows.items() for c, text in cells.items() if text in lines}
        return mine | {(r, c + 1) for r, c in mine if rows[r][c] == WAITING}
    if "survey" in labels:
        return {(r, c) for r, cells in rows.items() for c in cells if c <= SUMMARY_COLUMNS}
    return set()


def _entry(
    cells: Mapping[str, str], said: list[str], place: str = "", own: tuple[tuple[str, str], ...] = ()
) -> Entry:
    typed = cells.get("disposition", "")
    answer = disposition_of(typed)
    if answer is None:
        said.append(
            f"{place}: the disposition {typed!r} is none of {', '.join(DISPOSITIONS)}; it counts as no answer."
        )
    return Entry(
        Problem.from_record(cells),
        typed if answer is None else answer,
        cells.get("reason", ""),
        cells.get("first_seen", ""),
        cells.get("remark", ""),
        own,
    )


def _labels(rows: Mapping[int, Mapping[int, str]]) -> tuple[dict[str, str], set[tuple[int, int]]]:
    """Return what stands to the right of each label of the sign-off, and the places of both."""
    answers: dict[str, str] = {}
    places: set[tuple[int, int]] = set()
    for number, row in rows.items():
        for column, text in row.items():
            field = _LABEL_OF.get(spelling(text))
            if field is None:
                continue
            beside = next((at for at in range(column + 1, column + _FAR_TO_THE_RIGHT) if at in row), 0)
            if field not in answers:
                answers[field] = row.get(beside, "")
                places |= {(number, column), (number, beside)}
    return answers, places

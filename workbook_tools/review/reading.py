"""Read a review workbook back, whatever program saved it.

    read_review(path)    a Review: entries with their answers, what was closed, the sign-off

Sheets are told by their headings, columns by their words, labels by theirs; their order and
names do not matter. An answer in words that are not known is kept as typed and said.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING

from workbook_tools.definitions import spelling
from workbook_tools.errors import Unusable
from workbook_tools.problems import Problem
from workbook_tools.review.columns import CLOSED_ON, PROBLEM_COLUMNS, SIGN_OFF_LABELS
from workbook_tools.review.model import DISPOSITIONS, Closed, Entry, Review, SignOff, disposition_of

if TYPE_CHECKING:
    from workbook_tools.spreadsheet import Sheet

__all__ = ["read_review"]

_HEADING_ROWS = 20
_NEEDED = ("rule", "subject", "disposition")
_FIELD_OF = {
    spelling(name): column.field
    for column in PROBLEM_COLUMNS
    for name in (column.heading, *column.also_called)
} | {spelling(CLOSED_ON): "closed_on"}
_LABEL_OF = {spelling(label): field for field, label in SIGN_OFF_LABELS.items()}
_FAR_TO_THE_RIGHT = 6
_OF_A_PROBLEM = tuple(name.name for name in fields(Problem) if name.name != "order")


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
    from workbook_tools.spreadsheet import read_workbook

    workbook = read_workbook(path)
    review = Review(Path(path))
    found = False
    answers: dict[str, str] = {}
    for sheet in workbook.sheets:
        by_row = _by_row(sheet)
        heading_row, columns = _find_headings(by_row)
        if columns:
            rows = list(_rows_below(by_row, heading_row, columns))
            if "closed_on" in columns.values():
                review.closed += [
                    Closed(_entry(cells, []), cells.get("closed_on", "")) for _row, cells in rows
                ]
            else:
                found = True
                review.entries += [
                    _entry(cells, review.said, f"{sheet.name}, row {row}") for row, cells in rows
                ]
        else:
            answers |= {
                field: text for field, text in _labels(by_row).items() if text or field not in answers
            }
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
        for column, text in sorted(rows[row].items()):
            field = _FIELD_OF.get(spelling(text))
            if field is not None and field not in columns.values():
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


def _entry(cells: Mapping[str, str], said: list[str], place: str = "") -> Entry:
    typed = cells.get("disposition", "")
    answer = disposition_of(typed)
    if answer is None:
        said.append(
            f"{place}: the disposition {typed!r} is none of {', '.join(DISPOSITIONS)}; it counts as no answer."
        )
    return Entry(
        Problem(*(cells.get(name, "") for name in _OF_A_PROBLEM)),  # type: ignore[arg-type]  # all of them text
        typed if answer is None else answer,
        cells.get("reason", ""),
        cells.get("first_seen", ""),
        cells.get("remark", ""),
    )


def _labels(rows: Mapping[int, Mapping[int, str]]) -> dict[str, str]:
    """Return what stands to the right of each label of the sign-off."""
    answers: dict[str, str] = {}
    for row in rows.values():
        for column, text in row.items():
            field = _LABEL_OF.get(spelling(text))
            if field is None:
                continue
            beside = (row[at] for at in range(column + 1, column + _FAR_TO_THE_RIGHT) if at in row)
            answers.setdefault(field, next(beside, ""))
    return answers

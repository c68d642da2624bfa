"""Read a review workbook back, whatever program saved it.

    read_review(path)    a Review: entries with their answers, own issues, what was closed, the sign-off

Sheets are told by their headings, columns by their words, labels by theirs; their order and
names do not matter. What a reviewer wrote besides is kept (kept). An answer in words that are not known is kept as typed and said.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path

from workbook_tools.definitions import spelling
from workbook_tools.errors import Unusable
from workbook_tools.review.answers import DISPOSITIONS, YOUR_OWN, answer_of
from workbook_tools.review.columns import (
    ANSWERED,
    CLOSED_ON,
    PROBLEM_COLUMNS,
    SEAL_HEADINGS,
    SIGN_OFF_LABELS,
    SIGN_OFF_LINES,
    SIGN_OFF_TITLE,
    SUMMARY_COLUMNS,
    WAITING,
    is_printed,
)
from workbook_tools.review.kept import own_headings, strays_again, strays_of
from workbook_tools.review.last_saved import last_saved
from workbook_tools.review.model import Closed, Entry, OwnIssue, Review, SignOff
from workbook_tools.review.seal import Item, Seal
from workbook_tools.review.which_survey import WhichSurvey
from workbook_tools.rules.problems import Problem
from workbook_tools.spreadsheet import Sheet, cell_name, read_workbook

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
_EMPTIED = "emptied"
"""What a blank mark counts as beside a seal with parts: somebody took it away."""
_OWN_FIELDS = ("subject", "message", "action", *ANSWERED)
_Rows = Mapping[int, Mapping[int, str]]


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
    parts: dict[str, list[Item]] = {}
    for sheet in workbook.sheets:
        by_row = _by_row(sheet)
        again = strays_again(sheet.name, by_row)
        table = _Table.find(sheet.name, by_row)
        if again is not None:
            review.strays += again
        elif _is_seal(by_row):
            parts = _parts(by_row)
        elif table is not None:
            review.strays += strays_of(sheet.name, by_row, table.places)
            if table.is_closed:
                review.closed += table.closed()
            else:
                found = True
                review.entries += table.entries(review.said)
                review.own += table.own_issues()
        else:
            labels, mine = _labels(by_row)
            answers |= {field: text for field, text in labels.items() if text or field not in answers}
            review.strays += strays_of(sheet.name, by_row, mine | _printed(by_row, labels))
    if not found:
        raise Unusable(
            f"{Path(path).name} is no review workbook: no sheet has the headings Rule, Subject and Disposition. "
            "Give the file that `workbook-tools check -o` wrote."
        )

    def said(label: str) -> str:
        return answers.get(label, "")

    review.sign_off = SignOff(said("reviewer"), said("date"), said("statement"))
    review.seal = Seal(
        {name: tuple(items) for name, items in parts.items()}, said("mark") or (_EMPTIED if parts else "")
    )
    review.which = WhichSurvey(said("property"), said("report_no"), said("number"), said("survey"))
    review.made, review.template = said("made"), said("template")
    review.saved = last_saved(review.path or Path(path))
    review.strays = list(dict.fromkeys(review.strays))
    review.said += [f"{damage.sheet or Path(path).name}: {damage.says}" for damage in workbook.damage]
    return review


def _by_row(sheet: Sheet) -> dict[int, dict[int, str]]:
    rows: dict[int, dict[int, str]] = {}
    for (row, column), cell in sheet.cells.items():
        text = cell.text.strip()
        if text:
            rows.setdefault(row, {})[column] = text
    return rows


class _Table:
    """One table of problems as found: its heading row, its columns, the rows by what they are."""

    def __init__(self, sheet: str, by_row: _Rows, heading_row: int, columns: Mapping[int, str]) -> None:
        self.sheet, self.by_row, self.heading_row = sheet, by_row, heading_row
        self.columns = columns
        self.is_closed = "closed_on" in columns.values()
        self.column_of = {field: column for column, field in columns.items()}
        self.rows: list[tuple[int, dict[str, str]]] = []
        self.added: list[tuple[int, dict[str, str]]] = []
        for row in sorted(row for row in by_row if row > heading_row):
            cells = {field: by_row[row][column] for column, field in columns.items() if column in by_row[row]}
            # The headings repeated on a later page, and lines of the workbook's own, are no entries.
            if self._is_heading(by_row[row]):
                continue
            if cells.get("rule"):
                self.rows.append((row, cells))
            elif any(map(is_printed, cells.values())):
                continue
            elif not self.is_closed and any(cells.get(field) for field in _OWN_FIELDS):
                self.added.append((row, cells))
        filled = {column for row, _ in self.rows for column in by_row[row]}
        taken = [*(column.heading for column in PROBLEM_COLUMNS), CLOSED_ON]
        self.own = own_headings(by_row[heading_row], columns, filled, taken)

    @classmethod
    def find(cls, sheet: str, rows: _Rows) -> _Table | None:
        """Return the table of a sheet; None where the sheet has none."""
        for row in sorted(rows)[:_HEADING_ROWS]:
            columns: dict[int, str] = {}
            # A heading as written goes before one that only means the same: the reviewer may have added that one.
            for known in (_FIELD_OF_HEADING, _FIELD_OF):
                for column, text in sorted(rows[row].items()):
                    field = known.get(spelling(text))
                    if field is not None and column not in columns and field not in columns.values():
                        columns[column] = field
            if all(field in columns.values() for field in _NEEDED):
                return cls(sheet, rows, row, columns)
        return None

    @staticmethod
    def _is_heading(cells: Mapping[int, str]) -> bool:
        return all(spelling(text) in _FIELD_OF for text in cells.values())

    @property
    def places(self) -> set[tuple[int, int]]:
        """The places of the table: its headings, its rows, and what it says between them."""
        mine = {self.heading_row, *(row for row, _ in self.rows)}
        places: set[tuple[int, int]] = set()
        for row, cells in self.by_row.items():
            if self._is_heading(cells):
                mine.add(row)
            places |= {(row, column) for column, text in cells.items() if is_printed(text)}
            # Of an added row, and of one that waits to be filled in, what stands in a column of ours.
            known = {(row, column) for column in cells if column in self.columns}
            labelled = cells.get(self.column_of.get("class_", 0), "")
            if any(row == added for added, _ in self.added) or spelling(labelled) == spelling(YOUR_OWN):
                places |= known
        # A heading without a text below it says nothing by itself, but somebody wrote it.
        used = {column for row, _ in self.rows for column in self.by_row[row]}
        return places | {
            (row, column)
            for row in mine
            for column in self.by_row[row]
            if row != self.heading_row or column not in self.own or column in used
        }

    def entries(self, said: list[str]) -> list[Entry]:
        """Return the entries; of an answer that is none it is said what was typed."""
        return [self._entry(row, cells, said) for row, cells in self.rows]

    def closed(self) -> list[Closed]:
        return [Closed(self._entry(row, cells, []), cells.get("closed_on", "")) for row, cells in self.rows]

    def own_issues(self) -> list[OwnIssue]:
        return [
            OwnIssue(
                cells.get("subject", ""),
                cells.get("message") or cells.get("words", ""),
                cells.get("action", ""),
                cells.get("your_priority") or cells.get("priority", ""),
                f"{self.sheet}, row {row}",
            )
            for row, cells in self.added
        ]

    def _entry(self, row: int, cells: Mapping[str, str], said: list[str]) -> Entry:
        problem = Problem.from_record(cells)
        typed = cells.get("disposition", "")
        answer = answer_of(typed, problem)
        place = f"{self.sheet}!{cell_name(row, self.column_of['disposition'])}"
        if answer is None:
            listed = ", ".join(DISPOSITIONS)
            said.append(f"{place}: the disposition {typed!r} is none of {listed}; it counts as no answer.")
        return Entry(
            problem,
            typed if answer is None else str(answer),
            cells.get("reason", ""),
            cells.get("first_seen", ""),
            cells.get("remark", ""),
            tuple(
                (heading, self.by_row[row][at]) for at, heading in self.own.items() if at in self.by_row[row]
            ),
            cells.get("second", ""),
            cells.get("your_priority", ""),
            cells.get("words", ""),
            place,
        )


def _is_seal(rows: _Rows) -> bool:
    first = rows.get(min(rows, default=0), {})
    return tuple(first.get(column) for column in (1, 2)) == SEAL_HEADINGS


def _parts(rows: _Rows) -> dict[str, list[Item]]:
    """Return the parts of a seal as written; a line that is none is left out, and the mark tells it."""
    parts: dict[str, list[Item]] = {}
    for row in sorted(rows)[1:]:
        cells = rows[row]
        items = parts.setdefault(cells.get(1, ""), [])
        text = "".join(cells[column] for column in sorted(cells) if column > 1)
        try:
            read = json.loads(text) if text else None
        except (ValueError, RecursionError):
            continue
        if isinstance(read, list) and len(read) == 2 and isinstance(read[0], str):
            items.append((read[0], read[1]))
    return parts


def _printed(rows: _Rows, labels: Mapping[str, str]) -> set[tuple[int, int]]:
    """Return the places of what the sheets Summary and Sign-off say themselves."""
    if "reviewer" in labels:
        lines = {SIGN_OFF_TITLE, WAITING, *SIGN_OFF_LINES}
        mine = {(r, c) for r, cells in rows.items() for c, text in cells.items() if text in lines}
        return mine | {(r, c + 1) for r, c in mine if rows[r][c] == WAITING}
    if "survey" in labels:
        return {(r, c) for r, cells in rows.items() for c in cells if c <= SUMMARY_COLUMNS}
    return set()


def _labels(rows: _Rows) -> tuple[dict[str, str], set[tuple[int, int]]]:
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

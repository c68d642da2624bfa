"""Where the labels of a label sheet stand, and where the value of each.

    find_labels(grid, sheet)    one grid as labels with a value beside each, or None

Not here: reading the values (labels).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from workbook_tools.definitions import Sheet, spelling
from workbook_tools.survey.found_headings import (
    LONGEST_HEADING,
    FirstRows,
    Fits,
    Grid,
    Heading,
    SheetFound,
    first_rows,
    headings_of,
    name_points,
    one_each,
    one_line,
    points_of_heading,
)
from workbook_tools.survey.heading_words import match_heading, near_heading

__all__ = ["find_labels"]

_LABEL_ROWS = 80
_LABEL_COLUMNS = 8


def find_labels(
    grid: Grid, sheet: Sheet, *, fits: Fits | None = None, first: FirstRows | None = None
) -> SheetFound | None:
    """Look for the labels of a label sheet: each with its value to the right, or all in one row with values below.

    A label that is not known, in the column of the known ones and with a value beside it,
    comes back without a field.
    """
    rows = first_rows(grid, _LABEL_ROWS)
    known = []
    for row, texts in sorted(rows.items()):
        for column, text in sorted(texts.items()):
            if column <= _LABEL_COLUMNS and len(text) <= LONGEST_HEADING:
                match = match_heading(text.strip().rstrip(":"), sheet)
                if match is not None:
                    known.append(Heading(row, column, one_line(text).rstrip(": "), match.column.field))
    beside = _Beside(grid, rows, sheet, known)
    known = [replace(heading, value_at=beside.place(heading.row, heading.column)) for heading in known]
    named = name_points(grid.name, sheet)
    labels = one_each([h for h in known if _leads_its_row(h, known)], sheet)
    columns = {h.column for h in labels if h.field is not None}
    rows_used = {h.row for h in labels if h.field is not None}
    across = _widest_row(first or FirstRows(grid), rows, sheet)
    if sum(h.field is not None for h in across) > max(2, len(rows_used)):
        labels = [replace(h, value_at=(h.row + 1, h.column)) for h in across]
    elif len(rows_used) >= 2 or (named and len(labels) == 1):
        labels = _with_unknown_labels(grid, rows, labels, columns, sheet, beside)
    else:
        labels = []
    fields = {h.field for h in labels if h.field is not None}
    if len(fields) < (1 if named else 2):
        return None
    score = sum(points_of_heading(h, sheet) for h in labels) + named
    return SheetFound(grid.name, sheet.key, 0, tuple(labels), score, named > 0)


def _widest_row(first: FirstRows, rows: Mapping[int, dict[int, str]], sheet: Sheet) -> list[Heading]:
    below_one = [row for row in first.rows if row + 1 in rows and first.may_head(row, sheet)]
    found = [one_each(headings_of(first.rows[row], row, sheet), sheet) for row in sorted(below_one)]
    return max(found, key=lambda hs: sum(h.field is not None for h in hs), default=[])


def _leads_its_row(label: Heading, known: Sequence[Heading]) -> bool:
    # A value may spell a label ("Building use | Retail property"): what stands where another
    # label's value stands is that value.
    return not any(h.value_at == (label.row, label.column) and h.column < label.column for h in known)


class _Beside:
    """Where the values stand: so many cells to the right of each column of labels.

    One distance for the whole column, the smallest at which anything stands: a blank answer
    with an instruction behind it stays blank.
    """

    def __init__(
        self, grid: Grid, rows: Mapping[int, dict[int, str]], sheet: Sheet, labels: Iterable[Heading]
    ) -> None:
        self.grid = grid
        instructions = {spelling(column.ask) for column in sheet} | {spelling(sheet.ask), ""}
        self.steps: dict[int, int] = {}
        for label in labels:
            last = self._last(label.row, label.column)
            for step in range(1, self.steps.get(label.column, 4)):
                if spelling(rows[label.row].get(last + step, "")) not in instructions:
                    self.steps[label.column] = step
                    break

    def place(self, row: int, column: int) -> tuple[int, int]:
        return row, self._last(row, column) + self.steps.get(column, 1)

    def _last(self, row: int, column: int) -> int:
        spans = (
            right
            for top, left, bottom, right in self.grid.merged
            if top <= row <= bottom and left <= column <= right
        )
        return max(spans, default=column)


def _with_unknown_labels(
    grid: Grid,
    rows: Mapping[int, dict[int, str]],
    labels: list[Heading],
    columns: set[int],
    sheet: Sheet,
    beside: _Beside,
) -> list[Heading]:
    out = list(labels)
    free = {c.field for c in sheet.typed} - {h.field for h in labels}
    places = {(h.row, h.column) for h in labels} | {h.value_at for h in labels}
    for row, texts in sorted(rows.items()):
        for column in sorted(columns & texts.keys()):
            at = beside.place(row, column)
            if (row, column) in places or grid.texts.get(at, "").strip() in ("", sheet.ask):
                continue  # nothing beside it, or the line that the workbook itself prints on top
            text = one_line(texts[column]).rstrip(": ")
            near = near_heading(text, sheet) if len(text) <= LONGEST_HEADING else None
            name = near.column.field if near is not None and near.column.field in free else None
            free.discard(name or "")
            out.append(Heading(row, column, text, name, name is None, "", at))
    return sorted(out, key=lambda h: (h.row, h.column))

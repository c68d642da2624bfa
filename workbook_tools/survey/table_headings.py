"""Which row of a sheet holds the headings of a table, and what each of them means there.

    find_table(grid, sheet)     one grid as one table, or None
    likely_rows(grid, sheet)    the few rows that hold the most of the headings exactly

Not here: which table a sheet is (headings), labels (label_headings).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet
from workbook_tools.survey.found_headings import (
    LONGEST_HEADING,
    FirstRows,
    Fits,
    Grid,
    Heading,
    SheetFound,
    headings_of,
    identity_of,
    name_points,
    one_each,
    points_of_heading,
    points_of_row,
)
from workbook_tools.survey.heading_words import near_heading

__all__ = ["find_table", "likely_rows"]

_IDENTITY = 2.0
_LIKELY_ROWS = 3


def find_table(
    grid: Grid, sheet: Sheet, *, fits: Fits | None = None, first: FirstRows | None = None
) -> SheetFound | None:
    """Look for the headings of a table sheet in the first rows of a grid.

    Two rows of headings ("Primary" above "Volts") are read as one heading where that tells
    more. None where the sheet's first column is not there, unless the sheet bears its name.
    """
    best: SheetFound | None = None
    for likely in likely_rows(grid, sheet, first):
        found = _table_from(grid, sheet, likely.row, likely.headings, fits)
        if found is not None and (best is None or found.score > best.score):
            best = found
    return best


class LikelyRow(NamedTuple):
    points: float
    row: int
    headings: list[Heading]


def likely_rows(grid: Grid, sheet: Sheet, first: FirstRows | None = None) -> list[LikelyRow]:
    """Return the few rows with the most exact headings, alone or read with the row above, best first.

    None where no row has any. `first` are the grid's first rows, for who has gathered them.
    """
    first = first or FirstRows(grid)
    rows = first.rows
    likely: list[tuple[float, int, dict[int, str] | None]] = []
    points_above = 0.0
    for row in sorted(rows):
        if not points_above and not first.may_head(row, sheet):
            continue
        points, some_unknown = points_of_row(rows[row], sheet)
        if points:
            likely.append((points, row, None))
        above = rows.get(row - 1)
        alone, points_above = max(points, points_above), points
        if above is not None and alone and (some_unknown or _reaches_down(grid, row)):
            joined = _join_rows(grid, above, rows[row], row)
            together, _ = points_of_row(joined, sheet, rows[row])
            # Two rows are one heading only where that tells more: the lower may be the first entry.
            if together > alone:
                likely.append((together, row, joined))
    likely.sort(key=lambda found: -found[0])
    return [
        LikelyRow(points, row, headings_of(joined or rows[row], row, sheet, rows[row] if joined else None))
        for points, row, joined in likely[:_LIKELY_ROWS]
        if points * 2 >= likely[0][0]
    ]


def _reaches_down(grid: Grid, row: int) -> bool:
    return any(top == row - 1 and bottom >= row for top, _, bottom, _ in grid.merged)


def _join_rows(grid: Grid, above: Mapping[int, str], below: Mapping[int, str], row: int) -> dict[int, str]:
    spread = dict(above)
    tall: set[int] = set()
    for top, left, bottom, right in grid.merged:
        if top <= row - 1 <= bottom and left in above and top == row - 1:
            for column in range(left, min(right, left + 60) + 1):
                spread.setdefault(column, above[left])
            if bottom >= row:
                tall.update(range(left, min(right, left + 60) + 1))
    joined = {}
    for column in {*spread, *below}:
        upper, lower = spread.get(column, ""), below.get(column, "")
        if upper and lower:
            joined[column] = f"{upper} {lower}"
        elif lower or column in tall or column in above:
            joined[column] = lower or upper
    return joined


def _table_from(
    grid: Grid, sheet: Sheet, row: int, headings: list[Heading], fits: Fits | None
) -> SheetFound | None:
    if not headings:
        return None
    below = _Below(grid, row)
    if fits is not None:
        headings = [_doubted(h, sheet, below, fits) for h in headings]
    headings = one_each(headings, sheet)
    named = name_points(grid.name, sheet)
    if sum(h.field is not None for h in headings) + (named > 0) >= 2:
        headings = _with_near(headings, sheet, below, fits)
    fields = {h.field for h in headings if h.field is not None}
    identity = identity_of(sheet)
    if len(fields) < (1 if named else 2) or (identity not in fields and not named):
        return None
    score = sum(points_of_heading(h, sheet) for h in headings) + _IDENTITY * (identity in fields) + named
    return SheetFound(grid.name, sheet.key, row, tuple(headings), score, named > 0)


class _Below:
    """The texts below a heading row, by column, gathered once when first asked for."""

    def __init__(self, grid: Grid, row: int) -> None:
        self.grid, self.row = grid, row
        self.by_column: dict[int, list[str]] | None = None

    def __getitem__(self, column: int) -> list[str]:
        if self.by_column is None:
            self.by_column = {}
            for (row, at), text in self.grid.texts.items():
                if self.row < row <= self.row + 60 and text.strip():
                    self.by_column.setdefault(at, []).append(text)
        return self.by_column.get(column, [])


def _doubted(heading: Heading, sheet: Sheet, below: _Below, fits: Fits) -> Heading:
    if heading.field is None or points_of_heading(heading, sheet) != 2.0:
        return heading
    if fits(sheet.by_field[heading.field], below[heading.column]):
        return heading
    return replace(heading, field=None, unit="")


def _with_near(headings: list[Heading], sheet: Sheet, below: _Below, fits: Fits | None) -> list[Heading]:
    free = {c.field for c in sheet.typed} - {h.field for h in headings}
    # Of two rows only the lower counts here: a heading and the first entry below it are near the heading.
    claims: dict[str, list[tuple[int, str]]] = {}
    for i, heading in enumerate(headings):
        if heading.field is None and len(heading.text) <= LONGEST_HEADING:
            near = near_heading(heading.wordings[-1], sheet)
            if (
                near is not None
                and near.column.field in free
                and _may_hold(near.column, below[heading.column], fits)
            ):
                claims.setdefault(near.column.field, []).append((i, near.unit))
    out = list(headings)
    for name, claimed in claims.items():
        if len(claimed) == 1:  # two headings near the same field: neither is sure enough
            (i, unit), *_ = claimed
            out[i] = replace(headings[i], field=name, exact=False, unit=unit)
    return out


def _may_hold(column: Column, texts: Sequence[str], fits: Fits | None) -> bool:
    return fits(column, texts) if fits is not None else _has_digits_where_needed(column, texts)


def _has_digits_where_needed(column: Column, texts: Sequence[str]) -> bool:
    if column.holds in ("text", "tag", "tags", "room", "choice", "items", "photos", "finding") or not texts:
        return True
    return sum(any(c.isdigit() for c in t) for t in texts) * 2 >= len(texts)

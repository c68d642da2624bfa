"""Which sheet of a file is which table, which of its rows holds the headings, and what each heading means.

    Grid(name, texts, merged)         one sheet of a file, as texts by (row, column)
    find_sheets(grids, template)      a SheetFound for each grid, in the same order
    find_table(grid, sheet)           one grid as one table, or None
    find_labels(grid, sheet)          one grid as labels with a value beside each, or None
    match_heading(text, sheet)        one heading, exactly: its own words, a synonym, with or without a unit
    SheetFound, Heading               what was found; `exact` is False where the words are only near

Sheets are told by their headings first and by their name second, columns by the words of
their heading only, never by position. A heading that could mean two fields means neither
and is left over. Nothing is dropped here: every heading of a table comes back, with its
field or without.

Not here: reading values (the survey reader), and carrying rows over (filling).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet, Template, spelling
from workbook_tools.survey.heading_words import match_heading, near_heading

__all__ = [
    "HEADING_ROWS",
    "Grid",
    "Heading",
    "SheetFound",
    "find_labels",
    "find_sheets",
    "find_table",
    "match_heading",
]

HEADING_ROWS = 20
"""The headings stand in one of the first rows; titles and logos may stand above them."""

_LABEL_ROWS = 80
_LABEL_COLUMNS = 8
_LONGEST_HEADING = 80
_OWN_NAME, _OTHER_NAME = 2.5, 1.5
_IDENTITY = 2.0
_LIKELY_ROWS = 3

Fits = Callable[[Column, Sequence[str]], bool]
"""Whether the texts below a heading can be what the column holds."""


class Grid(NamedTuple):
    """One sheet of a file: its name, its texts by (row, column) from 1, its merged ranges (top, left, bottom, right)."""

    name: str
    texts: Mapping[tuple[int, int], str]
    merged: Sequence[tuple[int, int, int, int]] = ()


@dataclass(frozen=True, slots=True)
class Heading:
    """One heading (or label) of a file and the field it was taken for; None where it is left over.

    `unit` is the unit that the heading states ("mm" of "Depth (mm)"), "" where it states
    none. `value_at` is where a label's value stands; for a table it is None. `own` are the
    words of the lower row where the heading is read from two ("Volts" of "Rating Volts").
    """

    row: int
    column: int
    text: str
    field: str | None
    exact: bool = True
    unit: str = ""
    value_at: tuple[int, int] | None = None
    own: str = ""

    @property
    def wordings(self) -> tuple[str, ...]:
        """The texts that may tell what it means: both rows together, then the lower alone."""
        return (self.text, self.own) if self.own and self.own != self.text else (self.text,)


@dataclass(frozen=True, slots=True)
class SheetFound:
    """One sheet of a file and what it was taken for.

    `key` is the template's sheet, None where none fits; `row` the (last) row of headings, 0
    where there is none. `rival` marks a sheet that fits a table which another sheet of the
    file fits better: more rows of the same table, or something else that looks like it.
    """

    name: str
    key: str | None = None
    row: int = 0
    headings: tuple[Heading, ...] = ()
    score: float = 0.0
    named: bool = False
    rival: bool = False

    @property
    def columns(self) -> dict[str, int]:
        """The column of each field."""
        return {h.field: h.column for h in self.headings if h.field is not None}

    @property
    def leftovers(self) -> tuple[Heading, ...]:
        """The headings that were taken for no field."""
        return tuple(h for h in self.headings if h.field is None)


def find_sheets(grids: Sequence[Grid], template: Template, *, fits: Fits | None = None) -> list[SheetFound]:
    """Say for each sheet of a file which sheet of the template it is.

    Parameters
    ----------
    grids : sequence of Grid
        The sheets in the order of the file.
    template : Template
        Whose sheets and headings are looked for.
    fits : callable, optional
        Asked with a column and the texts below a heading before a heading that is not the
        column's own is taken for it. Without it, only near headings are looked at closely.

    Returns
    -------
    found : list of SheetFound
        One for each grid, in the same order.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> old = Grid("Panels 2019", {(1, 1): "Panel", (1, 2): "Amps", (1, 3): "Volts", (2, 1): "LP-1"})
    >>> found, = find_sheets([old], load_template("office"))
    >>> found.key, found.columns
    ('equipment', {'tag': 1, 'rating_a': 2, 'voltage': 3})
    """
    found = [_best(grid, template, fits) for grid in grids]
    for key in {f.key for f in found if f.key is not None}:
        same = [i for i, f in enumerate(found) if f.key == key]
        first = max(same, key=lambda i: (found[i].score, -i))
        for i in same:
            if i != first:
                found[i] = replace(found[i], rival=True)
    return found


def _best(grid: Grid, template: Template, fits: Fits | None) -> SheetFound:
    best = SheetFound(grid.name)
    tables: list[tuple[float, Sheet]] = []
    for sheet in template.sheets:
        named = _name_points(grid.name, sheet)
        if sheet.layout in ("guide", "lists"):
            # Their cells hold headings of other sheets: only the name tells them.
            if named:
                return SheetFound(grid.name, sheet.key, named=True)
            continue
        if sheet.layout == "labels":
            found = find_labels(grid, sheet, fits=fits)
            best = found if found is not None and found.score > best.score else best
        else:
            likely = _likely_rows(grid, sheet)
            tables.append((named + max((row.points for row in likely), default=0.0), sheet))
    # Near words take long to look for, and never make up for half of the exact ones.
    most = max((points for points, _ in tables), default=0.0)
    for points, sheet in tables:
        found = find_table(grid, sheet, fits=fits) if points and points * 2 >= most else None
        best = found if found is not None and found.score > best.score else best
    return best


def _name_points(name: str, sheet: Sheet) -> float:
    # Copies and exports add to a name: "Equipment (2)", "Equipment - Table 1".
    words = spelling(name.split(" - Table")[0].split("(")[0])
    if words == spelling(sheet.name):
        return _OWN_NAME
    return _OTHER_NAME if words in {spelling(other) for other in sheet.also_called} else 0.0


def find_table(grid: Grid, sheet: Sheet, *, fits: Fits | None = None) -> SheetFound | None:
    """Look for the headings of a table sheet in the first rows of a grid.

    Two rows of headings ("Primary" above "Volts") are read as one heading where that tells
    more. None where the sheet's first column is not there, unless the sheet bears its name.
    """
    best: SheetFound | None = None
    for likely in _likely_rows(grid, sheet):
        found = _table_from(grid, sheet, likely.row, likely.headings, fits) if likely.points else None
        if found is not None and (best is None or found.score > best.score):
            best = found
    return best


class _LikelyRow(NamedTuple):
    points: float
    row: int
    headings: list[Heading]


def _likely_rows(grid: Grid, sheet: Sheet) -> list[_LikelyRow]:
    """Return the few rows with the most exact headings, alone or read with the row above, best first."""
    rows = _first_rows(grid, HEADING_ROWS)
    likely: list[_LikelyRow] = []
    points_above = 0.0
    for row in sorted(rows):
        single = _headings_of(rows[row], row, sheet)
        points = _points_of(single, sheet)
        likely.append(_LikelyRow(points, row, single))
        above = rows.get(row - 1)
        near_headings = points > 0 or points_above > 0
        points_above = points
        if (
            above is not None
            and near_headings
            and (any(h.field is None for h in single) or _reaches_down(grid, row))
        ):
            joined = _headings_of(_join_rows(grid, above, rows[row], row), row, sheet, rows[row])
            likely.append(_LikelyRow(_points_of(joined, sheet), row, joined))
    likely.sort(key=lambda found: -found.points)
    return [found for found in likely[:_LIKELY_ROWS] if found.points * 2 >= likely[0].points]


def _points_of(headings: Sequence[Heading], sheet: Sheet) -> float:
    return sum(_points(heading, sheet) for heading in headings)


def _reaches_down(grid: Grid, row: int) -> bool:
    return any(top == row - 1 and bottom >= row for top, _, bottom, _ in grid.merged)


def _first_rows(grid: Grid, count: int) -> dict[int, dict[int, str]]:
    rows: dict[int, dict[int, str]] = {}
    for (row, column), text in grid.texts.items():
        if row <= count and text.strip():
            rows.setdefault(row, {})[column] = text
    return rows


def _headings_of(
    texts: Mapping[int, str], row: int, sheet: Sheet, lower: Mapping[int, str] | None = None
) -> list[Heading]:
    headings = []
    for column, text in sorted(texts.items()):
        own = (lower or {}).get(column, "")
        said = (text, own) if own else (text,)
        matches = (match_heading(words, sheet) for words in said if len(words) <= _LONGEST_HEADING)
        match = next((found for found in matches if found is not None), None)
        name, unit = (match.column.field, match.unit) if match is not None else (None, "")
        headings.append(Heading(row, column, _one_line(text), name, True, unit, None, _one_line(own)))
    return headings


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
    headings = _one_each(headings, sheet)
    named = _name_points(grid.name, sheet)
    if sum(h.field is not None for h in headings) + (named > 0) >= 2:
        headings = _with_near(headings, sheet, below, fits)
    fields = {h.field for h in headings if h.field is not None}
    identity = sheet.columns[0].field if sheet.columns else ""
    if len(fields) < (1 if named else 2) or (identity not in fields and not named):
        return None
    score = sum(_points(h, sheet) for h in headings) + _IDENTITY * (identity in fields) + named
    return SheetFound(grid.name, sheet.key, row, tuple(headings), score, named > 0)


def _points(heading: Heading, sheet: Sheet) -> float:
    if heading.field is None:
        return 0.0
    column = sheet.by_field[heading.field]
    if column.live or not heading.exact:
        return 1.0
    own = spelling(column.heading)
    return 3.0 if any(spelling(words) == own for words in heading.wordings) else 2.0


def _one_each(headings: Iterable[Heading], sheet: Sheet) -> list[Heading]:
    """Give each field to one heading: its own words before a synonym, the first before a later one."""
    listed = list(headings)
    taken: dict[str, int] = {}
    for i in sorted(range(len(listed)), key=lambda i: (-_points(listed[i], sheet), i)):
        name = listed[i].field
        if name is not None and taken.setdefault(name, i) != i:
            listed[i] = replace(listed[i], field=None, exact=True, unit="")
    return listed


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
    if heading.field is None or _points(heading, sheet) != 2.0:
        return heading
    if fits(sheet.by_field[heading.field], below[heading.column]):
        return heading
    return replace(heading, field=None, unit="")


def _with_near(headings: list[Heading], sheet: Sheet, below: _Below, fits: Fits | None) -> list[Heading]:
    free = {c.field for c in sheet.typed} - {h.field for h in headings}
    # Of two rows only the lower counts here: a heading and the first entry below it are near the heading.
    claims: dict[str, list[tuple[int, str]]] = {}
    for i, heading in enumerate(headings):
        if heading.field is None and len(heading.text) <= _LONGEST_HEADING:
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


def find_labels(grid: Grid, sheet: Sheet, *, fits: Fits | None = None) -> SheetFound | None:
    """Look for the labels of a label sheet: each with its value to the right, or all in one row with values below.

    A label that is not known, in the column of the known ones and with a value beside it,
    comes back without a field.
    """
    rows = _first_rows(grid, _LABEL_ROWS)
    known = []
    for row, texts in sorted(rows.items()):
        for column, text in sorted(texts.items()):
            if column <= _LABEL_COLUMNS and len(text) <= _LONGEST_HEADING:
                match = match_heading(text.strip().rstrip(":"), sheet)
                if match is not None:
                    known.append(Heading(row, column, _one_line(text).rstrip(": "), match.column.field))
    beside = _Beside(grid, rows, sheet, known)
    known = [replace(heading, value_at=beside.place(heading.row, heading.column)) for heading in known]
    named = _name_points(grid.name, sheet)
    labels = _one_each([h for h in known if _leads_its_row(h, known)], sheet)
    columns = {h.column for h in labels if h.field is not None}
    rows_used = {h.row for h in labels if h.field is not None}
    across = _widest_row(grid, rows, sheet)
    if sum(h.field is not None for h in across) > max(2, len(rows_used)):
        labels = [replace(h, value_at=(h.row + 1, h.column)) for h in across]
    elif len(rows_used) >= 2 or (named and len(labels) == 1):
        labels = _with_unknown_labels(grid, rows, labels, columns, sheet, beside)
    else:
        labels = []
    fields = {h.field for h in labels if h.field is not None}
    if len(fields) < (1 if named else 2):
        return None
    score = sum(_points(h, sheet) for h in labels) + named
    return SheetFound(grid.name, sheet.key, 0, tuple(labels), score, named > 0)


def _widest_row(grid: Grid, rows: Mapping[int, dict[int, str]], sheet: Sheet) -> list[Heading]:
    below_one = [row for row in rows if row + 1 in rows and row <= HEADING_ROWS]
    found = [_one_each(_headings_of(rows[row], row, sheet), sheet) for row in sorted(below_one)]
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
            text = _one_line(texts[column]).rstrip(": ")
            near = near_heading(text, sheet) if len(text) <= _LONGEST_HEADING else None
            name = near.column.field if near is not None and near.column.field in free else None
            free.discard(name or "")
            out.append(Heading(row, column, text, name, name is None, "", at))
    return sorted(out, key=lambda h: (h.row, h.column))


@lru_cache(maxsize=4096)
def _one_line(text: str) -> str:
    return " ".join(text.split())

"""The rows of one sheet of an earlier survey.

    place_table(sheet, found, template, ...)   rows of one table, its extra columns, cells outside it
    PlacedTable, OutsideCell                   what comes of it
    with_unit(text, unit)                      a bare number with the unit behind it

A heading that was taken for no field keeps its column under its own heading. What stands
outside the rows (titles above, totals, notes between and below) is returned with its place,
so that the caller can keep it. A unit that only the heading states is written behind each
bare number, since the new workbook's heading no longer says it.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from workbook_tools.definitions import Sheet, spelling
from workbook_tools.filling.no_rows import is_no_row, repeats_headings
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey.headings import SheetFound

__all__ = ["OutsideCell", "PlacedTable", "extra_heading", "place_table", "with_unit"]

_BARE_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?(?:\s+[0-9]+/[0-9]+)?")


@dataclass(frozen=True, slots=True)
class OutsideCell:
    """A cell that belongs to no row: its sheet, place and text."""

    label: str
    row: int
    column: int
    text: str


@dataclass
class PlacedTable:
    """The rows of one table: by field, and under `extra` headings for the columns without one."""

    key: str
    rows: list[dict[str, str]] = field(default_factory=list)
    extra: list[str] = field(default_factory=list)
    outside: list[OutsideCell] = field(default_factory=list)
    with_units: dict[str, str] = field(default_factory=dict)
    computed: int = 0


def place_table(
    source: SourceSheet,
    found: SheetFound,
    sheet: Sheet,
    *,
    ours: bool = False,
    job_unit: str = "in",
    set_aside: Mapping[str, str] | None = None,
) -> PlacedTable:
    """Turn the rows below the headings into rows of a table.

    Parameters
    ----------
    source : SourceSheet
        The sheet of the source.
    found : SheetFound
        Its headings as found.
    sheet : Sheet
        The table of the template.
    ours : bool
        Whether the source is a survey workbook: what a formula made there is computed anew.
    job_unit : str
        The unit of a bare length in the new workbook.
    set_aside : mapping of str to str, optional
        Fields that are kept under another heading instead of being answered.
    """
    placed = PlacedTable(sheet.key)
    texts = source.grid.texts
    targets = _Targets(texts, source.computed if ours else (), found, sheet, set_aside or {})
    placed.extra = targets.extra
    by_row: dict[int, dict[int, str]] = {}
    for (row, column), text in sorted(texts.items()):
        by_row.setdefault(row, {})[column] = text
    merged = {(top, left) for top, left, bottom, right in source.grid.merged if right > left}
    _spread_down(by_row, source, found, found.columns.get(sheet.columns[0].field))
    for row, cells in by_row.items():
        if row <= found.row:
            placed.outside += _titles(source, row, cells, found)
            continue
        if _is_outside(row, cells, found, sheet, merged):
            placed.outside += [OutsideCell(source.label, row, c, text) for c, text in cells.items()]
            continue
        values: dict[str, str] = {}
        for column, text in cells.items():
            target = targets.by_column[column]
            if target:
                values[target] = _with_unit(text, column, found, sheet, job_unit, placed)
            elif (row, column) in source.computed:
                placed.computed += 1
            else:
                placed.outside.append(OutsideCell(source.label, row, column, text))
        if values:
            placed.rows.append(values)
    return placed


def _spread_down(
    by_row: dict[int, dict[int, str]], source: SourceSheet, found: SheetFound, identity: int | None
) -> None:
    """Give each row the answer of a cell that is merged over several rows, as a room over its panels."""
    last = max(by_row, default=0)
    joined: set[tuple[int, int]] = set()
    for top, left, bottom, _ in source.grid.merged:
        if found.row < top < bottom and left != identity and left in by_row.get(top, ()):
            for row in range(top + 1, min(bottom, last) + 1):
                if (row, left) in joined:  # ranges that overlap are damage; only the first counts
                    break
                joined.add((row, left))
                if row in by_row:
                    by_row[row].setdefault(left, by_row[top][left])


class _Targets:
    """The field or the extra heading that each column goes to; "" for a column that is computed anew."""

    def __init__(
        self,
        texts: Mapping[tuple[int, int], str],
        computed: Collection[tuple[int, int]],
        found: SheetFound,
        sheet: Sheet,
        set_aside: Mapping[str, str],
    ) -> None:
        self.extra: list[str] = []
        self.by_column: dict[int, str] = {}
        self._taken = {spelling(text) for c in sheet.columns for text in (c.heading, c.field)}
        below: dict[int, list[tuple[int, int]]] = {}
        for place in texts:
            if place[0] > found.row:
                below.setdefault(place[1], []).append(place)
        headings = {heading.column: heading for heading in found.headings}
        # A program that stores no results leaves formulas without a text.
        made = {column for row, column in computed if row > found.row}
        for column in sorted({*below, *headings}):
            heading = headings.get(column)
            defined = sheet.by_field.get(heading.field or "") if heading is not None else None
            alone = bool(below.get(column)) and all(place in computed for place in below[column])
            if defined is not None and not defined.live and defined.field not in set_aside:
                self.by_column[column] = defined.field
            elif alone or (defined is not None and defined.live and column in made):
                self.by_column[column] = ""
            elif column in below:
                named = set_aside.get(defined.field) if defined is not None else None
                self.by_column[column] = self._keep(
                    named or (heading.text if heading is not None else f"Column {column_letters(column)}")
                )

    def _keep(self, heading: str) -> str:
        name = extra_heading(heading, self._taken)
        self._taken.add(spelling(name))
        self.extra.append(name)
        return name


def extra_heading(heading: str, taken: Collection[str]) -> str:
    """Return the heading under which a column is kept: its own, numbered where that is taken.

    Examples
    --------
    >>> extra_heading("Colour", {"tag"}), extra_heading("Direction", {"direction"})
    ('Colour', 'Direction (2)')
    """
    text = " ".join(heading.split()) or "Column"
    name, number = text, 2
    while spelling(name) in taken:
        name, number = f"{text} ({number})", number + 1
    return name


def _titles(source: SourceSheet, row: int, cells: dict[int, str], found: SheetFound) -> list[OutsideCell]:
    headings = {h.column: h.text for h in found.headings}
    outside = []
    for column, text in cells.items():
        said = headings.get(column, "")
        is_heading = row == found.row or (row == found.row - 1 and said.startswith(" ".join(text.split())))
        if not is_heading:
            outside.append(OutsideCell(source.label, row, column, text))
    return outside


def _is_outside(
    row: int, cells: dict[int, str], found: SheetFound, sheet: Sheet, merged: Collection[tuple[int, int]]
) -> bool:
    """Whether a row is a repeated heading, a total, or a title or note between the rows."""
    headings = {heading.column: heading.wordings for heading in found.headings}
    if repeats_headings(cells, headings):
        return True
    identity = sheet.columns[0]
    wide = any((row, column) in merged for column in cells)
    of_tags = identity.holds == "tag" and len(headings) >= 3
    return is_no_row(cells, found.columns.get(identity.field, 0), len(headings), wide, of_tags=of_tags)


def _with_unit(
    text: str, column: int, found: SheetFound, sheet: Sheet, job_unit: str, placed: PlacedTable
) -> str:
    heading = next((h for h in found.headings if h.column == column), None)
    if heading is None or not heading.unit or heading.field is None:
        return text
    if sheet.by_field[heading.field].holds != "length" or heading.unit == job_unit:
        return text
    written = with_unit(text, heading.unit)
    if written != text:
        placed.with_units[heading.text] = heading.unit
    return written


def with_unit(text: str, unit: str) -> str:
    """Return a bare number with its unit behind it, and any other text as it is.

    Examples
    --------
    >>> with_unit("42 1/2", "in"), with_unit("3 ft", "in")
    ('42 1/2 in', '3 ft')
    """
    bare = text.strip()
    return f"{bare} {unit}" if _BARE_NUMBER.fullmatch(bare) else text

"""The tables of one sheet of a list: where each begins and ends, its headings, its rows, and what is neither.

    tables_of(sheet, homes)    Tables: every Table of a sheet, and the cells of none
    Table                      headings by column, rows by number, what stood above each row as a title
    TableHeading               one heading: as it is shown, and the wordings that may tell what it means

A table ends at a second row of headings, and at a blank column with other headings behind it. Its headings may
stand in up to three rows, merged or not, with a row of units below. Totals, notes and titles are no
rows; a title between the rows is remembered with the rows below it, since it may be their floor or room.

Not here: tables that lie across, and lists without headings (other_shapes); which rows hold
headings (heading_rows).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from workbook_tools.filling.heading_rows import Cells, HeadingRows, TableHeading, alone, with_digits
from workbook_tools.filling.homes import NEAR, Homes
from workbook_tools.filling.no_rows import is_floor, is_no_row, is_room, repeats_headings
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey import Equipment
from workbook_tools.survey.found_headings import LONGEST_HEADING, one_line

__all__ = ["Table", "Tables", "tables_of"]


@dataclass
class Table:
    """One table of a sheet: `titles` has for a row what stood above it alone.

    `places` tells where the cells of a table stand that lay across, or was a list of labels; `said` what it was;
    `top` is the first row of its headings; `known` is False where they are none that anybody would know;
    `labels` are the cells of a list of labels that are the headings.
    """

    sheet: SourceSheet
    number: int
    headings: dict[int, TableHeading]
    rows: dict[int, Cells]
    titles: dict[int, str] = field(default_factory=dict)
    places: Mapping[tuple[int, int], tuple[int, int]] = field(default_factory=dict)
    said: str = ""
    top: int = 0
    known: bool = True
    labels: frozenset[tuple[int, int]] = frozenset()

    def texts(self, column: int) -> list[str]:
        """Return the cells of a column, blanks left out."""
        return [cells[column] for cells in self.rows.values() if column in cells]

    @property
    def columns(self) -> list[int]:
        """Every column that has a heading or a cell, in order."""
        return sorted({*self.headings, *(column for cells in self.rows.values() for column in cells)})

    def heading(self, column: int) -> TableHeading:
        """Return the heading of a column; one without is called by its letters."""
        return self.headings.get(column) or TableHeading(f"Column {column_letters(column)}", ())

    def place(self, row: int, column: int) -> tuple[int, int]:
        """Where a cell stands in the file."""
        return self.places.get((row, column), (row, column))


class Tables(NamedTuple):
    """The tables of a sheet, and the places of cells that belong to none."""

    tables: list[Table]
    outside: list[tuple[int, int]]


def tables_of(sheet: SourceSheet, homes: Homes, *, named: bool = False) -> Tables:
    """Part a sheet into its tables; `named` tells a sheet that bears the name of one of the survey's."""
    rows: dict[int, Cells] = {}
    for (row, column), text in sorted(sheet.grid.texts.items()):
        rows.setdefault(row, {})[column] = text
    out = Tables([], [])
    bands = _bands(rows, homes)
    for band in bands:
        theirs = {row: {c: t for c, t in cells.items() if c in band} for row, cells in rows.items()}
        parting = _Parting(sheet, {row: cells for row, cells in theirs.items() if cells}, homes, named)
        parted = parting.tables()
        if not parted.tables:
            parted = parting.unknown() or parted
        out.tables.extend(parted.tables)
        out.outside.extend(parted.outside)
    for number, table in enumerate(out.tables, 1):
        table.number = number
    return out


def _bands(rows: Mapping[int, Cells], homes: Homes) -> list[set[int]]:
    """Part the columns where a blank one stands between two tables."""
    used = sorted({column for cells in rows.values() if len(cells) > 1 for column in cells})
    runs: list[set[int]] = []
    for column in used:
        if runs and column - 1 in runs[-1]:
            runs[-1].add(column)
        else:
            runs.append({column})
    bands: list[set[int]] = []
    for run in runs:
        if bands and not _begins_a_table(run, bands[-1], rows, homes):
            bands[-1] |= run
        else:
            bands.append(run)
    alone = {column for cells in rows.values() for column in cells} - set(used)
    if not bands:
        return [alone] if alone else []
    bands[0] |= alone
    return bands


def _begins_a_table(run: set[int], before: set[int], rows: Mapping[int, Cells], homes: Homes) -> bool:
    """Whether columns behind a blank one are a table of their own: two or more, headed by words that continue nothing."""
    if len(run) < 2:
        return False
    first = next((row for row, cells in rows.items() if len(run & cells.keys()) >= 2), 0)
    if not first:
        return False
    heading = rows.get(first, {}).get(min(run), "")
    if any(c.isdigit() for text in (rows[first][c] for c in run & rows[first].keys()) for c in text):
        return False
    theirs = homes.of((heading,))
    continues = any(home.sure > NEAR and not home.names_rows for home in theirs)
    headed = any(homes.knows(text) for c, text in rows[first].items() if c in before)
    return not (continues and headed)


class _Parting:
    def __init__(self, sheet: SourceSheet, rows: dict[int, Cells], homes: Homes, named: bool) -> None:
        self.sheet, self.rows, self.homes = sheet, rows, homes
        self.order = list(rows)
        self.merged = sheet.grid.merged
        self.headings = HeadingRows(rows, self.merged, homes, 1 if named else 2)

    def tables(self) -> Tables:
        out = Tables([], [])
        table: Table | None = None
        identity, of_tags = 0, True
        title, skip_to, last = "", 0, 0
        for i, row in enumerate(self.order):
            if row < skip_to:
                continue
            cells = self.rows[row]
            gap, last = row - last > 1, row
            headed = self.headings.at(i) if self._may_head(i, table, gap) else None
            if headed is not None:
                self._spread_down(table)
                skipped = [r for r in self.order[i:] if r < headed.first]
                out.outside.extend([(r, c) for r in skipped for c in self.rows[r]])
                table = Table(self.sheet, 0, headed.headings, {}, top=headed.first)
                out.tables.append(table)
                identity = self._identity(table)
                of_tags = self._is_of_tags(table, identity)
                skip_to, last, title = headed.last + 1, headed.last, self._title_above(headed.first)
            elif (
                table is None
                or self._is_title(i, table)
                or repeats_headings(cells, {c: h.wordings for c, h in table.headings.items()})
            ):
                out.outside.extend([(row, c) for c in cells])
            elif is_no_row(cells, identity, len(table.headings), self._is_wide(row, cells), of_tags=of_tags):
                out.outside.extend([(row, c) for c in cells])
                title = one_line(next(iter(cells.values()))) if len(cells) == 1 else title
            else:
                table.rows[row] = dict(cells)
                if title:
                    table.titles[row] = title
        self._spread_down(table)
        return out

    def _title_above(self, row: int) -> str:
        """Return what stands alone right above headings, where it is a floor or a room."""
        i = self.order.index(row)
        above = self.rows[self.order[i - 1]] if i else {}
        text = one_line(next(iter(above.values()))) if len(above) == 1 else ""
        return text if is_floor(text) or is_room(text) else ""

    def _is_title(self, i: int, table: Table) -> bool:
        """Whether a row stands alone above the headings of another table."""
        below = self.order[i + 1 : i + 2]
        return (
            len(self.rows[self.order[i]]) == 1
            and bool(below)
            and self._may_head(i + 1, table, True, above=False)
        )

    def unknown(self) -> Tables | None:
        """Take the rows for a table although none of its headings is known: to be kept together."""
        top = next((row for row in self.order if len(self.rows[row]) > 1), 0)
        below = [row for row in self.order if row > top]
        if not top or not below:
            return None
        rows = {row: dict(self.rows[row]) for row in below}
        sure = top == self.order[0] and not with_digits(self.rows[top])
        table = Table(self.sheet, 0, alone(self.rows[top]), rows, top=top, known=sure)
        return Tables([table], [(row, c) for row in self.order if row < top for c in self.rows[row]])

    def _is_wide(self, row: int, cells: Cells) -> bool:
        return any((row, column) in self.headings.wide for column in cells)

    def _identity(self, table: Table) -> int:
        """Return the column that names what a row speaks of."""
        return self.homes.naming({c: h.wordings for c, h in table.headings.items()}) or min(
            table.headings, default=0
        )

    def _is_of_tags(self, table: Table, identity: int) -> bool:
        homes = self.homes.of(table.heading(identity).wordings)
        named = [home for home in homes if home.names_rows and home.sure > NEAR]
        return any(home.column.field == Equipment.tag.name for home in named) or not named

    def _may_head(self, i: int, table: Table | None, gap: bool, *, above: bool = True) -> bool:
        cells = self.rows[self.order[i]]
        if table is None:
            return True
        if len(cells) < 2 or repeats_headings(cells, {c: h.wordings for c, h in table.headings.items()}):
            return False
        if with_digits(cells) or any(len(text) > LONGEST_HEADING for text in cells.values()):
            return False
        known = sum(self.homes.knows(text) for text in cells.values())
        below_a_title = above and self.headings.after_title(i)
        return known >= 3 or (known >= 2 and (gap or below_a_title)) or (gap and below_a_title)

    def _spread_down(self, table: Table | None) -> None:
        """Give each row the answer of a cell that is merged over several rows, as a room over its panels."""
        if table is None or not table.rows:
            return
        identity, last = self._identity(table), max(table.rows)
        joined: set[tuple[int, int]] = set()
        for top, left, bottom, _ in self.merged:
            if top in table.rows and top < bottom and left != identity and left in table.rows[top]:
                for row in range(top + 1, min(bottom, last) + 1):
                    if (row, left) in joined:  # ranges that overlap are damage; only the first counts
                        break
                    joined.add((row, left))
                    if row in table.rows:
                        table.rows[row].setdefault(left, table.rows[top][left])

"""The tables of one sheet of a list: where each begins and ends, its headings, its rows, and what is neither.

    tables_of(sheet, homes)    Tables: every Table of a sheet, and the cells of none
    Table                      headings by column, rows by number, what stood above each row as a title
    TableHeading               one heading: as it is shown, and the wordings that may tell what it means

A table ends at a second row of headings, and at a blank column with other headings behind it. Its headings may
stand in up to three rows, merged or not, with a row of units below. Totals, notes and titles are no
rows; a title between the rows is remembered with the rows below it, since it may be their floor or room.

Not here: tables that lie across, and lists without headings (other_shapes); what headings mean (homes).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from workbook_tools.definitions import spelling
from workbook_tools.filling.homes import NEAR, Homes
from workbook_tools.filling.no_rows import is_floor, is_no_row, repeats_headings
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey import Equipment
from workbook_tools.survey.found_headings import LONGEST_HEADING, one_line
from workbook_tools.survey.heading_words import is_unit

__all__ = ["Cells", "Table", "TableHeading", "Tables", "tables_of"]

Cells = dict[int, str]
_HEADING_ROWS = 3
_WIDEST_SPAN = 60


class TableHeading(NamedTuple):
    """One heading as it is shown, and the wordings that may tell what it means."""

    text: str
    wordings: tuple[str, ...]


@dataclass
class Table:
    """One table of a sheet: `titles` has for a row what stood above it alone.

    `places` tells where the cells of a table stand that lay across, or was a list of labels; `said` what it was;
    `top` is the first row of its headings; `known` is False where they are none that anybody would know.
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


class _Headed(NamedTuple):
    """Rows of headings: the first and the last of them, and the headings."""

    first: int
    last: int
    headings: dict[int, TableHeading]
    known: int


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
        self.least = 1 if named else 2
        self.order = list(rows)
        self.merged = sheet.grid.merged
        self.wide = {(top, left) for top, left, _, right in self.merged if right > left}

    def tables(self) -> Tables:
        out = Tables([], [])
        table: Table | None = None
        identity, of_tags = 0, True
        title, above, skip_to = "", "", 0
        last = 0
        for i, row in enumerate(self.order):
            if row < skip_to:
                continue
            cells = self.rows[row]
            gap, last = row - last > 1, row
            headed = self._headed(i) if self._may_head(i, table, gap, bool(above)) else None
            if headed is not None:
                self._spread_down(table)
                skipped = [r for r in self.order[i:] if r < headed.first]
                out.outside.extend([(r, c) for r in skipped for c in self.rows[r]])
                table = Table(self.sheet, 0, headed.headings, {}, top=headed.first)
                out.tables.append(table)
                identity = self._identity(table)
                of_tags = self._is_of_tags(table, identity)
                skip_to, last, title = headed.last + 1, headed.last, ""
            elif table is None or repeats_headings(cells, {c: h.wordings for c, h in table.headings.items()}):
                out.outside.extend([(row, c) for c in cells])
            elif is_no_row(cells, identity, len(table.headings), self._is_wide(row, cells), of_tags=of_tags):
                out.outside.extend([(row, c) for c in cells])
                title = one_line(next(iter(cells.values()))) if len(cells) == 1 else title
            else:
                table.rows[row] = dict(cells)
                if title:
                    table.titles[row] = title
            above = title if len(cells) == 1 else ""
        self._spread_down(table)
        return out

    def unknown(self) -> Tables | None:
        """Take the rows for a table although none of its headings is known: to be kept together."""
        top = next((row for row in self.order if len(self.rows[row]) > 1), 0)
        below = [row for row in self.order if row > top]
        if not top or not below:
            return None
        rows = {row: dict(self.rows[row]) for row in below}
        sure = top == self.order[0] and not _with_digits(self.rows[top])
        table = Table(self.sheet, 0, _alone(self.rows[top]), rows, top=top, known=sure)
        return Tables([table], [(row, c) for row in self.order if row < top for c in self.rows[row]])

    def _is_wide(self, row: int, cells: Cells) -> bool:
        return any((row, column) in self.wide for column in cells)

    def _identity(self, table: Table) -> int:
        """Return the column that names what a row speaks of."""
        return self.homes.naming({c: h.wordings for c, h in table.headings.items()}) or min(
            table.headings, default=0
        )

    def _is_of_tags(self, table: Table, identity: int) -> bool:
        homes = self.homes.of(table.heading(identity).wordings)
        named = [home for home in homes if home.names_rows and home.sure > NEAR]
        return any(home.column.field == Equipment.tag.name for home in named) or not named

    def _may_head(self, i: int, table: Table | None, gap: bool, below_a_title: bool) -> bool:
        cells = self.rows[self.order[i]]
        if table is None:
            return True
        if len(cells) < 2 or repeats_headings(cells, {c: h.wordings for c, h in table.headings.items()}):
            return False
        if _with_digits(cells) or any(len(text) > LONGEST_HEADING for text in cells.values()):
            return False
        known = sum(self.homes.knows(text) for text in cells.values())
        return known >= 3 or (known >= 2 and (gap or below_a_title)) or (gap and self._after_title(i))

    def _after_title(self, i: int) -> bool:
        """Whether the row above stands alone below a blank one: the title of another table."""
        if i < 1:
            return False
        above = self.rows[self.order[i - 1]]
        return len(above) == 1 and not is_floor(next(iter(above.values())))

    def _headed(self, i: int) -> _Headed | None:
        """Read the headings that begin in a row, or in one of the two below it, and say where they end."""
        best: _Headed | None = None
        for start in range(i, min(i + _HEADING_ROWS, len(self.order))):
            for count in range(1, _HEADING_ROWS + 1):
                found = self._read(start, count)
                if found is not None and (best is None or found.known > best.known):
                    best = found
        if best is None and i and self._after_title(i) and not _with_digits(self.rows[self.order[i]]):
            best = self._read(i, 1, least=0)
        return self._with_units(best) if best is not None else None

    def _read(self, start: int, count: int, least: int | None = None) -> _Headed | None:
        rows = self.order[start : start + count]
        if len(rows) < count or rows[-1] - rows[0] != count - 1:
            return None
        if count > 1 and len(self.rows[rows[0]]) < 2:
            return None
        together = [self.rows[row] for row in rows] if count > 1 else []
        if any(
            _with_digits(cells) or any(len(t) > LONGEST_HEADING for t in cells.values()) for cells in together
        ):
            return None
        headings = self._joined(rows) if count > 1 else _alone(self.rows[rows[0]])
        known = sum(self.homes.of(h.wordings) != () and self._sure(h) for h in headings.values())
        filled = len(headings)
        least = self.least if least is None else least
        if known < least or (known < 3 and known * 4 < filled and least):
            return None
        if count == 1 and known * 2 < len(_numbers(self.rows[rows[0]])):
            return None
        return _Headed(rows[0], rows[-1], headings, known)

    def _sure(self, heading: TableHeading) -> bool:
        return self.homes.of(heading.wordings)[0].sure > NEAR

    def _joined(self, rows: list[int]) -> dict[int, TableHeading]:
        columns = sorted({c for row in rows for c in self.rows[row]} | self._reached(rows))
        out: dict[int, TableHeading] = {}
        for column in columns:
            words = [self._above(row, column, rows) for row in rows]
            said = list(dict.fromkeys(word for word in words if word))
            if said:
                whole = one_line(" ".join(said))
                out[column] = TableHeading(whole, tuple(dict.fromkeys((whole, one_line(said[-1])))))
        return out

    def _reached(self, rows: list[int]) -> set[int]:
        return {
            c for top, left, _, right in self.merged if top in rows for c in range(left, min(right, left + _WIDEST_SPAN) + 1)
            if left in self.rows[top]
        }  # fmt: skip

    def _above(self, row: int, column: int, rows: list[int]) -> str:
        """Return the words of a heading row over a column: its own, or those of a cell that reaches over it."""
        own = self.rows[row].get(column, "")
        if own:
            return own
        for top, left, bottom, right in self.merged:
            if top <= row <= bottom and left <= column <= right and top in rows:
                return self.rows[top].get(left, "") if left in self.rows.get(top, {}) else ""
        if row == rows[-1] or not self.rows[rows[-1]].get(column):
            return ""
        # Not merged, but meant so: "Rated" over "Voltage" and "Current".
        left = max((c for c in self.rows[row] if c < column), default=0)
        if (row, left) in self.wide:
            return ""
        together = all(self.rows[rows[-1]].get(c) for c in range(left, column + 1)) if left else False
        return self.rows[row][left] if together else ""

    def _with_units(self, headed: _Headed) -> _Headed:
        """Take in a row of units below the headings."""
        after = next((row for row in self.order if row > headed.last), 0)
        units = self.rows.get(after, {})
        if after != headed.last + 1 or not units or not all(is_unit(text) for text in units.values()):
            return headed
        headings = dict(headed.headings)
        for column, unit in units.items():
            if column in headings:
                text, wordings = headings[column]
                headings[column] = TableHeading(
                    text, tuple(f"{said} ({unit.strip('()[] ')})" for said in wordings) + wordings
                )
        return _Headed(headed.first, after, headings, headed.known)

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


def _alone(cells: Cells) -> dict[int, TableHeading]:
    return {column: TableHeading(one_line(text), (one_line(text), text)) for column, text in cells.items()}


_FIGURE = re.compile(r"\d")


def _with_digits(cells: Cells) -> bool:
    """Whether a row holds figures, as entries do and headings hardly ever."""
    return any(_FIGURE.search(text) for text in cells.values() if not spelling(text).startswith("3ph"))


def _numbers(cells: Cells) -> list[str]:
    return [text for text in cells.values() if any(c.isdigit() for c in text)]

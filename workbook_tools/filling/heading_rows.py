"""Which rows of a list hold headings: one to three of them, merged or not, with a row of units below.

    HeadingRows(rows, merged, homes, least)   .at(i): the Headed that begins at a row, or just below; None for none
    Headed                                    the first row and the last, and the headings
    TableHeading                              one heading: as it is shown, and the wordings that may tell what it means

Not here: where a table ends (tables), what a heading means (homes).
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from workbook_tools.definitions import spelling
from workbook_tools.filling.homes import NEAR, Homes
from workbook_tools.filling.no_rows import is_floor
from workbook_tools.survey.found_headings import LONGEST_HEADING, one_line
from workbook_tools.survey.heading_words import is_unit

__all__ = ["Cells", "Headed", "HeadingRows", "TableHeading", "alone", "with_digits"]

Cells = dict[int, str]
_HEADING_ROWS = 3
_WIDEST_SPAN = 60


class TableHeading(NamedTuple):
    """One heading as it is shown, and the wordings that may tell what it means."""

    text: str
    wordings: tuple[str, ...]


class Headed(NamedTuple):
    """Rows of headings: the first and the last of them, and the headings."""

    first: int
    last: int
    headings: dict[int, TableHeading]
    known: int


class HeadingRows:
    """The rows of one part of a sheet, asked where headings begin; `least` is how many must be known."""

    def __init__(
        self, rows: Mapping[int, Cells], merged: Sequence[tuple[int, int, int, int]], homes: Homes, least: int
    ) -> None:
        self.rows, self.merged, self.homes, self.least = rows, merged, homes, least
        self.order = list(rows)
        self.wide = {(top, left) for top, left, _, right in merged if right > left}

    def after_title(self, i: int) -> bool:
        """Whether the row above stands alone below a blank one: the title of another table."""
        if i < 1:
            return False
        above = self.rows[self.order[i - 1]]
        return len(above) == 1 and not is_floor(next(iter(above.values())))

    def at(self, i: int) -> Headed | None:
        """Read the headings that begin in a row, or in one of the two below it, and say where they end."""
        best: Headed | None = None
        for start in range(i, min(i + _HEADING_ROWS, len(self.order))):
            for count in range(1, _HEADING_ROWS + 1):
                found = self._read(start, count)
                if found is not None and (best is None or found.known > best.known):
                    best = found
        if best is None and i and self.after_title(i) and not with_digits(self.rows[self.order[i]]):
            best = self._read(i, 1, least=0)
        return self._with_units(best) if best is not None else None

    def _read(self, start: int, count: int, least: int | None = None) -> Headed | None:
        rows = self.order[start : start + count]
        if len(rows) < count or rows[-1] - rows[0] != count - 1:
            return None
        if count > 1 and len(self.rows[rows[0]]) < 2:
            return None
        together = [self.rows[row] for row in rows] if count > 1 else []
        if any(
            with_digits(cells) or any(len(t) > LONGEST_HEADING for t in cells.values()) for cells in together
        ):
            return None
        headings = self._joined(rows) if count > 1 else alone(self.rows[rows[0]])
        known = sum(self._is_known(h) for h in headings.values())
        filled = len(headings)
        least = self.least if least is None else least
        if known < least or (known < 3 and known * 4 < filled and least):
            return None
        plain = sum(not _FIGURE.search(h.text) and self._is_known(h) for h in headings.values())
        if plain < min(least, known):
            return None  # "Panelboard 1" is an entry
        if count == 1 and known * 2 < len(_numbers(self.rows[rows[0]])):
            return None
        return Headed(rows[0], rows[-1], headings, known)

    def _is_known(self, heading: TableHeading) -> bool:
        return any(home.sure > NEAR for home in self.homes.of(heading.wordings))

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

    def _with_units(self, headed: Headed) -> Headed:
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
        return Headed(headed.first, after, headings, headed.known)


def alone(cells: Cells) -> dict[int, TableHeading]:
    """Return the headings of one row."""
    return {column: TableHeading(one_line(text), (one_line(text), text)) for column, text in cells.items()}


_FIGURE = re.compile(r"\d")


def with_digits(cells: Cells) -> bool:
    """Whether a row holds figures, as entries do and headings hardly ever."""
    return any(_FIGURE.search(text) for text in cells.values() if not spelling(text).startswith("3ph"))


def _numbers(cells: Cells) -> list[str]:
    return [text for text in cells.values() if any(c.isdigit() for c in text)]

"""The rows of one table sheet: which are entries, and which are totals, notes, titles or blank.

    read_rows(sheet, found, definition, readers)   TableRead: rows, and what stands around them
    column_readers(definition, found, ...)         a reader for each typed column of the sheet

A row is an entry when somebody typed into one of its columns. Not entries, but kept:
totals under the table, a note that stands alone, a heading between groups of rows, the
headings repeated on a later page. Live cells are never data: a row in which nothing else
stands is blank, and so is a row that only carries the defaults it was prepared with.

Not here: which sheet is which table and what its headings mean (headings).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from workbook_tools.definitions import Column, Template, spelling
from workbook_tools.definitions import Sheet as Definition
from workbook_tools.spreadsheet import Cell, Sheet
from workbook_tools.spreadsheet.cells import column_letters
from workbook_tools.survey.cells import NO_COLUMN, Outcome, Value
from workbook_tools.survey.found_headings import identity_of
from workbook_tools.survey.heading_words import is_of_workings
from workbook_tools.survey.headings import SheetFound
from workbook_tools.survey.own_texts import OwnTexts
from workbook_tools.survey.rows import Row, row_class
from workbook_tools.survey.values import ColumnReader

__all__ = ["TableRead", "as_value", "column_readers", "comment", "read_rows", "rows_of"]

_TOTALS = frozenset(
    [
        "total",
        "totals",
        "grandtotal",
        "subtotal",
        "subtotals",
        "sum",
        "sums",
        "overall",
        "overalltotal",
        "totalcount",
        "counttotal",
        "number",
        "numberof",
        "count",
        "counts",
        "average",
    ]
)
_NOTE = re.compile(
    r"\s*(?:notes?|n\.?b\.?|remarks?|legend|see|source|\*+|†)\s*(?:[:.)]|(?<=\*)|\s\S+\s)", re.IGNORECASE
)
_WORDS_OF_A_NOTE = 4
_LONGEST_TOLD = 300
_WIDTH_OF_A_GROUP_HEADING = 3


@dataclass(slots=True)
class TableRead:
    """The rows of a sheet, and what stands around them: `titles` are our own, `stray` what somebody typed."""

    rows: list[Row] = field(default_factory=list)
    titles: list[Value[Any]] = field(default_factory=list)
    stray: list[Value[Any]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def comment(
    text: str, sheet: str, place: str, column: Column = NO_COLUMN, says: str = "a comment here says"
) -> Value[Any]:
    """Return a text that stands over a cell of a row: read, and to be looked at."""
    return Value(Outcome.VALUE, text, text, sheet, place, note=f"{says} {_short(text)!r}", column=column)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= _LONGEST_TOLD else f"{text[:_LONGEST_TOLD]}…"


def as_value(cell: Cell, sheet: str, place: str, column: Column = NO_COLUMN) -> Value[Any]:
    """Return a cell that is no answer to anything: what stands in it, unread."""
    return Value(
        Outcome.VALUE, cell.text, cell.value, sheet, place, formula=cell.formula or "", column=column
    )


def rows_of(sheet: Sheet) -> Iterator[tuple[int, dict[int, Cell]]]:
    """Yield the filled rows of a sheet from the top, each as its cells by column."""
    rows: dict[int, dict[int, Cell]] = {}
    for (number, column), cell in sheet.cells.items():
        row = rows.get(number)
        if row is None:
            row = rows[number] = {}
        row[column] = cell
    yield from sorted(rows.items())


def column_readers(
    definition: Definition, found: SheetFound, template: Template, unit: str, tags: Collection[str]
) -> dict[str, ColumnReader]:
    """Return a reader for each typed column that the sheet has; a length column may state its own unit."""
    readers = {}
    for heading in found.headings:
        column = definition.by_field.get(heading.field or "")
        if column is not None and not column.live:
            own_unit = heading.unit if column.holds == "length" and heading.unit else unit
            readers[column.field] = ColumnReader(column, template, own_unit, tags)
    return readers


def read_rows(
    sheet: Sheet,
    found: SheetFound,
    definition: Definition,
    readers: Mapping[str, ColumnReader],
    own: OwnTexts,
) -> TableRead:
    """Read every row of a table sheet; `own` tells what the workbook says above it by itself."""
    return _Table(sheet, found, definition, readers, own).read()


class _Table:
    def __init__(
        self,
        sheet: Sheet,
        found: SheetFound,
        definition: Definition,
        readers: Mapping[str, ColumnReader],
        own: OwnTexts,
    ) -> None:
        self.sheet = sheet
        self.own = own
        self.found = found
        self.definition = definition
        self.out = TableRead()
        self.typed: dict[int, ColumnReader] = {}
        self.live: dict[int, Column] = {}
        self.extra: dict[int, str] = {}
        self.workings: set[int] = set()
        self.headings: dict[int, str] = {}
        for heading in found.headings:
            self.headings[heading.column] = spelling(heading.text)
            column = definition.by_field.get(heading.field or "")
            if column is None and is_of_workings(heading.text):
                self.workings.add(heading.column)
            elif column is None:
                self.extra[heading.column] = self._own_name(heading.text, heading.column)
            elif column.live:
                self.live[heading.column] = column
            else:
                self.typed[heading.column] = readers[column.field]
        # A formula without a result is asked about where an answer belongs, and only there.
        sheet.restore_quiet(self.typed)
        self.letters = {c: column_letters(c) for c in (*self.typed, *self.live, *self.extra)}
        self.places = {reader.field: self.letters[c] for c, reader in self.typed.items()}
        self.places.update((column.field, self.letters[c]) for c, column in self.live.items())
        self.key = identity_of(definition)
        self.key_column = next((c for c, reader in self.typed.items() if reader.field == self.key), 0)
        self.joined, self.wide = self._merged()

    def _own_name(self, text: str, column: int) -> str:
        return f"{text} ({column_letters(column)})" if text in self.extra.values() else text

    def _merged(self) -> tuple[dict[tuple[int, int], tuple[int, int]], set[tuple[int, int]]]:
        """Cells that a merged range covers downwards, with where its text stands; starts of wide ranges."""
        joined: dict[tuple[int, int], tuple[int, int]] = {}
        wide: set[tuple[int, int]] = set()
        for top, left, bottom, right in self.sheet.merged:
            if top <= self.found.row or (top, left) not in self.sheet.cells:
                continue
            if right - left + 1 >= _WIDTH_OF_A_GROUP_HEADING:
                wide.add((top, left))
            if left in self.typed:
                for row in range(top + 1, min(bottom, top + 5000) + 1):
                    if (row, left) in joined:  # ranges that overlap are damage; only the first counts
                        break
                    joined[row, left] = (top, left)
        return joined, wide

    def read(self) -> TableRead:
        name = self.sheet.name
        last_entry = self.found.row
        typed, live, make = self.typed, self.live, row_class(self.definition.key)
        for number, cells in rows_of(self.sheet):
            if number <= self.found.row:
                self._above(number, cells)
                continue
            row = make(self.definition, name, number, places=self.places)
            plain_typed: list[int] = []
            formulas: list[int] = []
            computed: list[int] = []
            for column, cell in cells.items():
                says = cell.text.strip()
                if column in typed:
                    if cell.formula is not None:
                        if says or cell.value is None:
                            formulas.append(column)
                    elif says or cell.kind in ("picture", "error"):
                        plain_typed.append(column)
                elif not says:
                    continue
                elif column in live:
                    place = f"{self.letters[column]}{number}"
                    row.live[live[column].field] = as_value(cell, name, place, live[column])
                elif column in self.workings:
                    if cell.formula is None:
                        computed.append(column)
                elif column not in self.extra:
                    self._stray(number, column, cell)
                elif cell.formula is None:
                    plain_typed.append(column)
            over = self._typed_over(cells, computed) if computed else []
            if not plain_typed:
                self._nothing_typed(number, cells, row, formulas)
            elif self._only_defaults(cells, plain_typed):
                self._keep_overtyped(row)
            elif self._repeats_headings(cells, plain_typed):
                self._around(row, cells, self.out.titles)
            elif self._is_no_entry(number, cells, plain_typed, number - last_entry > 1):
                self._around(row, cells, self.out.stray)
            else:
                self._fill(row, number, cells)
                self.out.rows.append(row)
                last_entry = number
                row.comments = tuple(self._in_workings(number, column, cells[column]) for column in over)
                over = []
            for column in over:
                self._stray(number, column, cells[column])
        return self.out

    def _typed_over(self, cells: dict[int, Cell], computed: list[int]) -> list[int]:
        """Return the hidden computing columns in which somebody typed words.

        A program that saves no formulas leaves a result in all of them; a person writes in one.
        """
        if len(computed) > 1 and len(computed) * 2 >= len(self.workings):
            return []
        return [column for column in computed if any(c.isalpha() for c in cells[column].text)]

    def _in_workings(self, number: int, column: int, cell: Cell) -> Value[Any]:
        place = f"{column_letters(column)}{number}"
        return comment(
            cell.text, self.sheet.name, place, says="in a hidden column, where nothing is looked for, stands"
        )

    def _fill(self, row: Row, number: int, cells: dict[int, Cell]) -> None:
        name, typed, letters, values = self.sheet.name, self.typed, self.letters, row.values
        for column, cell in cells.items():
            reader = typed.get(column)
            if reader is not None:
                values[reader.field] = reader.read(cell, name, f"{letters[column]}{number}")
            elif column in self.extra and cell.text.strip():
                row.extra[self.extra[column]] = as_value(cell, name, f"{self.letters[column]}{number}")
        if self.joined:
            self._fill_from_merged(row, number, cells)

    def _fill_from_merged(self, row: Row, number: int, cells: dict[int, Cell]) -> None:
        for column, reader in self.typed.items():
            start = self.joined.get((number, column))
            if start is not None and column not in cells:
                place = f"{self.letters[column]}{start[0]}"
                row.values[reader.field] = reader.read(self.sheet.cells[start], self.sheet.name, place)

    def _nothing_typed(self, number: int, cells: dict[int, Cell], row: Row, formulas: list[int]) -> None:
        """Keep what a row of formulas holds: totals, or live cells waiting for an entry."""
        for column in formulas:
            if cells[column].text.strip():
                self._stray(number, column, cells[column])
        self._keep_overtyped(row)

    def _keep_overtyped(self, row: Row) -> None:
        """Keep the live cells that somebody typed into, on a row that is no entry."""
        self.out.stray.extend(value for value in row.live.values() if not value.formula)

    def _above(self, number: int, cells: dict[int, Cell]) -> None:
        for column, cell in cells.items():
            if cell.text.strip() and not (number == self.found.row and column in self.headings):
                said = (heading.text for heading in self.found.headings)
                ours = cell.formula is not None or self.own.above(cell.text, said)
                self._put(number, column, cell, self.out.titles if ours else self.out.stray)

    def _around(self, row: Row, cells: dict[int, Cell], where: list[Value[Any]]) -> None:
        for column, cell in cells.items():
            if cell.text.strip() and (column in self.typed or column in self.extra):
                self._put(row.number, column, cell, where)
        self._keep_overtyped(row)

    def _stray(self, number: int, column: int, cell: Cell) -> None:
        self._put(number, column, cell, self.out.stray)

    def _put(self, number: int, column: int, cell: Cell, where: list[Value[Any]]) -> None:
        where.append(as_value(cell, self.sheet.name, f"{column_letters(column)}{number}"))

    def _only_defaults(self, cells: dict[int, Cell], filled: list[int]) -> bool:
        return all(_is_default(cells[c], self.typed[c].column) if c in self.typed else False for c in filled)

    def _repeats_headings(self, cells: dict[int, Cell], filled: list[int]) -> bool:
        if len(filled) < 2 or len(filled) * 2 < len(self.headings):
            return False
        return all(spelling(cells[c].text) == self.headings[c] for c in filled)

    def _is_no_entry(self, number: int, cells: dict[int, Cell], filled: list[int], apart: bool) -> bool:
        if any(spelling(cells[c].text.rstrip(":= ")) in _TOTALS for c in filled[:2]) and self._is_totals(
            cells, filled
        ):
            return True
        if len(filled) > 1:
            return False
        (only,) = filled
        if (number, only) in self.wide:
            return True
        text = cells[only].text
        if only != self.key_column:
            return apart and self.key_column != 0
        if _NOTE.match(text):
            return True
        key_holds = self.definition.by_field[self.key].holds
        named_by_words = key_holds in ("room", "text") or self.definition.key == "findings"
        return not named_by_words and len(text.split()) >= _WORDS_OF_A_NOTE

    def _is_totals(self, cells: dict[int, Cell], filled: list[int]) -> bool:
        """Whether beside the word for a total only numbers stand."""
        others = [c for c in filled if spelling(cells[c].text.rstrip(":= ")) not in _TOTALS]
        return all(cells[c].kind == "number" or _is_bare_number(cells[c].text) for c in others)


def _is_bare_number(text: str) -> bool:
    return text.strip().replace(",", "").replace(".", "", 1).isdigit()


def _is_default(cell: Cell, column: Column) -> bool:
    # A box to tick is stored as FALSE on every row that was prepared.
    if cell.kind == "bool":
        return cell.value is False
    return bool(column.default) and spelling(cell.text) == spelling(column.default)

"""Where every sheet and column of a survey workbook stands.

    Layout(template, extra_columns, rows)   all tables of one workbook
    Table                                   one sheet: letters of its columns, first and last row
    letters(n), WORKINGS

A table sheet has a line about itself in row 1, the headings in row 2 and the first entry in
row 3. Columns stand in the order of the template; extra columns follow, and behind them the
hidden columns in which live cells compute, headed WORKINGS and a name, which the reader leaves out.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from workbook_tools.definitions import Column, Sheet, Template
from workbook_tools.survey import Field, Job
from workbook_tools.survey.heading_words import WORKINGS

__all__ = ["FIRST_ROW", "HEADING_ROW", "WORKINGS", "Layout", "Table", "letters"]

HEADING_ROW = 2
FIRST_ROW = 3


@cache
def letters(column: int) -> str:
    """Return the letters of a column counted from 1.

    Examples
    --------
    >>> letters(1), letters(27), letters(703)
    ('A', 'AA', 'AAA')
    """
    text = ""
    while column:
        column, rest = divmod(column - 1, 26)
        text = chr(65 + rest) + text
    return text


def in_formulas(sheet: str) -> str:
    """Return the name of a sheet as a formula writes it: in quotes, but for a plain word that is nothing else.

    Examples
    --------
    >>> in_formulas("Rooms"), in_formulas("Not inspected"), in_formulas("AB1"), in_formulas("True")
    ('Rooms', "'Not inspected'", "'AB1'", "'True'")
    """
    plain = sheet.isascii() and sheet.isalpha() and len(sheet) > 3 and sheet.upper() not in ("TRUE", "FALSE")
    return sheet if plain else "'" + sheet.replace("'", "''") + "'"


class Table:
    """One table sheet: which column holds what."""

    def __init__(self, sheet: Sheet, extra: Sequence[str], last_row: int) -> None:
        self.sheet = sheet
        self.extra = tuple(extra)
        self.last_row = last_row
        self.columns: tuple[Column, ...] = sheet.columns
        self.letters = {column.field: letters(number) for number, column in enumerate(sheet.columns, 1)}
        self.extra_letters = {
            heading: letters(number) for number, heading in enumerate(extra, len(sheet.columns) + 1)
        }
        self.workings: dict[str, str] = {}
        self.said: list[tuple[str, str]] = []
        """What the row check can say, in order: a hidden cell, blank where it says nothing, and the words."""

    @property
    def quoted_name(self) -> str:
        """The sheet's name as a formula writes it: in quotes where it needs them."""
        return in_formulas(self.sheet.name)

    def add_working(self, name: str) -> str:
        """Give a hidden column the next free letters and return them.

        Raises
        ------
        ValueError
            A name that is taken: a reference would go to the wrong column.
        """
        if name in self.letters or name in self.workings:
            raise ValueError(f"{self.sheet.name} has a column {name!r} already")
        self.workings[name] = letters(len(self.columns) + len(self.extra) + len(self.workings) + 1)
        return self.workings[name]

    def cell(self, column: Field[Any] | str) -> str:
        """Return the reference to a column (or a working, by its name) of the same row, with {r} for its number.

        A column that the template does not have is a blank text.
        """
        name = column.name if isinstance(column, Field) else column
        found = self.letters.get(name) or self.workings.get(name)
        return f"${found}{{r}}" if found else '""'

    def range(self, field: str) -> str:
        """Return the absolute reference to all rows of a field or a working, with the sheet's name."""
        found = self.letters.get(field) or self.workings[field]
        return f"{self.quoted_name}!${found}${FIRST_ROW}:${found}${self.last_row}"

    def own_range(self, field: str) -> str:
        """Return the same reference for a formula on this sheet."""
        return self.range(field).rpartition("!")[2]

    def typed_runs(self) -> list[tuple[str, str]]:
        """Return the stretches of columns that a person types in, live cells left out."""
        runs: list[list[str]] = []
        joined = False
        typed = [(self.letters[c.field], not c.live) for c in self.columns]
        typed += [(place, True) for place in self.extra_letters.values()]
        for place, is_typed in typed:
            if is_typed and joined:
                runs[-1][1] = place
            elif is_typed:
                runs.append([place, place])
            joined = is_typed
        return [(first, last) for first, last in runs]


class Layout:
    """The tables of one workbook, and the cells of its Job sheet."""

    def __init__(
        self, template: Template, extra_columns: Mapping[str, Sequence[str]], rows: Mapping[str, int]
    ) -> None:
        self.template = template
        self.tables = {
            sheet.key: Table(sheet, extra_columns.get(sheet.key, ()), FIRST_ROW + rows[sheet.key] - 1)
            for sheet in template.sheets
            if sheet.layout == "table"
        }
        self.job = template.by_key[Job.key]
        self.lists_name = in_formulas(template.by_key["lists"].name)

    def job_cell(self, answer: Field[Any] | Column) -> str:
        """Return the absolute reference to an answer of the Job sheet; a blank text where there is none."""
        name = answer.name if isinstance(answer, Field) else answer.field
        for number, column in enumerate(self.job.columns):
            if column.field == name:
                return f"{in_formulas(self.job.name)}!$B${FIRST_ROW + number}"
        return '""'

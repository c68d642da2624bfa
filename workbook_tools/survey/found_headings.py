"""What is found of headings, and how well a heading fits: for tables and label sheets alike.

    Grid, Heading, SheetFound      one sheet as texts; one heading; one sheet and what it was taken for
    headings_of(texts, row, sheet) the headings of one row, each with the field that it means exactly
    one_each(headings, sheet)      each field for one heading only
    points_of_heading, name_points how much a heading, or a sheet's name, tells

Not here: which row holds the headings (table_headings), labels (label_headings).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet, spelling
from workbook_tools.definitions.relied_on import IDENTITY
from workbook_tools.survey.heading_words import Match, match_heading, spelled

__all__ = [
    "HEADING_ROWS",
    "LONGEST_HEADING",
    "OWN_NAME",
    "FirstRows",
    "Fits",
    "Grid",
    "Heading",
    "SheetFound",
    "first_rows",
    "headings_of",
    "identity_of",
    "name_points",
    "one_each",
    "one_line",
    "points_of_heading",
    "points_of_row",
]

HEADING_ROWS = 20
"""The headings stand in one of the first rows; titles and logos may stand above them."""

LONGEST_HEADING = 80
OWN_NAME, _OTHER_NAME = 2.5, 1.5

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


def identity_of(sheet: Sheet) -> str:
    """Return the field that says what a row of the sheet speaks of: the tag, the room, the file."""
    named = IDENTITY.get(sheet.key, "")
    return named if named in sheet.by_field else next((column.field for column in sheet.typed), "")


def name_points(name: str, sheet: Sheet) -> float:
    """Return how much the name of a sheet tells: its own name, another it is known by, or neither."""
    # Copies and exports add to a name: "Equipment (2)", "Equipment - Table 1".
    words = spelling(name.split(" - Table")[0].split("(")[0])
    if words == spelling(sheet.name):
        return OWN_NAME
    return _OTHER_NAME if words in {spelling(other) for other in sheet.also_called} else 0.0


def first_rows(grid: Grid, count: int) -> dict[int, dict[int, str]]:
    """Return the filled cells of the first rows, by row and column."""
    rows: dict[int, dict[int, str]] = {}
    for (row, column), text in grid.texts.items():
        if row <= count and text.strip():
            rows.setdefault(row, {})[column] = text
    return rows


class FirstRows:
    """The first rows of one sheet of a file, gathered once for all tables that it is compared with."""

    def __init__(self, grid: Grid) -> None:
        self.rows = first_rows(grid, HEADING_ROWS)
        self._spelled = {
            row: frozenset(
                form for text in texts.values() if len(text) <= LONGEST_HEADING for form in spelled(text)
            )
            for row, texts in self.rows.items()
        }

    def may_head(self, row: int, sheet: Sheet) -> bool:
        """Whether the row may hold a heading of the sheet in its exact words: False is sure."""
        return not self._spelled[row].isdisjoint(sheet.by_spelling)


def headings_of(
    texts: Mapping[int, str], row: int, sheet: Sheet, lower: Mapping[int, str] | None = None
) -> list[Heading]:
    """Return the headings of one row, each with the field that it means exactly."""
    headings = []
    for column, text in sorted(texts.items()):
        own = lower.get(column, "") if lower else ""
        match = _exact(text, own, sheet)
        name, unit = (match.column.field, match.unit) if match is not None else (None, "")
        headings.append(Heading(row, column, one_line(text), name, True, unit, None, one_line(own)))
    return headings


def _exact(text: str, own: str, sheet: Sheet) -> Match | None:
    match = match_heading(text, sheet) if len(text) <= LONGEST_HEADING else None
    if match is None and own and len(own) <= LONGEST_HEADING:
        return match_heading(own, sheet)
    return match


def points_of_row(
    texts: Mapping[int, str], sheet: Sheet, lower: Mapping[int, str] | None = None
) -> tuple[float, bool]:
    """Return how much the headings of a row tell together, and whether some tell nothing; makes none of them."""
    points, some_unknown = 0.0, False
    for column, text in texts.items():
        own = lower.get(column, "") if lower else ""
        match = _exact(text, own, sheet)
        if match is None:
            some_unknown = True
        else:
            points += _points_of_words(match.column, (text, own) if own else (text,))
    return points, some_unknown


def points_of_heading(heading: Heading, sheet: Sheet) -> float:
    """Return how much a heading tells: the column's own words, a synonym, a live or a near one."""
    if heading.field is None:
        return 0.0
    column = sheet.by_field[heading.field]
    return _points_of_words(column, heading.wordings) if heading.exact else 1.0


def _points_of_words(column: Column, wordings: Sequence[str]) -> float:
    if column.live:
        return 1.0
    own = spelling(column.heading)
    return 3.0 if any(spelling(words) == own for words in wordings) else 2.0


def one_each(headings: Iterable[Heading], sheet: Sheet) -> list[Heading]:
    """Give each field to one heading: its own words before a synonym, the first before a later one."""
    listed = _told_apart(list(headings), sheet)
    taken: dict[str, int] = {}
    for i in sorted(range(len(listed)), key=lambda i: (-points_of_heading(listed[i], sheet), i)):
        name = listed[i].field
        if name is not None and taken.setdefault(name, i) != i:
            listed[i] = replace(listed[i], field=None, exact=True, unit="")
    return listed


def _told_apart(headings: list[Heading], sheet: Sheet) -> list[Heading]:
    """Give a heading that could mean two columns to the second, where another heading takes the first.

    "Main amps" alone is the rating; beside "Bus amps" it is the main's.
    """
    second = [_beside(heading, sheet) for heading in headings]
    if not any(second):
        return headings
    firsts = {heading.field for heading, other in zip(headings, second, strict=True) if other is None}
    return [
        replace(heading, field=other.field) if other is not None and heading.field in firsts else heading
        for heading, other in zip(headings, second, strict=True)
    ]


def _beside(heading: Heading, sheet: Sheet) -> Column | None:
    forms = (form for text in heading.wordings for form in spelled(text))
    return next((sheet.beside[form] for form in forms if form in sheet.beside), None)


@lru_cache(maxsize=4096)
def one_line(text: str) -> str:
    """Return the text without line breaks and double spaces."""
    return " ".join(text.split())

"""What a spreadsheet file holds, once read: sheets, cells, pictures, damage.

    Workbook    the file: its sheets, custom properties and damage
    Sheet       name, hidden or not, cells by (row, column), merged ranges, pictures
    Cell        kind, value, the text as typed, formula, number format
    Range       a merged range, both ends counted
    Picture     where a picture sits and which part of the file holds it
    Remark      a text that stands in no cell: a comment, a text box
    Damage      one thing that could not be read, with its place
    cell_name   (5, 3) -> "C5"
    position    "C5" -> (5, 3)

Not here: what the cells mean. Nothing in this package knows of surveys.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from pathlib import Path
from typing import Literal, NamedTuple

__all__ = [
    "LAST_COLUMN",
    "LAST_ROW",
    "Cell",
    "Damage",
    "Kind",
    "Picture",
    "Range",
    "Remark",
    "Sheet",
    "Value",
    "Workbook",
    "cell_name",
    "column_letters",
    "position",
]

# The grid of the file formats: XFD1048576 (OI29500 in sources.csv describes the same limits).
LAST_ROW = 1_048_576
LAST_COLUMN = 16_384

MOST_DAMAGE = 1_000  # entries a sheet lists; a file with more is beyond mending cell by cell

MOST_REMARKS = 20_000  # comments and text boxes of a sheet
LONGEST_TEXT = 32_767  # characters; a cell holds no more either

Kind = Literal["text", "number", "date", "bool", "error", "picture"]
Value = str | float | bool | date | datetime | time | timedelta | None


class Cell(NamedTuple):
    """One filled cell. Never changes, so equal cells of a file share one object.

    Attributes
    ----------
    kind : str
        "text", "number", "date", "bool", "error" or "picture".
    value : str, float, bool, date, datetime, time, timedelta or None
        None for a formula without a stored result and for content that is lost
        (kind "error" with an empty text, explained in the sheet's damage).
        A date outside the calendar keeps its serial number as the value.
    text : str
        What was typed, for text; "1600", "0.5", "2026-11-03", "TRUE", "#N/A" for the rest.
    formula : str or None
        Begins with "="; a cell that only continues a shared or array formula carries
        the text of that formula's first cell. TRUE() and FALSE() are no formulas: a
        ticked boolean is saved that way.
    number_format : str or None
        The format code, None when the file states none.
    serial : float or None
        The stored number of a date cell of an .xlsx file.
    """

    kind: Kind
    value: Value
    text: str
    formula: str | None = None
    number_format: str | None = None
    serial: float | None = None


class Range(NamedTuple):
    """A block of cells, first and last row and column included."""

    top: int
    left: int
    bottom: int
    right: int

    @property
    def size(self) -> int:
        """Number of cells."""
        return (self.bottom - self.top + 1) * (self.right - self.left + 1)

    def places(self) -> Iterator[tuple[int, int]]:
        """Row and column of every cell, row by row."""
        for row in range(self.top, self.bottom + 1):
            for column in range(self.left, self.right + 1):
                yield row, column

    def holds(self, place: tuple[int, int]) -> bool:
        """Tell whether a cell lies inside."""
        return self.top <= place[0] <= self.bottom and self.left <= place[1] <= self.right


class Picture(NamedTuple):
    """A picture of the file: its place, and the part that holds its bytes.

    Row and column are 0 when the picture is tied to the sheet, not to a cell.
    """

    sheet: str
    row: int
    column: int
    part: str
    floating: bool
    description: str = ""


class Remark(NamedTuple):
    """A text that somebody wrote over the cells: a comment on one, or a text box.

    Row and column are 0 when it is tied to the sheet, not to a cell.
    """

    sheet: str
    row: int
    column: int
    text: str
    kind: Literal["comment", "text box"]


class Damage(NamedTuple):
    """One thing that could not be read. Everything else was.

    `sheet` is "" when it concerns the whole file, `cell` None when no one cell,
    `text` what stands in the file, `says` a sentence for the user.
    """

    sheet: str
    cell: str | None
    text: str
    says: str


_QUIET = Cell("text", None, "", "=", None)


@dataclass(slots=True)
class Sheet:
    """One sheet. `cells` is sparse, 1-based and in reading order: row by row.

    `quiet` are the rows of formulas that show nothing, by column, where the reader was asked
    to leave them out of `cells`.
    """

    name: str
    hidden: bool = False
    cells: dict[tuple[int, int], Cell] = field(default_factory=dict)
    merged: list[Range] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)
    damage: list[Damage] = field(default_factory=list)
    remarks: list[Remark] = field(default_factory=list)
    quiet: dict[int, array[int]] = field(default_factory=dict)

    def restore_quiet(self, columns: Iterable[int] | None = None) -> None:
        """Put the formulas that show nothing back into `cells`, of some columns or of all; without their text."""
        for column in list(self.quiet) if columns is None else columns:
            for row in self.quiet.pop(column, ()):
                self.cells[row, column] = _QUIET

    def note_damage(self, cell: str | None, text: str, says: str) -> None:
        """Add one entry, unless the list is full already."""
        if len(self.damage) < MOST_DAMAGE:
            self.damage.append(Damage(self.name, cell, text[:200], says))
        elif len(self.damage) == MOST_DAMAGE:
            more = "There is more damage on this sheet than is listed here; get a fresh copy of the file."
            self.damage.append(Damage(self.name, None, "", more))

    def note_remark(self, row: int, column: int, text: str, kind: Literal["comment", "text box"]) -> None:
        """Add a text that stands over the cells; a blank one says nothing."""
        if len(self.remarks) < MOST_REMARKS:
            if text.strip():
                self.remarks.append(Remark(self.name, row, column, text[:LONGEST_TEXT], kind))
        elif len(self.remarks) == MOST_REMARKS:
            says = f"This sheet has more than {MOST_REMARKS:,} comments and text boxes; the others were not read."
            if self.damage[-1:] != [(lost := Damage(self.name, None, "", says))]:
                self.damage.append(lost)

    def note_outside_grid(self, name: str, text: str) -> None:
        """Add an entry for a value that stands at no cell."""
        self.note_damage(
            None, text, f"The file holds a value at {name}, where no sheet has a cell; it was left out."
        )

    def note_lost_picture(self, row: int, column: int, link: str) -> None:
        """Add an entry for a picture that the file lacks; row 0 for one that is tied to the sheet."""
        cell = cell_name(row, column) if row else None
        self.note_damage(
            cell, link, "A picture lies here, but the file does not hold it; look for the photo."
        )


@dataclass(slots=True)
class Workbook:
    """One file as read. `damage` holds what concerns the file, then that of each sheet."""

    path: Path
    format: Literal["xlsx", "xlsm", "ods"]
    sheets: list[Sheet] = field(default_factory=list)
    properties: dict[str, str] = field(default_factory=dict)
    damage: list[Damage] = field(default_factory=list)
    has_macros: bool = False

    @property
    def pictures(self) -> list[Picture]:
        """All pictures, sheet by sheet."""
        return [picture for sheet in self.sheets for picture in sheet.pictures]

    def note_damage(self, says: str) -> None:
        """Add one entry that concerns the whole file."""
        self.damage.append(Damage("", None, "", says))


@lru_cache(maxsize=LAST_COLUMN)
def column_letters(column: int) -> str:
    """Letters of a column.

    Examples
    --------
    >>> column_letters(1), column_letters(28), column_letters(16_384)
    ('A', 'AB', 'XFD')
    """
    letters = ""
    while column > 0:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def cell_name(row: int, column: int) -> str:
    """Name of a cell.

    Examples
    --------
    >>> cell_name(5, 3)
    'C5'
    """
    return f"{column_letters(column)}{row}"


def position(name: str) -> tuple[int, int] | None:
    """Row and column of a cell's name; None when it is no name or outside the grid.

    Examples
    --------
    >>> position("C5"), position("$c$5"), position("XFE1"), position("5C")
    ((5, 3), (5, 3), None, None)
    """
    plain = name.replace("$", "")
    letters = plain.rstrip("0123456789")
    digits = plain[len(letters) :]
    if not (0 < len(letters) <= 3 and 0 < len(digits) <= 7 and letters.isascii() and letters.isalpha()):
        return None
    column = 0
    for letter in letters.upper():
        column = column * 26 + ord(letter) - 64
    row = int(digits)
    return (row, column) if 1 <= row <= LAST_ROW and column <= LAST_COLUMN else None

"""The model of a job: tables of rows of values, each with its place and typed text.

    Survey         one job: its label sheet and its tables
    Row            one row of a table (or the whole label sheet)
    Value          one cell: what came of reading it, and what was typed
    Outcome        VALUE, BLANK, NOT_VISIBLE, NOT_APPLICABLE, UNREADABLE
    HeadingTaken   which heading of the file was taken for which field

The model is never changed after reading. What a value holds follows from its column
(`Column.holds`): text -> str; tag, room, finding -> str as typed; choice -> the name of
the choice; tags, photos, items -> tuple of str; voltage -> str (its system is found by
assessment, since phase and wires stand in other cells); phase, wires, count, year -> int;
amperes, kva, percent, kiloamperes, number -> float; length -> electrical Length, or one
of the column's words as str; date -> datetime.date.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from workbook_tools.definitions import Template, plain
from workbook_tools.spreadsheet.cells import Picture

__all__ = ["HeadingTaken", "Outcome", "Row", "Survey", "Value"]


class Outcome(Enum):
    """What reading a cell came to. The five are never merged."""

    VALUE = "value"
    BLANK = "blank"
    NOT_VISIBLE = "not visible"
    NOT_APPLICABLE = "not applicable"
    UNREADABLE = "unreadable"


class Value(NamedTuple):
    """One cell of the survey.

    `sheet` and `cell` are the file's own ("Equipment", "C5"). `why` says for an unreadable
    value what is wrong with it, in words for the reader; `unknown_choice` marks text that is
    no choice of a closed vocabulary. `note` says for a value that was read what could be
    doubted ("5/6/2026 was read as month/day/year"); `formula` is the one behind the cell;
    `like` is the stock kind of equipment that a firm's own kind is treated as.
    """

    outcome: Outcome
    typed: str = ""
    value: Any = None
    sheet: str = ""
    cell: str = ""
    why: str = ""
    unknown_choice: bool = False
    note: str = ""
    formula: str = ""
    like: str = ""

    @property
    def answered(self) -> bool:
        """Whether anything at all stands in the cell."""
        return self.outcome is not Outcome.BLANK


@dataclass(slots=True)
class Row:
    """One row: the values by field name, columns we do not know by heading, live cells by field.

    `key` is the table ("equipment"), `sheet` the file's name of the sheet, `number` its row.
    `values` and `live` hold the cells in which something stands; `places` says in which column
    of the file each field is.
    """

    key: str
    sheet: str
    number: int
    values: dict[str, Value]
    extra: dict[str, Value] = field(default_factory=dict)
    live: dict[str, Value] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)

    def __getitem__(self, field_name: str) -> Value:
        """Return the value of a field; a blank one in its cell, or in column A where the file has no such column."""
        found = self.values.get(field_name)
        if found is not None:
            return found
        return Value(Outcome.BLANK, sheet=self.sheet, cell=f"{self.places.get(field_name, 'A')}{self.number}")

    def get(self, field_name: str) -> Any:
        """Return what was read, or None where that is anything but a value."""
        found = self.values.get(field_name)
        return found.value if found is not None and found.outcome is Outcome.VALUE else None

    @property
    def subject(self) -> str:
        """The tag, room or item that the row speaks of, as typed; "" where blank."""
        for name in ("tag", "subject", "room", "item", "file"):
            found = self.values.get(name)
            if found is not None and found.answered:
                return found.typed.strip()
        return ""

    @property
    def kind(self) -> str | None:
        """The kind of equipment that the row is treated as, where it has one; `get("kind")` is its own name."""
        found = self.values.get("kind")
        if found is None or found.outcome is not Outcome.VALUE:
            return None
        return found.like or str(found.value)


@dataclass(frozen=True, slots=True)
class HeadingTaken:
    """A heading of the file and the field it was taken for (None: kept as an extra column)."""

    sheet: str
    cell: str
    heading: str
    key: str
    field: str | None
    exact: bool


@dataclass
class Survey:
    """One job as it came back.

    `tables` has a list of rows for each table sheet of the template, by key ("rooms",
    "equipment", "transformers", "clearances", "findings", "photos", "not_inspected");
    `missing_sheets` names those that the file does not have. `damage` are plain sentences
    about what could not be read, each with its sheet and cell. What stands outside the
    tables is kept too: `stray` (notes beside and totals below a table), `titles` (above it),
    `other_sheets` (whole sheets that are no table, by name). `notes` are sentences about how
    the file was read.
    """

    path: Path
    template: Template
    job: Row
    tables: Mapping[str, list[Row]]
    headings: list[HeadingTaken] = field(default_factory=list)
    missing_sheets: list[str] = field(default_factory=list)
    damage: list[Value] = field(default_factory=list)
    stray: list[Value] = field(default_factory=list)
    titles: list[Value] = field(default_factory=list)
    other_sheets: dict[str, list[Value]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)

    def has_picture(self, row: Row) -> bool:
        """Whether a picture was pasted on the row, over the cells or into one."""
        return (row.sheet, row.number) in self._pasted

    @cached_property
    def _pasted(self) -> frozenset[tuple[str, int]]:
        return frozenset((picture.sheet, picture.row) for picture in self.pictures)

    @property
    def rooms(self) -> list[Row]:
        """The rows of Rooms."""
        return self.tables.get("rooms", [])

    @property
    def equipment(self) -> list[Row]:
        """The rows of Equipment, in walking order."""
        return self.tables.get("equipment", [])

    @property
    def transformers(self) -> list[Row]:
        """The rows of Transformers."""
        return self.tables.get("transformers", [])

    @property
    def clearances(self) -> list[Row]:
        """The rows of Clearances."""
        return self.tables.get("clearances", [])

    @property
    def findings(self) -> list[Row]:
        """The rows of Findings."""
        return self.tables.get("findings", [])

    @property
    def photos(self) -> list[Row]:
        """The rows of Photos."""
        return self.tables.get("photos", [])

    @property
    def not_inspected(self) -> list[Row]:
        """The rows of Not inspected."""
        return self.tables.get("not_inspected", [])

    def rows(self) -> Iterator[Row]:
        """Every row, the label sheet first, then in sheet order."""
        yield self.job
        for rows in self.tables.values():
            yield from rows

    @cached_property
    def _tags(self) -> Mapping[str, list[Row]]:
        found: dict[str, list[Row]] = {}
        for row in self.equipment:
            if row.get("tag"):
                found.setdefault(plain(row.get("tag")), []).append(row)
        return found

    @cached_property
    def _rooms(self) -> Mapping[str, Row]:
        return {plain(row.get("room")): row for row in reversed(self.rooms) if row.get("room")}

    def tagged(self, tag: str) -> list[Row]:
        """Return the rows of Equipment with that tag (compared without case and spaces)."""
        return self._tags.get(plain(tag), [])

    def room(self, name: str) -> Row | None:
        """Return the row of Rooms of that name, or None."""
        return self._rooms.get(plain(name))

    def is_outside_source(self, name: str) -> bool:
        """Whether a name in Fed from is an outside source: Utility, Utility 2, PV array, ..."""
        words = plain(name).rstrip("0123456789").rstrip("-")
        return any(words == plain(source) for source in self.template.outside_sources)

"""The model of a job: its label sheet and its tables, each row with its typed cells.

    Survey         one job
    HeadingTaken   which heading of the file was taken for which field

The model is never changed after reading. Not here: rows and their columns (rows), cells (cells).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple, TypeVar, cast

from workbook_tools.definitions import Template, plain
from workbook_tools.spreadsheet.cells import Picture
from workbook_tools.survey.cells import Value
from workbook_tools.survey.rows import (
    Clearance,
    Equipment,
    Field,
    Finding,
    Job,
    NotInspected,
    PhotoCaption,
    Room,
    Row,
    Transformer,
)

__all__ = ["HeadingTaken", "Survey"]

R = TypeVar("R", bound=Row)


class HeadingTaken(NamedTuple):
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
    tables is kept too: `stray` (whatever somebody typed above, beside or below a table, on the guide or
    among the choices, in a text box or in a comment on no row), `titles` (what the workbook says there
    by itself), `other_sheets` (whole sheets that are no table, by name). `notes` are sentences about how
    the file was read. `number` tells this survey from every other, "" where the file has none.
    """

    path: Path
    template: Template
    job: Job
    tables: Mapping[str, list[Row]]
    headings: list[HeadingTaken] = field(default_factory=list)
    missing_sheets: list[str] = field(default_factory=list)
    damage: list[Value[Any]] = field(default_factory=list)
    stray: list[Value[Any]] = field(default_factory=list)
    titles: list[Value[Any]] = field(default_factory=list)
    other_sheets: dict[str, list[Value[Any]]] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    pictures: list[Picture] = field(default_factory=list)
    number: str = ""

    def has_picture(self, row: Row) -> bool:
        """Whether a picture was pasted on the row, over the cells or into one."""
        return (row.sheet, row.number) in self._pasted

    @cached_property
    def _pasted(self) -> frozenset[tuple[str, int]]:
        return frozenset((picture.sheet, picture.row) for picture in self.pictures)

    def rows_of(self, kind: type[R]) -> list[R]:
        """Return the rows of a sheet, by their class."""
        # `row_class` made each row of a sheet what its sheet's class is.
        return cast("list[R]", self.tables.get(kind.key, []))

    @property
    def rooms(self) -> list[Room]:
        """The rows of Rooms."""
        return self.rows_of(Room)

    @property
    def equipment(self) -> list[Equipment]:
        """The rows of Equipment, in walking order."""
        return self.rows_of(Equipment)

    @property
    def transformers(self) -> list[Transformer]:
        """The rows of Transformers."""
        return self.rows_of(Transformer)

    @property
    def clearances(self) -> list[Clearance]:
        """The rows of Clearances."""
        return self.rows_of(Clearance)

    @property
    def findings(self) -> list[Finding]:
        """The rows of Findings."""
        return self.rows_of(Finding)

    @property
    def standing_findings(self) -> list[Finding]:
        """The findings that are an issue: all but those that are mended."""
        return [row for row in self.findings if not row.is_mended]

    @property
    def findings_of_this_visit(self) -> list[Finding]:
        """The findings that were made, or seen again, on this visit."""
        return [row for row in self.standing_findings if not row.is_as_of]

    @property
    def photos(self) -> list[PhotoCaption]:
        """The rows of Photos."""
        return self.rows_of(PhotoCaption)

    @property
    def not_inspected(self) -> list[NotInspected]:
        """The rows of Not inspected."""
        return self.rows_of(NotInspected)

    def rows(self) -> Iterator[Row]:
        """Every row, the label sheet first, then in sheet order."""
        yield self.job
        for rows in self.tables.values():
            yield from rows

    @cached_property
    def unsettled(self) -> list[tuple[Row, Value[Any]]]:
        """Each typed cell that holds no value, or one that was read with a note, beside its row; row by row.

        A comment on a cell is one of them: it is read with a note.
        """
        return [
            (row, value)
            for row in self.rows()
            for value in (*row.values.values(), *row.comments)
            if value.value is None or value.note
        ]

    def typed_elsewhere(self) -> Iterator[Value[Any]]:
        """Whatever somebody typed that stands on no row of a table: notes, text boxes, sheets of their own."""
        yield from (value for value in self.stray if not value.formula and value.typed.strip())
        for values in self.other_sheets.values():
            yield from (value for value in values if not value.formula and value.typed.strip())

    @cached_property
    def _tags(self) -> Mapping[str, list[Equipment]]:
        return _by_name(self.equipment, Equipment.tag)

    @cached_property
    def _rooms(self) -> Mapping[str, Room]:
        return {plain(row.room.value): row for row in reversed(self.rooms) if row.room.value}

    def tagged(self, tag: str | None) -> list[Equipment]:
        """Return the rows of Equipment with that tag (compared without case and spaces); none for no tag."""
        return self._tags.get(plain(tag), []) if tag else []

    def room(self, name: str | None) -> Room | None:
        """Return the row of Rooms of that name, or None."""
        return self._rooms.get(plain(name)) if name else None

    @cached_property
    def _clearances(self) -> Mapping[str, list[Clearance]]:
        return _by_name(self.clearances, Clearance.tag)

    def clearances_of(self, tag: str | None) -> list[Clearance]:
        """Return the rows of Clearances of a tag (compared without case and spaces)."""
        return self._clearances.get(plain(tag), []) if tag else []

    @cached_property
    def _findings(self) -> Mapping[str, list[Finding]]:
        return _by_name(self.findings_of_this_visit, Finding.subject)

    def findings_about(self, name: str | None) -> list[Finding]:
        """Return the findings of this visit about a tag or a room (compared without case and spaces)."""
        return self._findings.get(plain(name), []) if name else []

    def photos_named(self) -> Iterator[tuple[Row, Value[Any], str]]:
        """Every photo that is named, sheet by sheet: the row, the cell, the name; each once in a cell."""
        for sheet in self.template.sheets:
            columns = [column for column in sheet.typed if column.holds == "photos"]
            for row in self.tables.get(sheet.key, ()) if columns else ():
                for column in columns:
                    for name in dict.fromkeys(row[column].value or ()):
                        yield row, row[column], name

    def is_outside_source(self, name: str) -> bool:
        """Whether a name in Fed from is an outside source: Utility, Utility 2, PV array, ..."""
        return plain(name).rstrip("0123456789").rstrip("-") in self._outside_sources

    @cached_property
    def _outside_sources(self) -> frozenset[str]:
        return frozenset(map(plain, self.template.outside_sources))


def _by_name(rows: Iterable[R], column: Field[str]) -> Mapping[str, list[R]]:
    """Return the rows by what they name in a column, in the form in which names are compared."""
    found: dict[str, list[R]] = {}
    for row in rows:
        name = row[column].value
        if name:
            found.setdefault(plain(name), []).append(row)
    return found

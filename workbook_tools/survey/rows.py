"""The rows of a survey: a class for each stock sheet, its columns as typed attributes.

    Job, Room, Equipment, Transformer, Clearance, Finding, PhotoCaption, NotInspected
    Row              what all of them are; also a row of a sheet that a firm adds
    Field            one column of a class: `row.depth` is the row's value, `Clearance.depth` the column
    row_class(key)   the class of the rows of a sheet

Rows are compared by identity: two panels with the same words on them are two panels. A row
keeps every typed cell in `values`, those of columns that a firm adds among them; the
attributes read it. What an attribute holds is what `Column.holds` of its column reads, and a
test holds the classes to the stock template.

Not here: what a cell is (cells), the job as a whole (model).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, ClassVar, Generic, TypeVar, overload

from workbook_tools.definitions import Column, Sheet, plain
from workbook_tools.electrical import Length, VoltageRating
from workbook_tools.survey.cells import Outcome, Value, column_alone
from workbook_tools.survey.written_dates import in_words

__all__ = [
    "MENDED",
    "SEEN_AGAIN",
    "Clearance",
    "Equipment",
    "Field",
    "Finding",
    "Job",
    "NotInspected",
    "PhotoCaption",
    "Room",
    "Row",
    "Transformer",
    "row_class",
]

T = TypeVar("T")

_NAMED_BY = ("tag", "subject", "room", "item", "file")


class Field(Generic[T]):
    """A column of a stock sheet as an attribute of its rows.

    On a row it is the cell, a blank one where nothing stands; on the class it is the column
    itself, to be named where a column is meant: `needs=(Clearance.depth,)`, `row[Clearance.depth]`.
    """

    name: str
    owner: type[Row]

    def __set_name__(self, owner: type[Row], name: str) -> None:
        """Learn the class and the name that the column stands under."""
        self.owner, self.name = owner, name

    @overload
    def __get__(self, row: None, owner: type[Row]) -> Field[T]: ...
    @overload
    def __get__(self, row: Row, owner: type[Row]) -> Value[T]: ...
    def __get__(self, row: Row | None, owner: type[Row]) -> Field[T] | Value[T]:
        """Return the cell of a row; on the class the column."""
        if row is None:
            return self
        return row.values.get(self.name) or row.blank(self.name)

    def __repr__(self) -> str:
        """Return the column as it is written in code: "Clearance.depth"."""
        return f"{self.owner.__name__}.{self.name}"


@dataclass(eq=False, slots=True)
class Row:
    """One row of a sheet: the typed cells, columns we do not know by heading, live cells by field.

    `definition` is the sheet of the template, `sheet` the file's name of it, `number` its row
    there. `values` and `live` hold the cells in which something stands, by field; `places` says
    in which column of the file each field is. `comments` are texts that stand over a cell of the row, or in
    a column where only the workbook computes; each with the column of its cell.
    """

    key: ClassVar[str] = ""

    definition: Sheet
    sheet: str
    number: int
    values: dict[str, Value[Any]] = field(default_factory=dict)
    extra: dict[str, Value[Any]] = field(default_factory=dict)
    live: dict[str, Value[Any]] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)
    _blanks: dict[str, Value[Any]] = field(default_factory=dict, init=False, repr=False)
    comments: tuple[Value[Any], ...] = ()

    @overload
    def __getitem__(self, column: Field[T]) -> Value[T]: ...
    @overload
    def __getitem__(self, column: Column) -> Value[Any]: ...
    def __getitem__(self, column: Field[Any] | Column) -> Value[Any]:
        """Return the cell of a column; a blank one where nothing stands."""
        name = column.name if isinstance(column, Field) else column.field
        return self.values.get(name) or self.blank(name)

    def typed(self, column: Field[Any]) -> str:
        """Return what was typed into the cell of a column, "" where nothing stands."""
        found = self.values.get(column.name)
        return found.typed if found is not None else ""

    def blank(self, field_name: str) -> Value[Any]:
        """Return the blank cell of a field: in its place, or in column A where the file has no such column."""
        # Kept: the rules ask a blank again and again, and most cells of a large survey are.
        found = self._blanks.get(field_name)
        if found is None:
            found = self._blanks[field_name] = self._new_blank(field_name)
        return found

    def _new_blank(self, field_name: str) -> Value[Any]:
        return Value(
            Outcome.BLANK,
            sheet=self.sheet,
            cell=f"{self.places.get(field_name, 'A')}{self.number}",
            column=self.definition.by_field.get(field_name) or column_alone(field_name),
        )

    @property
    def is_unconfirmed(self) -> bool:
        """Whether the row was carried over from an earlier survey, and nobody has said what it is this year."""
        return False

    @property
    def is_as_of(self) -> str:
        """When the row was last seen, where this visit did not see it again; "" for what is this year's.

        "October 6, 2025", or what stands in place of a date.
        """
        return ""

    @property
    def is_mended(self) -> bool:
        """Whether it is a finding that is no issue any more."""
        return False

    @property
    def called(self) -> str:
        """The name by which the row speaks of something: its tag, subject, room or item as typed; "" where blank."""
        for name in _NAMED_BY:
            found = self.values.get(name)
            if found is not None and found.answered:
                return found.said
        return ""


class Job(Row):
    """The answers of the label sheet."""

    __slots__ = ()
    key = "job"
    property = Field[str]()
    address = Field[str]()
    client = Field[str]()
    report_no = Field[str]()
    inspection_date = Field[date]()
    inspector = Field[str]()
    code_profile = Field[str]()
    dimension_unit = Field[str]()
    year_built = Field[int]()
    building_use = Field[str]()
    power_on = Field[str]()
    scope_notes = Field[str]()


class Room(Row):
    """A room, and whether it was entered."""

    __slots__ = ()
    key = "rooms"
    room = Field[str]()
    level = Field[str]()
    access = Field[str]()
    lighting = Field[str]()
    entrances = Field[int]()
    remarks = Field[str]()
    door_opens_out = Field[str]()
    door_hardware = Field[str]()

    @property
    def storey(self) -> str:
        """The level as one would say it: "Basement", "Level 2" where a number alone was typed; "" for none."""
        level = str(self.level.value or "").strip()
        return f"Level {level}" if level.lstrip("-").isdigit() else level

    @property
    def with_level(self) -> str:
        """The room with its level: "Boiler room (Basement)"."""
        named = self.storey and plain(self.storey) != plain(self.called)
        return f"{self.called} ({self.storey})" if named else self.called


class Equipment(Row):
    """A piece of equipment as its placard and its surroundings tell it."""

    __slots__ = ()
    key = "equipment"
    tag = Field[str]()
    kind = Field[str]()
    room = Field[str]()
    fed_from = Field[tuple[str, ...]]()
    rating_a = Field[float]()
    voltage = Field[str]()
    phase = Field[int]()
    wires = Field[int]()
    maker = Field[str]()
    main_device = Field[str]()
    hand_motions = Field[int]()
    short_circuit_rating_ka = Field[float]()
    wiring_method = Field[str]()
    circuit_directory = Field[str]()
    touch_test = Field[str]()
    photos = Field[tuple[str, ...]]()
    remarks = Field[str]()
    main_or_fuse_a = Field[float]()
    voltage_rating = Field[VoltageRating]()
    available_fault_ka = Field[float]()
    fault_current_date = Field[date]()

    @property
    def stock_kind(self) -> str | None:
        """The kind that the row is treated as: a firm's own kind counts as the stock kind that it is like."""
        kind = self.values.get(_KIND)  # the rules ask for it more than for anything else
        return (kind.like or kind.value) if kind is not None else None


_KIND = Equipment.kind.name


class Transformer(Row):
    """The label plate of a transformer."""

    __slots__ = ()
    key = "transformers"
    tag = Field[str]()
    kva = Field[float]()
    primary_v = Field[str]()
    secondary_v = Field[str]()
    phase = Field[int]()
    impedance_percent = Field[float]()
    marked_direction = Field[str]()
    serves = Field[tuple[str, ...]]()
    year_made = Field[int]()
    nameplate_photo = Field[tuple[str, ...]]()
    remarks = Field[str]()


class _CarriedRow(Row):
    """What holds for one visit: carried over, it is the earlier survey's until somebody has seen it again."""

    __slots__ = ()
    last_seen = Field[str]()
    this_year = Field[str]()

    @property
    def is_unconfirmed(self) -> bool:
        """Whether the row was carried over and This year is blank."""
        return bool(self.last_seen.said) and not self.this_year.answered

    @property
    def is_as_of(self) -> str:
        """When the row was last seen, where This year does not say that it was seen again."""
        return in_words(self.last_seen.said) if self.this_year.value not in SEEN_AGAIN else ""


SEEN_AGAIN = ("Still so", "Changed", "Still there", "Mended")
"""Answers under This year by which a carried row is this year's."""


class Clearance(_CarriedRow):
    """What was measured around a piece of equipment."""

    __slots__ = ()
    key = "clearances"
    tag = Field[str]()
    opposite_side = Field[str]()
    depth = Field[Length]()
    width = Field[Length]()
    height = Field[Length]()
    equipment_width = Field[Length]()
    front_projection = Field[Length]()
    door_opens_90 = Field[str]()
    open_above = Field[Length | str]()
    items_above = Field[tuple[str, ...]]()
    items_in_space = Field[tuple[str, ...]]()
    remarks = Field[str]()
    equipment_height = Field[Length]()


class Finding(_CarriedRow):
    """What the inspector found wrong."""

    __slots__ = ()
    key = "findings"
    subject = Field[str]()
    finding = Field[str]()
    count = Field[int]()
    seen = Field[str]()
    priority = Field[str]()
    action = Field[str]()
    photos = Field[tuple[str, ...]]()

    @property
    def is_mended(self) -> bool:
        """Whether the inspector says that it is no issue any more."""
        return self.this_year.value == MENDED


MENDED = "Mended"


class PhotoCaption(Row):
    """A photo with what it shows."""

    __slots__ = ()
    key = "photos"
    file = Field[tuple[str, ...]]()
    subject = Field[str]()
    caption = Field[str]()


class NotInspected(Row):
    """Something that was left out, and why."""

    __slots__ = ()
    key = "not_inspected"
    item = Field[str]()
    reason = Field[str]()
    specialist = Field[str]()


_CLASSES: Mapping[str, type[Row]] = {
    kind.key: kind
    for kind in (Job, Room, Equipment, Transformer, Clearance, Finding, PhotoCaption, NotInspected)
}


def row_class(key: str) -> type[Row]:
    """Return the class of the rows of a sheet; Row itself for a sheet that a firm adds."""
    return _CLASSES.get(key, Row)

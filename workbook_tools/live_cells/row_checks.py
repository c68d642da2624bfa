"""The row check in Python: what is missing or odd next on a row, as the sheet's formulas see it.

    RowChecks(assessment, readable, systems).row_check(row)    "OK", "Fill in: Room, Maker", "Tag twice", ...
    NAMED_ONCE, SEVERAL_SIGNS, CLOSED               what the formulas share with it

One thing at a time, in the order in which it helps to mend it. OK stands where `check` has nothing to correct
or to confirm about the row, but for what needs several sheets at once or more than a formula can read.

Not here: the formulas themselves (survey_workbook.row_check), which compare what people typed without
looking into it further than these do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from functools import cached_property

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Column, Template
from workbook_tools.electrical import (
    KINDS,
    Length,
    TransformerSide,
    can_feed,
    needs_working_space,
    read_voltage,
)
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.systems_read import SystemsRead
from workbook_tools.live_cells.typed_forms import AMOUNT_UNITS, SPELLING, TAG
from workbook_tools.live_cells.wording import (
    AGAINST_SOURCE,
    FILL_IN,
    ITSELF,
    LOADS_DIFFER,
    MARKED_OTHERWISE,
    NOT_A_CHOICE,
    NOT_A_TRANSFORMER,
    OK,
    PRIMARY_DIFFERS,
    READ_AS,
    READ_LATER,
    RECORDED_TWICE,
    SIDES_SWAPPED,
    STILL_OPEN,
    SYSTEM_WORDS,
    UNUSUAL,
    no_row,
    not_in,
    twice,
)
from workbook_tools.survey import Clearance, Equipment, Finding, Room, Row, Transformer, Value

__all__ = [
    "CLOSED",
    "ENTERED",
    "NAMED_ONCE",
    "NOT_MARKED",
    "OF_A_SIDE",
    "SEVERAL_SIGNS",
    "RowChecks",
    "measured",
    "only_recorded",
    "wanted",
]

NAMED_ONCE = (Room.key, Equipment.key, Transformer.key)
"""Tables in which a name stands on one row only; equipment can have a working space on two sides."""

SEVERAL_SIGNS = ("&", "/", "+", " and ")
"""What can part two tags in Fed from where both are known; the check looks into it."""

CLOSED = ("choice", "phase", "wires")
"""What a column holds whose answer is one of its choices."""

OF_A_SIDE = ("conflict", "not nominal")
"""What is wrong with one side of a label plate; a side that fits two systems is an ordinary one."""

ENTERED = "Entered"
NOT_MARKED = "Not marked"
MOST_SAID = 200
"""Letters that a line of headings has at most."""


def measured(template: Template) -> list[str]:
    """Return the kinds of equipment, a firm's own too, that need a row in Clearances."""
    vocabulary = template.vocabularies[Equipment.kind.name]
    return [name for kind in KINDS if needs_working_space(kind) for name in vocabulary.treated_as(kind)]


def only_recorded(template: Template) -> list[str]:
    """Return the kinds of equipment that are recorded and not inspected."""
    return [
        choice.name for choice in template.vocabularies[Equipment.kind.name].choices if not choice.in_scope
    ]


def wanted(table: str, template: Template) -> list[Column]:
    """Return the columns of a table that nobody must fill in, and that the check asks for all the same."""
    asked = {
        Equipment.key: Equipment.touch_test.name,
        Finding.key: Finding.photos.name,
        Transformer.key: Transformer.nameplate_photo.name,
    }
    found = template.by_key[table].by_field.get(asked.get(table, ""))
    return [found] if found is not None else []


class RowChecks:
    """The row checks of one survey."""

    def __init__(self, assessment: Assessment, readable: Readable, systems: SystemsRead) -> None:
        self.assessment = assessment
        self.survey = assessment.survey
        self.template = assessment.survey.template
        self.readable = readable
        self.systems = systems

    def row_check(self, row: Row) -> str:
        """Say what is missing or odd next on the row."""
        steps: tuple[Callable[[Row], str], ...] = (
            self._gaps, self._twice, self._no_choices, self._unread, self._unusual, self._nowhere, self._of_its_sheet,
            self._still_open,
        )  # fmt: skip
        for step in steps:
            said = step(row)
            if said:
                return said
        read_as = self._read_as(row)
        return f"{OK}{READ_AS}{', '.join(read_as)}" if read_as else OK

    # -- what is typed

    def _gaps(self, row: Row) -> str:
        return _said(FILL_IN, (c.heading for c in row.definition.typed if self._is_gap(row, c)))

    def _is_gap(self, row: Row, column: Column) -> bool:
        if row[column].typed.strip(" ") or not (column.required or column.required_for):
            return False
        if not isinstance(row, Equipment):
            return column.required
        if column.optional_for and column.required and not self.readable.choice(row.kind):
            return False
        if not column.is_required(row.kind.value):
            return False
        if column.field == Equipment.phase.name:
            return not self._said_in_voltage(row, self.readable.phases_said)
        if column.field == Equipment.wires.name:
            return not self._said_in_voltage(row, self.readable.wires_said)
        return True

    def _said_in_voltage(self, row: Equipment, said: Callable[[str], int]) -> bool:
        typed = row.voltage.typed
        if self.readable.voltage(typed) == "unread" or said(typed):
            return True
        return self.assessment.own_system(row) is not None and self.systems.own_read(row)

    def _twice(self, row: Row) -> str:
        sheet = row.definition
        first = sheet.columns[0]
        if sheet.key not in NAMED_ONCE or first.holds not in ("tag", "room"):
            return ""
        key = _key(row[first].typed)
        return twice(first.heading) if key and self._keys(sheet.key)[key] > 1 else ""

    def _no_choices(self, row: Row) -> str:
        closed = (c for c in row.definition.typed if c.holds in CLOSED)
        return _said(NOT_A_CHOICE, (c.heading for c in closed if not self.readable.choice(row[c])))

    def _unread(self, row: Row) -> str:
        return _said(READ_LATER, (c.heading for c in row.definition.typed if self._is_unread(row, c)))

    def _is_unread(self, row: Row, column: Column) -> bool:
        cell = row[column]
        if column.holds in AMOUNT_UNITS:
            return self.readable.amount(cell) == "unread"
        if column.holds == "length":
            return self.readable.length(cell.typed, self.job_unit_read) == "unread"
        if column.holds == "voltage":
            if isinstance(row, Transformer) and column.field in (
                Transformer.primary_v.name,
                Transformer.secondary_v.name,
            ):
                return not self.systems.side_read(row, cell)
            return self.readable.voltage(cell.typed) == "unread"
        if column.holds == "year":
            return not self.readable.year(cell.typed)
        if column.holds == "finding":
            return bool(cell.typed.strip(" ")) and self.readable.finding(cell.typed) is None
        return False

    @cached_property
    def job_unit_read(self) -> bool:
        """Whether the sheet can read the unit of a bare number."""
        return self.readable.choice(self.survey.job.dimension_unit)

    def _unusual(self, row: Row) -> str:
        return _said(UNUSUAL, (c.heading for c in row.definition.typed if self._is_unusual(row, c)))

    def _is_unusual(self, row: Row, column: Column) -> bool:
        value = row[column].value
        if column.plausible is None or value is None or self._is_unread(row, column):
            return False
        low, high = column.plausible
        if isinstance(value, Length):
            return (
                self.readable.length(row[column].typed, self.job_unit_read) == "known"
                and not low <= value.inches <= high
            )
        return isinstance(value, int | float) and not low <= value <= high

    # -- names

    def _nowhere(self, row: Row) -> str:
        for column in row.definition.typed:
            names = [key for key in column.refers_to if key in self.template.by_key]
            if names and column.holds in ("tag", "room") and self._is_nowhere(row, column, names):
                return not_in(column.heading, [self.template.by_key[key].name for key in names])
        return ""

    @cached_property
    def _counts(self) -> dict[str, Counter[str]]:
        found = {}
        for key, rows in self.survey.tables.items():
            first = self.template.by_key[key].columns[0]
            found[key] = Counter(_key(row[first].typed) for row in rows)
        return found

    def _keys(self, table: str) -> Counter[str]:
        return self._counts.get(table, Counter())

    def _is_nowhere(self, row: Row, column: Column, names: list[str]) -> bool:
        typed = row[column].typed
        key = _key(typed)
        if not key or self.readable.answers_none(typed):
            return False
        return not any(self._keys(name)[key] for name in names)

    # -- what only one sheet has

    def _of_its_sheet(self, row: Row) -> str:
        if isinstance(row, Equipment):
            return self._of_equipment(row)
        if isinstance(row, Transformer):
            return self._of_plate(row)
        if isinstance(row, Finding) and self._found[self._finding_key(row)] > 1:
            return RECORDED_TWICE
        return ""

    def _of_equipment(self, row: Equipment) -> str:
        sources = row.fed_from.value or ()
        if len(sources) == 1 and _key(row.tag.typed) == _key(sources[0]) != "":
            return ITSELF
        if self._source_unknown(row):
            return not_in(row.fed_from.heading, [row.definition.name])
        words = self._system_words(row)
        if words:
            return words
        if row.stock_kind == "Transformer":
            if Transformer.key in self.template.by_key and self._has_no_row(row, Transformer.key):
                return no_row(self.template.by_key[Transformer.key].name)
        else:
            reason = self.systems.against_source(row)
            if reason:
                return AGAINST_SOURCE[reason]
        to_measure = row.kind.value in measured(self.template) and self._access(row) == ENTERED
        if to_measure and Clearance.key in self.template.by_key and self._has_no_row(row, Clearance.key):
            return no_row(self.template.by_key[Clearance.key].name)
        return ""

    def _source_unknown(self, row: Equipment) -> bool:
        typed = row.fed_from.typed
        sources = row.fed_from.value or ()
        if (
            len(sources) != 1
            or self.readable.answers_none(typed)
            or any(sign in typed for sign in SEVERAL_SIGNS)
        ):
            return False
        return not self._keys(Equipment.key)[_key(sources[0])] and not self.survey.is_outside_source(
            sources[0]
        )

    def _system_words(self, row: Equipment) -> str:
        if row.voltage.value is None or not self.systems.own_read(row):
            return ""
        return SYSTEM_WORDS.get(read_voltage(row.voltage.value, row.phase.value, row.wires.value).outcome, "")

    def _has_no_row(self, row: Equipment, table: str) -> bool:
        key = _key(row.tag.typed)
        return bool(key) and not self._keys(table)[key]

    def _access(self, row: Equipment) -> str:
        """Return what the sheet reads of the access to a row's room: a choice, "" for none, "?" for what it cannot read."""
        return self._accesses.get(_key(row.room.typed), "")

    @cached_property
    def _accesses(self) -> dict[str, str]:
        found: dict[str, str] = {}
        for room in self.survey.rooms:
            found.setdefault(_key(room.room.typed), self.readable.choice_of(room.access))
        found.pop("", None)
        return found

    def _of_plate(self, row: Transformer) -> str:
        for side, facts in self._sides(row):
            if facts is not None and facts.reading.outcome in OF_A_SIDE and self.systems.side_read(row, side):
                return SYSTEM_WORDS[facts.reading.outcome]
        said = self._against_its_source(row)
        if said:
            return said
        direction = self.assessment.transformer(row).direction
        marked = self.readable.choice_of(row.marked_direction)
        both = self.systems.side_read(row, row.primary_v) and self.systems.side_read(row, row.secondary_v)
        if (
            direction
            and both
            and marked not in ("", NOT_MARKED)
            and marked.casefold() != direction.casefold()
        ):
            return MARKED_OTHERWISE
        return LOADS_DIFFER if self._loads_apart[_key(row.tag.typed)] else ""

    def _sides(self, row: Transformer) -> tuple[tuple[Value[str], TransformerSide | None], ...]:
        facts = self.assessment.transformer(row)
        return (row.primary_v, facts.primary), (row.secondary_v, facts.secondary)

    def _against_its_source(self, row: Transformer) -> str:
        unit = self._units.get(_key(row.tag.typed))
        if unit is None:
            return ""
        if self.readable.choice_of(unit.kind) not in ("", "?") and unit.stock_kind != "Transformer":
            return NOT_A_TRANSFORMER
        feeder = self.assessment.supply.feeder(unit)
        above, primary = self.systems.given(feeder) if feeder is not None else None, self.systems.primary(row)
        if above is None or primary is None:
            return ""
        reason = can_feed(above, primary).reason
        if reason == "phase":
            return AGAINST_SOURCE["phase"]
        if reason != "voltage":
            return ""
        secondary = self.systems.secondary(row)
        return SIDES_SWAPPED if secondary is not None and can_feed(above, secondary) else PRIMARY_DIFFERS

    @cached_property
    def _units(self) -> dict[str, Equipment]:
        """The first row of Equipment by its key."""
        units = {_key(unit.tag.typed): unit for unit in reversed(self.survey.equipment)}
        units.pop("", None)
        return units

    @cached_property
    def _loads_apart(self) -> Counter[str]:
        """How many rows a transformer feeds, by its key, that have another voltage than it gives."""
        return Counter(
            _key((row.fed_from.value or ("",))[0])
            for row in self.survey.equipment
            if row.stock_kind != "Transformer" and self.systems.against_source(row) == "voltage"
        )

    @cached_property
    def _found(self) -> Counter[tuple[str, str]]:
        return Counter(map(self._finding_key, self.survey.findings))

    def _finding_key(self, row: Finding) -> tuple[str, str]:
        entry = self.readable.finding(row.finding.typed)
        return _key(row.subject.typed), entry.code if entry is not None else SPELLING.of(row.finding.typed)

    # -- what may be left open, and what was understood

    def _still_open(self, row: Row) -> str:
        asked = (c for c in wanted(row.definition.key, self.template) if not row[c].typed.strip(" "))
        if isinstance(row, Equipment) and (
            self._access(row) not in ("", "?", ENTERED) or row.kind.value in only_recorded(self.template)
        ):
            return ""
        return _said(STILL_OPEN, (column.heading for column in asked))

    def _read_as(self, row: Row) -> list[str]:
        """Return what free answers were taken for: choices in other words, and a system whose phases and wires nobody typed."""
        found = []
        for column in row.definition.typed:
            cell = row[column]
            if column.holds == "choice":
                choice = self.readable.choice_of(cell)
                if choice and choice.casefold() != cell.typed.strip(" ").casefold():
                    found.append(choice)
        if isinstance(row, Equipment) and not (row.phase.typed.strip(" ") and row.wires.typed.strip(" ")):
            system = self.assessment.own_system(row) if self.systems.own_read(row) else None
            if system is not None:
                found.append(system.description)
        return found


def _said(begins: str, headings: Iterable[str]) -> str:
    listed = ", ".join(headings)
    return begins + listed[:MOST_SAID] if listed else ""


def _key(typed: str) -> str:
    key = TAG.of(typed) if typed.strip(" ") else ""
    return "" if key == TAG.prefix else key

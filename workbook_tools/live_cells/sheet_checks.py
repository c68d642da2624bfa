"""What a row check says of one sheet alone: the supply, the label plates, the findings.

    SheetChecks(assessment, readable, systems)
        .of_its_sheet(row)     the words, or a blank
        .is_visited(row)       whether a piece of equipment is inspected, and its room not left out
        .keys(table)           how often each name stands in a table, as names are compared

Not here: what is asked of every sheet (row_checks), the formulas (survey_workbook.sheet_checks).
"""

from __future__ import annotations

from collections import Counter
from functools import cached_property

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Template
from workbook_tools.electrical import KINDS, TransformerSide, can_feed, needs_working_space, read_voltage
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.systems_read import SystemsRead
from workbook_tools.live_cells.typed_forms import LIST, SPELLING, TAG
from workbook_tools.live_cells.wording import (
    AGAINST_SOURCE,
    ITSELF,
    LOADS_DIFFER,
    MARKED_OTHERWISE,
    NOT_A_TRANSFORMER,
    ONE_SOURCE,
    PRIMARY_DIFFERS,
    RECORDED_TWICE,
    SIDES_SWAPPED,
    SYSTEM_WORDS,
    no_row,
    not_in,
)
from workbook_tools.survey import Clearance, Equipment, Finding, Row, Transformer, Value
from workbook_tools.survey.rows import MENDED, SEEN_AGAIN

__all__ = [
    "ENTERED",
    "NOT_MARKED",
    "OF_A_SIDE",
    "OF_A_TRANSFORMER",
    "SEVERAL_SIGNS",
    "SheetChecks",
    "key_of",
    "measured",
    "only_recorded",
]

SEVERAL_SIGNS = ("&", "/", "+", " and ")
"""What parts two tags in Fed from, where it is not part of one that is known."""

OF_A_SIDE = ("conflict", "not nominal")
"""What is wrong with one side of a label plate; a side that fits two systems is an ordinary one."""

OF_A_TRANSFORMER = ("not nominal",)
"""What is asked about the voltage of a transformer in Equipment."""

ENTERED = "Entered"
NOT_MARKED = "Not marked"


def measured(template: Template) -> list[str]:
    """Return the kinds of equipment, a firm's own too, that need a row in Clearances."""
    vocabulary = template.vocabularies[Equipment.kind.name]
    return [name for kind in KINDS if needs_working_space(kind) for name in vocabulary.treated_as(kind)]


def only_recorded(template: Template) -> list[str]:
    """Return the kinds of equipment that are recorded and not inspected."""
    return [
        choice.name for choice in template.vocabularies[Equipment.kind.name].choices if not choice.in_scope
    ]


class SheetChecks:
    """What is said of the rows of one sheet, of one survey."""

    def __init__(self, assessment: Assessment, readable: Readable, systems: SystemsRead) -> None:
        self.assessment = assessment
        self.survey = assessment.survey
        self.template = assessment.survey.template
        self.readable = readable
        self.systems = systems

    def of_its_sheet(self, row: Row) -> str:
        """Say what is odd about a row that only its own sheet can be asked."""
        if isinstance(row, Equipment):
            return self._of_equipment(row)
        if isinstance(row, Transformer):
            return self._of_plate(row)
        if isinstance(row, Finding) and not self.is_mended(row) and self._found[self._finding_key(row)] > 1:
            return RECORDED_TWICE
        return ""

    def is_mended(self, row: Finding) -> bool:
        """Return whether a finding is said to be no issue any more."""
        return self.readable.choice_of(row.this_year) == MENDED

    def is_found(self, row: Finding) -> bool:
        """Return whether a finding was made on this visit, or seen again on it."""
        answer = self.readable.choice_of(row.this_year)
        return answer != MENDED and (answer in SEEN_AGAIN or not row.last_seen.typed.strip(" "))

    def _of_equipment(self, row: Equipment) -> str:
        sources = row.fed_from.value or ()
        if len(sources) == 1 and key_of(row.tag.typed) == key_of(sources[0]) != "":
            return ITSELF
        if self._source_unknown(row):
            return not_in(row.fed_from.heading, [row.definition.name])
        if self._one_source(row):
            return ONE_SOURCE
        words = self._system_words(row)
        if words:
            return words
        if self.lacks_plate(row):
            return no_row(self.template.by_key[Transformer.key].name)
        if row.stock_kind != "Transformer":
            reason = self.systems.against_source(row)
            if reason:
                return AGAINST_SOURCE[reason]
        return no_row(self.template.by_key[Clearance.key].name) if self.lacks_clearance(row) else ""

    def lacks_plate(self, row: Equipment) -> bool:
        """Return whether a transformer has no label plate recorded."""
        transformer = self.readable.choice(row.kind) and row.stock_kind == "Transformer"
        return transformer and self._has_no_row(row, Transformer.key)

    def lacks_clearance(self, row: Equipment) -> bool:
        """Return whether nothing is measured in front of a piece that people work on, in a room that was entered."""
        to_measure = self.readable.choice_of(row.kind) in measured(self.template)
        return to_measure and self._access(row) == ENTERED and self._has_no_row(row, Clearance.key)

    def _source_unknown(self, row: Equipment) -> bool:
        typed = row.fed_from.typed
        if self.readable.answers_none(typed):
            return False
        parts = self._parts(typed)
        if parts:
            return any(map(self._is_unknown, parts[:2]))
        sources = row.fed_from.value or ()
        return len(sources) == 1 and self._is_unknown(sources[0])

    def _is_unknown(self, name: str) -> bool:
        key = key_of(name)
        return bool(key) and not self.keys(Equipment.key)[key] and not self.survey.is_outside_source(name)

    def _parts(self, typed: str) -> list[str]:
        """Return the names that Fed from holds, where it holds several."""
        one = LIST.of(typed).removeprefix(";").removesuffix(";")
        if ";" not in one and self._is_unknown(one):
            for sign in SEVERAL_SIGNS:
                one = one.replace(sign, ";")
        return one.split(";") if ";" in one else []

    def _one_source(self, row: Equipment) -> bool:
        """Return whether a transfer switch names one source alone."""
        typed, kinds = (
            row.fed_from.typed,
            self.template.vocabularies[Equipment.kind.name].treated_as("Transfer switch"),
        )
        one = self.readable.choice_of(row.kind) in kinds and not self.readable.answers_none(typed)
        return one and not self._parts(typed)

    def _system_words(self, row: Equipment) -> str:
        if row.voltage.value is None or not self.systems.own_read(row):
            return ""
        outcome = read_voltage(row.voltage.value, row.phase.value, row.wires.value).outcome
        # What a transformer's own placard leaves open, its label plate says.
        said = OF_A_TRANSFORMER if row.stock_kind == "Transformer" else tuple(SYSTEM_WORDS)
        return SYSTEM_WORDS[outcome] if outcome in said else ""

    def _has_no_row(self, row: Equipment, table: str) -> bool:
        key = key_of(row.tag.typed)
        return table in self.template.by_key and bool(key) and not self.keys(table)[key]

    def _access(self, row: Equipment) -> str:
        """Return what the sheet reads of the access to a row's room: a choice, "" for none, "?" for what it cannot read."""
        return self._accesses.get(key_of(row.room.typed), "")

    @cached_property
    def _accesses(self) -> dict[str, str]:
        found: dict[str, str] = {}
        for room in self.survey.rooms:
            found.setdefault(key_of(room.room.typed), self.readable.choice_of(room.access))
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
        return LOADS_DIFFER if self._loads_apart[key_of(row.tag.typed)] else ""

    def _sides(self, row: Transformer) -> tuple[tuple[Value[str], TransformerSide | None], ...]:
        facts = self.assessment.transformer(row)
        return (row.primary_v, facts.primary), (row.secondary_v, facts.secondary)

    def _against_its_source(self, row: Transformer) -> str:
        unit = self._units.get(key_of(row.tag.typed))
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
        units = {key_of(unit.tag.typed): unit for unit in reversed(self.survey.equipment)}
        units.pop("", None)
        return units

    @cached_property
    def _loads_apart(self) -> Counter[str]:
        """How many rows a transformer feeds, by its key, that have another voltage than it gives."""
        return Counter(
            key_of((row.fed_from.value or ("",))[0])
            for row in self.survey.equipment
            if row.stock_kind != "Transformer" and self.systems.against_source(row) == "voltage"
        )

    @cached_property
    def _found(self) -> Counter[tuple[str, str]]:
        return Counter(self._finding_key(row) for row in self.survey.findings if not self.is_mended(row))

    def _finding_key(self, row: Finding) -> tuple[str, str]:
        entry = self.readable.finding(row.finding.typed)
        return key_of(row.subject.typed), entry.code if entry is not None else SPELLING.of(row.finding.typed)

    def is_visited(self, row: Equipment) -> bool:
        """Return whether a piece is inspected, and whether its room is not said to be left out."""
        inside = self._access(row) in ("", "?", ENTERED)
        return inside and row.kind.value not in only_recorded(self.template)

    @cached_property
    def _counts(self) -> dict[str, Counter[str]]:
        found = {}
        for key, rows in self.survey.tables.items():
            first = self.template.by_key[key].columns[0]
            found[key] = Counter(key_of(row[first].typed) for row in rows)
        return found

    def keys(self, table: str) -> Counter[str]:
        """Return how often each name stands in a table."""
        return self._counts.get(table, Counter())


def key_of(typed: str) -> str:
    """Return how a name is compared; blank for none."""
    key = TAG.of(typed) if typed.strip(" ") else ""
    return "" if key == TAG.prefix else key

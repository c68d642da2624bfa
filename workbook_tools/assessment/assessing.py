"""What follows from a survey: voltages to ground, currents, needed clearances, who feeds whom.

    Assessment(survey)            the electrical facts of each row, computed once
        .equipment(row)           EquipmentFacts: system, volts to ground, sources
        .transformer(row)         TransformerFacts: direction, ratio, amperes, highest fault current
        .clearance(row)           ClearanceFacts: needed and measured, compared
    read_profile(survey)          the code profile that the Job sheet names
    profile_of(template, name)    a profile with the template's amendments

Rules, the client schedule and the live cells of the workbook all take these figures; none
of them computes an electrical fact of its own. A fact that cannot be known is None.

Not here: whether something is wrong (rules) and any text for a person.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from workbook_tools.definitions import Template
from workbook_tools.electrical import (
    CONDITIONS,
    CodeProfile,
    Length,
    Limit,
    TransformerSide,
    VoltageReading,
    VoltageSystem,
    direction,
    full_load_current,
    load_profile,
    meets,
    needed_depth,
    needed_height,
    needed_width,
    projection_limit,
    read_transformer_side,
    read_voltage,
    secondary_fault_current,
    turns_ratio,
    volts_to_ground,
)
from workbook_tools.errors import Unusable
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.survey.model import Row, Survey

__all__ = [
    "IMPEDANCE_TOLERANCE_PERCENT",
    "STEPS_UP",
    "Assessment",
    "ClearanceFacts",
    "Comparison",
    "EquipmentFacts",
    "Source",
    "TransformerFacts",
    "profile_of",
    "read_profile",
]

IMPEDANCE_TOLERANCE_PERCENT = 7.5
"""Low end of the impedance tolerance of a two-winding transformer, minus 7.5 % (EEP-Z in the
sources): the highest fault current comes with the lowest impedance the plate allows."""

STEPS_UP = 4
"""How many feeders up the grounding of a system without a neutral is looked for. The workbook has a
hidden column for each step, and a Fed from that runs in a circle ends here too."""


@dataclass(frozen=True, slots=True)
class Source:
    """One name of a Fed from cell: the rows it names, or an outside source, or neither."""

    name: str
    rows: tuple[Row, ...]
    outside: bool


@dataclass(frozen=True, slots=True)
class EquipmentFacts:
    """What one row of Equipment says electrically."""

    reading: VoltageReading | None
    system: VoltageSystem | None
    volts_to_ground: float | None
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class TransformerFacts:
    """What one label plate gives. Volts are line-to-line, amperes not rounded."""

    kva: float | None = None
    phases: int | None = None
    primary: TransformerSide | None = None
    secondary: TransformerSide | None = None
    primary_volts: float | None = None
    secondary_volts: float | None = None
    direction: str | None = None
    turns_ratio: float | None = None
    primary_amps: float | None = None
    secondary_amps: float | None = None
    highest_fault_ka: float | None = None


@dataclass(frozen=True, slots=True)
class Comparison:
    """A measured length beside what is needed."""

    measured: Length
    needed: Limit
    enough: bool


@dataclass(frozen=True, slots=True)
class ClearanceFacts:
    """What one row of Clearances comes to; a comparison is None where something is missing."""

    equipment: Row | None
    volts_to_ground: float | None
    needed_depth: Limit | None
    needed_width: Limit | None
    needed_height: Limit | None
    depth: Comparison | None
    width: Comparison | None
    height: Comparison | None
    projection: Comparison | None


def read_profile(survey: Survey) -> CodeProfile:
    """Return the code profile that the Job sheet names, or the template's where it names none."""
    return profile_of(survey.template, survey.job.get("code_profile"))


def profile_of(template: Template, name: str | None = None) -> CodeProfile:
    """Return a code profile with the template's amendments; without a name, the template's own.

    Raises
    ------
    Unusable
        There is no such profile, or the amendments do not hold together.
    """
    try:
        return load_profile(name or template.code_profile, template.amendments or None)
    except ValueError as error:
        raise Unusable(f"The template {template.name} cannot be used: {error}.") from None


class Assessment:
    """The electrical facts of one survey. Each row is assessed once, when first asked for."""

    def __init__(
        self, survey: Survey, profile: CodeProfile | None = None, photos: PhotoFolder | None = None
    ) -> None:
        self.survey = survey
        self.profile = profile or read_profile(survey)
        self.photos = photos
        self._equipment: dict[int, EquipmentFacts] = {}
        self._transformers: dict[int, TransformerFacts] = {}
        self._clearances: dict[int, ClearanceFacts] = {}
        self._sources: dict[int, tuple[Source, ...]] = {}
        self._to_ground: dict[tuple[int, int], float | None] = {}
        self._depths: dict[tuple[float, str], Limit] = {}
        self._widths: dict[Length | None, Limit] = {}

    @property
    def year_built(self) -> int | None:
        """The year the building was built, where the Job sheet says so."""
        year = self.survey.job.get("year_built")
        return year if isinstance(year, int) else None

    def equipment(self, row: Row) -> EquipmentFacts:
        """Return the facts of a row of Equipment."""
        facts = self._equipment.get(id(row))
        if facts is None:
            facts = self._equipment[id(row)] = self._assess_equipment(row)
        return facts

    def transformer(self, row: Row) -> TransformerFacts:
        """Return the facts of a row of Transformers."""
        facts = self._transformers.get(id(row))
        if facts is None:
            facts = self._transformers[id(row)] = _assess_transformer(row)
        return facts

    def clearance(self, row: Row) -> ClearanceFacts:
        """Return the facts of a row of Clearances."""
        facts = self._clearances.get(id(row))
        if facts is None:
            facts = self._clearances[id(row)] = self._assess_clearance(row)
        return facts

    @cached_property
    def _plates(self) -> dict[str, Row]:
        plates: dict[str, Row] = {}
        for row in self.survey.transformers:
            for equipment in self.survey.tagged(row.get("tag") or ""):
                plates.setdefault(str(id(equipment)), row)
        return plates

    def plate(self, equipment: Row) -> Row | None:
        """Return the row of Transformers that belongs to a row of Equipment, or None."""
        return self._plates.get(str(id(equipment)))

    def sources(self, row: Row) -> tuple[Source, ...]:
        """Return what Fed from names, in the order typed."""
        named = self._sources.get(id(row))
        if named is None:
            named = self._sources[id(row)] = tuple(
                Source(name, tuple(self.survey.tagged(name)), self.survey.is_outside_source(name))
                for name in row.get("fed_from") or ()
            )
        return named

    @cached_property
    def _fed(self) -> dict[int, list[Row]]:
        fed: dict[int, list[Row]] = {}
        for row in self.survey.equipment:
            for source in self.sources(row):
                for feeder in source.rows[:1]:
                    fed.setdefault(id(feeder), []).append(row)
        return fed

    def fed_by(self, row: Row) -> list[Row]:
        """Return the rows of Equipment that name this one in Fed from."""
        return self._fed.get(id(row), [])

    def delivered(self, row: Row) -> tuple[VoltageSystem, ...]:
        """Return the system at the load side of a row: a transformer's secondary, else its own.

        More than one where the text can mean more than one, none where it is not known.
        """
        if row.kind != "Transformer":
            system = self.own_system(row)
            return (system,) if system is not None else ()
        plate = self.plate(row)
        side = self.transformer(plate).secondary if plate is not None else None
        known = side is not None and side.reading.outcome in ("one system", "ambiguous")
        return side.reading.candidates if side is not None and known else ()

    def own_system(self, row: Row) -> VoltageSystem | None:
        """Return the system that the row's own voltage, phase and wires give."""
        reading = _reading(row)
        return reading.system if reading is not None else None

    def system_taken(self, row: Row) -> VoltageSystem | None:
        """Return the system that feeds a row: a transformer's primary side, else its own; None where not one."""
        if row.kind != "Transformer":
            return self.own_system(row)
        plate = self.plate(row)
        side = self.transformer(plate).primary if plate is not None else None
        return side.reading.system if side is not None else None

    def feeder(self, row: Row) -> Row | None:
        """Return the one row that Fed from names; None for none, several, an outside source, or itself."""
        sources = self.sources(row)
        only = sources[0].rows[0] if len(sources) == 1 and len(sources[0].rows) == 1 else None
        return None if only is row else only

    def taken_to_ground(self, row: Row, steps: int = STEPS_UP) -> float | None:
        """Return the volts to ground of `system_taken`, with so many feeders above taken into account.

        A three-wire board on a grounded wye counts line-to-neutral, and so does what is fed
        from that board. A transformer's secondary is a system of its own: the way up ends there.
        """
        known = (id(row), steps)
        if known not in self._to_ground:
            self._to_ground[known] = self._look_up(row, steps)
        return self._to_ground[known]

    def _look_up(self, row: Row, steps: int) -> float | None:
        system, feeder = self.system_taken(row), self.feeder(row)
        above = self.delivered(feeder) if feeder is not None and steps else ()
        if system is None:
            return None
        if feeder is None or len(above) != 1:
            return volts_to_ground(system)
        if feeder.kind == "Transformer":
            return volts_to_ground(system, above[0])
        return volts_to_ground(system, above[0], self.taken_to_ground(feeder, steps - 1))

    def _assess_equipment(self, row: Row) -> EquipmentFacts:
        sources = self.sources(row)
        if row.kind == "Transformer":
            plate = self.plate(row)
            facts = self.transformer(plate) if plate is not None else TransformerFacts()
            return EquipmentFacts(None, None, _highest_side(facts, self.taken_to_ground(row)), sources)
        reading = _reading(row)
        system = reading.system if reading is not None else None
        return EquipmentFacts(reading, system, self.taken_to_ground(row), sources)

    def _assess_clearance(self, row: Row) -> ClearanceFacts:
        tagged = self.survey.tagged(row.get("tag") or "")
        equipment = tagged[0] if tagged else None
        volts = self.equipment(equipment).volts_to_ground if equipment is not None else None
        opposite = row.get("opposite_side")
        own_width = _length(row, "equipment_width")
        within_table = volts is not None and volts <= self.profile.depth[-1].volts_max
        needed = (
            self._needed_depth(volts, opposite)
            if volts is not None and within_table and opposite in CONDITIONS
            else None
        )
        width, height = self._needed_width(own_width), self._needed_height
        return ClearanceFacts(
            equipment=equipment,
            volts_to_ground=volts,
            needed_depth=needed,
            needed_width=width,
            needed_height=height,
            depth=self._compare(row, "depth", needed),
            # Without the equipment's own width only a shortfall is certain, not a pass.
            width=self._compare(row, "width", width) if own_width is not None else None,
            height=self._compare(row, "height", height),
            projection=self._compare(row, "front_projection", self._projection),
        )

    # The limits are few, the rows many: each limit is made once.

    def _needed_depth(self, volts: float, opposite: str) -> Limit:
        limit = self._depths.get((volts, opposite))
        if limit is None:
            limit = self._depths[volts, opposite] = needed_depth(
                self.profile, volts, opposite, self.year_built
            )
        return limit

    def _needed_width(self, own: Length | None) -> Limit:
        limit = self._widths.get(own)
        if limit is None:
            limit = self._widths[own] = needed_width(self.profile, own)
        return limit

    @cached_property
    def _needed_height(self) -> Limit:
        return needed_height(self.profile, year_built=self.year_built)

    @cached_property
    def _projection(self) -> Limit:
        return projection_limit(self.profile)

    def _compare(self, row: Row, name: str, needed: Limit | None) -> Comparison | None:
        measured = _length(row, name)
        if measured is None or needed is None:
            return None
        return Comparison(measured, needed, meets(needed, measured, self.profile))


def _length(row: Row, name: str) -> Length | None:
    value = row.get(name)
    return value if isinstance(value, Length) else None


def _reading(row: Row) -> VoltageReading | None:
    text = row.get("voltage")
    if text is None:
        return None
    return read_voltage(str(text), row.get("phase"), row.get("wires"))


def _highest_side(facts: TransformerFacts, primary: float | None) -> float | None:
    """Return the higher of the two sides; the primary's own readings count where its system is not one."""
    sides = [side.reading for side in (facts.primary, facts.secondary) if side is not None]
    known = [max(map(volts_to_ground, reading.candidates)) for reading in sides if reading.candidates]
    if len(known) != 2:
        return None
    return max(known[0] if primary is None else primary, known[1])


def _assess_transformer(row: Row) -> TransformerFacts:
    kva, phases, percent = row.get("kva"), row.get("phase"), row.get("impedance_percent")
    primary = read_transformer_side(str(row.get("primary_v")), phases) if row.get("primary_v") else None
    secondary = read_transformer_side(str(row.get("secondary_v")), phases) if row.get("secondary_v") else None
    v1 = primary.line_volts if primary is not None else None
    v2 = secondary.line_volts if secondary is not None else None
    known = kva is not None and kva > 0 and phases in (1, 3)
    fault = None
    if known and v2 and percent is not None and percent > 0:
        fault = secondary_fault_current(kva, v2, phases, percent, IMPEDANCE_TOLERANCE_PERCENT) / 1000
    return TransformerFacts(
        kva=kva,
        phases=phases,
        primary=primary,
        secondary=secondary,
        primary_volts=v1,
        secondary_volts=v2,
        direction=direction(v1, v2) if v1 and v2 else None,
        turns_ratio=turns_ratio(v1, v2) if v1 and v2 else None,
        primary_amps=full_load_current(kva, v1, phases) if known and v1 else None,
        secondary_amps=full_load_current(kva, v2, phases) if known and v2 else None,
        highest_fault_ka=fault,
    )

"""The electrical facts of each row of a survey, computed once.

    Assessment(survey)
        .equipment(row)           EquipmentFacts: system, volts to ground, sources
        .transformer(row)         TransformerFacts: direction, ratio, amperes, highest fault current
        .clearance(row)           ClearanceFacts: needed and measured, compared
        .supply                   who feeds whom
        .spaces, .faults          what is needed around equipment; the fault current that reaches it
        .supplied, .measured      every load beside its sources; every clearance beside its equipment
        .protective_rating(row)  the amperes of its main breaker or fuses, not of its bus or frame
        .is_in_scope, .is_entered, .suspect_unit, .is_reliable   what must be known before anything is said
    read_profile(survey)          the code profile that the Job sheet names
    profile_of(template, name)    a profile with the template's amendments

Rules, the client schedule and the live cells of the workbook all take these figures; none
of them computes an electrical fact of its own. A fact that cannot be known is None.

Not here: whether something is wrong (rules) and any text for a person.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Any

from workbook_tools.assessment.facts import (
    ClearanceFacts,
    EquipmentFacts,
    Supplied,
    TransformerFacts,
)
from workbook_tools.assessment.faults import FaultCurrents
from workbook_tools.assessment.nearest import Names
from workbook_tools.assessment.spaces import Spaces
from workbook_tools.assessment.supply import Supply
from workbook_tools.definitions import Template
from workbook_tools.electrical import (
    CodeProfile,
    Length,
    VoltageReading,
    VoltageSystem,
    can_feed,
    direction,
    full_load_current,
    highest_fault_current,
    likely_unit,
    load_profile,
    read_transformer_side,
    read_voltage,
    shows_its_rating,
    taken_on_its_plate,
    turns_ratio,
    volts_to_ground,
)
from workbook_tools.errors import Unusable
from workbook_tools.photos.by_name import ByName, by_name
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.survey import Clearance, Equipment, Outcome, Survey, Transformer, Value

__all__ = ["STEPS_UP", "Assessment", "profile_of", "read_profile"]

LOW_SECONDARY_VOLTS = 60
"""Up to here a secondary is that of a control transformer or a buck-boost unit: 12/24, 16/32, 24/48 V (common practice)."""

STEPS_UP = 4
"""How many feeders up the grounding of a system without a neutral is looked for. The workbook has a
hidden column for each step, and a Fed from that runs in a circle ends here too."""


def read_profile(survey: Survey) -> CodeProfile:
    """Return the code profile that the Job sheet names, or the template's where it names none."""
    return profile_of(survey.template, survey.job.code_profile.value)


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
    """The electrical facts of one survey. Each row is assessed once, when first asked for.

    Parameters
    ----------
    survey : Survey
        As read; it is not changed.
    profile : CodeProfile, optional
        The thresholds; left out, those of the profile that the Job sheet names.
    photos : PhotoFolder, optional
        The listing of the photo folder.
    doubts_units : bool, optional
        Whether a bare length that only makes sense in another unit is doubted, and compared with
        nothing; else every length is taken as it stands.
    """

    def __init__(
        self,
        survey: Survey,
        profile: CodeProfile | None = None,
        photos: PhotoFolder | None = None,
        *,
        doubts_units: bool = True,
    ) -> None:
        self.survey = survey
        self.profile = profile or read_profile(survey)
        self.photos = photos
        self.supply = Supply(survey)
        self._doubts_units = doubts_units
        self._equipment: dict[Equipment, EquipmentFacts] = {}
        self._transformers: dict[Transformer, TransformerFacts] = {}
        self._clearances: dict[Clearance, ClearanceFacts] = {}
        self._readings: dict[Equipment, VoltageReading | None] = {}
        self._connected: dict[Equipment, VoltageSystem | None] = {}
        self._to_ground: dict[tuple[Equipment, int], float | None] = {}
        self.spaces = Spaces(survey, self.profile)
        self.faults = FaultCurrents(survey, self.supply, self.facts_of_plate)

    @property
    def year_built(self) -> int | None:
        """The year the building was built, where the Job sheet says so."""
        return self.survey.job.year_built.value

    @cached_property
    def photos_by_name(self) -> list[ByName]:
        """The photos of the folder that no cell names and that name their equipment themselves; none without a folder."""
        return by_name(self.survey, self.photos) if self.photos is not None else []

    # -- what must be known before anything is said

    def is_in_scope(self, row: Equipment) -> bool:
        """Whether a kind of equipment is inspected, not only recorded. A kind that is not known counts as inspected."""
        kind = row.kind
        vocabulary = self.survey.template.vocabulary_of(kind.column)
        choice = vocabulary.find(kind.value) if vocabulary is not None and kind.value is not None else None
        return choice is None or choice.in_scope

    def is_entered(self, row: Equipment) -> bool | None:
        """Whether the room of a piece of equipment was entered; None where the survey does not say."""
        room = self.survey.room(row.room.value)
        access = room.access.value if room is not None else None
        return None if access is None else access == "Entered"

    def suspect_unit(self, length: Value[Any]) -> str | None:
        """Return the unit that a bare number was likely meant in, or None where its own makes sense."""
        measured, limits = length.value, length.column.plausible
        if not isinstance(measured, Length) or measured.unit_said or limits is None:
            return None
        return likely_unit(measured, *limits) if self._doubts_units else None

    def is_reliable(self, length: Value[Any]) -> bool:
        """Whether a length is in the range that the trade meets, so that it can be compared with another."""
        measured, limits = length.value, length.column.plausible
        return isinstance(measured, Length) and (limits is None or limits[0] <= measured.inches <= limits[1])

    def is_plausible(self, amount: Value[float]) -> bool:
        """Whether an amount is in the range that the trade meets; what is not is asked about before it is compared."""
        limits = amount.column.plausible
        return amount.value is not None and (limits is None or limits[0] <= amount.value <= limits[1])

    @cached_property
    def tag_names(self) -> Names:
        """The tags of Equipment, to find the nearest one."""
        return Names(row.tag.value for row in self.survey.equipment if row.tag.value)

    @cached_property
    def room_names(self) -> Names:
        """The names of Rooms, to find the nearest one."""
        return Names(row.room.value for row in self.survey.rooms if row.room.value)

    # -- facts of rows

    def equipment(self, row: Equipment) -> EquipmentFacts:
        """Return the facts of a row of Equipment."""
        facts = self._equipment.get(row)
        if facts is None:
            facts = self._equipment[row] = self._assess_equipment(row)
        return facts

    def transformer(self, row: Transformer) -> TransformerFacts:
        """Return the facts of a row of Transformers."""
        facts = self._transformers.get(row)
        if facts is None:
            facts = self._transformers[row] = _assess_transformer(row)
        return facts

    def clearance(self, row: Clearance) -> ClearanceFacts:
        """Return the facts of a row of Clearances."""
        facts = self._clearances.get(row)
        if facts is None:
            facts = self._clearances[row] = self._assess_clearance(row)
        return facts

    @cached_property
    def _plates(self) -> Mapping[Equipment, Transformer]:
        plates: dict[Equipment, Transformer] = {}
        for row in self.survey.transformers:
            for equipment in self.survey.tagged(row.tag.value):
                plates.setdefault(equipment, row)
        return plates

    def plate(self, equipment: Equipment) -> Transformer | None:
        """Return the row of Transformers that belongs to a row of Equipment, or None."""
        return self._plates.get(equipment)

    def facts_of_plate(self, equipment: Equipment) -> TransformerFacts | None:
        """Return what the label plate of a transformer's row of Equipment gives; None where there is no plate."""
        plate = self.plate(equipment)
        return self.transformer(plate) if plate is not None else None

    @cached_property
    def measured(self) -> list[tuple[Clearance, Equipment, ClearanceFacts]]:
        """Each row of Clearances with its equipment and its facts, where the equipment is inspected."""
        facts_of = ((row, self.clearance(row)) for row in self.survey.clearances)
        return [
            (row, facts.equipment, facts)
            for row, facts in facts_of
            if facts.equipment is not None and self.is_in_scope(facts.equipment)
        ]

    # -- protection

    def protective_rating(self, row: Equipment) -> Value[float] | None:
        """Return the cell that holds the amperes of a row's overcurrent device; None where it has none.

        A main breaker or a set of fuses has the rating of Main or fuse rating where that is
        answered; else that of the bus or the frame, Rating (A), which is then all that is known
        of it. A cell without a value (blank, N/V) is returned too: the device is there, and its
        rating is not known. None where no device was recorded: main lugs, a switch without fuses,
        or nothing said of a main.
        """
        said, own = row.main_device.value, row.main_or_fuse_a
        if said in ("Main lugs", "Switch without fuses"):
            return None
        if own.outcome not in (Outcome.BLANK, Outcome.NOT_APPLICABLE):
            return own
        is_device = said in ("Main breaker", "Fused switch") or (
            said is None and row.stock_kind == "Enclosed circuit breaker"
        )
        return row.rating_a if is_device else None

    # -- voltages along the supply

    def delivered(self, row: Equipment) -> tuple[VoltageSystem, ...]:
        """Return the system at the load side of a row: a transformer's secondary, else its own.

        More than one where the text can mean more than one, none where it is not known.
        """
        if row.stock_kind != "Transformer":
            system = self.connected_system(row)
            return (system,) if system is not None else ()
        return self._given(row)

    def _given(self, row: Equipment) -> tuple[VoltageSystem, ...]:
        """Return what a row gives by its own placard or plate."""
        if row.stock_kind != "Transformer":
            system = self.own_system(row)
            return (system,) if system is not None else ()
        plate = self.plate(row)
        side = self.transformer(plate).secondary if plate is not None else None
        known = side is not None and side.reading.outcome in ("one system", "ambiguous")
        return side.reading.candidates if side is not None and known else ()

    def own_system(self, row: Equipment) -> VoltageSystem | None:
        """Return the system that the row's own voltage, phase and wires give."""
        reading = self._reading(row)
        return reading.system if reading is not None else None

    def connected_system(self, row: Equipment) -> VoltageSystem | None:
        """Return the system that a row is connected to: its own, or its source's where the placard shows a rating.

        A switch marked 600 V on a 480Y/277 board is connected to 480 V.
        """
        if row not in self._connected:
            self._connected[row] = self._connect(row)
        return self._connected[row]

    def _connect(self, row: Equipment) -> VoltageSystem | None:
        own = self.own_system(row)
        if own is None or not (own.has_neutral or shows_its_rating(row.stock_kind)):
            return own
        feeder = self.supply.feeder(row)
        above = self._given(feeder) if feeder is not None else ()
        return own if len(above) != 1 else taken_on_its_plate(above[0], own) or own

    def system_taken(self, row: Equipment) -> VoltageSystem | None:
        """Return the system that feeds a row: a transformer's primary side, else its own; None where not one."""
        if row.stock_kind != "Transformer":
            return self.connected_system(row)
        plate = self.plate(row)
        side = self.transformer(plate).primary if plate is not None else None
        return side.reading.system if side is not None else None

    def taken_to_ground(self, row: Equipment, steps: int = STEPS_UP) -> float | None:
        """Return the volts to ground of `system_taken`, with so many feeders above taken into account.

        A three-wire board on a grounded wye counts line-to-neutral, and so does what is fed
        from that board. A transformer's secondary is a system of its own: the way up ends there.
        """
        known = (row, steps)
        if known not in self._to_ground:
            self._to_ground[known] = self._look_up(row, steps)
        return self._to_ground[known]

    def _look_up(self, row: Equipment, steps: int) -> float | None:
        system, feeder = self.system_taken(row), self.supply.feeder(row)
        above = self.delivered(feeder) if feeder is not None and steps else ()
        if system is None:
            return None
        if feeder is None or len(above) != 1:
            return volts_to_ground(system)
        if feeder.stock_kind == "Transformer":
            return volts_to_ground(system, above[0])
        return volts_to_ground(system, above[0], self.taken_to_ground(feeder, steps - 1))

    @cached_property
    def supplied(self) -> list[Supplied]:
        """Each piece of equipment that has a voltage of its own beside each source that is a row.

        Transformers are left out as loads: their sides are compared by the rules on transformers.
        Of a source whose text can mean two systems the one that fits counts.
        """
        return [
            pair
            for row in self.survey.equipment
            if row.stock_kind != "Transformer"
            and row.voltage.outcome is not Outcome.NOT_APPLICABLE
            and self.is_in_scope(row)
            and not self.supply.feeds_itself(row)
            for pair in self.beside_sources(row)
        ]

    def in_a_bank(self, row: Equipment) -> bool:
        """Whether two or more single-phase transformers feed a row together: an open delta, or a bank of three."""
        feeders = (source.row for source in self.supply.sources(row))
        plates = [self.plate(feeder) for feeder in feeders if feeder is not None]
        return sum(plate is not None and plate.phase.value == 1 for plate in plates) > 1

    def beside_sources(self, row: Equipment) -> list[Supplied]:
        """Return a piece of equipment beside each of its sources that is a row."""
        found = [
            self._beside(row, source.row) for source in self.supply.sources(row) if source.row is not None
        ]
        fed = any(pair.feeding for pair in found)
        return [pair._replace(fed_otherwise=True) for pair in found] if fed else found

    def _beside(self, row: Equipment, source: Equipment) -> Supplied:
        system, offered = self.equipment(row).system, self.delivered(source)
        if system is None:
            return Supplied(row, source, None, row.voltage, row)
        if not offered:
            plate = self.plate(source) if source.stock_kind == "Transformer" else None
            if plate is not None:
                return Supplied(row, source, None, plate.secondary_v, plate)
            return Supplied(row, source, None, source.voltage, source)
        feedings = [can_feed(one, system) for one in offered]
        return Supplied(row, source, next(filter(bool, feedings), feedings[0]), None, row)

    # -- how the facts come about

    def _reading(self, row: Equipment) -> VoltageReading | None:
        if row not in self._readings:
            text = row.voltage.value
            reading = None if text is None else read_voltage(text, row.phase.value, row.wires.value)
            self._readings[row] = reading
        return self._readings[row]

    def _assess_equipment(self, row: Equipment) -> EquipmentFacts:
        sources = self.supply.sources(row)
        if row.stock_kind == "Transformer":
            plate = self.plate(row)
            facts = self.transformer(plate) if plate is not None else TransformerFacts()
            return EquipmentFacts(None, None, _highest_side(facts, self.taken_to_ground(row)), sources)
        reading = self._reading(row)
        return EquipmentFacts(reading, self.connected_system(row), self.taken_to_ground(row), sources)

    def _assess_clearance(self, row: Clearance) -> ClearanceFacts:
        tagged = self.survey.tagged(row.tag.value)
        equipment = tagged[0] if tagged else None
        facts = self.equipment(equipment) if equipment is not None else None
        volts = facts.volts_to_ground if facts is not None else None
        reading = facts.reading if facts is not None and volts is None else None
        return self.spaces.facts(row, equipment, volts, _possible_volts(reading))


def _possible_volts(reading: VoltageReading | None) -> tuple[float, ...]:
    """Return the volts to ground that a voltage can have which is not one system; none where any is possible.

    Direct current counts from one conductor to ground: all of it, or half where its middle is grounded.
    """
    if reading is None:
        return ()
    if reading.direct and reading.volts:
        return (max(reading.volts) / 2, float(max(reading.volts)))
    return tuple(map(volts_to_ground, reading.candidates)) if reading.outcome == "ambiguous" else ()


def _highest_side(facts: TransformerFacts, primary: float | None) -> float | None:
    """Return the higher of the two sides; the primary's own readings count where its system is not one."""
    sides = [side.reading for side in (facts.primary, facts.secondary) if side is not None]
    known = [max(map(volts_to_ground, reading.candidates)) for reading in sides if reading.candidates]
    if len(known) != 2:
        return None
    return max(known[0] if primary is None else primary, known[1])


def _assess_transformer(row: Transformer) -> TransformerFacts:
    phases = row.phase.value
    primary = read_transformer_side(row.primary_v.value, phases) if row.primary_v.value else None
    secondary = read_transformer_side(row.secondary_v.value, phases) if row.secondary_v.value else None
    v1 = primary.line_volts if primary is not None else None
    v2 = secondary.line_volts if secondary is not None else None
    system = secondary.reading.system if secondary is not None else None
    centre_tapped = system is not None and system.centre_tapped
    return TransformerFacts(
        kva=row.kva.value,
        phases=phases,
        primary=primary,
        secondary=secondary,
        primary_volts=v1,
        secondary_volts=v2,
        direction=direction(v1, v2) if v1 and v2 else None,
        turns_ratio=turns_ratio(v1, v2) if v1 and v2 else None,
        primary_amps=_amps(row, v1),
        secondary_amps=_amps(row, v2),
        highest_fault_ka=_highest_fault_ka(row, v2, centre_tapped),
        centre_tapped=centre_tapped,
        low_secondary=secondary is not None
        and 0 < max(secondary.reading.volts, default=0) <= LOW_SECONDARY_VOLTS,
    )


def _amps(row: Transformer, volts: float | None) -> float | None:
    kva, phases = row.kva.value, row.phase.value
    if not volts or kva is None or kva <= 0 or phases not in (1, 3):
        return None
    return full_load_current(kva, volts, phases)


def _highest_fault_ka(row: Transformer, volts: float | None, centre_tapped: bool) -> float | None:
    kva, phases, percent = row.kva.value, row.phase.value, row.impedance_percent.value
    if not volts or kva is None or kva <= 0 or phases not in (1, 3) or percent is None or percent <= 0:
        return None
    return highest_fault_current(kva, volts, phases, percent, centre_tapped=centre_tapped) / 1000

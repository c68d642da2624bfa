"""What every live cell shows, in Python: from a Survey and its Assessment.

    LiveResults(assessment)    the results of one survey
        .row(row)              {field of a live cell: number or text}
        .checks                its row checks
        .priority_counted(row) the priority under which a finding counts

The figures are the Assessment's. What is added here is the wording, the rounding, and one
question: can a formula read what was typed at all? Where it cannot, the cell says so and
shows no figure, whatever the tool makes of the text.

Not here: the lines of the first sheet (guide_lines), the formulas (workings, row_check). A test recalculates them in other programs
and compares every cell with what stands here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cached_property

from workbook_tools.assessment import STEPS_UP, Assessment, TransformerFacts
from workbook_tools.electrical import CONDITIONS, Length, Limit, meets
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.row_checks import RowChecks
from workbook_tools.live_cells.systems_read import SystemsRead
from workbook_tools.live_cells.units import DECIMALS, METRIC, MM_IN_UNIT, TIES_UP
from workbook_tools.live_cells.wording import (
    COMPARED_OK,
    DOUBTED,
    NOT_COMPARED,
    NOT_LISTED,
    READ_AT_CHECK,
    READ_LATER,
    SHORT,
    SYSTEM_WORDS,
    WHICH_VOLTAGE,
)  # fmt: skip
from workbook_tools.survey import Clearance, Equipment, Field, Finding, Row, Transformer, Value

__all__ = ["LiveResults", "Shown", "rounded"]

Shown = str | float
DIMENSIONS = (Clearance.depth, Clearance.width, Clearance.height)
_OWN: Mapping[Field[Length], Field[Length]] = {
    Clearance.width: Clearance.equipment_width,
    Clearance.height: Clearance.equipment_height,
}


def rounded(number: float, decimals: int) -> float:
    """Round a figure that is not negative as the live cells do: halves up, with room for what the arithmetic left.

    Examples
    --------
    >>> rounded(312.25, 1), rounded(2.675, 2), rounded(41.99999999999999, 2)
    (312.3, 2.68, 42.0)
    """
    scale = float(10**decimals)
    return math.floor(number * scale + float(TIES_UP) + 0.5) / scale


class LiveResults:
    """The results of the live cells of one survey."""

    def __init__(self, assessment: Assessment) -> None:
        self.assessment = assessment
        self.survey = assessment.survey
        self.template = assessment.survey.template
        self.readable = Readable(self.template)
        self._systems = SystemsRead(assessment, self.readable)
        self._shown: dict[Row, dict[str, Shown]] = {}

    def row(self, row: Row) -> Mapping[str, Shown]:
        """Return what each live cell of a row shows, by field."""
        shown = self._shown.get(row)
        if shown is None:
            shown = {column.field: self._show(column.live, row) for column in row.definition.live}
            self._shown[row] = shown
        return shown

    def _show(self, live: str, row: Row) -> Shown:
        if live == "row_check":
            return self.checks.row_check(row)
        if isinstance(row, Equipment):
            return self.volts_to_ground(row)
        if isinstance(row, Transformer):
            return _OF_PLATES[live](self, row)
        if isinstance(row, Clearance):
            return (
                self.clearance_result(row) if live == "clearance_result" else self.needed(row, _NEEDED[live])
            )
        if isinstance(row, Finding):
            return self.usual(row, live)
        return ""

    # -- Equipment

    def volts_to_ground(self, row: Equipment) -> Shown:
        """Volts to ground of a row of Equipment: a number, words, or blank."""
        if not self.readable.kind(row.kind):
            return READ_AT_CHECK
        facts = self.assessment.equipment(row)
        if row.stock_kind == "Transformer":
            plate = self.assessment.plate(row)
            if plate is not None and not (
                self._systems.side_read(plate, plate.primary_v)
                and self._systems.side_read(plate, plate.secondary_v)
            ):
                return READ_AT_CHECK
            if facts.volts_to_ground is None:
                return ""
        elif not (self._systems.own_read(row) and self._systems.connection_read(row)):
            return READ_AT_CHECK
        elif facts.volts_to_ground is None:
            return "" if facts.reading is None else SYSTEM_WORDS.get(facts.reading.outcome, "")
        return float(facts.volts_to_ground) if self._systems.sources_read(row, STEPS_UP) else READ_AT_CHECK

    # -- Transformers

    def _lines(self, row: Transformer, of: Callable[[TransformerFacts], Shown | None]) -> Shown:
        sides = (row.primary_v, row.secondary_v)
        if any(self.readable.voltage(side.typed) == "none" for side in sides):
            return ""
        if not all(self._systems.side_read(row, side) for side in sides):
            return READ_AT_CHECK
        facts = self.assessment.transformer(row)
        if facts.primary_volts is None or facts.secondary_volts is None:
            return WHICH_VOLTAGE
        found = of(facts)
        return "" if found is None else found

    def direction(self, row: Transformer) -> Shown:
        """Step-down, Step-up or Isolation."""
        return self._lines(row, lambda facts: facts.direction and facts.direction.capitalize())

    def turns_ratio(self, row: Transformer) -> Shown:
        """Ratio of the line voltages, to three decimals."""
        return self._lines(row, lambda facts: facts.turns_ratio and rounded(facts.turns_ratio, 3))

    def _amps(self, row: Transformer, side: Value[str], amps: float | None) -> tuple[str, float | None]:
        """Whether a side's current is "none", "unread" or "known" (then None where it does not follow)."""
        if self.readable.voltage(side.typed) == "none":
            return "none", None
        kva, phase = self.readable.amount(row.kva), self.readable.choice_of(row.phase)
        if kva == "none" or phase == "":
            return "none", None
        if not self._systems.side_read(row, side) or kva == "unread" or phase == "?":
            return "unread", None
        return "known", amps

    def _shown_amps(self, row: Transformer, side: Value[str], amps: float | None) -> Shown:
        known, amps = self._amps(row, side, amps)
        if known == "unread":
            return READ_AT_CHECK
        return "" if amps is None else rounded(amps, 1)

    def primary_amps(self, row: Transformer) -> Shown:
        """Full-load current of the primary, to one decimal."""
        return self._shown_amps(row, row.primary_v, self.assessment.transformer(row).primary_amps)

    def secondary_amps(self, row: Transformer) -> Shown:
        """Full-load current of the secondary, to one decimal."""
        return self._shown_amps(row, row.secondary_v, self.assessment.transformer(row).secondary_amps)

    def highest_fault(self, row: Transformer) -> Shown:
        """Highest fault current at the secondary in kA, to two decimals."""
        facts = self.assessment.transformer(row)
        known, amps = self._amps(row, row.secondary_v, facts.secondary_amps)
        percent = self.readable.amount(row.impedance_percent)
        if known == "none" or (known == "known" and amps is None) or percent == "none":
            return ""
        if known == "unread" or percent == "unread":
            return READ_AT_CHECK
        return "" if facts.highest_fault_ka is None else rounded(facts.highest_fault_ka, 2)

    # -- Clearances

    @cached_property
    def unit(self) -> str:
        """The unit of the Job sheet."""
        return self.survey.job.dimension_unit.value or self.template.dimension_unit

    @cached_property
    def job_readable(self) -> bool:
        """Whether the sheet can read code profile, unit and, where it matters, the year built."""
        job = self.survey.job
        if not (self.readable.choice(job.code_profile) and self.readable.choice(job.dimension_unit)):
            return False
        return self.readable.year(job.year_built.typed) or not self.assessment.profile.older

    @cached_property
    def job_unit_read(self) -> bool:
        """Whether the sheet can read the unit of a bare number."""
        return self.readable.choice(self.survey.job.dimension_unit)

    def _needed(self, row: Clearance, length: Field[Length]) -> Limit | str | None:
        """Return the limit; "unread" where the sheet cannot know it, None where there is none."""
        facts = self.assessment.clearance(row)
        volts = self.volts_to_ground(facts.equipment) if facts.equipment is not None else ""
        own = _OWN.get(length)
        if own is not None:
            unread = self.readable.length(row[own].typed, self.job_unit_read) == "unread"
            if length is Clearance.width and volts == READ_AT_CHECK:
                unread = True
            return "unread" if unread or not self.job_readable else facts.needed(length)
        opposite = self.readable.choice_of(row.opposite_side)
        if (volts != READ_AT_CHECK and not isinstance(volts, float)) or opposite not in (*CONDITIONS, "?"):
            return None
        if volts == READ_AT_CHECK or opposite == "?" or not self.job_readable:
            return "unread"
        return facts.needed(length)

    def _least_depth(self, row: Clearance) -> Limit | str:
        """Return the depth that is needed whatever was not seen, as far as the sheet knows; or "unread"."""
        equipment = self.assessment.clearance(row).equipment
        volts = self.volts_to_ground(equipment) if equipment is not None else ""
        opposite = self.readable.choice_of(row.opposite_side)
        if volts == READ_AT_CHECK or opposite == "?" or not self.job_readable:
            return "unread"
        known = (volts,) if isinstance(volts, float) else ()
        return self.assessment.spaces.least_depth(known, opposite if opposite in CONDITIONS else None)

    def needed(self, row: Clearance, length: Field[Length]) -> Shown:
        """Return the needed depth, width or height with its unit."""
        limit = self._needed(row, length)
        if limit is None:
            return ""
        if isinstance(limit, str):
            return READ_AT_CHECK
        millimetres = limit.inches * 25.4
        if self.unit in METRIC and limit.millimetres is not None and not limit.own:
            millimetres = limit.millimetres
        return self._written(rounded(millimetres / MM_IN_UNIT[self.unit], DECIMALS[self.unit]))

    def _written(self, figure: float) -> str:
        """Write a length in the job's unit: no decimals, or as many as the unit has."""
        decimals = 0 if figure == int(figure) else DECIMALS[self.unit]
        return f"{figure:.{decimals}f} {self.unit}"

    def _short(self, row: Clearance, length: Field[Length]) -> float | str | None:
        """By how much a length is short in the job's unit; None when not compared, "unread" at the check, "doubted"."""
        read = self.readable.length(row[length].typed, self.job_unit_read)
        limit, exact = self._needed(row, length), True
        if limit is None and length is Clearance.depth:
            limit, exact = self._least_depth(row), False
        if (
            length is Clearance.width
            and self.readable.length(row.equipment_width.typed, self.job_unit_read) == "none"
        ):
            exact = False
        if read == "none" or limit is None:
            return None
        if read == "unread" or isinstance(limit, str):
            return "unread"
        measured = row[length].value
        if measured is None:
            return None
        enough = meets(limit, measured, self.assessment.profile)
        if enough and not exact:
            return None
        if self._unit_doubted(row, length, limit):
            return "doubted"
        return 0.0 if enough else self._lacking(measured, limit)

    def _unit_doubted(self, row: Clearance, length: Field[Length], limit: Limit) -> bool:
        if self.assessment.suspect_unit(row[length]):
            return True
        if length not in _OWN:
            return False
        own = row[_OWN[length]]
        return bool(self.assessment.suspect_unit(own)) or (limit.own and not self.assessment.is_reliable(own))

    def _lacking(self, measured: Length, limit: Limit) -> float:
        if measured.metric:
            printed = [limit.inches * 25.4]
            if limit.millimetres is not None and not limit.own:
                printed.append(limit.millimetres)
            lacking = min(printed) - measured.millimetres
        else:
            lacking = (limit.inches - measured.inches) * 25.4
        return rounded(lacking / MM_IN_UNIT[self.unit], DECIMALS[self.unit])

    def clearance_result(self, row: Clearance) -> Shown:
        """Return which lengths are OK, or what is short, not compared, or left to the check."""
        found = {row[length].heading: self._short(row, length) for length in DIMENSIONS}
        parts = [
            f"{heading} {self._written(lack)} {SHORT}"
            for heading, lack in found.items()
            if isinstance(lack, float) and lack > 0
        ]
        not_compared = [heading for heading, lack in found.items() if lack is None]
        unread = [heading for heading, lack in found.items() if lack == "unread"]
        if not_compared:
            parts.append(NOT_COMPARED + ", ".join(not_compared))
        if unread:
            parts.append(READ_LATER + ", ".join(unread))
        doubted = [heading for heading, lack in found.items() if lack == "doubted"]
        if doubted:
            parts.append(DOUBTED + ", ".join(doubted))
        return "; ".join(parts) or ", ".join(found) + COMPARED_OK

    # -- Findings

    def usual(self, row: Finding, live: str) -> Shown:
        """Return the usual priority or action of the finding library."""
        typed = row.finding.typed
        if not typed.strip(" "):
            return ""
        entry = self.readable.finding(typed)
        if entry is None:
            return NOT_LISTED
        return entry.priority if live == "usual_priority" else entry.action

    def priority_counted(self, row: Finding) -> str:
        """Return the priority under which the row is counted on Start here; "" for what is mended."""
        if self.checks.sheets.is_mended(row):
            return ""
        chosen = self.readable.choice_of(row.priority)
        if chosen:
            return "" if chosen == "?" else chosen
        entry = self.readable.finding(row.finding.typed)
        return entry.priority if entry is not None else ""

    @cached_property
    def checks(self) -> RowChecks:
        """The row checks of the survey."""
        return RowChecks(self.assessment, self.readable, self._systems)


_OF_PLATES: Mapping[str, Callable[[LiveResults, Transformer], Shown]] = {
    "direction": LiveResults.direction,
    "turns_ratio": LiveResults.turns_ratio,
    "primary_a": LiveResults.primary_amps,
    "secondary_a": LiveResults.secondary_amps,
    "highest_fault_ka": LiveResults.highest_fault,
}
_NEEDED: Mapping[str, Field[Length]] = {
    "needed_depth": Clearance.depth,
    "needed_width": Clearance.width,
    "needed_height": Clearance.height,
}

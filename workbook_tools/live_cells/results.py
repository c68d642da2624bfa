"""What every live cell shows, in Python: from a Survey and its Assessment.

    LiveResults(survey)        the results of one survey
        .row(row)              {field of a live cell: number or text}
        .progress(name)        the line of a sheet (by key) or of a priority on Start here
    blank_progress(template, name)   the same for a workbook in which nothing stands yet

The figures are the Assessment's. What is added here is the wording, the rounding, and one
question: can a formula read what was typed at all? Where it cannot, the cell says so and
shows no figure, whatever the tool makes of the text.

Not here: the formulas (workings, row_check). A test recalculates them in other programs
and compares every cell with what stands here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import cached_property

from workbook_tools.assessment import STEPS_UP, Assessment, TransformerFacts
from workbook_tools.definitions import PRIORITIES, Template
from workbook_tools.electrical import CONDITIONS, Length, Limit
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.row_checks import RowChecks, system_read
from workbook_tools.live_cells.units import DECIMALS, METRIC, MM_IN_UNIT, TIES_UP
from workbook_tools.live_cells.wording import (
    COMPARED_OK,
    DOUBTED,
    NOT_COMPARED,
    NOT_LISTED,
    OK,
    READ_AT_CHECK,
    READ_LATER,
    SHORT,
    SYSTEM_WORDS,
    WHICH_VOLTAGE,
)  # fmt: skip
from workbook_tools.rules.causes import is_reliable, suspect_unit
from workbook_tools.survey.model import Row, Survey

__all__ = ["LiveResults", "Shown", "blank_progress", "rounded"]

Shown = str | float
DIMENSIONS = ("depth", "width", "height")


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

    def __init__(self, survey: Survey, assessment: Assessment | None = None) -> None:
        self.survey = survey
        self.template = survey.template
        self.assessment = assessment or Assessment(survey)
        self.readable = Readable(self.template)
        self._shown: dict[int, dict[str, Shown]] = {}

    def row(self, row: Row) -> Mapping[str, Shown]:
        """Return what each live cell of a row shows, by field."""
        shown = self._shown.get(id(row))
        if shown is None:
            sheet = self.template.by_key[row.key]
            shown = {column.field: _RESULTS[column.live](self, row) for column in sheet.live}
            self._shown[id(row)] = shown
        return shown

    # -- Equipment

    def volts_to_ground(self, row: Row) -> Shown:
        """Volts to ground of a row of Equipment: a number, words, or blank."""
        if not self.readable.choice(row["kind"].typed, "kind"):
            return READ_AT_CHECK
        facts = self.assessment.equipment(row)
        if row.kind == "Transformer":
            plate = self._plate(row)
            if plate is not None and not (
                self._side_read(plate, "primary") and self._side_read(plate, "secondary")
            ):
                return READ_AT_CHECK
            if facts.volts_to_ground is None:
                return ""
        elif not system_read(self.readable, row):
            return READ_AT_CHECK
        elif facts.volts_to_ground is None:
            return "" if facts.reading is None else SYSTEM_WORDS.get(facts.reading.outcome, "")
        return float(facts.volts_to_ground) if self._sources_read(row, STEPS_UP) else READ_AT_CHECK

    def _sources_read(self, row: Row, steps: int) -> bool:
        """Whether the sheet can read each system above that the volts to ground depend on."""
        feeder, system = self.assessment.feeder(row), self.assessment.system_taken(row)
        if not steps or feeder is None or system is None or not self.readable.depends_on_source(system):
            return True
        if not self._given_read(feeder):
            return False
        above = self.assessment.delivered(feeder)
        if feeder.kind == "Transformer" or len(above) != 1 or not self.readable.follows(above[0], system):
            return True
        return self._sources_read(feeder, steps - 1)

    def _given_read(self, row: Row) -> bool:
        """Whether the sheet can read the system at the load side of a row."""
        if not self.readable.choice(row["kind"].typed, "kind"):
            return False
        if row.kind != "Transformer":
            return system_read(self.readable, row)
        plate = self._plate(row)
        return plate is None or self._side_read(plate, "secondary")

    def _plate(self, row: Row) -> Row | None:
        return self.assessment.plate(row)

    # -- Transformers

    def _side_read(self, row: Row, side: str) -> bool:
        typed = row[f"{side}_v"].typed
        known = self.readable.voltage(typed)
        if known == "none":
            return True
        phase = row.get("phase")
        said = self.readable.phases_said(typed)
        return (
            known == "known"
            and self.readable.count(row["phase"].typed, "phase")
            and not (said and phase and said != phase)
        )

    def _lines(self, row: Row, of: Callable[[TransformerFacts], Shown | None]) -> Shown:
        sides = ("primary", "secondary")
        if any(self.readable.voltage(row[f"{side}_v"].typed) == "none" for side in sides):
            return ""
        if not all(self._side_read(row, side) for side in sides):
            return READ_AT_CHECK
        facts = self.assessment.transformer(row)
        if facts.primary_volts is None or facts.secondary_volts is None:
            return WHICH_VOLTAGE
        found = of(facts)
        return "" if found is None else found

    def direction(self, row: Row) -> Shown:
        """Step-down, Step-up or Isolation."""
        return self._lines(row, lambda facts: facts.direction and facts.direction.capitalize())

    def turns_ratio(self, row: Row) -> Shown:
        """Ratio of the line voltages, to three decimals."""
        return self._lines(row, lambda facts: facts.turns_ratio and rounded(facts.turns_ratio, 3))

    def _amps(self, row: Row, side: str) -> tuple[str, float | None]:
        """Whether a side's current is "none", "unread" or "known" (then None where it does not follow)."""
        if self.readable.voltage(row[f"{side}_v"].typed) == "none":
            return "none", None
        kva = self.readable.amount(row["kva"].typed, "kva")
        phase = self.readable.count_of(row["phase"].typed, "phase")
        if kva == "none" or phase == "":
            return "none", None
        if not self._side_read(row, side) or kva == "unread" or phase == "?":
            return "unread", None
        facts = self.assessment.transformer(row)
        return "known", facts.primary_amps if side == "primary" else facts.secondary_amps

    def amps(self, row: Row, side: str) -> Shown:
        """Full-load current of a side, to one decimal."""
        known, amps = self._amps(row, side)
        if known == "unread":
            return READ_AT_CHECK
        return "" if amps is None else rounded(amps, 1)

    def highest_fault(self, row: Row) -> Shown:
        """Highest fault current at the secondary in kA, to two decimals."""
        known, amps = self._amps(row, "secondary")
        percent = self.readable.amount(row["impedance_percent"].typed, "percent")
        if known == "none" or (known == "known" and amps is None) or percent == "none":
            return ""
        fault = self.assessment.transformer(row).highest_fault_ka
        if known == "unread" or percent == "unread":
            return READ_AT_CHECK
        return "" if fault is None else rounded(fault, 2)

    # -- Clearances

    @cached_property
    def unit(self) -> str:
        """The unit of the Job sheet."""
        return str(self.survey.job.get("dimension_unit") or self.template.dimension_unit)

    @cached_property
    def job_readable(self) -> bool:
        """Whether the sheet can read code profile, unit and, where it matters, the year built."""
        job = self.survey.job
        if not all(
            self.readable.choice(job[field].typed, field) for field in ("code_profile", "dimension_unit")
        ):
            return False
        return self.readable.year(job["year_built"].typed) or not self.assessment.profile.older

    def _needed(self, row: Row, field: str) -> Limit | str | None:
        """Return the limit; "unread" where the sheet cannot know it, None where there is none."""
        facts = self.assessment.clearance(row)
        if field == "height":
            return facts.needed_height if self.job_readable else "unread"
        if field == "width":
            own = self.readable.length(row["equipment_width"].typed, self.job_unit_read)
            return "unread" if own == "unread" or not self.job_readable else facts.needed_width
        equipment = facts.equipment
        volts = self.volts_to_ground(equipment) if equipment is not None else ""
        opposite = self.readable.choice_of(row["opposite_side"].typed, "opposite_side")
        if (volts != READ_AT_CHECK and not isinstance(volts, float)) or opposite not in (*CONDITIONS, "?"):
            return None
        if volts == READ_AT_CHECK or opposite == "?" or not self.job_readable:
            return "unread"
        return facts.needed_depth

    @cached_property
    def job_unit_read(self) -> bool:
        """Whether the sheet can read the unit of a bare number."""
        return self.readable.choice(self.survey.job["dimension_unit"].typed, "dimension_unit")

    def needed(self, row: Row, field: str) -> Shown:
        """Return the needed depth, width or height with its unit."""
        limit = self._needed(row, field)
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

    def _short(self, row: Row, field: str) -> float | str | None:
        """By how much a length is short in the job's unit; None when not compared, "unread" at the check, "doubted"."""
        read = self.readable.length(row[field].typed, self.job_unit_read)
        own = self.readable.length(row["equipment_width"].typed, self.job_unit_read)
        limit = self._needed(row, field)
        if read == "none" or limit is None or (field == "width" and own == "none"):
            return None
        if read == "unread" or isinstance(limit, str):
            return "unread"
        facts = self.assessment.clearance(row)
        comparison = {"depth": facts.depth, "width": facts.width, "height": facts.height}[field]
        if comparison is None:
            return None
        if self._unit_doubted(row, field, comparison.needed):
            return "doubted"
        return 0.0 if comparison.enough else self._lacking(comparison.measured, limit)

    def _unit_doubted(self, row: Row, field: str, limit: Limit) -> bool:

        fields = (field, "equipment_width") if field == "width" else (field,)
        if any(suspect_unit(self.assessment, row, name) for name in fields):
            return True
        return field == "width" and limit.own and not is_reliable(self.assessment, row, "equipment_width")

    def _lacking(self, measured: Length, limit: Limit) -> float:
        if measured.metric:
            printed = [limit.inches * 25.4]
            if limit.millimetres is not None and not limit.own:
                printed.append(limit.millimetres)
            lacking = min(printed) - measured.millimetres
        else:
            lacking = (limit.inches - measured.inches) * 25.4
        return rounded(lacking / MM_IN_UNIT[self.unit], DECIMALS[self.unit])

    def clearance_result(self, row: Row) -> Shown:
        """Return which lengths are OK, or what is short, not compared, or left to the check."""
        sheet = self.template.by_key["clearances"]
        headings = {
            f: sheet.by_field[f].heading if f in sheet.by_field else f.capitalize() for f in DIMENSIONS
        }
        found = {field: self._short(row, field) for field in DIMENSIONS}
        parts = [
            f"{headings[field]} {self._written(lack)} {SHORT}"
            for field, lack in found.items()
            if isinstance(lack, float) and lack > 0
        ]
        not_compared = [headings[field] for field, lack in found.items() if lack is None]
        unread = [headings[field] for field, lack in found.items() if lack == "unread"]
        if not_compared:
            parts.append(NOT_COMPARED + ", ".join(not_compared))
        if unread:
            parts.append(READ_LATER + ", ".join(unread))
        doubted = [headings[field] for field, lack in found.items() if lack == "doubted"]
        if doubted:
            parts.append(DOUBTED + ", ".join(doubted))
        return "; ".join(parts) or ", ".join(headings.values()) + COMPARED_OK

    # -- Findings

    def usual(self, row: Row, what: str) -> Shown:
        """Return the usual priority or action of the finding library."""
        typed = row["finding"].typed
        if not typed.strip(" "):
            return ""
        entry = self.readable.finding(typed)
        return NOT_LISTED if entry is None else str(getattr(entry, what))

    def priority_counted(self, row: Row) -> str:
        """Return the priority under which the row is counted on Start here."""
        chosen = self.readable.choice_of(row["priority"].typed, "priority")
        if chosen:
            return "" if chosen == "?" else chosen
        entry = self.readable.finding(row["finding"].typed)
        return entry.priority if entry is not None else ""

    def row_check(self, row: Row) -> Shown:
        """Say what is missing next on the row."""
        return self._checks.row_check(row)

    @cached_property
    def _checks(self) -> RowChecks:
        return RowChecks(self.survey, self.assessment, self.readable)

    # -- Start here

    def progress(self, name: str) -> str:
        """Return the line of a sheet, by key, or of a priority."""
        if name in PRIORITIES:
            count = sum(self.priority_counted(row) == name for row in self.survey.findings)
            return f"{name}: {count}"
        sheet = self.template.by_key[name]
        if sheet.layout == "labels":
            job = self.survey.job
            missing = [c.heading for c in sheet.columns if c.required and not job[c.field].typed.strip(" ")]
            return f"{sheet.name}: fill in {', '.join(missing)}" if missing else f"{sheet.name}: complete"
        rows = self.survey.tables.get(name, [])
        if not rows:
            return f"{sheet.name}: nothing yet"
        text = f"{sheet.name}: {len(rows)} row{'' if len(rows) == 1 else 's'}"
        checks = next((c.field for c in sheet.columns if c.live == "row_check"), None)
        if checks is not None:
            gaps = sum(self.row(row)[checks] != OK for row in rows)
            text += f", {gaps} with gaps" if gaps else ", complete"
        result = next((c.field for c in sheet.columns if c.live == "clearance_result"), None)
        if result is not None:
            short = sum(SHORT in str(self.row(row)[result]) for row in rows)
            text += f", {short} short" if short else ""
        return text


def blank_progress(template: Template, name: str) -> str:
    """Return the progress line of a workbook in which only the defaults stand."""
    if name in PRIORITIES:
        return f"{name}: 0"
    sheet = template.by_key[name]
    if sheet.layout != "labels":
        return f"{sheet.name}: nothing yet"
    missing = [
        c.heading for c in sheet.columns if c.required and c.field not in ("code_profile", "dimension_unit")
    ]
    return f"{sheet.name}: fill in {', '.join(missing)}" if missing else f"{sheet.name}: complete"


_RESULTS: dict[str, Callable[[LiveResults, Row], Shown]] = {
    "row_check": LiveResults.row_check,
    "volts_to_ground": LiveResults.volts_to_ground,
    "direction": LiveResults.direction,
    "turns_ratio": LiveResults.turns_ratio,
    "primary_a": lambda results, row: results.amps(row, "primary"),
    "secondary_a": lambda results, row: results.amps(row, "secondary"),
    "highest_fault_ka": LiveResults.highest_fault,
    "needed_depth": lambda results, row: results.needed(row, "depth"),
    "needed_width": lambda results, row: results.needed(row, "width"),
    "needed_height": lambda results, row: results.needed(row, "height"),
    "clearance_result": LiveResults.clearance_result,
    "usual_priority": lambda results, row: results.usual(row, "priority"),
    "usual_action": lambda results, row: results.usual(row, "action"),
}

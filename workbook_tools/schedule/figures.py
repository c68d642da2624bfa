"""The rows of Clearances and Transformers: what was measured beside what is needed, what a plate gives.

    clearance_rows(assessment, problems)   measured and needed as they are printed, and a result in words
    transformer_rows(assessment)           direction, ratio, currents

Every figure comes from the Assessment; a reading that was likely meant in another unit is
compared with nothing, as in the rules.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from workbook_tools.electrical import Limit, projection_limit
from workbook_tools.rules.causes import is_in_scope, length_as_read, needed_figure, suspect_unit
from workbook_tools.schedule.equipment_texts import answer, room_of
from workbook_tools.schedule.model import ClearanceRow, Measured, TransformerRow
from workbook_tools.schedule.plain_english import capital, listed, sentence
from workbook_tools.survey.model import Outcome

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbook_tools.assessment import Assessment, Comparison, TransformerFacts
    from workbook_tools.problems import Problem
    from workbook_tools.survey.model import Row, Value

__all__ = ["clearance_rows", "transformer_rows"]

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_UPPER_BOUND_MISSING = "not known"


def clearance_rows(assessment: Assessment, problems: Iterable[Problem] = ()) -> tuple[ClearanceRow, ...]:
    """Return one row for each row of Clearances, in the order of the sheet.

    `problems` are what the rules found; what stands in a dedicated space is taken from them,
    since only a rule knows which kinds have one.
    """
    obstructed = {
        (p.sheet, p.cell.lstrip(_LETTERS)) for p in problems if p.rule == "dedicated-space-obstructed"
    }
    return tuple(
        _clearance(row, assessment, (row.sheet, str(row.number)) in obstructed)
        for row in assessment.survey.clearances
    )


def _clearance(row: Row, assessment: Assessment, obstructed: bool) -> ClearanceRow:
    facts = assessment.clearance(row)
    equipment = facts.equipment
    inspected = equipment is None or is_in_scope(assessment, equipment)
    compare = inspected and equipment is not None
    depth = _measured(row, "depth", facts.needed_depth, facts.depth, assessment, compare)
    width = _measured(row, "width", facts.needed_width, facts.width, assessment, compare)
    height = _measured(row, "height", facts.needed_height, facts.height, assessment, compare)
    most = projection_limit(assessment.profile)
    projection = _measured(row, "front_projection", most, facts.projection, assessment, compare)
    short = [
        name for name, one in (("depth", depth), ("width", width), ("height", height)) if one.enough is False
    ]
    result = _result(
        row, short, projection.enough is False, obstructed, (depth, width, height), assessment, inspected
    )
    volts = facts.volts_to_ground
    return ClearanceRow(
        tag=row.subject,
        room=room_of(equipment) if equipment is not None else "",
        volts_to_ground=volts if volts is not None else "not known",
        opposite=answer(row["opposite_side"], str(row.get("opposite_side") or "")),
        depth=depth,
        width=width,
        height=height,
        projection=projection,
        above=_above(row),
        result=result,
        short=bool(short or obstructed or _standing_there(row))
        or projection.enough is False
        or row.get("door_opens_90") == "No",
        remarks=sentence(row["remarks"].typed) if row.get("remarks") else "",
    )


def _measured(
    row: Row,
    field: str,
    limit: Limit | None,
    compared: Comparison | None,
    assessment: Assessment,
    compare: bool,
) -> Measured:
    value: Value = row[field]
    if value.outcome is not Outcome.VALUE:
        said = answer(value) if field != "front_projection" or value.answered else ""
        return Measured(said, _limit(limit) if limit is not None and compare and said else "", None)
    typed = length_as_read(row, field)
    if not compare or suspect_unit(assessment, row, field) or limit is None:
        return Measured(typed, "", None)
    if compared is None:
        return Measured(typed, _limit(limit), None)
    needed = needed_figure(compared.needed, compared.measured)
    return Measured(typed, needed, compared.enough)


def _limit(limit: Limit) -> str:
    return f"{limit.inches:g} in"


def _standing_there(row: Row) -> list[str]:
    return [item for item in row.get("items_in_space") or () if item != "None"]


def _above(row: Row) -> str:
    items = row.get("items_above")
    if items is None:
        return answer(row["items_above"]) if row["items_above"].answered else ""
    open_above = row["open_above"].typed.strip() if row.get("open_above") else ""
    named = [item for item in items if item != "None"]
    if named:
        return capital(listed([item if item[:2].isupper() else item.lower() for item in named]))
    return (
        f"Clear to {'the structure' if open_above.casefold() == 'structure' else open_above}"
        if open_above
        else "Clear"
    )


def _result(
    row: Row,
    short: list[str],
    sticks_out: bool,
    obstructed: bool,
    measured: tuple[Measured, ...],
    assessment: Assessment,
    inspected: bool,
) -> str:
    if not inspected:
        return "Recorded, not inspected."
    if assessment.clearance(row).equipment is None:
        return "Not compared: the tag is not in the list of equipment."
    said = []
    if short:
        said.append(f"{listed(short)} too small")
    if sticks_out:
        said.append("front projection too large")
    if row.get("door_opens_90") == "No":
        said.append(f"door does not open {assessment.profile.door_opening_degrees:g} degrees")
    if obstructed:
        foreign = [
            item.lower() for item in row.get("items_above") or () if item not in ("None", "Sprinkler only")
        ]
        said.append(f"{listed(foreign)} in the space above")
    if _standing_there(row):
        said.append(f"{listed([item.lower() for item in _standing_there(row)])} in the way")
    unsure = [
        name
        for name in ("depth", "width", "height", "front_projection")
        if suspect_unit(assessment, row, name) is not None
    ]
    if unsure:
        said.append(
            f"unit of the {listed([name.replace('_', ' ') for name in unsure])} not certain, so not compared"
        )
    not_compared = [
        name
        for name, one in zip(("depth", "width", "height"), measured, strict=True)
        if one.enough is None and name not in unsure and row[name].outcome is not Outcome.NOT_APPLICABLE
    ]
    if not_compared:
        said.append(f"{listed(not_compared)} not compared")
    return sentence("; ".join(said)) if said else "As needed."


def transformer_rows(assessment: Assessment) -> tuple[TransformerRow, ...]:
    """Return one row for each row of Transformers, in the order of the sheet."""
    return tuple(_transformer(row, assessment) for row in assessment.survey.transformers)


def _transformer(row: Row, assessment: Assessment) -> TransformerRow:
    facts = assessment.transformer(row)
    tagged = assessment.survey.tagged(row.get("tag") or "")
    return TransformerRow(
        tag=row.subject,
        room=room_of(tagged[0]) if tagged else "",
        kva=facts.kva if facts.kva is not None else answer(row["kva"]),
        phase=f"{facts.phases}" if facts.phases else answer(row["phase"]),
        primary=answer(row["primary_v"]),
        secondary=answer(row["secondary_v"]),
        direction=capital(facts.direction) if facts.direction else "not known",
        ratio=_or_not_known(facts.turns_ratio),
        primary_amps=_or_not_known(facts.primary_amps),
        secondary_amps=_or_not_known(facts.secondary_amps),
        impedance=row.get("impedance_percent")
        if row.get("impedance_percent") is not None
        else answer(row["impedance_percent"]),
        highest_fault_ka=_or_not_known(facts.highest_fault_ka),
        remarks=" ".join(
            filter(None, (_marked(row, facts), sentence(row["remarks"].typed) if row.get("remarks") else ""))
        ),
    )


def _or_not_known(figure: float | None) -> float | str:
    return figure if figure is not None else _UPPER_BOUND_MISSING


def _marked(row: Row, facts: TransformerFacts) -> str:
    marked = row.get("marked_direction")
    if not marked or not facts.direction or marked == "Not marked" or marked.casefold() == facts.direction:
        return ""
    return f"Marked {marked.lower()}; the voltages give {facts.direction}."

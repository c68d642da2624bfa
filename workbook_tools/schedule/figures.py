"""The rows of Clearances and Transformers: what was measured beside what is needed, what a plate gives.

    clearance_rows(checked, going, found)   measured and needed as they are printed, and a result in words
    transformer_rows(assessment)            direction, ratio, currents

Every figure comes from the Assessment; a reading that was likely meant in another unit is
compared with nothing, as in the rules. The result says what goes to the client, and nothing else.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from workbook_tools.assessment import Assessment, Comparison, TransformerFacts
from workbook_tools.checking import Checked
from workbook_tools.electrical import Limit, projection_limit
from workbook_tools.rules.causes import is_in_scope, length_as_read, needed_figure, suspect_unit
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.conditions import Found, PhotoNumbers
from workbook_tools.schedule.equipment_texts import answer, room_of
from workbook_tools.schedule.model import ClearanceRow, Measured, TransformerRow
from workbook_tools.schedule.plain_english import capital, listed, sentence
from workbook_tools.survey.model import Outcome, Row, Value

__all__ = ["clearance_rows", "transformer_rows"]

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_UPPER_BOUND_MISSING = "not known"


def clearance_rows(
    checked: Checked, going: Iterable[Problem] | None = None, found: Iterable[Found] = ()
) -> tuple[ClearanceRow, ...]:
    """Return one row for each row of Clearances, in the order of the sheet.

    Parameters
    ----------
    checked : Checked
        The survey, its assessment, and what the rules came to.
    going : iterable of Problem, optional
        What goes to the client; left out, everything of the class "report".
    found : iterable of Found
        The conditions; those about the working space that no rule measures are named too.
    """
    reported = [problem for problem in checked.problems if problem.class_ == "report"]
    fired, sent = _by_place(reported), _by_place(reported if going is None else going)
    off = {setting.slug for setting in checked.off if setting.off}
    seen: dict[int, list[str]] = {}
    for one in found:
        if not one.cause and _SPACE in one.condition.basis:
            for row in one.rows:
                seen.setdefault(id(row), []).append(one.condition.phrase.partition(" (")[0])
    return tuple(
        _clearance(row, checked.assessment, _Verdict(row, fired, sent, off), seen)
        for row in checked.survey.clearances
    )


_SPACE = "110.26("
"""Sections about the space around equipment (NFPA 70)."""

_Rules = Mapping[tuple[str, str], Collection[str]]
"""Slugs by the sheet and the row that they fired in."""


def _by_place(problems: Iterable[Problem]) -> dict[tuple[str, str], set[str]]:
    rules: dict[tuple[str, str], set[str]] = {}
    for problem in problems:
        rules.setdefault((problem.sheet, problem.cell.lstrip(_LETTERS)), set()).add(problem.rule)
    return rules


class _Verdict:
    """What of one row of Clearances goes to the client."""

    def __init__(self, row: Row, reported: _Rules, sent: _Rules, off: Collection[str]) -> None:
        place = (row.sheet, str(row.number))
        self._sent = sent.get(place, ())
        self._kept_back = set(reported.get(place, ())) - set(self._sent)
        self._off = off

    def sent(self, rule: str) -> bool:
        return rule in self._sent

    def silent(self, rule: str) -> bool:
        """Whether the reviewer kept it back, or the firm does not look for it."""
        return rule in self._kept_back or rule in self._off

    def remark_kept_back(self) -> bool:
        """Whether what the inspector remarked can only speak of what was kept back."""
        return bool(self._kept_back) and not self._sent


def _clearance(
    row: Row, assessment: Assessment, verdict: _Verdict, seen: Mapping[int, Sequence[str]]
) -> ClearanceRow:
    facts = assessment.clearance(row)
    equipment = facts.equipment
    inspected = equipment is None or is_in_scope(assessment, equipment)
    compare = inspected and equipment is not None
    limits = {
        "depth": (facts.needed_depth, facts.depth),
        "width": (facts.needed_width, facts.width),
        "height": (facts.needed_height, facts.height),
        "front_projection": (projection_limit(assessment.profile), facts.projection),
    }
    measured = {
        name: _measured(row, name, limit, compared, assessment, compare and not verdict.silent(_RULES[name]))
        for name, (limit, compared) in limits.items()
    }
    wrong = _wrong(row, measured, verdict, assessment) if compare else []
    if equipment is not None:
        wrong += [phrase for phrase in seen.get(id(equipment), ()) if phrase not in wrong]
    volts = facts.volts_to_ground
    return ClearanceRow(
        tag=row.subject,
        room=room_of(equipment) if equipment is not None else "",
        volts_to_ground=volts if volts is not None else "not known",
        opposite=answer(row["opposite_side"], str(row.get("opposite_side") or "")),
        depth=measured["depth"],
        width=measured["width"],
        height=measured["height"],
        projection=measured["front_projection"],
        above=_above(row),
        result=_result(row, wrong, measured, verdict, assessment, inspected),
        short=bool(wrong),
        remarks=sentence(row["remarks"].typed)
        if row.get("remarks") and not verdict.remark_kept_back()
        else "",
    )


_RULES = {
    "depth": "working-depth-short",
    "width": "working-width-short",
    "height": "working-height-short",
    "front_projection": "front-projection-over",
}


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


def _wrong(
    row: Row, measured: Mapping[str, Measured], verdict: _Verdict, assessment: Assessment
) -> list[str]:
    """Return what is wrong around the equipment, as it goes to the client."""
    short = [name for name in ("depth", "width", "height") if measured[name].enough is False]
    said = [f"{listed(short)} too small"] if short else []
    if measured["front_projection"].enough is False:
        said.append("front projection too large")
    if verdict.sent("door-swing-limited"):
        said.append(f"door does not open {assessment.profile.door_opening_degrees:g} degrees")
    if verdict.sent("dedicated-space-obstructed"):
        foreign = _items(row, "items_above", ("None", "Sprinkler only")) or ["something foreign"]
        said.append(f"{listed(foreign)} in the dedicated space above")
    if verdict.sent("working-space-storage"):
        said.append(f"{listed(_items(row, 'items_in_space', ('None',)) or ['storage'])} in the working space")
    if verdict.sent("second-entrance-check"):
        said.append("only one way out recorded")
    return said


def _items(row: Row, field: str, leave: tuple[str, ...]) -> list[str]:
    return [
        item if item[:2].isupper() else item.lower() for item in row.get(field) or () if item not in leave
    ]


def _result(
    row: Row,
    wrong: Sequence[str],
    measured: Mapping[str, Measured],
    verdict: _Verdict,
    assessment: Assessment,
    inspected: bool,
) -> str:
    if not inspected:
        return "Recorded, not inspected."
    if assessment.clearance(row).equipment is None:
        return "Not compared: the tag is not in the list of equipment."
    said = list(wrong)
    unsure = [name for name in measured if suspect_unit(assessment, row, name) is not None]
    if unsure:
        named = listed([name.replace("_", " ") for name in unsure])
        said.append(f"unit of the {named} not certain, so not compared")
    not_compared = [
        name
        for name in ("depth", "width", "height")
        if measured[name].enough is None
        and name not in unsure
        and row[name].outcome is not Outcome.NOT_APPLICABLE
    ]
    if verdict.silent(_RULES["front_projection"]) and row["front_projection"].outcome is Outcome.VALUE:
        not_compared.append("front projection")
    if not_compared:
        said.append(f"{listed(not_compared)} not compared")
    return sentence("; ".join(said)) if said else "As needed."


def transformer_rows(
    assessment: Assessment, photos: PhotoNumbers = lambda _row: ()
) -> tuple[TransformerRow, ...]:
    """Return one row for each row of Transformers, in the order of the sheet, with the photos of its plate."""
    return tuple(_transformer(row, assessment, photos(row)) for row in assessment.survey.transformers)


def _transformer(row: Row, assessment: Assessment, photos: tuple[int, ...]) -> TransformerRow:
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
            filter(
                None,
                (
                    _marked(row, facts),
                    _CENTRE_TAP if _centre_tapped(facts) else "",
                    sentence(row["remarks"].typed) if row.get("remarks") else "",
                ),
            )
        ),
        photos=photos,
    )


_CENTRE_TAP = "A line-to-neutral fault can be higher (common practice)."
"""Of single-phase secondaries with a centre tap; how much higher is not computed."""


def _centre_tapped(facts: TransformerFacts) -> bool:
    system = facts.secondary.reading.system if facts.secondary is not None else None
    return facts.highest_fault_ka is not None and system is not None and "centre tap" in system.connection


def _or_not_known(figure: float | None) -> float | str:
    return figure if figure is not None else _UPPER_BOUND_MISSING


def _marked(row: Row, facts: TransformerFacts) -> str:
    marked = row.get("marked_direction")
    if not marked or not facts.direction or marked == "Not marked" or marked.casefold() == facts.direction:
        return ""
    return f"Marked {marked.lower()}; the voltages give {facts.direction}."

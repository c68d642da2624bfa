"""The rows of Clearances and Transformers: what was measured beside what is needed, what a plate gives.

    clearance_rows(checked, going, found)   measured and needed as they are printed, and a result in words
    transformer_rows(assessment)            direction, ratio, currents

Every figure comes from the Assessment; a reading that was likely meant in another unit is
compared with nothing, as in the rules. The result says what goes to the client, and nothing else.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from functools import cache

from workbook_tools.assessment import Assessment, Comparison, TransformerFacts
from workbook_tools.checking import Checked
from workbook_tools.electrical import CENTRE_TAP_FACTOR, Length, Limit, projection_limit
from workbook_tools.rules import catalogue, client_reads
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import length_as_read, needed_figure
from workbook_tools.rules.plain_english import as_of, capital, inside, listed, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Rule
from workbook_tools.schedule.conditions import Found, PhotoNumbers
from workbook_tools.schedule.equipment_texts import answer, level_of, room_of
from workbook_tools.schedule.model import ClearanceRow, Measured, TransformerRow
from workbook_tools.survey import Clearance, Field, Outcome, Row, Transformer, Value

__all__ = ["clearance_rows", "transformer_rows"]

_NOT_KNOWN = "not known"


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
    fired, sent = _by_row(reported), _by_row(reported if going is None else going)
    off = {setting.slug for setting in checked.off if setting.off}
    seen: dict[Row, list[str]] = {}
    for one in found:
        if not one.cause and _SPACE in one.condition.basis:
            for row in one.rows:
                seen.setdefault(row, []).append(one.condition.phrase.partition(" (")[0])
    return tuple(
        _clearance(row, checked.assessment, _Verdict(fired.get(row, ()), sent.get(row, ()), off), seen)
        for row in checked.survey.clearances
    )


_SPACE = "110.26("
"""Sections about the space around equipment (NFPA 70)."""

LENGTHS = (Clearance.depth, Clearance.width, Clearance.height, Clearance.front_projection)


def _by_row(problems: Iterable[Problem]) -> dict[Row, list[Problem]]:
    found: dict[Row, list[Problem]] = {}
    for problem in problems:
        if problem.row is not None:
            found.setdefault(problem.row, []).append(problem)
    return found


@cache
def _judged_by() -> Mapping[Field[Length], Rule]:
    """Return the rule that judges each length."""
    return {
        length: rule
        for rule in catalogue().values()
        if isinstance(rule.client, Condition)
        for length in rule.client.measures
    }


def _named(length: Field[Length]) -> str:
    return length.name.replace("_", " ")


class _Verdict:
    """What of one row of Clearances goes to the client."""

    def __init__(self, reported: Iterable[Problem], sent: Iterable[Problem], off: Collection[str]) -> None:
        self.sent = tuple(sent)
        self._kept_back = {problem.rule for problem in reported} - {problem.rule for problem in self.sent}
        self._off = off

    def silent(self, length: Field[Length]) -> bool:
        """Whether the reviewer kept back what is said of a length, or the firm does not look for it."""
        rule = _judged_by()[length].slug
        return rule in self._kept_back or rule in self._off

    def remark_kept_back(self) -> bool:
        """Whether what the inspector remarked can only speak of what was kept back."""
        return bool(self._kept_back) and not self.sent


def _clearance(
    row: Clearance, assessment: Assessment, verdict: _Verdict, seen: Mapping[Row, Sequence[str]]
) -> ClearanceRow:
    facts = assessment.clearance(row)
    equipment = facts.equipment
    inspected = equipment is None or assessment.is_in_scope(equipment)
    # Little room around what is seldom worked on while live is short of nothing until somebody says so.
    asked = not facts.worked_on_live and any(not one.enough for one in facts.compared.values())
    compare = inspected and equipment is not None and (not asked or bool(verdict.sent))
    measured = {
        length: _measured(
            row[length],
            facts.needed(length) or projection_limit(assessment.profile)
            if length is Clearance.front_projection
            else facts.needed(length),
            facts.comparison(length),
            assessment,
            compare and not verdict.silent(length),
        )
        for length in LENGTHS
    }
    wrong = _wrong(measured, verdict) if compare else []
    found = (
        [phrase for phrase in seen.get(equipment, ()) if phrase not in wrong] if equipment is not None else []
    )
    volts = facts.volts_to_ground
    return ClearanceRow(
        tag=row.called,
        room=room_of(equipment) if equipment is not None else "",
        level=level_of(equipment, assessment.survey) if equipment is not None else "",
        volts_to_ground=volts if volts is not None else "not known",
        opposite=answer(row.opposite_side, row.opposite_side.value or ""),
        depth=measured[Clearance.depth],
        width=measured[Clearance.width],
        height=measured[Clearance.height],
        projection=measured[Clearance.front_projection],
        above=_above(row),
        result=_result(row, wrong, found, measured, verdict, assessment, inspected),
        short=bool(wrong or found),
        remarks=sentence(row.remarks.typed) if row.remarks.value and not verdict.remark_kept_back() else "",
    )


def _measured(
    cell: Value[Length],
    limit: Limit | None,
    compared: Comparison | None,
    assessment: Assessment,
    compare: bool,
) -> Measured:
    if cell.value is None:
        said = answer(cell) if cell.answered or cell.column.required else ""
        return Measured(said, _limit(limit) if limit is not None and compare and said else "", None)
    typed = length_as_read(cell)
    if not compare or assessment.suspect_unit(cell) or limit is None:
        return Measured(typed, "", None)
    if compared is None:
        return Measured(typed, _limit(limit), None)
    needed = needed_figure(compared.needed, compared.measured)
    return Measured(typed, needed, compared.enough)


def _limit(limit: Limit) -> str:
    return f"{limit.inches:g} in"


def _above(row: Clearance) -> str:
    items = row.items_above.value
    if items is None:
        return answer(row.items_above) if row.items_above.answered else ""
    open_above = row.open_above.said if row.open_above.value else ""
    named = [item for item in items if item != "None"]
    if named:
        return capital(listed([item if item[:2].isupper() else item.lower() for item in named]))
    return (
        f"Clear to {'the structure' if open_above.casefold() == 'structure' else open_above}"
        if open_above
        else "Clear"
    )


def _wrong(measured: Mapping[Field[Length], Measured], verdict: _Verdict) -> list[str]:
    """Return what is wrong around the equipment, as it goes to the client."""
    wrong: dict[str, list[str]] = {}
    for length, rule in _judged_by().items():
        if measured[length].enough is False and isinstance(rule.client, Condition):
            wrong.setdefault(rule.client.too, []).append(_named(length))
    said = [f"{listed(names)} {too}" for too, names in wrong.items()]
    others = [
        one
        for one in verdict.sent
        if client_reads.is_condition(one) and not client_reads.condition_of(one).measures
    ]
    return [*said, *(client_reads.condition_of(one).in_short or client_reads.phrase(one) for one in others)]


def _result(
    row: Clearance,
    wrong: Sequence[str],
    found: Sequence[str],
    measured: Mapping[Field[Length], Measured],
    verdict: _Verdict,
    assessment: Assessment,
    inspected: bool,
) -> str:
    if not inspected:
        return _dated(row, "Recorded, not inspected.")
    if assessment.clearance(row).equipment is None:
        return _dated(row, "Not compared: the tag is not in the list of equipment.")
    # What was not seen again on this visit is told apart from what somebody found on it.
    said, others = (list(wrong), found) if row.is_as_of else ([*wrong, *found], ())
    unsure = [length for length in LENGTHS if assessment.suspect_unit(row[length]) is not None]
    if unsure:
        said.append(f"unit of the {listed(list(map(_named, unsure)))} not certain, so not compared")
    not_compared = [
        length
        for length in (Clearance.depth, Clearance.width, Clearance.height)
        if measured[length].enough is None
        and length not in unsure
        and row[length].outcome is not Outcome.NOT_APPLICABLE
    ]
    if verdict.silent(Clearance.front_projection) and row.front_projection.outcome is Outcome.VALUE:
        not_compared.append(Clearance.front_projection)
    if not_compared:
        said.append(f"{listed(list(map(_named, not_compared)))} not compared")
    if not row.is_as_of:
        return sentence("; ".join(said)) if said else NO_SHORTFALL
    result = _dated(
        row, "; ".join(one.removeprefix(f"as of {row.is_as_of}: ") for one in said) or NO_SHORTFALL
    )
    return " ".join((result, *map(sentence, others)))


def _dated(row: Clearance, said: str) -> str:
    return capital(as_of(row.is_as_of, inside(said) + ".")) if row.is_as_of else said


NO_SHORTFALL = "No shortfall measured."


def transformer_rows(
    assessment: Assessment, photos: PhotoNumbers = lambda _row: ()
) -> tuple[TransformerRow, ...]:
    """Return one row for each row of Transformers, in the order of the sheet, with the photos of its plate."""
    return tuple(_transformer(row, assessment, photos(row)) for row in assessment.survey.transformers)


def _transformer(row: Transformer, assessment: Assessment, photos: tuple[int, ...]) -> TransformerRow:
    facts = assessment.transformer(row)
    tagged = assessment.survey.tagged(row.tag.value)
    return TransformerRow(
        tag=row.called,
        room=room_of(tagged[0]) if tagged else "",
        level=level_of(tagged[0], assessment.survey) if tagged else "",
        kva=facts.kva if facts.kva is not None else answer(row.kva),
        phase=f"{facts.phases}" if facts.phases else answer(row.phase),
        primary=answer(row.primary_v),
        secondary=answer(row.secondary_v),
        direction=capital(facts.direction) if facts.direction else "not known",
        ratio=_or_not_known(facts.turns_ratio),
        primary_amps=_or_not_known(facts.primary_amps),
        secondary_amps=_or_not_known(facts.secondary_amps),
        impedance=row.impedance_percent.value
        if row.impedance_percent.value is not None
        else answer(row.impedance_percent),
        highest_fault_ka=_or_not_known(facts.highest_fault_ka),
        remarks=" ".join(
            filter(
                None,
                (
                    _marked(row, facts),
                    _CENTRE_TAP if facts.centre_tapped and facts.highest_fault_ka is not None else "",
                    sentence(row.remarks.typed) if row.remarks.value else "",
                ),
            )
        ),
        photos=photos,
    )


_CENTRE_TAP = (
    f"Line to neutral, taken as {CENTRE_TAP_FACTOR:g} times the current between the lines (rule of thumb)."
)
"""Of the highest fault current of single-phase secondaries with a centre tap."""


def _or_not_known(figure: float | None) -> float | str:
    return figure if figure is not None else _NOT_KNOWN


def _marked(row: Transformer, facts: TransformerFacts) -> str:
    marked = row.marked_direction.value
    if not marked or not facts.direction or marked == "Not marked" or marked.casefold() == facts.direction:
        return ""
    return f"Marked {marked.lower()}; the voltages give {facts.direction}."

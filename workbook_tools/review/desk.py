"""What lies on the reviewer's desk, in the order in which it should be looked at.

    desk(checked)    every problem and every finding of the inspector, most urgent first, notes last
    is_finding(p)    whether it is a finding of the inspector's

Urgency comes first: what is to act on now, then what is wrong in the workbook, then the rest by
priority. Among equals danger counts: metal that may be live, then the voltage to ground. Then the
order of the sheets.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES, FindingType
from workbook_tools.review.answers import FINDING
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition
from workbook_tools.rules.plain_english import as_of, capital, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import order_of
from workbook_tools.survey import Clearance, Equipment, Finding, Row, Survey

__all__ = ["BY_INSPECTOR", "desk", "is_finding"]

BY_INSPECTOR = "inspector's finding"
"""What stands under Rule beside a finding that no rule made."""

_UNRANKED = "Correct soon"
"""Priority of an inspector's own wording that has none: nobody has said that it can wait."""
_RANKS = (PRIORITIES[0], "correct", PRIORITIES[1], "confirm", *PRIORITIES[2:])


def is_finding(problem: Problem) -> bool:
    """Whether it is what the inspector wrote down on the sheet Findings."""
    return problem.class_ == FINDING


def desk(checked: Checked) -> list[Problem]:
    """Return what the reviewer goes through.

    Examples
    --------
    >>> from workbook_tools.checking import check_survey
    >>> from workbook_tools.rules.rule import as_typed
    >>> from workbook_tools.rules.typed import survey_of
    >>> found = {"subject": "T-1", "finding": "Open knockout", "photos": "N/A"}
    >>> [p.message for p in desk(check_survey(survey_of(as_typed(findings=[found])))) if is_finding(p)]
    ['Open knockout.']
    """
    problems = [*checked.problems, *_findings(checked.survey)]
    return sorted(problems, key=lambda problem: _urgency(problem, checked.assessment))


def _urgency(problem: Problem, assessment: Assessment) -> tuple[bool, int, bool, float, tuple[int, int, int]]:
    rank = problem.priority if problem.priority in PRIORITIES else problem.class_
    place = _RANKS.index(rank) if rank in _RANKS else len(_RANKS)
    return (
        problem.class_ == "note",
        place,
        not _may_be_live(problem, assessment.survey),
        -_volts_to_ground(problem, assessment),
        problem.order,
    )


def _may_be_live(problem: Problem, survey: Survey) -> bool:
    if is_finding(problem):
        entry = (
            survey.template.find_finding(problem.row[Finding.finding].value or "") if problem.row else None
        )
        causes = entry.disagrees_with if entry is not None else ()
    else:
        causes = (problem.rule,)
    cards = (catalogue()[cause].client for cause in causes if cause in catalogue())
    return any(isinstance(card, Condition) and card.may_be_live for card in cards)


def _volts_to_ground(problem: Problem, assessment: Assessment) -> float:
    rows: list[Row] = [problem.row] if isinstance(problem.row, Equipment) else []
    rows = rows or [*assessment.survey.tagged(problem.subject)]
    volts = [assessment.equipment(row).volts_to_ground for row in rows if isinstance(row, Equipment)]
    if isinstance(problem.row, Clearance):
        volts.append(assessment.clearance(problem.row).volts_to_ground)
    return max((one for one in volts if one is not None), default=0.0)


def _findings(survey: Survey) -> Iterator[Problem]:
    for row in survey.standing_findings:
        if row.finding.answered or row.seen.answered:
            yield _as_problem(row, survey.template.find_finding(row.finding.value or ""))


def _as_problem(row: Finding, entry: FindingType | None) -> Problem:
    count = f" ({row.count.said})" if row.count.value is not None else ""
    texts = (f"{row.finding.said}{count}", row.seen.said if row.seen.value else "")
    said = capital(as_of(row.is_as_of, " ".join(sentence(text) for text in texts if text).rstrip(".")))
    action = row.action.value or (entry.action if entry is not None else "")
    return Problem(
        rule=BY_INSPECTOR,
        class_=FINDING,
        priority=row.priority.value or (entry.priority if entry is not None else _UNRANKED),
        sheet=row.sheet,
        cell=row.finding.cell or f"A{row.number}",
        subject=row.subject.said,
        field=row.finding.heading,
        read=said,
        expected="",
        message=f"{said}.",
        action=action,
        source=entry.section if entry is not None else "",
        order=order_of(row.definition.position, row.finding.cell or f"A{row.number}"),
        row=row,
    )

"""What an overview keeps of one survey: plain records, sent from the process that read it.

    record_one(look)   a SiteRecord, or why there is none
    SiteRecord         the survey, its issues, its equipment
    SurveyFacts, Issue, Piece   one line each

Issues are those of the client schedule before anybody reviewed it: what the rules of the class report and
the inspector found, said once, with the number that a later edition and next year's survey give them again.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from sys import intern
from typing import Any, NamedTuple

from workbook_tools.checking import Checked
from workbook_tools.comparison.issues import issues_of
from workbook_tools.definitions import PRIORITIES, Firm, Template
from workbook_tools.rules import catalogue
from workbook_tools.schedule.conditions import Found
from workbook_tools.schedule.equipment_texts import kind_of, level_of, room_of, voltage
from workbook_tools.sites.reading import Look, NotRead, PassedOver, read_and_check
from workbook_tools.survey import Equipment, Row, Survey, Value, fingerprint

__all__ = ["Issue", "Piece", "SiteRecord", "SurveyFacts", "record_one"]

OWN_WORDS = "Own words of the inspector"
"""What a finding is counted as that is none of the library."""


class SurveyFacts(NamedTuple):
    """One survey. `changed` is when its file was saved last, `year` that of the inspection."""

    file: str
    property: str
    address: str
    inspector: str
    date: str
    year: int | None
    year_built: int | None
    number: str
    fingerprint: str
    pieces: int
    correct: int
    confirm: int
    report: int
    note: int
    changed: float


class Issue(NamedTuple):
    """One issue. `rule` and `finding` say who found it, `kind_of_issue` what is wrong, whoever did."""

    id: str
    priority: str
    subject: str
    kind: str
    level: str
    room: str
    rule: str
    finding: str
    kind_of_issue: str
    seen: str
    task: str
    trade: str
    times: int


class Piece(NamedTuple):
    """One piece of equipment, with its issues counted; `transformer` also where a firm calls the kind otherwise."""

    tag: str
    kind: str
    level: str
    room: str
    voltage: str
    maker: str
    amperes: float | None
    kva: float | None
    year_made: int | None
    transformer: bool
    issues: int
    act_now: int
    correct_soon: int
    upkeep: int
    record: int


@dataclass(frozen=True, slots=True)
class SiteRecord:
    """What is kept of one survey."""

    facts: SurveyFacts
    issues: tuple[Issue, ...]
    pieces: tuple[Piece, ...]
    firm: Firm


def record_one(look: Look) -> SiteRecord | NotRead | PassedOver:
    """Read, check and record one survey among many. A function of its own, so that a new process finds it."""
    return read_and_check(look, record_of)


def record_of(look: Look, checked: Checked) -> SiteRecord:
    """Return what is kept of a checked survey."""
    survey = checked.survey
    found = issues_of(checked)
    return SiteRecord(
        facts=_facts(look.path, checked),
        issues=tuple(_issue(one, survey.template) for one in found),
        pieces=tuple(_pieces(checked, found)),
        firm=survey.template.firm,
    )


def _facts(path: Path, checked: Checked) -> SurveyFacts:
    survey = checked.survey
    job, day = survey.job, survey.job.inspection_date.value
    classes = [problem.class_ for problem in checked.problems]
    return SurveyFacts(
        file=str(path),
        property=_said(job.property),
        address=_said(job.address),
        inspector=_said(job.inspector),
        date=day.isoformat() if day is not None else "",
        year=day.year if day is not None else None,
        year_built=job.year_built.value,
        number=survey.number,
        fingerprint=fingerprint(survey),
        pieces=len(survey.equipment),
        correct=classes.count("correct"),
        confirm=classes.count("confirm"),
        report=classes.count("report"),
        note=classes.count("note"),
        changed=path.stat().st_mtime,
    )


def _said(value: Value[Any]) -> str:
    return " ".join(value.said.split()) if value.value is not None else ""


def _issue(found: Found, template: Template) -> Issue:
    condition = found.condition
    return Issue(
        id=condition.id,
        priority=intern(condition.priority),
        subject=condition.subject,
        kind=intern(condition.kind),
        level=intern(condition.level),
        room=condition.room,
        rule=found.cause,
        finding=_finding(found, template),
        kind_of_issue=_kind_of_issue(found, template),
        seen=condition.seen,
        task=condition.action,
        trade=condition.trade,
        times=condition.count,
    )


def _finding(found: Found, template: Template) -> str:
    """Return what the inspector called it, as the library does where it knows it."""
    entry = template.find_finding(found.finding)
    return entry.name if entry is not None else found.finding


def _kind_of_issue(found: Found, template: Template) -> str:
    """Return what is wrong in the words of the library, or of the rule where no finding of the library says the same."""
    entry = next((one for one in template.findings if one.code == found.about), None)
    if entry is not None:
        return entry.name
    rule = catalogue().get(found.cause)
    return rule.what.rstrip(".") if rule is not None else OWN_WORDS


def _pieces(checked: Checked, found: Sequence[Found]) -> Iterator[Piece]:
    of_row: dict[Row, list[str]] = {}
    for one in found:
        for row in one.rows:
            of_row.setdefault(row, []).append(one.condition.priority)
    for row in checked.survey.equipment:
        yield _piece(row, checked, of_row.get(row, []))


def _piece(row: Equipment, checked: Checked, priorities: Sequence[str]) -> Piece:
    act_now, correct_soon, upkeep, record = map(priorities.count, PRIORITIES)
    survey: Survey = checked.survey
    plate = checked.assessment.plate(row)
    return Piece(
        tag=row.tag.said,
        kind=intern(kind_of(row)),
        level=level_of(row, survey),
        room=room_of(row),
        voltage=voltage(row, checked.assessment),
        maker=row.maker.value or "",
        amperes=row.rating_a.value,
        kva=plate.kva.value if plate is not None else None,
        year_made=plate.year_made.value if plate is not None else None,
        transformer=row.stock_kind == "Transformer",
        issues=len(priorities),
        act_now=act_now,
        correct_soon=correct_soon,
        upkeep=upkeep,
        record=record,
    )

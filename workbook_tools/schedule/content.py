"""A checked and reviewed survey becomes the client schedule.

    build_schedule(checked, ...)   a ClientSchedule: every text and figure, nothing written yet

Pure: it reads the objects it is given and opens nothing. Electrical figures come from the
Assessment, the words from sentences and the cards of the rules. Not here: the sheets.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Protocol

from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES
from workbook_tools.photos.numbered import PhotoSet
from workbook_tools.rules.plain_english import capital, listed, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.cautions import CLIENT_CAUTIONS
from workbook_tools.schedule.conditions import Found, conditions_of
from workbook_tools.schedule.everything import list_of_everything, with_every_photo, with_places
from workbook_tools.schedule.figures import clearance_rows, transformer_rows
from workbook_tools.schedule.issue_order import in_order
from workbook_tools.schedule.limits import in_short, limits_of
from workbook_tools.schedule.model import (
    ClientSchedule,
    Condition,
    PhotoEntry,
    Reviewed,
    ReviewersIssue,
    ScheduleRow,
    SignedBy,
)
from workbook_tools.schedule.services import doubts, other_sources, service_sentences
from workbook_tools.schedule.tree import tree_nodes
from workbook_tools.schedule.walking_order import sources_first, walk
from workbook_tools.schedule.words import words_used
from workbook_tools.schedule.work_list import who_is_needed, work_items
from workbook_tools.survey import Row, Value
from workbook_tools.survey.written_dates import in_words

__all__ = ["build_schedule"]

_FIRST, _MOST_FIRST = 3, 6
"""So many of the most urgent conditions stand on the first pages, and so many where that many are to act on now."""


class Signed(Protocol):
    """A sign-off: who reviewed, and when."""

    reviewer: str
    date: str


def build_schedule(
    checked: Checked,
    *,
    conditions: Iterable[Problem] | None = None,
    questions: Iterable[Problem] = (),
    left_out: Iterable[Problem] = (),
    findings: Mapping[Row, Reviewed] | None = None,
    own: Iterable[ReviewersIssue] = (),
    answered: Iterable[tuple[str, str]] = (),
    photos: PhotoSet | None = None,
    sign_off: SignedBy | Signed | None = None,
    draft: bool = False,
) -> ClientSchedule:
    """Put together everything that the client reads.

    Parameters
    ----------
    checked : Checked
        The survey, its assessment, and what the rules came to.
    conditions : iterable of Problem, optional
        The problems that go to the client. Left out: every problem of the class "report".
    questions : iterable of Problem, optional
        What nobody has answered; listed among the limits.
    left_out : iterable of Problem, optional
        Problems that the reviewer kept back; a limit among them is not listed.
    findings : mapping of Row to Reviewed, optional
        What the reviewer made of the inspector's findings: left out, ranked, worded.
    own : iterable of ReviewersIssue, optional
        The issues that the reviewer adds.
    answered : iterable of (subject, words), optional
        What was asked and answered, where the client is to read it.
    photos : PhotoSet, optional
        The numbered photos.
    sign_off : object with reviewer and date, optional
        Who reviewed it, and when.
    draft : bool, optional
        Whether DRAFT stands on every page.
    """
    survey, assessment = checked.survey, checked.assessment
    chosen = [p for p in checked.problems if p.class_ == "report"] if conditions is None else list(conditions)

    def numbers(row: Row) -> tuple[int, ...]:
        return tuple(photo.number for photo in photos.of(row)) if photos is not None else ()

    steps = walk(assessment)
    walked = [step.row for step in steps]
    found = in_order(conditions_of(checked, chosen, numbers, findings, own), survey, walked)
    lines = list_of_everything(checked, found, sources_first(steps, assessment), left_out, numbers)
    found = with_places(found, lines)
    plates = transformer_rows(assessment, numbers)
    rows = with_every_photo(lines, {number for plate in plates for number in plate.photos}, photos)
    questions = list(questions)
    limits = limits_of(checked, questions, chosen, left_out, answered)
    signed = _signed(sign_off)
    work = work_items(found, lines, assessment)
    services, others = service_sentences(assessment), other_sources(assessment)
    told = " ".join((*services, others))
    return ClientSchedule(
        firm=survey.template.firm,
        property=_job(survey.job.property) or "Property not named",
        facts=_facts(checked, signed, draft),
        draft=draft,
        signed=signed,
        services=services,
        doubts=doubts(found, questions, assessment),
        other_sources=others,
        counts=tuple((name, sum(f.condition.priority == name for f in found)) for name in PRIORITIES),
        first=_first(found),
        who=who_is_needed(work),
        not_looked_at=in_short(limits),
        cautions=CLIENT_CAUTIONS,
        rows=tuple(rows),
        conditions=tuple(one.condition for one in found),
        work=work,
        clearances=clearance_rows(checked, chosen, found),
        clearance_note=_clearance_note(checked),
        transformers=plates,
        tree=tree_nodes(
            steps,
            assessment,
            {row: len(line.found) for line in lines for row in line.of if line.found},
            {row: place for place, line in enumerate(lines) for row in line.of},
        ),
        photos=_photo_entries(photos, found),
        limits=tuple(limits),
        words=words_used(_all_words(rows, found, told, bool(survey.clearances), bool(survey.transformers))),
    )


def _job(value: Value[Any]) -> str:
    if isinstance(value.value, datetime.date):
        return in_words(value.value)
    return " ".join(value.typed.split())


def _signed(sign_off: SignedBy | Signed | None) -> SignedBy | None:
    return (
        SignedBy(sign_off.reviewer, str(sign_off.date))
        if sign_off is not None and sign_off.reviewer
        else None
    )


def _as_said(date: str) -> str:
    """Return the date of a sign-off so that it reads like the others."""
    try:
        return in_words(datetime.date.fromisoformat(date))
    except ValueError:
        return date


def _facts(checked: Checked, signed: SignedBy | None, draft: bool) -> tuple[tuple[str, str], ...]:
    job = checked.survey.job
    shown = (
        job.address,
        job.client,
        job.report_no,
        job.inspection_date,
        job.inspector,
        job.building_use,
        job.year_built,
    )
    facts = [(value.heading, _job(value)) for value in shown if value.answered]
    facts.append(("Clearances by", checked.assessment.profile.title))
    if signed is not None:
        facts.append(("Reviewed by", signed.reviewer))
    if draft:
        facts.append(("Released", "not yet: this is a draft"))
    elif signed is not None and signed.date:
        facts.append(("Released", _as_said(signed.date)))
    return tuple(facts)


def _first(ranked: Sequence[Found]) -> tuple[Condition, ...]:
    """Return everything to act on now, as far as two pages hold it, or the most urgent three."""
    urgent = sum(one.condition.priority == PRIORITIES[0] for one in ranked)
    return tuple(one.condition for one in ranked[: max(_FIRST, min(urgent, _MOST_FIRST))])


def _clearance_note(checked: Checked) -> str:
    profile = checked.assessment.profile
    amended = f" Local amendments: {' '.join(map(sentence, profile.amended))}" if profile.amended else ""
    return (
        f"Needed figures: {profile.title}, by the voltage to ground and what stands opposite. Each limit is printed twice, in "
        "feet or inches and in metric, and neither is a conversion of the other: a measure in inches is compared with the inch "
        "figure, a metric measure is enough when it meets either. Measured figures are as written on site; a measuring "
        f"tolerance of {profile.tolerance_in:g} in ({profile.tolerance_mm:g} mm) is granted. Measured stands beside needed; whether the "
        f"space is right for this building, the local authority and licensed practice decide.{amended}"
    )


def _photo_entries(photos: PhotoSet | None, found: Sequence[Found]) -> tuple[PhotoEntry, ...]:
    shown: dict[int, Condition] = {}
    for one in found:
        for number in one.condition.photos:
            shown.setdefault(number, one.condition)
    return tuple(
        PhotoEntry(
            number=photo.number,
            caption=sentence(photo.caption),
            subject=listed(photo.subjects),
            file=photo.file,
            picture=photo.picture.thumbnail,
            width=photo.picture.thumbnail_width,
            height=photo.picture.thumbnail_height,
            issue=shown[photo.number].id if photo.number in shown else "",
            wrong=capital(shown[photo.number].phrase) if photo.number in shown else "",
        )
        for photo in (photos.photos if photos is not None else ())
    )


def _all_words(
    rows: Sequence[ScheduleRow], found: Sequence[Found], told: str, clearances: bool, transformers: bool
) -> str:
    parts = [f"{row.kind} {row.voltage} {row.phase_wires} {row.issues}" for row in rows]
    parts += [f"{f.condition.seen} {f.condition.why} {f.condition.action} {f.condition.basis}" for f in found]
    parts += [f.condition.effort for f in found]
    parts += [f"{row.main_device} {'short-circuit rating' if row.short_circuit else ''}" for row in rows]
    parts.append(f"service disconnect motion of the hand {told}")
    if clearances:
        parts.append("volts to ground opposite side working space NFPA 70")
    if transformers:
        parts.append("full load impedance fault current ratio step-down kVA kA highest fault current")
    return " ".join(parts)

"""A checked and reviewed survey becomes the client schedule.

    build_schedule(checked, ...)   a ClientSchedule: every text and figure, nothing written yet

Pure: it reads the objects it is given and opens nothing. Electrical figures come from the
Assessment, the words from sentences and the cards of the rules. Not here: the sheets.
"""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Protocol

from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES, plain
from workbook_tools.photos.numbered import PhotoSet
from workbook_tools.rules import client_reads
from workbook_tools.rules.client import Remark
from workbook_tools.rules.plain_english import listed, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.cautions import CLIENT_CAUTIONS
from workbook_tools.schedule.conditions import Found, by_row, conditions_of, urgency
from workbook_tools.schedule.equipment_texts import (
    fed_from,
    kind_of,
    maker,
    phase_wires,
    rating,
    room_of,
    voltage,
)
from workbook_tools.schedule.figures import clearance_rows, transformer_rows
from workbook_tools.schedule.limits import in_short, limits_of
from workbook_tools.schedule.model import (
    NOT_LISTED,
    ROOM,
    ClientSchedule,
    Condition,
    PhotoEntry,
    Reviewed,
    ReviewersIssue,
    ScheduleRow,
    SignedBy,
)
from workbook_tools.schedule.sentences import issue_sentence, telling_words
from workbook_tools.schedule.services import other_sources, service_sentences
from workbook_tools.schedule.tree import tree_nodes
from workbook_tools.schedule.walking_order import sources_first, walk
from workbook_tools.schedule.words import words_used
from workbook_tools.survey import Equipment, Room, Row, Survey, Value

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

    found = conditions_of(checked, chosen, numbers, findings, own)
    of_row = by_row(found)
    steps = walk(assessment)
    remarks = _remarks(checked, left_out)
    rows = [
        _equipment_row(checked, step.row, step.level, of_row, remarks.get(step.row, ""), numbers)
        for step in sources_first(steps, assessment)
    ]
    rows += _other_rows(survey, found, of_row, remarks, numbers)
    plates = transformer_rows(assessment, numbers)
    rows = _with_every_photo(rows, {number for plate in plates for number in plate.photos}, photos)
    limits = limits_of(checked, questions, chosen, left_out, answered)
    ranked = _by_urgency(found, [step.row for step in steps])
    signed = _signed(sign_off)
    services, others = service_sentences(assessment), other_sources(assessment)
    told = " ".join((*services, others))
    return ClientSchedule(
        firm=survey.template.firm,
        property=_job(survey.job.property) or "Property not named",
        facts=_facts(checked, signed, draft),
        draft=draft,
        signed=signed,
        services=services,
        other_sources=others,
        counts=tuple((name, sum(f.condition.priority == name for f in found)) for name in PRIORITIES),
        first=_first(ranked),
        not_looked_at=in_short(limits),
        cautions=CLIENT_CAUTIONS,
        rows=tuple(rows),
        conditions=tuple(f.condition for f in ranked),
        clearances=clearance_rows(checked, chosen, found),
        clearance_note=_clearance_note(checked),
        transformers=plates,
        tree=tree_nodes(
            steps, assessment, {row: len(of_row[row]) for row in survey.equipment if row in of_row}
        ),
        photos=_photo_entries(photos),
        limits=tuple(limits),
        words=words_used(_all_words(rows, ranked, told, bool(survey.clearances), bool(survey.transformers))),
    )


def _job(value: Value[Any]) -> str:
    if isinstance(value.value, datetime.date):
        return _day(value.value)
    return " ".join(value.typed.split())


def _day(day: datetime.date) -> str:
    return f"{day:%B} {day.day}, {day.year}"


def _signed(sign_off: SignedBy | Signed | None) -> SignedBy | None:
    return (
        SignedBy(sign_off.reviewer, str(sign_off.date))
        if sign_off is not None and sign_off.reviewer
        else None
    )


def _as_said(date: str) -> str:
    """Return the date of a sign-off so that it reads like the others."""
    try:
        return _day(datetime.date.fromisoformat(date))
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


def _equipment_row(
    checked: Checked,
    row: Equipment,
    level: int,
    of_row: Mapping[Row, list[Condition]],
    remark: str,
    numbers: _Numbers,
) -> ScheduleRow:
    assessment = checked.assessment
    here = of_row.get(row, [])
    issues = issue_sentence([condition.phrase for condition in here])
    if not here:
        if not assessment.is_in_scope(row):
            issues = "Recorded, not inspected."
        elif assessment.is_entered(row) is False:
            issues = "Room not entered."
    return ScheduleRow(
        tag=row.called or "(no tag)",
        kind=kind_of(row),
        room=room_of(row),
        rating=rating(row, assessment),
        voltage=voltage(row, assessment),
        phase_wires=phase_wires(row, assessment),
        maker=maker(row),
        fed_from=fed_from(row),
        issues=" ".join(filter(None, (issues, remark, _noted(row, here, issues)))),
        priority=_most_urgent(here),
        photos=_photos_of(numbers(row), here),
        level=level,
    )


def _noted(row: Equipment | Room, here: Sequence[Condition], issues: str = "") -> str:
    """Return what the inspector remarked in a row, unless the row's issues tell it already."""
    remark = sentence(row.remarks.typed) if row.remarks.value else ""
    told = telling_words(" ".join([issues, *(f"{one.phrase} {one.seen}" for one in here)]))
    telling = telling_words(remark)
    return f"Noted: {remark}" if remark and not (telling and telling <= told) else ""


def _with_every_photo(
    rows: Sequence[ScheduleRow], cited: Collection[int], photos: PhotoSet | None
) -> list[ScheduleRow]:
    """Return the rows with those photos of theirs that no row names: a photo with a number is found again."""
    cited = {number for row in rows for number in row.photos} | set(cited)
    more: dict[str, list[int]] = {}
    for photo in photos.photos if photos is not None else ():
        if photo.number not in cited:
            for subject in photo.subjects:
                more.setdefault(plain(subject), []).append(photo.number)
    if not more:
        return list(rows)
    return [
        replace(row, photos=(*row.photos, *more[plain(row.tag)])) if plain(row.tag) in more else row
        for row in rows
    ]


def _other_rows(
    survey: Survey,
    found: Sequence[Found],
    of_row: Mapping[Row, list[Condition]],
    remarks: Mapping[Row, str],
    numbers: _Numbers,
) -> list[ScheduleRow]:
    """Return rooms with something wrong, then findings about what is not in the lists: nothing is lost."""
    rows = []
    for room in survey.rooms:
        here = of_row.get(room, [])
        # The remark about a room that was not entered stands under the limits, with the reason.
        noted = _noted(room, here) if room.access.value == "Entered" else ""
        remark = " ".join(filter(None, (remarks.get(room, ""), noted)))
        if here or remark:
            level = (room.level.value or "").strip()
            rows.append(
                _other_row(room.called, f"{ROOM} ({level})" if level else ROOM, here, numbers(room), remark)
            )
    strangers: dict[str, list[Condition]] = {}
    for one in found:
        if not one.rows:
            strangers.setdefault(one.condition.subject, []).append(one.condition)
    rows += [_other_row(subject or "(blank)", NOT_LISTED, here, ()) for subject, here in strangers.items()]
    return rows


def _other_row(
    tag: str, kind: str, here: Sequence[Condition], photos: tuple[int, ...], remark: str = ""
) -> ScheduleRow:
    said = issue_sentence([condition.phrase for condition in here]) if here else ""
    issues = f"{said} {remark}".strip()
    return ScheduleRow(
        tag, kind, "", "", "", "", "", "", issues, _most_urgent(here), _photos_of(photos, here)
    )


def _most_urgent(conditions: Sequence[Condition]) -> str:
    return min((c.priority for c in conditions), key=urgency, default="")


def _photos_of(own: tuple[int, ...], conditions: Sequence[Condition]) -> tuple[int, ...]:
    return tuple(dict.fromkeys((*own, *(number for c in conditions for number in c.photos))))


def _remarks(checked: Checked, left_out: Iterable[Problem]) -> Mapping[Row, str]:
    """Return what notes say about single rows, but for those that the reviewer kept back."""
    kept_back = {(problem.rule, problem.row) for problem in left_out}
    said: dict[Row, list[str]] = {}
    for problem in checked.problems:
        card = client_reads.card_of(problem)
        if not isinstance(card, Remark) or (problem.rule, problem.row) in kept_back:
            continue
        room = checked.survey.room(problem.subject)
        rows: list[Row] = [*checked.survey.tagged(problem.subject)]
        for row in rows or ([room] if room is not None else []):
            said.setdefault(row, []).append(sentence(problem.phrase or problem.message))
    return {row: " ".join(dict.fromkeys(texts)) for row, texts in said.items()}


def _by_urgency(found: Iterable[Found], walked: Sequence[Row]) -> list[Found]:
    """Most urgent first; among equals metal that may be live, then what stands nearer to the service."""
    order = {row: place for place, row in enumerate(walked)}
    last = len(order)

    def key(one: Found) -> tuple[int, bool, int]:
        place = min((order.get(row, last) for row in one.rows), default=last)
        return urgency(one.condition.priority), not one.may_be_live, place

    return sorted(found, key=key)


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


def _photo_entries(photos: PhotoSet | None) -> tuple[PhotoEntry, ...]:
    return tuple(
        PhotoEntry(
            number=photo.number,
            caption=sentence(photo.caption),
            subject=listed(photo.subjects),
            file=photo.file,
            picture=photo.picture.thumbnail,
            width=photo.picture.thumbnail_width,
            height=photo.picture.thumbnail_height,
        )
        for photo in (photos.photos if photos is not None else ())
    )


def _all_words(
    rows: Sequence[ScheduleRow], found: Sequence[Found], told: str, clearances: bool, transformers: bool
) -> str:
    parts = [f"{row.kind} {row.voltage} {row.phase_wires} {row.issues}" for row in rows]
    parts += [f"{f.condition.seen} {f.condition.why} {f.condition.action} {f.condition.basis}" for f in found]
    parts.append(f"service disconnect motion of the hand {told}")
    if clearances:
        parts.append("volts to ground opposite side working space NFPA 70")
    if transformers:
        parts.append("full load impedance fault current ratio step-down kVA kA highest fault current")
    return " ".join(parts)


class _Numbers(Protocol):
    def __call__(self, row: Row) -> tuple[int, ...]: ...

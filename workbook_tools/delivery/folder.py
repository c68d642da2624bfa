"""The client's folder: everything written aside, proved, and put in place in one step.

    put_in_place(order)   writes the delivery and returns what to tell
    Order                 what goes into it, decided
    Delivered             the folder, its files, and the sentences for the terminal

Not here: whether it may go out (gate).
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from workbook_tools.checking import Checked
from workbook_tools.comparison import compare_checked, since_last
from workbook_tools.delivery.for_the_file import Record, record_path, write_record
from workbook_tools.delivery.gate import Answered, Judgment
from workbook_tools.delivery.proof import prove
from workbook_tools.delivery.schedule_data import schedule_json, schedule_tables
from workbook_tools.delivery.tables import survey_tables
from workbook_tools.files import Filling, refuse_what_stands, whole_file, whole_folder
from workbook_tools.files.data_package import write_data
from workbook_tools.handover import build_handover, write_handover
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.photos.looked_at import LookedAt
from workbook_tools.photos.numbered import PhotoSet, gather_photos
from workbook_tools.review import Review, WhichSurvey, template_as_said
from workbook_tools.review.columns import STATEMENT
from workbook_tools.review.seal import ANSWERS
from workbook_tools.rules.plain_english import listed, sentence
from workbook_tools.schedule import ClientSchedule, SignedBy, build_schedule, write_schedule
from workbook_tools.schedule.limits import OPEN
from workbook_tools.survey import fingerprint
from workbook_tools.typesetting import print_schedule

__all__ = ["Delivered", "Order", "put_in_place"]

SCHEDULE, PDF, JSON, DATA, PHOTOS = "schedule.xlsx", "schedule.pdf", "schedule.json", "data", "photos"
HANDOVER = "handover.xlsx"
"""The names in a delivery. None is made of anything that a person typed."""

_OF_THE_BUILDING = {
    SCHEDULE: "Client schedule (workbook)",
    PDF: "Client schedule (PDF)",
    JSON: "Client schedule (data)",
}
"""The files that the handover names as documents of the building, where they are in the delivery."""

_NO_DAY = datetime.date(2000, 1, 1)
"""Of the PDF of a draft whose inspection has no date."""

MOST_TOLD = 12
"""Sentences of one kind that are told one by one; the record has them all."""


@dataclass(frozen=True)
class Delivered:
    """What was delivered: the folder, its files, the firm's record, and sentences for the terminal."""

    folder: Path
    files: tuple[Path, ...]
    record: Path
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Order:
    """A delivery as decided: what goes in, what is open in a draft, where to, and how.

    `reviews` are the reviews as given, `review` all of them as one; `signed` is who signed and when,
    as it is printed, or nothing where the sign-off is missing or does not hold; `last` is the survey before;
    `handover` is whether facility systems are to take the equipment from COBie sheets.
    """

    target: Path
    checked: Checked
    judgment: Judgment
    reviews: Sequence[Review]
    review: Review | None
    signed: Sequence[tuple[str, str]]
    photos: LookedAt
    photo_folder: PhotoFolder | None
    still_open: list[str]
    draft: bool
    force: bool
    last: Checked | None = None
    handover: bool = False


def put_in_place(order: Order) -> Delivered:
    """Write everything beside its place, prove the workbook, then put folder and record in place.

    Raises
    ------
    Unusable
        The folder or the record stands there already, nothing can be written there, or the
        written workbook is not what was meant.
    """
    record = record_path(order.target)
    # What stands in the way is said here, before the photos take their time. The client's folder
    # is put in place last: where it stands, everything does.
    with whole_folder(order.target, force=order.force, beside=record) as filling, _as_it_was(record, filling):
        refuse_what_stands(record, order.force)
        photos = gather_photos(order.checked.survey, order.photo_folder)
        schedule = _schedule(order, photos)
        printed = _write_folder(filling.folder, order, schedule, photos)
        with whole_file(record, force=order.force) as record_aside:
            write_record(record_aside, _record(order, photos))
    files = tuple(sorted(order.target / name for name in filling.written))
    lines = (*_lines(order, schedule, photos, record.name), *printed, *_of_others(filling))
    return Delivered(order.target, files, record, lines)


@contextmanager
def _as_it_was(record: Path, filling: Filling) -> Iterator[None]:
    """Where the folder does not come into its place, let the record be that of the folder that stands there."""
    before = record.read_bytes() if record.is_file() else None
    try:
        yield
    except BaseException:
        if not filling.placed:
            _again(record, before)
        raise


def _again(record: Path, before: bytes | None) -> None:
    if before is None:
        record.unlink(missing_ok=True)
    elif record.read_bytes() != before:
        with whole_file(record, force=True) as aside:
            aside.write_bytes(before)


def _of_others(filling: Filling) -> Iterator[str]:
    """Say what of somebody else's lies in the client's folder."""
    if filling.kept:
        first = ", ".join(filling.kept[:MOST_TOLD])
        more = f" and {len(filling.kept) - MOST_TOLD} more" if len(filling.kept) > MOST_TOLD else ""
        was, it = ("was", "it") if len(filling.kept) == 1 else ("were", "them")
        yield (
            f"{first}{more} {was} not written by this tool and stayed in the folder: "
            f"look whether the client is to have {it}."
        )
    if filling.left_over is not None:
        yield f"{filling.left_over} holds what came into the earlier folder while it was being replaced."


def _write_folder(folder: Path, order: Order, schedule: ClientSchedule, photos: PhotoSet) -> Sequence[str]:
    """Write the client's files to a folder and return what is to be said about the PDF and the handover."""
    prove(folder / SCHEDULE, write_schedule(schedule, folder / SCHEDULE))
    if photos.photos:
        (folder / PHOTOS).mkdir()
    for photo in photos.photos:
        (folder / PHOTOS / photo.file).write_bytes(photo.picture.jpeg)
    checked = order.checked
    title = f"Electrical survey of {schedule.property}"
    about = {
        "title": f"DRAFT: {title}" if order.draft else title,
        "description": " ".join(schedule.cautions[:1]),
        "created": datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds"),
    }
    tables = [*survey_tables(checked.survey, checked.assessment), *schedule_tables(schedule)]
    write_data(tables, folder / DATA, about)
    (folder / JSON).write_text(schedule_json(schedule, about), encoding="utf-8", errors="backslashreplace")
    said = print_schedule(schedule, folder / PDF, _day(order))
    return [*said, *_write_handover(folder, order, schedule)] if order.handover else said


def _write_handover(folder: Path, order: Order, schedule: ClientSchedule) -> Sequence[str]:
    """Write the COBie sheets and return what is to be said about them."""
    files = {name: what for name, what in _OF_THE_BUILDING.items() if (folder / name).exists()}
    handover = build_handover(order.checked, schedule, files, PHOTOS)
    prove(folder / HANDOVER, write_handover(handover, folder / HANDOVER))
    return [f"{HANDOVER}:", *(f"  - {line}" for line in handover.said)]


def _day(order: Order) -> datetime.date:
    """Return the day that the PDF bears: of the release, else of the inspection; never that of the clock."""
    if order.signed:
        return datetime.date.fromisoformat(max(day for _, day in order.signed))
    return order.checked.survey.job.inspection_date.value or _NO_DAY


def _schedule(order: Order, photos: PhotoSet) -> ClientSchedule:
    judged = order.judgment
    schedule = build_schedule(
        order.checked,
        conditions=judged.conditions,
        questions=judged.asked,
        left_out=judged.unsaid,
        findings=dict(judged.findings),
        own=judged.own,
        answered=judged.told,
        photos=photos,
        sign_off=_signed_by(order),
        draft=order.draft,
    )
    if order.last is None:
        return schedule
    compared = compare_checked(order.last, order.checked, told=schedule.conditions)
    return replace(schedule, since=since_last(compared))


def _signed_by(order: Order) -> SignedBy | None:
    """Return who answers for it, and the day on which the last of them signed."""
    if not order.signed:
        return None
    return SignedBy(listed([name for name, _ in order.signed]), max(day for _, day in order.signed))


def _record(order: Order, photos: PhotoSet) -> Record:
    return Record(
        order.judgment,
        _signed(order),
        list(_made_from(order)),
        []
        if order.draft
        else [(one, day) for one, (_, day) in zip(order.reviews, order.signed, strict=False)],
        order.still_open,
        _photos_to_tell(order, photos),
    )


def _made_from(order: Order) -> Iterator[tuple[str, str]]:
    survey, profile = order.checked.survey, order.checked.assessment.profile
    yield "Survey", f"{survey.path.name}: {WhichSurvey.of(survey).in_words}, content {fingerprint(survey)}."
    if order.last is not None:
        before = order.last.survey
        yield (
            "Compared with",
            f"{before.path.name}: {WhichSurvey.of(before).in_words}, content {fingerprint(before)}.",
        )
    yield "Template", f"{template_as_said(survey.template)}."
    yield "Code profile", f"{profile.title} ({profile.name}). {' '.join(profile.amended)}".strip()
    for review in order.reviews:
        saved = f", last saved on {review.saved.isoformat()}" if review.saved is not None else ""
        yield "Review", f"{review.name}, checked on {review.made}, seal {review.seal.mark or 'none'}{saved}."
    folder = order.photo_folder
    yield (
        "Photos",
        f"From the folder {folder.path.name}." if folder is not None else "Delivered without photos.",
    )
    if folder is not None:
        for name, digest in order.photos.contents:
            yield "Photo used", f"{name}, content {digest}."


def _signed(order: Order) -> str:
    """Return who signed what, as the firm's record has it."""
    survey = order.checked.survey.path.name
    if not order.signed:
        return f"Draft of {survey}: not signed."
    said = f" {STATEMENT}"
    unanswered = len(order.judgment.questions)
    if unanswered:
        said += f" Not answered when this was delivered: {_so_many(unanswered, 'problem')} to confirm, listed below."
    names = "; ".join(f"{name}, {day}" for name, day in order.signed)
    return f"{names}: {survey}, content {fingerprint(order.checked.survey)}.{said}"


def _photos_to_tell(order: Order, photos: PhotoSet) -> list[str]:
    """Return what is to be said about photos, but for what stands among the open things already."""
    named = [problem.message for problem in order.judgment.open_problems]
    return [
        line
        for line in photos.said
        if not (name := photos.missing.get(line)) or not any(f"photo {name} " in m for m in named)
    ]


def _lines(order: Order, schedule: ClientSchedule, photos: PhotoSet, record: str) -> Iterator[str]:
    counts = ", ".join(f"{count} {name}" for name, count in schedule.counts if count) or "none"
    draft = " as a DRAFT" if order.draft else ""
    yield f"{order.target} holds the schedule of {schedule.property}{draft}."
    yield (
        f"{_so_many(len(order.checked.survey.equipment), 'piece')} of equipment, "
        f"{_so_many(len(schedule.conditions), 'condition')} ({counts}), {_so_many(len(schedule.photos), 'photo')}."
    )
    if not schedule.firm.name:
        yield "No firm's name is on it: a template of your own gives it under [firm] name."
    if order.still_open:
        yield f"{_so_many(len(order.still_open), 'thing')} open, which would stop it without --draft:"
        yield from _listed(order.still_open, record)
    for crash in order.checked.crashed:
        yield f"The rule {crash.rule} failed and looked at nothing: the schedule's limits say so ({crash.error})."
    to_know = [
        *_saved_after(order),
        *order.checked.survey.notes,
        *order.checked.said,
        *(order.review.said if order.review is not None else ()),
    ]
    if to_know:
        yield "To know:"
        yield from _listed(to_know, record)
    for out in order.judgment.urgent_left_out:
        yield f"TO ACT ON NOW AND LEFT OUT: {_agreed(out)}"
    for lower in order.judgment.lowered:
        yield f"TO ACT ON NOW AND RANKED {lower.words.upper()}: {_agreed(lower)}"
    if order.judgment.left_out:
        yield f"{_so_many(len(order.judgment.left_out), 'problem')} left out with a reason: see {record}."
    if order.judgment.own:
        yield f"{_so_many(len(order.judgment.own), 'issue')} of the reviewer's own among them."
    yield from _unanswered(order, schedule, record)
    of_photos = _photos_to_tell(order, photos)
    if len(of_photos) == 1:
        yield of_photos[0]
    elif of_photos:
        yield "About the photos:"
        yield from _listed(of_photos, record)


def _agreed(answer: Answered) -> str:
    problem = answer.problem
    return (
        f"{problem.subject or problem.place}: {problem.message} Reason: {sentence(answer.reason)} "
        f"Agreed by {sentence(answer.second)}"
    )


def _saved_after(order: Order) -> Iterator[str]:
    """Say of each review whose answers are not sealed that they may be others than those signed.

    Where it was checked again after the signature, its answers are sealed, and were compared.
    """
    for review, (_, day) in zip(order.reviews, order.signed, strict=False):
        if ANSWERS in review.seal.parts:
            continue
        saved = (
            f" It was last saved on {review.saved.isoformat()} and is signed for {day}."
            if review.saved is not None and review.saved.isoformat() > day
            else ""
        )
        yield (
            f"The answers of {review.name} are not sealed: whether one changed after signing cannot be told.{saved} They are "
            f"where check -o {review.name} is run once more, with the same --photos, right after signing."
        )


def _unanswered(order: Order, schedule: ClientSchedule, record: str) -> Iterator[str]:
    """Say once how many questions nobody answered, and who reads them."""
    to_client = sum(line.group == OPEN for line in schedule.limits)
    every = len(order.judgment.asked)
    if not every:
        return
    one = every == 1
    yield (
        f"{_so_many(every, 'question')} {'was' if one else 'were'} not answered: {_of_them(to_client, every)} in the "
        f"schedule, on the sheet Limits of this survey; {record} lists all that can be confirmed."
    )


def _of_them(count: int, every: int) -> str:
    if count == every:
        return "it stands" if every == 1 else "they stand"
    return f"{count} of them {'stands' if count == 1 else 'stand'}"


def _listed(sentences: Sequence[str], record: str) -> Iterator[str]:
    for line in sentences[:MOST_TOLD]:
        yield f"  - {line}"
    if len(sentences) > MOST_TOLD:
        yield f"  - and {len(sentences) - MOST_TOLD} more: see {record}."


def _so_many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"

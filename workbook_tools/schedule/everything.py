"""The list of everything: each piece of equipment, each room with something to say, each thing outside the lists.

    list_of_everything(checked, found, steps, ...)   Lines, each a ScheduleRow and what it stands for
    with_places(found, lines)                        the conditions with the positions of their lines
    with_every_photo(lines, cited, photos)           the ScheduleRows, so that every photo stands beside something

Not here: the order of the equipment (walking_order), how an issue reads (conditions).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from workbook_tools.checking import Checked
from workbook_tools.definitions import plain
from workbook_tools.photos.numbered import PhotoSet
from workbook_tools.rules import client_reads
from workbook_tools.rules.client import Remark
from workbook_tools.rules.plain_english import sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.conditions import Found, PhotoNumbers, urgency
from workbook_tools.schedule.equipment_texts import (
    fed_from,
    kind_of,
    level_of,
    main_device,
    maker,
    phase_wires,
    rating,
    room_of,
    short_circuit,
    voltage,
)
from workbook_tools.schedule.model import NOT_LISTED, ROOM, ScheduleRow
from workbook_tools.schedule.sentences import issue_sentence, telling_words
from workbook_tools.schedule.walking_order import Step
from workbook_tools.survey import Equipment, Room, Row

__all__ = ["Line", "list_of_everything", "with_every_photo", "with_places"]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the list: how it reads, the rows that it stands for, and what is wrong with them."""

    row: ScheduleRow
    of: tuple[Row, ...]
    found: tuple[Found, ...] = ()


def list_of_everything(
    checked: Checked,
    found: Sequence[Found],
    steps: Iterable[Step],
    left_out: Iterable[Problem],
    numbers: PhotoNumbers,
) -> list[Line]:
    """Return the lines.

    Parameters
    ----------
    checked : Checked
        The survey, its assessment, and what the rules came to.
    found : sequence of Found
        The conditions, most urgent first.
    steps : iterable of Step
        The equipment in the order of the list.
    left_out : iterable of Problem
        What the reviewer kept back: no remark of it stands beside the equipment.
    numbers : callable
        The numbers of the photos of a row.
    """
    of_row: dict[Row, list[Found]] = {}
    for one in found:
        for row in one.rows:
            of_row.setdefault(row, []).append(one)
    remarks = _remarks(checked, left_out)
    lines = [
        Line(
            _equipment_row(checked, step, of_row.get(step.row, ()), remarks.get(step.row, ""), numbers),
            (step.row,),
            tuple(of_row.get(step.row, ())),
        )
        for step in steps
    ]
    return [*lines, *_rooms(checked, of_row, remarks, numbers), *_strangers(found)]


def with_places(found: Iterable[Found], lines: Sequence[Line]) -> list[Found]:
    """Return the conditions with the positions of the lines that they stand in."""
    at: dict[Found, list[int]] = {}
    for place, line in enumerate(lines):
        for one in line.found:
            at.setdefault(one, []).append(place)
    return [replace(one, condition=replace(one.condition, rows=tuple(at.get(one, ())))) for one in found]


def _equipment_row(
    checked: Checked, step: Step, found: Sequence[Found], remark: str, numbers: PhotoNumbers
) -> ScheduleRow:
    assessment, row = checked.assessment, step.row
    issues = issue_sentence(_numbered(found))
    if not found:
        if not assessment.is_in_scope(row):
            issues = "Recorded, not inspected."
        elif assessment.is_entered(row) is False:
            issues = "Room not entered."
    return ScheduleRow(
        tag=row.called or "(no tag)",
        kind=kind_of(row),
        room=room_of(row),
        level=level_of(row, checked.survey),
        rating=rating(row, assessment),
        voltage=voltage(row, assessment),
        phase_wires=phase_wires(row, assessment),
        maker=maker(row),
        fed_from=fed_from(row),
        issues=" ".join(filter(None, (issues, remark, _noted(row, found, issues)))),
        priority=_most_urgent(found),
        photos=_photos_of(numbers(row), found),
        depth=step.depth,
        main_device=main_device(row),
        short_circuit=short_circuit(row),
        issue_ids=_ids(found),
    )


def _noted(row: Equipment | Room, found: Sequence[Found], issues: str = "") -> str:
    """Return what the inspector remarked in a row, unless the row's issues tell it already."""
    remark = sentence(row.remarks.typed) if row.remarks.value else ""
    told = telling_words(
        " ".join([issues, *(f"{one.condition.phrase} {one.condition.seen}" for one in found)])
    )
    telling = telling_words(remark)
    return f"Noted: {remark}" if remark and not (telling and telling <= told) else ""


def with_every_photo(
    lines: Sequence[Line], cited: Collection[int], photos: PhotoSet | None
) -> list[ScheduleRow]:
    """Return the rows with those photos of theirs that no row names: a photo with a number is found again."""
    rows = [line.row for line in lines]
    cited = {number for row in rows for number in row.photos} | set(cited)
    more: dict[str, list[int]] = {}
    for photo in photos.photos if photos is not None else ():
        if photo.number not in cited:
            for subject in photo.subjects:
                more.setdefault(plain(subject), []).append(photo.number)
    if not more:
        return rows
    return [
        replace(row, photos=(*row.photos, *more[plain(row.tag)])) if plain(row.tag) in more else row
        for row in rows
    ]


def _rooms(
    checked: Checked, of_row: Mapping[Row, Sequence[Found]], remarks: Mapping[Row, str], numbers: PhotoNumbers
) -> Iterable[Line]:
    """Yield the rooms with something wrong or something to say."""
    for room in checked.survey.rooms:
        here = of_row.get(room, ())
        # The remark about a room that was not entered stands under the limits, with the reason.
        noted = _noted(room, here) if room.access.value == "Entered" else ""
        remark = " ".join(filter(None, (remarks.get(room, ""), noted)))
        if here or remark:
            row = _other_row(room.called, ROOM, room.storey, here, numbers(room), remark)
            yield Line(row, (room,), tuple(here))


def _strangers(found: Iterable[Found]) -> Iterable[Line]:
    """Yield what is not in the lists, so that nothing is lost."""
    strangers: dict[str, list[Found]] = {}
    for one in found:
        if not one.rows:
            strangers.setdefault(one.condition.subject, []).append(one)
    for subject, here in strangers.items():
        yield Line(_other_row(subject or "(blank)", NOT_LISTED, "", here, ()), (), tuple(here))


def _other_row(
    tag: str, kind: str, level: str, found: Sequence[Found], photos: tuple[int, ...], remark: str = ""
) -> ScheduleRow:
    said = issue_sentence(_numbered(found)) if found else ""
    return ScheduleRow(
        tag=tag,
        kind=kind,
        room="",
        level=level,
        rating="",
        voltage="",
        phase_wires="",
        maker="",
        fed_from="",
        issues=f"{said} {remark}".strip(),
        priority=_most_urgent(found),
        photos=_photos_of(photos, found),
        issue_ids=_ids(found),
    )


def _numbered(found: Iterable[Found]) -> list[str]:
    """Return what is wrong, each with the number of its issue: "two open knockouts [K74MP]"."""
    return [f"{one.condition.phrase} [{one.condition.id}]" for one in found]


def _ids(found: Sequence[Found]) -> tuple[str, ...]:
    return tuple(one.condition.id for one in found)


def _most_urgent(found: Sequence[Found]) -> str:
    return min((one.condition.priority for one in found), key=urgency, default="")


def _photos_of(own: tuple[int, ...], found: Sequence[Found]) -> tuple[int, ...]:
    return tuple(dict.fromkeys((*own, *(number for one in found for number in one.condition.photos))))


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

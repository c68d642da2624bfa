"""The issues of a survey, complete and in the order in which they are printed.

    in_order(found, survey, walked)   each with its number, who mends it and how, and what it takes to get there

Most urgent first; within a priority by the danger (shock or fire, then access, then labels), metal that
may be live before the rest, then what stands nearer to the service.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from workbook_tools.definitions import PRIORITIES
from workbook_tools.definitions.work import Work
from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.conditions import Found, urgency
from workbook_tools.schedule.equipment_texts import room_of
from workbook_tools.schedule.issue_numbers import numbered
from workbook_tools.survey import Equipment, Room, Row, Survey

__all__ = ["in_order"]


def in_order(found: Sequence[Found], survey: Survey, walked: Sequence[Row]) -> list[Found]:
    """Return the conditions as they are printed.

    Parameters
    ----------
    found : sequence of Found
        The conditions, in the order of the sheets.
    survey : Survey
        Holds the rooms.
    walked : sequence of Row
        The equipment from the service on.
    """
    numbers = numbered((one.condition.subject, one.about) for one in found)
    complete = [_complete(one, number, survey) for one, number in zip(found, numbers, strict=True)]
    order = {row: place for place, row in enumerate(walked)}
    last = len(order)

    def key(one: Found) -> tuple[int, int, bool, int]:
        place = min((order.get(row, last) for row in one.rows), default=last)
        return urgency(one.condition.priority), one.work.danger.rank, not one.may_be_live, place

    return sorted(complete, key=key)


def _complete(one: Found, number: str, survey: Survey) -> Found:
    work = one.work
    urgent = one.condition.priority == PRIORITIES[0]
    task = one.condition.action
    condition = replace(
        one.condition,
        id=number,
        action=f"{_KEEP_AWAY} from the equipment. {task}"
        if urgent and not task.startswith(_KEEP_AWAY)
        else task,
        task=task,
        trade=work.trade.value,
        power=work.power.value,
        effort=f"today; {work.effort.value}" if urgent else work.effort.value,
        access=_way_in(one.rows, survey, work),
    )
    return replace(one, condition=condition)


_KEEP_AWAY = "Keep people away"
"""What the owner does about everything to act on now, before anybody mends it."""

_LADDER = "Ladder."

_OF_THE_WAY = re.compile(
    r"\b(?:keys?|keyed|locks?|locked|padlock\w*|badge|escort\w*|tenants?|ladders?|lift|hatch|roof|ceiling|security|"
    r"appointment|hours|gate|code|crawl\w*)\b",
    re.IGNORECASE,
)
"""Words of a remark that tell how one gets there."""

_SENTENCES = re.compile(r"(?<=[.;!?])\s+|\n+")


def _way_in(rows: Iterable[Row], survey: Survey, work: Work) -> str:
    """Return what it takes to get there, from what the inspector wrote of the room and the equipment; "" for nothing."""
    said = [_LADDER] if work.ladder else []
    for row in rows:
        room = survey.room(room_of(row)) if isinstance(row, Equipment) else row
        if not isinstance(room, Room):
            said += _told(row)
            continue
        if room.access.value not in (None, "Entered"):
            said.append(f"Not entered at the survey: {sentence(room.access.said)}")
        said += [*_told(room), *_told(row)]
    return " ".join(dict.fromkeys(said))


def _told(row: Row | None) -> list[str]:
    if not isinstance(row, (Room, Equipment)) or not row.remarks.value:
        return []
    return [sentence(part) for part in _SENTENCES.split(row.remarks.typed) if _OF_THE_WAY.search(part)]

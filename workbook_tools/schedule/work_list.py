"""The work list: one line for each issue, by trade, then by level and room; an electrician quotes from it.

    work_items(found, assessment)   WorkItems in the order of the list
    who_is_needed(work)             who has how much to do, in one sentence

Not here: what is to be done and by whom (the library, the cards of the rules).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import PRIORITIES
from workbook_tools.definitions.work import Trade
from workbook_tools.rules.plain_english import listed
from workbook_tools.schedule.conditions import Found
from workbook_tools.schedule.equipment_texts import (
    fed_from,
    main_device,
    maker,
    phase_wires,
    rating,
    room_of,
    short_circuit,
    voltage,
)
from workbook_tools.schedule.model import ROOM, WorkItem
from workbook_tools.survey import Equipment, Row, Survey

__all__ = ["who_is_needed", "work_items"]


def work_items(found: Sequence[Found], assessment: Assessment) -> tuple[WorkItem, ...]:
    """Return the lines: by trade, then by level and room; within a room as the issues stand, most urgent first.

    Parameters
    ----------
    found : sequence of Found
        The conditions, most urgent first.
    assessment : Assessment
        Voltages and ratings.
    """
    trades = [trade.value for trade in Trade]
    order = _walked(assessment.survey)

    def key(item: WorkItem) -> tuple[int, int]:
        return trades.index(item.trade), order.get((item.level, item.room), len(order))

    urgent: dict[Row, str] = {}
    for one in found:
        if one.condition.priority == PRIORITIES[0]:
            for row in one.rows:
                urgent.setdefault(row, one.condition.id)
    feeds = _feeds(assessment)
    return tuple(sorted((_item(one, assessment, urgent, feeds) for one in found), key=key))


def _feeds(assessment: Assessment) -> dict[Row, list[str]]:
    """Return the tags that each piece of equipment feeds."""
    feeds: dict[Row, list[str]] = {}
    for row in assessment.survey.equipment:
        for source in assessment.supply.sources(row):
            for feeder in source.rows[:1]:
                if feeder is not row:
                    feeds.setdefault(feeder, []).append(row.called)
    return feeds


def _walked(survey: Survey) -> dict[tuple[str, str], int]:
    """Return levels and rooms in the order of the sheet Rooms, the rooms of one level together."""
    levels: dict[str, list[str]] = {}
    for room in survey.rooms:
        levels.setdefault(room.storey, []).append(room.called)
    for row in survey.equipment:
        if row.room.said and survey.room(room_of(row)) is None:
            levels.setdefault("", []).append(room_of(row))
    pairs = [(level, room) for level, rooms in levels.items() for room in rooms]
    return {pair: place for place, pair in enumerate(dict.fromkeys(pairs))}


def _item(
    one: Found, assessment: Assessment, urgent: Mapping[Row, str], feeds: Mapping[Row, Sequence[str]]
) -> WorkItem:
    condition = one.condition
    before = next((urgent[row] for row in one.rows if row in urgent), condition.id)
    after = f"After {before}." if before != condition.id else ""
    equipment = next((row for row in one.rows if isinstance(row, Equipment)), None)
    return WorkItem(
        id=condition.id,
        priority=condition.priority,
        trade=condition.trade,
        level=condition.level,
        room=condition.room,
        tag="" if condition.kind == ROOM else condition.subject,
        kind=condition.kind,
        rating=rating(equipment, assessment) if equipment is not None else "",
        voltage=voltage(equipment, assessment) if equipment is not None else "",
        phase_wires=phase_wires(equipment, assessment) if equipment is not None else "",
        maker=maker(equipment) if equipment is not None else "",
        main_device=main_device(equipment) if equipment is not None else "",
        short_circuit=short_circuit(equipment) if equipment is not None else "",
        fed_from=fed_from(equipment) if equipment is not None else "",
        feeds=listed(feeds.get(equipment, ())) if equipment is not None else "",
        seen=condition.seen,
        task=condition.task,
        count=condition.count,
        power=condition.power,
        access=" ".join(filter(None, (after, condition.access))),
        effort=condition.effort,
    )


def who_is_needed(work: Sequence[WorkItem]) -> str:
    """Return who has how many issues to mend: "Who is needed, and for how many issues: licensed electrician (22), ..."."""
    counts = Counter(item.trade for item in work)
    said = [f"{trade} ({count})" for trade, count in counts.most_common()]
    return f"Who is needed, and for how many issues: {listed(said)}." if said else ""

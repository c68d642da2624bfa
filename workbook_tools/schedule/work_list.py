"""The work list: one line for each issue, by trade, then by level and room; an electrician quotes from it.

    work_items(found, lines, assessment)   WorkItems in the order of the list
    who_is_needed(work)             who has how much to do, in one sentence

Not here: what is to be done and by whom (the library, the cards of the rules).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import PRIORITIES
from workbook_tools.definitions.work import Trade
from workbook_tools.rules.plain_english import listed
from workbook_tools.schedule.conditions import Found
from workbook_tools.schedule.equipment_texts import room_of
from workbook_tools.schedule.everything import Line
from workbook_tools.schedule.model import ROOM, WorkItem
from workbook_tools.schedule.walking_order import fed_by
from workbook_tools.survey import Equipment, Row, Survey

__all__ = ["who_is_needed", "work_items"]


def work_items(found: Sequence[Found], lines: Sequence[Line], assessment: Assessment) -> tuple[WorkItem, ...]:
    """Return the lines: by trade, then by level and room; within a room as the issues stand, most urgent first.

    Parameters
    ----------
    found : sequence of Found
        The conditions with their places, most urgent first.
    lines : sequence of Line
        The list of everything, which says what the equipment is.
    assessment : Assessment
        Says what feeds what.
    """
    trades = [trade.value for trade in Trade]
    order = _walked(assessment.survey)

    def key(item: WorkItem) -> tuple[int, int]:
        return trades.index(item.trade), order.get((item.level, item.room), len(order))

    of_row = {row: line.row for line in lines for row in line.of}
    urgent: dict[Row, str] = {}
    for one in found:
        if one.condition.priority == PRIORITIES[0]:
            for row in one.rows:
                urgent.setdefault(row, one.condition.id)
    fed = fed_by(assessment)

    def item(one: Found) -> WorkItem:
        condition = one.condition
        before = next((urgent[row] for row in one.rows if row in urgent), condition.id)
        after = f"After {before}." if before != condition.id else ""
        about = one.rows[0] if one.rows else None
        line = of_row[about] if about is not None else lines[condition.rows[0]].row
        feeds = fed.get(about, []) if isinstance(about, Equipment) else []
        return WorkItem(
            id=condition.id,
            priority=condition.priority,
            trade=condition.trade,
            level=condition.level,
            room=condition.room,
            tag="" if condition.kind == ROOM else condition.subject,
            kind=condition.kind,
            rating=line.rating,
            voltage=line.voltage,
            phase_wires=line.phase_wires,
            maker=line.maker,
            main_device=line.main_device,
            short_circuit=line.short_circuit,
            fed_from=line.fed_from,
            feeds=listed([row.called for row in feeds]),
            seen=condition.seen,
            task=condition.task,
            count=condition.count,
            power=condition.power,
            access=" ".join(filter(None, (after, condition.access))),
            effort=condition.effort,
        )

    return tuple(sorted(map(item, found), key=key))


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


def who_is_needed(work: Sequence[WorkItem]) -> str:
    """Return who has how many issues to mend: "Who is needed, and for how many issues: licensed electrician (22), ..."."""
    counts = Counter(item.trade for item in work)
    said = [f"{trade} ({count})" for trade, count in counts.most_common()]
    return f"Who is needed, and for how many issues: {listed(said)}." if said else ""

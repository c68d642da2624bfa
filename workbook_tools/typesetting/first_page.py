"""The first page: where to switch off, what to do first, what was not looked at.

    first_page(schedule, places)

Above the three answers stands how much there is of each priority, below them the cautions and the contents.
"""

from __future__ import annotations

from workbook_tools.definitions import PRIORITIES
from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.headings import NO_ISSUES
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.schedule.summary_sheet import not_shown
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Answer, FirstPage, Run, Tile, Words
from workbook_tools.typesetting.places import Places

__all__ = ["first_page"]

_ACT_NOW = PRIORITIES[0]

_LONGEST = 180
"""Letters of what was seen, and of what to do, of one issue."""


def first_page(schedule: ClientSchedule, places: Places, limits: str) -> FirstPage:
    """Return the first page; `limits` is the id of the chapter with all that was not looked at."""
    return FirstPage(
        by=" · ".join(filter(None, (schedule.firm.name, *schedule.firm.lines))),
        kind="Schedule of electrical equipment",
        facts=schedule.facts,
        draft="DRAFT: not released; what stands here may still change." if schedule.draft else "",
        tiles=tuple(Tile(mark_of(name), name, count) for name, count in schedule.counts),
        answers=(
            Answer("Where to switch off the building", _switch_off(schedule)),
            Answer("What to do first", tuple(_first(schedule, places))),
            Answer("What was not looked at", _not_looked_at(schedule, limits), bullets=True),
        ),
        cautions_title="Cautions",
        cautions=schedule.cautions,
        contents="In this schedule",
    )


def _switch_off(schedule: ClientSchedule) -> tuple[Words, ...]:
    services = tuple((Run(text, strong=True),) for text in (*schedule.services, *schedule.doubts))
    others: tuple[Words, ...] = ((Run(schedule.other_sources),),) if schedule.other_sources else ()
    return (*services, *others)


def _first(schedule: ClientSchedule, places: Places) -> list[Words]:
    if not schedule.first:
        return [(Run(NO_ISSUES),)]
    lines: list[Words] = []
    for condition in schedule.first:
        mark = mark_of(condition.priority)
        lines.append(
            (
                places.issue(condition.id, condition.place, mark, strong=True),
                Run(f" [{condition.id}]: {_in_short(condition.seen)} "),
                Run(f"{_in_short(condition.action)} {capital(condition.trade)}.", strong=True),
            )
        )
    more: Words = (
        (Run(f"{said} under Issues, most urgent first.", to="issues"),)
        if (said := not_shown(schedule))
        else ()
    )
    if schedule.who:
        more = (
            *more,
            Run(f" {schedule.who} "),
            Run("The work list has it by trade, level and room.", to="work"),
        )
    return [*lines, more] if more else lines


def _in_short(text: str) -> str:
    """Return a text that leaves room for the other answers; the card of the issue has the whole of it.

    Examples
    --------
    >>> _in_short("Two open knockouts."), _in_short("word " * 100)[-13:]
    ('Two open knockouts.', 'word word ...')
    """
    if len(text) <= _LONGEST:
        return text
    return f"{text[:_LONGEST].rpartition(' ')[0] or text[:_LONGEST]} ..."


def _not_looked_at(schedule: ClientSchedule, limits: str) -> tuple[Words, ...]:
    """Return the limits in short; the last line, which says where all of them stand, leads there."""
    lines = [(Run(text),) for text in schedule.not_looked_at]
    if lines and schedule.limits:
        lines[-1] = (Run(schedule.not_looked_at[-1], to=limits),)
    return tuple(lines)

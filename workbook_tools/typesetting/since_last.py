"""What has changed since the survey before: the issues with what became of them, and the equipment.

since_last(schedule, places)   a Chapter, or None where there is no survey before
"""

from __future__ import annotations

from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.headings import NUMBER, WHERE
from workbook_tools.schedule.model import ClientSchedule, SinceLast
from workbook_tools.schedule.since_sheet import WHAT_IS_COMPARED, WHAT_IT_MEANS
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Band, Chapter, Column, Row, Table
from workbook_tools.typesetting.places import Places
from workbook_tools.typesetting.tables import row_of, words_of

__all__ = ["since_last"]

_ISSUES = (
    Column("Issue now", 24),
    Column(NUMBER, 20),
    Column(WHERE, 52),
    Column("What", 88),
    Column("By what it is known", 60),
)
_EQUIPMENT = (
    Column("Equipment now", 28),
    Column("Tag", 36),
    Column("Answer", 44),
    Column("Was", 68),
    Column("Is", 68),
)


def since_last(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return what has changed since the survey before."""
    since = schedule.since
    if since is None:
        return None
    tables = []
    if since.issues:
        tables.append(Table("Issues", _ISSUES, (Band("", _issues(since, places)),)))
    if since.equipment:
        rows = tuple(
            row_of(words_of(capital(one.change), strong=True), one.tag, one.field, one.was, one.is_)
            for one in since.equipment
        )
        tables.append(Table("Equipment", _EQUIPMENT, (Band("", rows),)))
    return Chapter("since", "Since last year", _note(since), wide=True, tables=tuple(tables))


def _issues(since: SinceLast, places: Places) -> tuple[Row, ...]:
    return tuple(
        row_of(
            words_of(capital(one.state), strong=True),
            (places.issue(one.id, mark=mark_of(one.priority)),) if one.id else (),
            one.place,
            one.what,
            one.why,
        )
        for one in since.issues
    )


def _note(since: SinceLast) -> str:
    counted = (
        f"{what}: {', '.join(f'{count} {word}' for word, count in figures)}."
        for what, figures in (("Issues", since.states), ("Pieces of equipment", since.pieces))
        if figures
    )
    compared = (WHAT_IS_COMPARED,) if since.equipment else ()
    return " ".join(
        (f"Before: {since.last}. Now: {since.this}.", *since.said, *counted, WHAT_IT_MEANS, *compared)
    )

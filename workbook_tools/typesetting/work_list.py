"""The work list: what an electrician quotes from, and carries along.

work_list(schedule, places)   a Chapter, or None where there is no work
"""

from __future__ import annotations

from itertools import groupby

from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.headings import ACCESS, EFFORT, NUMBER, POWER, WORK
from workbook_tools.schedule.model import ClientSchedule, WorkItem
from workbook_tools.schedule.work_sheet import power
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Band, Chapter, Column, Row, Run, Table, Words
from workbook_tools.typesetting.places import Places
from workbook_tools.typesetting.tables import named, row_of

__all__ = ["work_list"]

_WORK = (
    Column("Done", 10, "center", box=True),
    Column(NUMBER, 17),
    Column("Tag, and what it is", 48),
    Column(WORK, 72),
    Column("Count", 11, "center"),
    Column(POWER, 30),
    Column(ACCESS, 24),
    Column(EFFORT, 20),
    Column("Price", 14, rule=True),
    Column("Date, name", 18, rule=True),
)


def work_list(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return what is to be done, by trade, then level and room: to quote from, and to carry along."""
    if not schedule.work:
        return None
    tables = []
    for trade, of_trade in groupby(schedule.work, key=lambda item: item.trade):
        items = list(of_trade)
        bands = tuple(
            Band(
                ", ".join(filter(None, where)) or "No room recorded",
                tuple(_work(places, item) for item in group),
            )
            for where, group in groupby(items, key=lambda item: (item.level, item.room))
        )
        tables.append(Table(f"{capital(trade)} ({len(items)})", _WORK, bands))
    return Chapter(
        "work",
        "Work list",
        "By trade, then level and room; one line for each issue, which its number leads to. Whoever does the work decides on "
        "site what has to be off and how it is done; nothing here says that work on live parts is safe. Way in is blank where "
        "nothing was noted.",
        wide=True,
        tables=tuple(tables),
    )


def _work(places: Places, item: WorkItem) -> Row:
    known = (item.kind, item.rating, item.voltage, item.phase_wires)
    plate = (
        ("maker", item.maker),
        ("main device", item.main_device),
        ("short-circuit rating", item.short_circuit),
    )
    what = ", ".join([*(text for text in known if text), *named(plate)])
    about: Words = (
        Run(item.tag or "The room itself", strong=True),
        *((Run(f" {what}"),) if item.tag and what else ()),
    )
    task: Words = (Run(item.task, strong=True), Run(f" {item.seen}"))
    return row_of(
        "", (places.issue(item.id, mark=mark_of(item.priority)),), about, task, str(item.count),
        power(item), item.access, capital(item.effort), "", "",
    )  # fmt: skip

"""The sheet Work list: what is to be done, by trade, then level and room, with room for a price and a date.

write_work(recorder, schedule)
what_it_is(item), power(item)   what stands in its cells that several facts make
"""

from __future__ import annotations

from workbook_tools.definitions.work import Power
from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.headings import ACCESS, EFFORT, NUMBER, POWER, WORK
from workbook_tools.schedule.list_sheets import LINK, begin_table
from workbook_tools.schedule.model import ClientSchedule, WorkItem
from workbook_tools.schedule.printed_page import Cell, Column
from workbook_tools.schedule.priorities import priority_style, signed
from workbook_tools.schedule.recorder import Recorder

__all__ = ["power", "what_it_is", "write_work"]

_BOX = "\u25a1"
_CENTER = {"align": "center"}

_COLUMNS = (
    Column("Done", 34, {**_CENTER, "font_size": 12}),
    Column(NUMBER, 64, _CENTER),
    Column("Priority", 64, _CENTER),
    Column("Level", 54),
    Column("Room", 70),
    Column("Tag", 62, {"bold": True}),
    Column("What it is", 102),
    Column(WORK, 150),
    Column("Count", 38, {**_CENTER, "num_format": "0"}),
    Column(POWER, 82),
    Column(ACCESS, 68),
    Column(EFFORT, 66),
    Column("Price", 42),
    Column("Date", 38),
)


def write_work(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Work list, where there is work."""
    if not schedule.work:
        return
    page = begin_table(
        recorder, schedule, "Work list", "Work list: by trade, then level and room",
        "For a quotation. One line for each issue, by its number; what was seen stands on the sheet Issues. Whoever does the "
        "work decides on site what has to be off and how it is done; nothing here says that work on live parts is safe. Way in "
        "is blank where nothing was noted.",
        _COLUMNS,
    )  # fmt: skip
    trade = ""
    for item in schedule.work:
        if item.trade != trade:
            trade = item.trade
            count = sum(other.trade == trade for other in schedule.work)
            page.band(f"{capital(trade)} ({count})", keep=60, style={"font_size": 10})
        page.cells(
            (
                _BOX, Cell(item.id, LINK, ("issue", item.id)), Cell(signed(item.priority), priority_style(item.priority)),
                item.level, item.room, item.tag, what_it_is(item), f"{item.task}\nSeen: {item.seen}", item.count, power(item), item.access,
                capital(item.effort), "", "",
            ),
        )  # fmt: skip
    page.end()


def what_it_is(item: WorkItem) -> str:
    """Return the equipment in one cell: kind, size, supply, maker, main device and short-circuit rating."""
    withstands = f"{item.short_circuit} short-circuit rating" if item.short_circuit[:1].isdigit() else ""
    said = (item.kind, item.rating, item.voltage, item.phase_wires, item.maker, item.main_device, withstands)
    return ", ".join(text for text in said if text and text != "-")


def power(item: WorkItem) -> str:
    """Return whether power has to be off, where it is switched off, and what goes off with it."""
    said = f"{capital(item.power)}."
    if item.power == Power.ON.value or not item.fed_from:
        return said
    feeds = f" It feeds {item.feeds}." if item.feeds else ""
    return f"{said} Fed from {item.fed_from}.{feeds}"

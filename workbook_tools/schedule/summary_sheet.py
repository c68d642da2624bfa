"""The first page: where to switch off, what to do first, what was not looked at, how much there is.

    write_summary(recorder, schedule)
    not_shown(schedule)   how many issues it does not name: "Three other issues stand"

Everything that an owner must not miss stands within the first two pages.
"""

from __future__ import annotations

from typing import Any

from workbook_tools.definitions import PRIORITIES
from workbook_tools.files.text_width import cut, wrapped
from workbook_tools.rules.plain_english import capital, in_words, listed, plural
from workbook_tools.schedule.bar_charts import Bars, insert_bars
from workbook_tools.schedule.cautions import WHO_MAY_SWITCH
from workbook_tools.schedule.headings import NO_ISSUES
from workbook_tools.schedule.list_sheets import LINK
from workbook_tools.schedule.model import ClientSchedule, Condition
from workbook_tools.schedule.printed_page import PrintedPage
from workbook_tools.schedule.priorities import priority_style, signed
from workbook_tools.schedule.recorder import Recorder, printable
from workbook_tools.schedule.words import PRIORITY_MEANINGS, PRIORITY_NOTE

__all__ = ["not_shown", "write_summary"]

_WIDTHS = (104, 124, 124, 114, 104, 124, 124, 114)
_MOST_LINES = 8
"""Lines of one text on this sheet; the whole of it stands on its own sheet, or in the data."""

ACT_NOW = PRIORITIES[0]

_COUNT_ROW = 26

_CHART_ROWS = 5
_CHART_ROW = 24.0
_LABEL = {"font_color": "#5A6468", "valign": "top"}
_FACT = {"text_wrap": True, "valign": "top"}


def write_summary(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Summary."""
    page = PrintedPage(
        recorder, "Summary", "", "", widths=_WIDTHS, property_name=schedule.property, caution=schedule.cautions[0],
        draft=schedule.draft,
    )  # fmt: skip
    _head(page, schedule)
    _switch_off(page, schedule)
    _first(page, schedule)
    page.space(5)
    page.band("What was not looked at")
    for line in schedule.not_looked_at:
        page.paragraph(line)
    page.space(5)
    _counts(page, schedule)
    page.space(5)
    page.band("Cautions")
    for caution in schedule.cautions:
        page.paragraph(caution)
    page.end()


def _head(page: PrintedPage, schedule: ClientSchedule) -> None:
    firm = schedule.firm
    title = {"bold": True, "font_size": 17, "font_color": "#FFFFFF", "bg_color": firm.colour}
    page.line(f" Electrical schedule: {schedule.property}", title, height=30)
    by = " \u00b7 ".join(filter(None, (firm.name, *firm.lines)))
    page.line(f" {by}", {"font_color": "#FFFFFF", "bg_color": firm.colour, "font_size": 10}, height=17)
    if schedule.draft:
        page.line(
            "DRAFT: not released; what stands here may still change.",
            {"bold": True, "font_size": 11, "font_color": firm.accent, "border": 2, "border_color": firm.accent,
             "align": "center"},
            height=20,
        )  # fmt: skip
    page.space(4)
    facts = schedule.facts
    half = (len(facts) + 1) // 2
    for left in range(half):
        pairs = [facts[left], *(facts[left + half : left + half + 1])]
        lines = 1
        for side, (label, text) in enumerate(pairs):
            column = 4 * side
            page.sheet.text(page.row, column, label, page.recorder.style(_LABEL))
            room = page.width_of(column + 1, column + 3)
            shown = cut(printable(text), _MOST_LINES, room, 9)
            page.sheet.merged(page.row, column + 1, column + 3, shown, page.recorder.style(_FACT))
            lines = max(lines, len(wrapped(shown, room, 9)))
        page.advance(lines * 12 + 2)
    page.space(5)


def _switch_off(page: PrintedPage, schedule: ClientSchedule) -> None:
    page.band("Where to switch off the building")
    for text in schedule.services:
        page.paragraph(text, {"font_size": 12, "bold": True})
    for text in schedule.doubts:
        page.paragraph(text, {"font_size": 10, "bold": True, "font_color": page.recorder.firm.accent})
    page.paragraph(f"{WHO_MAY_SWITCH} {schedule.other_sources}".strip(), {"font_size": 10})
    page.space(5)


def _first(page: PrintedPage, schedule: ClientSchedule) -> None:
    page.band("What to do first")
    if not schedule.first:
        page.paragraph(NO_ISSUES)
        return
    for place, condition in enumerate(schedule.first, 1):
        _one_of_the_first(page, place, condition)
    if schedule.who:
        page.paragraph(f"{schedule.who} The sheet Work list has it by trade, level and room.")
    if said := not_shown(schedule):
        look = {"font_color": "#404040", "bold": "to act on now" in said}
        page.paragraph(f"{said} on the sheet Issues, most urgent first.", look)


def not_shown(schedule: ClientSchedule) -> str:
    """Return how many issues the first page does not name, those to act on now by themselves; "" for none."""
    rest = len(schedule.conditions) - len(schedule.first)
    act_now = dict(schedule.counts).get(ACT_NOW, 0) - sum(c.priority == ACT_NOW for c in schedule.first)
    said = [
        f"{in_words(act_now)} more to act on now" if act_now else "",
        plural(rest - act_now, "other issue") if rest > act_now else "",
    ]
    return (
        f"{capital(listed([text for text in said if text]))} {'stands' if rest == 1 else 'stand'}"
        if rest
        else ""
    )


def _one_of_the_first(page: PrintedPage, place: int, condition: Condition) -> None:
    seen = f"{place}. {condition.place}: {condition.seen}"
    texts: tuple[tuple[int, int, str, dict[str, Any]], ...] = (
        (1, 4, seen, {}),
        (5, 6, f"{condition.action} {capital(condition.trade)}.", {"bold": True}),
        (7, 7, f"Issue {condition.id}", LINK),
    )
    rule = {"bottom": 1, "bottom_color": "#B9C2C6"}
    shown = []
    for first, last, text, style in texts:
        room, bold = page.width_of(first, last) - 9, bool(style.get("bold"))
        said = cut(printable(text), _MOST_LINES, room, 10, bold)
        shown.append((first, last, said, style, len(wrapped(said, room, 10, bold))))
    points = max(lines for *_, lines in shown) * 13.4 + 7
    page.keep(points)
    chip = {**priority_style(condition.priority), **rule, "align": "center", "valign": "vcenter"}
    page.sheet.text(page.row, 0, signed(condition.priority), page.recorder.style(chip))
    page.recorder.link(page.sheet, page.row, 7, ("issue", condition.id))
    for first, last, said, style, _ in shown:
        made = page.recorder.style(
            {
                "text_wrap": True,
                "valign": "vcenter",
                "align": "left",
                "indent": 1,
                "font_size": 10,
                **style,
                **rule,
            }
        )
        page.sheet.merged(page.row, first, last, said, made)
    page.advance(points)


def _counts(page: PrintedPage, schedule: ClientSchedule) -> None:
    """Write the counts as a table, and the same cells as a chart beside it."""
    page.band(f"Issues by priority ({PRIORITY_NOTE})", keep=_CHART_ROWS * _CHART_ROW + 20)
    style = page.recorder.style
    heading: dict[str, Any] = {
        "bold": True,
        "font_color": "#FFFFFF",
        "bg_color": page.colour,
        "valign": "vcenter",
    }
    page.sheet.text(page.row, 0, "Priority", style(heading))
    page.sheet.text(page.row, 1, "Number of issues", style({**heading, "align": "center"}))
    page.sheet.merged(page.row, 2, 4, "What it means", style(heading))
    top = page.row
    page.advance(16)
    meanings = dict(PRIORITY_MEANINGS)
    cell = {"valign": "vcenter", "bottom": 1, "bottom_color": "#B9C2C6"}
    count_style = style({**cell, "align": "center", "font_size": 11, "bold": True, "num_format": "0"})
    for priority, count in schedule.counts:
        chip = style({**priority_style(priority), **cell, "align": "center"})
        page.sheet.text(page.row, 0, signed(priority), chip)
        page.sheet.number(page.row, 1, count, count_style)
        page.sheet.merged(page.row, 2, 4, meanings.get(priority, ""), style({**cell, "text_wrap": True}))
        page.advance(_COUNT_ROW)
    _chart(page, schedule, top)


def _chart(page: PrintedPage, schedule: ClientSchedule, top: int) -> None:
    bars = Bars("Number of issues", 1, [priority_style(name)["bg_color"] for name, _ in schedule.counts])
    height = int((16 + _COUNT_ROW * len(schedule.counts)) * 96 / 72) - 8
    insert_bars(
        page,
        (top, 5),
        (top + 1, top + len(schedule.counts)),
        [bars],
        size=(sum(_WIDTHS[5:]) - 6, height),
        says="Number of issues by priority, as in the table",
    )

"""Tables of counts, each with a chart of the same cells.

write_counts(page, table)   a band, the table, and its chart beside or above it
CountTable                  what it counts, under which headings
write_kinds_of_issue, write_equipment   the two sheets that hold nothing but counts
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from workbook_tools.definitions import PRIORITIES
from workbook_tools.portfolio.page import begin
from workbook_tools.portfolio.rolled_up import BY_PRIORITY, Counts, RolledUp
from workbook_tools.schedule.bar_charts import Bars, insert_bars
from workbook_tools.schedule.printed_page import Cell, Column, PrintedPage
from workbook_tools.schedule.priorities import priority_style, signed
from workbook_tools.schedule.recorder import Recorder, Target

__all__ = ["GRID", "CountTable", "write_counts", "write_equipment", "write_kinds_of_issue"]

GRID = (250, 50, 56, 56, 62, 62, 62, 62, 272)
"""Widths of a sheet of counts: the label, seven counts, and room for a chart."""

_WIDE = (438, 62, 72, 90, 90, 90, 90)
_ROW = 17.0
_PIXELS = 96 / 72
_CHARTED = 12
_BAR, _AROUND, _LEAST = 24, 62, 150
"""Height of a bar and of what stands around the bars, and the least height of a chart. [pixels]"""

_COUNT = {"align": "center", "num_format": "#,##0"}
_HEADINGS = dict(zip(BY_PRIORITY, PRIORITIES, strict=True)) | {
    "sites": "Sites",
    "pieces": "Pieces",
    "issues": "Issues",
}


@dataclass(frozen=True)
class CountTable:
    """One table: its band, the heading of its labels, its lines, and the counts that it shows.

    `charted` are the counts that the chart shows, one series each; `leads` says where a label leads.
    """

    title: str
    heading: str
    counts: Counts
    shown: Sequence[str] = ("sites", "pieces", "issues", *BY_PRIORITY)
    charted: Sequence[str] = BY_PRIORITY
    says: str = ""
    priorities: bool = False
    leads: Callable[[str], Target | None] = field(default=lambda _: None)


def write_counts(page: PrintedPage, table: CountTable, *, above: bool = False) -> None:
    """Write a table of counts with its chart, beside it or `above`."""
    bars = min(len(table.counts), _CHARTED)
    height = max(_LEAST, bars * _BAR + _AROUND)
    charted = bool(table.counts)
    page.band(table.title, keep=min(height / _PIXELS + 45, 340))
    if table.says:
        page.paragraph(table.says, {"font_color": "#404040"})
    chart_at = page.row, 0
    if above and charted:
        page.space(height / _PIXELS + 8)
    columns = [
        Column(table.heading, page.widths[0], {"bold": not table.priorities}),
        *(Column(_HEADINGS[name], page.widths[place], _COUNT) for place, name in enumerate(table.shown, 1)),
    ]
    top = page.headings(columns, repeated=above, frozen=False)
    if not above:
        chart_at = top, len(columns)
    for line in table.counts:
        label = (
            Cell(signed(line.label), priority_style(line.label))
            if table.priorities
            else Cell(line.label, {}, table.leads(line.label))
        )
        page.cells([label, *(getattr(line, name) for name in table.shown)], least=_ROW)
    if not charted:
        page.paragraph("None.")
        return
    width = sum(page.widths) if above else sum(page.widths[len(columns) :])
    insert_bars(
        page,
        chart_at,
        (top + 1, top + bars),
        [_bars(table, name) for name in table.charted],
        size=(width - 8, height),
        says=f"{table.title}: as in the table",
    )
    missing = height / _PIXELS + 10 - (len(table.counts) + 1) * _ROW
    page.space(8 if above or missing < 8 else missing)


def _bars(table: CountTable, name: str) -> Bars:
    column = 1 + list(table.shown).index(name)
    if name in BY_PRIORITY:
        return Bars(_HEADINGS[name], column, [priority_style(_HEADINGS[name])["bg_color"]])
    labels = [line.label for line in table.counts[:_CHARTED]]
    return Bars(
        _HEADINGS[name], column, [priority_style(label).get("bg_color", "#B9C2C6") for label in labels]
    )


def write_kinds_of_issue(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Kinds of issue: what is wrong how often, on how many sites."""
    page = begin(
        recorder,
        "Kinds of issue",
        "Kinds of issue",
        "What is wrong, whoever found it: the inspector or a rule of the check. Counted once for each place.",
        _WIDE,
    )
    shown = ("sites", "issues", *BY_PRIORITY)
    title = "Issues by what is wrong" + (
        ", the most frequent in the chart" if len(rolled.by_issue) > _CHARTED else ""
    )
    write_counts(page, CountTable(title, "What is wrong", rolled.by_issue, shown), above=True)
    page.end()


def write_equipment(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Equipment: pieces and their issues by kind, age and size."""
    page = begin(
        recorder,
        "Equipment",
        "Equipment by kind, age and size",
        "Pieces of the surveys that are counted, and the issues at them. Age and size are those of the nameplate, where it "
        "could be read; an issue that concerns several pieces counts at each of them under age and size.",
        GRID,
    )
    tables = (
        CountTable("By kind of equipment", "Kind", rolled.by_kind),
        CountTable("Transformers by year made", "Year made", rolled.by_decade),
        CountTable("Transformers by size (kVA)", "Size", rolled.by_kva),
        CountTable("Everything else by rating (amperes)", "Rating", rolled.by_amperes),
    )
    for table in tables:
        write_counts(page, table)
    page.end()

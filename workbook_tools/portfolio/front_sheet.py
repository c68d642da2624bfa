"""The first sheet of the overview: how much there is, and where to look first.

write_front(recorder, rolled)
"""

from __future__ import annotations

from workbook_tools.portfolio.counts import GRID, CountTable, write_counts
from workbook_tools.portfolio.page import TITLE, begin
from workbook_tools.portfolio.rolled_up import BY_PRIORITY, RolledUp
from workbook_tools.schedule.printed_page import PrintedPage
from workbook_tools.schedule.recorder import Recorder
from workbook_tools.schedule.words import PRIORITY_NOTE
from workbook_tools.sites.in_words import how_many

__all__ = ["how_much", "write_front"]

_MOST_FIRST = 6
"""Sites that stand on the first page."""


def write_front(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Overview."""
    page = begin(recorder, "Overview", "", "", GRID)
    title = {"bold": True, "font_size": 17, "font_color": "#FFFFFF", "bg_color": recorder.firm.colour}
    page.line(f" {TITLE}", title, height=30)
    page.space(4)
    for text in how_much(rolled):
        page.paragraph(text, {"font_size": 11})
    page.space(5)
    _tables(page, rolled)
    page.end()


def _tables(page: PrintedPage, rolled: RolledUp) -> None:
    write_counts(
        page,
        CountTable(
            f"Issues by priority ({PRIORITY_NOTE})",
            "Priority",
            rolled.by_priority,
            shown=("sites", "issues"),
            charted=("issues",),
            priorities=True,
        ),
    )
    first = tuple(line for line in rolled.by_site if line.issues)[:_MOST_FIRST]
    more = len(rolled.by_site) - len(first)
    write_counts(
        page,
        CountTable(
            "Where to look first",
            "Site",
            first,
            shown=("pieces", "issues", *BY_PRIORITY),
            says=f"The sites with the most urgent issues; {how_many(more, 'more site')} on the sheet Sites."
            if more
            else "",
            leads=lambda site: ("site", site),
        ),
    )


def how_much(rolled: RolledUp) -> list[str]:
    """Return in sentences how much was read, what is not counted, and what was not read."""
    counted = [line for line in rolled.surveys if line.counted]
    pieces = sum(line.pieces for line in counted)
    issues = sum(line.issues for line in counted)
    left_out = len(rolled.surveys) - len(counted)
    much = ", ".join((how_many(pieces, "piece of equipment"), how_many(issues, "issue")))
    said = [f"{how_many(len(rolled.by_site), 'site')}: {much}, from {how_many(len(counted), 'survey')}."]
    if left_out:
        stand = "stands" if left_out == 1 else "stand"
        said.append(
            f"{how_many(left_out, 'more survey')} {stand} on the sheet Sites and in no count: a survey of an earlier year, or "
            "another state of the same survey."
        )
    if rolled.not_read:
        said.append(
            f"{how_many(len(rolled.not_read), 'file')} could not be read: the sheet Not read says why."
        )
    return [*said, *filter(None, [rolled.passed_over])]

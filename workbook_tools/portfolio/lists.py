"""The sheets that list: sites, issues, years, and what was not read.

write_sites(recorder, rolled), write_issues(...), write_years(...), write_not_read(...)
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbook_tools.portfolio.counts import CountTable, write_counts
from workbook_tools.portfolio.page import begin
from workbook_tools.portfolio.rolled_up import RolledUp
from workbook_tools.schedule.headings import NUMBER, WHAT_WAS_SEEN
from workbook_tools.schedule.printed_page import Cell, Column, PrintedPage
from workbook_tools.schedule.priorities import priority_style, signed
from workbook_tools.schedule.recorder import Recorder

__all__ = ["MOST_ISSUES", "write_issues", "write_not_read", "write_sites", "write_years"]

MOST_ISSUES = 100_000
"""Issues that stand on a sheet; the data has all of them."""

_BOLD: dict[str, Any] = {"bold": True}
_CENTER: dict[str, Any] = {"align": "center"}
_COUNT: dict[str, Any] = {"align": "center", "num_format": "#,##0"}
_YEAR: dict[str, Any] = {"align": "center", "num_format": "0"}
_PALE: dict[str, Any] = {"font_color": "#5A6468"}

_SITES = (
    Column("Property", 124, _BOLD), Column("Address", 100), Column("Inspector", 70), Column("Date", 72, _CENTER),
    Column("Pieces", 46, _COUNT), Column("To correct", 50, _COUNT), Column("To confirm", 52, _COUNT),
    Column("To report", 48, _COUNT), Column("Noted", 46, _COUNT), Column("Act now", 40, _COUNT),
    Column("Correct soon", 50, _COUNT), Column("Upkeep", 52, _COUNT), Column("Record", 50, _COUNT), Column("File", 134),
)  # fmt: skip

_ISSUES = (
    Column("Priority", 76, _CENTER), Column(NUMBER, 54, _CENTER), Column("Site", 104, _BOLD), Column("Date", 72, _CENTER),
    Column("Subject", 66), Column("Level", 72), Column("Room", 82), Column("Rule", 104), Column("Finding", 104),
    Column(WHAT_WAS_SEEN, 198),
)  # fmt: skip

_YEARS = (
    Column("Site", 262, _BOLD), Column("Year", 60, _YEAR), Column("Pieces", 64, _COUNT), Column("Issues", 64, _COUNT),
    Column("Act now", 64, _COUNT), Column("Correct soon", 66, _COUNT), Column("Upkeep", 64, _COUNT),
    Column("Record", 64, _COUNT), Column("New", 70, _COUNT), Column("Found again", 74, _COUNT),
    Column("Not found again", 80, _COUNT),
)  # fmt: skip

_NOT_READ = (Column("File", 300, _BOLD), Column("Why, and what to do", 632))


def write_sites(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Sites: one line for each survey."""
    page = _table(
        recorder,
        "Sites",
        "Sites: one line for each survey",
        "Problems are those of the check (to correct, to confirm, to report, noted), issues those that the client would read, by "
        "priority. A pale line is not counted, for the reason under its file.",
        _SITES,
        filtered=bool(rolled.surveys),
    )
    top = page.row - 1
    for line in rolled.surveys:
        cells: list[Any] = [
            line.property or line.site, line.address, line.inspector, line.date, line.pieces, line.correct, line.confirm,
            line.report, line.note, line.act_now, line.correct_soon, line.upkeep, line.record,
            f"{line.file}\nNot counted: {line.why_not}" if line.why_not else line.file,
        ]  # fmt: skip
        if not line.counted:
            cells = [Cell(cell, _PALE) for cell in cells]
        page.cells(cells, target=("site", line.site) if line.counted else None)
    _end(page, top, len(rolled.surveys), "No survey was read.")


def write_issues(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Issues: all of them, most urgent first."""
    more = len(rolled.issues) - MOST_ISSUES
    left_out = (
        f" The {more:,} least urgent do not fit here: write the data too (--data), which has all of them."
        if more > 0
        else ""
    )
    page = _table(
        recorder,
        "Issues",
        "Issues of all surveys, most urgent first",
        "As the check and the inspector found them, before review. The number of an issue stays the same from year to year at "
        f"its site. Pale: of a survey that is not counted.{left_out}",
        _ISSUES,
        filtered=bool(rolled.issues),
    )
    top = page.row - 1
    for line in rolled.issues[:MOST_ISSUES]:
        issue = line.issue
        cells: list[Any] = [
            Cell(signed(issue.priority), priority_style(issue.priority)), issue.id, line.site, line.date, issue.subject,
            issue.level, issue.room, issue.rule, issue.finding, issue.seen,
        ]  # fmt: skip
        if not line.counted:
            cells[1:] = [Cell(cell, _PALE) for cell in cells[1:]]
        page.cells(cells)
    _end(page, top, min(len(rolled.issues), MOST_ISSUES), "No issue was found.")


def write_years(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Over the years, where a site was surveyed in several."""
    if not rolled.years:
        return
    page = begin(
        recorder,
        "Over the years",
        "Sites that were surveyed in several years",
        "Each year beside the survey before it: issues that are new, that were found again, and that were not found again, by "
        "their numbers. Not found again means mended, or not looked at: the surveys say which.",
        [column.width for column in _YEARS],
    )
    write_counts(
        page,
        CountTable("The first survey of each of these sites, and the last", "Survey", rolled.first_and_last),
    )
    page.band("Year by year")
    page.headings(_YEARS, filtered=True, frozen=False)
    top = page.row - 1
    before = ""
    for line in rolled.years:
        site = line.site if line.site != before else Cell(line.site, {**_PALE, "bold": False})
        before = line.site
        page.cells((site, *line[1:]))
    _end(page, top, len(rolled.years), "")


def write_not_read(recorder: Recorder, rolled: RolledUp) -> None:
    """Write the sheet Not read, where there is something."""
    if not rolled.not_read:
        return
    page = _table(
        recorder, "Not read", "Files that could not be read", "Nothing of them is in any count.", _NOT_READ
    )
    for one in rolled.not_read:
        page.cells((str(one.path), one.sentence))
    page.end()


def _table(
    recorder: Recorder,
    name: str,
    title: str,
    explanation: str,
    columns: Sequence[Column],
    *,
    filtered: bool = False,
) -> PrintedPage:
    page = begin(recorder, name, title, explanation, [column.width for column in columns])
    page.headings(columns, filtered=filtered)
    return page


def _end(page: PrintedPage, top: int, rows: int, none: str) -> None:
    if rows:
        page.sheet.worksheet.autofilter(top, 0, page.row - 1, page.last)
    elif none:
        page.paragraph(none)
    page.end()

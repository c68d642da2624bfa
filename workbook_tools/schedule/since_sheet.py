"""What has changed since the survey before: a sheet of the client schedule, and a workbook of its own.

    write_since(recorder, schedule)              the sheets Since last year and Changed equipment, where there is one
    write_changes(since, path, firm, property)   the workbook; returns what each cell was meant to hold

Not here: what changed (comparison).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from workbook_tools.definitions.model import Firm
from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.cautions import CLIENT_CAUTIONS
from workbook_tools.schedule.headings import NUMBER, WHERE
from workbook_tools.schedule.list_sheets import LINK
from workbook_tools.schedule.model import ClientSchedule, SinceLast
from workbook_tools.schedule.printed_page import Cell, Column, PrintedPage
from workbook_tools.schedule.priorities import priority_style, signed
from workbook_tools.schedule.recorder import Meant, Recorder, printable
from workbook_tools.survey.origin import PROPERTY

__all__ = ["WHAT_IS_COMPARED", "WHAT_IT_MEANS", "write_changes", "write_since"]

_CENTER = {"align": "center"}
_BOLD = {"bold": True}

_ISSUES = (
    Column("Issue now", 96, _BOLD),
    Column(NUMBER, 64, _CENTER),
    Column("Priority", 78, _CENTER),
    Column(WHERE, 190),
    Column("What", 284),
    Column("By what it is known", 220),
)
_EQUIPMENT = (
    Column("Equipment now", 96, _BOLD),
    Column("Tag", 142, _BOLD),
    Column("Answer", 190),
    Column("Was", 252),
    Column("Is", 252),
)
WHAT_IT_MEANS = (
    "Mended is said only where this year's survey shows it; not seen again means that nobody can tell. The number of an issue is "
    "the same in both years."
)
WHAT_IS_COMPARED = (
    "Answers of the equipment, its plates and its clearances; what is asked anew at every visit is not compared. A tag that may "
    "have been changed is asked about: renamed? names last year's tag under Was."
)


def write_since(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheets Since last year and Changed equipment, where there is a survey before."""
    if schedule.since is not None:
        _write(recorder, schedule.since, schedule.property, schedule.draft)


def write_changes(since: SinceLast, path: str | os.PathLike[str], firm: Firm, property_name: str) -> Meant:
    """Write a workbook of what has changed.

    Parameters
    ----------
    since : SinceLast
        What has changed.
    path : path
        The workbook to write.
    firm : Firm
        Whose colours and paper it has.
    property_name : str
        The building.

    Returns
    -------
    meant : dict
        Sheet -> (row, column) from 0 -> the value that was meant to stand there.
    """
    with Recorder(Path(path), firm) as recorder:
        recorder.workbook.set_properties({"title": printable(f"Changes: {property_name}")[:250]})
        recorder.workbook.set_custom_property(PROPERTY, "client schedule 2", "text")
        _write(recorder, since, property_name, False)
    return recorder.meant


def _write(recorder: Recorder, since: SinceLast, property_name: str, draft: bool) -> None:
    page = _begin(recorder, "Since last year", WHAT_IT_MEANS, _ISSUES, property_name, draft)
    page.paragraph(f"Before: {since.last}. Now: {since.this}.")
    for text in since.said:
        page.paragraph(text, _BOLD)
    for what, figures in (("Issues", since.states), ("Pieces of equipment", since.pieces)):
        counted = ", ".join(f"{count} {word}" for word, count in figures)
        page.paragraph(f"{what}: {counted}.", {**_BOLD, "font_size": 10})
    page.space(4)
    page.headings(_ISSUES)
    for issue in since.issues:
        page.cells(
            (
                capital(issue.state), Cell(issue.id, LINK, ("issue", issue.id)), Cell(signed(issue.priority), priority_style(issue.priority)),
                issue.place, issue.what, issue.why,
            )
        )  # fmt: skip
    if not since.issues:
        page.paragraph("No issue in either survey.")
    page.end()
    if since.equipment:
        page = _begin(recorder, "Changed equipment", WHAT_IS_COMPARED, _EQUIPMENT, property_name, draft)
        page.headings(_EQUIPMENT)
        for change in since.equipment:
            page.cells((capital(change.change), change.tag, change.field, change.was, change.is_))
        page.end()


def _begin(
    recorder: Recorder, name: str, says: str, columns: Sequence[Column], property_name: str, draft: bool
) -> PrintedPage:
    return PrintedPage(
        recorder, name, name, says, widths=[column.width for column in columns], property_name=property_name,
        caution=CLIENT_CAUTIONS[0], draft=draft,
    )  # fmt: skip

"""The client schedule typeset as a PDF, without an office program.

    print_schedule(schedule, path, day)    writes the PDF; returns sentences for the terminal

Content and look are apart: `content` makes a Document of plain texts, `schedule.typ` says how it looks.

Not here: what the schedule says (schedule).
"""

from __future__ import annotations

import datetime
from pathlib import Path

from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.typesetting.content import document_of, lines_of
from workbook_tools.typesetting.pictures import files_of
from workbook_tools.typesetting.typesetter import typeset

__all__ = ["MOST_LINES", "print_schedule"]

MOST_LINES = 5_000
"""Of all tables and cards together: measured, 3,000 lines take 700 MB, a building of 300 pieces has 1,400."""


def print_schedule(schedule: ClientSchedule, path: Path, day: datetime.date) -> tuple[str, ...]:
    """Write the schedule as a PDF, where that is possible; return what is to be said about it.

    Parameters
    ----------
    schedule : ClientSchedule
        What is printed.
    path : Path
        The PDF to write.
    day : date
        The day that it says it was made on.
    """
    document = document_of(schedule)
    lines = lines_of(document)
    if lines > MOST_LINES:
        said = f"the schedule is longer than what is typeset ({lines:,} lines, {MOST_LINES:,} at most)"
        return (f"No PDF was made: {said}. Print the workbook from any spreadsheet program.",)
    return typeset(document, files_of(schedule.photos), day, path)

"""The client schedule typeset as a PDF, without an office program.

    print_schedule(schedule, path, day)    writes the PDF; returns sentences for the terminal

Content and look are apart: `content` makes a Document of plain texts, `schedule.typ` says how it looks.

Not here: what the schedule says (schedule).
"""

from __future__ import annotations

import datetime
from pathlib import Path

from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.typesetting.content import document_of
from workbook_tools.typesetting.pictures import files_of
from workbook_tools.typesetting.typesetter import typeset

__all__ = ["print_schedule"]


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
    return typeset(document_of(schedule), files_of(schedule.photos), day, path)

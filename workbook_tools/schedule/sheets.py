"""The client schedule becomes a workbook, ready to print.

    write_schedule(schedule, path)   writes every sheet; returns what each cell was meant to hold

Summary, Schedule, Issues, Work list, Since last year, Clearances, Transformers, Supply tree, Supply picture, Photos, Limits
of this survey, Words used: each in a module of its own or in list_sheets. The file is complete
or not there; putting it in its place is delivery's.
"""

from __future__ import annotations

import os
from pathlib import Path

from workbook_tools.schedule.list_sheets import (
    write_clearances,
    write_everything,
    write_issues,
    write_limits,
    write_transformers,
    write_words,
)
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.schedule.photo_sheet import write_photos
from workbook_tools.schedule.recorder import Meant, Recorder, printable
from workbook_tools.schedule.since_sheet import write_since
from workbook_tools.schedule.summary_sheet import write_summary
from workbook_tools.schedule.tree_sheets import write_picture, write_tree
from workbook_tools.schedule.work_sheet import write_work
from workbook_tools.survey.origin import PROPERTY

__all__ = ["write_schedule"]

_IN_ORDER = (
    write_summary,
    write_everything,
    write_issues,
    write_work,
    write_since,
    write_clearances,
    write_transformers,
    write_tree,
    write_picture,
    write_photos,
    write_limits,
    write_words,
)


def write_schedule(schedule: ClientSchedule, path: str | os.PathLike[str]) -> Meant:
    """Write the client schedule.

    Parameters
    ----------
    schedule : ClientSchedule
        Finished content; nothing is computed here.
    path : path
        The workbook to write.

    Returns
    -------
    meant : dict
        Sheet -> (row, column) from 0 -> the value that was meant to stand there.
    """
    with Recorder(Path(path), schedule.firm) as recorder:
        recorder.workbook.set_properties(
            {
                "title": printable(f"Electrical schedule: {schedule.property}")[:250],
                "company": printable(schedule.firm.name)[:250],
                "comments": "DRAFT" if schedule.draft else "",
            }
        )
        # Its tables resemble a survey's: read as one by mistake, it says what it is.
        recorder.workbook.set_custom_property(PROPERTY, "client schedule 1", "text")
        for write in _IN_ORDER:
            write(recorder, schedule)
    return recorder.meant

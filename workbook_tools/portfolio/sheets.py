"""The overview becomes a workbook.

    write_overview(rolled, path)   writes every sheet; returns what each cell was meant to hold

Overview, Sites, Issues, Kinds of issue, Equipment, Over the years, Not read. Putting the file in its place is
the command's.
"""

from __future__ import annotations

import os
from pathlib import Path

from workbook_tools.definitions import Firm
from workbook_tools.portfolio.counts import write_equipment, write_kinds_of_issue
from workbook_tools.portfolio.front_sheet import write_front
from workbook_tools.portfolio.lists import write_issues, write_not_read, write_sites, write_years
from workbook_tools.portfolio.page import TITLE
from workbook_tools.portfolio.rolled_up import RolledUp
from workbook_tools.schedule.recorder import Meant, Recorder
from workbook_tools.survey.origin import PROPERTY

__all__ = ["write_overview"]

_IN_ORDER = (
    write_front,
    write_sites,
    write_issues,
    write_kinds_of_issue,
    write_equipment,
    write_years,
    write_not_read,
)


def write_overview(rolled: RolledUp, path: str | os.PathLike[str]) -> Meant:
    """Write the overview.

    Parameters
    ----------
    rolled : RolledUp
        Finished content; nothing is computed here.
    path : path
        The workbook to write.

    Returns
    -------
    meant : dict
        Sheet -> (row, column) from 0 -> the value that was meant to stand there.
    """
    with Recorder(Path(path), rolled.firm or Firm("")) as recorder:
        recorder.workbook.set_properties({"title": TITLE})
        # Its tables resemble a survey's: read as one by mistake, it says what it is.
        recorder.workbook.set_custom_property(PROPERTY, "overview 1", "text")
        for write in _IN_ORDER:
            write(recorder, rolled)
    return recorder.meant

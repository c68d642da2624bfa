"""The sheets become a workbook of plain texts.

    write_handover(handover, path)   writes every sheet; returns what each cell was meant to hold

Not here: what stands in them (building).
"""

from __future__ import annotations

import datetime
import os
from dataclasses import fields
from pathlib import Path

from workbook_tools.handover.model import SHEETS, Handover, Record, columns
from workbook_tools.schedule.recorder import Meant, Recorder, Style, printable
from workbook_tools.survey.origin import PROPERTY

__all__ = ["write_handover"]

_WIDEST, _NARROWEST = 48, 11  # characters


def write_handover(handover: Handover, path: str | os.PathLike[str]) -> Meant:
    """Write the workbook.

    Parameters
    ----------
    handover : Handover
        Finished rows.
    path : path
        The workbook to write.

    Returns
    -------
    meant : dict
        Sheet -> (row, column) from 0 -> the text that was meant to stand there.
    """
    with Recorder(Path(path), handover.firm) as recorder:
        recorder.workbook.set_properties(
            {
                "title": printable(f"COBie sheets: {handover.property}")[:250],
                "company": printable(handover.firm.name)[:250],
                "comments": "DRAFT" if handover.draft else "",
                "created": datetime.datetime.combine(handover.day, datetime.time()),
            }
        )
        recorder.workbook.set_custom_property(PROPERTY, "handover 1", "text")
        heading = recorder.style({"bold": True, "bottom": 1})
        plain = recorder.style({})
        for sheet in SHEETS:
            _write(recorder, sheet, handover, heading, plain)
    return recorder.meant


def _write(recorder: Recorder, sheet: type[Record], handover: Handover, heading: Style, plain: Style) -> None:
    written = recorder.sheet(sheet.__name__)
    headings = columns(sheet)
    names = [field.name for field in fields(sheet)]
    widths = [max(len(text) + 2, _NARROWEST) for text in headings]
    for column, text in enumerate(headings):
        written.text(0, column, text, heading)
    for at, row in enumerate(handover.sheets[sheet], 1):
        for column, name in enumerate(names):
            text = getattr(row, name)
            widths[column] = max(widths[column], min(len(text) + 1, _WIDEST))
            written.text(at, column, text, plain)
    for column, width in enumerate(widths):
        written.worksheet.set_column(column, column, width)
    written.worksheet.freeze_panes(1, 1)
    written.worksheet.repeat_rows(0)
    written.worksheet.set_landscape()
    written.worksheet.set_header(f"&L&A{'&CDRAFT' if handover.draft else ''}&RPage &P of &N")

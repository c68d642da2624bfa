"""The equipment and the rooms as COBie sheets, which facility systems take.

    build_handover(checked, schedule, ...)   a Handover, from what the client reads
    write_handover(handover, path)           the workbook; returns what each cell was meant to hold
    Handover                                 the sheets row by row, and what is to be said about them

COBie is an open standard (NBIMS-US version 3, chapter 4.2: COBie 2.4). Ten of its sheets are written: those
that a survey has something for. What the survey does not know is "n/a" there, as the standard says.

Not here: what the client reads (schedule), whether it may go out (delivery).
"""

from workbook_tools.handover.building import build_handover
from workbook_tools.handover.model import Handover
from workbook_tools.handover.writing import write_handover

__all__ = ["Handover", "build_handover", "write_handover"]

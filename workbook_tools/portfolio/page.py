"""A sheet of the overview: the printed page of the house, with a caution of its own.

begin(recorder, name, title, explanation, widths)   a page that is set up
CAUTION                                             stands on every page
"""

from __future__ import annotations

from collections.abc import Sequence

from workbook_tools.schedule.printed_page import PrintedPage
from workbook_tools.schedule.recorder import Recorder

__all__ = ["CAUTION", "begin"]

TITLE = "Overview of sites"
CAUTION = (
    "Visual surveys only, before review: no design and no ruling on code compliance. The local authority and licensed "
    "practice decide. Nobody opens or works on equipment because of this overview."
)


def begin(recorder: Recorder, name: str, title: str, explanation: str, widths: Sequence[int]) -> PrintedPage:
    """Begin a sheet of the overview."""
    return PrintedPage(
        recorder, name, title, explanation, widths=widths, property_name=TITLE, caution=CAUTION, draft=False
    )

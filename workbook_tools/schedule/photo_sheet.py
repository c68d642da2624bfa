"""The sheet Photos: three to a row, each with its number, caption and subject.

    write_photos(recorder, schedule)

The pictures come ready (upright, small, without any other data); here they are only placed.
"""

from __future__ import annotations

from io import BytesIO

from workbook_tools.files.text_width import cut, wrapped
from workbook_tools.schedule.list_sheets import begin
from workbook_tools.schedule.model import ClientSchedule, PhotoEntry
from workbook_tools.schedule.printed_page import PrintedPage
from workbook_tools.schedule.recorder import Recorder, printable

__all__ = ["PER_ROW", "write_photos"]

PER_ROW = 3
_CELL, _GAP = 300, 16
_WIDTHS = (_CELL, _GAP, _CELL, _GAP, _CELL)
_HIGH = 226
"""Height of a picture's place. [pixels]"""

_MOST_LINES = 6
_ALT_TEXT_MOST = 250


def write_photos(recorder: Recorder, schedule: ClientSchedule) -> None:
    """Write the sheet Photos, where there are any."""
    if not schedule.photos:
        return
    page = begin(
        recorder,
        schedule,
        "Photos",
        "Photos",
        "The numbers are those under Photos on the other sheets.",
        _WIDTHS,
    )
    for start in range(0, len(schedule.photos), PER_ROW):
        _row(page, schedule.photos[start : start + PER_ROW])
    page.end()


def _row(page: PrintedPage, photos: tuple[PhotoEntry, ...]) -> None:
    captions = [_caption(photo) for photo in photos]
    lines = min(max(len(wrapped(printable(text), _CELL - 7, 9)) for text in captions), _MOST_LINES)
    picture, words = _HIGH * 72 / 96, lines * 12 + 4
    page.keep(picture + words + 8)
    for place, photo in enumerate(photos):
        _insert(page, 2 * place, photo)
    page.advance(picture)
    for place, text in enumerate(captions):
        shown = cut(printable(text), _MOST_LINES, _CELL - 7, 9)
        page.sheet.text(page.row, 2 * place, shown, page.recorder.style({"text_wrap": True, "valign": "top"}))
    page.advance(words)
    page.space(8)


def _caption(photo: PhotoEntry) -> str:
    about = f" {photo.subject}" if photo.subject else ""
    colon = ":" if photo.subject and photo.caption else ""
    return f"{photo.number}.{about}{colon} {photo.caption}".strip()


def _insert(page: PrintedPage, column: int, photo: PhotoEntry) -> None:
    scale = min((_CELL - 4) / photo.width, (_HIGH - 4) / photo.height)
    across = (_CELL - photo.width * scale) / 2
    page.sheet.worksheet.insert_image(
        page.row,
        column,
        photo.file,
        {
            "image_data": BytesIO(photo.picture),
            "x_scale": scale,
            "y_scale": scale,
            "x_offset": across,
            "y_offset": 2,
            "object_position": 1,
            "description": printable(_caption(photo))[:_ALT_TEXT_MOST],
        },
    )

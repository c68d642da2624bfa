"""The sheet Photos: three to a row, each with its number, caption and subject.

    write_photos(recorder, schedule)

First those that show an issue, captioned by what is wrong; the picture leads to it, then the rest. The
pictures come ready (upright, small, without any other data); here they are only placed.
"""

from __future__ import annotations

from collections.abc import Sequence

from workbook_tools.files.text_width import cut, wrapped
from workbook_tools.rules.plain_english import sentence
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
    _group(page, "What is wrong", [photo for photo in schedule.photos if photo.issue])
    _group(page, "Everything else", [photo for photo in schedule.photos if not photo.issue])
    page.end()


def _group(page: PrintedPage, name: str, photos: Sequence[PhotoEntry]) -> None:
    if not photos:
        return
    page.band(f"{name} ({len(photos)})", keep=_HIGH * 72 / 96 + 30)
    for start in range(0, len(photos), PER_ROW):
        _row(page, photos[start : start + PER_ROW])


def _row(page: PrintedPage, photos: Sequence[PhotoEntry]) -> None:
    captions = [_caption(photo) for photo in photos]
    lines = min(max(len(wrapped(printable(text), _CELL - 7, 9)) for text in captions), _MOST_LINES)
    picture, words = _HIGH * 72 / 96, lines * 12 + 4
    page.keep(picture + words + 8)
    for place, photo in enumerate(photos):
        page.recorder.target(page.sheet, page.row, ("photo", photo.number))
        page.picture(page.row, 2 * place, photo.picture, (photo.width, photo.height), (_CELL, _HIGH),
                     name=photo.file, says=captions[place], to=("issue", photo.issue))  # fmt: skip
    page.advance(picture)
    for place, text in enumerate(captions):
        shown = cut(printable(text), _MOST_LINES, _CELL - 7, 9)
        page.sheet.text(page.row, 2 * place, shown, page.recorder.style({"text_wrap": True, "valign": "top"}))
    page.advance(words)
    page.space(8)


def _caption(photo: PhotoEntry) -> str:
    """Return the number, what is wrong and where, and what the inspector wrote of the picture."""
    of_issue = f" Issue {photo.issue}, {photo.subject}: {sentence(photo.wrong)}" if photo.issue else ""
    about = f" {photo.subject}:" if photo.subject and photo.caption and not photo.issue else ""
    said = photo.caption or ("" if photo.issue else photo.subject)
    return f"{photo.number}.{of_issue}{about} {said}".strip()

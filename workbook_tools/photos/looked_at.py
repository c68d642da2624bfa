"""What the photos of a survey show, for the review: which pictures they are, and a small copy of each.

    look_at(survey, folder)    a LookedAt
    LookedAt.contents          (name, digest of the file) of every photo that is named, names its equipment, or is pasted
    LookedAt.small(row)        a very small picture of what a row names first, or None

A photo that is replaced by another of the same name has another digest. Not here: the photos
of a delivery (numbered).
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from typing import NamedTuple

from workbook_tools.errors import Unusable
from workbook_tools.photos.by_name import photos_of
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.photos.numbered import read_inside
from workbook_tools.photos.pictures import Refused, large_pictures_allowed, small
from workbook_tools.spreadsheet import Workbook, read_picture
from workbook_tools.survey import Row, Survey

__all__ = ["NO_FOLDER", "PASTED", "LookedAt", "SmallPicture", "look_at"]

PASTED = "picture pasted on"
"""How the name of a picture in the survey workbook itself begins."""
NO_FOLDER = "not looked at"
"""What stands for the photos where they are named and no folder was given."""

_DIGITS = 16


class SmallPicture(NamedTuple):
    """A small JPEG and its size in pixels."""

    jpeg: bytes
    width: int
    height: int


@dataclass
class LookedAt:
    """The photos of a survey. `contents` are (name, digest), sorted; the digest of a lost one says so."""

    contents: tuple[tuple[str, str], ...] = ()
    _folder: PhotoFolder | None = None
    _first: dict[Row, str] = field(default_factory=dict)
    _made: dict[str, SmallPicture | None] = field(default_factory=dict)

    def named(self, row: Row | None) -> str:
        """Return the file that a row names first; "" where it names none, or none that is there."""
        return self._first.get(row, "") if row is not None else ""

    def small(self, row: Row | None) -> SmallPicture | None:
        """Return a very small copy of the first photo of a row; None where there is none to show."""
        file = self.named(row)
        if not file or self._folder is None:
            return None
        if file not in self._made:
            try:
                with large_pictures_allowed():
                    content = read_inside(self._folder.path / file, self._folder.path)
                    self._made[file] = SmallPicture(*small(content))
            except Refused:
                self._made[file] = None
        return self._made[file]


def look_at(survey: Survey, folder: PhotoFolder | None) -> LookedAt:
    """Read every photo that a survey names or carries.

    Parameters
    ----------
    survey : Survey
    folder : PhotoFolder, optional
        Without it the named photos are `NO_FOLDER`; pasted pictures are read all the same.
    """
    contents: dict[str, str] = {}
    first: dict[Row, str] = {}
    for row, _cell, name in photos_of(survey, folder):
        found = folder.look_up(name).file if folder is not None else None
        if found is not None:
            first.setdefault(row, found)
        if (found or name) not in contents:
            contents[found or name] = NO_FOLDER if folder is None else _digest_of(folder, found)
    pasted = [
        (f"{PASTED} {picture.sheet}", _digest(_pasted(survey, number)))
        for number, picture in enumerate(survey.pictures)
    ]
    return LookedAt(tuple(sorted([*contents.items(), *pasted])), folder, first)


def _digest_of(folder: PhotoFolder, file: str | None) -> str:
    if file is None:
        return "not in the folder"
    try:
        return _digest(read_inside(folder.path / file, folder.path))
    except Refused as refused:
        return str(refused)


def _pasted(survey: Survey, number: int) -> bytes:
    try:
        return read_picture(Workbook(survey.path, "xlsx"), survey.pictures[number])
    except Unusable:
        return b""


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:_DIGITS]

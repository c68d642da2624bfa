"""The photos that go with a delivery: found, made fit, numbered, tied to what they show.

    gather_photos(survey, folder)   a PhotoSet, in order of first mention
    PhotoSet.of(row)                the photos that a row of the survey names or carries
    Photo                           number, picture and thumbnail, subjects, caption

A photo is taken from the photo folder, or from the survey workbook itself where somebody
pasted it (its row is its subject). What could not be taken is said, one sentence each.

Not here: finding a file by its typed name (folder), pixels (pictures).
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

from workbook_tools.errors import Unusable
from workbook_tools.photos.by_name import by_name, photos_of
from workbook_tools.photos.folder import Lookup, PhotoFolder, list_photos, same_file
from workbook_tools.photos.pictures import MOST_BYTES, Prepared, Refused, large_pictures_allowed, prepare
from workbook_tools.spreadsheet import Picture, Workbook, cell_name, read_picture
from workbook_tools.survey import Equipment, Finding, PhotoCaption, Row, Survey, Transformer, Value

__all__ = ["Photo", "PhotoSet", "gather_photos", "read_inside"]


@dataclass(frozen=True, slots=True)
class Photo:
    """One photo of the delivery.

    `named` is its file in the photo folder, or the sheet and cell it was pasted on. `file`
    is its name in the delivery, made of the number alone.
    """

    number: int
    named: str
    subjects: tuple[str, ...]
    caption: str
    picture: Prepared

    @property
    def file(self) -> str:
        """Name of the file in the delivery."""
        return f"photo-{self.number:03}.jpg"


@dataclass
class PhotoSet:
    """The photos by number, and what is to be said about those that are not among them.

    `missing` has for a sentence about a named photo the name as it was typed.
    """

    photos: list[Photo] = field(default_factory=list)
    not_found: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    unused: list[str] = field(default_factory=list)
    unplaced: list[str] = field(default_factory=list)
    missing: dict[str, str] = field(default_factory=dict)
    _of_row: dict[Row, list[Photo]] = field(default_factory=dict)

    def of(self, row: Row) -> tuple[Photo, ...]:
        """Return the photos of a row of the survey, in the order named."""
        return tuple(self._of_row.get(row, ()))

    @property
    def said(self) -> list[str]:
        """Every sentence about a photo that was not taken, or not as it should be."""
        return [*self.refused, *self.not_found, *self.unplaced, *self.unused]


@dataclass
class _Mention:
    """One picture before it is numbered: where it comes from and every row that means it."""

    named: str
    load: Callable[[], bytes]
    rows: list[Row]
    captions: list[str]


def gather_photos(survey: Survey, folder: str | os.PathLike[str] | PhotoFolder | None) -> PhotoSet:
    """Find, prepare and number the photos of a survey.

    Parameters
    ----------
    survey : Survey
        Names the photos in its columns of photos; pictures pasted into its file are taken too, and files of the
        folder that begin with a tag.
    folder : path or PhotoFolder, optional
        Where the named photos are. Without it, none of them is looked for.

    Returns
    -------
    photos : PhotoSet
        Numbered from 1 in the order of first mention, sheet by sheet and row by row.

    Raises
    ------
    Unusable
        The folder cannot be listed.
    """
    listed = folder if isinstance(folder, PhotoFolder) or folder is None else list_photos(folder)
    result = PhotoSet()
    mentions: dict[str, _Mention] = {}
    named = list(survey.photos_named())
    if listed is not None:
        lost: dict[str, tuple[Lookup, list[Row]]] = {}
        for row, cell, name in photos_of(survey, listed):
            _look_up(listed, row, name, _caption(row, cell), mentions, lost)
        _tell_lost(lost, result)
        several = {one.file: one.rows for one in by_name(survey, listed) if len(one.rows) > 1}
        result.unused = [
            f"The photo {file} in the folder is named nowhere{_could_be(several.get(file, ()))}."
            for file in listed.unused(name for _, _, name in named)
            if file not in mentions
        ]
    elif named:
        files = {same_file(name) for _, _, name in named}
        result.not_found = [
            f"{_so_many(len(files))} named and no photo folder was given (--photos), so none was delivered."
        ]
    _add_pasted(survey, mentions, result)
    if mentions:
        _number(_in_order(survey, mentions), result)
    return result


def _look_up(
    listed: PhotoFolder,
    row: Row,
    name: str,
    caption: str,
    mentions: dict[str, _Mention],
    lost: dict[str, tuple[Lookup, list[Row]]],
) -> None:
    found = listed.look_up(name)
    if found.file is None:
        lost.setdefault(same_file(name), (found, []))[1].append(row)
        return
    mention = mentions.get(found.file)
    if mention is None:
        path = listed.path / found.file
        mention = mentions[found.file] = _Mention(found.file, lambda: read_inside(path, listed.path), [], [])
    if row not in mention.rows:
        mention.rows.append(row)
    mention.captions.append(caption)


def _could_be(rows: Sequence[Row]) -> str:
    return f", and by its own name it could be of {' or '.join(row.called for row in rows)}" if rows else ""


def _tell_lost(lost: Mapping[str, tuple[Lookup, list[Row]]], result: PhotoSet) -> None:
    """Say each photo that was named and not found once, with every row that names it."""
    for found, rows in lost.values():
        nearest = f"; the nearest name there is {found.nearest}" if found.nearest else ""
        kind = result.not_found if found.why.startswith(("is not in", "could be")) else result.refused
        places = list(dict.fromkeys(map(_place, rows)))
        names = "names" if len(places) == 1 else "name"
        said = f"{' and '.join(places)} {names} the photo {found.name}, which {found.why}{nearest}."
        kind.append(said)
        result.missing[said] = found.name


def read_inside(path: Path, folder: Path) -> bytes:
    """Read a listed file, provided that it still lies in the folder; Refused says why it is not read."""
    if not path.resolve().is_relative_to(folder.resolve()):
        raise Refused("is a link to a place outside the photo folder and was not followed")
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Refused(f"is over {MOST_BYTES // 1_000_000} MB and was not opened")
        return path.read_bytes()
    except OSError as error:
        raise Refused(f"cannot be read ({(error.strerror or str(error)).lower()})") from None


def _caption(row: Row, cell: Value[Any] | None = None) -> str:
    """Return what a row says of a photo that is named in one of its cells, or pasted on it."""
    if isinstance(row, PhotoCaption):
        return row.caption.value or ""
    if isinstance(row, Finding):
        return row.finding.value or ""
    if isinstance(row, Transformer):
        return "Label plate" if cell == row.nameplate_photo else ""
    return (row.kind.value or "") if isinstance(row, Equipment) else ""


# ---------------------------------------------------------------- pictures in the survey workbook


def _read_pasted(path: Path, picture: Picture) -> bytes:
    try:
        return read_picture(Workbook(path, "xlsx"), picture)
    except Unusable:
        raise Refused("cannot be read out of the workbook") from None


def _add_pasted(survey: Survey, mentions: dict[str, _Mention], result: PhotoSet) -> None:
    rows = {(row.sheet, row.number): row for table in survey.tables.values() for row in table}
    sheets = {sheet for sheet, _ in rows}
    for picture in survey.pictures:
        cell = cell_name(picture.row, picture.column) if picture.row and picture.column else ""
        place = f"{picture.sheet}!{cell}" if cell else picture.sheet
        if picture.sheet not in sheets:
            result.refused.append(f"The picture on {place} stands on a sheet without rows and was not taken.")
            continue
        load = partial(_read_pasted, survey.path, picture)
        mention = mentions[f"{place} {len(mentions)}"] = _Mention(f"picture on {place}", load, [], [])
        row = rows.get((picture.sheet, picture.row))
        if row is None:
            result.unplaced.append(
                f"The picture on {place} stands beside no filled row and goes without a subject."
            )
        else:
            mention.rows.append(row)
            mention.captions.append(_caption(row))


# ---------------------------------------------------------------- numbers


def _in_order(survey: Survey, mentions: dict[str, _Mention]) -> list[_Mention]:
    order = {row: place for place, row in enumerate(survey.rows())}
    last = len(order)
    return sorted(mentions.values(), key=lambda m: min((order[row] for row in m.rows), default=last))


def _number(mentions: list[_Mention], result: PhotoSet) -> None:
    """Prepare the pictures, several at a time, and number those that can be shown; copies are one photo."""
    from concurrent.futures import ThreadPoolExecutor

    shown: dict[str, tuple[_Mention, Prepared]] = {}
    with large_pictures_allowed(), ThreadPoolExecutor(max_workers=min(4, os.cpu_count() or 1)) as pool:
        for mention, outcome in zip(mentions, pool.map(_prepared, mentions), strict=True):
            if isinstance(outcome, str):
                result.refused.append(f"The photo {mention.named} {outcome}.")
                continue
            first, _ = shown.setdefault(outcome[0], (mention, outcome[1]))
            if first is not mention:
                first.rows += mention.rows
                first.captions += mention.captions
    for number, (mention, picture) in enumerate(shown.values(), 1):
        subjects = tuple(dict.fromkeys(row.called for row in mention.rows if row.called))
        # The inspector's own words come first: the sheet Photos is there for them.
        own = [row.caption.value or "" for row in mention.rows if isinstance(row, PhotoCaption)]
        caption = next(filter(None, own + mention.captions), "")
        photo = Photo(number, mention.named, subjects, caption, picture)
        result.photos.append(photo)
        for row in mention.rows:
            of_row = result._of_row.setdefault(row, [])
            if photo not in of_row:
                of_row.append(photo)


def _prepared(mention: _Mention) -> tuple[str, Prepared] | str:
    try:
        content = mention.load()
        return hashlib.sha256(content).hexdigest(), prepare(content)
    except Refused as refused:
        return str(refused)


def _place(row: Row) -> str:
    subject = f" ({row.called})" if row.called else ""
    return f"{row.sheet}, row {row.number}{subject}"


def _so_many(count: int) -> str:
    return "One photo file is" if count == 1 else f"{count} different photo files are"

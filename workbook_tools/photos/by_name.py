"""Which piece of equipment a photo belongs to by its file name: "LP-1 nameplate.jpg", "lp1_2.jpg", "LP-1/IMG_0001.jpg".

    by_name(survey, folder)      every photo that no cell names and whose name begins with a tag
    ByName                       the file, the rows whose tag stands in its name, and its other words
    photos_of(survey, folder)    the photos that cells name, then those that belong to one row by their name

Tags are compared without case, hyphens and blanks, and a number as a whole: "lp1_2" is LP-1, never LP-12. What a
camera writes before it (IMG_, a date) is passed over. Where two tags stand in a name, nobody can tell: it has two rows.

Not here: which file a typed name means (folder), what is said of it (rules).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.survey import Equipment, Row, Survey, Value

__all__ = ["ByName", "by_name", "photos_of"]

_PART = re.compile(r"[^\W\d_]+|\d+")
_BEFORE = frozenset(
    ("img", "image", "dsc", "dscn", "dscf", "pxl", "mvimg", "photo", "photos", "pic", "picture", "of")
)
"""What stands before the tag in names that a camera or a person begins; figures may too (common practice)."""

_Parts = list[re.Match[str]]


class ByName(NamedTuple):
    """A photo whose file name has tags in it: of one row it is a photo; of several nobody can tell."""

    file: str
    rows: tuple[Equipment, ...]
    words: frozenset[str]


def by_name(survey: Survey, folder: PhotoFolder) -> list[ByName]:
    """Return the photos that no cell names and that name equipment themselves, in the order of the folder."""
    tags = _tags(survey)
    unused = folder.unused(name for _row, _cell, name in survey.photos_named())
    found = ((file, *_of(file, tags)) for file in unused)
    return [ByName(file, rows, words) for file, rows, words in found if rows]


def photos_of(survey: Survey, folder: PhotoFolder | None) -> Iterator[tuple[Row, Value[Any], str]]:
    """Yield the row, the cell and the name of each photo: first as cells name them, then by their file names."""
    yield from survey.photos_named()
    for one in by_name(survey, folder) if folder is not None else ():
        if len(one.rows) == 1:
            yield one.rows[0], one.rows[0].photos, one.file


def _tags(survey: Survey) -> Mapping[str, list[tuple[tuple[str, ...], Equipment]]]:
    """Return the parts of each tag with its row, by the first part; a lone letter or a number alone names nothing."""
    found: dict[str, list[tuple[tuple[str, ...], Equipment]]] = {}
    for row in survey.equipment:
        parts = tuple(part[0] for part in _parts(row.tag.value or ""))
        if len("".join(parts)) > 1 and any(part.isalpha() for part in parts):
            found.setdefault(parts[0], []).append((parts, row))
    return found


def _parts(text: str) -> _Parts:
    return list(_PART.finditer(unicodedata.normalize("NFKC", text).casefold()))


def _of(
    file: str, tags: Mapping[str, list[tuple[tuple[str, ...], Equipment]]]
) -> tuple[tuple[Equipment, ...], frozenset[str]]:
    """Return the rows that a file is named after, or the folder that it lies in, and the words of its own name."""
    *folders, name = file.split("/")
    parts = _parts(name.rpartition(".")[0])
    words = frozenset(part[0] for part in parts)
    for named in (parts, *map(_parts, reversed(folders))):
        hits = [
            (at, row)
            for at in range(len(named))
            for tag, row in tags.get(named[at][0], ())
            if _stands(named, at, tag)
        ]
        if any(all(_is_before(part[0]) for part in named[:at]) for at, _ in hits):
            return tuple(dict.fromkeys(row for _, row in hits)), words
    return (), words


def _is_before(part: str) -> bool:
    return part.isdecimal() or part in _BEFORE


def _stands(named: _Parts, at: int, tag: tuple[str, ...]) -> bool:
    """Whether a tag stands at a part of a name, with a sign or nothing on both sides."""
    end = at + len(tag)
    if tuple(part[0] for part in named[at:end]) != tag:
        return False
    free_before = at == 0 or named[at - 1].end() < named[at].start()
    return free_before and (end == len(named) or named[end - 1].end() < named[end].start())

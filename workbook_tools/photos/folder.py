r"""Which photo of a folder a typed name means.

    list_photos(folder)             the folder as a PhotoFolder; names only, no picture is opened
    PhotoFolder.look_up(name)       the file a typed name means, or why there is none
    PhotoFolder.unused(names)       photos that no typed name means
    no_pictures(folder)             photos that are empty or begin like no picture, one sentence each
    same_file(name)                 a typed name as it is compared with others: no case, no ending
    PhotoFolder.refused             files that are not taken, each with the reason

What a person typed never becomes a path: it is compared with the names in the listing,
without case and without ending ("QS_0101" finds qs_0101.JPG). A link that leads out of
the folder is not taken, nor is a name that does ("../plan.jpg", "C:\plan.jpg").

Not here: opening, turning and scaling pictures (pictures).
"""

from __future__ import annotations

import os
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from workbook_tools.errors import Unusable

__all__ = ["MOST_FILES", "PHOTO_ENDINGS", "Lookup", "PhotoFolder", "list_photos", "no_pictures", "same_file"]

PHOTO_ENDINGS = (
    ".jpg", ".jpeg", ".jpe", ".jfif", ".png", ".heic", ".heif", ".hif", ".webp", ".tif", ".tiff", ".bmp", ".gif",
)  # fmt: skip
"""Endings of the files that are taken for photos, compared without case."""

_BEGINS = (b"\xff\xd8", b"\x89PNG", b"GIF8", b"BM", b"II*\0", b"MM\0*", b"II+\0", b"MM\0+")
"""First bytes of JPEG, PNG, GIF, BMP and TIFF; HEIF and WebP say their name further on."""

MOST_FILES = 20_000
"""A folder with more files is not that of one job; most likely a whole disk was named."""


@dataclass(frozen=True, slots=True)
class Lookup:
    """What became of one typed name: `file` (relative to the folder), or None and `why`.

    `why` completes the sentence "The photo X ...". `nearest` is a file of almost that name.
    """

    name: str
    file: str | None
    why: str = ""
    nearest: str = ""


@dataclass(frozen=True)
class PhotoFolder:
    """The photos of a folder and of the folders in it, by relative name with "/" between."""

    path: Path
    files: tuple[str, ...]
    refused: dict[str, str]

    @cached_property
    def _by_name(self) -> dict[str, list[str]]:
        """Each way a file can be named: its path or its name, with its ending or without."""
        found: dict[str, list[str]] = {}
        for file in (*self.files, *self.refused):
            path = _compared(file)
            name = path.rpartition("/")[2]
            for spelling in {path, name, _without_ending(path), _without_ending(name)}:
                found.setdefault(spelling, []).append(file)
        return found

    def look_up(self, name: str) -> Lookup:
        """Return the file that a typed name means.

        Examples
        --------
        >>> folder = PhotoFolder(Path("."), ("QS_0101.JPG", "yard/QS_0102.heic"), {})
        >>> folder.look_up("qs_0101").file, folder.look_up("QS_0102.jpg").file
        ('QS_0101.JPG', 'yard/QS_0102.heic')
        >>> folder.look_up("../QS_0101.jpg").why
        'names a place outside the photo folder and was not looked for'
        """
        if _leaves(name):
            return Lookup(name, None, "names a place outside the photo folder and was not looked for")
        wanted = _compared(name)
        # The fullest spelling first: "a.jpg" means a.jpg although a.png stands beside it.
        for spelling in (wanted, _without_ending(wanted)):
            files = self._by_name.get(spelling, [])
            if len(files) == 1:
                why = self.refused.get(files[0], "")
                return Lookup(name, None if why else files[0], why)
            if files:
                return Lookup(name, None, f"could be {_either(files)}: write the name with folder and ending")
        nearest = self._nearest(wanted)
        return Lookup(name, None, "is not in the photo folder", nearest)

    def unused(self, names: Iterable[str]) -> tuple[str, ...]:
        """Return the photos that none of the typed names means, in the order of the listing."""
        used = {self.look_up(name).file for name in names}
        return tuple(file for file in self.files if file not in used)

    def _nearest(self, wanted: str) -> str:
        from difflib import get_close_matches

        stem = _without_ending(wanted)
        # A camera's names differ by their number only: the neighbour's photo is no likely meaning.
        alike = [name for name in self._by_name if _number(name) == _number(stem)]
        near = get_close_matches(stem, alike, n=1, cutoff=0.75)
        return self._by_name[near[0]][0] if near else ""


def list_photos(folder: str | os.PathLike[str]) -> PhotoFolder:
    """List the photos of a folder and of the folders in it. Hidden files are passed over.

    Raises
    ------
    Unusable
        No such folder, a file, not readable, or more than `MOST_FILES` files in it.
    """
    root = Path(folder)
    if not root.exists():
        raise Unusable(f"The photo folder {root} does not exist: name the folder that the photos are in.")
    if not root.is_dir():
        raise Unusable(f"{root} is a file: name the folder that the photos are in.")
    inside = root.resolve()
    files: list[str] = []
    refused: dict[str, str] = {}
    seen = 0
    for where, folders, names in os.walk(root, onerror=_unreadable, followlinks=False):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        seen += len(names) + len(folders)
        if seen > MOST_FILES:
            raise Unusable(
                f"The photo folder {root} holds more than {MOST_FILES:,} files: name the folder of this job's photos."
            )
        for name in sorted(names):
            path = Path(where, name)
            if name.startswith(".") or path.suffix.casefold() not in PHOTO_ENDINGS:
                continue
            relative = path.relative_to(root).as_posix()
            why = _why_not_taken(path, inside)
            if why:
                refused[relative] = why
            else:
                files.append(relative)
    return PhotoFolder(root, tuple(files), refused)


def _why_not_taken(path: Path, inside: Path) -> str:
    try:
        target = path.resolve(strict=True)
    except (OSError, RuntimeError):
        return "is a link that leads nowhere"
    if not target.is_relative_to(inside):
        return "is a link to a place outside the photo folder and was not followed"
    return "" if target.is_file() else "is no file"


def _unreadable(error: OSError) -> None:
    reason = (error.strerror or str(error)).lower()
    raise Unusable(
        f"The photo folder {error.filename} cannot be read ({reason}): choose one that you may read."
    )


def no_pictures(folder: PhotoFolder) -> list[str]:
    """Return a sentence for each file that is empty or begins like no picture.

    Only the first bytes are read; a picture that is damaged further on is found at delivery.
    The marks that each format begins with are from memory.
    """
    said = []
    for file in folder.files:
        try:
            with (folder.path / file).open("rb") as opened:
                begins = opened.read(12)
        except OSError as error:
            said.append(f"The photo {file} cannot be read ({(error.strerror or str(error)).lower()}).")
            continue
        if not begins:
            said.append(f"The photo {file} is an empty file: copy it to the folder again.")
        elif not (begins.startswith(_BEGINS) or begins[4:8] == b"ftyp" or begins[8:12] == b"WEBP"):
            said.append(
                f"The photo {file} begins like no picture and cannot be delivered: copy it to the folder again."
            )
    return said


def same_file(name: str) -> str:
    """Return a typed name so that two names of one photo are alike.

    Examples
    --------
    >>> same_file("QS_0104.jpg") == same_file("qs_0104")
    True
    """
    return _without_ending(_compared(name))


def _leaves(name: str) -> bool:
    """Whether a typed name points out of the folder: .., a root, a drive, a home, an address."""
    path = name.strip().replace("\\", "/")
    return path.startswith(("/", "~")) or ".." in path.split("/") or ":" in path


def _compared(name: str) -> str:
    # Some systems store an accented letter as two characters; a typed name has one.
    text = unicodedata.normalize("NFC", name.strip().replace("\\", "/")).casefold()
    return "/".join(part for part in text.split("/") if part not in ("", "."))


def _without_ending(name: str) -> str:
    stem, dot, ending = name.rpartition(".")
    return stem if dot and f".{ending}" in PHOTO_ENDINGS else name


def _number(name: str) -> str:
    return "".join(c for c in _without_ending(name) if c.isdecimal()).lstrip("0")


def _either(files: list[str]) -> str:
    return " or ".join(files) if len(files) < 4 else f"{files[0]}, {files[1]} or {len(files) - 2} more"

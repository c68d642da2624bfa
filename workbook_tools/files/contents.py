"""The list that a folder of ours keeps of its own files: what may be replaced, and what is somebody else's.

    LIST                    its name in the folder
    write_list(folder)      names and hashes of everything in the folder
    standing_in(folder)     a Standing: what lies there now, held against the list

Its lines are those of `sha256sum`, which checks them too (`sha256sum --check list-of-files.txt`). A file
that is kept beside the folder stands in a line of remarks: it does not go with the folder.

Not here: putting a folder in the place of another (whole).
"""

from __future__ import annotations

import hashlib
import os
import re
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

__all__ = ["LIST", "Standing", "files_in", "hash_of", "standing_in", "write_list"]

LIST = "list-of-files.txt"

_ABOUT = (
    "# Every file of this folder as it was written, with its SHA-256 hash. A file that is not named here, or whose\n"
    "# content has changed since, is never replaced.\n"
)
_LINE = re.compile(r"(# )?([0-9a-f]{64})  (\S.*)")
_MOST_BYTES = 50_000_000
_PIECE = 1 << 20


class Standing(NamedTuple):
    """What lies in a folder, as names with "/" between.

    `listed` says whether it has a list at all; `ours` are the files as the list has them, `changed` those that
    are named and have another content, `others` everything that is not named: files, links, empty folders.
    `beside` has the hashes of files that were written beside the folder, by name.
    """

    listed: bool
    ours: frozenset[str]
    changed: tuple[str, ...]
    others: tuple[str, ...]
    beside: Mapping[str, str]


def write_list(folder: Path, beside: Path | None = None) -> None:
    """Write the list of a folder; of what lies `beside` it, the name and hash as a remark."""
    lines = [f"{hash_of(folder / name)}  {name}\n" for name in files_in(folder) if name != LIST]
    if beside is not None:
        lines.append(f"# {hash_of(beside)}  {beside.name}\n")
    (folder / LIST).write_text(_ABOUT + "".join(lines), encoding="utf-8", errors="surrogateescape")


def standing_in(folder: Path) -> Standing:
    """Hold what lies in a folder against its list. A folder without a list is not looked through."""
    listed, beside = _read_list(folder / LIST)
    if listed is None:
        return Standing(False, frozenset(), (), (), {})
    ours, changed, others = set(), [], []
    for name in files_in(folder):
        if name == LIST:
            continue
        path = folder / name
        if name not in listed or path.is_symlink() or not path.is_file():
            others.append(name)
        elif hash_of(path) == listed[name]:
            ours.add(name)
        else:
            changed.append(name)
    return Standing(True, frozenset(ours), tuple(changed), tuple(others), beside)


def files_in(folder: Path) -> list[str]:
    """Return the name of every file, link and empty folder, sorted; links are not followed.

    Raises
    ------
    OSError
        A folder cannot be listed: what lies in it is not known.
    """
    found = []
    for where, folders, names in os.walk(folder, onerror=_raise):
        inside = Path(where).relative_to(folder)
        links = [name for name in folders if os.path.islink(os.path.join(where, name))]
        found += [(inside / name).as_posix() for name in (*names, *links)]
        if not (names or folders) and inside.parts:
            found.append(inside.as_posix())
    return sorted(found)


def _raise(error: OSError) -> None:
    raise error


def hash_of(path: Path) -> str:
    """Return the SHA-256 hash of a file."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while piece := file.read(_PIECE):
            digest.update(piece)
    return digest.hexdigest()


def _read_list(path: Path) -> tuple[dict[str, str] | None, dict[str, str]]:
    """Return the hashes by name, and those of what lies beside; None where there is no list of ours."""
    try:
        if path.is_symlink() or path.stat().st_size > _MOST_BYTES:
            return None, {}
        text = path.read_text(encoding="utf-8", errors="surrogateescape")
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError):
        return None, {}
    # A program that saved the list may have changed its line ends; the remark is what tells it as ours.
    lines = text.splitlines()
    if lines[:1] != _ABOUT.splitlines()[:1]:
        return None, {}
    found = [match for line in lines if (match := _LINE.fullmatch(line))]
    inside = {match[3]: match[2] for match in found if not match[1]}
    return inside, {match[3]: match[2] for match in found if match[1]}

"""Two folders change places, and what a process that died left behind is cleared or put back.

    exchange(one, other)        each stands where the other stood: in one step where the system can
    aside_name(path)            where a folder stands for a moment where the system cannot
    put_back(path)              a folder that an earlier process left there goes back to its place
    clear_leftovers(folder)     what earlier processes of ours left half-written, known by name and age
    temporary(path)             what begins the name of what is being written

Linux exchanges two names in one step (renameat2), and so does macOS (renamex_np, from memory). Elsewhere the
old folder is renamed, then the new one: who dies between the two leaves the old one whole under a name that
everybody sees, and the next run puts it back.
"""

from __future__ import annotations

import ctypes
import errno
import os
import re
import shutil
import sys
import time
from contextlib import suppress
from pathlib import Path

from workbook_tools.files.cannot_write import TEMPORARY

__all__ = ["aside_name", "clear_leftovers", "exchange", "put_back", "temporary"]

_LEFTOVER = re.compile(re.escape(TEMPORARY) + r"[a-z0-9_]{8}-.*", re.DOTALL)  # as tempfile makes the names
_AGE_SECONDS = 3600.0
"""No process of ours leaves what it writes untouched for as long."""

_AT_FDCWD, _RENAME_EXCHANGE, _RENAME_SWAP = -100, 2, 2
_CANNOT = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP)


def temporary(path: Path) -> tuple[str, str]:
    """Return beginning and end of the name of what is being written for a path."""
    return TEMPORARY, f"-{path.stem[:40]}{path.suffix[:10]}"


def aside_name(path: Path) -> Path:
    """Return where the folder at `path` stands between two renames."""
    return path.with_name(f"{path.name} - being replaced")


def exchange(one: Path, other: Path) -> None:
    """Let two folders change places.

    Raises
    ------
    OSError
        They cannot; both stand where they stood.
    """
    if _in_one_step(one, other):
        return
    aside = aside_name(other)
    if aside.exists():
        raise FileExistsError(
            errno.EEXIST, f"{aside.name} is left of an earlier run: move it away", str(other)
        )
    os.rename(other, aside)
    try:
        os.rename(one, other)
    except OSError:
        os.rename(aside, other)
        raise
    os.rename(aside, one)


def _in_one_step(one: Path, other: Path) -> bool:
    """Try to exchange two names; False where the system or the disk cannot."""
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            status = library.renamex_np(os.fsencode(one), os.fsencode(other), _RENAME_SWAP)
        else:
            paths = _AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other)
            status = library.renameat2(*paths, _RENAME_EXCHANGE)
    except (OSError, AttributeError, TypeError):  # no such library, or none with such a function
        return False
    if status == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(other))


def put_back(path: Path) -> None:
    """Put a folder back that stands aside because a process died between two renames."""
    aside = aside_name(path)
    if not path.exists() and aside.is_dir() and not aside.is_symlink():
        os.rename(aside, path)


def clear_leftovers(folder: Path) -> None:
    """Remove what processes of ours that were killed left in a folder; only what nobody writes to any more."""
    before = time.time() - _AGE_SECONDS
    with suppress(OSError), os.scandir(folder) as entries:
        for entry in entries:
            if _LEFTOVER.fullmatch(entry.name) and not entry.is_symlink():
                with suppress(OSError):
                    path = Path(entry.path)
                    if _last_change(path) < before:
                        shutil.rmtree(path) if entry.is_dir() else path.unlink()


def _last_change(path: Path) -> float:
    inside = (Path(where, name) for where, _, names in os.walk(path) for name in names)
    return max(file.lstat().st_mtime for file in (path, *inside))

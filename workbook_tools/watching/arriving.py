"""Whether a file has arrived whole, or is still being written by whoever brings it.

    mark_of(path)        size and time of the file, None where it is gone
    settled(marks)       which files have kept size and time for a moment, and end as a workbook does
    whole_as_zip(path)   whether its end is there

A file that has no end is waited for, and after a minute without a change taken as it is: then it is broken, and
the check says how.
"""

from __future__ import annotations

import time
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

__all__ = ["Mark", "mark_of", "settled", "whole_as_zip"]

A_MOMENT = 1.0
"""Seconds for which a file must not change before it is read."""

GIVEN_UP = 60.0
"""Seconds after the last change in which the rest of a file is waited for."""


class Mark(NamedTuple):
    """What tells that a file was written to."""

    size: int
    time_ns: int


def mark_of(path: Path) -> Mark | None:
    """Return size and time of a file; None where it is not there, or not to be seen."""
    try:
        seen = path.stat()
    except OSError:
        return None
    return Mark(seen.st_size, seen.st_mtime_ns)


def settled(marks: Mapping[Path, Mark]) -> set[Path]:
    """Wait a moment, and return the files that are whole and were not written to meanwhile."""
    if marks:
        time.sleep(A_MOMENT)
    return {path for path, mark in marks.items() if mark_of(path) == mark and _is_to_be_read(path, mark)}


def _is_to_be_read(path: Path, mark: Mark) -> bool:
    # A time that lies ahead comes from a clock that is wrong: it says nothing, and is not waited for.
    return abs(time.time() - mark.time_ns / 1e9) > GIVEN_UP or whole_as_zip(path)


def whole_as_zip(path: Path) -> bool:
    """Return whether the list of contents is there, which stands at the end of a workbook."""
    try:
        with zipfile.ZipFile(path):
            return True
    except (OSError, ValueError, NotImplementedError, zipfile.BadZipFile):
        return False

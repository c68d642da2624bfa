"""Why something could not be written, in one sentence that names the right file.

    cannot_write(path, error, aside)   Unusable for a path whose writing met an error of the system
    system_error(error)                the error of the system behind an exception, or None

The file that failed is not always the one that was to be written: a photo that is read for it, or the
folder in which the writing library keeps its own temporary files.
"""

from __future__ import annotations

import errno
import os
import shutil
import tempfile
from pathlib import Path

from workbook_tools.errors import Unusable

__all__ = ["TEMPORARY", "cannot_write", "reason_of", "system_error"]

TEMPORARY = ".workbook-tools-"
"""How the name of everything begins that is being written and not in its place yet."""

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG)
_NO_SCRATCH = "no usable temporary directory"  # in the words of the library tempfile
_NEARLY_FULL = 1_000_000  # bytes


def system_error(error: BaseException) -> OSError | None:
    """Return the error of the system that an exception is or wraps: xlsxwriter puts it into one of its own."""
    if isinstance(error, OSError):
        return error
    inside = error.args[0] if error.args else None
    return inside if isinstance(inside, OSError) else None


def reason_of(error: OSError) -> str:
    """Return the system's reason in small letters: "no space left on device"."""
    return (error.strerror or str(error)).lower()


def cannot_write(path: Path, error: OSError, aside: Path | None = None) -> Unusable:
    """Return the sentence for a path; `aside` is where it was being written."""
    why = reason_of(error)
    failed = Path(os.fsdecode(error.filename)) if isinstance(error.filename, str | bytes) else None
    if failed is not None and not _is_ours(failed, path, aside):
        return Unusable(
            f"{failed} cannot be used ({why}), so {path} was not written: mend that and try again."
        )
    if _NO_SCRATCH in why:
        return Unusable(
            f"{path} was not written: no folder for temporary files has room ({', '.join(_scratch_folders())}): "
            "make room in one of them."
        )
    if error.errno in _FULL:
        scratch = _full_scratch(path)
        if scratch is not None:
            return Unusable(
                f"{scratch}, the folder for temporary files, is full, so {path} was not written: make room there."
            )
        return Unusable(f"{path} cannot be written ({why}): make room, or choose another place.")
    return Unusable(
        f"{path} cannot be written ({why}): close it if it is open, or choose a place where you may write."
    )


def _is_ours(failed: Path, path: Path, aside: Path | None) -> bool:
    places = {failed, *failed.parents}
    return failed == path.parent or path in places or aside in places or failed.name.startswith(TEMPORARY)


def _scratch_folders() -> list[str]:
    return list(
        dict.fromkeys([*filter(None, map(os.environ.get, ("TMPDIR", "TEMP", "TMP"))), "/tmp", "/var/tmp"])
    )


def _full_scratch(path: Path) -> Path | None:
    """Return the folder for temporary files where that is full and the place to write to is not."""
    try:
        scratch = Path(tempfile.gettempdir())
        room, there = shutil.disk_usage(scratch).free, shutil.disk_usage(path.parent).free
    except OSError:
        return None
    return scratch if room < _NEARLY_FULL < there else None

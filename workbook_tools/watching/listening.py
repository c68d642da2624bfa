"""When a folder is looked at again: when the system tells of a change, and once a minute whatever it tells.

    watch_rounds(folder, look)   looks at once, then again and again, until it is interrupted
    tells_nothing(folder)        whether the folder lies where changes from other machines are not told

On a share of the network nobody tells this machine what another wrote there: the folder is asked instead, again
and again. The round of every minute finds what was told nowhere.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from workbook_tools.watching.owner import LOCK
from workbook_tools.watching.rounds import Looked

__all__ = ["EVERY", "tells_nothing", "watch_rounds"]

EVERY = 60.0
"""Seconds between two rounds where nothing is told."""

_TICK = 2.0
"""Seconds between two looks while a file is arriving."""

_ASKED_EVERY_MS = 5_000
_SHARES = ("nfs", "cifs", "smb", "9p", "afs", "ceph", "fuse", "vboxsf", "davfs", "prl_fs", "virtiofs")
_MOUNTS = Path("/proc/self/mounts")


def watch_rounds(folder: Path, look: Callable[[], Looked]) -> None:
    """Look at once, then whenever something changes; return only by an interruption."""
    again = time.monotonic()
    for changed in _ticks(folder):
        if changed or time.monotonic() >= again:
            arriving = look().arriving
            again = time.monotonic() + (_TICK if arriving else EVERY)


def _ticks(folder: Path) -> Iterator[bool]:
    """Yield every two seconds, and as soon as something changes, whether anything has."""
    from watchfiles import watch

    by_asking = tells_nothing(folder)
    yield True
    while True:
        unheard = True  # what changed before anybody listened
        try:
            # Without a filter of its own: it would keep back the ticks while only files of ours change.
            for changes in watch(
                folder,
                watch_filter=None,
                rust_timeout=round(_TICK * 1000),
                yield_on_timeout=True,
                force_polling=by_asking or None,
                poll_delay_ms=_ASKED_EVERY_MS,
                ignore_permission_denied=True,
            ):
                yield unheard or any(_counts(path) for _, path in changes)
                unheard = False
                if not folder.is_dir():
                    break
        except (OSError, RuntimeError):  # no more folders can be listened to, or the folder is gone
            by_asking = True
        time.sleep(_TICK)
        yield False


def _counts(path: str) -> bool:
    """Return whether a change may concern a survey or its review: hidden files are ours, or somebody's scratch."""
    name = os.path.basename(path)
    return name != LOCK and (not name.startswith(".") or name.startswith(".~lock."))


def tells_nothing(folder: Path, mounts: Path = _MOUNTS) -> bool:
    """Return whether a folder lies on a share of the network, as far as the system (Linux) says what lies where."""
    try:
        lines = mounts.read_text(encoding="utf-8", errors="surrogateescape").splitlines()
        place = folder.resolve()
    except OSError:
        return False
    kinds: dict[Path, str] = {}
    for line in lines:
        fields = line.split(" ")
        if len(fields) > 2:
            kinds[Path(fields[1].replace("\\040", " "))] = fields[2]
    nearest = next((kinds[one] for one in (place, *place.parents) if one in kinds), "")
    return nearest.startswith(_SHARES)

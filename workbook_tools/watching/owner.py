"""Which process watches a folder, when several would: one does, and the others wait for it to go.

    Watched(folder).taken()   take the folder; the name of who has it where it is another's
    .is_ours()                whether it is still ours
    .given_back()             let it go

The one that watches says so in a file in the folder and says it again twice a minute. One that has not said so for
three minutes, or whose process on the same machine is gone, has left, and its place is taken. Where a folder is
synced, two may take it at the same moment: the file that comes later counts, and the other stops at its next look.
Both then did the same work, and every file is whole.
"""

from __future__ import annotations

import json
import os
import platform
import threading
import time
import uuid
from contextlib import suppress
from dataclasses import asdict, dataclass
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file

__all__ = ["LOCK", "Watched"]

LOCK = ".being watched.json"
SAID_AGAIN = 30.0
STALE = 180.0
_A_MOMENT = 0.3
_MOST_BYTES = 10_000


@dataclass(frozen=True, slots=True)
class _Owner:
    """Who watches: machine (two may have one name), process, a mark of its own, when it last said so (seconds since 1970)."""

    machine: str
    hardware: int
    process: int
    mark: str
    said: float

    @property
    def name(self) -> str:
        """How people are told of it."""
        return f"{self.machine or 'another machine'} (process {self.process})"

    @property
    def has_left(self) -> bool:
        """Whether it has not said so for long, or its process is gone. A clock that is far off counts as long."""
        return abs(time.time() - self.said) > STALE or (self._is_here and not _is_running(self.process))

    @property
    def _is_here(self) -> bool:
        return (self.machine, self.hardware) == (platform.node(), uuid.getnode())


class Watched:
    """The claim of this process on a folder."""

    def __init__(self, folder: Path) -> None:
        self._path = folder / LOCK
        self._mark = uuid.uuid4().hex
        self._over = threading.Event()
        self._saying: threading.Thread | None = None

    def taken(self) -> str:
        """Take the folder, and go on saying so; return the name of who has it where it is another's, else "".

        Raises
        ------
        Unusable
            The folder cannot be written to.
        """
        owner = _read(self._path)
        if owner is not None and owner.mark != self._mark and not owner.has_left:
            return owner.name
        if owner is None or owner.mark != self._mark:
            self._say()
            time.sleep(_A_MOMENT)  # whoever took it at the same moment has written by now: the later counts
            owner = _read(self._path)
            if owner is None or owner.mark != self._mark:
                return owner.name if owner is not None else "another machine"
        if self._saying is None or not self._saying.is_alive():
            self._saying = threading.Thread(target=self._say_again, daemon=True)
            self._saying.start()
        return ""

    def is_ours(self) -> bool:
        """Return whether nobody else has taken the folder; where the file cannot be read, nobody has."""
        owner = _read(self._path)
        return owner is None or owner.mark == self._mark

    def given_back(self) -> None:
        """Let the folder go, where it is ours."""
        self._over.set()
        if self._saying is not None:
            self._saying.join(_A_MOMENT * 10)
        owner = _read(self._path)
        if owner is not None and owner.mark == self._mark:
            with suppress(OSError):
                self._path.unlink()

    def _say(self) -> None:
        owner = _Owner(platform.node(), uuid.getnode(), os.getpid(), self._mark, time.time())
        with whole_file(self._path, force=True) as path:
            path.write_text(json.dumps(asdict(owner)), encoding="utf-8")

    def _say_again(self) -> None:
        while not self._over.wait(SAID_AGAIN):
            if not self.is_ours():
                return
            with suppress(Unusable):  # a full disk is told where it keeps a review from being written
                self._say()


def _read(path: Path) -> _Owner | None:
    """Return who watches; None where nobody says so, or what stands there is damaged."""
    try:
        if path.stat().st_size > _MOST_BYTES:
            return None
        kept = json.loads(path.read_text(encoding="utf-8"))
        return _Owner(
            str(kept["machine"]),
            int(kept["hardware"]),
            int(kept["process"]),
            str(kept["mark"]),
            float(kept["said"]),
        )
    except (OSError, ValueError, KeyError, TypeError, OverflowError, RecursionError):
        return None


def _is_running(process: int) -> bool:
    if os.name != "posix":  # elsewhere to ask is to end it: the time has to tell
        return True
    try:
        os.kill(process, 0)
    except (ProcessLookupError, OverflowError):
        return False
    except OSError:
        return True
    return True

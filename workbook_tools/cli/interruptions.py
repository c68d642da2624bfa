"""The first interruption ends the command; what follows it waits for the tidying up.

    one_interruption()    while it lasts, KeyboardInterrupt is raised once, by Ctrl-C or being told to end

Python calls back in places where nothing can be raised: when a module has been imported, or an object
goes. An interruption that comes there is swallowed, and sent again until it has come through.
"""

from __future__ import annotations

import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

__all__ = ["one_interruption"]

_INTERRUPTIONS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
_OUT_OF_IT = 0.002
"""Seconds until Python has mostly come out of a place where nothing can be raised."""


@contextmanager
def one_interruption() -> Iterator[None]:
    """Let the first interruption end the command; being told to end (SIGTERM, SIGHUP) is one like any other."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in _INTERRUPTIONS}
    complain = sys.unraisablehook
    interruption = _Interruption()

    def swallowed(what: sys.UnraisableHookArgs) -> None:
        if isinstance(what.exc_value, KeyboardInterrupt):
            interruption.send_again()
        else:
            complain(what)

    sys.unraisablehook = swallowed
    try:
        for number, handler in before.items():
            if handler in (signal.SIG_DFL, signal.default_int_handler):
                signal.signal(number, interruption.come)
        yield
    finally:
        interruption.over = True
        for number, handler in before.items():
            signal.signal(number, handler)
        sys.unraisablehook = complain


class _Interruption:
    """What has become of the interruption of one command."""

    def __init__(self) -> None:
        self.raised = False
        self.over = False
        self._number = signal.SIGINT
        self._sending = False

    def come(self, number: int, frame: FrameType | None) -> None:
        if self.raised:
            return
        self._number = signal.Signals(number)
        if _told_of_what_is_swallowed(frame):
            self.send_again()
            return
        self.raised = True
        raise KeyboardInterrupt

    def send_again(self) -> None:
        self.raised = False
        if not self._sending:
            self._sending = True
            threading.Thread(target=self._until_raised, daemon=True).start()

    def _until_raised(self) -> None:
        while not self.over:
            time.sleep(_OUT_OF_IT)
            if self.raised or self.over:
                continue
            if sys.platform == "win32":
                signal.raise_signal(self._number)
            else:  # what the main thread waits for ends only where the signal comes to that thread itself
                signal.pthread_kill(threading.main_thread().ident or 0, self._number)


def _told_of_what_is_swallowed(frame: FrameType | None) -> bool:
    """Return whether Python is just being told of something swallowed: what is raised there is swallowed too."""
    told = getattr(sys.unraisablehook, "__code__", None)
    while frame is not None:
        if frame.f_code is told:
            return True
        frame = frame.f_back
    return False

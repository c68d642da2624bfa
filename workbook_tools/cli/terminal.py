"""How the terminal is spoken to.

Terminal            colours only where a person looks at them (never piped, never with NO_COLOR)
working(what)       says on standard error what is going on once it has taken two seconds
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TextIO

__all__ = ["emphasised", "working"]

PATIENCE_SECONDS = 2.0


def emphasised(text: str, stream: TextIO | None = None) -> str:
    """Return the text in bold where the stream is a terminal and NO_COLOR is not set.

    Examples
    --------
    >>> import io
    >>> emphasised("Act now", io.StringIO())
    'Act now'
    """
    stream = stream or sys.stdout
    plain = not stream.isatty() or "NO_COLOR" in os.environ or os.environ.get("TERM") == "dumb"
    return text if plain else f"\033[1m{text}\033[0m"


@contextmanager
def working(what: str) -> Iterator[None]:
    """While inside, say what is being done once it has taken longer than two seconds.

    Only where standard error is a terminal: a log gets no progress lines.
    """
    if not sys.stderr.isatty():
        yield
        return
    said = threading.Event()

    def say() -> None:
        said.set()
        print(f"{what} ...", end="", file=sys.stderr, flush=True)

    timer = threading.Timer(PATIENCE_SECONDS, say)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        if said.is_set():
            print("\r\033[K", end="", file=sys.stderr, flush=True)

"""The command line: parses, calls one function, prints, sets the exit status.

    main(arguments)   0 nothing to correct or report, 1 problems, 2 the file or the call cannot be used

Not here: anything that a Python caller cannot do with one call.
"""

from __future__ import annotations

import atexit
import gc
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress

from workbook_tools.errors import Unusable

__all__ = ["main"]

_INTERRUPTIONS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name)]
_OUT_OF_IT = 0.002
"""Seconds until Python has come out of a call that swallows whatever is raised in it."""

FAILED = 2
"""The exit status where the file or the call cannot be used."""

_WHOLE = "Every file is whole: as it was, or as it was to be."


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status.

    Parameters
    ----------
    arguments : sequence of str, optional
        The words after the program's name; the process's own where left out.

    Examples
    --------
    >>> main(["explain", "working-depth-shrt"])
    2
    """
    try:
        with _one_interruption(), _collector_at_rest(), _closing_in_silence():
            status = _status(arguments)
            if status == FAILED:
                gc.collect()  # what is left open is closed here, and not while Python ends
            return status
    except KeyboardInterrupt:
        return _say_stopped()


@contextmanager
def _one_interruption() -> Iterator[None]:
    """Let the first interruption end the command, and what follows it wait for the tidying up.

    Being told to end (SIGTERM, SIGHUP) is an interruption like any other. One that comes while Python
    calls back (as a module has been imported, or an object goes) is swallowed there: it is sent again.
    """
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = {number: signal.getsignal(number) for number in _INTERRUPTIONS}
    ours = [n for n, handler in before.items() if handler in (signal.SIG_DFL, signal.default_int_handler)]
    complain, sent_again = sys.unraisablehook, threading.Timer(0, _send_main_thread)

    def listen() -> None:
        for number in ours:
            signal.signal(number, stop)

    def stop(*_: object) -> None:
        for number in _INTERRUPTIONS:
            signal.signal(number, signal.SIG_IGN)
        raise KeyboardInterrupt

    def swallowed(what: sys.UnraisableHookArgs) -> None:
        nonlocal sent_again
        if not isinstance(what.exc_value, KeyboardInterrupt):
            complain(what)
        elif ours:
            listen()
            sent_again.cancel()
            # By another thread, when this one has come out of what swallows.
            sent_again = threading.Timer(_OUT_OF_IT, _send_main_thread, [ours[0]])
            sent_again.daemon = True
            sent_again.start()

    sys.unraisablehook = swallowed
    try:
        listen()
        yield
    finally:
        sent_again.cancel()
        for number, handler in before.items():
            signal.signal(number, handler)
        sys.unraisablehook = complain


def _send_main_thread(number: int) -> None:
    if sys.platform == "win32":
        signal.raise_signal(number)
    else:  # what it waits for ends only where the signal comes to that thread itself
        signal.pthread_kill(threading.main_thread().ident or 0, number)


@contextmanager
def _closing_in_silence() -> Iterator[None]:
    """Keep Python from complaining of a half-written file that is thrown away: its sentence has been said."""
    before = sys.unraisablehook

    def complain(what: sys.UnraisableHookArgs) -> None:
        if not isinstance(what.exc_value, OSError):
            before(what)

    sys.unraisablehook = complain
    try:
        yield
    finally:
        sys.unraisablehook = before


def _say_stopped() -> int:
    print(
        f"\nworkbook-tools: stopped. {_WHOLE}",
        file=sys.stderr,
    )
    return 130


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Run without the garbage collector, and end the process without its last round.

    One command makes few circles of objects and ends soon. Measured on a delivery of 300 pieces of
    equipment: a tenth of the time, for 3 MB more of memory.
    """
    was_on = gc.isenabled()
    gc.disable()
    atexit.unregister(gc.freeze)
    atexit.register(gc.freeze)
    try:
        yield
    finally:
        if was_on:
            # All of it is put among the old objects, unwalked: else the next object made would start a walk.
            gc.freeze()
            gc.unfreeze()
            gc.enable()


def _status(arguments: Sequence[str] | None) -> int:
    try:
        from workbook_tools.cli.arguments import parse
        from workbook_tools.cli.calls import run

        with suppress(AttributeError, ValueError):  # a stream that is no text file has no reconfigure
            sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
            sys.stderr.reconfigure(errors="replace")  # type: ignore[union-attr]
        status = run(parse(arguments))
        sys.stdout.flush()
        return status
    except Unusable as error:
        print(f"workbook-tools: {error}", file=sys.stderr)
        return FAILED
    except BrokenPipeError:
        # Whoever read our output has gone.
        _give_up_output()
        return FAILED
    except OSError as error:
        _give_up_output()
        what, why = error.filename or "what this command prints", (error.strerror or str(error)).lower()
        print(f"workbook-tools: {what} cannot be written or read ({why}). {_WHOLE}", file=sys.stderr)
        return FAILED
    except MemoryError:
        print(f"workbook-tools: this needs more memory than the machine has. {_WHOLE}", file=sys.stderr)
        return FAILED
    except Exception as error:
        if os.environ.get("WORKBOOK_TOOLS_TRACEBACK"):
            raise
        print(
            f"workbook-tools: a fault in the tool itself ({type(error).__name__}: {str(error)[:200]}). {_WHOLE} "
            "Please tell its developers what you ran; WORKBOOK_TOOLS_TRACEBACK=1 shows them more.",
            file=sys.stderr,
        )
        return FAILED


def _give_up_output() -> None:
    """Keep Python from trying again at exit what could not be printed."""
    with suppress(OSError, ValueError, AttributeError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())

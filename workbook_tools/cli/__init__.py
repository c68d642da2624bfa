"""The command line: parses, calls one function, prints, sets the exit status.

    main(arguments)   0 nothing to correct or report, 1 problems, 2 the file or the call cannot be used

Not here: anything that a Python caller cannot do with one call.
"""

from __future__ import annotations

import atexit
import gc
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress

from workbook_tools.cli.interruptions import one_interruption
from workbook_tools.errors import Unusable, say_nothing_of_closing

__all__ = ["main"]

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
        with one_interruption(), _collector_at_rest(), _closing_in_silence():
            status = _status(arguments)
            if status == FAILED:
                gc.collect()  # what is left open is closed here, and not while Python ends
            return status
    except KeyboardInterrupt:
        return _say_stopped()


@contextmanager
def _closing_in_silence() -> Iterator[None]:
    before = sys.unraisablehook
    say_nothing_of_closing()
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

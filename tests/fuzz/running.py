"""Check one hostile workbook as the command line does, and measure it.

checked(path)       exit status, what was printed, seconds, peak megabytes, whether the file changed
in_a_process(path)  the same in a process of its own, for files that may exhaust memory
verdict(outcome)    None when it ended as it must, else what went wrong
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import NamedTuple

SECONDS = 10
MEGABYTES = 500


class Outcome(NamedTuple):
    status: int
    out: str
    err: str
    seconds: float
    megabytes: float
    changed: bool


class TooLong(BaseException):
    pass


def checked(path: Path) -> Outcome:
    from workbook_tools.cli import main

    def ring(*_: object) -> None:
        raise TooLong

    before = hashlib.sha256(path.read_bytes()).digest()
    out, err = io.StringIO(), io.StringIO()
    started = time.perf_counter()
    signal.signal(signal.SIGALRM, ring)
    signal.alarm(SECONDS + 2)
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            status = main(["check", str(path), "--json"])
    except TooLong:
        status = -1
    except BaseException as error:  # noqa: BLE001  # whatever escapes is what is looked for
        status = -2
        err.write(f"{type(error).__name__}: {error}")
    finally:
        signal.alarm(0)
    return Outcome(
        status,
        out.getvalue(),
        err.getvalue(),
        time.perf_counter() - started,
        _peak_megabytes(),
        hashlib.sha256(path.read_bytes()).digest() != before,
    )


def _peak_megabytes() -> float:
    """Return the most memory that this program has held; getrusage counts what its parent held too."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def in_a_process(path: Path) -> Outcome:
    program = (
        "import json, sys; from pathlib import Path; from tests.fuzz.running import checked; "
        "json.dump(list(checked(Path(sys.argv[1]))), sys.stdout)"
    )
    root = Path(__file__).resolve().parents[2]
    done = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path.append({str(root)!r}); {program}", str(path)],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    if done.returncode:
        return Outcome(-2, done.stdout, done.stderr, 0, 0, False)
    return Outcome(*json.loads(done.stdout))


def verdict(outcome: Outcome) -> str | None:
    if outcome.status == -1 or outcome.seconds > SECONDS:
        return f"took {outcome.seconds:.1f} s"
    if outcome.megabytes > MEGABYTES:
        return f"took {outcome.megabytes:.0f} MB"
    if outcome.changed:
        return "changed the survey"
    if outcome.status == -2 or "Traceback" in outcome.err or "fault in the tool" in outcome.err:
        return f"ended with {outcome.err.strip()[-300:]}"
    if outcome.status == 2:
        return None if outcome.err.count("\n") == 1 and not outcome.out else f"said {outcome.err!r}"
    if outcome.status not in (0, 1) or outcome.err:
        return f"exit status {outcome.status}, {outcome.err!r}"
    json.loads(outcome.out)
    return None

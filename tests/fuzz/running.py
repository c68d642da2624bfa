"""Check hostile workbooks as the command line does, and see how each ends.

checked(path)        exit status, what was printed, peak megabytes, whether the file changed
in_a_process(path)   the same in a process of its own, for files that may exhaust memory
verdict(outcome)     None when it ended as it must, else what went wrong
wrong_mutants(job)   mutants of one file, one after the other: what went wrong with which

How long a check takes is measured in tests/benchmarks/time_limits.py; here one that hangs is ended.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import signal
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import NamedTuple

from tests.fuzz.mutations import mutate

HANGS = 60  # seconds
MEGABYTES = 500


class Outcome(NamedTuple):
    status: int
    out: str
    err: str
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
    signal.signal(signal.SIGALRM, ring)
    signal.alarm(HANGS)
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
        peak_megabytes(),
        hashlib.sha256(path.read_bytes()).digest() != before,
    )


def peak_megabytes() -> float:
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
        timeout=2 * HANGS,
        check=False,
    )
    if done.returncode:
        return Outcome(-2, done.stdout, done.stderr, 0, False)
    return Outcome(*json.loads(done.stdout))


def verdict(outcome: Outcome) -> str | None:
    if outcome.status == -1:
        return f"did not end in {HANGS} s"
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


def wrong_mutants(job: tuple[Path, Sequence[int]]) -> list[str]:
    """Check these mutants of a file; return what went wrong, with the number that makes it again."""
    seed, numbers = job
    original = seed.read_bytes()
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"survey{seed.suffix}"
        for number in numbers:
            path.write_bytes(mutate(original, Random(number)))
            says = verdict(checked(path))
            if says:
                wrong.append(f"{seed.name}, mutant {number}: {says}")
    return wrong

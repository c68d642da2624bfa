"""The spreadsheet programs that the tests ask, each run for itself.

    Office(scratch)                       one LibreOffice profile in a folder of its own
        .convert(path, "pdf")             the file in another format, written by LibreOffice
        .by_hand(workbook, steps)   typed, inserted, sorted: what a person does, and by the keyboard
        .recalculate(path)                every formula computed anew, by LibreOffice
        .type_survey(workbook, notes, out)  field notes typed in, as a person would
        .gnumeric(path, "xlsx")           every formula computed anew, by gnumeric
        .pages(path)                      each printed page as a PNG
        .package(name)                    a Python package that stands in for a program
        .program("soffice")               where a program lies, for a call of another kind
    once_at_a_time(lock)                  no two worker processes are inside at the same time

A file that was not touched since is not converted twice: starting a program costs more than its work.

soffice leaves with status 0 even when nothing could be loaded, so what counts is the file
that it wrote. A program that is not there fails the test where CI or
WORKBOOK_TOOLS_OFFICE is set, and skips it elsewhere, with the reason.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any, NoReturn

import pytest

__all__ = ["Office", "once_at_a_time"]

_SECONDS = 180
_HERE = Path(__file__).resolve().parent
_RECALCULATE_ALWAYS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


class Office:
    """Spreadsheet programs with a LibreOffice profile of their own, below a scratch folder."""

    def __init__(self, scratch: Path) -> None:
        self._scratch = scratch
        self._profiles: dict[bool, Path] = {}
        self._written: dict[tuple[object, ...], Path] = {}

    def convert(self, path: Path, ending: str) -> Path:
        """Return the file as LibreOffice writes it with another ending ("pdf", "xlsx", "ods", "csv")."""
        return self._once(self._soffice, path, ending, False)

    def recalculate(self, path: Path, ending: str = "xlsx") -> Path:
        """Return the file as LibreOffice saves it after computing every formula anew."""
        return self._once(self._soffice, path, ending, True)

    def type_survey(self, workbook: Path, notes: Path, out: Path) -> Path:
        """Type a folder of notes into a survey workbook, through LibreOffice's own input parser."""
        _program("soffice")
        done = subprocess.run(
            [_python_with_uno(), str(_HERE / "type_survey.py"), str(workbook), str(notes), str(out)],
            capture_output=True,
            text=True,
            timeout=_SECONDS,
            check=False,
            env={**os.environ, "TMPDIR": str(self._folder("typing"))},
        )
        assert done.returncode == 0, f"typing {notes.name} failed: {done.stderr or done.stdout}"
        assert out.is_file(), f"typing {notes.name} wrote no file"
        return out

    def by_hand(self, workbook: Path, steps: list[list[Any]]) -> Path:
        """Return a workbook as LibreOffice saves it after the steps of `by_hand.py` were done in it."""
        _program("soffice")
        folder = self._folder("hand")
        listed, out = folder / "steps.json", folder / workbook.name
        listed.write_text(json.dumps(steps), encoding="utf-8")
        run = [_python_with_uno(), str(_HERE / "by_hand.py"), str(workbook), str(listed), str(out)]
        if any(step[0] == "keys" for step in steps):
            _program("xdotool")
            run = [_program("xvfb-run"), "-a", "-s", "-screen 0 1366x768x24", *run]
        done = subprocess.run(
            run, capture_output=True, text=True, timeout=_SECONDS, check=False,
            env={**os.environ, "TMPDIR": str(folder)},
        )  # fmt: skip
        assert done.returncode == 0, done.stderr or done.stdout
        return out

    def gnumeric(self, path: Path, ending: str = "xlsx") -> Path:
        """Return the file as gnumeric saves it after computing every formula anew."""
        return self._once(self._ssconvert, path, ending)

    def _ssconvert(self, path: Path, ending: str) -> Path:
        out = self._folder("gnumeric") / f"{path.stem}.{ending}"
        done = subprocess.run(
            [_program("ssconvert"), "--recalc", str(path), str(out)],
            capture_output=True,
            text=True,
            timeout=_SECONDS,
            check=False,
        )
        assert out.is_file(), f"gnumeric wrote nothing for {path.name}: {done.stderr}"
        return out

    def package(self, name: str) -> Any:
        """Return a Python package that stands in for a program; it may be missing like one."""
        try:
            return import_module(name)
        except ImportError:
            return _missing(f"the Python package {name} is not installed")

    def pages(self, path: Path, dots_per_inch: int = 60) -> list[Path]:
        """Return each page of the file, as LibreOffice prints it, as a PNG."""
        pdf = path if path.suffix == ".pdf" else self.convert(path, "pdf")
        out = self._folder("pages")
        subprocess.run(
            [_program("pdftoppm"), "-png", "-r", str(dots_per_inch), str(pdf), str(out / "page")],
            timeout=_SECONDS,
            check=True,
        )
        return sorted(out.glob("page*.png"))

    def printed(self, path: Path) -> list[str]:
        """Return the text of each page of the file, as LibreOffice prints it."""
        run = [_program("pdftotext"), "-layout", str(self.convert(path, "pdf")), "-"]
        done = subprocess.run(run, timeout=_SECONDS, check=True, capture_output=True, text=True)
        return done.stdout.split("\f")[:-1]

    def program(self, name: str) -> str:
        """Return where the program lies; one that is missing fails or skips the test."""
        return _program(name)

    def _once(self, convert: Callable[..., Path], path: Path, *how: object) -> Path:
        key = (convert.__name__, path, path.stat().st_mtime_ns, *how)
        if key not in self._written:
            self._written[key] = convert(path, *how)
        return self._written[key]

    def _soffice(self, path: Path, ending: str, recalculate: bool) -> Path:
        program = _program("soffice")
        out = self._folder(ending.partition(":")[0])
        done = subprocess.run(
            [program, f"-env:UserInstallation={self._profile(recalculate).as_uri()}", "--headless", "--norestore",
             "--nologo", "--convert-to", ending, "--outdir", str(out), str(path)],
            capture_output=True, text=True, timeout=_SECONDS, check=False,
        )  # fmt: skip
        written = out / f"{path.stem}.{ending.partition(':')[0]}"
        assert written.is_file(), f"LibreOffice wrote nothing for {path.name}: {done.stdout} {done.stderr}"
        assert written.stat().st_size > 0, f"LibreOffice wrote an empty file for {path.name}"
        return written

    def _folder(self, name: str) -> Path:
        return Path(tempfile.mkdtemp(prefix=f"{name}-", dir=self._scratch))

    def _profile(self, recalculate: bool) -> Path:
        profile = self._profiles.get(recalculate)
        if profile is None:
            profile = self._profiles[recalculate] = self._folder("profile")
            if recalculate:
                (profile / "user").mkdir()
                settings = profile / "user" / "registrymodifications.xcu"
                settings.write_text(_RECALCULATE_ALWAYS, encoding="utf-8")
        return profile


@contextmanager
def once_at_a_time(lock: Path) -> Iterator[None]:
    import fcntl  # not on Windows, where no program is driven

    with lock.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        yield


def _program(name: str) -> str:
    return shutil.which(name) or _missing(f"the program {name} is not installed")


@cache
def _python_with_uno() -> str:
    """Find the Python that comes with the LibreOffice bridge; seldom the one that runs the tests."""
    for candidate in (
        "/usr/bin/python3",
        shutil.which("python3") or "",
        "/usr/lib/libreoffice/program/python",
    ):
        if candidate and Path(candidate).exists():
            found = subprocess.run([candidate, "-c", "import uno"], capture_output=True, check=False)
            if found.returncode == 0:
                return candidate
    return _missing("no Python with LibreOffice's bridge (python3-uno) is installed")


def _missing(what: str) -> NoReturn:
    if os.environ.get("CI") or os.environ.get("WORKBOOK_TOOLS_OFFICE"):
        pytest.fail(f"{what}, and it must be here: CI or WORKBOOK_TOOLS_OFFICE is set")
    pytest.skip(f"NOT TESTED: {what}. Install it (.ci/run does) to run this test")

"""The schedule printed to PDF by LibreOffice, where it is installed.

    print_pdf(workbook)   the PDF beside the workbook, or None where no LibreOffice is found
    find_office()         the program, or None

LibreOffice ends with status 0 even when it could not read a thing, so only the file that it
wrote counts. Each run has a profile of its own: a LibreOffice that is open is not disturbed.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import tempfile
from pathlib import Path

from workbook_tools.errors import Unusable

__all__ = ["NO_OFFICE", "find_office", "print_pdf"]

NO_OFFICE = (
    "No PDF was made: LibreOffice is not installed here. Print the workbook from any spreadsheet program."
)

LONGEST_SECONDS = 180

_PLACES = (
    "/usr/bin/soffice",
    "/usr/lib/libreoffice/program/soffice",
    "/opt/libreoffice/program/soffice",
    "/Applications/LibreOffice.app/Contents/MacOS/soffice",
    r"C:\Program Files\LibreOffice\program\soffice.exe",
    r"C:\Program Files (x86)\LibreOffice\program\soffice.exe",
)


def find_office() -> Path | None:
    """Return LibreOffice's program: from the search path, or where it is usually installed."""
    for name in ("soffice", "libreoffice"):
        found = shutil.which(name)
        if found:
            return Path(found)
    return next((Path(place) for place in _PLACES if os.path.isfile(place)), None)


def print_pdf(workbook: Path) -> Path | None:
    """Print a workbook to a PDF of the same name beside it.

    Parameters
    ----------
    workbook : Path
        A workbook of ours, with its page setup.

    Returns
    -------
    pdf : Path or None
        None where no LibreOffice is installed.

    Raises
    ------
    Unusable
        LibreOffice wrote no PDF, or not within three minutes.
    """
    office = find_office()
    if office is None:
        return None
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        made = Path(folder, "printed", f"{workbook.stem}.pdf")
        call = [
            str(office),
            f"-env:UserInstallation={Path(folder, 'profile').as_uri()}",
            "--headless",
            "--norestore",
            "--convert-to",
            "pdf:calc_pdf_Export",
            "--outdir",
            str(made.parent),
            str(workbook),
        ]
        said = _run(call, workbook)
        if not made.is_file() or made.read_bytes()[:5] != b"%PDF-":
            raise _not_printed(workbook, " ".join(said.split())[:200] or "no PDF came")
        return Path(shutil.move(made, workbook.with_suffix(".pdf")))


def _run(call: list[str], workbook: Path) -> str:
    """Run LibreOffice and return what it complained of; it is ended with its children when it takes too long."""
    try:
        with subprocess.Popen(
            call,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            start_new_session=True,
        ) as office:
            try:
                return office.communicate(timeout=LONGEST_SECONDS)[1].decode(errors="replace")
            except subprocess.TimeoutExpired:
                # The program is a script that starts another one: the whole group has to go.
                if hasattr(os, "killpg"):
                    os.killpg(office.pid, signal.SIGKILL)
                else:
                    office.kill()
                raise Unusable(
                    f"LibreOffice did not print {workbook.name} within {LONGEST_SECONDS} seconds: "
                    "leave out --pdf and print the workbook from a spreadsheet program."
                ) from None
    except OSError as error:
        raise _not_printed(workbook, (error.strerror or str(error)).lower()) from None


def _not_printed(workbook: Path, why: str) -> Unusable:
    return Unusable(
        f"LibreOffice could not print {workbook.name} ({why}): "
        "leave out --pdf and print the workbook from a spreadsheet program."
    )

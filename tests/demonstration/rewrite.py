"""Write the demonstration files of the source tree anew: `python tests/demonstration/rewrite.py`.

The pictures of the README are taken from the same files, where LibreOffice and poppler are
installed; elsewhere the old ones stay, and a line says so.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

sys.path.append(str(Path(__file__).resolve().parents[2]))

from tests.office.programs import Office
from workbook_tools.commands.demo import DELIVERY, FROM_SITE, PDF, PHOTOS, demo

if TYPE_CHECKING:
    from PIL.Image import Image

__all__ = ["rewrite"]

PICTURES = "pictures"
_PHONE_PIXELS = (400, 780)


def rewrite(folder: Path) -> list[str]:
    """Write the demonstration into the folder, and its pictures; return what to tell."""
    lines = _demonstration_in(folder)
    if not (shutil.which("soffice") and shutil.which("pdftoppm")):
        return [*lines, "The pictures were left as they are: they need LibreOffice and poppler."]
    pictures = folder / PICTURES
    pictures.mkdir(exist_ok=True)
    schedule = _page(folder / DELIVERY / PDF, "Where to switch off", dots_per_inch=80)
    schedule.save(pictures / "client-schedule.png", optimize=True)
    start = _page(folder / FROM_SITE, "Before you touch", dots_per_inch=84)
    wide, high = _PHONE_PIXELS
    start.crop((34, 34, 34 + wide, 34 + high)).save(pictures / "survey-on-a-phone.png", optimize=True)
    return lines


def _demonstration_in(folder: Path) -> list[str]:
    """Write the demonstration anew over the one in the folder, whatever became of its files."""
    with tempfile.TemporaryDirectory() as scratch:
        lines = list(demo(Path(scratch, folder.name)).lines)
        for earlier in (DELIVERY, PHOTOS):
            shutil.rmtree(folder / earlier, ignore_errors=True)
        shutil.copytree(Path(scratch, folder.name), folder, dirs_exist_ok=True)
    return lines


def _page(workbook: Path, words: str, dots_per_inch: int) -> Image:
    """Return the first printed page of a workbook or a PDF that holds the words, as a picture."""
    from PIL import Image

    with tempfile.TemporaryDirectory() as folder:
        pdf = workbook if workbook.suffix == ".pdf" else Office(Path(folder)).convert(workbook, "pdf")
        text = subprocess.run(["pdftotext", pdf, "-"], capture_output=True, text=True, check=True).stdout
        page = str(next(n for n, page in enumerate(text.split("\f"), start=1) if words in page))
        call = [
            "pdftoppm",
            "-r",
            str(dots_per_inch),
            "-png",
            "-singlefile",
            "-f",
            page,
            str(pdf),
            f"{folder}/page",
        ]
        subprocess.run(call, check=True)
        picture = Image.open(f"{folder}/page.png").convert("RGB")
        return picture.quantize(64).convert("RGB")


if __name__ == "__main__":
    root = Path(__file__).resolve().parents[2] / "demo_workbooks"
    if not root.is_dir():
        raise SystemExit("This rewrites demo_workbooks of the source tree: run it there.")
    print("\n".join(rewrite(root)))

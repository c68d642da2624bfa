"""One workbook opened and saved by programs that we did not write.

PROGRAMS   name -> function(office, path, folder), which returns the file as the program saved it

LibreOffice and gnumeric come with the machine, openpyxl and IronCalc from PyPI, exceljs and
xlsx from npm, in the folder that WORKBOOK_TOOLS_NODE_MODULES names. What is not there fails
the test where CI is set, and skips it elsewhere, with the reason.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import pytest

from tests.office.programs import Office

__all__ = ["PROGRAMS"]

_HERE = Path(__file__).resolve().parent
_SECONDS = 120


def libreoffice(office: Office, path: Path, folder: Path) -> Path:
    return shutil.copy(office.convert(path, path.suffix[1:]), folder / f"libreoffice{path.suffix}")


def libreoffice_into_the_other_format(office: Office, path: Path, folder: Path) -> Path:
    other = "ods" if path.suffix == ".xlsx" else "xlsx"
    return shutil.copy(office.convert(path, other), folder / f"other.{other}")


def libreoffice_there_and_back(office: Office, path: Path, folder: Path) -> Path:
    other = libreoffice_into_the_other_format(office, path, folder)
    return shutil.copy(office.convert(other, path.suffix[1:]), folder / f"there_and_back{path.suffix}")


def libreoffice_recalculated(office: Office, path: Path, folder: Path) -> Path:
    return shutil.copy(office.recalculate(path, path.suffix[1:]), folder / f"recalculated{path.suffix}")


def gnumeric(office: Office, path: Path, folder: Path) -> Path:
    return shutil.copy(office.gnumeric(path, path.suffix[1:]), folder / f"gnumeric{path.suffix}")


def with_openpyxl(office: Office, path: Path, folder: Path) -> Path:
    import openpyxl

    out = folder / "openpyxl.xlsx"
    openpyxl.load_workbook(path).save(out)
    return out


def ironcalc(office: Office, path: Path, folder: Path) -> Path:
    import ironcalc as engine

    out = folder / "ironcalc.xlsx"
    engine.load_from_xlsx(str(path), "en", "UTC", "en").save_to_xlsx(str(out))
    return out


def exceljs(office: Office, path: Path, folder: Path) -> Path:
    return _node("save_exceljs.mjs", path, folder / "exceljs.xlsx")


def npm_xlsx(office: Office, path: Path, folder: Path) -> Path:
    return _node("save_xlsx.mjs", path, folder / "npm_xlsx.xlsx")


def _node(script: str, source: Path, target: Path) -> Path:
    node, packages = shutil.which("node"), os.environ.get("WORKBOOK_TOOLS_NODE_MODULES", "")
    if not node or not packages:
        _missing(
            "node with the npm packages exceljs and xlsx (WORKBOOK_TOOLS_NODE_MODULES names their folder)"
        )
    done = subprocess.run(
        [node, str(_HERE / "js" / script), str(source), str(target)],
        capture_output=True,
        text=True,
        timeout=_SECONDS,
        check=False,
    )
    assert target.is_file(), f"{script} wrote nothing for {source.name}: {done.stderr}"
    return target


def _missing(what: str) -> NoReturn:
    if os.environ.get("CI") or os.environ.get("WORKBOOK_TOOLS_OFFICE"):
        pytest.fail(f"{what} must be here: CI or WORKBOOK_TOOLS_OFFICE is set")
    pytest.skip(f"NOT TESTED: {what} is not here. Install it (.ci/run does) to run this test")


Save = Callable[[Office, Path, Path], Path]

PROGRAMS: dict[str, Save] = {
    "LibreOffice": libreoffice,
    "LibreOffice, other format": libreoffice_into_the_other_format,
    "LibreOffice, there and back": libreoffice_there_and_back,
    "LibreOffice, recalculated": libreoffice_recalculated,
    "gnumeric": gnumeric,
    "openpyxl": with_openpyxl,
    "IronCalc": ironcalc,
    "exceljs": exceljs,
    "npm xlsx": npm_xlsx,
}
ONLY_XLSX = frozenset({"openpyxl", "IronCalc", "exceljs", "gnumeric"})
"""Programs that are asked for .xlsx files only; the .ods survey is given to the others."""

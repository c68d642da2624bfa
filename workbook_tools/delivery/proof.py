"""Whether a written workbook says what was meant: read back by a library that did not write it.

    prove(path, meant)   compares every cell; a difference is Unusable, with sheet and cell

It also holds that the workbook runs nothing and calls nobody: no formula, no macro, no link
to another file, no picture or datum fetched from outside.

Not here: what was meant (schedule).
"""

from __future__ import annotations

import datetime
import warnings
import zipfile
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

__all__ = ["Meant", "prove"]

Meant = Mapping[str, Mapping[tuple[int, int], Any]]
"""Sheet -> (row, column) from 0 -> the value that stands there. None and "" mean a blank cell."""

_AGAIN = "Nothing was delivered: run it again, and keep the survey for whoever maintains the program."
_RELATIONSHIPS = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"


def prove(path: Path, meant: Meant) -> int:
    """Compare every cell of a written workbook with what was meant.

    Parameters
    ----------
    path : Path
        The workbook, before it is put in its place.
    meant : mapping
        What each sheet should hold; the sheets in their order.

    Returns
    -------
    cells : int
        Filled cells compared.

    Raises
    ------
    Unusable
        A cell, a sheet or a link is not as meant; the sentence names it.
    """
    from openpyxl import load_workbook

    _prove_closed(path)
    with warnings.catch_warnings():
        warnings.simplefilter(
            "ignore"
        )  # it warns of parts that it does not keep when saving; nothing is saved here
        workbook = load_workbook(path)
    if workbook.sheetnames != list(meant):
        raise _not_as_meant(path, "the workbook", ", ".join(workbook.sheetnames), ", ".join(meant))
    return sum(_prove_sheet(path, workbook[name], cells) for name, cells in meant.items())


def _prove_sheet(path: Path, sheet: Worksheet, meant: Mapping[tuple[int, int], Any]) -> int:
    wanted = {place: value for place, value in meant.items() if not _is_blank(value)}
    # Only the cells that the file has: a grid of all places between them can be millions.
    for (row, column), cell in sheet._cells.items():
        place = f"{sheet.title}!{cell.coordinate}"
        if cell.data_type == "f":
            raise _not_as_meant(path, place, f"the formula {cell.value}", "no formula")
        if cell.hyperlink is not None and (cell.hyperlink.target or not cell.hyperlink.location):
            raise _not_as_meant(
                path, place, f"a link to {cell.hyperlink.target}", "no link out of the workbook"
            )
        if cell.value is None or cell.value == "":
            continue
        value = wanted.pop((row - 1, column - 1), None)
        if not _same(cell.value, value):
            raise _not_as_meant(path, place, _shown(cell.value), _shown(value))
    for (row, column), value in wanted.items():
        raise _not_as_meant(path, f"{sheet.title}!{_name(row, column)}", "nothing", _shown(value))
    return len(meant) - sum(_is_blank(value) for value in meant.values())


def _prove_closed(path: Path) -> None:
    """Hold that the file carries no macro and nothing that is fetched from elsewhere."""
    with zipfile.ZipFile(path) as package:
        for part in package.namelist():
            if "vba" in part.casefold() or "externallink" in part.casefold():
                raise _not_as_meant(
                    path, "the workbook", f"the part {part}", "no macro and no link to another file"
                )
            if not part.endswith(".rels"):
                continue
            for relation in ElementTree.fromstring(package.read(part)).iter(_RELATIONSHIPS):
                if relation.get("TargetMode") == "External":
                    target = str(relation.get("Target"))
                    raise _not_as_meant(path, "the workbook", f"a link to {target}", "no link out of it")


def _same(read: Any, meant: Any) -> bool:
    if isinstance(meant, bool) or isinstance(read, bool):
        return read is meant
    if isinstance(meant, (int, float)) and isinstance(read, (int, float)):
        # The writer keeps 16 digits of a number.
        return bool(abs(read - meant) <= 1e-14 * max(abs(read), abs(meant)))
    if isinstance(meant, datetime.date):
        return bool(_moment(read) == _moment(meant))
    return type(read) is type(meant) and bool(read == meant)


def _moment(value: Any) -> Any:
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return datetime.datetime(value.year, value.month, value.day)
    return value


def _is_blank(value: Any) -> bool:
    return value is None or value == ""


def _shown(value: Any) -> str:
    if _is_blank(value):
        return "nothing"
    text = str(value)
    return repr(text if len(text) <= 80 else f"{text[:77]}...")


def _name(row: int, column: int) -> str:
    from openpyxl.utils import get_column_letter

    return f"{get_column_letter(column + 1)}{row + 1}"


def _not_as_meant(path: Path, place: str, read: str, meant: str) -> Unusable:
    return Unusable(
        f"The written {path.name} is not what was meant: {place} holds {read}, where {meant} was meant. {_AGAIN}"
    )

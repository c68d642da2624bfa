"""Reading spreadsheet files: .xlsx, .xlsm and .ods, whole, odd or damaged.

    read_workbook(path)               the file as a Workbook of sparse sheets
    read_picture(workbook, picture)   bytes of one picture, read when asked for
    Workbook, Sheet, Cell, Range, Picture, Remark, Damage
    cell_name, position               (5, 3) <-> "C5"

Damage is local: what cannot be read is listed with its place, everything else is
read. Only a file of which nothing can be used, or which is dangerous to open, is
refused, with one sentence (`workbook_tools.errors.Unusable`). The file is never
written to.

One pass over zip and expat gives value, typed text, number format and formula.
expat, not lxml: measured on 6.3 MB of sheet XML with 95,000 filled cells (Python 3.11,
best of 7), the bare call-backs take 0.10 s and building ElementTree elements 0.14 s;
down to a dictionary of cells it is 0.17 s with expat, 0.17 s with ElementTree, 0.25 s
with lxml, which would be one more dependency. All of this reader takes 0.35 s and 42 MB
for that file; pandas.read_excel takes 1.3 s and 88 MB for the values alone.

Not here: headings, tables, anything about surveys. Nothing is converted or guessed;
a date in a field for voltages is the caller's question.
"""

from __future__ import annotations

import os
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.cells import (
    Cell,
    Damage,
    Picture,
    Range,
    Remark,
    Sheet,
    Workbook,
    cell_name,
    position,
)
from workbook_tools.spreadsheet.not_a_workbook import say_which_package
from workbook_tools.spreadsheet.ods import is_ods, read_ods
from workbook_tools.spreadsheet.package import MOST_PICTURE_BYTES, Package, open_package
from workbook_tools.spreadsheet.xlsx import find_workbook_part, read_xlsx
from workbook_tools.spreadsheet.xml_stream import DoctypeFound

__all__ = [
    "Cell",
    "Damage",
    "Picture",
    "Range",
    "Remark",
    "Sheet",
    "Workbook",
    "cell_name",
    "position",
    "read_picture",
    "read_workbook",
]


def read_workbook(
    path: str | os.PathLike[str], *, quiet_formulas: bool = True, workings: str = ""
) -> Workbook:
    """Read every sheet of a workbook.

    Parameters
    ----------
    path : str or path
        An .xlsx, .xlsm or .ods file, whatever its ending says.
    quiet_formulas : bool, optional
        False leaves out the formulas of an .xlsx file that show nothing: of a prepared survey
        workbook they are four cells of five, and most of the memory.
    workings : str, optional
        How the heading, in one of the first 20 rows, of a column begins in which a workbook
        computes for itself. The formulas of an .xlsx file below it are left out; what is typed
        there is not.

    Returns
    -------
    workbook : Workbook
        Sheets in the order of their tabs, hidden ones too, and what was damaged.

    Raises
    ------
    Unusable
        The file cannot be used: not there, not readable, no such workbook, protected
        with a password, cut short, over the limits (300 MB of sheet data unpacked,
        2 million filled cells), or made to do harm.

    Examples
    --------
    >>> import tempfile, xlsxwriter
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     with xlsxwriter.Workbook(folder + "/rooms.xlsx") as new:
    ...         _ = new.add_worksheet("Rooms").write_string("B2", "Main electrical room")
    ...     workbook = read_workbook(folder + "/rooms.xlsx")
    >>> workbook.sheets[0].name, workbook.sheets[0].cells[2, 2].text
    ('Rooms', 'Main electrical room')
    """
    with open_package(Path(path)) as package:
        try:
            return _read(package, quiet_formulas, workings)
        except DoctypeFound:
            raise Unusable(
                f"{package.name} holds a document type declaration, which no spreadsheet program writes: "
                "do not trust this file, get the workbook again from whoever filled it in."
            ) from None


def _read(package: Package, quiet_formulas: bool, workings: str) -> Workbook:
    workbook_part = find_workbook_part(package)
    if workbook_part is not None:
        workbook = read_xlsx(package, workbook_part, quiet_formulas=quiet_formulas, workings=workings)
    elif is_ods(package):
        workbook = read_ods(package)
    else:
        raise Unusable(say_which_package(package.name, package.parts))
    for sheet in workbook.sheets:
        workbook.damage.extend(sheet.damage)
    return workbook


def read_picture(workbook: Workbook, picture: Picture) -> bytes:
    """Read the bytes of one picture of a workbook, as stored.

    Raises
    ------
    Unusable
        The file is gone, was changed, or the picture in it is damaged or over 200 MB.
    """
    with open_package(workbook.path) as package:
        part = package.find(picture.part)
        if part is None:
            raise Unusable(
                f"{package.name} no longer holds the picture {picture.part}: read the workbook again."
            )
        return package.bytes_of(part, MOST_PICTURE_BYTES)

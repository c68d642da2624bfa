"""What the published column list asks of written COBie sheets.

    COLUMNS          sheet -> its columns: name, state, what it refers to (cobie_columns.csv)
    sheets_of(path)  sheet -> rows -> heading -> text, of a written workbook
    faults(sheets)   everything that is not as published, one sentence each

Sources: COBIE-ROWS, COBIE-TAB in sources.csv; the three categories of a floor (Site, Floor, Roof) from a
question-and-answer page on COBie2 that was read; an unknown value is "n/a", from memory.
"""

import csv
import datetime
import re
from pathlib import Path
from typing import NamedTuple

from python_calamine import CalamineWorkbook

__all__ = ["COLUMNS", "faults", "sheets_of"]

Sheets = dict[str, list[dict[str, str]]]


class Column(NamedTuple):
    """One published column."""

    name: str
    state: str
    refers_to: str


def _published() -> dict[str, list[Column]]:
    path = Path(__file__).parents[1] / "data" / "reference" / "cobie_columns.csv"
    found: dict[str, list[tuple[int, Column]]] = {}
    with open(path, encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table):
            column = Column(row["column"], row["state"], row["refers_to"])
            found.setdefault(row["sheet"], []).append((int(row["position"]), column))
    return {sheet: [column for _, column in sorted(of)] for sheet, of in found.items()}


COLUMNS = _published()
# By their keys: rows of these may share a name, and differ in what they are about.
COMPOUND = {
    "System": ("Name", "Category", "ComponentNames"),
    "Zone": ("Name", "Category", "SpaceNames"),
    "Document": ("Name", "Stage", "SheetName", "RowName"),
    "Attribute": ("Name", "SheetName", "RowName"),
}
NOT_KNOWN = "n/a"
EMAIL = re.compile(r"[^@]+@[^.]+\..+")  # COBIE-TAB, EmailAddressType
MAY_BE_UNKNOWN = {"Manufacturer", "WarrantyGuarantorParts", "WarrantyGuarantorLabor"}


def sheets_of(path: Path) -> Sheets:
    """Read a workbook by a library that neither wrote nor proved it."""
    book = CalamineWorkbook.from_path(path)
    found: Sheets = {}
    for name in book.sheet_names:
        headings, *rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
        assert headings == [column.name for column in COLUMNS[name]]
        found[name] = [dict(zip(headings, row, strict=True)) for row in rows]
    return found


def faults(sheets: Sheets) -> list[str]:
    """Return what is not as published."""
    said = [] if list(sheets) == list(COLUMNS) else [f"the sheets are {list(sheets)}"]
    first = {sheet: columns[0].name for sheet, columns in COLUMNS.items()}
    names = {sheet: {row[first[sheet]] for row in rows} for sheet, rows in sheets.items()}
    if len(sheets["Facility"]) != 1:
        said.append("there is not one Facility")
    for sheet, rows in sheets.items():
        keys = [tuple(row[name].casefold() for name in COMPOUND.get(sheet, (first[sheet],))) for row in rows]
        said += [f"{sheet}: {key} twice" for key in {key for key in keys if keys.count(key) > 1}]
        for row in rows:
            said += [f"{sheet} {row[first[sheet]]!r}: {fault}" for fault in _of_row(sheet, row, names)]
    return said


def _of_row(sheet, row, names):
    for column in COLUMNS[sheet]:
        text = row[column.name]
        if not isinstance(text, str) or not text.strip() or len(text) > 255 or "\n" in text:
            yield f"{column.name} is {text!r}"
        if column.state == "key" and text == NOT_KNOWN:
            yield f"{column.name} is not known"
        if column.refers_to == "the row of SheetName":
            if text not in names.get(row["SheetName"], ()):
                yield f"{column.name} {text!r} is no row of {row['SheetName']}"
        elif column.refers_to and not column.refers_to.startswith("PickLists."):
            unknown = text == NOT_KNOWN and column.name in MAY_BE_UNKNOWN
            if not unknown and text not in names[column.refers_to.partition(".")[0]]:
                yield f"{column.name} {text!r} is no {column.refers_to}"
    if sheet == "Contact" and not EMAIL.fullmatch(row["Email"]):
        yield f"{row['Email']!r} is no address"
    if sheet == "Floor" and row["Category"] not in ("Site", "Floor", "Roof"):
        yield f"{row['Category']!r} is no category of a floor"
    try:
        datetime.datetime.fromisoformat(row["CreatedOn"])
    except ValueError:
        yield f"{row['CreatedOn']!r} is no moment"

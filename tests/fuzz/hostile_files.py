"""Workbooks that are meant to harm: bombs, giants, loops, strange texts.

HOSTILE    {name: function(folder) -> path}
"""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from pathlib import Path

from workbook_tools.commands import new as new_workbook

HOSTILE: dict[str, Callable[[Path], Path]] = {}


def hostile(make: Callable[[Path], Path]) -> Callable[[Path], Path]:
    HOSTILE[make.__name__.replace("_", " ")] = make
    return make


def equipment(folder: Path, rows: list[dict[str, str]]) -> Path:
    """Write a plain workbook whose only sheet is Equipment with these rows."""
    return workbook(folder, "Equipment", rows)


def workbook(folder: Path, sheet: str, rows: list[dict[str, str]]) -> Path:
    import xlsxwriter

    path = folder / "survey.xlsx"
    with xlsxwriter.Workbook(path) as book:
        table = book.add_worksheet(sheet)
        for column, heading in enumerate(rows[0]):
            table.write_string(0, column, heading)
        for number, row in enumerate(rows, start=1):
            for column, text in enumerate(row.values()):
                if text:
                    table.write_string(number, column, text)
    return path


def stock_workbook(folder: Path) -> Path:
    """Write a survey workbook of ours, blank."""
    return Path(new_workbook(folder / "survey.xlsx", rows=20).path)


def panel(tag: str, fed_from: str = "Utility", **more: str) -> dict[str, str]:
    return {
        "Tag": tag, "Kind": "Panelboard", "Room": "Main", "Fed from": fed_from, "Rating (A)": "225",
        "Voltage": "208Y/120", "Phase": "3", "Wires": "4", "Maker": "Calderwen", "Remarks": "", **more,
    }  # fmt: skip


def changed(path: Path, part: str, old: bytes, new: bytes) -> Path:
    """Replace bytes once in one part of a workbook."""
    with zipfile.ZipFile(path) as book:
        parts = [(name, book.read(name)) for name in book.namelist()]
    assert any(old in content for name, content in parts if name == part), f"{old!r} is not in {part}"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        for name, content in parts:
            book.writestr(name, content.replace(old, new, 1) if name == part else content)
    return path


def sheet_part(path: Path, name: str) -> str:
    """Return the part that holds the sheet of that name (xlsxwriter numbers them in order)."""
    import re

    with zipfile.ZipFile(path) as book:
        names = re.findall(r'<sheet name="([^"]+)"', book.read("xl/workbook.xml").decode())
    return f"xl/worksheets/sheet{names.index(name) + 1}.xml"


@hostile
def an_entity_bomb(folder: Path) -> Path:
    path = stock_workbook(folder)
    doctype = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa">' + b"".join(
        b'<!ENTITY %c "%s">' % (98 + i, b"&%c;" % (97 + i) * 10) for i in range(9)
    )
    return changed(path, sheet_part(path, "Equipment"), b"<worksheet", doctype + b"]><worksheet")


@hostile
def a_zip_bomb_of_spaces(folder: Path) -> Path:
    path = stock_workbook(folder)
    return changed(path, sheet_part(path, "Equipment"), b"<sheetData>", b"<sheetData>" + b" " * 310_000_000)


@hostile
def every_column_filled(folder: Path) -> Path:
    path = stock_workbook(folder)
    cells = b"".join(b"<c><v>1</v></c>" for _ in range(16_384))
    return changed(
        path, sheet_part(path, "Equipment"), b"</sheetData>", b"<row>" + cells + b"</row></sheetData>"
    )


@hostile
def a_million_formatted_empty_rows(folder: Path) -> Path:
    path = stock_workbook(folder)
    empty = b"".join(b'<row r="%d"><c r="A%d" s="1"/></row>' % (r, r) for r in range(500, 1_000_500))
    return changed(path, sheet_part(path, "Equipment"), b"</sheetData>", empty + b"</sheetData>")


@hostile
def three_hundred_sheets(folder: Path) -> Path:
    import xlsxwriter

    path = folder / "survey.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for number in range(300):
            sheet = book.add_worksheet(f"Equipment {number}")
            sheet.write_row(0, 0, list(panel("x")))
            sheet.write_row(1, 0, list(panel(f"P-{number}").values()))
    return path


@hostile
def a_supply_loop_of_ten_thousand(folder: Path) -> Path:
    return equipment(folder, [panel(f"P-{n}", f"P-{(n + 1) % 10_000}") for n in range(10_000)])


@hostile
def a_supply_chain_of_ten_thousand(folder: Path) -> Path:
    return equipment(folder, [panel(f"P-{n}", f"P-{n - 1}" if n else "Utility") for n in range(10_000)])


def _long_cells(pattern: str) -> Callable[[Path], Path]:
    def make(folder: Path) -> Path:
        row = {heading: (pattern * 32_767)[:32_767] for heading in panel("x")}
        return equipment(folder, [row, {**row, "Tag": "P-1"}, *([row] * 8)])

    return make


for _pattern in ("4", "x", "4 ", "1/", "3'-", "N/V ", ";", " ", "\U0001f50c", "²", "480Y/277 "):
    HOSTILE[f"cells as long as can be of {_pattern!r}"] = _long_cells(_pattern)


@hostile
def tags_from_right_to_left_and_emoji(folder: Path) -> Path:
    tags = ["לוח-1", "لوحة ٢", "⚡️🔌-3", "P\u202e1-", "e\u0301-4", "\u200bP-5", "ＰＮＬ－６", "𝕋-7"]
    return equipment(folder, [panel(tag, tags[n - 1] if n else "Utility") for n, tag in enumerate(tags)])


@hostile
def dates_before_1900(folder: Path) -> Path:
    import xlsxwriter

    path = folder / "survey.xlsx"
    with xlsxwriter.Workbook(path) as book:
        date = book.add_format({"num_format": "yyyy-mm-dd"})
        job = book.add_worksheet("Job")
        for row, serial in enumerate((-1, 0, 0.5, 59, 60, 61, 2_958_466, 1e300, -1e300)):
            job.write(row, 0, "Inspection date")
            job.write_number(row, 1, serial, date)
        sheet = book.add_worksheet("Equipment")
        sheet.write_row(0, 0, list(panel("x")))
        sheet.write_row(1, 0, list(panel("P-1").values()))
        sheet.write_number(1, 0, -5, date)
    return path


@hostile
def a_cell_in_the_last_corner(folder: Path) -> Path:
    path = stock_workbook(folder)
    corner = b'<row r="1048576"><c r="XFD1048576" t="inlineStr"><is><t>x</t></is></c></row></sheetData>'
    return changed(path, sheet_part(path, "Equipment"), b"</sheetData>", corner)


@hostile
def no_shared_strings(folder: Path) -> Path:
    path = stock_workbook(folder)
    with zipfile.ZipFile(path) as book:
        parts = [(name, book.read(name)) for name in book.namelist() if "sharedStrings" not in name]
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        for name, content in parts:
            book.writestr(name, content)
    return path


@hostile
def twenty_thousand_findings_about_one_panel(folder: Path) -> Path:
    rows = [
        {"Subject": "P-1", "Finding": f"Own words {n}", "What was seen": "seen", "Photos": f"{n}.jpg"}
        for n in range(20_000)
    ]
    return workbook(folder, "Findings", rows)

"""Workbooks and CSV files to fill from, as firms have them. Every building, maker and person is invented."""

from __future__ import annotations

from pathlib import Path

import xlsxwriter

__all__ = ["EVERY_TEXT_OF_THE_MESSY_LIST", "messy_list"]

_ROWS = [
    ["LP-1", "Elec rm 101", 225, "208Y/120", "T-1", "Marlowe", None, None, None, "grey", 1067, "800 mm"],
    ["T-1", "Elec rm 101", None, None, "DP-1", "Peverel", 75, 480, "208Y/120", None, 900, None],
    ["DP-1", "Main elec", "400A", "480Y/277", "Utility", "Marlowe"],
    ["LP-2"],
    ["Panel", "Location", "Amps", "Volts", "Fed By"],
    ["RP 22 North", "Boiler room", 100, "120/208", "LP-1"],
]

EVERY_TEXT_OF_THE_MESSY_LIST = [
    "ELECTRICAL PANEL INVENTORY", "Harbour House (invented)", "A. Example", "FIRST FLOOR", "Figures from the 2019 walk; see file 88.",
    "Total", "New panel", "1200",
    *(str(value) for row in _ROWS for value in row if value is not None),
]  # fmt: skip


def messy_list(path: Path) -> Path:
    """Write an old panel list: titles, two rows of merged headings, floors between, a total, a note, another sheet."""
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Panels 2019")
        sheet.merge_range("A1:J1", "ELECTRICAL PANEL INVENTORY")
        sheet.write_row("A2", ["Site:", "Harbour House (invented)"])
        sheet.write("F2", "Surveyed by: A. Example")
        for place, text in {
            "A4:A5": "Panel",
            "B4:B5": "Location",
            "C4:D4": "Rating",
            "E4:E5": "Fed By",
            "G4:I4": "Transformer",
        }.items():
            sheet.merge_range(place, text)
        for place, text in {
            "C5": "Amps",
            "D5": "Volts",
            "F5": "Manufactuer",
            "G5": "kVA",
            "H5": "Primary",
            "I5": "Secondary",
        }.items():
            sheet.write(place, text)
        sheet.write_row("J5", ["Bucket colour", "Depth (mm)", "Width (mm)"])
        sheet.merge_range("A6:J6", "FIRST FLOOR")
        for number, row in enumerate(_ROWS, 6):
            sheet.write_row(number, 0, row)
        sheet.write("A13", "Total")
        sheet.write_formula("C13", "=SUM(C7:C12)", value=325)
        sheet.write("A15", "Figures from the 2019 walk; see file 88.")
        other = book.add_worksheet("Budget")
        other.write_row("A1", ["Position", "Cost"])
        other.write_row("A2", ["New panel", 1200])
    return path

#!/usr/bin/python3
"""Do with a workbook in LibreOffice what a person does with it, step by step.

    /usr/bin/python3 by_hand.py WORKBOOK STEPS OUT

STEPS   a JSON file, a list of steps in order:
            ["type", sheet, cell, text]       entered through the program's own input parser
            ["keys", sheet, cell, [texts]]    by the keyboard, each with Enter, one below the other; needs a screen
            ["insert", sheet, row]            an empty row put in at that number
            ["copy", sheet, row, other]       a whole row copied over another
            ["sort", sheet, range, column]    by a column of the range, counted from 0
            ["keep", sheet, name]             the workbook as it is now, saved beside OUT as well
OUT     where to save the workbook as .xlsx

Needs LibreOffice Calc and its Python bridge; for keys a screen (xvfb-run) and xdotool.
"""

import json
import pathlib
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.table import TableSortField
from type_survey import end_office, prop, start_office


def press(document, sheet, cell, texts):
    document.CurrentController.setActiveSheet(sheet)
    first = sheet.getCellRangeByName(cell).RangeAddress
    for number, text in enumerate(texts):
        # A cell that is selected from here keeps the cursor when Enter is pressed.
        below = sheet.getCellByPosition(first.StartColumn, first.StartRow + number)
        document.CurrentController.select(below)
        time.sleep(0.7 if number == 0 else 0.1)  # until the window has the keyboard
        subprocess.run(["xdotool", "type", "--delay", "10", text], check=True)
        subprocess.run(["xdotool", "key", "Return"], check=True)
        until(lambda cell=below: cell.FormulaLocal != "")


def until(done, seconds=10):
    end = time.monotonic() + seconds
    while not done() and time.monotonic() < end:
        time.sleep(0.05)


def save(document, path):
    document.storeToURL(path.resolve().as_uri(), (prop("FilterName", "Calc MS Excel 2007 XML"),))


def sort(sheet, area, column):
    field = TableSortField()
    field.Field, field.IsAscending = column, True
    fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
    sheet.getCellRangeByName(area).sort((prop("SortFields", fields), prop("BindFormatsToContent", True)))


def copy(sheet, row, other):
    source = sheet.getCellRangeByName(f"A{row}:IV{row}").RangeAddress
    sheet.copyRange(sheet.getCellRangeByName(f"A{other}").CellAddress, source)


def main():
    workbook, steps, out = map(pathlib.Path, sys.argv[1:])
    steps = json.loads(steps.read_text(encoding="utf-8"))
    on_screen = any(step[0] == "keys" for step in steps)
    profile = tempfile.mkdtemp(prefix="office-profile-")
    process, desktop = start_office(profile, on_screen)
    try:
        hidden = () if on_screen else (prop("Hidden", True),)
        document = desktop.loadComponentFromURL(workbook.resolve().as_uri(), "_blank", 0, hidden)
        for what, name, *how in steps:
            sheet = document.Sheets.getByName(name)
            if what == "type":
                sheet.getCellRangeByName(how[0]).FormulaLocal = how[1]
            elif what == "keys":
                press(document, sheet, *how)
            elif what == "insert":
                sheet.Rows.insertByIndex(how[0] - 1, 1)
            elif what == "copy":
                copy(sheet, *how)
            elif what == "sort":
                sort(sheet, *how)
            elif what == "keep":
                document.calculateAll()
                save(document, out.with_name(how[0]))
            else:
                sys.exit(f"no step {what!r}")
        document.calculateAll()
        save(document, out)
        document.close(True)
        desktop.terminate()
    finally:
        end_office(process, profile)


if __name__ == "__main__":
    main()

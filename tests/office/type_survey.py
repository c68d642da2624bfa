#!/usr/bin/env python3
"""Type a survey's field notes into a survey workbook with a real spreadsheet program.

    python3 type_survey.py WORKBOOK NOTES_DIR OUT [--headings MAP.csv]

WORKBOOK   a blank survey workbook (.xlsx or .ods)
NOTES_DIR  a folder of CSV files: job.csv or sign-off.csv (Item,Value) and one file
           per sheet (rooms, equipment, transformers, clearances, findings, photos,
           not_inspected); a file's first row holds the sheet's own headings
OUT        where to save; .xlsx or .ods by its ending
--headings a CSV with the columns sheet,notes,workbook: the workbook heading that
           stands for a heading of the notes, where the two differ

Every value is entered through the program's own input parser, so a cell that is not
formatted as text turns 1E3 into 1000 and 1/2 into a date, just as it does for a person
who types it.  Computed cells recalculate before saving.  Needs LibreOffice Calc and its
Python bridge (Debian: libreoffice-calc python3-uno).  Exit 1 with a message when a
sheet or a heading cannot be found; nothing is saved then.
"""

import argparse
import csv
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time

import uno
from com.sun.star.beans import PropertyValue

FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8"}
HEADING_SEARCH_ROWS = 15
LABELLED = ("job", "sign-off")  # sheets with one answer beside each label
COLUMNS = 60


def prop(name, value):
    p = PropertyValue()
    p.Name, p.Value = name, value
    return p


def key(text):
    return re.sub(r"[^a-z0-9]+", "", str(text).lower())


def start_office(profile, on_screen=False):
    pipe = f"survey{os.getpid()}"
    process = subprocess.Popen(
        [
            "soffice",
            *([] if on_screen else ["--headless"]),
            "--norestore",
            "--nologo",
            "--nofirststartwizard",
            f"--accept=pipe,name={pipe};urp;",
            f"-env:UserInstallation=file://{profile}",
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(360):
        try:
            context = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            break
        except Exception:  # noqa: BLE001  # whatever the bridge raises while the program starts
            time.sleep(0.25)
    else:
        process.terminate()
        sys.exit("the spreadsheet program did not start")
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    return process, desktop


def end_office(process, profile):
    try:
        process.wait(20)
    except subprocess.TimeoutExpired:
        process.terminate()
    shutil.rmtree(profile, ignore_errors=True)


def find_sheet(document, name):
    for sheet_name in document.Sheets.ElementNames:
        if key(sheet_name) == key(name):
            return document.Sheets.getByName(sheet_name)
    sys.exit(f"no sheet for {name!r}; the workbook has {', '.join(document.Sheets.ElementNames)}")


def texts_of(sheet, columns, rows):
    """Return the cells of the first rows; asked for in one call, since each takes a millisecond."""
    return sheet.getCellRangeByPosition(0, 0, columns - 1, rows - 1).getDataArray()


def find_columns(sheet, headings, name):
    """Row index below the headings, and the column of each heading."""
    wanted = [key(h) for h in headings]
    best_row, best = -1, {}
    for row, texts in enumerate(texts_of(sheet, COLUMNS, HEADING_SEARCH_ROWS)):
        here = {}
        for column, text in enumerate(map(key, texts)):
            if text in wanted and text not in here:
                here[text] = column
        if len(here) > len(best):
            best_row, best = row, here
    missing = [h for h in headings if key(h) not in best]
    if missing:
        sys.exit(f"sheet {name!r}: no column headed {', '.join(map(repr, missing))}")
    return best_row + 1, [best[k] for k in wanted]


def type_labels(sheet, rows):
    labels = {}
    for row, texts in enumerate(texts_of(sheet, 4, 80)):
        for column, text in enumerate(map(key, texts)):
            if text and text not in labels:
                labels[text] = (column + 1, row)
    for item, value in rows:
        if key(item) not in labels:
            sys.exit(f"sheet {sheet.Name!r}: no line labelled {item!r}")
        sheet.getCellByPosition(*labels[key(item)]).FormulaLocal = value


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("workbook", type=pathlib.Path)
    parser.add_argument("notes", type=pathlib.Path)
    parser.add_argument("out", type=pathlib.Path)
    parser.add_argument("--headings", type=pathlib.Path)
    options = parser.parse_args()
    if options.out.suffix not in FILTERS:
        sys.exit(f"cannot save as {options.out.suffix!r}; use .xlsx or .ods")
    renamed = {}
    if options.headings:
        with open(options.headings, newline="", encoding="utf-8") as f:
            renamed = {(r["sheet"], r["notes"]): r["workbook"] for r in csv.DictReader(f)}
    profile = tempfile.mkdtemp(prefix="office-profile-")
    process, desktop = start_office(profile)
    try:
        document = desktop.loadComponentFromURL(
            options.workbook.resolve().as_uri(), "_blank", 0, (prop("Hidden", True),)
        )
        document.enableAutomaticCalculation(False)  # or every entry computes what hangs on it
        for path in sorted(options.notes.glob("*.csv")):
            if path.stem in ("expected", "headings"):
                continue
            with open(path, newline="", encoding="utf-8") as f:
                headings, *rows = list(csv.reader(f))
            if path.stem in LABELLED:
                type_labels(find_sheet(document, path.stem), rows)
                continue
            headings = [renamed.get((path.stem, h), h) for h in headings]
            sheet = find_sheet(document, path.stem)
            first, columns = find_columns(sheet, headings, path.stem)
            for offset, row in enumerate(rows):
                for column, value in zip(columns, row, strict=False):
                    if value != "":
                        sheet.getCellByPosition(column, first + offset).FormulaLocal = value
        document.enableAutomaticCalculation(True)
        document.calculateAll()
        document.storeToURL(
            options.out.resolve().as_uri(), (prop("FilterName", FILTERS[options.out.suffix]),)
        )
        document.close(True)
        desktop.terminate()
    finally:
        end_office(process, profile)


if __name__ == "__main__":
    main()

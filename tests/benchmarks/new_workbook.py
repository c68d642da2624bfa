"""How long `new` takes beside a bare script that writes the same cells with the same library.

    python tests/benchmarks/new_workbook.py

The bare script is given every cell of the stock workbook as rows of plain values, read back
from a file that `new` wrote: it decides nothing, and writes texts, formulas, blanks and
numbers with one format for each column. Both run as whole processes, start-up included, the
better of two in turn. Exits with 1 when `new` takes more than 1.5 times as long.
"""

from __future__ import annotations

import pickle
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2]))

from tests.processes import as_installed
from workbook_tools.commands import new as new_workbook
from workbook_tools.spreadsheet import read_workbook

MOST = 1.5
ROUNDS = 2

BARE = """
import pickle, sys
import xlsxwriter
sheets = pickle.load(open(sys.argv[1], "rb"))
book = xlsxwriter.Workbook(sys.argv[2], {"strings_to_formulas": False, "strings_to_urls": False})
text, live = book.add_format({"num_format": "@", "border": 1}), book.add_format({"border": 1, "text_wrap": True})
for name, cells in sheets:
    sheet = book.add_worksheet(name)
    for row, column, kind, value in cells:
        if kind == "formula":
            sheet.write_formula(row, column, value, live, "")
        elif kind == "text":
            sheet.write_string(row, column, value, text)
        elif kind == "number":
            sheet.write_number(row, column, value, live)
        else:
            sheet.write_blank(row, column, None, text)
book.close()
"""


def cells_of(path: Path) -> list[tuple[str, list[tuple[int, int, str, object]]]]:
    """Return every cell that the workbook holds, blanks with a format too."""
    import openpyxl

    blanks = openpyxl.load_workbook(path)
    sheets = []
    for sheet in read_workbook(path).sheets:
        cells: dict[tuple[int, int], tuple[int, int, str, object]] = {}
        for row in blanks[sheet.name].iter_rows():
            for cell in row:
                if cell.has_style:
                    cells[cell.row, cell.column] = (cell.row - 1, cell.column - 1, "blank", None)
        for (row_number, column), found in sheet.cells.items():
            place = row_number - 1, column - 1
            if found.formula is not None:
                cells[row_number, column] = (*place, "formula", f"={found.formula}")
            elif isinstance(found.value, int | float) and found.kind == "number":
                cells[row_number, column] = (*place, "number", found.value)
            else:
                cells[row_number, column] = (*place, "text", found.text)
        sheets.append((sheet.name, [cells[place] for place in sorted(cells)]))
    return sheets


def seconds(folder: Path, *command: str) -> float:
    """Return how long a process takes whose modules lie compiled in a folder."""
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, *command], check=True, stdout=subprocess.DEVNULL, env=as_installed(folder)
    )
    return time.perf_counter() - start


def main() -> int:
    """Measure and print; 1 when it is too slow."""
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        new_workbook(folder / "model.xlsx")
        cells = cells_of(folder / "model.xlsx")
        (folder / "cells").write_bytes(pickle.dumps(cells))
        (folder / "bare.py").write_text(BARE)
        ours, bare = [], []
        for _ in range(ROUNDS):
            out = str(folder / "out.xlsx")
            ours.append(
                seconds(folder, "-m", "workbook_tools", "new", "--template", "office", "-o", out, "--force")
            )
            bare.append(
                seconds(folder, str(folder / "bare.py"), str(folder / "cells"), str(folder / "bare.xlsx"))
            )
    ratio = min(ours) / min(bare)
    count = sum(len(of_sheet) for _, of_sheet in cells)
    print(
        f"new: {min(ours):.2f} s; a bare script with the same {count} cells: {min(bare):.2f} s; ratio {ratio:.2f}; "
        f"asked: at most {MOST}: {'holds' if ratio <= MOST else 'DOES NOT HOLD'}"
    )
    return 0 if ratio <= MOST else 1


if __name__ == "__main__":
    sys.exit(main())

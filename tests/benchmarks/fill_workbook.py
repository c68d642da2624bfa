"""How long `new --fill` of a long list takes, beside pandas taking the same list and the same cells.

    python tests/benchmarks/fill_workbook.py

pandas reads the list, reads every sheet of the workbook that `new` made of it (the texts, and the results that its
formulas show), and writes as many cells of as many sheets: no formula, no drop-down, no format, and no look at what
the list holds. Each as a process of its own, start-up included, the better of two in turn. Measured at a tenth and at
the whole of the rows, so that what grows faster than the rows shows. Exits with 1 when `new` takes more than twice as
long as pandas, or ten times the rows more than thirteen times as long. Beside it stands what pandas takes to write
alone: there the workbook has a formula where pandas has a figure.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.fill_list import write_list

ROWS = 10_000
MOST, MOST_GROWTH = 2.0, 13.0
ROUNDS = 2

WITH_PANDAS = """
import json, sys, time
import pandas
source, workbook, out = sys.argv[1:]
pandas.read_csv(source)
sheets = pandas.read_excel(workbook, sheet_name=None, header=None, dtype=object)
begun = time.perf_counter()
with pandas.ExcelWriter(out, engine="xlsxwriter") as writer:
    for name, frame in sheets.items():
        frame.to_excel(writer, sheet_name=name, index=False, header=False)
cells = sum(frame.size for frame in sheets.values())
print(json.dumps({"writing": time.perf_counter() - begun, "cells": cells}))
"""


def seconds(*command: object) -> tuple[float, str]:
    """Return how long a process takes, and what it says."""
    begun = time.perf_counter()
    done = subprocess.run([sys.executable, *map(str, command)], check=True, capture_output=True, text=True)
    return time.perf_counter() - begun, done.stdout


def measured(folder: Path, rows: int) -> tuple[float, float, dict[str, float]]:
    """Return the seconds of `new` and of pandas, and what pandas says of its part."""
    source, made = write_list(folder / f"{rows}.csv", rows), folder / f"{rows}.xlsx"
    ours, theirs = [], []
    for _ in range(ROUNDS):
        ours.append(seconds("-m", "workbook_tools", "new", "--fill", source, "-o", made, "--force")[0])
        theirs.append(seconds("-c", WITH_PANDAS, source, made, folder / "out.xlsx"))
    taken, said = min(theirs)
    return min(ours), taken, json.loads(said)


def main() -> int:
    """Measure and print; 1 when it is too slow, or grows faster than the rows."""
    with tempfile.TemporaryDirectory() as scratch:
        tenth, _, _ = measured(Path(scratch), ROWS // 10)
        whole, pandas, part = measured(Path(scratch), ROWS)
    ratio, growth = whole / pandas, whole / tenth
    good = ratio <= MOST and growth <= MOST_GROWTH
    print(
        f"new --fill: {ROWS:,} rows in {whole:.1f} s; pandas reads the list, reads the workbook and writes its "
        f"{part['cells']:,} cells in {pandas:.1f} s; ratio {ratio:.2f}, asked: at most {MOST}; {ROWS // 10:,} rows in {tenth:.1f} s, "
        f"ten times the rows {growth:.1f} times as long, asked: at most {MOST_GROWTH}: {'holds' if good else 'DOES NOT HOLD'}. "
        f"pandas writes them in {part['writing']:.1f} s, as figures and texts without a formula: {whole / part['writing']:.1f} times"
    )
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())

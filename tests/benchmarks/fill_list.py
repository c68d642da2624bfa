"""How long a list of 10,000 rows takes to be placed and taken over, beside pandas reading it and writing it again.

    python tests/benchmarks/fill_list.py

The list has eleven columns, compound cells and transformers among its rows. pandas reads the same CSV file
and writes it as .xlsx, without a look at what it holds. Better of two in turn, in one process. Measured at a
half and at the whole of the rows, so that what grows faster than the rows shows. Exits with 1 when taking over
takes more than twice as long as pandas, or twice the rows take more than 2.6 times as long. What `new` takes in all
is printed beside it: there the workbook is written, with its live cells, which `new_workbook.py` measures.
"""

from __future__ import annotations

import csv
import random
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.append(str(Path(__file__).resolve().parents[2]))

from workbook_tools.commands import new, placement
from workbook_tools.definitions import load_template
from workbook_tools.filling import read_fill

ROWS = 10_000
MOST, MOST_GROWTH = 2.0, 2.6
ROUNDS = 2
HEADINGS = [
    "Panel",
    "Type",
    "Location",
    "Floor",
    "Fed from",
    "Size",
    "Volts",
    "Phase",
    "Mfr",
    "Notes",
    "Serial number",
]


def write_list(path: Path, rows: int) -> Path:
    """Write a list of so many rows."""
    draw = random.Random(1)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(HEADINGS)
        for n in range(rows):
            kind = "Transformer" if n % 10 == 0 else draw.choice(["Panelboard", "Switchboard"])
            size, volts = (
                draw.choice(["225A", "400", "100A/3P"]),
                draw.choice(["208Y/120", "480Y/277V 3PH 4W", "480-208Y/120"]),
            )
            place = n % 400
            writer.writerow(
                [
                    f"LP-{n}",
                    kind,
                    f"Room {place}",
                    f"Level {place // 40}",
                    f"LP-{n // 8}",
                    size,
                    volts,
                    "3",
                    "Marlowe",
                    f"note {n}",
                    n,
                ]
            )
    return path


def seconds(work: Callable[[], object]) -> float:
    """Return the better of two."""
    taken = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def main() -> int:
    """Measure and print; 1 when it is too slow, or grows faster than the rows."""
    import pandas  # of the development tools only: the tests look at this file without it

    template = load_template("office")
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        half, whole = (write_list(folder / f"{rows}.csv", rows) for rows in (ROWS // 2, ROWS))
        out = folder / "out.xlsx"
        bare = seconds(lambda: pandas.read_csv(whole).to_excel(out, index=False))
        taken = {path: seconds(lambda path=path: read_fill(path, template)) for path in (half, whole)}
        placed = seconds(lambda: placement(folder / "placement.csv", whole, force=True))
        start = time.perf_counter()
        new(folder / "survey.xlsx", fill=whole)
        made = time.perf_counter() - start
    ratio, growth = taken[whole] / bare, taken[whole] / taken[half]
    good = ratio <= MOST and growth <= MOST_GROWTH
    print(
        f"fill: {ROWS} rows taken over in {taken[whole]:.2f} s; pandas reads and writes them in {bare:.2f} s; ratio {ratio:.2f}, asked: "
        f"at most {MOST}; twice the rows {growth:.2f} times as long, asked: at most {MOST_GROWTH}: {'holds' if good else 'DOES NOT HOLD'}. "
        f"Placement alone {placed:.2f} s; the whole of new, live cells written, {made:.2f} s"
    )
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())

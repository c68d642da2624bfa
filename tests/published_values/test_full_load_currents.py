"""Full-load currents printed by a transformer maker.

Source: MFR-FLC in sources.csv, cells in full_load_current.csv. Many cells are cut off, not rounded
(45 kVA at 208 V is 124.9 A, printed 124), so agreement is within 1 A. Four cells are further off;
they are named, so that nobody widens the tolerance to let them in. One cell of the smallest sizes
may also be off by its last printed digit, which the same tolerance covers.
"""

import csv
from pathlib import Path

import pytest

from workbook_tools.electrical import KVA_SIZES, full_load_current

REFERENCE = Path(__file__).parents[1] / "data" / "reference"
with open(REFERENCE / "full_load_current.csv", encoding="utf-8", newline="") as table:
    PRINTED_CELLS = [
        (
            int(row["phases"]),
            float(row["kva"]),
            float(row["volts_line_to_line"]),
            float(row["printed_amperes"]),
        )
        for row in csv.DictReader(table)
    ]

DIFFERENT_IN_PRINT = {(1, 250, 208), (3, 225, 440), (3, 300, 440), (3, 500, 440)}


@pytest.mark.parametrize(("phases", "kva", "volts", "printed"), PRINTED_CELLS)
def test_the_makers_table(phases, kva, volts, printed):
    agrees = abs(full_load_current(kva, volts, phases) - printed) < 1
    assert agrees != ((phases, kva, volts) in DIFFERENT_IN_PRINT)


def test_the_whole_table_was_read():
    assert len(PRINTED_CELLS) == 264  # MFR-FLC, both tables
    assert {(phases, kva, volts) for phases, kva, volts, _ in PRINTED_CELLS} >= DIFFERENT_IN_PRINT


def test_every_size_of_the_makers_table_is_listed():
    assert {(phases, kva) for phases, kva, _, _ in PRINTED_CELLS} <= {
        (phases, kva) for phases, sizes in KVA_SIZES.items() for kva in sizes
    }

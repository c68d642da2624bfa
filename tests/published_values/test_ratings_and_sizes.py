"""Standard ampere ratings and listed transformer sizes.

Sources: NFPA 70 240.6(A) (NFPA70-2023, the earlier list as adopted in CEC-2022), rows in
standard_ampere_ratings.csv; 10CFR431.196 and WAC-51-11C-40507, rows in transformer_sizes.csv. The
liquid-immersed and medium-voltage lists there are from memory. Keys in sources.csv.
"""

import csv
from pathlib import Path

import pytest

from workbook_tools.electrical import (
    FEDERAL_LISTING,
    KVA_SIZES,
    fuse_only_ratings,
    is_listed_kva,
    is_standard,
    minimum_efficiency,
    next_standard_rating,
    rating_neighbours,
    standard_ratings,
)

REFERENCE = Path(__file__).parents[1] / "data" / "reference"


def rows_of(name):
    with open(REFERENCE / name, encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


RATINGS = rows_of("standard_ampere_ratings.csv")
SIZES = rows_of("transformer_sizes.csv")


@pytest.mark.parametrize(
    ("profile", "column"),
    [
        ("nec-2023", "standard_in_2023"),
        ("nec-2020", "standard_in_2020"),
        ("nec-2017", "standard_in_2020"),  # from memory: unchanged
        ("nec-2014", "standard_in_2020"),  # from memory: unchanged
    ],
)
def test_the_printed_list_of_ratings(profile, column):
    both = {int(row["amperes"]) for row in RATINGS if row[column] == "yes" and row["device"] != "fuse only"}
    fuse = {int(row["amperes"]) for row in RATINGS} - both
    assert set(standard_ratings(profile)) == both
    assert set(fuse_only_ratings(profile)) == fuse


@pytest.mark.parametrize("amps", [55, 65, 75, 120, 160, 750, 1400])
def test_common_traps_are_not_standard(amps):
    # Source: NFPA70-2023 Table 240.6(A), by absence.
    below, above = rating_neighbours(amps)
    assert not is_standard(amps)
    assert below < amps < above
    assert next_standard_rating(amps) == above


def test_601_is_a_fuse():
    assert not is_standard(601)
    assert is_standard(601, fuse=True)
    assert rating_neighbours(600, fuse=True) == (500, 601)
    assert next_standard_rating(600.5, fuse=True) == 601


FEDERAL = [row for row in SIZES if row["kind"] == FEDERAL_LISTING]


@pytest.mark.parametrize("row", FEDERAL, ids=lambda row: f"{row['phases']}-{row['kva']}")
def test_the_federal_table(row):
    kva, phases = float(row["kva"]), int(row["phases"])
    assert is_listed_kva(kva, phases, FEDERAL_LISTING)
    assert minimum_efficiency(kva, phases, 2015) == float(row["min_efficiency_pct_2007"])
    assert minimum_efficiency(kva, phases, 2016) == float(row["min_efficiency_pct_2016"])


def test_the_federal_table_holds_nothing_else():
    # Source: 10CFR431.196(a): nine single-phase and eleven three-phase sizes.
    listed = {
        (phases, kva)
        for phases in (1, 3)
        for kva in KVA_SIZES[phases]
        if is_listed_kva(kva, phases, FEDERAL_LISTING)
    }
    assert listed == {(int(row["phases"]), float(row["kva"])) for row in FEDERAL}
    assert len(listed) == 20


def test_every_listed_size_is_known():
    for row in SIZES:
        assert is_listed_kva(float(row["kva"]), int(row["phases"]))
    assert not is_listed_kva(50, 3)
    assert not is_listed_kva(112.5, 1)

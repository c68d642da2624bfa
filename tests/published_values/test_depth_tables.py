"""The printed working space tables, cell by cell.

Source: clearances.csv among the test data; keys in sources.csv. NFPA70-2023 was read in a transcription
whose inch fractions were confirmed against the metric figure beside them. The 2020 and 2017 tables and the
2014 metric column are from memory, and so is the federal metric column; the federal feet were read in one
State's copy (WAC-296-24-95703), which shows "13.0" where a footnote mark stands against 3.0.
"""

import csv
import re
from datetime import date
from pathlib import Path

import pytest

from workbook_tools.electrical import CONDITIONS, PROFILE_NAMES, Length, load_profile, meets, needed_depth

REFERENCE = Path(__file__).parents[1] / "data" / "reference"
with open(REFERENCE / "clearances.csv", encoding="utf-8", newline="") as table:
    ROWS = {row["rule_id"]: row for row in csv.DictReader(table)}

PROFILES_OF = {
    "N23-D": ["nec-2023"],
    "N23-MV": ["nec-2023"],
    "N20-D": ["nec-2020", "nec-2017"],
    "N14-D": ["nec-2014"],
    "OSHA-D": ["osha-1910"],
}
OPPOSITE = {word: opposite for opposite, words in CONDITIONS.items() for word in words}
PROFILES = {name: load_profile(name) for name in PROFILE_NAMES}


def millimetres(printed):
    found = re.match(r"([0-9.]+) (mm|m)\b", printed)
    return round(float(found[1]) * (1000 if found[2] == "m" else 1))


CELLS = [
    (profile, row)
    for rule_id, row in ROWS.items()
    if row["topic"] in ("depth", "depth_over_1000V") and not rule_id.startswith("OSHAC-")
    for profile in PROFILES_OF[re.match(r"[A-Z0-9]+-[A-Z]+", rule_id)[0]]
]


@pytest.mark.parametrize(
    ("profile", "row"), CELLS, ids=lambda value: value if isinstance(value, str) else value["rule_id"]
)
def test_a_printed_cell(profile, row):
    for volts in (row["v_to_ground_min"], row["v_to_ground_max"] or "100000"):
        limit = needed_depth(PROFILES[profile], int(volts), OPPOSITE[row["condition"]])
        assert (limit.inches, limit.millimetres) == (float(row["value"]), millimetres(row["printed_metric"]))
        assert row["section"].removeprefix("29 CFR ") in limit.section
        status, _, remark = limit.status.partition("; ")
        assert status == row["status"]
        assert remark == ("metric figure from memory" if "from memory" in row["printed_metric"] else "")


def test_all_cells_were_compared():
    # 2023: 9 cells and 15 over 1000 V; 2020 and 2017: 9 each; 2014: 6; the workplace rule: 6.
    assert len(CELLS) == 9 + 15 + 2 * 9 + 6 + 6


@pytest.mark.parametrize(
    ("volts", "opposite", "allowed"),
    [
        (120, "Clear", 30), (120, "Grounded", 30), (120, "Live parts", 36),
        (277, "Clear", 30), (277, "Grounded", 42), (277, "Live parts", 48),
    ],
)  # fmt: skip
def test_only_three_cells_carry_the_allowance_of_1981(volts, opposite, allowed):
    # Source: WAC-296-24-95703, Table S-1 note 1: built before 16 April 1981.
    osha = PROFILES["osha-1910"]
    assert needed_depth(osha, volts, opposite, date(1981, 4, 15)).inches == allowed
    assert needed_depth(osha, volts, opposite, 1980).inches == allowed
    today = needed_depth(osha, volts, opposite).inches
    assert needed_depth(osha, volts, opposite, date(1981, 4, 16)).inches == today
    assert needed_depth(osha, volts, opposite, 1981).inches == today  # part of 1981 is too late


@pytest.mark.parametrize(
    ("topic", "figure"),
    [
        ("N23-W", lambda p: p.width),
        ("N23-H", lambda p: p.height),
        ("N23-PROJ", lambda p: p.projection),
        ("N23-REAR", lambda p: p.rear_access),
        ("N23-ENT2W", lambda p: p.large_wider_than),
        ("N23-ENT2DW", lambda p: p.entrance_width),
        ("N23-ENT2DH", lambda p: p.entrance_height),
        ("N23-PANIC-D", lambda p: p.panic_nearer_than),
        ("N23-DES-H", lambda p: p.dedicated_space_above),
    ],
)
def test_the_other_figures_of_2023(topic, figure):
    # Source: NFPA70-2023, the section of each row of clearances.csv.
    row, found = ROWS[topic], figure(PROFILES["nec-2023"])
    assert (found.inches, found.millimetres) == (float(row["value"]), millimetres(row["printed_metric"]))
    assert (found.section, found.status) == (
        row["section"].replace("(1)(a)", "") if topic == "N23-DES-H" else row["section"],
        "seen",
    )


def test_the_amperes_of_large_equipment():
    # Source: NFPA70-2023 110.26(C)(2) and (3).
    assert PROFILES["nec-2023"].large_amperes == float(ROWS["N23-ENT2A"]["value"])
    assert PROFILES["nec-2023"].panic_amperes == float(ROWS["N23-PANIC-A"]["value"])


@pytest.mark.parametrize("profile", PROFILES.values(), ids=PROFILES)
def test_what_the_printed_figure_names_is_enough(profile):
    for row in profile.depth:
        for figure, opposite in (
            (row.clear, "Clear"),
            (row.grounded, "Grounded"),
            (row.live_parts, "Live parts"),
        ):
            limit = needed_depth(profile, min(row.volts_max, 1e6), opposite)
            assert meets(limit, Length(figure.inches, "in"), profile)
            if figure.millimetres is not None:  # an amendment may print inches alone
                assert meets(limit, Length(figure.millimetres, "mm"), profile)
            assert not meets(limit, Length(figure.inches - 0.25, "in"), profile)

"""A cell that says several things is parted, and what it said is kept. The notations are common practice."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.definitions import load_template
from workbook_tools.filling import read_fill
from workbook_tools.filling.compound import pair_of, parts_of, several_tags

TEMPLATE = load_template("office")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("225A 208Y/120 3PH 4W", {"amperes": "225A", "voltage": "208Y/120", "phase": "3", "wires": "4"}),
        ("800A MLO", {"amperes": "800A", "main_device": "Main lugs"}),
        ("208Y/120V, 600A", {"amperes": "600A", "voltage": "208Y/120V"}),
        ("100A/3P", {"amperes": "100A", "phase": "3"}),
        ("20A/1P", {"amperes": "20A"}),
        ("75 kVA 480-208Y/120", {"kva": "75 kVA", "primary": "480", "secondary": "208Y/120"}),
        ("112.5KVA, 480V DELTA - 208Y/120V, 3PH", {"kva": "112.5KVA", "primary": "480V DELTA", "secondary": "208Y/120V", "phase": "3"}),
        ("400AF/350AT", {"amperes": "400 A", "trip": "350 A"}),
        ("225A MCB, 22kAIC", {"amperes": "225A", "main_device": "Main breaker", "kiloamperes": "22 kA"}),
        ("120/240V 1Ø 3W 200A", {"amperes": "200A", "voltage": "120/240V", "phase": "1", "wires": "3"}),
        ("1,200 A, 480Y/277 V, 3 phase, 4 wire", {"amperes": "1,200 A", "voltage": "480Y/277 V", "phase": "3", "wires": "4"}),
        ("30A fused disconnect", {"amperes": "30A", "main_device": "Fused switch"}),
        ("60A non-fused", {"amperes": "60A", "main_device": "Switch without fuses"}),
        ("Room 101", {}), ("LP-1", {}), ("42 circuits", {}), ("3/4", {}), ("N/V", {}), ("MCB", {"main_device": "Main breaker"}),
    ],
)  # fmt: skip
def test_a_cell_is_taken_apart(text: str, said: dict[str, str]) -> None:
    parts = parts_of(text)
    assert {name: part for name, part in parts._asdict().items() if part and name != "rest"} == said


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("480-208Y/120", ("480", "208Y/120")), ("480 to 208Y/120", ("480", "208Y/120")), ("480:240", ("480", "240")),
        ("4160V - 480Y/277V", ("4160V", "480Y/277V")), ("480Y/277", None), ("208/120", None), ("LP-1", None), ("2-3", None),
        ("1998-05", None), ("101-104", None),
    ],
)  # fmt: skip
def test_two_sides_of_a_transformer(text: str, sides: tuple[str, str] | None) -> None:
    assert pair_of(text) == sides


@pytest.mark.parametrize(
    ("text", "tags"),
    [
        ("LP-1 & LP-2", ("LP-1", "LP-2")), ("LP-1, LP-2", ("LP-1", "LP-2")), ("LP-1/LP-2", ("LP-1", "LP-2")), ("MSB / GEN-1", ("MSB", "GEN-1")),
        ("LP-1\nLP-2", ("LP-1", "LP-2")), ("DP/EM-1", ()), ("Lighting, level 1", ()), ("LP-1", ()), ("", ()), ("Boiler and pump", ()),
    ],
)  # fmt: skip
def test_tags_of_one_cell(text: str, tags: tuple[str, ...]) -> None:
    assert several_tags(text) == tags


def filled(folder: Path, text: str) -> dict[str, list[dict[str, str]]]:
    (folder / "x.csv").write_text(text, encoding="utf-8")
    tables = read_fill(folder / "x.csv", TEMPLATE).tables
    return {key: [dict(row) for row in rows] for key, rows in tables.items()}


def test_two_tags_in_a_cell_are_two_rows(tmp_path: Path) -> None:
    rows = filled(tmp_path, 'Panel,Amps,Volts\n"LP-1, LP-2",225,208\n')["equipment"]
    assert [row["tag"] for row in rows] == ["LP-1", "LP-2"]
    assert [row["Panel"] for row in rows] == ["LP-1, LP-2"] * 2
    assert [row["rating_a"] for row in rows] == ["225", "225"]


def test_the_circuit_beside_a_source_is_kept_apart(tmp_path: Path) -> None:
    rows = filled(
        tmp_path, 'Panel,Amps,Fed from\nDP-1,400,MSB\nLP-1,225,"DP-1, ckt 12"\nLP-2,100,DP-1 (CB 3)\n'
    )["equipment"]
    assert [row["fed_from"] for row in rows] == ["MSB", "DP-1", "DP-1"]
    assert [row.get("Fed from as listed") for row in rows] == [None, "DP-1, ckt 12", "DP-1 (CB 3)"]


def test_a_part_never_goes_before_a_cell_of_its_own(tmp_path: Path) -> None:
    (row,) = filled(tmp_path, 'Panel,Amps,Voltage\nLP-1,225,"208Y/120V, 600A"\n')["equipment"]
    assert (row["rating_a"], row["voltage"], row["Voltage as listed"]) == (
        "225",
        "208Y/120V",
        "208Y/120V, 600A",
    )


def test_what_may_change_the_meaning_stays_with_the_voltage(tmp_path: Path) -> None:
    (row,) = filled(tmp_path, "Panel,Amps,Voltage\nLP-1,225,240/120V delta high leg 3PH 4W\n")["equipment"]
    assert (row["voltage"], row["phase"], row["wires"]) == ("240/120V delta high leg 3PH 4W", "3", "4")


def test_what_is_no_transformer_keeps_its_kva(tmp_path: Path) -> None:
    tables = filled(
        tmp_path, "Tag,Type,kVA,Voltage\nGEN-1,Generator,312,480Y/277\nT-1,Transformer,75,480-208Y/120\n"
    )
    assert tables["transformers"] == [
        {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120"}
    ]
    assert [row.get("kVA") for row in tables["equipment"]] == ["312", None]


@sampled_property(max_examples=400)
@given(st.text(alphabet="0123456789AVkWPHYΔ/-,. ()MLOCBØ\n", max_size=40))
def test_any_text_is_taken_apart_and_nothing_invented(text: str) -> None:
    parts = parts_of(text)
    for part in (parts.amperes, parts.voltage, parts.kva):
        assert "".join(part.split()) in "".join(text.split()) or part.endswith(" A")
    assert several_tags(text) == tuple(several_tags(text))

"""The placement goes out as a file, is corrected by hand, and is obeyed: for this list and for the client's next one."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from tests.filling.held_back_lists import HELD_BACK
from tests.filling.list_form import Listed, write
from tests.filling.lists import LISTS
from workbook_tools.cli import main
from workbook_tools.commands import new as new_workbook
from workbook_tools.commands import placement
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import Filling, read_fill
from workbook_tools.filling.placement_file import read_placement

TEMPLATE = load_template("office")
TEXT = "Panel,Amps,Zone,Supply point,Volts,Volts\nLP-1,225,Corridor 1,DP-1,208,600\nLP-2,100,Corridor 2,DP-1,208,600\n"


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def corrected(folder: Path, text: str = TEXT, name: str = "panels.csv", **changes: tuple[str, str]) -> Path:
    """Write the placement of a list and change lines of it by their heading."""
    (folder / name).write_text(text, encoding="utf-8")
    path = folder / "placement.csv"
    placement(path, folder / name, force=True)
    rows = rows_of(path)
    for row in rows:
        if row["heading"] in changes:
            row["goes_to_sheet"], row["goes_to_column"] = changes[row["heading"]]
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    return path


def filled(folder: Path, path: Path, name: str = "panels.csv") -> Filling:
    return read_fill(folder / name, TEMPLATE, placement=read_placement(path, TEMPLATE))


def test_it_has_a_line_for_every_column_with_samples_and_the_reason(tmp_path: Path) -> None:
    rows = rows_of(corrected(tmp_path))
    assert list(rows[0]) == [
        "file",
        "sheet",
        "table",
        "heading",
        "samples",
        "goes_to_sheet",
        "goes_to_column",
        "why",
    ]
    assert [(row["heading"], row["goes_to_sheet"], row["goes_to_column"]) for row in rows] == [
        ("Panel", "Equipment", "Tag"), ("Amps", "Equipment", "Rating (A)"), ("Zone", "", ""), ("Supply point", "", ""),
        ("Volts", "Equipment", "Voltage"), ("Volts", "", ""),
    ]  # fmt: skip
    assert rows[0]["samples"] == "LP-1 | LP-2"
    assert all(row["why"] for row in rows)


@pytest.mark.parametrize("listed", [*LISTS, *HELD_BACK], ids=lambda listed: listed.name)
def test_given_back_unchanged_it_changes_nothing(listed: Listed, tmp_path: Path) -> None:
    path = write(listed, tmp_path)
    placed = placement(tmp_path / "placement.csv", path).path
    again = read_fill(path, TEMPLATE, placement=read_placement(placed, TEMPLATE))
    first = read_fill(path, TEMPLATE)
    assert again.tables == first.tables
    assert (again.job, again.extra_columns, again.extra_sheets) == (
        first.job,
        first.extra_columns,
        first.extra_sheets,
    )


def test_a_corrected_column_goes_where_it_is_told(tmp_path: Path) -> None:
    path = corrected(
        tmp_path, Zone=("Equipment", "Room"), **{"Supply point": ("Equipment", "Fed from"), "Amps": ("", "")}
    )
    filling = filled(tmp_path, path)
    assert filling.tables["equipment"][0] == {
        "tag": "LP-1", "room": "Corridor 1", "fed_from": "DP-1", "voltage": "208", "Amps": "225", "Volts": "600"}  # fmt: skip
    assert [row["room"] for row in filling.tables["rooms"]] == ["Corridor 1", "Corridor 2"]


def test_a_column_may_go_to_several(tmp_path: Path) -> None:
    path = corrected(
        tmp_path, Zone=("Equipment", "Room + Remarks"), Amps=("Equipment + Clearances", "Rating (A) + Tag")
    )
    filling = filled(tmp_path, path)
    first = filling.tables["equipment"][0]
    assert (first["room"], first["remarks"], first["rating_a"]) == ("Corridor 1", "Corridor 1", "225")


def test_columns_of_one_heading_are_told_by_their_order(tmp_path: Path) -> None:
    path = corrected(tmp_path)
    rows = rows_of(path)
    rows[4]["goes_to_column"], rows[5]["goes_to_sheet"], rows[5]["goes_to_column"] = (
        "Voltage rating",
        "Equipment",
        "Voltage",
    )
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)
    first = filled(tmp_path, path).tables["equipment"][0]
    assert (first["voltage_rating"], first["voltage"]) == ("208", "600")


def test_the_next_list_of_the_client_is_filled_by_the_same_file(tmp_path: Path) -> None:
    path = corrected(tmp_path, Zone=("Equipment", "Room"))
    (tmp_path / "next year.csv").write_text("Zone,Panel,Amps\nAttic,LP-7,100\n", encoding="utf-8")
    filling = filled(tmp_path, path, "next year.csv")
    assert filling.tables["equipment"] == [{"room": "Attic", "tag": "LP-7", "rating_a": "100"}]
    assert filling.report is not None
    assert any(
        line == "placement.csv speaks of columns that the lists do not have: Supply point, Volts."
        for line in filling.report.lines
    )


def test_a_table_that_was_set_aside_is_taken_where_the_file_says_so(tmp_path: Path) -> None:
    path = corrected(
        tmp_path, "Thing,Spot\nA1,hall\nA2,yard\n", Thing=("Equipment", "Tag"), Spot=("Equipment", "Room")
    )
    assert filled(tmp_path, path).tables["equipment"] == [
        {"tag": "A1", "room": "hall"},
        {"tag": "A2", "room": "yard"},
    ]


def test_cells_are_not_asked_where_the_file_decides(tmp_path: Path) -> None:
    text = "Panel,Amps,Room\nLP-1,225,480 V\nLP-2,100,208 V\n"
    path = corrected(tmp_path, text, Room=("Equipment", "Room"))
    assert [row["room"] for row in filled(tmp_path, path).tables["equipment"]] == ["480 V", "208 V"]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "Zone,Equipmnt,Room",
            "placement.csv, row 2 names the sheet 'Equipmnt'; there are Job, Rooms, Equipment",
        ),
        (
            "Zone,Equipment,Romm",
            "placement.csv, row 2 names 'Romm', which is no column of Equipment: did you mean Room?",
        ),
        (
            "Zone,Equipment,Row check",
            "placement.csv, row 2 names 'Row check', which is no column of Equipment",
        ),
        ("Zone,Equipment,", "placement.csv, row 2 names the sheet Equipment and no column"),
        ("Zone,Equipment + Rooms + Rooms,Room + Level", "placement.csv, row 2 names 2 columns and 3 sheets"),
    ],
)
def test_a_file_that_cannot_be_obeyed_gets_one_sentence(line: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "placement.csv"
    path.write_text(f"heading,goes_to_sheet,goes_to_column\n{line}\n", encoding="utf-8")
    with pytest.raises(Unusable) as raised:
        read_placement(path, TEMPLATE)
    assert str(raised.value).startswith(said)
    assert "\n" not in str(raised.value)


def test_another_file_is_no_placement_file(tmp_path: Path) -> None:
    (tmp_path / "panels.csv").write_text(TEXT, encoding="utf-8")
    with pytest.raises(
        Unusable,
        match=r"panels.csv is no placement file: its first row has no heading, goes_to_sheet, goes_to_column",
    ):
        read_placement(tmp_path / "panels.csv", TEMPLATE)
    with pytest.raises(Unusable, match="There is no placement file at"):
        read_placement(tmp_path / "nowhere.csv", TEMPLATE)
    with pytest.raises(Unusable, match="name the lists with --fill"):
        new_workbook(tmp_path / "s.xlsx", placement=tmp_path / "panels.csv")


def test_the_command_line_writes_it_and_obeys_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lists = [tmp_path / "panels.csv", tmp_path / "more.csv"]
    lists[0].write_text("Panel,Amps,Room\nLP-1,225,480 V\nLP-2,100,208 V\n", encoding="utf-8")
    lists[1].write_text("Panel,Zone\nLP-1,Attic\n", encoding="utf-8")
    fills = [part for path in lists for part in ("--fill", str(path))]
    placed, made = str(tmp_path / "p.csv"), str(tmp_path / "s.xlsx")
    assert main(["new", *fills, "--placement-only", placed]) == 0
    said = capsys.readouterr().out
    assert said.index("Please look:") < said.index("Taken:")
    assert not (tmp_path / "s.xlsx").exists()
    text = (
        Path(placed)
        .read_text(encoding="utf-8")
        .replace('"Zone","Attic","",""', '"Zone","Attic","Equipment","Room"')
    )
    Path(placed).write_text(text, encoding="utf-8")
    assert main(["new", *fills, "--placement", placed, "-o", made, "--rows", "3"]) == 0
    assert "Zone   -> Equipment: Room" in capsys.readouterr().out
    assert main(["new", *fills]) == 2
    assert "Name the workbook to write with -o" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("text", "changed", "kept"),
    [
        ("Panel,Room,Code,Notes\nLP-1,101,7Q,loud\n", {"Code": ("Equipment", "Remarks")}, {"7Q", "loud"}),
        ("Transformer,Plate,Feeds\nT1,75 kVA,RP-1\n", {"Plate": ("Transformers", "kVA")}, {"75 kVA", "RP-1"}),
        (
            "Panel,Risk,Room\nLP-1,high,101\nLP-2,low,\n",
            {"Risk": ("Equipment", "Room")},
            {"high", "low", "101"},
        ),
    ],
)
def test_nothing_is_lost_where_the_file_sends_two_columns_to_one_place(
    text: str, changed: dict[str, tuple[str, str]], kept: set[str], tmp_path: Path
) -> None:
    filling = filled(tmp_path, corrected(tmp_path, text, **changed))
    said = {answer for rows in filling.tables.values() for row in rows for answer in row.values()}
    assert kept <= said

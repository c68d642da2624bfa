"""Lists of every shape are placed right, never wrong, and lose nothing; however they are turned, the same."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
import xlsxwriter
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.filling.held_back_lists import HELD_BACK
from tests.filling.list_form import Listed, grid_of, score, score_of, write
from tests.filling.lists import LISTS
from tests.office.programs import Office
from tests.sampling import sampled_property
from workbook_tools.definitions import Template, load_template
from workbook_tools.filling import Filling, read_fill
from workbook_tools.filling.sources import read_source

TEMPLATE = load_template("office")
TABLES = [
    listed for listed in (*LISTS, *HELD_BACK) if listed.file.endswith((".csv", ".xlsx")) and not listed.merged
]
ONE_TABLE = [listed for listed in TABLES if listed.rows and set(grid_of(listed)[0]) == set(listed.homes)]
"""Lists whose first line holds the headings and whose columns may stand in any order."""

JUNK = [
    "Serial number",
    "Barcode",
    "Key no.",
    "Purchase order",
    "Cost centre",
    "PM frequency",
    "Warranty end",
    "Model",
]


def everything(filling: Filling) -> str:
    texts = [text for rows in filling.tables.values() for row in rows for text in row.values()]
    texts += [*filling.job.values(), *(part for pair in filling.extra_job for part in pair)]
    texts += [text for sheet in filling.extra_sheets for row in sheet.rows for text in row]
    return "\n".join(texts)


def read(listed: Listed, folder: Path, template: Template = TEMPLATE) -> Filling:
    return read_fill(write(listed, folder), template)


@pytest.mark.parametrize("listed", LISTS, ids=lambda listed: listed.name)
def test_a_list_is_placed_right(listed: Listed, tmp_path: Path) -> None:
    found = score(listed, tmp_path, TEMPLATE)
    assert (found.wrong, found.missed, found.rows) == ([], [], listed.rows)


def test_a_table_pasted_from_a_word_processor_is_parted_at_its_tabs(tmp_path: Path) -> None:
    path = tmp_path / "pasted.txt"
    path.write_text(
        "Panel\tRoom\tFed From\tAmps\tVolts\n"
        "LP-1\tCloset 1\tDP-1\t225 A\t208Y/120V\n"
        "LP-2\t\tDP-1\t100 A\t208Y/120V\n",
        encoding="utf-8",
    )
    first, second = read_fill(path, TEMPLATE).tables["equipment"]
    assert (first["room"], first["fed_from"], first["voltage"]) == ("Closet 1", "DP-1", "208Y/120V")
    assert (second.get("room", ""), second["fed_from"], second["rating_a"]) == ("", "DP-1", "100 A")


def test_a_letter_with_greetings_around_its_pieces_is_read(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text(
        "Hello,\n\nthis is what we have:\n\n"
        "- Main switchboard MSB in switch room B-01, 1200 A, 480Y/277 V, fed from the utility\n"
        "- Panel LP-1 in closet 110, 225A 480Y/277V 3PH 4W, fed from MSB\n"
        "- Transformer T-1, 45 kVA, 480 to 208Y/120, fed from LP-1, same closet 110\n"
        "\nBest regards, Odile\n",
        encoding="utf-8",
    )
    filling = read_fill(path, TEMPLATE)
    found = [(row["tag"], row["kind"], row["room"]) for row in filling.tables["equipment"]]
    assert found == [
        ("MSB", "Main switchboard", "switch room B-01"),
        ("LP-1", "Panel", "closet 110"),
        ("T-1", "Transformer", "closet 110"),
    ]
    assert filling.tables["transformers"] == [
        {"tag": "T-1", "kva": "45 kVA", "primary_v": "480", "secondary_v": "208Y/120"}
    ]
    assert "Best regards, Odile" in everything(filling)


def test_marks_years_and_classes_are_no_remarks_rooms_or_volts(tmp_path: Path) -> None:
    path = tmp_path / "register.csv"
    path.write_text(
        "Panel,Room,Installed,Condition (1-5),Voltage class,Source,Amps\n"
        "LP-1,101,1979,3,600V,Asset walk 2021,225\n"
        "LP-2,102,2006-05-12,2,600V,Asset walk 2021,100\n",
        encoding="utf-8",
    )
    first = read_fill(path, TEMPLATE).tables["equipment"][0]
    assert (first["room"], first["rating_a"]) == ("101", "225")
    assert not {"remarks", "voltage", "fed_from"} & first.keys()
    assert (first["Installed"], first["Condition (1-5)"], first["Source"]) == ("1979", "3", "Asset walk 2021")


@pytest.mark.office
@pytest.mark.slow
def test_a_list_that_an_office_program_saved_as_ods_is_placed_alike(tmp_path: Path, office: Office) -> None:
    listed = next(listed for listed in HELD_BACK if listed.file.endswith(".xlsx"))
    path = office.convert(write(listed, tmp_path), "ods")
    found = score_of(listed, read_fill(path, TEMPLATE), path)
    assert (found.wrong, found.missed, found.rows) == ([], [], listed.rows)


def test_of_lists_held_back_nine_in_ten_are_right_and_none_wrong(tmp_path: Path) -> None:
    found = [score(listed, tmp_path, TEMPLATE) for listed in HELD_BACK]
    right, missed = sum(len(one.right) for one in found), sum(len(one.missed) for one in found)
    assert [one.wrong for one in found] == [[]] * len(found)
    assert [one.rows for one in found] == [listed.rows for listed in HELD_BACK]
    assert right >= 9 * missed


@pytest.mark.parametrize("listed", [*LISTS, *HELD_BACK], ids=lambda listed: listed.name)
def test_nothing_that_stands_in_a_list_is_lost(listed: Listed, tmp_path: Path) -> None:
    path = write(listed, tmp_path)
    filling = read_fill(path, TEMPLATE)
    said = everything(filling)
    assert filling.report is not None
    headings = " ".join(placed.heading for placed in filling.report.placement)
    for sheet in read_source(path).sheets:
        for text in sheet.grid.texts.values():
            one_line = " ".join(text.split())
            pieces = one_line.split(": ", 1)
            assert (
                one_line in said
                or one_line in headings
                or text in said
                or all(p in said or p in headings for p in pieces)
            ), text


def shuffled(listed: Listed, order: list[int]) -> Listed:
    rows = grid_of(listed)
    lines = [" | ".join((row[i] if i < len(row) else "").replace("\n", "\\n") for i in order) for row in rows]
    return replace(listed, text="\n".join(lines))


@sampled_property(
    max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(listed=st.sampled_from(ONE_TABLE), seed=st.integers(0, 10_000))
def test_columns_in_another_order_go_to_the_same_places(listed: Listed, seed: int, tmp_path: Path) -> None:
    order = list(range(max(map(len, grid_of(listed)))))
    random.Random(seed).shuffle(order)
    found = score(shuffled(listed, order), tmp_path, TEMPLATE)
    plain = score(listed, tmp_path, TEMPLATE)
    assert (sorted(found.right), found.wrong, found.rows) == (sorted(plain.right), [], plain.rows)


@sampled_property(
    max_examples=120, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(
    listed=st.sampled_from(ONE_TABLE),
    junk=st.lists(st.sampled_from(JUNK), min_size=1, max_size=4, unique=True),
    at=st.integers(1, 3),
)
def test_columns_of_no_home_change_nothing(listed: Listed, junk: list[str], at: int, tmp_path: Path) -> None:
    rows = grid_of(listed)
    width = max(map(len, rows))
    rows = [[*row, *[""] * (width - len(row))] for row in rows]
    junk = [name for name in junk if name not in rows[0]]
    said = [
        [f"{n}{i}-88{n}" if sum(map(bool, row)) > 1 else "" for n in range(len(junk))]
        for i, row in enumerate(rows)
    ]
    more = [[*row[:at], *(said[i] if i else junk), *row[at:]] for i, row in enumerate(rows)]
    text = "\n".join(" | ".join(cell.replace("\n", "\\n") for cell in row) for row in more)
    found = score(replace(listed, text=text), tmp_path, TEMPLATE)
    plain = score(listed, tmp_path, TEMPLATE)
    assert (found.right, found.wrong, found.rows) == (plain.right, [], plain.rows)


@sampled_property(
    max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(data=st.data())
def test_every_spelling_of_a_heading_goes_where_the_heading_goes(data: st.DataObject, tmp_path: Path) -> None:
    sheet = TEMPLATE.by_key["equipment"]
    values = {"tag": "LP-{}", "room": "Corridor {}", "rating_a": "{}00", "voltage": "208Y/120", "maker": "Marlowe", "fed_from": "DP-{}",
              "phase": "3", "wires": "4", "kind": "Panelboard", "remarks": "dusty {}"}  # fmt: skip
    names = list(values)
    said = {
        name: data.draw(st.sampled_from([sheet.by_field[name].heading, *sheet.by_field[name].also_called]))
        for name in names
    }
    form = data.draw(
        st.sampled_from(
            [str, str.upper, str.title, lambda text: text.replace(" ", "_"), lambda text: f"{text}:"]
        )
    )
    headings = [form(said[name]) for name in names]
    rows = [headings, *([values[name].format(i) for name in names] for i in (1, 2, 3))]
    listed = Listed("x", "x.csv", "\n".join(" | ".join(row) for row in rows), {}, 3)
    found = read(listed, tmp_path).tables["equipment"]
    assert [{name: row.get(name) for name in names} for row in found] == [
        {name: values[name].format(i) for name in names} for i in (1, 2, 3)
    ]


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("Room", ["480 V", "208 V"]), ("Location", ["208Y/120V", "480Y/277V"]), ("Phase", ["30% Design", "60% Design"]),
        ("Amps", ["75 kVA", "45 kVA"]), ("Bus rating", ["480Y/277", "208Y/120"]), ("Volts", ["225 A", "100 A"]),
        ("Maker", ["225", "100"]), ("Fed from", ["3/4", "1/2"]), ("AIC", ["75 kVA", "112.5 kVA"]), ("Type", ["NQ", "NF"]),
        ("Wires", ["#4/0 Cu", "500 kcmil"]), ("Size", ["narrow", "wide"]), ("Manufacturer", ["2018-02-03", "2019-01-01"]),
        ("Source", ["Field survey", "As-built drawing"]), ("Feed", ["Top", "Bottom"]), ("Supply", ["NORMAL", "EMERGENCY"]),
        ("Conduit", ['3/4"', '2"']), ("Main", ["Yes", "No"]), ("Bus", ["Copper", "Aluminium"]), ("Rating", ["3", "4"]),
        ("Phase", ["Construction", "Closeout"]), ("Kind", ["North wing", "South wing"]), ("Photos", ["yes", "no"]),
    ],
)  # fmt: skip
def test_cells_forbid_what_the_heading_says(heading: str, cells: list[str], tmp_path: Path) -> None:
    listed = Listed(
        "x", "x.csv", f"Panel | Mark up | {heading}\nLP-1 | a | {cells[0]}\nLP-2 | b | {cells[1]}", {}, 2
    )
    filling = read(listed, tmp_path)
    kept = [name for name in filling.extra_columns["equipment"] if name.startswith(heading)]
    assert [[row.get(name) for name in kept] for row in filling.tables["equipment"]] == [
        [cells[0]],
        [cells[1]],
    ]
    assert filling.report is not None
    (placed,) = (p for p in filling.report.placement if p.heading == heading)
    assert placed.targets == ()
    assert placed.doubt


@pytest.mark.parametrize(
    ("heading", "cells"),
    [
        ("Spaces", ["42", "30"]), ("No. of spaces", ["42", "30"]), ("Serial number", ["881", "882"]), ("Load (kVA)", ["31", "12"]),
        ("Connected load (A)", ["86", "30"]), ("Feeder size", ["4#4/0", "4#1"]), ("Working distance (in)", ["18", "18"]),
        ("Arcing fault (kA)", ["12", "14"]), ("Condition rating", ["3", "4"]), ("Voltage drop (%)", ["1.2", "0.8"]),
        ("Number of poles", ["42", "30"]), ("Fed from circuit no.", ["3", "5"]), ("Room finish", ["paint", "tile"]),
        ("Panel cover missing", ["yes", "no"]), ("Board depth", ["6", "8"]), ("Weight", ["120", "90"]), ("Maker's phone", ["555 1", "555 2"]),
        ("Year of last service", ["2019", "2020"]), ("Spare ways", ["3", "4"]), ("Area (m2)", ["12", "20"]), ("Cable type", ["XHHW", "THHN"]),
    ],
)  # fmt: skip
def test_a_heading_with_another_word_beside_it_is_no_column_of_ours(
    heading: str, cells: list[str], tmp_path: Path
) -> None:
    listed = Listed(
        "x", "x.csv", f"Panel | Amps | {heading}\nLP-1 | 225 | {cells[0]}\nLP-2 | 100 | {cells[1]}", {}, 2
    )
    filling = read(listed, tmp_path)
    assert filling.extra_columns["equipment"] == [heading]
    assert [row[heading] for row in filling.tables["equipment"]] == cells


@pytest.mark.parametrize(
    ("headings", "row", "goes"),
    [
        (["Panel", "Bus amps", "Main amps"], ["LP-1", "225", "150"], {"rating_a": "225", "main_or_fuse_a": "150"}),
        (["Panel", "Main amps", "Volts"], ["LP-1", "225", "480"], {"rating_a": "225", "voltage": "480"}),
        (["Panel", "Rated voltage", "System voltage"], ["LP-1", "600", "480"], {"voltage_rating": "600", "voltage": "480"}),
        (["Panel", "AIC", "Fault current"], ["LP-1", "22", "14"], {"short_circuit_rating_ka": "22", "available_fault_ka": "14"}),
        (["Panel", "Amps", "Main breaker"], ["LP-1", "225", "150"], {"rating_a": "225", "main_or_fuse_a": "150"}),
    ],
)  # fmt: skip
def test_where_the_best_place_is_taken_the_next_one_is_tried(
    headings: list[str], row: list[str], goes: dict[str, str], tmp_path: Path
) -> None:
    listed = Listed("x", "x.csv", f"{' | '.join(headings)}\n{' | '.join(row)}", {}, 1)
    assert read(listed, tmp_path).tables["equipment"] == [{"tag": "LP-1", **goes}]


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Documents", "Name | Category | Description | Directory | File\nO&M manual | Manuals | panels | /om | om.pdf\nAs-builts | Drawings | all | /ab | e-1.pdf"),
        ("Floors", "Name | CreatedBy | CreatedOn | Category | Description | Elevation | Height\nLevel 1 | a@b.example | 2019-01-01 | Floor | ground | 0 | 4000\nLevel 2 | a@b.example | 2019-01-01 | Floor | upper | 4000 | 4000"),
        ("Space", "Name | Category | FloorName | Description | RoomTag | UsableHeight | GrossArea\n101 | Office | Level 1 | open office | 101 | 2700 | 40\n102 | Corridor | Level 1 | corridor | 102 | 2700 | 12"),
        ("Contacts", "Email | Company | Phone | Department | Street | Town\na@b.example | Example | 1 | MEP | Quay | Harbour\nc@d.example | Example | 2 | MEP | Quay | Harbour"),
        ("Doors", "Name | Type | Width | Height | Depth\nD-1 | single | 36 | 84 | 2\nD-2 | double | 72 | 84 | 2"),
        ("Circuits", "Panel | Ckt | Description | Breaker\n" + "\n".join(f"LP-1 | {n} | Receptacles {n} | 20A/1P" for n in range(1, 13))),
    ],
)  # fmt: skip
def test_a_sheet_without_anything_electrical_is_set_aside_whole_and_said_so(
    name: str, text: str, tmp_path: Path
) -> None:
    filling = read(Listed(name, f"{name}.csv", text, {}, 0), tmp_path)
    assert not filling.tables
    kept = next(sheet for sheet in filling.extra_sheets if sheet.source == f"{name}.csv")
    assert len(kept.rows) == len(text.splitlines())
    assert filling.report is not None
    assert any(
        line.startswith("Kept whole, each on a sheet of its own:") and name in line
        for line in filling.report.lines
    )


HANDOVER: dict[str, list[list[str]]] = {
    "Instruction": [["Title", "Handover workbook (invented)"], ["Version", "2"]],
    "Facility": [["Name", "CreatedBy", "Category", "ProjectName", "LinearUnits"], ["Harbour House", "a@b.example", "Office", "Harbour", "millimeters"]],
    "Floor": [["Name", "CreatedBy", "Category", "Elevation", "Height"], ["Level 1", "a@b.example", "Floor", "0", "4000"], ["Level 2", "a@b.example", "Floor", "4", "4000"]],
    "Space": [["Name", "Category", "FloorName", "Description", "UsableHeight"], ["101", "Electrical room", "Level 1", "Elec", "2700"], ["102", "Office", "Level 1", "Office", "2700"]],
    "Type": [["Name", "Category", "Description", "AssetType", "Manufacturer", "NominalWidth"], ["Panelboard 225A", "Electrical", "panel", "Fixed", "Marlowe", "500"], ["Door A", "Doors", "door", "Fixed", "Acme", "900"]],
    "Component": [["Name", "CreatedBy", "TypeName", "Space", "Description", "SerialNumber", "BarCode"],
                  ["LP-1", "a@b.example", "Panelboard 225A", "101", "Lighting panel", "88", "1"], ["LP-2", "a@b.example", "Panelboard 225A", "101", "Lighting panel", "89", "2"],
                  ["D-1", "a@b.example", "Door A", "102", "Door", "", "3"]],
    "Document": [["Name", "CreatedBy", "Category", "SheetName", "RowName", "Directory", "File"], ["O&M", "a@b.example", "Manuals", "Type", "Panelboard 225A", "/om", "om.pdf"]],
    "Attribute": [["Name", "CreatedOn", "Category", "SheetName", "RowName", "Value", "Unit"], ["Voltage", "2019-01-01", "Requirement", "Component", "LP-1", "208", "V"],
                  ["Amps", "2019-01-01", "Requirement", "Component", "LP-1", "225", "A"]],
    "Issue": [["Name", "CreatedOn", "Type", "Risk", "Description", "Owner"], ["I1", "2019-01-01", "Safety", "High", "Blocked door", "x"]],
}  # fmt: skip


def test_of_the_handover_file_of_a_building_only_the_electrical_pieces_are_taken(tmp_path: Path) -> None:
    with xlsxwriter.Workbook(tmp_path / "handover.xlsx") as book:
        for name, rows in HANDOVER.items():
            sheet = book.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
    filling = read_fill(tmp_path / "handover.xlsx", TEMPLATE)
    assert [(row["tag"], row["room"]) for row in filling.tables["equipment"]] == [
        ("LP-1", "101"),
        ("LP-2", "101"),
    ]
    assert set(filling.tables) == {"rooms", "equipment"}
    kept = {sheet.name: sheet.rows for sheet in filling.extra_sheets}
    assert kept["Component other trades"][1] == ("D-1", "a@b.example", "Door A", "102", "Door", "", "3")
    assert set(kept) == {*HANDOVER, "Component other trades"} - {"Component"}
    assert filling.report is not None
    assert any(
        line.startswith("Set aside whole, since no electrical equipment was recognized there:")
        for line in filling.report.lines
    )


def test_a_list_that_names_no_tags_is_taken_without_them(tmp_path: Path) -> None:
    text = "Description | Brand | Voltage | Amperage | Room\nMain board | Marlowe | 208/120 | 225 | 101\nKitchen board | Marlowe | 208/120 | 100 | 102"
    rows = read(Listed("x", "x.csv", text, {}, 2), tmp_path).tables["equipment"]
    assert rows[0] == {
        "maker": "Marlowe",
        "voltage": "208/120",
        "rating_a": "225",
        "room": "101",
        "Description": "Main board",
    }


def test_a_column_that_stays_blank_is_asked_about_once(tmp_path: Path) -> None:
    text = "Panel | Amps | Approx enclosure location code\nLP-1 | 225 | C-4\nLP-2 | 100 | C-5"
    report = read(Listed("x", "x.csv", text, {}, 2), tmp_path).report
    assert report is not None
    asked = [line for line in report.lines if "is it that?" in line]
    said = "Equipment: Room is blank everywhere; the column 'Approx enclosure location code' (C-4, C-5) was kept as an extra: "
    assert asked == [f"{said}is it that? If so, say it in a placement file."]


def test_what_a_piece_serves_says_what_that_is_fed_from(tmp_path: Path) -> None:
    text = "Panel | Amps | Serves\nMSB | 1200 | DP-1, DP-2\nDP-1 | 400 | LP-1 / LP-2\nDP-2 | 400 | roof\nLP-1 | 100 |\nLP-2 | 100 |"
    filling = read(Listed("x", "x.csv", text, {}, 5), tmp_path)
    assert {row["tag"]: row.get("fed_from") for row in filling.tables["equipment"]} == {
        "MSB": None, "DP-1": "MSB", "DP-2": "MSB", "LP-1": "DP-1", "LP-2": "DP-1"}  # fmt: skip
    assert [row.get("Serves") for row in filling.tables["equipment"]] == [
        "DP-1, DP-2",
        "LP-1 / LP-2",
        "roof",
        None,
        None,
    ]


def test_a_list_of_transformers_is_of_equipment_too(tmp_path: Path) -> None:
    text = "XFMR | kVA | Pri | Sec | Location | Fed from\nT-1 | 75 | 480 | 208Y/120 | Corridor | DP-1"
    filling = read(Listed("x", "x.csv", text, {}, 1), tmp_path)
    assert filling.tables["transformers"] == [
        {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120"}
    ]
    assert filling.tables["equipment"] == [
        {"tag": "T-1", "kind": "Transformer", "room": "Corridor", "fed_from": "DP-1"}
    ]


def test_a_bare_size_is_the_kva_of_a_transformer_and_the_amperes_of_a_panel(tmp_path: Path) -> None:
    text = "Tag | Type | Size | Fed from\nT-1 | Transformer | 75 | MSB\nLP-1 | Panelboard | 225 | T-1"
    filling = read(Listed("x", "x.csv", text, {}, 2), tmp_path)
    assert [row.get("rating_a") for row in filling.tables["equipment"]] == [None, "225"]
    assert filling.tables["transformers"] == [{"tag": "T-1", "kva": "75"}]


def test_what_a_transformer_feeds_is_fed_from_it(tmp_path: Path) -> None:
    (tmp_path / "panels.csv").write_text("Panel,Amps\nLP-1,225\n", encoding="utf-8")
    (tmp_path / "transformers.csv").write_text("Transformer,Size,Feeds\nT-1,75,LP-1\n", encoding="utf-8")
    filling = read_fill(tmp_path, TEMPLATE)
    assert filling.tables["transformers"] == [{"tag": "T-1", "kva": "75", "serves": "LP-1"}]
    assert filling.tables["equipment"] == [
        {"tag": "LP-1", "rating_a": "225", "fed_from": "T-1"}, {"tag": "T-1", "kind": "Transformer"}]  # fmt: skip


def test_titles_between_rows_say_the_floor_or_the_room(tmp_path: Path) -> None:
    text = "Panel | Amps | Volts\nFIRST FLOOR | |\nLP-1 | 100 | 208\nBoiler room | |\nLP-2 | 100 | 208"
    filling = read(Listed("x", "x.csv", text, {}, 2), tmp_path)
    assert [(row["tag"], row["room"]) for row in filling.tables["equipment"]] == [
        ("LP-1", "FIRST FLOOR"),
        ("LP-2", "Boiler room"),
    ]
    assert filling.tables["rooms"][0] == {"room": "FIRST FLOOR", "level": "FIRST FLOOR"}


def test_a_room_of_one_name_on_two_floors_keeps_both_floors(tmp_path: Path) -> None:
    text = "Panel | Amps | Room | Level\nLP-1 | 100 | Corridor | 1\nLP-2 | 100 | Corridor | 2"
    filling = read(Listed("x", "x.csv", text, {}, 2), tmp_path)
    assert filling.tables["rooms"] == [{"room": "Corridor", "level": "1"}]
    assert [row.get("Level") for row in filling.tables["equipment"]] == [None, "2"]


def test_the_score_tells_right_from_wrong_and_missed(tmp_path: Path) -> None:
    listed = Listed("x", "x.csv", "Panel | Amps | Colour\nLP-1 | 225 | grey", {"Panel": "equipment.tag", "Amps": "equipment.room",
                    "Colour": "equipment.maker"}, 1)  # fmt: skip
    found = score_of(listed, read(listed, tmp_path), tmp_path)
    assert (found.right, len(found.wrong), len(found.missed)) == (["Panel"], 1, 1)

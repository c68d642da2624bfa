"""An old list is taken over by the words of its headings, and everything else is kept."""

from __future__ import annotations

from pathlib import Path

import pytest
import xlsxwriter

from tests.filling.old_lists import EVERY_TEXT_OF_THE_MESSY_LIST, messy_list
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import Template, load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import Filling, read_fill


@pytest.fixture(scope="module")
def template() -> Template:
    return load_template("office")


@pytest.fixture(scope="module")
def filling(template: Template, tmp_path_factory: pytest.TempPathFactory) -> Filling:
    return read_fill(messy_list(tmp_path_factory.mktemp("old") / "old list.xlsx"), template)


def everything(filling: Filling) -> list[str]:
    texts = [text for rows in filling.tables.values() for row in rows for text in row.values()]
    texts += [*filling.job.values(), *(part for pair in filling.extra_job for part in pair)]
    return texts + [text for sheet in filling.extra_sheets for row in sheet.rows for text in row]


def test_rows_are_placed_by_headings_of_two_rows(filling: Filling) -> None:
    assert filling.tables["equipment"] == [
        {"tag": "LP-1", "room": "Elec rm 101", "rating_a": "225", "voltage": "208Y/120", "fed_from": "T-1",
         "maker": "Marlowe", "Bucket colour": "grey"},
        {"tag": "T-1", "room": "Elec rm 101", "fed_from": "DP-1", "maker": "Peverel"},
        {"tag": "DP-1", "room": "Main elec", "rating_a": "400A", "voltage": "480Y/277", "fed_from": "Utility", "maker": "Marlowe"},
        {"tag": "LP-2", "Level": "FIRST FLOOR"},
        {"tag": "RP 22 North", "room": "Boiler room", "rating_a": "100", "voltage": "120/208", "fed_from": "LP-1"},
    ]  # fmt: skip
    assert filling.extra_columns == {"equipment": ["Bucket colour", "Level"]}


def test_columns_of_another_table_go_there_with_the_tag(filling: Filling) -> None:
    assert filling.tables["transformers"] == [
        {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120"}
    ]


def test_a_unit_that_only_the_heading_states_goes_into_the_cell(filling: Filling) -> None:
    assert filling.tables["clearances"] == [
        {"tag": "LP-1", "depth": "1067 mm", "width": "800 mm"},
        {"tag": "T-1", "depth": "900 mm"},
    ]


def test_a_unit_that_the_job_has_anyway_is_not_added(template: Template, tmp_path: Path) -> None:
    filling = read_fill(messy_list(tmp_path / "old.xlsx"), template, job={"Dimension unit": "mm"})
    assert [row.get("depth") for row in filling.tables["clearances"]] == ["1067", "900"]


def test_rooms_come_from_the_equipment_where_no_sheet_lists_them(filling: Filling) -> None:
    assert [row["room"] for row in filling.tables["rooms"]] == ["Elec rm 101", "Main elec", "Boiler room"]


def test_details_above_the_table_are_job_details(filling: Filling) -> None:
    assert filling.job == {"property": "Harbour House (invented)", "inspector": "A. Example"}


def test_nothing_of_the_list_is_dropped(filling: Filling) -> None:
    kept = everything(filling)
    for text in EVERY_TEXT_OF_THE_MESSY_LIST:
        assert any(text in said for said in kept), text


def test_titles_totals_and_notes_are_no_rows_and_keep_their_cell(filling: Filling) -> None:
    carried = {sheet.name: sheet.rows for sheet in filling.extra_sheets}
    assert carried["Budget"] == (("Position", "Cost"), ("New panel", "1200"))
    cells = {row[1]: row[2] for row in carried["Carried over"][1:]}
    assert cells["A1"] == "ELECTRICAL PANEL INVENTORY"
    assert cells["A6"] == "FIRST FLOOR"
    assert (cells["A13"], cells["C13"]) == ("Total", "325")
    assert cells["A15"] == "Figures from the 2019 walk; see file 88."


def test_the_report_says_which_heading_was_taken_for_which(filling: Filling) -> None:
    report = filling.report
    assert report is not None
    taken = {(t.heading, t.key): (t.field, t.exact) for t in report.taken}
    assert taken["Panel", "equipment"] == ("tag", True)
    assert taken["Rating Amps", "equipment"] == ("rating_a", True)
    assert taken["Manufactuer", "equipment"] == ("maker", False)
    assert taken["Depth (mm)", "clearances"] == ("depth", True)
    assert [k.heading for k in report.kept] == ["Bucket colour"]
    assert report.rows == {"rooms": 3, "equipment": 5, "transformers": 1, "clearances": 2}
    assert report.extra_sheets == ("Budget", "Carried over")
    said = "\n".join(report.lines)
    assert (
        "Filled from old list.xlsx: Rooms 3 rows, Equipment 5 rows, Transformers 1 row, Clearances 2 rows"
        in said
    )
    looked_at, _, taken_as_said = said.partition("Taken:")
    assert "Manufactuer  -> Equipment: Maker  (nearly 'manufacturer': please look)" in looked_at
    assert "Panel                  -> Equipment: Tag; Transformers: Tag; Clearances: Tag" in taken_as_said
    assert "Rating Amps            -> Equipment: Rating (A)" in taken_as_said
    assert "no place on Equipment for Bucket colour; kept there as extra columns." in said
    assert "kept on the sheet Carried over" in said
    assert "mm was written behind each bare number" in said


def write(path: Path, sheets: dict[str, list[list[object]]]) -> Path:
    with xlsxwriter.Workbook(path) as book:
        for name, rows in sheets.items():
            sheet = book.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
    return path


def test_a_list_of_each_floor_becomes_one_table(template: Template, tmp_path: Path) -> None:
    source = write(tmp_path / "floors.xlsx", {
        "Floor 1": [["Panel", "Amps", "Key"], ["LP-1", 100, "A"]],
        "Floor 2": [["Amps", "Panel", "Lock"], [225, "LP-2", "B"]],
    })  # fmt: skip
    filling = read_fill(source, template)
    assert filling.tables["equipment"] == [
        {"tag": "LP-1", "rating_a": "100", "room": "Floor 1", "Key": "A"},
        {"tag": "LP-2", "rating_a": "225", "room": "Floor 2", "Lock": "B"}]  # fmt: skip
    assert filling.tables["rooms"] == [
        {"room": "Floor 1", "level": "Floor 1"},
        {"room": "Floor 2", "level": "Floor 2"},
    ]
    assert filling.extra_columns == {"equipment": ["Key", "Lock"]}


def test_a_heading_whose_cells_say_something_else_is_kept_aside(template: Template, tmp_path: Path) -> None:
    source = write(tmp_path / "x.xlsx", {
        "Panels": [["Panel", "Type", "Volts", "Size"], ["LP-1", "NQ", "208Y/120", "narrow"], ["LP-2", "NF", "480", "wide"]],
    })  # fmt: skip
    filling = read_fill(source, template)
    assert filling.tables["equipment"][0] == {
        "tag": "LP-1",
        "Type": "NQ",
        "voltage": "208Y/120",
        "Size": "narrow",
    }
    assert filling.extra_columns == {"equipment": ["Type", "Size"]}


def test_a_second_column_for_the_same_field_is_kept_aside(template: Template, tmp_path: Path) -> None:
    source = write(
        tmp_path / "x.xlsx", {"Panels": [["Tag", "Notes", "Amps", "Remarks"], ["LP-1", "one", 100, "two"]]}
    )
    filling = read_fill(source, template)
    assert filling.tables["equipment"] == [
        {"tag": "LP-1", "Notes": "one", "rating_a": "100", "remarks": "two"}
    ]


def test_a_column_named_like_a_live_cell_does_not_hide_it(template: Template, tmp_path: Path) -> None:
    source = write(
        tmp_path / "x.xlsx",
        {"Transformers": [["Tag", "kVA", "Primary", "Turns ratio"], ["T-1", 75, 480, "4:1"]]},
    )
    filling = read_fill(source, template)
    assert filling.tables["transformers"] == [
        {"tag": "T-1", "kva": "75", "primary_v": "480", "Turns ratio (2)": "4:1"}
    ]


def test_a_column_without_a_heading_is_kept(template: Template, tmp_path: Path) -> None:
    source = write(tmp_path / "x.xlsx", {"Panels": [["Panel", "Amps"], ["LP-1", 100, "see J."]]})
    filling = read_fill(source, template)
    assert filling.tables["equipment"] == [{"tag": "LP-1", "rating_a": "100", "Column C": "see J."}]


def test_a_spreadsheet_error_is_carried_as_it_stands_and_said(template: Template, tmp_path: Path) -> None:
    path = tmp_path / "x.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Panels")
        sheet.write_row(0, 0, ["Panel", "Amps"])
        sheet.write_row(1, 0, ["LP-1"])
        sheet.write_formula(1, 1, "=1/0", value="#DIV/0!")
    filling = read_fill(path, template)
    assert filling.tables["equipment"] == [{"tag": "LP-1", "rating_a": "#DIV/0!"}]
    assert filling.report is not None
    assert any("Panels!B2 reads #DIV/0!" in line for line in filling.report.lines)


@pytest.mark.parametrize(
    "what", ["", "nowhere.xlsx", "blank.xlsx", "blank.csv", "folder", "notes.docx", "bad.csv", "a\0b"]
)
def test_a_source_that_cannot_be_used_gets_one_sentence(
    what: str, template: Template, tmp_path: Path
) -> None:
    write(tmp_path / "blank.xlsx", {"Sheet1": []})
    (tmp_path / "blank.csv").write_text("\n\n")
    (tmp_path / "folder").mkdir()
    (tmp_path / "notes.docx").write_bytes(b"no workbook")
    (tmp_path / "bad.csv").write_bytes(b"Tag\0Amps")
    with pytest.raises(Unusable) as raised:
        read_fill(tmp_path / what, template)
    assert "\n" not in str(raised.value)
    assert str(raised.value).endswith(".")


def test_a_cell_merged_over_rows_answers_for_each(template: Template, tmp_path: Path) -> None:
    path = tmp_path / "x.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Panels")
        sheet.write_row(0, 0, ["Location", "Panel", "Amps"])
        sheet.merge_range("A2:A4", "Boiler room")
        sheet.write_column(1, 1, ["LP-1", "LP-2", "LP-3", "LP-4"])
    filling = read_fill(path, template)
    assert [(row["tag"], row.get("room")) for row in filling.tables["equipment"]] == [
        ("LP-1", "Boiler room"), ("LP-2", "Boiler room"), ("LP-3", "Boiler room"), ("LP-4", None)]  # fmt: skip


def test_the_source_is_never_written_over(template: Template, tmp_path: Path) -> None:
    source = messy_list(tmp_path / "old.xlsx")
    before = source.read_bytes()
    with pytest.raises(Unusable, match="is what the new workbook is filled from: choose another name"):
        new_workbook(tmp_path / "." / "old.xlsx", template=template, fill=source, force=True)
    new_workbook(tmp_path / "new.xlsx", template=template, fill=source, rows=3)
    assert source.read_bytes() == before

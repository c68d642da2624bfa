"""Surveys that came back in disorder, each beside the reading that is expected of it."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import openpyxl
import xlsxwriter
from PIL import Image

from tests.survey.surveys import (
    EQUIPMENT,
    equipment,
    reading,
    said_by,
    sheets_of_notes,
    tags,
    write_workbook,
)
from workbook_tools.survey import Outcome, Survey, read_survey


def test_a_blank_field_has_the_place_where_it_should_stand(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [*EQUIPMENT, ["RP-1", "Panelboard"]])
    blank = survey.equipment[2].rating_a
    assert (blank.outcome, blank.sheet, blank.cell) == (Outcome.BLANK, "Equipment", "E4")
    assert survey.equipment[2].touch_test.cell == "A4"


def test_columns_of_the_firm_are_kept_by_their_heading(tmp_path: Path) -> None:
    rows = [[*row, extra, more] for row, extra, more in zip(
        EQUIPMENT, ["Barcode", "0017", "0018"], ["Barcode", "a", ""], strict=True)]  # fmt: skip
    survey = equipment(tmp_path, rows)
    assert [value.typed for value in survey.equipment[0].extra.values()] == ["0017", "a"]
    assert list(survey.equipment[0].extra) == ["Barcode", "Barcode (K)"]
    taken = {heading.heading: heading.field for heading in survey.headings}
    assert (taken["Barcode"], taken["Rating (A)"]) == (None, "rating_a")


def test_deleted_columns_leave_blank_fields(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [[row[0], row[1], row[4]] for row in EQUIPMENT])
    assert tags(survey) == ["MSB", "DP-1"]
    assert survey.equipment[0].maker.outcome is Outcome.BLANK
    assert "Rooms" in survey.missing_sheets


def test_the_tag_column_deleted_is_known_by_the_sheets_name(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [row[1:] for row in EQUIPMENT])
    assert [row.kind.value for row in survey.equipment] == ["Switchboard", "Panelboard"]


def test_a_rating_in_kva_is_not_taken_for_amperes(tmp_path: Path) -> None:
    rows = [[*row] for row in EQUIPMENT]
    rows[0][4] = "Rating (kVA)"
    assert equipment(tmp_path, rows).equipment[0].rating_a.outcome is Outcome.BLANK


def test_a_heading_may_state_the_unit(tmp_path: Path) -> None:
    sheets = {"Clearances": [["Tag", "Opposite side", "Depth (mm)", "Width", "Height"],
                             ["MSB", "Clear", "1067", "30", "80"]]}  # fmt: skip
    row = reading(tmp_path, sheets).clearances[0]
    assert (row.depth.value.millimetres, row.width.value.inches) == (1067.0, 30.0)


def test_the_jobs_unit_counts_for_bare_lengths(tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Job"] = [["Dimension unit", "mm"] if row[0] == "Dimension unit" else row for row in sheets["Job"]]
    sheets["Clearances"][1][2] = "1067"
    depth = reading(tmp_path, sheets).clearances[0].depth.value
    assert depth.millimetres == 1067.0


def test_a_unit_that_cannot_be_read_is_said(tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Job"] = [
        ["Dimension unit", "cubits"] if row[0] == "Dimension unit" else row for row in sheets["Job"]
    ]
    survey = reading(tmp_path, sheets)
    assert any("bare lengths were read in in" in note for note in survey.notes)


# -- copies and continuations


def test_a_copied_sheet_makes_no_false_duplicates_and_is_said(clean: Survey, tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Equipment (2)"] = [list(row) for row in sheets["Equipment"]]
    survey = reading(tmp_path, sheets)
    assert said_by(survey) == said_by(clean)
    assert any("Equipment (2) repeats" in note for note in survey.notes)


def test_what_differs_on_a_copied_sheet_is_read_too(tmp_path: Path) -> None:
    copy = [list(row) for row in EQUIPMENT]
    copy[2][4] = "225"
    survey = reading(
        tmp_path, {"Equipment": EQUIPMENT, "Equipment (2)": [*copy, ["RP-1", "Panelboard", "Main"]]}
    )
    assert [(row.sheet, row.tag.value, row.rating_a.value) for row in survey.equipment] == [
        ("Equipment", "MSB", 1600.0),
        ("Equipment", "DP-1", 400.0),
        ("Equipment (2)", "DP-1", 225.0),
        ("Equipment (2)", "RP-1", None),
    ]


def test_a_row_written_twice_on_one_sheet_stays_twice(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [*EQUIPMENT, EQUIPMENT[2]])
    assert tags(survey) == ["MSB", "DP-1", "DP-1"]


def test_floors_on_sheets_of_their_own_are_one_table(tmp_path: Path) -> None:
    upper = [EQUIPMENT[0], ["LP-2", "Panelboard", "Level 2", "DP-1", "100", "480Y/277", "3", "4", "Tarnwell"]]
    survey = reading(tmp_path, {"Ground": EQUIPMENT, "Level 2": upper})
    assert tags(survey) == ["MSB", "DP-1", "LP-2"]
    assert any("more than one sheet" in note for note in survey.notes)


# -- merged cells, groups, hidden rows, pictures, formulas: written cell by cell


def test_headings_merged_over_two_rows(tmp_path: Path) -> None:
    path = tmp_path / "merged.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Clearances")
        sheet.merge_range("A1:A2", "Tag")
        sheet.merge_range("B1:B2", "Opposite side")
        sheet.merge_range("C1:E1", "Clear")
        sheet.write_row("C2", ["Depth", "Width", "Height"])
        sheet.merge_range("F1:F2", "Equipment width")
        sheet.write_row("A3", ["MSB", "Grounded", "48", "36", "80", "30"])
    (row,) = read_survey(path, "office").clearances
    assert (row.tag.value, row.opposite_side.value) == ("MSB", "Grounded")
    assert [length.value.inches for length in (row.depth, row.width, row.height, row.equipment_width)] == [
        48,
        36,
        80,
        30,
    ]


def test_a_merged_answer_counts_for_every_row_it_covers(tmp_path: Path) -> None:
    path = tmp_path / "merged.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Equipment")
        sheet.write_row("A1", EQUIPMENT[0])
        for i, tag in enumerate(("MSB", "DP-1", "DP-2")):
            sheet.write_row(i + 1, 0, [tag, "Panelboard"])
        sheet.merge_range("C2:C4", "Main electrical room")
    survey = read_survey(path, "office")
    assert [row.room.value for row in survey.equipment] == ["Main electrical room"] * 3
    assert [row.room.cell for row in survey.equipment] == ["C2"] * 3


def test_a_heading_between_groups_of_rows_is_no_equipment(tmp_path: Path) -> None:
    path = tmp_path / "groups.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Equipment")
        sheet.write_row("A1", EQUIPMENT[0])
        sheet.merge_range("A2:I2", "LEVEL 1")
        sheet.write_row("A3", EQUIPMENT[1])
    survey = read_survey(path, "office")
    assert tags(survey) == ["MSB"]
    assert [value.typed for value in survey.stray] == ["LEVEL 1"]


def test_hidden_rows_and_sheets_are_read(tmp_path: Path) -> None:
    path = tmp_path / "hidden.xlsx"
    with xlsxwriter.Workbook(path) as book:
        book.add_worksheet("Cover").write("A1", "Cover page")
        sheet = book.add_worksheet("Equipment")
        for i, row in enumerate(EQUIPMENT):
            sheet.write_row(i, 0, row)
        sheet.set_row(2, None, None, {"hidden": True})
        sheet.hide()
    survey = read_survey(path, "office")
    assert tags(survey) == ["MSB", "DP-1"]
    assert [value.typed for value in survey.other_sheets["Cover"]] == ["Cover page"]


def test_live_cells_are_never_data(tmp_path: Path) -> None:
    head = [*EQUIPMENT[0], "Volts to ground", "Row check"]
    survey = equipment(
        tmp_path,
        [
            head,
            [*EQUIPMENT[1], "=1+1 -> 277", "=2+2 -> complete"],
            [*EQUIPMENT[2], "120", ""],
            ["", "", "", "", "", "", "", "", "", '="" -> ', "=3+3 -> blank row"],
        ],
    )
    assert tags(survey) == ["MSB", "DP-1"]
    first, second = survey.equipment
    assert (first.live["volts_to_ground"].typed, first.live["volts_to_ground"].formula) == ("277", "=1+1")
    assert (second.live["volts_to_ground"].typed, second.live["volts_to_ground"].formula) == ("120", "")
    assert "volts_to_ground" not in first.values


def test_hidden_computing_columns_are_no_data(tmp_path: Path) -> None:
    rows = [
        [*EQUIPMENT[0], "Workings fed from"],
        [*EQUIPMENT[1], '="utility" -> utility'],
        [""] * 9 + ["=1 -> 1"],
    ]
    rows[0][3] = "Comes out of"
    survey = equipment(tmp_path, rows)
    assert len(survey.equipment) == 1
    assert survey.equipment[0].extra.keys() == {"Comes out of"}
    assert all("Workings" not in heading.heading for heading in survey.headings)
    assert survey.stray == []


def test_a_picture_in_a_cell_of_photos_belongs_to_its_row(tmp_path: Path) -> None:
    picture = BytesIO()
    Image.new("RGB", (2, 2)).save(picture, "PNG")
    path = tmp_path / "picture.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Equipment")
        for i, row in enumerate(EQUIPMENT):
            sheet.write_row(i, 0, [*row, "Photos"] if i == 0 else row)
        sheet.embed_image("J2", "plate.png", {"image_data": picture})
    survey = read_survey(path, "office")
    value = survey.equipment[0].photos
    assert (value.outcome, value.value) == (Outcome.VALUE, ())
    assert [survey.has_picture(row) for row in survey.equipment] == [True, False]


def test_a_formula_in_a_typed_cell_is_read_and_noted(tmp_path: Path) -> None:
    rows = [*EQUIPMENT, ["RP-1", "Panelboard", "Main", "=A2 -> MSB", "=200*2 -> 400"]]
    row = equipment(tmp_path, rows).equipment[2]
    assert (row.fed_from.value, row.fed_from.formula) == (("MSB",), "=A2")
    assert "formula" in row.rating_a.note


def test_openpyxl_sees_the_same_typed_texts(tmp_path: Path) -> None:
    path = write_workbook(tmp_path / "clean.xlsx", sheets_of_notes())
    book = openpyxl.load_workbook(path)
    for row in read_survey(path, "office").rows():
        for value in row.values.values():
            assert (book[value.sheet][value.cell].value or "") == value.typed


def test_what_is_typed_in_a_computing_column_is_no_data_and_harms_nothing(tmp_path: Path) -> None:
    rows = [[*EQUIPMENT[0], "Workings: key", "Remarks"], [*EQUIPMENT[1], "typed over", "Workings: none"],
            [*EQUIPMENT[2], '="k" -> k', "=1+1 -> 2"]]  # fmt: skip
    survey = equipment(tmp_path, rows)
    assert [row.remarks.typed for row in survey.equipment] == ["Workings: none", "2"]
    assert survey.equipment[1].remarks.formula == "=1+1"

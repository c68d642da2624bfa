"""Surveys that came back in disorder, each beside the reading that is expected of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import xlsxwriter
from PIL import Image

from tests.survey.surveys import BAKERY, said_by, sheets_of_notes, write_workbook
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import Damage, read_workbook
from workbook_tools.survey import Outcome, Survey, read_survey
from workbook_tools.survey.reading import survey_of

OFFICE = load_template("office")

Sheets = dict[str, list[list[Any]]]

EQUIPMENT = [
    ["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage", "Phase", "Wires", "Maker"],
    ["MSB", "Switchboard", "Main", "Utility", "1600", "480Y/277", "3", "4", "Marlowe"],
    ["DP-1", "Panelboard", "Main", "MSB", "400", "480Y/277", "3", "4", "Marlowe"],
]


@pytest.fixture
def clean(tmp_path: Path) -> Survey:
    return read_survey(write_workbook(tmp_path / "clean.xlsx", sheets_of_notes()), "office")


def reading(tmp_path: Path, sheets: Sheets, template: str | None = "office") -> Survey:
    return read_survey(write_workbook(tmp_path / "messy.xlsx", sheets), template)


def equipment(tmp_path: Path, rows: list[list[Any]], name: str = "Equipment") -> Survey:
    return reading(tmp_path, {name: rows})


def tags(survey: Survey) -> list[Any]:
    return [row.get("tag") for row in survey.equipment]


def test_the_field_notes_are_read_whole(clean: Survey) -> None:
    notes = sheets_of_notes(BAKERY)
    for definition in OFFICE.sheets:
        if definition.layout == "table":
            rows = clean.tables[definition.key]
            typed = [[row[column.field].typed for column in definition.typed] for row in rows]
            assert typed == notes[definition.name][1:]
    assert clean.job.get("inspection_date") == date(2026, 9, 16)
    assert clean.job["property"].cell == "B2"
    assert (clean.stray, clean.notes, clean.missing_sheets, clean.damage) == ([], [], [], [])


# -- sheets


def renamed(sheets: Sheets) -> Sheets:
    return {f"Sheet{i}": rows for i, rows in enumerate(sheets.values(), 1)}


def reordered(sheets: Sheets) -> Sheets:
    return dict(reversed(sheets.items()))


def exported_from_a_tablet(sheets: Sheets) -> Sheets:
    out: Sheets = {"Export Summary": [["This document was exported."], ["Sheet", "Table", "Copy"]]}
    for name, rows in sheets.items():
        out[f"{name} - Table 1"] = [[name], *rows]
    return out


def in_small_letters(sheets: Sheets) -> Sheets:
    return {name.lower(): rows for name, rows in sheets.items()}


def under_a_title(sheets: Sheets) -> Sheets:
    return {name: [["ACME SURVEYS"], [], ["Printed 9/20"], *rows] for name, rows in sheets.items()}


def away_from_the_corner(sheets: Sheets) -> Sheets:
    return {name: [[], []] + [["", "", *row] for row in rows] for name, rows in sheets.items()}


# -- columns


def columns_turned_round(sheets: Sheets) -> Sheets:
    return {name: rows if name == "Job" else [row[::-1] for row in rows] for name, rows in sheets.items()}


def headings_shouted(sheets: Sheets) -> Sheets:
    return {
        name: [[str(text).upper() + " :" for text in rows[0]], *rows[1:]] for name, rows in sheets.items()
    }


def headings_reworded(sheets: Sheets) -> Sheets:
    known = {
        "Tag": "Panel", "Kind": "Type", "Fed from": "Fed by", "Rating (A)": "Amps", "Maker": "Manufacturer",
        "Short-circuit rating (kA)": "SCCR", "Impedance (%)": "%Z", "Primary (V)": "Primary Voltage",
        "Depth": "Clear depth", "Opposite side": "Condition", "Finding": "Deficiency", "Count": "Qty",
    }  # fmt: skip
    return {
        name: [[known.get(text, text) if name != "Transformers" or text != "Tag" else "Transformer"
                for text in rows[0]], *rows[1:]]
        for name, rows in sheets.items()
    }  # fmt: skip


def headings_in_two_lines(sheets: Sheets) -> Sheets:
    return {
        name: [[str(text).replace(" ", "\n") for text in rows[0]], *rows[1:]] for name, rows in sheets.items()
    }


def headings_with_typing_slips(sheets: Sheets) -> Sheets:
    slips = {"Fed from": "Fed form", "Circuit directory": "Circiut directory", "Equipment width": "Equipmnt width",
             "Marked direction": "Marked directon", "Nameplate photo": "Name plate photo"}  # fmt: skip
    return {name: [[slips.get(text, text) for text in rows[0]], *rows[1:]] for name, rows in sheets.items()}


# -- rows


def blank_rows_between(sheets: Sheets) -> Sheets:
    return {
        name: [line for row in rows for line in (row, [], ["", "  ", ""])] for name, rows in sheets.items()
    }


def headings_repeated_for_print(sheets: Sheets) -> Sheets:
    return {name: rows if name == "Job" else [*rows[:3], rows[0], *rows[3:]] for name, rows in sheets.items()}


def totals_below(sheets: Sheets) -> Sheets:
    out = {name: list(rows) for name, rows in sheets.items()}
    out["Equipment"] += [[], ["Total", "", "", "", "9,400"], ["Count", len(sheets["Equipment"]) - 1]]
    out["Findings"].append(["Total", "", "=SUM(C2:C90) -> 31"])
    out["Findings"].append(["", "", "=COUNT(C2:C90) -> 12"])
    return out


def notes_around(sheets: Sheets) -> Sheets:
    out = {name: list(rows) for name, rows in sheets.items()}
    width = max(map(len, out["Equipment"]))
    out["Equipment"][3] = (
        out["Equipment"][3] + [""] * (width + 2 - len(out["Equipment"][3])) + ["ask the owner"]
    )
    out["Equipment"] += [
        [],
        ["Note: roof equipment was seen from the hatch"],
        ["* tag given by us, none posted"],
    ]
    out["Clearances"] += [[], ["", "", "", "", "", "", "", "measured with the doors shut"]]
    return out


def ticked_boxes_below(sheets: Sheets) -> Sheets:
    out = {name: list(rows) for name, rows in sheets.items()}
    out["Rooms"] += [["", "", "", False]] * 3
    return out


# -- cells


def numbers_as_numbers(sheets: Sheets) -> Sheets:
    def typed(text: str) -> Any:
        return float(text) if text.replace(".", "", 1).isdigit() and not text.startswith("0") else text

    return {
        name: [rows[0]] + [[typed(text) for text in row] for row in rows[1:]] for name, rows in sheets.items()
    }


def curly_and_spaced(sheets: Sheets) -> Sheets:
    def typed(text: str) -> str:
        return f" {text} ".replace("'", "’").replace('"', "”").replace("-", "–") if text else text

    return {
        name: [rows[0]] + [[typed(text) for text in row] for row in rows[1:]] for name, rows in sheets.items()
    }


DISORDERS: list[Callable[[Sheets], Sheets]] = [
    renamed, reordered, exported_from_a_tablet, in_small_letters, under_a_title, away_from_the_corner,
    columns_turned_round, headings_shouted, headings_reworded, headings_in_two_lines, headings_with_typing_slips,
    blank_rows_between, headings_repeated_for_print, totals_below, notes_around, ticked_boxes_below,
    numbers_as_numbers,
]  # fmt: skip


@pytest.mark.parametrize("disorder", DISORDERS, ids=lambda disorder: disorder.__name__)
def test_disorder_does_not_change_what_a_survey_says(
    disorder: Callable[[Sheets], Sheets], clean: Survey, tmp_path: Path
) -> None:
    messy = reading(tmp_path, disorder(sheets_of_notes()))
    assert said_by(messy) == said_by(clean)


def test_curly_quotes_and_long_dashes_change_only_what_is_typed(clean: Survey, tmp_path: Path) -> None:
    messy = reading(tmp_path, curly_and_spaced(sheets_of_notes()))
    for before, after in zip(clean.rows(), messy.rows(), strict=True):
        for name, value in before.values.items():
            assert after[name].value == value.value, name
            assert after[name].outcome is value.outcome, name


def test_notes_and_totals_are_kept_with_their_place(tmp_path: Path) -> None:
    survey = reading(tmp_path, notes_around(totals_below(sheets_of_notes())))
    kept = {value.typed: (value.sheet, value.cell) for value in survey.stray}
    assert kept["ask the owner"] == ("Equipment", "T4")
    assert {"Total", "9,400", "31", "12", "Note: roof equipment was seen from the hatch"} <= set(kept)
    assert kept["measured with the doors shut"][0] == "Clearances"
    said = " ".join(survey.notes)
    assert "T4 'ask the owner'" in said
    assert "'measured with the doors shut'" in said


def test_the_places_are_the_files_own(tmp_path: Path) -> None:
    survey = reading(tmp_path, away_from_the_corner(sheets_of_notes()))
    first = survey.equipment[0]
    assert (first["tag"].sheet, first["tag"].cell, first.number) == ("Equipment", "C4", 4)
    assert first["remarks"].cell == "S4"


def test_a_blank_field_has_the_place_where_it_should_stand(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [*EQUIPMENT, ["RP-1", "Panelboard"]])
    blank = survey.equipment[2]["rating_a"]
    assert (blank.outcome, blank.sheet, blank.cell) == (Outcome.BLANK, "Equipment", "E4")
    assert survey.equipment[2]["touch_test"].cell == "A4"


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
    assert survey.equipment[0]["maker"].outcome is Outcome.BLANK
    assert "Rooms" in survey.missing_sheets


def test_the_tag_column_deleted_is_known_by_the_sheets_name(tmp_path: Path) -> None:
    survey = equipment(tmp_path, [row[1:] for row in EQUIPMENT])
    assert [row.get("kind") for row in survey.equipment] == ["Switchboard", "Panelboard"]


def test_a_rating_in_kva_is_not_taken_for_amperes(tmp_path: Path) -> None:
    rows = [[*row] for row in EQUIPMENT]
    rows[0][4] = "Rating (kVA)"
    assert equipment(tmp_path, rows).equipment[0]["rating_a"].outcome is Outcome.BLANK


def test_a_heading_may_state_the_unit(tmp_path: Path) -> None:
    sheets = {"Clearances": [["Tag", "Opposite side", "Depth (mm)", "Width", "Height"],
                             ["MSB", "Clear", "1067", "30", "80"]]}  # fmt: skip
    row = reading(tmp_path, sheets).clearances[0]
    assert (row.get("depth").millimetres, row.get("width").inches) == (1067.0, 30.0)


def test_the_jobs_unit_counts_for_bare_lengths(tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Job"] = [["Dimension unit", "mm"] if row[0] == "Dimension unit" else row for row in sheets["Job"]]
    sheets["Clearances"][1][2] = "1067"
    depth = reading(tmp_path, sheets).clearances[0].get("depth")
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
    assert [(row.sheet, row.get("tag"), row.get("rating_a")) for row in survey.equipment] == [
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
    assert [row.get(name) for name in ("tag", "opposite_side")] == ["MSB", "Grounded"]
    assert [row.get(name).inches for name in ("depth", "width", "height", "equipment_width")] == [
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
    assert [row.get("room") for row in survey.equipment] == ["Main electrical room"] * 3
    assert [row["room"].cell for row in survey.equipment] == ["C2"] * 3


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
    value = survey.equipment[0]["photos"]
    assert (value.outcome, value.value) == (Outcome.VALUE, ())
    assert [survey.has_picture(row) for row in survey.equipment] == [True, False]


def test_a_formula_in_a_typed_cell_is_read_and_noted(tmp_path: Path) -> None:
    rows = [*EQUIPMENT, ["RP-1", "Panelboard", "Main", "=A2 -> MSB", "=200*2 -> 400"]]
    row = equipment(tmp_path, rows).equipment[2]
    assert (row.get("fed_from"), row["fed_from"].formula) == (("MSB",), "=A2")
    assert "formula" in row["rating_a"].note


# -- Job


def test_labels_elsewhere_and_reworded_are_found(tmp_path: Path) -> None:
    job = [
        ["JOB DETAILS"],
        [],
        ["", "Building:", "", "Quarry Street Bakery", "", "left of the river"],
        ["", "Date of inspection", ":", "9/16/2026"],
        ["", "Inspected by", "", "Lead inspector"],
        ["", "Weather", "", "Dry"],
        ["", "Client", "", "", "ask at the desk"],
        ["", "Code edition", "", "2020 NEC"],
    ]
    survey = reading(tmp_path, {"Project": job, "Equipment": EQUIPMENT})
    assert survey.job.get("property") == "Quarry Street Bakery"
    assert survey.job.get("inspection_date") == date(2026, 9, 16)
    assert survey.job.get("code_profile") == "nec-2020"
    assert survey.job.extra["Weather"].typed == "Dry"
    assert survey.job["client"].outcome is Outcome.BLANK
    assert {"left of the river", "ask at the desk"} <= {value.typed for value in survey.stray}


def test_instructions_beside_blank_answers_are_no_answers(tmp_path: Path) -> None:
    job = OFFICE.by_key["job"]
    rows = [[column.heading, "", column.ask] for column in job]
    survey = reading(tmp_path, {"Job": rows, "Equipment": EQUIPMENT})
    assert {value.outcome for value in survey.job.values.values()} == {Outcome.BLANK}
    assert survey.job["inspector"].cell == "B6"
    rows[0][1] = "Quarry Street Bakery"
    rows[2][2] = "an instruction of an older template"
    survey = reading(tmp_path, {"Job": rows, "Equipment": EQUIPMENT})
    assert survey.job.get("property") == "Quarry Street Bakery"
    assert survey.job["client"].outcome is Outcome.BLANK


def test_a_second_sheet_of_job_details_is_said(clean: Survey, tmp_path: Path) -> None:
    sheets = sheets_of_notes()
    sheets["Job (2)"] = [["Property", "Another building"], ["Inspector", "Somebody else"]]
    survey = reading(tmp_path, sheets)
    assert said_by(survey) == said_by(clean)
    assert any(
        note.startswith("The sheet Job (2) is another sheet of job details; Job was read")
        for note in survey.notes
    )
    assert "Another building" in [value.typed for value in survey.other_sheets["Job (2)"]]


def test_labels_across_the_top_have_their_answers_below(tmp_path: Path) -> None:
    job = [["Property", "Inspection date", "Inspector"], ["Bakery", "2026-09-16", "Lead inspector"]]
    survey = reading(tmp_path, {"Job": job, "Equipment": EQUIPMENT})
    assert [survey.job.get(name) for name in ("property", "inspector")] == ["Bakery", "Lead inspector"]


# -- which template


def test_a_firm_may_put_the_tag_behind_other_columns(tmp_path: Path) -> None:
    office = OFFICE.by_key["equipment"]
    tag, *others = office.columns
    turned = replace(office, columns=(*others[:3], tag, *others[3:]))
    firm = replace(OFFICE, sheets=tuple(turned if sheet is office else sheet for sheet in OFFICE.sheets))
    path = write_workbook(tmp_path / "firm.xlsx", {"Gear": [*EQUIPMENT, ["Total", "", "", "", "2000"]]})
    survey = read_survey(path, firm)
    assert tags(survey) == ["MSB", "DP-1"]
    assert [value.typed for value in survey.stray] == ["Total", "2000"]


def test_the_file_names_its_template(tmp_path: Path) -> None:
    by_cell = {"Start here": [["survey 1 retail"]], "Equipment": EQUIPMENT}
    assert reading(tmp_path, by_cell, None).template.name == "retail"
    path = write_workbook(
        tmp_path / "p.xlsx", {"Equipment": EQUIPMENT}, {"workbook-schema": "\n survey 1 school \n"}
    )
    survey = read_survey(path)
    assert (survey.template.name, survey.notes) == ("school", [])


def test_a_file_that_names_no_template_is_read_as_office_and_says_so(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Equipment": EQUIPMENT}, None)
    assert survey.template.name == "office"
    assert any("--template" in note for note in survey.notes)


def test_a_template_of_a_firm_must_be_named(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Start here": [["survey 1 acme"]], "Equipment": EQUIPMENT}, None)
    assert any("'acme'" in note and "--template" in note for note in survey.notes)


def test_a_later_layout_is_said(tmp_path: Path) -> None:
    survey = reading(tmp_path, {"Start here": [["survey 7 office"]], "Equipment": EQUIPMENT}, None)
    assert any("later version" in note for note in survey.notes)


def test_an_unknown_template_asked_for_is_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(Unusable, match="ofice"):
        reading(tmp_path, {"Equipment": EQUIPMENT}, "ofice")


# -- no survey at all


@pytest.mark.parametrize(
    "sheets",
    [
        {"Sheet1": []},
        {"Budget": [["Month", "Rent", "Food"], ["May", 900, 300]]},
        {"People": [["Name", "Company", "Phone"], ["A. Tester", "Invented Ltd", "555-0100"]]},
        {"Job": [["Property", "Bakery"], ["Inspector", "Lead inspector"], ["Client", "Owner"]]},
    ],
)
def test_a_file_that_is_no_survey_is_refused_in_one_sentence(sheets: Sheets, tmp_path: Path) -> None:
    with pytest.raises(Unusable) as refused:
        reading(tmp_path, sheets, None)
    message = str(refused.value)
    assert message.startswith("messy.xlsx is no survey workbook")
    assert all(name in message for name in sheets)
    assert "\n" not in message


def test_the_refusal_names_the_nearest_headings(tmp_path: Path) -> None:
    people = {
        "People": [["Name", "Company", "Notes"], ["A. Tester", "Invented Ltd", "555-0100"]],
        "Plan": [["x"]],
    }
    with pytest.raises(Unusable, match="nearest are Name, Notes on People"):
        reading(tmp_path, people, None)


def test_damage_and_macros_are_said(tmp_path: Path) -> None:
    workbook = read_workbook(write_workbook(tmp_path / "s.xlsx", {"Equipment": EQUIPMENT}))
    workbook.damage.append(
        Damage("Equipment", "E9", "xyz", "This cell should hold a number; the file says xyz.")
    )
    workbook.has_macros = True
    survey = survey_of(workbook, "office")
    (damage,) = survey.damage
    assert (damage.outcome, damage.sheet, damage.cell, damage.typed) == (
        Outcome.UNREADABLE,
        "Equipment",
        "E9",
        "xyz",
    )
    assert "should hold a number" in damage.why
    assert any("macros" in note and "not run" in note for note in survey.notes)


@pytest.mark.parametrize(
    ("schema", "what"), [("review 1 office", "review workbook"), ("client schedule 1", "client schedule")]
)
def test_another_workbook_of_the_tool_is_no_survey(schema: str, what: str, tmp_path: Path) -> None:
    path = write_workbook(tmp_path / "other.xlsx", {"Schedule": EQUIPMENT}, {"workbook-schema": schema})
    with pytest.raises(Unusable, match=f"other.xlsx is a {what}, not a survey workbook"):
        read_survey(path)


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
    assert [row["remarks"].typed for row in survey.equipment] == ["Workings: none", "2"]
    assert survey.equipment[1]["remarks"].formula == "=1+1"

"""Disorder that must not change what a survey says: sheets, columns, rows and cells moved, reworded, mixed up."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.survey.surveys import (
    BAKERY,
    OFFICE,
    Sheets,
    reading,
    said_by,
    sheets_of_notes,
)
from workbook_tools.survey import Survey


def test_the_field_notes_are_read_whole(clean: Survey) -> None:
    notes = sheets_of_notes(BAKERY)
    for definition in OFFICE.sheets:
        if definition.layout == "table":
            rows = clean.tables[definition.key]
            headings, *noted = notes[definition.name]
            by_heading = {column.heading: column for column in definition.typed}
            columns = [by_heading[heading] for heading in headings]
            assert [[row[column].typed for column in columns] for row in rows] == noted
    assert clean.job.inspection_date.value == date(2026, 9, 16)
    assert clean.job.property.cell == "B2"
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
            assert after.values[name].value == value.value, name
            assert after.values[name].outcome is value.outcome, name


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
    assert (first.tag.sheet, first.tag.cell, first.number) == ("Equipment", "C4", 4)
    assert first.remarks.cell == "S4"

"""Several lists become one survey: what the first leaves blank the next fills in, and what differs is kept and said."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import Filling, read_fill
from workbook_tools.spreadsheet import read_workbook
from workbook_tools.survey import read_survey

TEMPLATE = load_template("office")


def lists(folder: Path, **texts: str) -> list[Path]:
    paths = []
    for name, text in texts.items():
        paths.append(folder / f"{name}.csv")
        paths[-1].write_text(text, encoding="utf-8")
    return paths


def filled(folder: Path, **texts: str) -> Filling:
    return read_fill(lists(folder, **texts), TEMPLATE)


def lines(filling: Filling) -> str:
    assert filling.report is not None
    return "\n".join(filling.report.lines)


def test_the_next_list_fills_what_the_first_leaves_blank(tmp_path: Path) -> None:
    filling = filled(tmp_path, a="Panel,Amps\nLP-1,225\n", b="Panel,Room,Key\nLP-1,101,7\nLP-2,102,8\n")
    assert filling.tables["equipment"] == [
        {"tag": "LP-1", "rating_a": "225", "room": "101", "Key": "7"},
        {"tag": "LP-2", "room": "102", "Key": "8"},
    ]
    assert "contradicts" not in lines(filling)


def test_another_answer_is_kept_in_a_column_that_names_its_file_and_said(tmp_path: Path) -> None:
    filling = filled(
        tmp_path, a="Panel,Amps,Volts\nLP-1,225A,208Y/120\n", b="Panel,Amps,Volts\nLP-1,400,208Y/120V\n"
    )
    (row,) = filling.tables["equipment"]
    assert row["rating_a"] == "225A"
    assert row["Rating (A) in b.csv"] == "400"
    assert row["Voltage in b.csv"] == "208Y/120V"
    assert filling.extra_columns["equipment"] == ["Rating (A) in b.csv", "Voltage in b.csv"]
    said = lines(filling)
    assert "LP-1 Rating (A) ('225A' and '400')" in said
    assert "Voltage (" not in said  # the same voltage, written otherwise


def test_two_pieces_of_one_tag_in_one_list_stay_two(tmp_path: Path) -> None:
    filling = filled(
        tmp_path, a="Panel,Room,Amps\nLP-1,101,225\nLP-1,202,100\n", b="Panel,Maker,Volts\nLP-1,Marlowe,480\n"
    )
    assert [row.get("room") for row in filling.tables["equipment"]] == ["101", "202", None]


def test_a_list_that_says_it_all_again_adds_nothing(tmp_path: Path) -> None:
    text = "Panel,Amps,Room\nLP-1,225,101\nLP-2,100,102\n"
    assert filled(tmp_path, a=text, b=text).tables == filled(tmp_path, a=text).tables


def test_job_details_of_every_list_are_kept(tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    (tmp_path / "two").mkdir()
    (tmp_path / "one" / "job.csv").write_text(
        "Property,Harbour House\nInspector,A. Example\n", encoding="utf-8"
    )
    (tmp_path / "two" / "job.csv").write_text("Property,Harbor House\nClient,Example Ltd\n", encoding="utf-8")
    filling = read_fill([tmp_path / "one", tmp_path / "two"], TEMPLATE)
    assert filling.job == {"property": "Harbour House", "inspector": "A. Example", "client": "Example Ltd"}
    assert ("Property in two", "Harbor House") in filling.extra_job


def test_every_list_is_named_in_the_report(tmp_path: Path) -> None:
    said = lines(
        filled(tmp_path, a="Panel,Amps\nLP-1,225\n", b="XFMR,kVA\nT-1,75\n", c="What,Cost\npaint,3\n")
    )
    assert said.startswith("Filled from a.csv, b.csv, c.csv: Equipment 2 rows, Transformers 1 row.")
    assert "[a.csv]" in said
    assert "[b.csv]" in said
    assert "Kept whole, each on a sheet of its own: c." in said


def test_sheets_of_one_name_are_all_kept(tmp_path: Path) -> None:
    (tmp_path / "x").mkdir()
    first = lists(tmp_path, costs="What,Cost\npaint,3\n")
    second = lists(tmp_path / "x", costs="What,Cost\nlamps,4\n")
    filling = read_fill([*first, *second], TEMPLATE)
    assert [sheet.name for sheet in filling.extra_sheets] == ["costs", "costs (2)"]
    assert [sheet.rows[1] for sheet in filling.extra_sheets] == [("paint", "3"), ("lamps", "4")]


def test_how_it_was_filled_stands_in_the_workbook_and_is_no_data(tmp_path: Path) -> None:
    made = tmp_path / "survey.xlsx"
    new_workbook(made, fill=lists(tmp_path, a="Panel,Amps,Colour\nLP-1,225,grey\n"), rows=3)
    sheet = next(s for s in read_workbook(made).sheets if s.name == "How this was filled")
    texts = {place: cell.text for place, cell in sheet.cells.items()}
    assert texts[1, 1].startswith("Where each column of the lists went, and why.")
    assert [texts[2, column] for column in range(1, 9)] == [
        "file", "sheet", "table", "heading", "samples", "goes_to_sheet", "goes_to_column", "why"]  # fmt: skip
    assert [texts.get((3, column), "") for column in (4, 5, 6, 7)] == ["Panel", "LP-1", "Equipment", "Tag"]
    assert [texts.get((5, column), "") for column in (4, 5, 6, 7)] == ["Colour", "grey", "", ""]
    survey = read_survey(made)
    assert "How this was filled" not in survey.other_sheets
    assert not any("How this was filled" in note for note in survey.notes)
    filling = read_fill(made, TEMPLATE)
    assert not any(sheet.name.startswith("How this") for sheet in filling.extra_sheets)


def test_what_somebody_writes_beside_it_is_read(tmp_path: Path) -> None:
    made = tmp_path / "survey.xlsx"
    new_workbook(made, fill=lists(tmp_path, a="Panel,Amps,Colour\nLP-1,225,grey\n"), rows=3)
    book = load_workbook(made)
    book["How this was filled"]["J3"] = "ask the caretaker"
    book.save(made)
    said = [value.typed for values in read_survey(made).other_sheets.values() for value in values]
    assert said == ["ask the caretaker"]


def test_a_list_under_our_own_headings_needs_no_such_sheet(tmp_path: Path) -> None:
    assert filled(tmp_path, equipment="Tag,Rating (A)\nLP-1,225\n").how_filled is None


def test_none_of_several_lists_is_written_over(tmp_path: Path) -> None:
    paths = lists(tmp_path, a="Panel,Amps\nLP-1,225\n")
    made = new_workbook(tmp_path / "s.xlsx", fill=paths, rows=3).path
    with pytest.raises(Unusable, match="is what the new workbook is filled from"):
        new_workbook(made, fill=[*paths, made], rows=3, force=True)

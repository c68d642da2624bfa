"""Headings are told by their words: own, synonym, with a unit, nearly; and never taken for a wrong field."""

from __future__ import annotations

import pytest

from tests.sampling import drawn
from workbook_tools.definitions import Sheet, Template, load_template
from workbook_tools.survey.heading_words import match_heading, near_heading
from workbook_tools.survey.headings import Grid, find_sheets

STOCK = ["office", "retail", "industrial", "school"]
TEMPLATES = {name: load_template(name) for name in STOCK}
TABLES = [(name, s.key) for name in STOCK for s in TEMPLATES[name].sheets if s.layout == "table"]
# Most columns of a table are the same in all templates.
SOME_TABLES = drawn("tables of a template", TABLES, lambda table: table[1])


def sheet_of(name: str, key: str) -> Sheet:
    return TEMPLATES[name].by_key[key]


def found_in(template: Template, headings: list[str], sheet_name: str = "Sheet1") -> dict[str, int]:
    grid = Grid(sheet_name, {(3, i): text for i, text in enumerate(headings, 1)})
    (found,) = find_sheets([grid], template)
    return found.columns


@pytest.mark.parametrize("name", STOCK)
def test_every_sheet_is_known_by_its_own_headings_whatever_its_name(name: str) -> None:
    template = TEMPLATES[name]
    tables = [s for s in template.sheets if s.layout == "table"]
    grids = [Grid(f"Sheet{i}", {(2, j): c.heading for j, c in enumerate(s, 1)}) for i, s in enumerate(tables)]
    for sheet, found in zip(tables, find_sheets(grids, template), strict=True):
        assert found.key == sheet.key
        assert found.columns == {c.field: j for j, c in enumerate(sheet, 1)}
        assert (found.row, found.rival, found.leftovers) == (2, False, ())
        assert all(heading.exact for heading in found.headings)


@pytest.mark.sampled
@pytest.mark.parametrize(("name", "key"), SOME_TABLES)
def test_every_synonym_stands_for_its_heading(name: str, key: str) -> None:
    sheet = sheet_of(name, key)
    for column in sheet.typed:
        for said in column.also_called:
            for text in (said, said.upper(), f" {said}:", said.replace(" ", "\n")):
                headings = [text if c is column else c.heading for c in sheet]
                assert (
                    found_in(TEMPLATES[name], headings, sheet.name)[column.field]
                    == sheet.columns.index(column) + 1
                ), text


@pytest.mark.sampled
@pytest.mark.parametrize(("name", "key"), SOME_TABLES)
def test_a_slip_of_one_letter_is_never_taken_for_another_field(name: str, key: str) -> None:
    sheet = sheet_of(name, key)
    right = 0
    for column in sheet.typed:
        for at in range(len(column.heading)):
            text = column.heading[:at] + column.heading[at + 1 :]
            match = match_heading(text, sheet) or near_heading(text, sheet)
            if match is not None and not match.column.live:
                assert match.column is column, text
                right += 1
    assert right > sum(len(column.heading) for column in sheet.typed) // 2


@pytest.mark.parametrize(
    ("key", "text", "field", "unit"),
    [
        ("equipment", "Rating (Amps)", "rating_a", "A"), ("equipment", "Rating [A]", "rating_a", "A"), ("equipment", "Rating, A", "rating_a", "A"),
        ("equipment", "Bus rating (kVA)", None, ""), ("equipment", "Rating (kVA)", None, ""), ("equipment", "Voltage (V)", "voltage", "V"),
        ("equipment", "SCCR (kA)", "short_circuit_rating_ka", "kA"), ("equipment", "Tag (as posted)", "tag", ""),
        ("transformers", "Rating (kVA)", "kva", "kVA"), ("transformers", "Rating (A)", None, ""), ("transformers", "% Z", "impedance_percent", ""),
        ("clearances", "Depth (mm)", "depth", "mm"), ("clearances", "Width, in.", "width", "in"), ("clearances", "Height m", "height", "m"),
        ("clearances", "Depth (kVA)", None, ""), ("clearances", "Depth", "depth", ""),
    ],
)  # fmt: skip
def test_a_unit_in_a_heading_counts(key: str, text: str, field: str | None, unit: str) -> None:
    match = match_heading(text, sheet_of("office", key))
    assert (match.column.field if match else None, match.unit if match else "") == (field, unit)


@pytest.mark.parametrize(
    ("key", "text", "field"),
    [
        ("equipment", "Manufactuer", "maker"), ("equipment", "Panel location", "room"), ("equipment", "Short circuit", "short_circuit_rating_ka"),
        ("equipment", "Name of manufacturer", "maker"), ("equipment", "Colour", None), ("equipment", "Number", None), ("equipment", "Cost code", None),
        ("transformers", "Direction marked", None), ("findings", "Serial number", None), ("rooms", "Access given", None),
    ],
)  # fmt: skip
def test_a_near_heading_is_taken_only_where_it_is_near_one(key: str, text: str, field: str | None) -> None:
    match = near_heading(text, sheet_of("office", key))
    assert (match.column.field if match else None) == field


@pytest.mark.parametrize(
    ("headings", "columns"),
    [
        (["Panel", "Main amps"], {"tag": 1, "rating_a": 2}),
        (["Panel", "Main amps", "Bus amps"], {"tag": 1, "main_or_fuse_a": 2, "rating_a": 3}),
        (["Panel", "Bus rating", "Main Amps"], {"tag": 1, "rating_a": 2, "main_or_fuse_a": 3}),
        (["Panel", "Bus size", "Main size"], {"tag": 1, "rating_a": 2, "main_or_fuse_a": 3}),
        (["Name", "Frame amps", "Fuse amps", "Kind"], {"tag": 1, "rating_a": 2, "main_or_fuse_a": 3, "kind": 4}),
        (["Panel", "Room", "Feeder breaker size"], {"tag": 1, "room": 2}),
        (["Panel", "Amps", "Main breaker"], {"tag": 1, "rating_a": 2, "main_or_fuse_a": 3}),
        (["Panel", "Amps", "Fuse size", "AFC"], {"tag": 1, "rating_a": 2, "main_or_fuse_a": 3, "available_fault_ka": 4}),
        (["Panel", "Rated voltage"], {"tag": 1, "voltage": 2}),
        (["Panel", "Rated voltage", "System voltage"], {"tag": 1, "voltage_rating": 2, "voltage": 3}),
        (["Panel", "AIC", "Fault current"], {"tag": 1, "short_circuit_rating_ka": 2, "available_fault_ka": 3}),
    ],
)  # fmt: skip
def test_a_heading_that_could_mean_two_columns_is_told_by_the_one_beside_it(
    headings: list[str], columns: dict[str, int]
) -> None:
    assert found_in(TEMPLATES["office"], headings) == columns


def test_the_name_of_a_sheet_decides_only_between_equals() -> None:
    template = TEMPLATES["office"]
    assert (
        find_sheets([Grid("Rooms", {(1, 1): "Panel", (1, 2): "Amps", (1, 3): "Volts"})], template)[0].key
        == "equipment"
    )
    for name, key in (("Transformer list", "transformers"), ("Clearances", "clearances")):
        assert find_sheets([Grid(name, {(1, 1): "Tag", (1, 2): "Remarks"})], template)[0].key == key


def test_a_second_sheet_of_a_table_is_a_rival() -> None:
    template = TEMPLATES["office"]
    headings = {(1, i): c.heading for i, c in enumerate(template.by_key["rooms"], 1)}
    best, other = find_sheets(
        [Grid("Rooms", headings), Grid("Wing B", {**headings, (1, 2): "Floor colour"})], template
    )
    assert (best.key, best.rival) == ("rooms", False)
    assert (other.key, other.rival) == ("rooms", True)


def test_a_sheet_of_lists_is_known_by_its_name_alone() -> None:
    template = TEMPLATES["office"]
    grid = Grid("Lists", {(1, i): c.heading for i, c in enumerate(template.by_key["equipment"], 1)})
    assert find_sheets([grid], template)[0].key == "lists"
    assert find_sheets([Grid("Anything", {(5, 5): "Tag"})], template)[0].key is None


def test_headings_far_down_are_found_and_prose_above_is_not_taken() -> None:
    template = TEMPLATES["office"]
    texts = {
        (1, 1): "Panel list of Harbour House (invented), walked in 2019 by the caretaker",
        (2, 2): "Room by room",
        (19, 2): "Panel",
    }
    texts |= {(19, 3): "Location", (19, 4): "Amps", (20, 2): "LP-1"}
    (found,) = find_sheets([Grid("x", texts)], template)
    assert (found.key, found.row, found.columns) == ("equipment", 19, {"tag": 2, "room": 3, "rating_a": 4})


def test_a_first_entry_is_not_read_as_the_second_row_of_the_headings() -> None:
    texts = {(1, 1): "circuit index", (1, 2): "ph", (2, 1): "LP-1", (3, 1): "LP-2"}
    (found,) = find_sheets(
        [Grid("Equipment", texts)], TEMPLATES["office"], fits=lambda column, texts: column.field == "phase"
    )
    assert (found.row, [h.text for h in found.headings]) == (1, ["circuit index", "ph"])

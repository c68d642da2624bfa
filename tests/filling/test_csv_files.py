"""CSV files as spreadsheet programs and databases save them."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.definitions import Template, load_template
from workbook_tools.errors import Unusable
from workbook_tools.filling import read_fill
from workbook_tools.filling.csv_tables import decode, read_csv

BAKERY = Path(__file__).parents[1] / "data" / "bakery"
LIST = 'Panel;Amps;Remarks\r\nLP-1;225;"door 3\'-6"" wide; see note"\r\nLP-2;"100";Ärger\r\n'
ROWS = [
    {"tag": "LP-1", "rating_a": "225", "remarks": "door 3'-6\" wide; see note"},
    {"tag": "LP-2", "rating_a": "100", "remarks": "Ärger"},
]


@pytest.fixture(scope="module")
def template() -> Template:
    return load_template("office")


@pytest.mark.parametrize("delimiter", [";", ",", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("ending", ["\r\n", "\n"])
def test_any_usual_csv_reads_the_same(
    delimiter: str, encoding: str, ending: str, template: Template, tmp_path: Path
) -> None:
    text = (
        LIST.replace("wide; see", "wide§ see")
        .replace(";", delimiter)
        .replace("§", ";")
        .replace("\r\n", ending)
    )
    path = tmp_path / "panels.csv"
    path.write_bytes(text.encode(encoding))
    assert read_fill(path, template).tables["equipment"] == ROWS


def test_the_line_that_states_the_delimiter_is_followed(template: Template, tmp_path: Path) -> None:
    path = tmp_path / "panels.csv"
    path.write_text("sep=;\nPanel;Amps\nLP-1;1,5\n", encoding="utf-8")
    assert read_fill(path, template).tables["equipment"] == [{"tag": "LP-1", "rating_a": "1,5"}]


def test_a_comma_in_the_figures_does_not_part_columns(tmp_path: Path) -> None:
    path = tmp_path / "panels.csv"
    path.write_text("Panel;Amps\nLP-1;1,5\nLP-2;2,5\nLP-3;3\n", encoding="utf-8")
    assert read_csv(path).texts[2, 2] == "1,5"


def test_a_file_of_one_column_is_read(template: Template, tmp_path: Path) -> None:
    path = tmp_path / "rooms.csv"
    path.write_text("Room\nBoiler room\nYard\n", encoding="utf-8")
    assert read_fill(path, template).tables["rooms"] == [{"room": "Boiler room"}, {"room": "Yard"}]


def test_a_folder_fills_each_sheet_from_its_file() -> None:
    filling = read_fill(BAKERY, load_template("industrial"))
    counts = {key: len(rows) for key, rows in filling.tables.items()}
    # Lines of each file of the notes, less the line of headings.
    assert counts == {
        path.stem: len(path.read_text(encoding="utf-8").splitlines()) - 1
        for path in BAKERY.glob("*.csv")
        if path.stem not in ("job", "expected")
    }
    assert filling.job["property"] == "Quarry Street Bakery and Cold Store"
    assert filling.job["inspection_date"] == "2026-09-16"
    assert len(filling.job) == 12
    first = filling.tables["clearances"][0]
    assert (first["tag"], first["depth"], first["equipment_width"]) == ("SD-1", "5'-0\"", "38")
    assert not filling.extra_columns
    assert not filling.extra_job


def test_files_that_are_no_csv_are_named(template: Template, tmp_path: Path) -> None:
    (tmp_path / "rooms.csv").write_text("Room,Floor\nYard,0\n", encoding="utf-8")
    (tmp_path / "plan.pdf").write_bytes(b"x")
    report = read_fill(tmp_path, template).report
    assert report is not None
    assert "Not read, since no CSV: plan.pdf." in report.lines


def test_a_file_that_fits_no_sheet_is_kept_as_one(template: Template, tmp_path: Path) -> None:
    (tmp_path / "rooms.csv").write_text("Room,Floor\nYard,0\n", encoding="utf-8")
    (tmp_path / "costs.csv").write_text("What,Cost\nPaint,12\n", encoding="utf-8")
    filling = read_fill(tmp_path, template)
    assert [(s.name, s.rows) for s in filling.extra_sheets] == [
        ("costs", (("What", "Cost"), ("Paint", "12")))
    ]


def test_a_job_file_lying_across_is_read_too(template: Template, tmp_path: Path) -> None:
    (tmp_path / "job.csv").write_text(
        "Property,Date,Surveyor,Weather\nHarbour House,2026-01-05,A. Example,dry\n", encoding="utf-8"
    )
    filling = read_fill(tmp_path, template)
    assert filling.job == {
        "property": "Harbour House",
        "inspection_date": "2026-01-05",
        "inspector": "A. Example",
    }
    assert filling.extra_job == [("Weather", "dry")]


def test_a_workbook_with_the_wrong_ending_is_read_as_what_it_is(template: Template, tmp_path: Path) -> None:
    import xlsxwriter

    with xlsxwriter.Workbook(tmp_path / "list.xlsx") as book:
        book.add_worksheet("Panels").write_column(0, 0, ["Panel", "LP-1"])
        book.worksheets()[0].write_column(0, 1, ["Amps", "225"])
    wrong = (tmp_path / "list.xlsx").rename(tmp_path / "list.csv")
    assert read_fill(wrong, template).tables["equipment"] == [{"tag": "LP-1", "rating_a": "225"}]


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.binary(max_size=60))
@example(data=codecs.BOM_UTF16_LE + b"\x00")
@example(data=b'"' + b"x" * 40)
@example(data=b"sep=\n1,2")
def test_any_bytes_end_in_texts_or_a_sentence(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x.csv"
    path.write_bytes(data)
    said, texts = "x.csv ", ["read"]
    try:
        texts = list(read_csv(path).texts.values())
    except Unusable as error:
        said = str(error)
    assert said.startswith("x.csv ")
    assert all(text.strip() for text in texts)


def test_bytes_of_no_encoding_are_kept_letter_for_letter() -> None:
    assert decode(b"caf\xe9 \x81", "x.csv") == "café \x81"


@pytest.mark.parametrize(
    ("length", "said"),
    [(32_767, ""), (32_768, "x.csv has a field of 32768 characters in row 2"), (200_000, "200000")],
)
def test_a_field_that_no_cell_can_hold_is_refused(
    length: int, said: str, template: Template, tmp_path: Path
) -> None:
    path = tmp_path / "x.csv"
    path.write_text(f"Panel,Remarks\nLP-1,{'x' * length}\n", encoding="utf-8")
    refused = ""
    try:
        assert len(read_fill(path, template).tables["equipment"][0]["remarks"]) == length
    except Unusable as error:
        refused = str(error)
    assert refused.startswith(said) or said in refused
    assert bool(refused) == bool(said)


@sampled_property(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=st.lists(st.lists(st.sampled_from(
    ["Tag", "Panel", "Amps", "Depth (mm)", "Total", "Site:", "Property", "LP-1", "", "1067", "note of many words", "x: y", "\x01", "é;,"]),
    min_size=1, max_size=5), max_size=7), name=st.sampled_from(["equipment", "job", "x", "lists", "clearances"]))  # fmt: skip
def test_any_rows_end_in_a_filling_or_a_sentence(
    rows: list[list[str]], name: str, template: Template, tmp_path: Path
) -> None:
    import csv

    path = tmp_path / f"{name}.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(rows)
    said = f"{name}.csv holds nothing"
    kept: list[str] = []
    try:
        filling = read_fill(path, template)
    except Unusable as error:
        said = str(error)
        assert not any(text.strip() for row in rows for text in row)
    else:
        assert filling.report is not None
        kept = list(filling.report.lines)
        assert all(line.endswith((".", ":")) or line.startswith("  ") for line in kept)
    assert kept or said == f"{name}.csv holds nothing to fill from: every sheet is blank."

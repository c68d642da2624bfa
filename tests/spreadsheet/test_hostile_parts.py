"""Parts made to eat time or memory end soon, and what stands before them is read."""

import pyexpat

import pytest

from tests.sampling import drawn, in_groups_of
from tests.spreadsheet.raw_files import ods_file, sheet_xml, styles_xml, xlsx_file
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import read_workbook

# One that hangs is ended; how long each takes is measured in tests/benchmarks/time_limits.py.
pytestmark = pytest.mark.timeout(120)

FIRST = '<row r="1"><c r="A1"><v>1600</v></c></row>'
LONG = 12_000_000
ENDLESS = {
    "a comment": "<!--" + " " * LONG + "-->",
    "an attribute": f'<row r="2" x="{" " * LONG}"/>',
    "depth": "<v>" * (LONG // 3),
    "depth of rows": "<row>" * 300,
    "names": "".join(f"<a{n}/>" for n in range(LONG // 40)),
    "attribute names": "".join(f"<a b{n}=''/>" for n in range(LONG // 60)),
    "blank cells in a row": '<row r="2">' + "<c/>" * 3_100_000 + "</row>",
    "elements that are no cells": "<a/>" * 3_100_000,
}


def read_soon(path, content):
    path.write_bytes(content)
    return read_workbook(path)


@pytest.mark.sampled
@pytest.mark.parametrize("kind", drawn("endless parts", ENDLESS, in_groups_of(3, ENDLESS)))
def test_what_never_ends_is_given_up(tmp_path, kind):
    content = xlsx_file({"Rooms": sheet_xml(FIRST + ENDLESS[kind])})
    workbook = read_soon(tmp_path / "survey.xlsx", content)
    assert workbook.sheets[0].cells[1, 1].value == 1600
    # From expat 2.6 on a long token no longer costs its square, and one that ends is simply read.
    read_through = kind in ("a comment", "an attribute") and pyexpat.version_info >= (2, 6)
    assert {damage.cell for damage in workbook.damage} == (set() if read_through else {"A1"})


def test_array_formulas_over_everything(tmp_path):
    formula = '<c r="A{0}"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c>'
    rows = "".join(f'<row r="{n}">{formula.format(n)}</row>' for n in range(1, 8_001))
    workbook = read_soon(tmp_path / "survey.xlsx", xlsx_file({"Rooms": sheet_xml(rows)}))
    assert len(workbook.sheets[0].cells) == 8_000
    assert all(cell.formula for cell in workbook.sheets[0].cells.values())
    assert "array formulas" in workbook.damage[0].says


def test_damage_everywhere_is_listed_up_to_a_limit(tmp_path):
    cells = "".join(f'<row r="{n}"><c r="A{n}"><v>x</v></c></row>' for n in range(1, 5_001))
    workbook = read_soon(tmp_path / "survey.xlsx", xlsx_file({"Rooms": sheet_xml(cells)}))
    assert len(workbook.sheets[0].cells) == 5_000
    assert len(workbook.damage) == 1_001
    assert "more damage" in workbook.damage[-1].says


def test_a_part_of_broken_rows_only(tmp_path):
    rows = "".join(f'<row r="{n}">&</row>' for n in range(2, 100_000))
    workbook = read_soon(tmp_path / "survey.xlsx", xlsx_file({"Rooms": sheet_xml(FIRST + rows)}))
    assert workbook.sheets[0].cells[1, 1].value == 1600
    assert len(workbook.damage) == 200


def test_styles_without_end(tmp_path):
    content = xlsx_file({"Rooms": sheet_xml(FIRST)}, styles=styles_xml(more="<a/>" * 600_000))
    workbook = read_soon(tmp_path / "survey.xlsx", content)
    assert workbook.sheets[0].cells[1, 1].value == 1600
    assert ["formats" in damage.says for damage in workbook.damage] == [True]


def test_texts_without_end(tmp_path):
    content = xlsx_file(
        {"Rooms": sheet_xml(FIRST)}, replace={"xl/sharedStrings.xml": f"<sst>{'<si/>' * 4_100_000}</sst>"}
    )
    with pytest.raises(Unusable, match="too much for a survey"):
        read_soon(tmp_path / "survey.xlsx", content)


def test_rows_without_end_in_ods(tmp_path):
    table = f'<table:table table:name="Rooms">{"<table:table-row/>" * 1_100_000}</table:table>'
    with pytest.raises(Unusable, match="more rows on a sheet"):
        read_soon(tmp_path / "survey.ods", ods_file(table))


def test_an_indent_of_spaces_is_read_in_time(tmp_path):
    """Once took minutes: an expression that looked for line ends began again at every space."""
    cell = (
        f'<table:table-cell office:value-type="string"><text:p>MDP{" " * 300_000}</text:p></table:table-cell>'
    )
    content = ods_file(
        f'<table:table table:name="Rooms"><table:table-row>{cell}</table:table-row></table:table>'
    )
    assert read_soon(tmp_path / "survey.ods", content).sheets[0].cells[1, 1].text.rstrip() == "MDP"

"""Cells taken out before a sheet is parsed spare most of the parsing, and change nothing for those that stay.

The same file is read with and without the short cut; what the parser makes of every cell is the
measure. That the cells themselves are right is seen in the other tests of this folder.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from tests.spreadsheet.raw_files import sheet_xml, xlsx_file
from workbook_tools import new as new_workbook
from workbook_tools.spreadsheet import Cell, Workbook, read_workbook, xlsx_sheet
from workbook_tools.spreadsheet.xlsx_unread import Unread, without_unread

FORMS = (
    '<c r="{c}{r}" s="1"/>',
    '<c r="{c}{r}"></c>',
    '<c r="{c}{r}" s="1"><f>A{r}&amp;"x"</f><v></v></c>',
    '<c r="{c}{r}" s="1" t="str"><f>A{r}</f><v></v></c>',
    '<c r="{c}{r}" t="str"><f>A{r}</f><v/></c>',
    '<c r="{c}{r}"><f>A{r}*2</f><v>277.0</v></c>',
    '<c r="{c}{r}" t="b"><f>TRUE()</f><v>1</v></c>',
    '<c r="{c}{r}" t="e"><f>1/0</f><v>#DIV/0!</v></c>',
    '<c r="{c}{r}"><f t="shared" ref="A1:A9" si="0">B{r}</f><v>4</v></c>',
    '<c r="{c}{r}"><f t="shared" si="0"/><v></v></c>',
    '<c r="{c}{r}" t="str"><f>DISPIMG("ID_1",1)</f><v></v></c>',
    '<c r="{c}{r}" t="inlineStr"><is><t>typed over</t></is></c>',
    '<c r="{c}{r}"><v>1600</v></c>',
    "<c><v>7</v></c>",
    "<c/>",
    '<c r="{c}9"><f>A1</f><v></v></c>',
    '<c r="$C{r}"><v>3</v></c>',
    '<!-- <c r="B{r}"><f>A1</f><v></v></c> -->',
    '<c r="{c}{r}" t="inlineStr"><is><t><![CDATA[<c r="B1"/><c r="B2"/></row>]]></t></is></c>',
)
CELLS = st.tuples(st.sampled_from(FORMS), st.sampled_from("ABCD"))
ROWS = st.lists(st.lists(CELLS, max_size=8), max_size=30)
HEADINGS = (
    '<row r="1"><c r="A1" t="inlineStr"><is><t>Tag</t></is></c>'
    '<c r="B1" t="inlineStr"><is><t>Workings: key</t></is></c>'
    '<c r="D1" t="inlineStr"><is><t>Workings: place</t></is></c></row>'
)


def seen(workbook: Workbook) -> list[tuple[dict[tuple[int, int], Cell], object]]:
    """Return all cells of a workbook, the quiet ones put back, and its damage."""
    for sheet in workbook.sheets:
        sheet.restore_quiet()
    return [(dict(sorted(sheet.cells.items())), sheet.damage) for sheet in workbook.sheets]


def in_pieces(size: int) -> object:
    """Give the bytes of a part in pieces of one size, as a package with such pieces would."""

    def cut(chunks: Iterable[bytes], unread: Unread) -> Iterator[bytes]:
        whole = b"".join(chunks)
        return without_unread((whole[at : at + size] for at in range(0, len(whole), size)), unread)

    return cut


@sampled_property(max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rows=ROWS, size=st.integers(40, 4000), headed=st.booleans(), quiet=st.booleans())
def test_the_cells_that_stay_are_read_as_without(
    tmp_path: Path, rows: list[list[tuple[str, str]]], size: int, headed: bool, quiet: bool
) -> None:
    """Nameless cells, shared formulas, comments, raw text, rows cut anywhere: all read the same."""
    written = "".join(
        f'<row r="{number}">{"".join(form.format(c=column, r=number) for form, column in cells)}</row>'
        for number, cells in enumerate(rows, 2)
    )
    path = tmp_path / "rows.xlsx"
    path.write_bytes(xlsx_file({"Sheet": sheet_xml((HEADINGS if headed else "") + written)}))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(xlsx_sheet, "without_unread", lambda chunks, unread: chunks)
        expected = seen(read_workbook(path, quiet_formulas=quiet, workings="Workings"))
        patch.setattr(xlsx_sheet, "without_unread", in_pieces(size))
        assert seen(read_workbook(path, quiet_formulas=quiet, workings="Workings")) == expected


def test_most_of_a_prepared_row_is_gone() -> None:
    """The short cut takes out what it should: only the typed cell of the row is left to parse."""
    row = (
        '<row r="21"><c r="A21" s="1"><v>1</v></c><c r="B21"><f>A21</f><v>5</v></c>'
        '<c r="C21" s="2"/><c r="D21" t="str"><f>B21</f><v></v></c></row>'
    )
    unread = Unread({2}, {}, 0)
    (left,) = without_unread([row.encode()], unread)
    assert left == b'<row r="21"><c r="A21" s="1"><v>1</v></c></row>'
    assert unread.quiet is not None
    assert {column: list(rows) for column, rows in unread.quiet.items()} == {4: [21]}


def test_a_survey_workbook_of_ours_is_mostly_spared_the_parser(tmp_path: Path) -> None:
    """Without the short cut the parser gets four times the bytes, of cells that nobody reads."""
    path = tmp_path / "survey.xlsx"
    new_workbook(path)
    whole = parsed = 0

    def counted(chunks: Iterable[bytes], unread: Unread) -> Iterator[bytes]:
        nonlocal whole, parsed
        pieces = list(chunks)
        whole += sum(map(len, pieces))
        for piece in without_unread(pieces, unread):
            parsed += len(piece)
            yield piece

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(xlsx_sheet, "without_unread", counted)
        read_workbook(path, quiet_formulas=False, workings="Workings")
    assert parsed < whole / 3.8, (parsed, whole)

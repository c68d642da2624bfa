"""The columns of the COBie sheets, in their order.

Source: COBIE-ROWS and COBIE-TAB in sources.csv, rows in cobie_columns.csv among the test data: two open-source
libraries of the people who wrote and use the standard, each read column by column. The standard's own annex was
not seen; sources.csv says of which names the two differ.
"""

from tests.handover.published import COLUMNS
from workbook_tools.handover.model import MOST_CHARACTERS, SHEETS, columns


def test_every_sheet_has_the_published_columns_in_the_published_order():
    written = {sheet.__name__: columns(sheet) for sheet in SHEETS}
    assert written == {sheet: tuple(column.name for column in of) for sheet, of in COLUMNS.items()}
    assert list(written) == list(COLUMNS)


def test_a_cell_holds_no_more_than_published():
    assert MOST_CHARACTERS == 255  # COBIE-ROWS: of every column that is a text

"""The proof after writing: nothing but what was meant, and nothing that runs or calls out."""

import datetime
import zipfile
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.delivery.proof import prove
from workbook_tools.errors import Unusable

MEANT: dict[str, dict[tuple[int, int], Any]] = {
    "Summary": {
        (0, 0): "Property",
        (0, 1): "Quarry Street",
        (1, 0): "Visit",
        (1, 1): datetime.date(2026, 9, 16),
    },
    "Schedule": {
        (0, 0): "Tag",
        (1, 0): "=T1",
        (1, 1): 1600,
        (1, 2): 90.21097956087905,
        (2, 0): "",
        (2, 1): None,
    },
}


def written(path: Path, meant: dict[str, dict[tuple[int, int], Any]] = MEANT) -> Path:
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as workbook:
        day = workbook.add_format({"num_format": "yyyy-mm-dd"})
        for name, cells in meant.items():
            sheet = workbook.add_worksheet(name)
            for (row, column), value in cells.items():
                if isinstance(value, datetime.date):
                    sheet.write_datetime(row, column, datetime.datetime.combine(value, datetime.time()), day)
                elif isinstance(value, str):
                    sheet.write_string(row, column, value)
                elif value is None:
                    sheet.write_blank(row, column, None, day)
                else:
                    sheet.write_number(row, column, value)
    return path


def test_a_workbook_as_meant_passes_and_its_cells_are_counted(tmp_path):
    assert prove(written(tmp_path / "schedule.xlsx"), MEANT) == 8


@pytest.mark.parametrize(
    ("sheet", "place", "value", "says"),
    [
        ("Summary", (0, 1), "Quarry street", r"Summary!B1 holds 'Quarry Street', where 'Quarry street'"),
        ("Schedule", (1, 1), "1600", r"Schedule!B2 holds '1600', where '1600'"),
        ("Schedule", (1, 1), 1600.0001, "Schedule!B2"),
        ("Schedule", (5, 27), "more", r"Schedule!AB6 holds nothing, where 'more'"),
        ("Schedule", (0, 0), "", r"Schedule!A1 holds 'Tag', where nothing"),
        ("Summary", (1, 1), datetime.date(2026, 9, 17), "Summary!B2"),
        ("Schedule", (1, 1), True, "Schedule!B2"),
    ],
)
def test_a_difference_names_sheet_and_cell(tmp_path, sheet, place, value, says):
    meant = {name: dict(cells) for name, cells in MEANT.items()}
    meant[sheet][place] = value
    with pytest.raises(Unusable, match=says):
        prove(written(tmp_path / "schedule.xlsx"), meant)


def test_a_sheet_too_many_or_in_another_order_is_found(tmp_path):
    path = written(tmp_path / "schedule.xlsx")
    with pytest.raises(Unusable, match="Summary, Schedule"):
        prove(path, {"Schedule": MEANT["Schedule"], "Summary": MEANT["Summary"]})
    with pytest.raises(Unusable, match="Summary, Schedule"):
        prove(path, {"Summary": MEANT["Summary"]})


def with_something_more(path: Path, what: str) -> None:
    with xlsxwriter.Workbook(path) as workbook:
        sheet = workbook.add_worksheet("Summary")
        sheet.write_string(0, 0, "Property")
        if what == "formula":
            sheet.write_formula(0, 0, "=1+1", value="Property")
        elif what == "array":
            sheet.write_array_formula("A1:A1", "{=1+1}", value="Property")
        elif what == "link":
            sheet.write_url(0, 0, "https://example.org/", string="Property")
        elif what == "file":
            sheet.write_url(0, 0, "external:other.xlsx", string="Property")
        elif what == "inside":
            sheet.write_url(0, 0, "internal:'Summary'!A2", string="Property")


@pytest.mark.parametrize("what", ["formula", "array", "link", "file"])
def test_what_runs_or_leads_out_stops_it(tmp_path, what):
    with_something_more(tmp_path / "schedule.xlsx", what)
    with pytest.raises(Unusable, match=r"no formula|no link"):
        prove(tmp_path / "schedule.xlsx", {"Summary": {(0, 0): "Property"}})


def test_a_link_within_the_workbook_is_no_harm(tmp_path):
    with_something_more(tmp_path / "schedule.xlsx", "inside")
    assert prove(tmp_path / "schedule.xlsx", {"Summary": {(0, 0): "Property"}}) == 1


def test_a_macro_stops_it(tmp_path):
    path = written(tmp_path / "schedule.xlsx")
    with zipfile.ZipFile(path, "a") as package:
        package.writestr("xl/vbaProject.bin", b"x")
    with pytest.raises(Unusable, match=r"vbaProject\.bin"):
        prove(path, MEANT)


# Control characters cannot stand in XML; a spreadsheet writes them as _xHHHH_ (OOXML part 1, 22.4.2.4, from memory).
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1, max_size=40)


@given(
    st.dictionaries(
        st.tuples(st.integers(0, 40), st.integers(0, 20)),
        st.one_of(TEXTS, st.integers(), st.floats(allow_nan=False, allow_infinity=False)),
        max_size=12,
    )
)
@sampled_property(max_examples=40)
def test_whatever_was_meant_is_read_back(tmp_path_factory, cells):
    cells = {place: value for place, value in cells.items() if isinstance(value, str) or abs(value) < 1e300}
    path = tmp_path_factory.mktemp("proof") / "schedule.xlsx"
    assert prove(written(path, {"Any": cells}), {"Any": cells}) == len(cells)

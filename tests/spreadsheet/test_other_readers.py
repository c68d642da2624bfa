"""The independent reader sees the same cells in healthy files.

Files are made by xlsxwriter and openpyxl, and saved again by LibreOffice Calc and
gnumeric; openpyxl reads them beside this package. What it does differently on purpose
is named in `as_openpyxl_has_it`.
"""

import datetime
import random
import warnings

import openpyxl
import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.styles.numbers import BUILTIN_FORMATS, is_date_format

from workbook_tools.spreadsheet import read_workbook
from workbook_tools.spreadsheet.number_formats import BUILT_IN, date_part

SEEDS = range(4)
TEXTS = (
    "MDP",
    "N/A",
    "007",
    "3’-6 ½”",
    "two\nlines",
    "  spaced  ",
    "\U0001f50c",
    "1E3",
    "a & b < c",
    "=not",
    "x" * 5_000,
)
FORMATS = (
    "yyyy-mm-dd",
    "d/m/yy h:mm",
    "h:mm:ss",
    "[h]:mm:ss",
    "0.00",
    '0" kVA"',
    "@",
    "[Red]0.0;-0.0",
    "mmm yy",
)
FORMULAS = (("=A1&B1", "ab"), ("=1+1", 2), ("=1=1", True), ("=NA()", "#N/A"), ('=""', ""))


def any_cell(rng: random.Random):
    return rng.choice(
        [
            lambda: rng.choice(TEXTS),
            lambda: rng.choice([0, 1600, 3.25, 0.1, 1e-7, 40_000, 4.0]),
            lambda: f"{rng.randrange(10**9)}",
            lambda: rng.random() < 0.5,
            lambda: datetime.datetime(2026, 11, 3) + datetime.timedelta(minutes=rng.randrange(10**6)),
            lambda: datetime.datetime(1990, 1, 1) + datetime.timedelta(days=rng.randrange(20_000)),
            lambda: rng.choice(FORMULAS),
            lambda: None,
        ]
    )()


def fill_with_xlsxwriter(path, seed):
    rng = random.Random(seed)
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "date_1904": seed % 2 == 1}) as book:
        formats = [book.add_format({"num_format": code}) for code in FORMATS]
        for name in ("Equipment", "Rooms & more", "Höhe"):
            sheet = book.add_worksheet(name)
            sheet.merge_range(0, 30, 2, 31, "merged")
            for row in range(40):
                for column in range(12):
                    content = any_cell(rng)
                    if isinstance(content, tuple):
                        sheet.write_formula(row, column, content[0], None, content[1])
                    elif isinstance(content, datetime.datetime):
                        sheet.write_datetime(row, column, content, formats[rng.randrange(2)])
                    else:
                        sheet.write(row, column, content, rng.choice(formats))


def fill_with_openpyxl(path, seed):
    rng = random.Random(seed)
    book = openpyxl.Workbook()
    for name in ("Equipment", "Rooms & more", "Höhe"):
        sheet = book.create_sheet(name)
        sheet.merge_cells("AE1:AF3")
        for row in range(1, 41):
            for column in range(1, 13):
                content = any_cell(rng)
                cell = sheet.cell(row, column, content[0] if isinstance(content, tuple) else content)
                if isinstance(content, str):
                    cell.data_type = "s"
                if isinstance(content, (int, float)) and not isinstance(content, bool):
                    cell.number_format = rng.choice(FORMATS)
    book.save(path)


def as_openpyxl_has_it(cell):
    """Our cell in openpyxl's terms: dates are datetimes, an empty result is None."""
    value = cell.value
    if cell.kind == "date" and isinstance(value, float):
        return "outside"  # openpyxl gives #VALUE! there and loses the number
    if cell.serial is not None and cell.serial < 1 and isinstance(value, datetime.date):
        return (datetime.datetime.combine(value, datetime.time()) if cell.serial == 0 else value).time()
    if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
        return datetime.datetime.combine(value, datetime.time())
    if isinstance(value, str):
        return value.replace("\r\n", "\n") or None
    return value


def as_elapsed(value):
    """Take a time of day as the time since midnight; .ods does not tell the two apart."""
    if isinstance(value, datetime.time):
        return datetime.datetime.combine(datetime.datetime.min, value) - datetime.datetime.min
    return value


def same(ours, theirs):
    if isinstance(ours, datetime.datetime) and isinstance(theirs, datetime.datetime):
        return abs(ours - theirs) <= datetime.timedelta(milliseconds=1)
    if isinstance(ours, datetime.timedelta) != isinstance(theirs, datetime.timedelta):
        ours, theirs = as_elapsed(ours), as_elapsed(theirs)
    if isinstance(ours, datetime.time) and isinstance(theirs, datetime.time):
        return ours.replace(microsecond=0) == theirs.replace(microsecond=0)
    if isinstance(ours, datetime.timedelta) and isinstance(theirs, datetime.timedelta):
        return abs(ours - theirs) <= datetime.timedelta(milliseconds=1)
    if isinstance(ours, float) and isinstance(theirs, (int, float)) and not isinstance(theirs, bool):
        return ours == theirs
    return type(ours) is type(theirs) and ours == theirs


def assert_both_see_the_same(path):
    workbook = read_workbook(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # gnumeric names no default style, and openpyxl says so
        values, formulas = openpyxl.load_workbook(path, data_only=True), openpyxl.load_workbook(path)
    assert workbook.damage == []
    assert [sheet.name for sheet in workbook.sheets] == values.sheetnames
    compared = 0
    for sheet in workbook.sheets:
        seen = {}
        for row in formulas[sheet.name].iter_rows():
            for cell in row:
                if cell.value is not None and not (cell.data_type == "s" and cell.value == ""):
                    seen[cell.row, cell.column] = cell
        assert set(sheet.cells) == set(seen)
        for place, cell in sheet.cells.items():
            formula = seen[place].data_type == "f" and str(seen[place].value) not in ("=TRUE()", "=FALSE()")
            assert (cell.formula is not None) == formula, (sheet.name, place)
            ours, theirs = as_openpyxl_has_it(cell), values[sheet.name].cell(*place).value
            if str(seen[place].value) in ("=TRUE()", "=FALSE()"):
                theirs = (
                    str(seen[place].value) == "=TRUE()"
                )  # stored as 1 or 0, shown as a time in a date's format
            if theirs == "":
                theirs = None
            assert ours == "outside" or same(ours, theirs), (sheet.name, place, cell, theirs)
            assert cell.number_format == seen[place].number_format
            compared += 1
        ranges = {(r.top, r.left, r.bottom, r.right) for r in sheet.merged}
        assert ranges == {
            (r.min_row, r.min_col, r.max_row, r.max_col) for r in formulas[sheet.name].merged_cells.ranges
        }
    return compared


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("fill", [fill_with_xlsxwriter, fill_with_openpyxl])
def test_both_readers_see_the_same_cells(tmp_path, fill, seed):
    fill(tmp_path / "survey.xlsx", seed)
    assert assert_both_see_the_same(tmp_path / "survey.xlsx") > 1_000


@pytest.mark.office
@pytest.mark.parametrize("program", ["soffice", "ssconvert"])
@pytest.mark.parametrize("fill", [fill_with_xlsxwriter, fill_with_openpyxl])
def test_both_readers_see_the_same_cells_after_another_program(office, tmp_path, fill, program):
    fill(tmp_path / "survey.xlsx", 7)
    save_again = {"soffice": office.convert, "ssconvert": office.gnumeric}[program]
    path = save_again(tmp_path / "survey.xlsx", "xlsx")
    assert assert_both_see_the_same(path) > 1_000


@pytest.mark.office
def test_the_same_survey_reads_alike_from_ods(office, tmp_path):
    """Values agree; formulas differ in spelling, .ods states no formats, and a formula's TRUE as 1."""
    fill_with_xlsxwriter(tmp_path / "survey.xlsx", 8)
    xlsx = read_workbook(office.convert(tmp_path / "survey.xlsx", "xlsx"))
    ods = read_workbook(office.convert(tmp_path / "survey.xlsx", "ods"))
    assert [s.name for s in xlsx.sheets] == [s.name for s in ods.sheets]
    for one, other in zip(xlsx.sheets, ods.sheets, strict=True):
        assert set(one.cells) == set(other.cells)
        for place, cell in one.cells.items():
            twin = other.cells[place]
            assert (cell.formula is None) == (twin.formula is None), (place, cell, twin)
            if cell.kind == "bool" and cell.formula:
                assert twin.value == int(cell.value)
            elif cell.serial is not None and isinstance(twin.value, datetime.timedelta):
                assert datetime.timedelta(cell.serial) == twin.value
            elif (
                isinstance(cell.value, datetime.date)
                and cell.serial < 61
                and isinstance(twin.value, datetime.date)
            ):
                # Excel counts a 29 February 1900 that never was, LibreOffice does not.
                assert abs((cell.value - twin.value).days) <= 1
            elif not isinstance(cell.value, float):
                assert same(as_openpyxl_has_it(cell), as_openpyxl_has_it(twin)), (place, cell, twin)
        assert sorted(one.merged) == sorted(other.merged)


VISIBLE = st.text(
    st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="￾￿"), min_size=1, max_size=60
)


@settings(max_examples=60, deadline=None)
@given(texts=st.lists(VISIBLE, min_size=1, max_size=20))
def test_any_text_comes_back_as_it_was_written(tmp_path_factory, texts):
    path = tmp_path_factory.mktemp("texts") / "survey.xlsx"
    with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_urls": False}) as book:
        sheet = book.add_worksheet()
        for row, text in enumerate(texts):
            sheet.write_string(row, 0, text)
    cells = read_workbook(path).sheets[0].cells
    assert [cells[row, 1].text for row in range(1, len(texts) + 1)] == texts


def test_numbered_formats_are_the_other_readers():
    """Openpyxl's table, but for the East Asian numbers that it does not list."""
    assert {
        number: code for number, code in BUILT_IN.items() if not (27 <= number <= 36 or number >= 50)
    } == {number: code for number, code in BUILTIN_FORMATS.items() if number in BUILT_IN}


@pytest.mark.parametrize(
    "code", [*FORMATS, *BUILTIN_FORMATS.values(), "[$-409]mmmm d, yyyy;@", '"day"0', "mm:ss.0"]
)
def test_date_formats_are_the_other_readers(code):
    assert (date_part(code) is not None) == is_date_format(code)

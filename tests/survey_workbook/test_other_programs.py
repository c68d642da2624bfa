"""The workbook opens elsewhere with drop-downs, messages and live cells intact.

Programs: LibreOffice and gnumeric save it again; openpyxl and python-calamine read it as
it is; openxml-audit holds it against the schemas of the file format.
"""

from __future__ import annotations

import warnings
from functools import cache
from pathlib import Path

import openpyxl
import pytest

from tests.office.programs import Office
from tests.sampling import drawn
from tests.survey_workbook.workbook_lint import lint
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import Template, load_template
from workbook_tools.survey_workbook.layout import FIRST_ROW, HEADING_ROW, letters
from workbook_tools.survey_workbook.lists import offered
from workbook_tools.survey_workbook.writing import identity, write_survey_workbook

ROWS = 12
EQUIPMENT = [
    {
        "tag": "MSB",
        "kind": "Switchboard",
        "voltage": "480Y/277",
        "phase": "3",
        "wires": "4",
        "fed_from": "Utility",
    },
    {
        "tag": "=1+1",
        "kind": "Panelboard",
        "voltage": "480",
        "phase": "3",
        "wires": "3",
        "fed_from": "MSB",
        "rating_a": "1E3",
    },
    {"tag": "007", "room": "MAR1", "rating_a": "1/2", "remarks": "http://not.a.link/ <b>&amp;"},
]


@pytest.fixture(scope="module")
def template() -> Template:
    return load_template("office").as_written({})


@pytest.fixture(scope="module")
def survey_workbook(tmp_path_factory: pytest.TempPathFactory, template: Template) -> Path:
    path = tmp_path_factory.mktemp("written") / "survey.xlsx"
    write_survey_workbook(path, template, {"equipment": EQUIPMENT}, {"property": "Invented House"}, rows=ROWS)
    return path


@cache
def _open(path: Path, *, results: bool = False) -> openpyxl.Workbook:
    with warnings.catch_warnings():
        # gnumeric writes no default style, which openpyxl remarks on.
        warnings.filterwarnings("ignore", message="Workbook contains no default style")
        return openpyxl.load_workbook(path, data_only=results)


@cache
def _as_saved(path: Path, program: str, office: Office) -> Path:
    return {
        "as written": lambda: path,
        "LibreOffice": lambda: office.recalculate(path),
        "gnumeric": lambda: office.gnumeric(path),
    }[program]()


OFFICE = drawn("office programs", ["LibreOffice", "gnumeric"], lambda name: "any")
PROGRAMS = [
    "as written",
    *(pytest.param(name, marks=[pytest.mark.office, pytest.mark.sampled]) for name in OFFICE),
]


@pytest.mark.parametrize("program", PROGRAMS)
def test_drop_downs_and_messages_are_there(
    program: str, survey_workbook: Path, template: Template, office: Office
) -> None:
    book = _open(_as_saved(survey_workbook, program, office))
    for sheet in template.sheets:
        if sheet.layout != "table":
            continue
        rules = list(book[sheet.name].data_validations.dataValidation)
        for number, column in enumerate(sheet.columns, 1):
            if column.live:
                continue
            cell = book[sheet.name].cell(FIRST_ROW, number).coordinate
            found = [rule for rule in rules if cell in rule]
            assert len(found) == 1, f"{sheet.name} {column.heading}"
            assert found[0].prompt == column.ask
            if column.vocabulary and program != "gnumeric":  # it keeps no drop-down that raises no dialog
                assert found[0].type == "list"
                assert not found[0].showErrorMessage
                listed = [
                    cells[0].value
                    for cells in book[template.by_key["lists"].name][
                        found[0].formula1.rpartition("!")[2].replace("$", "")
                    ]
                ]
                assert listed == offered(template, column.vocabulary)


@pytest.mark.parametrize("program", PROGRAMS)
def test_live_cells_are_formulas_and_hidden_columns_hidden(
    program: str, survey_workbook: Path, template: Template, office: Office
) -> None:
    book = _open(_as_saved(survey_workbook, program, office))
    for sheet in template.sheets:
        if sheet.layout != "table":
            continue
        page = book[sheet.name]
        for number, column in enumerate(sheet.columns, 1):
            assert page.cell(HEADING_ROW, number).value == column.heading
            if column.live:
                assert str(page.cell(FIRST_ROW + ROWS - 1, number).value).startswith("=")
        hidden = page.column_dimensions[openpyxl.utils.get_column_letter(len(sheet.columns) + 1)]
        assert hidden.hidden


@pytest.mark.parametrize("program", PROGRAMS)
def test_typed_cells_keep_their_text(
    program: str, survey_workbook: Path, template: Template, office: Office
) -> None:
    page = _open(_as_saved(survey_workbook, program, office))["Equipment"]
    by_field = {column.field: number for number, column in enumerate(template.by_key["equipment"].columns, 1)}
    for row, texts in enumerate(EQUIPMENT, FIRST_ROW):
        for field, text in texts.items():
            cell = page.cell(row, by_field[field])
            assert (cell.value, cell.data_type) == (text, "s")
    for field in ("tag", "voltage", "rating_a", "wires"):
        assert page.cell(FIRST_ROW + 5, by_field[field]).number_format == "@"


@pytest.mark.parametrize("program", PROGRAMS)
def test_results_are_the_same_everywhere(
    program: str, survey_workbook: Path, template: Template, office: Office
) -> None:
    page = _open(_as_saved(survey_workbook, program, office), results=True)["Equipment"]
    by_field = {column.field: number for number, column in enumerate(template.by_key["equipment"].columns, 1)}
    volts = [page.cell(row, by_field["volts_to_ground"]).value for row in range(FIRST_ROW, FIRST_ROW + 4)]
    assert [value or "" for value in volts] == [277, 277, "", ""]
    checks = [page.cell(row, by_field["row_check"]).value or "" for row in range(FIRST_ROW, FIRST_ROW + 4)]
    assert checks[0] == "Fill in: Room, Rating (A), Maker"
    assert checks[3] == ""


def test_calamine_reads_texts_and_results(survey_workbook: Path, template: Template, office: Office) -> None:
    book = office.package("python_calamine").CalamineWorkbook.from_path(survey_workbook)
    assert book.sheet_names == [sheet.name for sheet in template.sheets]
    rows = book.get_sheet_by_name("Equipment").to_python()
    headings = rows[HEADING_ROW - 1]
    first = dict(zip(headings, rows[FIRST_ROW - 1], strict=True))
    assert (first["Tag"], first["Voltage"], first["Volts to ground"]) == ("MSB", "480Y/277", 277.0)
    assert all(set(row) == {""} for row in rows[FIRST_ROW - 1 + len(EQUIPMENT) :])


def test_the_file_says_twice_what_it_is(survey_workbook: Path, template: Template) -> None:
    book = _open(survey_workbook)
    assert book.custom_doc_props["workbook-schema"].value == identity(template) == "survey 1 office"
    guide = book[template.by_key["start"].name]
    assert identity(template) in {cell.value for row in guide.iter_rows() for cell in row}


def test_every_sheet_is_ready_to_print(survey_workbook: Path, template: Template) -> None:
    book = _open(survey_workbook)
    for sheet in template.sheets:
        page = book[sheet.name]
        assert page.page_setup.paperSize == {"letter": 1, "a4": 9}[template.firm.paper]
        assert page.page_setup.orientation in ("portrait", "landscape")
        if sheet.layout == "table":
            smallest = min(
                page.cell(FIRST_ROW, number).font.size for number in range(1, len(sheet.columns) + 1)
            )
            assert smallest * page.page_setup.scale / 100 >= 8
            assert page.print_title_cols == "$A:$B"
        else:
            assert (page.sheet_properties.pageSetUpPr.fitToPage, page.page_setup.fitToHeight) == (True, 0)
        assert page.print_title_rows or sheet.layout == "lists"
        assert page.oddFooter.right.text == "Page &P of &N"


def test_the_lists_never_print(survey_workbook: Path, office: Office, template: Template) -> None:
    name = template.by_key["lists"].name
    area = _open(survey_workbook)[name].print_area
    assert _open(survey_workbook)[name][area.split("!")[-1].replace("$", "").split(":")[0]].value is None
    headers = {page.strip().split("\n")[0].strip() for page in office.printed(survey_workbook)}
    assert name not in headers
    assert {"Start here", "Equipment"} <= headers


def test_tag_row_check_and_any_typed_column_fit_a_phone(survey_workbook: Path, template: Template) -> None:
    """390 points across, less the row numbers of the program; a column whose width is stated as w takes 7 w of them (Office Open XML, 18.3.1.13, from memory)."""
    for sheet in template.sheets:
        if sheet.layout != "table":
            continue
        page = _open(survey_workbook)[sheet.name]
        widths = [
            page.column_dimensions[letters(number)].width * 7 for number in range(1, len(sheet.columns) + 1)
        ]
        typed = [width for width, column in zip(widths, sheet.columns, strict=True) if not column.live]
        assert sheet.columns[1].live == "row_check"
        assert sum(widths[:2]) + max(typed[1:]) <= 390 - 30, sheet.name


def test_the_heading_row_the_tag_and_the_row_check_stay_in_sight(
    survey_workbook: Path, template: Template
) -> None:
    book = _open(survey_workbook)
    frozen = {book[sheet.name].freeze_panes for sheet in template.sheets if sheet.layout == "table"}
    assert frozen == {f"C{FIRST_ROW}"}


def test_validators_find_nothing(tmp_path: Path, template: Template, office: Office) -> None:
    path = new_workbook(tmp_path / "small.xlsx", rows=3).path
    assert lint(path) == []
    audit = office.package("openxml_audit")
    result = audit.OpenXmlValidator().validate(path)
    assert result.is_valid, [str(error) for error in result.errors][:5]

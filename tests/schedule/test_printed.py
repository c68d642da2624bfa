"""How the schedule prints: nothing cut, no heading alone, the caution on every page.

What a line holds is measured with an installed face of the same widths (Liberation Sans), and the
pages are those that LibreOffice makes; both are programs that did not write the workbook.
"""

import re
import subprocess
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import pytest
from openpyxl import load_workbook

from tests.schedule.notes import bakery
from workbook_tools.checking import check_survey
from workbook_tools.files.text_width import text_width, wrapped
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule, write_schedule
from workbook_tools.schedule.printed_page import WIDTH

FACE = Path("/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf")
LONG = "Corrosion along the bottom edge, on the hinge side and behind the conduit entry; " * 60


@pytest.fixture(scope="module")
def draft(tmp_path_factory):
    checked = check_survey(bakery())
    path = tmp_path_factory.mktemp("draft") / "schedule.xlsx"
    schedule = build_schedule(
        checked, questions=[p for p in checked.problems if p.class_ == "confirm"], draft=True
    )
    return path, schedule, write_schedule(schedule, path)


def one_finding(seen, **job):
    return survey_of(
        as_typed(
            job={"property": "Harbour House (invented)", **job},
            equipment=[{"tag": "DP-1", "kind": "Panelboard", "fed_from": "Utility"}],
            findings=[{"subject": "DP-1", "finding": "Corrosion of the enclosure", "seen": seen}],
        )
    )


@pytest.mark.office
@pytest.mark.parametrize(
    "text", ["Two of eight trim screws missing", "480Y/277 V, 3-phase, 4-wire", "MCC-1 WWW iii 0123"]
)
def test_widths_are_those_of_an_installed_face(office, text):
    from PIL import ImageFont

    office.program("soffice")
    face = ImageFont.truetype(str(FACE), 900, layout_engine=ImageFont.Layout.BASIC)
    measured = face.getlength(text) / 900 * 9 * 96 / 72
    assert text_width(text, 9) == pytest.approx(measured, rel=0.01)


def test_every_sheet_prints_the_caution_the_page_number_and_draft(draft):
    workbook = load_workbook(draft[0])
    assert workbook.sheetnames == list(draft[2])
    for sheet in workbook:
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.page_setup.paperSize == 1
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
        footer = str(sheet.oddFooter.center.text)
        assert "Visual survey only" in footer
        assert "local authority" in footer
        assert "opens or works on equipment" in footer
        assert "&P of &N" in str(sheet.oddHeader.right.text) or "Page &[Page] of &N" in str(
            sheet.oddHeader.right.text
        )
        assert "DRAFT" in str(sheet.oddHeader.center.text)


def test_headings_repeat_on_every_page(draft):
    workbook = load_workbook(draft[0])
    for name in (
        "Schedule",
        "Issues",
        "Clearances",
        "Transformers",
        "Supply tree",
        "Limits of this survey",
        "Words used",
    ):
        sheet = workbook[name]
        row = int(re.findall(r"\d+", sheet.print_title_rows)[0])
        assert [cell.value for cell in sheet[row]][1] is not None


def test_a_text_of_five_thousand_letters_is_printed_whole(tmp_path):
    schedule = build_schedule(check_survey(one_finding(LONG.strip())))
    path = tmp_path / "schedule.xlsx"
    write_schedule(schedule, path)
    sheet = load_workbook(path)["Issues"]
    printed = " ".join(str(row[2]) for row in sheet.iter_rows(min_row=4, values_only=True) if row[2])
    assert " ".join(LONG.split()).rstrip("; ") in " ".join(printed.split())
    assert max(dimension.height or 0 for dimension in sheet.row_dimensions.values()) < 400


def test_every_row_is_as_high_as_its_longest_text(draft):
    workbook = load_workbook(draft[0])
    checked = 0
    for sheet in workbook:
        merged = {r.coord.split(":")[0]: r for r in sheet.merged_cells.ranges}
        for cells in sheet.iter_rows():
            for cell in cells:
                if not isinstance(cell.value, str) or not cell.alignment.wrap_text:
                    continue
                span = merged.get(cell.coordinate)
                last = span.max_col if span else cell.column
                pixels = sum(column_pixels(sheet, column) for column in range(cell.column, last + 1)) - 7
                lines = len(wrapped(cell.value, pixels / 0.98, cell.font.sz, bool(cell.font.b)))
                assert sheet.row_dimensions[cell.row].height >= lines * cell.font.sz * 1.2, (
                    sheet.title,
                    cell.coordinate,
                )
                checked += 1
    assert checked > 400


def column_pixels(sheet, column):
    for dimension in sheet.column_dimensions.values():
        if dimension.min <= column <= dimension.max:
            return dimension.width * 7
    return 64


def test_a_four_uses_its_own_paper(tmp_path):
    from dataclasses import replace

    schedule = build_schedule(check_survey(one_finding("rust")))
    path = tmp_path / "a4.xlsx"
    write_schedule(
        replace(schedule, firm=replace(schedule.firm, paper="a4", name="Marlowe & Sons (invented)")), path
    )
    workbook = load_workbook(path)
    assert {sheet.page_setup.paperSize for sheet in workbook} == {9}
    assert any(
        "Marlowe & Sons (invented)" in str(cell.value)
        for row in workbook["Summary"].iter_rows()
        for cell in row
    )


def test_a_property_name_cannot_break_the_header(tmp_path):
    schedule = build_schedule(
        check_survey(one_finding("rust", property='8th & Main &P &"Courier" ' + "long " * 60))
    )
    path = tmp_path / "schedule.xlsx"
    write_schedule(schedule, path)
    with zipfile.ZipFile(path) as package:
        sheet = ElementTree.fromstring(package.read("xl/worksheets/sheet3.xml"))
    header = next(part.text for part in sheet.iter() if part.tag.endswith("}oddHeader"))
    assert len(header) <= 255
    # Two signs are one literal sign (ECMA-376 part 1, 18.3.1.46, from memory); what is left are our own codes.
    left = re.match(r"&L(.*)&R", header.replace("&&", "\0")).group(1)
    assert left.startswith('&"Arial"&8 8th \0 Main \0P \0"Courier"')
    assert "&" not in left[len('&"Arial"&8') :]


def test_sheets_that_would_be_empty_are_left_out_and_said(tmp_path):
    schedule = build_schedule(check_survey(survey_of(as_typed(job={"property": "Empty House (invented)"}))))
    path = tmp_path / "schedule.xlsx"
    meant = write_schedule(schedule, path)
    assert list(meant) == ["Summary", "Schedule", "Issues", "Limits of this survey", "Words used"]
    assert "No service disconnect was found" in schedule.services[0]
    assert any(line.what == "Working space" for line in schedule.limits)


def test_a_column_that_would_be_empty_is_not_printed_and_leaves_its_room(tmp_path):
    plates = [{"tag": "T-1", "kva": "45", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}]
    widths = []
    for remarks in ({}, {"remarks": "hums"}):
        survey = survey_of(as_typed(transformers=[{**plates[0], **remarks}]))
        path = tmp_path / "schedule.xlsx"
        write_schedule(build_schedule(check_survey(survey)), path)
        sheet = load_workbook(path)["Transformers"]
        headings = [cell.value for cell in sheet[3] if cell.value]
        assert ("Remarks" in headings) == bool(remarks)
        widths.append(sum(column_pixels(sheet, place + 1) for place in range(len(headings))))
    assert widths[0] == pytest.approx(widths[1], abs=8)


def test_every_table_is_as_wide_as_the_paper(draft):
    for sheet in load_workbook(draft[0]):
        pixels = sum(column_pixels(sheet, column) for column in range(1, sheet.max_column + 1))
        assert pixels == pytest.approx(WIDTH, rel=0.02), sheet.title


def test_no_text_touches_the_edge_it_stands_at(draft):
    workbook = load_workbook(draft[0])
    for name in (
        "Schedule",
        "Issues",
        "Clearances",
        "Transformers",
        "Supply tree",
        "Limits of this survey",
        "Words used",
    ):
        for row in workbook[name].iter_rows(min_row=4):
            for cell in row:
                if cell.value is not None and cell.coordinate not in workbook[name].merged_cells:
                    centred = cell.alignment.horizontal == "center"
                    assert centred or (cell.alignment.indent or 0) >= 1, (name, cell.coordinate)
                    pictured = name == "Issues" and cell.column_letter == "H"
                    assert cell.alignment.vertical == ("top" if pictured else "center")


def test_several_sources_stand_one_under_the_other(tmp_path):
    survey = survey_of(
        as_typed(
            equipment=[
                {"tag": f"P-{n}", "kind": "Panelboard", "fed_from": "P-1, P-2, P-3"} for n in range(1, 5)
            ]
        )
    )
    meant = write_schedule(build_schedule(check_survey(survey)), tmp_path / "schedule.xlsx")
    assert "P-1,\nP-2 and\nP-3" in meant["Schedule"].values()


@pytest.fixture(scope="module")
def pages(office, draft):
    pdf = office.convert(draft[0], "pdf")
    text = subprocess.run(
        [office.program("pdftotext"), "-layout", str(pdf), "-"],
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    ).stdout
    return [page for page in text.split("\f") if page.strip()]


@pytest.mark.office
def test_every_page_has_caution_number_and_draft_and_something_to_read(pages):
    assert len(pages) >= 10
    for number, page in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in page
        assert "Visual survey only" in page
        assert "DRAFT" in page
        own = [line for line in page.splitlines() if line.strip()]
        assert len(own) >= 3 or "Supply picture" in page


@pytest.mark.office
def test_within_two_pages_an_owner_finds_the_switch_the_first_thing_and_what_was_not_seen(pages):
    first = " ".join(" ".join(pages[:2]).split())
    assert "Where to switch off the building" in first
    assert "SD-1, the fused switch in the Main electrical room" in first
    assert "What to do first" in first
    assert "RP-4, panelboard, Loading dock" in first
    assert "What was not looked at" in first
    assert "Tenant cold store" in first


@pytest.mark.office
def test_no_heading_of_a_group_ends_a_page(pages):
    groups = re.compile(
        r"^\s*(Act now|Correct soon|Upkeep|Record) \(\d+\)\s*$|^\s*(Rooms not entered|Not compared|Open questions)\s*$"
    )
    for page in pages:
        lines = [line for line in page.splitlines() if line.strip()][:-1]  # the footer
        assert not groups.match(lines[-1]), lines[-1]


@pytest.mark.office
def test_no_page_is_one_column_too_many(office, draft, pages):
    # Every sheet keeps its first column on each of its pages; a page of right-hand columns alone would not.
    tags = [page for page in pages if ": Schedule" in page.splitlines()[0] or ": Schedule" in page[:200]]
    assert tags
    for page in tags:
        assert re.search(r"^\s*(Tag|Schedule of equipment)", page, re.MULTILINE)


@pytest.mark.office
def test_the_words_do_not_leave_one_or_two_alone_on_a_page(pages):
    last = [line for line in pages[-1].splitlines() if line.strip()]
    assert "Words used" in last[0]
    assert len(last) >= 8  # head, headings, six words at least, footer

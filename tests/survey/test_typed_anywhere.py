"""Whatever somebody types into a survey workbook is read, wherever it stands.

It is asked about or listed, it is in the fingerprint, and it goes out with the data.
"""

from __future__ import annotations

import re
import shutil
import zipfile
from pathlib import Path
from typing import NamedTuple

import pytest
import xlsxwriter
from openpyxl import load_workbook
from openpyxl.comments import Comment

from tests.spreadsheet.raw_files import ods_file
from workbook_tools.checking import check_survey
from workbook_tools.commands import new
from workbook_tools.delivery.tables import survey_tables
from workbook_tools.rules.written import Said, answer
from workbook_tools.survey import Survey, fingerprint, read_survey
from workbook_tools.survey.fingerprint import lines_of

ROW, BLANK_ROW, BELOW = 3, 9, 40

TYPED = {
    "above the headings of a table": ("Equipment", "D1", "breaker door would not close"),
    "beside the line above a table": ("Rooms", "H1", "key at the front desk"),
    "above the labels": ("Job", "C1", "manager was on site"),
    "below the labels": ("Job", "B40", "second visit agreed"),
    "on the guide, below it": ("Start here", "B70", "roof unit left out"),
    "on the guide, in another column": ("Start here", "D5", "ladder is missing"),
    "below a list of choices": ("Lists", "A30", "Perhaps"),
    "at the end of a list of choices": ("Lists", "C24", "Bus plug"),
    "over a choice": ("Lists", "E3", "three, I think"),
    "far from every list": ("Lists", "KZ4", "ask for the drawings"),
    "below the longest hidden list": ("Lists", "BZ900", "asbestos sign at the door"),
    "in a hidden column of a row": ("Equipment", "AF3", "hot to the touch"),
    "in a hidden column of a blank row": ("Equipment", "AF20", "spare bucket"),
    "beside a table": ("Equipment", "HZ3", "sticker from 2019"),
    "below a table": ("Equipment", "A60", "note: the tenant's panels are not ours"),
}
COMMENTS = {
    "on an answer of a row": ("Equipment", f"F{ROW}", "placard says 480, meter said 208"),
    "on a blank cell of a row": ("Equipment", f"Q{ROW}", "no photo, phone was wet"),
    "on a live cell of a row": ("Equipment", f"Z{ROW}", "this cell is wrong"),
    "on an answer of the labels": ("Job", "B3", "the owner calls it Harbour Hall"),
    "on a row without an entry": ("Equipment", f"A{BLANK_ROW}", "one more panel behind the shelf"),
    "on a heading": ("Rooms", "A2", "numbers as on the doors"),
    "on the guide": ("Start here", "B12", "was not done in room 4"),
}
WHERE = {**TYPED, **COMMENTS}


@pytest.fixture(scope="module")
def plain(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("plain")
    (folder / "equipment.csv").write_text("Tag,Kind,Room,Voltage\nDP-1,Panelboard,Main,208Y/120\n")
    new(folder / "survey.xlsx", fill=folder / "equipment.csv", rows=10, job={"Property": "Harbour House"})
    return folder / "survey.xlsx"


@pytest.fixture(scope="module")
def planted(plain, tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("planted") / "survey.xlsx"
    book = load_workbook(plain)
    for sheet, cell, text in TYPED.values():
        book[sheet][cell] = text
    for sheet, cell, text in COMMENTS.values():
        book[sheet][cell].comment = Comment(text, "Inspector")
    book.save(path)
    return path


class Everything(NamedTuple):
    """What is told of a survey, sealed, and delivered with its data."""

    told: str
    sealed: list[str]
    delivered: list[str]


@pytest.fixture(scope="module")
def read(planted) -> Survey:
    return read_survey(planted)


@pytest.fixture(scope="module")
def read_everything(read) -> Everything:
    return everything(read)


def told(survey: Survey) -> str:
    """Return what the reviewer reads of a survey: the sentences about the file, and the questions."""
    asked = [f"{problem.place} {problem.read} {problem.message}" for problem in check_survey(survey).problems]
    return "\n".join([*survey.notes, *asked])


def everything(survey: Survey) -> Everything:
    sealed = [content for line in lines_of(survey) for _, content in line.cells]
    tables = survey_tables(survey, check_survey(survey).assessment)
    typed = next(table for table in tables if table.name == "as_typed")
    return Everything(told(survey), sealed, [row[-1] for row in typed.rows])


def holds(found: Everything, text: str) -> None:
    assert text in found.told
    assert any(text in content for content in found.sealed)
    assert text in found.delivered


def test_our_own_texts_are_nobodys(plain):
    survey = read_survey(plain)
    assert survey.stray == []
    assert [row.comments for row in survey.rows() if row.comments] == []
    assert survey.notes == []


@pytest.mark.parametrize("where", WHERE)
def test_what_is_typed_is_told_sealed_and_delivered(read_everything, where):
    holds(read_everything, WHERE[where][2])


@pytest.mark.parametrize("where", WHERE)
def test_it_stands_on_the_row_where_it_belongs_to_one(read, where):
    survey = read
    sheet, cell, text = WHERE[where]
    on_rows = {comment.typed: comment.place for row in survey.rows() for comment in row.comments}
    if where.endswith(("of a row", "of the labels")):
        assert on_rows[text] == f"{sheet}!{cell}"
    else:
        assert text not in on_rows
        assert (sheet, cell) in {(value.sheet, value.cell) for value in survey.stray if value.typed == text}


def test_a_comment_that_changes_changes_the_fingerprint(plain, planted, tmp_path):
    book = load_workbook(planted)
    book["Equipment"][f"F{ROW}"].comment = Comment("placard says 480, meter said 240", "Inspector")
    book.save(tmp_path / "survey.xlsx")
    three = {fingerprint(read_survey(path)) for path in (plain, planted, tmp_path / "survey.xlsx")}
    assert len(three) == 3


def test_a_comment_answers_where_remarks_do(read):
    assessment = check_survey(read).assessment
    told = answer(assessment, re.compile("meter said 208"), assessment.survey.equipment[0])
    assert told.said is Said.THERE
    assert told.words == "meter said 208"


def test_a_file_saved_without_formulas_asks_nothing_about_its_results(plain, tmp_path):
    """The library openpyxl with data_only keeps the results alone, as some phones' programs do."""
    load_workbook(plain, data_only=True).save(tmp_path / "survey.xlsx")
    survey = read_survey(tmp_path / "survey.xlsx")
    assert survey.stray == []
    assert [row.comments for row in survey.rows() if row.comments] == []


def test_a_title_above_a_table_of_somebodys_own_is_listed(tmp_path):
    with xlsxwriter.Workbook(tmp_path / "survey.xlsx") as book:
        sheet = book.add_worksheet("Panels")
        sheet.write("A1", "Panels of the east wing; panel LP-9 was not reached")
        sheet.write_row(3, 0, ["Panel", "Location", "Amps", "Volts"])
        sheet.write_row(4, 0, ["RP-1", "Boiler room", "225A", "120/208"])
    survey = read_survey(tmp_path / "survey.xlsx", "office")
    holds(everything(survey), "Panels of the east wing; panel LP-9 was not reached")


def test_text_boxes_are_listed(tmp_path):
    with xlsxwriter.Workbook(tmp_path / "survey.xlsx") as book:
        sheet = book.add_worksheet("Equipment")
        sheet.write_row(0, 0, ["Tag", "Kind", "Room", "Voltage"])
        sheet.write_row(1, 0, ["DP-1", "Panelboard", "Main", "208Y/120"])
        sheet.insert_textbox("F5", "water under DP-1")
        book.add_worksheet("Sketch").insert_textbox("B2", "north is left")
    survey = read_survey(tmp_path / "survey.xlsx", "office")
    for text in ("water under DP-1", "north is left"):
        holds(everything(survey), text)


THREAD = """<?xml version="1.0" encoding="UTF-8"?>
<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments">
<threadedComment ref="B2" id="{1}"><text>is it live?</text></threadedComment>
<threadedComment ref="B2" id="{2}" parentId="{1}"><text>tester was silent</text></threadedComment>
</ThreadedComments>"""
COPY = "[Threaded comment]\n\nYour program lets you read this.\n\nComment:\n    is it live?\nReply:\n    tester was silent"


def test_a_thread_of_comments_is_read_once(tmp_path):
    path = tmp_path / "survey.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Equipment")
        sheet.write_row(0, 0, ["Tag", "Kind", "Room", "Voltage"])
        sheet.write_row(1, 0, ["DP-1", "Panelboard", "Main", "208Y/120"])
        sheet.write_comment("B2", COPY)
        sheet.write_comment("C2", "an ordinary one")
    with zipfile.ZipFile(path) as book:
        parts = {name: book.read(name) for name in book.namelist()}
    links = "xl/worksheets/_rels/sheet1.xml.rels"
    kind = "http://schemas.microsoft.com/office/2017/10/relationships/threadedComment"
    link = f'<Relationship Id="t" Type="{kind}" Target="../threadedComments/threadedComment1.xml"/></Relationships>'
    parts[links] = parts[links].replace(b"</Relationships>", link.encode())
    parts["xl/threadedComments/threadedComment1.xml"] = THREAD.encode()
    with zipfile.ZipFile(path, "w") as book:
        for name, content in parts.items():
            book.writestr(name, content)
    survey = read_survey(path, "office")
    assert [c.typed for c in survey.equipment[0].comments] == [
        "is it live?",
        "tester was silent",
        "an ordinary one",
    ]
    assert [c.heading for c in survey.equipment[0].comments] == ["Kind", "Kind", "Room"]


def _cell(text: str, inside: str = "") -> str:
    return f'<table:table-cell office:value-type="string">{inside}<text:p>{text}</text:p></table:table-cell>'


NOTE = "<office:annotation><dc:creator>Phone</dc:creator><dc:date>2026-09-16</dc:date><text:p>door is <text:span>hot</text:span></text:p><text:p>left side</text:p></office:annotation>"
BOX = "<table:shapes><draw:frame><draw:text-box><text:p>key is at the desk</text:p></draw:text-box></draw:frame><draw:custom-shape><text:p>water here</text:p></draw:custom-shape></table:shapes>"


def test_notes_and_shapes_of_an_ods_are_read(tmp_path):
    headings = "".join(map(_cell, ("Tag", "Kind", "Room", "Voltage")))
    row = _cell("DP-1") + _cell("Panelboard", NOTE) + _cell("Main") + _cell("208Y/120")
    rows = f"<table:table-row>{headings}</table:table-row><table:table-row>{row}</table:table-row>"
    path = tmp_path / "survey.ods"
    path.write_bytes(ods_file(f'<table:table table:name="Equipment">{BOX}{rows}</table:table>'))
    survey = read_survey(path, "office")
    assert [(c.typed, c.place) for c in survey.equipment[0].comments] == [
        ("door is hot\nleft side", "Equipment!B2")
    ]
    assert survey.equipment[0].kind.typed == "Panelboard"
    for text in ("key is at the desk", "water here"):
        holds(everything(survey), text)


@pytest.mark.office
def test_an_office_program_that_saves_it_as_ods_loses_none_of_it(office, planted, tmp_path):
    """LibreOffice: cells, and comments as the annotations of its own format."""
    shutil.copy(planted, tmp_path / "survey.xlsx")
    path = office.convert(tmp_path / "survey.xlsx", "ods")
    survey = read_survey(path)
    said = told(survey)
    assert [text for _, _, text in WHERE.values() if text not in said] == []

"""What a workbook holds that was filled from an earlier survey: the day beside each row, and no such column elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from openpyxl import load_workbook

from tests.office.programs import Office
from workbook_tools.checking import check_survey
from workbook_tools.commands import new
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.filling import Filling, read_fill
from workbook_tools.spreadsheet import read_workbook
from workbook_tools.survey import read_survey, survey_of_texts
from workbook_tools.survey_workbook.layout import FIRST_ROW, Layout

TEMPLATE = load_template("office")
LAYOUT = Layout(TEMPLATE, {}, {sheet.key: 5 for sheet in TEMPLATE.sheets})
PANEL = {"Tag": "LP-1", "Kind": "Panelboard", "Room": "Closet", "Fed from": "Utility", "Rating (A)": "225"}
SPACE = {
    "Tag": "LP-1",
    "Opposite side": "Clear",
    "Depth": "42",
    "Width": "36",
    "Height": "84",
    "Equipment width": "20",
}
OPEN = {"Subject": "LP-1", "Finding": "Open knockout"}

Rows = Sequence[Mapping[str, str]]


class Surveys:
    """Surveys of one panel, as an inspector left them."""

    def __init__(self, folder: Path) -> None:
        self.blank = new(folder / "blank.xlsx", template="office", rows=5).path
        self.last = self.survey(folder / "last.xlsx")
        self.begun = new(folder / "next.xlsx", fill=self.last, job={"Date": "2026-10-05"}, rows=5).path

    def survey(self, path: Path, date: str = "2025-10-06", **sheets: Rows) -> Path:
        book = load_workbook(self.blank)
        columns = {
            sheet.name: [column.heading for column in sheet] for sheet in TEMPLATE.as_written({}).sheets
        }
        tables = {"Equipment": [PANEL], "Clearances": [SPACE], "Findings": [OPEN], **sheets}
        for name, rows in tables.items():
            for number, row in enumerate(rows, FIRST_ROW):
                for heading, text in row.items():
                    book[name].cell(number, columns[name].index(heading) + 1, text)
        book["Job"].cell(FIRST_ROW + columns["Job"].index("Inspection date"), 2, date)
        book.save(path)
        return path


@pytest.fixture(scope="module")
def surveys(tmp_path_factory: pytest.TempPathFactory) -> Surveys:
    return Surveys(tmp_path_factory.mktemp("surveys"))


def headings(path: Path) -> dict[str, set[str]]:
    return {
        sheet.name: {cell.text for (row, _), cell in sheet.cells.items() if row == FIRST_ROW - 1}
        for sheet in read_workbook(path).sheets
    }


def days(filling: Filling) -> dict[str, list[str]]:
    return {key: [row["last_seen"] for row in filling.tables[key]] for key in ("clearances", "findings")}


@pytest.mark.parametrize("template", sorted(stock_templates()))
def test_a_blank_workbook_asks_nothing_of_an_earlier_year(template: str, tmp_path: Path) -> None:
    blank = headings(new(tmp_path / "blank.xlsx", template=template, rows=5).path)
    assert not {"Last seen", "This year"} & set().union(*blank.values())
    lists = next(sheet for sheet in read_workbook(tmp_path / "blank.xlsx").sheets if sheet.name == "Lists")
    assert not {"Still so", "Still there"} & {cell.text for cell in lists.cells.values()}


def test_a_filled_one_has_the_two_columns_beside_what_they_are_about(surveys: Surveys) -> None:
    path, book = surveys.begun, load_workbook(surveys.begun)
    assert "Still so? Answer This year" in {
        cell.text for cell in read_workbook(path).sheets[5].cells.values()
    }
    assert [cell.value for cell in book["Clearances"][2]][:4] == [
        "Tag",
        "Row check",
        "This year",
        "Last seen",
    ]
    assert [cell.value for cell in book["Findings"][2]][:5] == [
        "Subject",
        "Row check",
        "Finding",
        "This year",
        "Last seen",
    ]
    assert [cell.value for cell in book["Clearances"][3]][2:4] == [None, "2025-10-06"]
    shown = next(sheet.cells for sheet in read_workbook(path).sheets if sheet.name == "Clearances")
    assert shown[FIRST_ROW, 2].text == "Still so? Answer This year"
    offered = {
        str(area): rule.formula1
        for rule in book["Clearances"].data_validations.dataValidation
        for area in rule.sqref.ranges
    }
    assert any(area.startswith("C3:") and formula.startswith("Lists!") for area, formula in offered.items())
    assert "Last seen" not in headings(path)["Equipment"]
    guide = [cell.value for cell in book["Start here"]["B"] if cell.value]
    assert any("Of the last survey, not looked at again" in str(text) for text in guide)


def test_the_choices_of_this_year_are_offered_and_no_others(surveys: Surveys) -> None:
    lists = load_workbook(surveys.begun)["Lists"]
    blocks = {
        lists.cell(1, at).value: [lists.cell(row, at).value for row in range(FIRST_ROW, FIRST_ROW + 5)]
        for at in range(1, lists.max_column + 1)
        if lists.cell(1, at).value
    }
    assert [text for text in blocks["Still so"] if text] == ["Still so", "Changed", "Not seen"]
    assert [text for text in blocks["Still there"] if text] == ["Still there", "Mended", "Not seen"]


@pytest.mark.parametrize(
    ("date", "day", "words"),
    [
        ("10/16/2025", "2025-10-16", "October 16, 2025"),
        ("autumn of 2025", "autumn of 2025", "autumn of 2025"),
        ("", "an earlier survey without a date", "an earlier survey without a date"),
    ],
)
def test_the_day_is_the_inspection_date_or_the_words_that_stand_there(
    surveys: Surveys, date: str, day: str, words: str, tmp_path: Path
) -> None:
    last = surveys.survey(tmp_path / "last.xlsx", date)
    assert days(read_fill(last, TEMPLATE)) == {"clearances": [day], "findings": [day]}
    made = survey_of_texts(TEMPLATE, read_fill(last, TEMPLATE).tables, {}, first_row=FIRST_ROW)
    assert [row.is_as_of for row in (*made.clearances, *made.findings)] == [words, words]
    asked = [p.message for p in check_survey(made).problems if p.rule == "not-looked-at-again"]
    assert asked == [
        f"What was measured at LP-1 is of {words}, and This year is blank.",
        f"Open knockout at LP-1 is of {words}, and This year is blank.",
    ]


def test_two_surveys_do_not_mix_their_days(surveys: Surveys, tmp_path: Path) -> None:
    newer = surveys.survey(
        tmp_path / "newer.xlsx", Clearances=[{k: v for k, v in SPACE.items() if k != "Height"}]
    )
    older = surveys.survey(
        tmp_path / "older.xlsx", "2024-10-07", Clearances=[SPACE, {**SPACE, "Tag": "LP-2"}]
    )
    filling = read_fill([newer, older], TEMPLATE)
    first, second = filling.tables["clearances"]
    assert (first["last_seen"], "height" in first) == ("2025-10-06", False)
    assert (first["Height in older.xlsx"], first["Last seen in older.xlsx"]) == ("84", "2024-10-07")
    assert (second["tag"], second["last_seen"]) == ("LP-2", "2024-10-07")


def test_a_list_beside_it_fills_no_measurement_of_another_day(surveys: Surveys, tmp_path: Path) -> None:
    last = surveys.survey(
        tmp_path / "last.xlsx", Clearances=[{k: v for k, v in SPACE.items() if k != "Height"}]
    )
    (tmp_path / "clearances.csv").write_text("Tag,Height,Remarks\nLP-1,90,tall\n", encoding="utf-8")
    (row,) = read_fill([last, tmp_path / "clearances.csv"], TEMPLATE).tables["clearances"]
    assert (row["Height in clearances.csv"], row["last_seen"]) == ("90", "2025-10-06")
    assert "height" not in row


def test_no_list_is_taken_to_say_what_the_tool_writes_itself(tmp_path: Path) -> None:
    (tmp_path / "clearances.csv").write_text(
        "Tag,Depth,Last seen,This year\nLP-1,42,May,yes\n", encoding="utf-8"
    )
    filling = read_fill(tmp_path / "clearances.csv", TEMPLATE)
    taken = {"tag": "LP-1", "depth": "42", "Last seen (2)": "May", "This year (2)": "yes"}
    assert filling.tables["clearances"] == [taken]
    (row,) = read_survey(new(tmp_path / "new.xlsx", fill=tmp_path / "clearances.csv", rows=5).path).clearances
    assert (row.is_as_of, row.extra["Last seen (2)"].typed) == ("", "May")


def test_an_answer_in_other_words_is_kept_and_the_row_keeps_its_day(surveys: Surveys, tmp_path: Path) -> None:
    book = load_workbook(surveys.begun)
    book["Clearances"]["C3"] = "half of it"
    book.save(tmp_path / "answered.xlsx")
    (row,) = read_fill(tmp_path / "answered.xlsx", TEMPLATE).tables["clearances"]
    assert (row["last_seen"], row["This year on 2026-10-05"], row.get("this_year")) == (
        "2025-10-06",
        "half of it",
        None,
    )


@pytest.mark.office
@pytest.mark.slow
@pytest.mark.timeout(300)
def test_answers_typed_in_a_spreadsheet_program_come_back(
    surveys: Surveys, office: Office, tmp_path: Path
) -> None:
    boards = [{**PANEL, "Tag": f"LP-{number}"} for number in range(1, 5)]
    last = surveys.survey(
        tmp_path / "last.xlsx",
        Equipment=boards,
        Clearances=[{**SPACE, "Tag": board["Tag"]} for board in boards],
        Findings=[{**OPEN, "Subject": board["Tag"]} for board in boards],
    )
    begun = new(tmp_path / "next.xlsx", fill=last, job={"Date": "2026-10-05"}, rows=5).path
    letters = {key: LAYOUT.tables[key].letters["this_year"] for key in ("clearances", "findings")}
    steps = [["keys", "Clearances", f"{letters['clearances']}3", ["Still so", "Changed", "not looked at"]]]
    steps += [["keys", "Findings", f"{letters['findings']}3", ["Still there", "fixed", "n/v"]]]
    done = office.by_hand(begun, steps)
    survey_of_it = read_survey(done)
    assert [(row.last_seen.typed, row.this_year.value) for row in survey_of_it.clearances] == [
        ("2025-10-06", "Still so"), ("2025-10-06", "Changed"), ("2025-10-06", "Not seen"), ("2025-10-06", None),
    ]  # fmt: skip
    assert [(row.is_as_of, row.is_mended) for row in survey_of_it.findings] == [
        ("", False), ("", True), ("October 6, 2025", False), ("October 6, 2025", False),
    ]  # fmt: skip
    shown = {sheet.name: sheet.cells for sheet in read_workbook(done).sheets}
    checks = [shown["Clearances"][row, 2].text for row in range(3, 7)]
    assert checks[3] == "Still so? Answer This year"
    assert not any("This year" in text for text in checks[:3])
    assert [shown["Findings"][row, 2].text.partition(":")[0] for row in range(3, 7)] == [
        "Still open", "OK, read as Mended", "OK, read as Not seen", "Still there? Answer This year",
    ]  # fmt: skip
    guide = {cell.text for cell in shown["Start here"].values()}
    assert "Of the last survey, not looked at again: 2 (Clearances LP-4; Findings LP-4)" in guide
    assert "Findings without a photo: 1 (LP-1)" in guide

"""A review of sixty problems, answered and signed in a real spreadsheet program, and saved again by others.

LibreOffice types every answer through its own input parser, as a person would. How many cells a
reviewer touches for sixty problems is counted here, so that it cannot grow unseen.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from tests.delivery.made_surveys import deliver, write_survey
from tests.office.programs import Office
from tests.sampling import drawn, in_groups_of
from workbook_tools.commands import check
from workbook_tools.review import Review, read_review
from workbook_tools.review.columns import FROZEN, PROBLEM_COLUMNS

pytestmark = pytest.mark.office

PANELS = 15
PROBLEMS, CELLS = 60, 37

TYPED = {
    "finding-without-photo": {"Disposition": "No issue", "Reason": "too dark for a photo"},
    "no-service-disconnect": {
        "Disposition": "Tell the client",
        "Your words for the client": "The main switch of the building was not found: 1/2 of the yard was locked.",
    },
    "working-width-short": {"Your priority": "Upkeep"},
}
OWN = {
    "Subject": "LP-1",
    "What is wrong": "A 3'-6\" ladder stands before it",
    "What to do": "=1+1 ladders to carry out",
    "Your priority": "Act now",
}


def sixty_problems(path: Path) -> Path:
    """Write a survey in which about sixty things are found."""
    tags = [f"LP-{number}" for number in range(1, PANELS + 1)]
    sheets: dict[str, list[list[str]]] = {
        "Job": [["Property", "Sixty House (invented)"], ["Inspection date", "2026-09-16"],
                ["Inspector", "A. Inspector (invented)"], ["Code profile", "nec-2023"]],
        "Rooms": [["Room", "Access"], ["Plant", "Entered"]],
        "Equipment": [
            ["Tag", "Kind", "Room", "Fed from", "Rating (A)", "Voltage", "Phase", "Wires", "Maker", "Circuit directory",
             "Touch test"],
            *([tag, "Panelboard", "Plant", "Utility", "225", "208Y/120", "3", "4", "Marlowe", "Present", "No alert"]
              for tag in tags),
        ],
        "Clearances": [
            ["Tag", "Opposite side", "Depth", "Width", "Height", "Equipment width"],
            *([tag, "Clear", "30", "24", "70", "20"] for tag in tags),
        ],
        "Findings": [
            ["Subject", "Finding", "What was seen"],
            *([tag, "Open knockout", "one at the top"] for tag in tags[: PANELS // 2]),
        ],
    }  # fmt: skip
    return write_survey(path, sheets)


@pytest.fixture(scope="module")
def answered(office: Office, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path, int]:
    """Return the survey, its review answered in LibreOffice, and how many cells were typed."""
    folder = tmp_path_factory.mktemp("sixty")
    survey = sixty_problems(folder / "survey.xlsx")
    check(survey, output=folder / "review.xlsx")
    typed = folder / "typed"
    typed.mkdir()
    sheet = openpyxl.load_workbook(folder / "review.xlsx")["Problems"]
    at = {cell.value: cell.column for cell in sheet[1]}
    headings = [*dict.fromkeys(heading for cells in (*TYPED.values(), OWN) for heading in cells)]
    rows = []
    own = False
    for row in range(2, sheet.max_row + 1):
        cells: dict[str, str] = TYPED.get(str(sheet.cell(row, at["Rule"]).value), {})
        if not own and sheet.cell(row, at["Class"]).value == "your own":
            cells, own = OWN, True
        rows.append([cells.get(heading, "") for heading in headings])
    sign_off = [["Reviewer", "R. Reviewer (invented)"], ["Date", "9/20/2026"]]
    for name, content in (("problems", [headings, *rows]), ("sign-off", [["Item", "Value"], *sign_off])):
        with (typed / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(content)
    cells_typed = sum(text != "" for row in rows for text in row) + len(sign_off)
    return survey, office.type_survey(folder / "review.xlsx", typed, folder / "answered.xlsx"), cells_typed


def said(review: Review) -> dict[str, Any]:
    """Return everything that a review says, without its places."""
    return {
        "answers": sorted((e.problem.rule, e.problem.subject, *e.answer) for e in review.entries),
        "own": [(own.subject, own.message, own.priority) for own in review.own],
        "sign-off": review.sign_off,
        "seal": (
            review.seal.mark,
            {name: sorted(map(str, items)) for name, items in review.seal.parts.items()},
        ),
        "which": review.which,
        "said": (review.said, review.strays),
    }


def test_sixty_problems_are_answered_with_few_cells_and_delivered(answered, tmp_path):
    survey, path, cells_typed = answered
    review = read_review(path)
    assert len(review.entries) >= PROBLEMS
    # Two for each of eight questions, one for each of fifteen ranks, four for an issue of the reviewer's own, and the
    # name and the date. Findings and conditions that go out as they are take none.
    assert cells_typed == CELLS
    assert {e.reason for e in review.entries if e.problem.rule == "finding-without-photo"} == {
        "too dark for a photo"
    }
    assert [(own.subject, own.action, own.priority) for own in review.own] == [
        ("LP-1", "=1+1 ladders to carry out", "Act now")
    ]
    made = deliver(survey, output=tmp_path / "delivery", review=path)
    text = (made.folder / "data" / "issues.csv").read_text(encoding="utf-8-sig")
    issues = list(csv.DictReader(text.splitlines()))
    assert any("ladder stands before it" in row["seen"] and row["priority"] == "Act now" for row in issues)
    assert any("main switch of the building was not found" in row["seen"] for row in issues)
    assert {row["priority"] for row in issues if "width" in row["seen"].casefold()} == {"Upkeep"}


SAVED_BY = ["LibreOffice .ods", "LibreOffice there and back", "gnumeric", "openpyxl"]


@pytest.mark.sampled
@pytest.mark.parametrize("program", drawn("savings of a review", SAVED_BY, in_groups_of(2, SAVED_BY)))
def test_a_review_says_the_same_after_another_program_saved_it(answered, office, tmp_path, program):
    survey, path, _ = answered
    if program == "openpyxl":
        saved = tmp_path / "saved.xlsx"
        openpyxl.load_workbook(path).save(saved)
    elif program == "gnumeric":
        saved = office.gnumeric(path)
    else:
        saved = office.convert(path, "ods")
        saved = saved if program.endswith(".ods") else office.convert(saved, "xlsx")
    assert said(read_review(saved)) == said(read_review(path))
    assert read_review(saved).saved is not None
    assert deliver(survey, output=tmp_path / "delivery", review=saved).folder.is_dir()


def test_what_is_wrong_and_the_answer_are_in_sight_together_on_a_small_screen():
    names = [column.field for column in PROBLEM_COLUMNS]
    assert names[:FROZEN] == ["subject", "message", "disposition", "reason"]
    # Row numbers, the signs that fold rows, and the scroll bar take about 75 pixels.
    room = 1366 - 75 - sum(column.pixels for column in PROBLEM_COLUMNS[:FROZEN])
    beside = ["class_", "priority", "sheet", "cell", "photo"]
    assert names[FROZEN : FROZEN + len(beside)] == beside
    assert sum(column.pixels for column in PROBLEM_COLUMNS[FROZEN : FROZEN + len(beside)]) <= room

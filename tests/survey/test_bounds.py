"""What is too large is refused at once with a sentence; what is taken grows with the file and no faster."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz.hostile_files import changed, equipment, panel
from workbook_tools.checking import as_json, check_survey
from workbook_tools.commands import check, deliver, new
from workbook_tools.errors import Unusable
from workbook_tools.survey import Outcome, bounds, read_survey


def fed_from(folder: Path, names: int) -> Path:
    return equipment(folder, [panel("P-1", ";".join(f"T{n}" for n in range(names)))])


def test_more_names_than_a_cell_can_mean_are_one_problem_and_stay_as_typed(tmp_path):
    checked = check_survey(read_survey(fed_from(tmp_path, 5_000), "office"))
    cell = checked.survey.equipment[0].fed_from
    assert cell.outcome is Outcome.UNREADABLE
    assert "5,000 entries stand in this cell, more than the 200 that are read" in cell.why
    assert cell.typed.endswith(";T4999")
    # Each name that is not known was a problem that quoted the whole cell: 5,000 times 29,000 characters.
    assert len(str(as_json(checked))) < 10 * len(cell.typed)


def test_as_many_names_as_one_cell_can_hold_are_read(tmp_path):
    survey = read_survey(fed_from(tmp_path, bounds.MOST_NAMES), "office")
    assert len(survey.equipment[0].fed_from.value or ()) == bounds.MOST_NAMES


@pytest.mark.parametrize("limit", ["READ", "REVIEWED", "DELIVERED"])
def test_a_survey_with_too_many_rows_is_refused_before_any_work(tmp_path, monkeypatch, limit):
    monkeypatch.setattr(bounds, limit, getattr(bounds, limit)._replace(rows=3))
    monkeypatch.setattr("workbook_tools.survey.reading.READ", bounds.READ)
    monkeypatch.setattr("workbook_tools.checking.check_survey", lambda *_: pytest.fail("it was checked"))
    survey = equipment(tmp_path, [panel(f"P-{n}") for n in range(4)])
    asked = {
        "READ": lambda: check(survey),
        "REVIEWED": lambda: check(survey, output=tmp_path / "review.xlsx"),
        "DELIVERED": lambda: deliver(survey, output=tmp_path / "delivery", draft=True),
    }
    says = r"survey\.xlsx has 4 rows, more than the 3 that can be .* in one go: make"
    with pytest.raises(Unusable, match=says):
        asked[limit]()
    assert [path.name for path in tmp_path.iterdir()] == ["survey.xlsx"]


def test_a_list_with_too_many_rows_fills_no_workbook(tmp_path, monkeypatch):
    monkeypatch.setattr(bounds, "FILLED", bounds.FILLED._replace(rows=3))
    (tmp_path / "list.csv").write_text("Tag,Kind\n" + "".join(f"P-{n},Panelboard\n" for n in range(4)))
    with pytest.raises(
        Unusable, match=r"list\.csv has 4 rows, more than the 3 that can be carried over in one go"
    ):
        new(tmp_path / "survey.xlsx", fill=tmp_path / "list.csv")
    assert [path.name for path in tmp_path.iterdir()] == ["list.csv"]


def merged(folder: Path, ranges: list[str], rows: int) -> Path:
    path = equipment(folder, [panel(f"P-{n}") for n in range(rows)])
    cells = "".join(f'<mergeCell ref="{reference}"/>' for reference in ranges)
    merges = f"</sheetData><mergeCells>{cells}</mergeCells>".encode()
    return changed(path, "xl/worksheets/sheet1.xml", b"</sheetData>", merges)


@pytest.mark.timeout(60)
def test_merges_that_overlap_are_followed_once(tmp_path):
    """200,000 times the same 5,000 cells were a thousand million steps, and 100 seconds: more than a test may take."""
    path = merged(tmp_path, ["C2:C5000"] * 200_000, 3)
    survey = read_survey(path, "office")
    assert [row.room.typed for row in survey.equipment] == ["Main"] * 3

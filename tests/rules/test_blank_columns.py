"""A column that no row answers is one question, asked of the sheet; one that some answer is asked row by row."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.delivery.made_surveys import SHEETS, write_survey
from tests.sampling import sampled_property
from workbook_tools.checking import check_survey
from workbook_tools.commands import check
from workbook_tools.commands import new as new_workbook
from workbook_tools.delivery.gate import judge
from workbook_tools.review import Review
from workbook_tools.review.carrying import carried_over
from workbook_tools.review.model import Entry, identity
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of

PANEL = {
    "kind": "Panelboard", "room": "Main", "fed_from": "Utility", "rating_a": "225", "voltage": "208Y/120 3PH 4W",
    "maker": "Marlowe",
}  # fmt: skip
CLEAR = {"opposite_side": "Clear", "depth": "48", "width": "40", "height": "90", "equipment_width": "24"}


def missing(**tables: list[dict[str, str]]) -> list[Problem]:
    found = check_survey(survey_of(as_typed(**tables))).problems
    return [problem for problem in found if problem.rule == "missing-value"]


def panels(count: int, **changed: str) -> list[dict[str, str]]:
    return [{"tag": f"LP-{number}", **PANEL, **changed} for number in range(1, count + 1)]


def test_a_column_that_is_blank_everywhere_is_one_problem_that_names_the_rows() -> None:
    (found,) = missing(equipment=panels(3, maker=""))
    assert (found.class_, found.sheet, found.subject, found.field) == (
        "correct",
        "Equipment",
        "Equipment",
        "Maker",
    )
    assert found.message == "Maker is blank in all 3 rows: LP-1, LP-2, LP-3."
    assert found.place == missing(equipment=panels(1, maker=""))[0].place


def test_of_many_rows_the_first_twelve_are_named() -> None:
    (found,) = missing(equipment=panels(15, maker=""))
    assert found.message.startswith("Maker is blank in all 15 rows: LP-1, ")
    assert found.message.endswith("LP-12 and 3 more.")


def test_once_one_row_is_answered_the_others_are_asked_about_one_by_one() -> None:
    rows = panels(4, maker="")
    rows[1]["maker"] = "N/V"
    assert [problem.subject for problem in missing(equipment=rows)] == ["LP-1", "LP-3", "LP-4"]


def test_a_single_row_is_asked_about_by_its_name() -> None:
    (found,) = missing(equipment=panels(1, maker=""))
    assert (found.subject, found.message) == ("LP-1", "Maker of LP-1 is blank.")


def test_each_sheet_and_column_has_its_own_problem() -> None:
    rooms = [{"room": "Main"}, {"room": "Roof"}]
    clearances = [{"tag": panel["tag"], **CLEAR, "width": "", "depth": ""} for panel in panels(2)]
    found = missing(rooms=rooms, equipment=panels(2, maker=""), clearances=clearances)
    assert [(problem.subject, problem.field) for problem in found] == [
        ("Rooms", "Access"), ("Equipment", "Maker"), ("Clearances", "Depth"), ("Clearances", "Width"),
    ]  # fmt: skip
    assert len({identity(problem) for problem in found}) == len(found)


def test_rows_that_need_no_answer_are_not_counted() -> None:
    # A transformer's rating stands on its own sheet.
    rows = [*panels(2, rating_a=""), {"tag": "T-1", **PANEL, "kind": "Transformer", "rating_a": ""}]
    (found,) = missing(equipment=rows)
    assert found.message == "Rating (A) is blank in all 2 rows that must answer it: LP-1, LP-2."


def test_an_answer_where_none_is_needed_is_an_answer_of_the_column() -> None:
    rows = [*panels(2, rating_a=""), {"tag": "T-1", **PANEL, "kind": "Transformer", "rating_a": "200"}]
    assert [problem.subject for problem in missing(equipment=rows)] == ["LP-1", "LP-2"]


BLANKS = st.lists(st.sampled_from(["", " ", "Marlowe", "N/V", "n/a", "?"]), min_size=1, max_size=6)


@sampled_property(max_examples=200, fewest=20)
@given(makers=BLANKS)
def test_whatever_is_filled_in_the_problems_are_one_or_one_a_gap(makers: list[str]) -> None:
    rows = [{"tag": f"LP-{n}", **PANEL, "maker": maker} for n, maker in enumerate(makers)]
    found = [problem for problem in missing(equipment=rows) if problem.field == "Maker"]
    gaps = sum(not maker.strip() for maker in makers)
    assert len(found) == (1 if 1 < gaps == len(makers) else gaps)


# ---------------------------------------------------------------- a column of the client's list that may be it


def listed(folder: Path, heading: str, cell: str) -> Path:
    path = folder / "list.csv"
    lines = [f"LP-{n},Panelboard,Main,Utility,225,208Y/120,{cell}" for n in range(1, 4)]
    path.write_text("\n".join([f"Panel,Kind,Room,Fed from,Amps,Volts,{heading}", *lines]), encoding="utf-8")
    return path


def makers_asked(survey: Path) -> Problem:
    (found,) = [p for p in check(survey).problems if (p.rule, p.field) == ("missing-value", "Maker")]
    return found


def test_a_kept_column_that_may_be_it_is_asked_about_by_new_and_by_check(tmp_path: Path) -> None:
    source = listed(tmp_path, "Board maker or seller", "Marlowe")
    made = new_workbook(tmp_path / "survey.xlsx", fill=source, rows=5)
    assert made.filled is not None
    said = "Maker is blank everywhere; the column 'Board maker or seller' (Marlowe) was kept as an extra: is it that?"
    assert said in " ".join(made.filled.lines)
    found = makers_asked(made.path)
    assert found.message.endswith("The column 'Board maker or seller' was kept as an extra: is it that?")
    assert "copy what stands under 'Board maker or seller'" in found.action
    assert "N/V where it could not be seen" in found.action


@pytest.mark.parametrize(("heading", "cell"), [("Colour", "Grey"), ("Board maker or seller", "")])
def test_another_column_or_an_empty_one_is_not_asked_about(tmp_path: Path, heading: str, cell: str) -> None:
    made = new_workbook(tmp_path / "survey.xlsx", fill=listed(tmp_path, heading, cell), rows=5)
    found = makers_asked(made.path)
    assert "extra" not in found.message
    assert found.action == "Fill it in; N/V where it could not be seen, N/A where there is none."


# ---------------------------------------------------------------- in the review and at the gate


def test_its_answer_is_carried_over_and_open_again_when_the_rows_are_others() -> None:
    (before,) = missing(equipment=panels(3, maker=""))
    review = Review(entries=[Entry(before, "Ask the inspector", reason="no plates seen")])
    (same,), closed = carried_over(missing(equipment=panels(3, maker="")), review, "2026-09-20")
    assert (same.disposition, same.reason, closed) == ("Ask the inspector", "no plates seen", [])
    (more,), closed = carried_over(missing(equipment=panels(4, maker="")), review, "2026-09-20")
    assert (more.disposition, closed) == ("", [])
    assert "was: " in more.remark
    rows = panels(3, maker="")
    rows[0]["maker"] = "Marlowe"
    entries, closed = carried_over(missing(equipment=rows), review, "2026-09-20")
    assert ([entry.problem.subject for entry in entries], len(closed)) == (["LP-2", "LP-3"], 1)


def test_it_stops_a_delivery_as_one_thing(tmp_path: Path) -> None:
    blank = [[*row[:8], "", *row[9:]] if n else row for n, row in enumerate(SHEETS["Equipment"])]
    survey = write_survey(tmp_path / "survey.xlsx", SHEETS | {"Equipment": blank})
    found = [p for p in check(survey).problems if (p.rule, p.field) == ("missing-value", "Maker")]
    judged = judge(found, Review())
    assert len(judged.open) == 1
    assert "Maker is blank in all 3 rows: DP-1, T-1, RP-1." in judged.open[0]

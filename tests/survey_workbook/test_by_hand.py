"""What people do to a survey workbook in a spreadsheet program: free answers, rows put in between, copied, below, sorted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.office.programs import Office
from tests.sampling import drawn
from workbook_tools.commands import new
from workbook_tools.definitions import load_template
from workbook_tools.live_cells.wording import READ_AT_CHECK, ROW_BELOW
from workbook_tools.spreadsheet import position, read_workbook
from workbook_tools.survey_workbook.layout import FIRST_ROW, Layout

ROWS = 12
OFFICE = load_template("office")
EQUIPMENT = OFFICE.by_key["equipment"]
PLACE = Layout(OFFICE, {}, {sheet.key: ROWS for sheet in OFFICE.sheets}).tables["equipment"].letters


def typed(row: int, **answers: str) -> list[list[Any]]:
    return [["type", "Equipment", f"{PLACE[field]}{row}", text] for field, text in answers.items()]


def shown(path: Path, sheet: str = "Equipment") -> dict[str, str]:
    """Return the text of each cell of a sheet, results of formulas too, by its address."""
    (found,) = (page for page in read_workbook(path).sheets if page.name == sheet)
    return {
        address: cell.text for address, cell in ((_address(at), cell) for at, cell in found.cells.items())
    }


def _address(at: tuple[int, int]) -> str:
    letters, row = "", at[0]
    column = at[1]
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    assert position(f"{letters}{row}") == at
    return f"{letters}{row}"


@pytest.fixture
def blank(tmp_path: Path) -> Path:
    return new(tmp_path / "survey.xlsx", template="office", rows=ROWS).path


def a_free_answer_raises_no_dialog_and_stays(blank: Path, office: Office) -> None:
    free = ["cupboard on legs", "dist panel", "Panelboard"]
    keys = [
        ["keys", "Equipment", f"{PLACE['kind']}{FIRST_ROW}", free],
        ["keys", "Equipment", f"{PLACE['fed_from']}{FIRST_ROW}", ["the yard"]],
        ["keys", "Equipment", f"{PLACE['touch_test']}{FIRST_ROW}", ["did not dare"]],
        ["keys", "Equipment", f"{PLACE['voltage']}{FIRST_ROW}", ["208Y/120 3ph4w"]],
    ]
    cells = shown(office.by_hand(blank, keys))
    assert [cells[f"{PLACE['kind']}{FIRST_ROW + n}"] for n in range(3)] == free
    first = {
        field: cells.get(f"{PLACE[field]}{FIRST_ROW}") for field in ("fed_from", "touch_test", "voltage")
    }
    assert first == {"fed_from": "the yard", "touch_test": "did not dare", "voltage": "208Y/120 3ph4w"}
    assert cells[f"{PLACE['volts_to_ground']}{FIRST_ROW}"] == "120"


def a_row_put_in_between_or_below_says_who_reads_it(blank: Path, office: Office) -> None:
    steps = [step for row in range(3, 7) for step in typed(row, tag=f"LP-{row}", kind="Panelboard")]
    below = FIRST_ROW + ROWS + 1
    steps += [["insert", "Equipment", 5], *typed(5, tag="IN-1"), *typed(below, tag="ADD-1")]
    done = office.by_hand(blank, steps)
    cells, guide = shown(done), shown(done, "Start here")
    check = PLACE["row_check"]
    assert cells[f"{check}4"].endswith(ROW_BELOW)
    assert not cells[f"{check}3"].endswith(ROW_BELOW)
    assert cells[f"{check}{below}"] == READ_AT_CHECK
    assert "Rows that only the check reads: 2 (Equipment 2)" in guide.values()


def a_copied_row_lives(blank: Path, office: Office) -> None:
    steps = [*typed(3, tag="LP-1", kind="Panelboard", voltage="480Y/277")]
    steps += [["copy", "Equipment", 3, 4], ["copy", "Equipment", 3, 5]]
    cells = shown(office.by_hand(blank, [*steps, *typed(5, tag="LP-2", voltage="208Y/120")]))
    assert cells[f"{PLACE['volts_to_ground']}4"] == "277"
    assert cells[f"{PLACE['tag']}5"] == "LP-2"
    assert cells[f"{PLACE['volts_to_ground']}5"] == "120"


def sorting_keeps_everything(blank: Path, office: Office) -> None:
    boards = {"RP-2": "208Y/120", "LP-1": "480Y/277", "DP-3": "240/120 delta high leg", "MSB": "480"}
    steps = [
        step
        for row, (tag, volts) in enumerate(boards.items(), FIRST_ROW)
        for step in typed(row, tag=tag, kind="Panelboard", voltage=volts, phase="3", remarks=f"about {tag}")
    ]
    last = PLACE[EQUIPMENT.columns[-1].field]
    by_tag = ["sort", "Equipment", f"A{FIRST_ROW}:{last}{FIRST_ROW + ROWS - 1}", 0]
    saved = office.by_hand(blank, [*steps, ["keep", "Equipment", "unsorted.xlsx"], by_tag])
    unsorted, done = _by_tag(shown(saved.with_name("unsorted.xlsx"))), shown(saved)
    assert [done[f"A{row}"] for row in range(FIRST_ROW, FIRST_ROW + 4)] == sorted(boards)
    assert _by_tag(done) == unsorted
    assert len(unsorted) == 4


STORIES = [
    a_free_answer_raises_no_dialog_and_stays,
    a_row_put_in_between_or_below_says_who_reads_it,
    a_copied_row_lives,
    sorting_keeps_everything,
]


def by_the_keyboard(story: Callable[[Path, Office], None]) -> bool:
    """Return what a sample holds one of: told by the keyboard, or by the program itself."""
    return story is a_free_answer_raises_no_dialog_and_stays


@pytest.mark.office
@pytest.mark.slow
@pytest.mark.sampled
@pytest.mark.parametrize(
    "story", drawn("stories by hand", STORIES, by_the_keyboard), ids=lambda story: story.__name__
)
def test_what_a_person_does(story: Callable[[Path, Office], None], blank: Path, office: Office) -> None:
    story(blank, office)


def _by_tag(cells: dict[str, str]) -> dict[str, dict[str, str]]:
    found = {}
    for row in range(FIRST_ROW, FIRST_ROW + ROWS):
        texts = {field: cells.get(f"{place}{row}", "") for field, place in PLACE.items()}
        if texts["tag"]:
            found[texts["tag"]] = texts
    return found

"""The catalogue page is written again by its command, and `explain` answers however a rule is spelled."""

import runpy
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from workbook_tools.errors import Unusable
from workbook_tools.rules import _ORDER, by_subject, catalogue
from workbook_tools.rules.catalogue_page import PAGE
from workbook_tools.rules.explaining import catalogue_text, rule_text

MODULE = "workbook_tools.rules.catalogue_page"


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Callable[[], dict[str, bytes]]:
    """Return what is written where, with the page itself left alone."""
    places: dict[str, Path] = {}
    really = Path.write_text

    def write_elsewhere(path: Path, text: str, **how: str) -> int:
        places[str(path)] = tmp_path / "page"
        return really(places[str(path)], text, **how)

    monkeypatch.setattr(Path, "write_text", write_elsewhere)
    monkeypatch.delitem(sys.modules, MODULE)
    return lambda: {place: copy.read_bytes() for place, copy in places.items()}


def test_the_command_writes_the_page_beside_the_rules(written: Callable[[], dict[str, bytes]]):
    runpy.run_module(MODULE, run_name="__main__")
    assert written() == {str(PAGE): PAGE.read_bytes()}


def test_importing_it_writes_nothing(written: Callable[[], dict[str, bytes]]):
    runpy.run_module(MODULE)
    assert written() == {}


@pytest.mark.parametrize("spelled", ["supply-loop", "Supply-Loop", " supply loop ", "SUPPLY_LOOP"])
def test_a_rule_is_found_however_it_is_spelled(spelled: str):
    assert rule_text(spelled) == rule_text("supply-loop")


EXPLAINED = """\
hand-motions-over-six (report, Correct soon: a condition of the property; it goes to the client unless it is left out with a reason)

Looks at: Service. The motions of the hand to shut off one service sum to more than six.
Why: In an emergency the building is not shut off in time, or not wholly.
What to do: Count again: every disconnect of the same service, the same Utility number in Fed from.
  If it stands, leave it: it goes to the client.
For the client: an issue of the equipment. Who mends it: licensed electrical engineer; power must be
  off; engineer first. Until then: access or escape.
Listed as compared: Number of hand motions to shut off the service.
Source: NFPA 70 230.71
Not checked without: Hand motions

An example that it reports:
  Equipment: Tag = SD-1; Kind = Service disconnect; Fed from = Utility; Hand motions = 4
  Equipment: Tag = SD-2; Kind = Service disconnect; Fed from = Utility; Hand motions = 3
  -> Shutting off the service (Utility) takes 7 motions of the hand (4 at SD-1 and 3 at SD-2); the code's figure is at most 6 (NFPA 70-2023 230.71).
     The client reads: Seven motions of the hand shut off the service, where the code's figure is at most six. In an emergency the building may not be shut off in time, or not completely. Have an engineer say how the service can be cut off with six motions of the hand or fewer, then have it rebuilt.
One that passes:
  Equipment: Tag = SD-1; Kind = Service disconnect; Fed from = Utility; Hand motions = 4
  Equipment: Tag = SD-2; Kind = Service disconnect; Fed from = Utility 2; Hand motions = 3"""


def test_a_rule_is_explained_on_lines_that_fit():
    assert rule_text("hand-motions-over-six") == EXPLAINED


def test_a_name_near_no_rule_is_answered_without_a_guess():
    with pytest.raises(Unusable) as error:
        rule_text("qqqq")
    assert str(error.value) == "There is no rule 'qqqq'. `workbook-tools explain` lists them all."


@pytest.mark.parametrize(
    ("asked", "offered"),
    [
        ("photo", "photo-unused or photo-missing or photo-by-file-name"),
        ("working-short", "working-width-short or working-depth-short or working-height-short"),
        ("short-circuit", "short-circuit-rating-low or bad-circuit-directory or photo-missing"),
    ],
)
def test_the_nearest_rules_are_offered_three_at_most(asked: str, offered: str):
    with pytest.raises(Unusable) as error:
        rule_text(asked)
    hint = f"Did you mean {offered}?"
    assert str(error.value) == f"There is no rule {asked!r}. {hint} `workbook-tools explain` lists them all."


def test_the_list_stands_in_two_columns_within_a_hundred_characters():
    lines = catalogue_text().splitlines()
    assert max(map(len, lines)) <= 100
    wide = 2 + max(map(len, catalogue())) + 2
    for line in lines[:-1]:
        if line.startswith(" "):
            assert line[wide - 2 : wide] == "  ", line
            assert line[wide] != " ", line
    assert lines[0] == "Job"
    assert lines.count("") == len(by_subject())


def test_every_rule_belongs_to_one_group_and_the_groups_have_an_order():
    groups = [*by_subject()]
    assert groups[:3] == ["Job", "What stands in a cell", "Live cells"]
    # A new group comes after those that have their place.
    assert groups[: len(_ORDER)] == [*_ORDER]
    assert [rule.slug for rules in by_subject().values() for rule in rules] == [*catalogue()]

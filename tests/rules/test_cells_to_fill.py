"""How many cells an ordinary panel with nothing wrong takes until check has nothing to correct, to confirm or to report."""

from tests.rules.asking import Row
from workbook_tools.checking import check_survey
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of

ROOM: Row = {"room": "Main", "access": "Entered", "lighting": "Yes"}
SOURCE: Row = {"tag": "DP-1", "kind": "Disconnect switch", "room": "Main", "fed_from": "Utility", "rating_a": "400",
               "voltage": "208Y/120", "maker": "Halden", "touch_test": "No alert"}  # fmt: skip
PANEL: Row = {"tag": "LP-1", "kind": "Panelboard", "room": "Main", "fed_from": "DP-1", "rating_a": "225",
              "voltage": "208Y/120", "maker": "Halden", "touch_test": "No alert"}  # fmt: skip
SPACE: Row = {
    "tag": "LP-1",
    "opposite_side": "Clear",
    "depth": "36",
    "width": "30",
    "height": "84",
    "equipment_width": "20",
}
MOST = 14
"""Eight of Equipment (phase and wires follow from the voltage, photos from their file names) and six of Clearances.

Each is required by the template; without any of them the check asks. A room, a source, a voltage, a kind, a touch test,
a tag and the side opposite are chosen: seven cells are typed.
"""


def asked_of(panel: Row, space: Row) -> list[Problem]:
    typed = as_typed(
        rooms=[ROOM], equipment=[SOURCE, panel], clearances=[space], photo_folder=["LP-1 front.jpg"]
    )
    survey = survey_of(typed)
    return [p for p in check_survey(survey).problems if p.class_ != "note" and p.subject in ("LP-1", "")]


def test_an_ordinary_panel_takes_no_more_cells():
    assert asked_of(PANEL, SPACE) == []
    assert len(PANEL) + len(SPACE) <= MOST


def test_each_of_them_is_asked_for_so_that_none_is_typed_for_nothing():
    for field in PANEL:
        if field != "tag":
            assert asked_of({**PANEL, field: ""}, SPACE) != [], field
    for field in SPACE:
        if field != "tag":
            assert asked_of(PANEL, {**SPACE, field: ""}) != [], field

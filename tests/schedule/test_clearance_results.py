"""The result beside a clearance says what goes to the client, and nothing that was kept back.

What is wrong is planted: a switchboard of 2000 A, 84 in wide, in a room with one entrance, which
NFPA 70 110.26(C)(2) asks about (NFPA70-2023 in sources.csv).
"""

import pytest

from workbook_tools.checking import check_survey
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule


def clearance_survey(**clearance):
    return survey_of(
        as_typed(
            rooms=[{"room": "Plant room", "access": "Entered", "entrances": "1"}],
            equipment=[
                {"tag": "DP-1", "kind": "Switchboard", "room": "Plant room", "rating_a": "2000", "voltage": "480Y/277",
                 "phase": "3", "wires": "4", "fed_from": "Utility"}
            ],
            clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "60", "width": "90", "height": "90",
                         "equipment_width": "84", **clearance}],
            findings=[{"subject": "DP-1", "finding": "Foreign system above the zone without leak protection", "seen": "drip"}]
            if clearance.get("items_above") == "None" else [],
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("clearance", "kept_back", "result", "remarks"),
    [
        ({"items_in_space": "Storage", "remarks": "tins"}, (), "Storage in the working space.", "Tins."),
        ({"items_in_space": "Storage", "remarks": "tins"}, ("working-space-storage",), "No shortfall measured.", ""),
        ({"depth": "40"}, (), "Depth too small.", ""),
        ({"depth": "40"}, ("working-depth-short",), "Depth not compared.", ""),
        ({"items_above": "Duct", "depth": "40"}, ("working-depth-short",), "Duct in the dedicated space above; depth not compared.", ""),
        ({"door_opens_90": "No"}, ("door-swing-limited",), "No shortfall measured.", ""),
    ],
)  # fmt: skip
def test_the_result_of_a_clearance_follows_what_goes_to_the_client(clearance, kept_back, result, remarks):
    checked = check_survey(clearance_survey(**clearance))
    reported = [p for p in checked.problems if p.class_ == "report"]
    assert {p.rule for p in reported} >= set(kept_back)
    going = [p for p in reported if p.rule not in kept_back]
    row = build_schedule(checked, conditions=going).clearances[0]
    assert (row.result, row.remarks) == (result, remarks)
    assert row.short == (row.result not in ("No shortfall measured.", "Depth not compared."))


def test_the_result_of_a_clearance_names_the_ways_out_and_what_was_found_around_it():
    checked = check_survey(clearance_survey(items_above="None"))
    going = [p for p in checked.problems if p.class_ == "report" or p.rule == "second-entrance-check"]
    assert "second-entrance-check" in {p.rule for p in going}
    result = build_schedule(checked, conditions=going).clearances[0].result
    assert result.startswith("Too few ways out recorded; piping above the equipment without leak protection")

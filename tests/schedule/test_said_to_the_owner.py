"""What the owner is told, and in which order; each survey here is planted, with one thing to be told about."""

import re
from types import SimpleNamespace

import pytest

from workbook_tools.checking import check_survey
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule, write_schedule


@pytest.mark.parametrize(
    ("act_now", "shown", "said"),
    [(1, 3, "Three other issues stand"), (4, 4, "Two other issues stand"), (8, 6, "Two more to act on now and two other issues stand")],
)  # fmt: skip
def test_everything_to_act_on_now_stands_first_and_live_metal_before_all(act_now, shown, said, tmp_path):
    seen = [
        {"subject": "DP-1", "finding": f"own wording {n}", "priority": "Act now"} for n in range(act_now - 1)
    ]
    seen += [
        {"subject": "DP-1", "finding": f"later {n}", "priority": "Upkeep"}
        for n in range(2 if act_now > 1 else 5)
    ]
    survey = survey_of(
        as_typed(
            equipment=[
                {"tag": "DP-1", "kind": "Panelboard", "fed_from": "Utility", "touch_test": "No alert"},
                {"tag": "LP-9", "kind": "Panelboard", "fed_from": "DP-1", "touch_test": "ALERTED"},
            ],
            findings=seen,
        )
    )
    checked = check_survey(survey)
    alert = [problem for problem in checked.problems if problem.rule == "touch-test-alerted"]
    schedule = build_schedule(checked, conditions=alert)
    assert (schedule.first[0].subject, len(schedule.first)) == ("LP-9", shown)
    assert schedule.conditions[: len(schedule.first)] == schedule.first
    meant = write_schedule(schedule, tmp_path / "schedule.xlsx")["Summary"]
    assert any(str(text).startswith(said) for text in meant.values())


def test_what_three_wires_from_a_wye_are_is_not_called_delta():
    survey = survey_of(
        as_typed(
            equipment=[
                {"tag": "DP-1", "kind": "Panelboard", "fed_from": "Utility", "voltage": "480Y/277", "phase": "3", "wires": "4"},
                {"tag": "DS-1", "kind": "Disconnect switch", "fed_from": "DP-1", "voltage": "480", "phase": "3", "wires": "3"},
                {"tag": "DS-2", "kind": "Disconnect switch", "fed_from": "Utility", "voltage": "480V Δ"},
                {"tag": "HL-1", "kind": "Panelboard", "fed_from": "Utility 2", "voltage": "240/120", "phase": "3", "wires": "4"},
            ]
        )
    )  # fmt: skip
    rows = {row.tag: (row.voltage, row.phase_wires) for row in build_schedule(check_survey(survey)).rows}
    assert rows["DS-1"] == ("480 V", "3-phase, 3-wire")
    assert rows["DS-2"] == ("480 V delta", "3-phase, 3-wire")
    assert rows["HL-1"][0] == "240/120 V delta (high leg)"


def test_a_centre_tap_is_said_beside_the_fault_current():
    plates = [
        {"tag": "T-1", "kva": "25", "primary_v": "480", "secondary_v": "120/240", "phase": "1", "impedance_percent": "3"},
        {"tag": "T-2", "kva": "45", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3", "impedance_percent": "3"},
    ]  # fmt: skip
    one, three = build_schedule(check_survey(survey_of(as_typed(transformers=plates)))).transformers
    assert "Line to neutral, taken as 1.5 times" in one.remarks
    assert three.remarks == ""


def test_a_room_left_out_for_the_same_reason_is_said_once():
    survey = survey_of(
        as_typed(
            rooms=[
                {"room": "Archive", "level": "2", "access": "Locked", "remarks": "key holder did not attend"},
                {"room": "Vault", "access": "Locked"},
            ],
            not_inspected=[
                {"item": "Archive", "reason": "locked", "specialist": "Return visit"},
                {"item": "Vault", "reason": "owned by the utility"},
            ],
            equipment=[{"tag": "LC-1", "kind": "Lift controller", "room": "Archive", "maker": "N/V", "touch_test": "Not touched"}],
        )
    )  # fmt: skip
    limits = build_schedule(check_survey(survey)).limits
    assert [(line.group, line.what, line.who) for line in limits[:3]] == [
        ("Rooms not entered", "Archive (Level 2)", "Return visit"),
        ("Rooms not entered", "Vault", ""),
        ("Not inspected", "Vault", ""),
    ]
    assert [line.reason for line in limits if line.group == "Recorded, not inspected"] == [
        "In the list so that it is complete; nobody inspected it. Maker could not be seen."
    ]


def test_every_photo_is_cited_where_it_belongs():
    survey = survey_of(
        as_typed(
            equipment=[{"tag": "T-1", "kind": "Transformer"}, {"tag": "DP-1", "kind": "Panelboard"}],
            transformers=[
                {"tag": "T-1", "kva": "45", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
            ],
        )
    )
    picture = SimpleNamespace(thumbnail=b"", thumbnail_width=1, thumbnail_height=1)

    def photo(number, *subjects):
        return SimpleNamespace(number=number, subjects=subjects, caption="", file="", picture=picture)

    plate, door = photo(1, "T-1"), photo(2, "dp-1")
    photos = SimpleNamespace(
        photos=[plate, door], of=lambda row: (plate,) if row is survey.transformers[0] else ()
    )
    schedule = build_schedule(check_survey(survey), photos=photos)
    assert schedule.transformers[0].photos == (1,)
    assert {row.tag: row.photos for row in schedule.rows} == {
        "T-1": (),
        "DP-1": (2,),
    }  # named on no row of its own


def test_terms_are_explained_where_they_occur_and_not_elsewhere():
    survey = survey_of(
        as_typed(
            equipment=[
                {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility", "main_device": "Fused switch",
                 "voltage": "208Y/120", "phase": "3", "wires": "4"}
            ],
            transformers=[{"tag": "T-1", "kva": "45", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}],
        )
    )  # fmt: skip
    words = dict(build_schedule(check_survey(survey)).words)
    assert {"kVA", "kA", "Fused switch", "208Y/120 V"} <= set(words)
    assert "120 from a line to the neutral" in words["208Y/120 V"]
    assert not {"PV", "Delta", "NFPA 70", "Filler plate"} & set(words)
    assert re.search("today", words["Act now"])

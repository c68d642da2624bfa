"""The space around equipment: what is too small, what must not stand there, and how many ways lead out."""

import pytest

from tests.rules.asking import DP1, WYE_208, WYE_480, Row, messages_of, missing, problems_of
from workbook_tools.rules.rule import Typed, as_typed

RULES = ("working-depth-short", "working-width-short", "working-height-short")


def measured(equipment: Row = DP1, *, job: Row | None = None, **cells: str) -> Typed:
    return as_typed(job=job, equipment=[equipment], clearances=[{"tag": "DP-1", **cells}])


@pytest.mark.parametrize(
    ("rule", "cells", "short"),
    [
        ("working-depth-short", {"opposite_side": "Clear", "depth": "36"}, False),
        ("working-depth-short", {"opposite_side": "Clear", "depth": "35"}, True),
        ("working-depth-short", {"opposite_side": "Live parts", "depth": "48"}, False),
        ("working-depth-short", {"opposite_side": "Live parts", "depth": "47"}, True),
        ("working-width-short", {"width": "30", "equipment_width": "20"}, False),
        ("working-width-short", {"width": "29", "equipment_width": "20"}, True),
        ("working-width-short", {"width": "40", "equipment_width": "40"}, False),
        ("working-width-short", {"width": "39", "equipment_width": "40"}, True),
        ("working-height-short", {"height": "78"}, False),
        ("working-height-short", {"height": "77"}, True),
        ("front-projection-over", {"front_projection": "6"}, False),
        ("front-projection-over", {"front_projection": "7"}, True),
    ],
)
def test_the_limit_itself_is_enough(rule: str, cells: Row, short: bool):
    # NFPA 70 110.26(A): 277 V to ground; 30 in or the equipment's own width; 78 in; 6 in.
    assert bool(messages_of(rule, measured(**cells))) == short
    assert missing(rule, measured(**cells)) == []


@pytest.mark.parametrize(
    ("rule", "cells"),
    [
        ("working-depth-short", {"opposite_side": "Grounded", "depth": "4"}),
        ("working-width-short", {"width": "60", "equipment_width": "914"}),
        ("working-width-short", {"width": "2.5", "equipment_width": "40"}),
        ("working-height-short", {"height": "2"}),
        ("front-projection-over", {"front_projection": "200"}),
    ],
)
def test_a_length_that_was_likely_meant_in_another_unit_is_compared_with_nothing(rule: str, cells: Row):
    assert messages_of(rule, measured(**cells)) == []
    assert missing(rule, measured(**cells)) == []


def test_an_implausible_length_of_the_equipment_is_asked_about_first():
    wide = {"width": "60", "equipment_width": "90 ft"}
    assert messages_of("working-width-short", measured(**wide)) == []
    assert messages_of("implausible-value", measured(**wide)) != []
    assert messages_of("front-projection-over", measured(front_projection="20 ft")) == []
    assert messages_of("implausible-value", measured(front_projection="20 ft")) != []
    # Below the least width the equipment's own does not matter.
    assert messages_of("working-width-short", measured(width="20", equipment_width="20")) != []


@pytest.mark.parametrize("rule", RULES)
def test_what_is_not_inspected_and_what_is_unknown_is_not_measured(rule: str):
    cells = {
        "opposite_side": "Grounded",
        "depth": "1 ft",
        "width": "1 ft",
        "height": "1 ft",
        "equipment_width": "1 ft",
    }
    lift = {**DP1, "kind": "Lift controller"}
    for typed in (measured(lift, **cells), measured({**DP1, "tag": "X"}, **cells)):
        assert messages_of(rule, typed) == []
        assert missing(rule, typed) == []
    assert len(messages_of(rule, measured(**cells))) == 1


# -- the depth and its voltage

T1 = {"tag": "DP-1", "kind": "Transformer"}
DEPTH = {"opposite_side": "Grounded", "depth": "12"}


@pytest.mark.parametrize(
    ("plates", "asked"),
    [
        ([], ["Tag"]),
        ([{"tag": "DP-1", "primary_v": "480"}], ["Secondary (V) of DP-1"]),
        ([{"tag": "DP-1", "secondary_v": "208Y/120"}], ["Primary (V) of DP-1"]),
        ([{"tag": "DP-1", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}], []),
    ],
)
def test_the_depth_of_a_transformer_takes_its_plate(plates: list[Row], asked: list[str]):
    typed = as_typed(equipment=[T1], transformers=plates, clearances=[{"tag": "DP-1", **DEPTH}])
    # Such a unit is seldom worked on while live: a question, and only where its voltages are known or 12 in is too
    # little at any voltage.
    assert [found.cell for found in problems_of("working-space-check", typed)] == ["D5"]
    assert messages_of("working-depth-short", typed) == []
    deeper = as_typed(
        equipment=[T1], transformers=plates, clearances=[{"tag": "DP-1", **DEPTH, "depth": "40"}]
    )
    found = missing("working-space-check", deeper)
    assert [one.removesuffix(" of DP-1") for one in found] == [one.removesuffix(" of DP-1") for one in asked]
    assert bool(messages_of("working-space-check", deeper)) == (not asked)


@pytest.mark.parametrize(
    ("cells", "asked", "short"),
    [
        ({"depth": "40"}, ["Opposite side"], False),
        ({"depth": "30"}, [], True),
        ({"depth": "30", "opposite_side": "N/V"}, [], True),
        ({"depth": "36", "opposite_side": "N/V"}, ["Opposite side"], False),
        ({"opposite_side": "Grounded"}, ["Depth"], False),
        ({"opposite_side": "Grounded", "depth": "N/V"}, ["Depth"], False),
        ({"opposite_side": "Grounded", "depth": "N/A"}, [], False),
        ({"opposite_side": "N/A", "depth": "40"}, [], False),
        ({"opposite_side": "N/A", "depth": "30"}, [], True),
    ],
)
def test_without_what_stands_opposite_only_a_certain_shortfall_is_said(
    cells: Row, asked: list[str], short: bool
):
    # 36 in is the least of every cell of the table (NFPA 70 Table 110.26(A)(1), NFPA70-2023 in sources.csv).
    assert missing("working-depth-short", measured(**cells)) == asked
    assert bool(messages_of("working-depth-short", measured(**cells))) == short


@pytest.mark.parametrize(
    ("voltage", "opposite", "depth", "short"),
    [
        ({"voltage": "N/V"}, "Live parts", "30", True),
        ({"voltage": "N/V"}, "Live parts", "40", False),  # 36 in would be enough at 120 V
        ({"voltage": "480"}, "Live parts", "47", True),  # one phase or three: 277 or 480 V, 48 in either way
        ({"voltage": "480"}, "Live parts", "48", False),
        ({"voltage": "120/240"}, "Grounded", "35", True),
        (
            {"voltage": "120/240"},
            "Grounded",
            "40",
            False,
        ),  # 120 V to ground, or 208 V where it is a high-leg delta
        ({"voltage": "", "phase": "3"}, "Grounded", "24", True),
        ({"voltage": "somewhat"}, "Grounded", "24", True),
    ],
)
def test_without_a_voltage_only_a_certain_shortfall_is_said(
    voltage: Row, opposite: str, depth: str, short: bool
):
    typed = measured({"tag": "DP-1", "kind": "Panelboard", **voltage}, opposite_side=opposite, depth=depth)
    assert bool(messages_of("working-depth-short", typed)) == short
    assert bool(missing("working-depth-short", typed)) == (not short)


@pytest.mark.parametrize(("own", "width", "short", "asked"), [
    ("N/V", "24", True, []), ("", "29.8", True, []), ("N/V", "30", False, ["Equipment width"]), ("20", "30", False, []),
    ("40", "36", True, []),
])  # fmt: skip
def test_without_the_equipments_width_only_a_certain_shortfall_is_said(
    own: str, width: str, short: bool, asked: list[str]
):
    typed = measured(width=width, equipment_width=own)
    assert bool(messages_of("working-width-short", typed)) == short
    assert missing("working-width-short", typed) == asked


@pytest.mark.parametrize(
    ("own", "height", "says"),
    [
        ("", "78", ""),
        ("72", "78", ""),
        ("90", "84", "90 in is needed, since the equipment is 90 in high"),
        ("90", "90", ""),
        ("2.3 m", "2.2 m", "needed, since the equipment is 2.3 m (90.6 in) high"),
        ("90 ft", "84", ""),  # implausible: implausible-value asks first
        ("N/V", "78", ""),
    ],
)
def test_the_headroom_is_not_below_the_equipment(own: str, height: str, says: str):
    # NFPA 70 110.26(A)(3): 6 1/2 ft or the height of the equipment, whichever is greater (NFPA70-2023 in sources.csv).
    found = messages_of("working-height-short", measured(height=height, equipment_height=own))
    assert [says in message for message in found] == ([True] if says else [])


HIGH = {"voltage": "4160Y/2400", "phase": "3", "wires": "4"}


@pytest.mark.parametrize(
    ("profile", "volts", "width", "short"),
    [
        ("nec-2023", HIGH, "35", True),
        ("nec-2023", HIGH, "36", False),
        ("nec-2023", WYE_480, "30", False),
        ("osha-1910", HIGH, "30", True),
        ("nec-2014", HIGH, "914 mm", False),
    ],
)
def test_above_its_voltage_the_space_is_wider(profile: str, volts: Row, width: str, short: bool):
    # NFPA 70 110.32 and 29 CFR 1910.303(h)(3): 3 ft; from memory.
    typed = as_typed(
        job={"code_profile": profile},
        equipment=[{"tag": "DP-1", "kind": "Switchgear", **volts}],
        clearances=[{"tag": "DP-1", "width": width, "equipment_width": "24"}],
    )
    assert bool(messages_of("working-width-short", typed)) == short


@pytest.mark.parametrize(
    ("volts", "amps", "width", "entrances", "asked"),
    [(HIGH, "200", "90", "1", True), (HIGH, "", "90", "1", True), (HIGH, "200", "90", "2", False),
     (HIGH, "1600", "60", "1", False), (WYE_480, "200", "90", "1", False)],
)  # fmt: skip
def test_above_its_voltage_the_amperes_do_not_count_for_the_entrances(
    volts: Row, amps: str, width: str, entrances: str, asked: bool
):
    # NFPA 70 110.33(A)(1): equipment over 6 ft wide, an entrance at each end; from memory.
    typed = as_typed(
        rooms=[{"room": "Main", "entrances": entrances}],
        equipment=[{"tag": "DP-1", "kind": "Switchgear", "room": "Main", "rating_a": amps, **volts}],
        clearances=[{"tag": "DP-1", "equipment_width": width}],
    )
    assert bool(messages_of("second-entrance-check", typed)) == asked


def test_only_the_depth_asks_for_the_voltage():
    typed = measured(
        {"tag": "DP-1", "kind": "Panelboard"},
        **{**DEPTH, "depth": "40"},
        width="30",
        height="78",
        equipment_width="20",
    )
    assert missing("working-depth-short", typed) == ["Voltage of DP-1"]
    assert missing("working-width-short", typed) == []
    assert missing("working-height-short", typed) == []
    assert (
        missing("working-depth-short", measured({"tag": "DP-1"}, opposite_side="Grounded", depth="N/A")) == []
    )


@pytest.mark.parametrize(("answer", "problem"), [("Yes", False), ("No", True), ("N/A", False)])
def test_a_door_opens_or_it_does_not(answer: str, problem: bool):
    assert bool(messages_of("door-swing-limited", measured(door_opens_90=answer))) == problem


# -- what stands there


@pytest.mark.parametrize(
    ("items", "foreign"),
    [
        ("None", ""),
        ("Sprinkler only", ""),
        ("Pipe", "Pipe"),
        ("Pipe; HVAC duct; Sprinkler only", "Pipe and HVAC duct"),
        ("Cable tray; Light; Smoke detector", ""),
        ("conduit; EMT; busway; bus duct; Wireway; raceway; gutter; trough; luminaire; lamp; sensor", ""),
        ("Pipe; Conduit", "Pipe"),
        ("Emtage duct", "Emtage duct"),
        ("Roof gutter", "Roof gutter"),
        ("Skylight drain", "Skylight drain"),
        ("Skylight", "Skylight"),
        ("Drain tray; cable tray", "Drain tray"),
        ("Water trough; wiring trough", "Water trough"),
        ("Rain gutter", "Rain gutter"),
        ("Light fixture beside a water pipe", "Light fixture beside a water pipe"),
        ("Suspended ceiling; steel beam; exit sign; pull box; feeder busway", ""),
    ],
)
def test_what_belongs_to_the_installation_is_not_foreign_to_it(items: str, foreign: str):
    typed = measured(items_above=items, open_above="4 ft")
    found = messages_of("dedicated-space-obstructed", typed)
    assert [text.partition(" in the space above")[0] for text in found] == ([foreign] if foreign else [])
    assert missing("dedicated-space-obstructed", typed) == []
    assert bool(messages_of("sprinkler-above", typed)) == ("Sprinkler only" in items)


@pytest.mark.parametrize(
    ("free", "obstructed", "asked"),
    [
        ("5 ft 11 in", True, False),
        ("6 ft", True, False),
        ("1800 mm", True, False),
        ("6 ft 2 in", False, True),
        ("1.9 m", False, True),
        ("9 ft", False, True),
        ("", True, False),
        ("N/V", True, False),
        ("Structure", True, False),
        ("90 ft", True, False),  # not a height that the trade meets: implausible-value asks first
    ],
)
def test_what_is_above_the_measured_free_space_is_asked_about(free: str, obstructed: bool, asked: bool):
    # NFPA 70 110.26(E)(1)(b): foreign systems may be above the dedicated space where the equipment is protected
    # against condensation, leaks and breaks (NFPA70-2023 in sources.csv).
    typed = measured(items_above="Pipe", open_above=free)
    assert bool(messages_of("dedicated-space-obstructed", typed)) == obstructed
    assert bool(messages_of("foreign-piping-above", typed)) == asked


@pytest.mark.parametrize(
    ("profile", "kind", "says"),
    [
        ("nec-2023", "Service disconnect", "dedicated-space-obstructed"),
        *(
            (profile, "Service disconnect", "dedicated-space-check")
            for profile in ("nec-2020", "nec-2017", "nec-2014", "osha-1910")
        ),
        ("nec-2020", "Switchboard", "dedicated-space-obstructed"),
        ("osha-1910", "Switchgear", "dedicated-space-check"),
        ("nec-2020", "Disconnect switch", ""),
        ("nec-2023", "Transformer", ""),
    ],
)
def test_where_the_kind_does_not_tell_it_is_asked(profile: str, kind: str, says: str):
    # Service equipment joins the list of 110.26(E) in 2023 (NFPA70-2023 in sources.csv); before, a board that is the
    # service is on it as a board, and a switch is not. Other editions and 29 CFR 1910.303(g)(1)(vii): from memory.
    typed = as_typed(
        job={"code_profile": profile},
        equipment=[{**DP1, "kind": kind}],
        clearances=[{"tag": "DP-1", "items_above": "Pipe"}],
    )
    slugs = ("dedicated-space-obstructed", "dedicated-space-check", "foreign-piping-above")
    assert [slug for slug in slugs if messages_of(slug, typed)] == ([says] if says else [])


def test_how_far_up_was_looked_is_asked_where_nothing_was_seen():
    assert missing("dedicated-space-obstructed", measured(items_above="None")) == ["Open above"]
    assert missing("dedicated-space-obstructed", measured(items_above="Pipe")) == []
    assert missing("dedicated-space-obstructed", measured(items_above="None", open_above="N/A")) == []


@pytest.mark.parametrize(
    ("kind", "has_one"),
    [("Panelboard", True), ("Switchboard", True), ("Switchgear", True), ("Motor control center", True),
     ("Transformer", False), ("Disconnect switch", False), ("Generator", False)],
)  # fmt: skip
def test_the_dedicated_space_belongs_to_the_kinds_of_the_list(kind: str, has_one: bool):
    # NFPA 70 110.26(E): switchboards, switchgear, panelboards and motor control centers.
    typed = measured({**DP1, "kind": kind}, items_above="Pipe; Sprinkler only")
    assert bool(messages_of("dedicated-space-obstructed", typed)) == has_one
    assert bool(messages_of("sprinkler-above", typed)) == has_one
    assert bool(missing("dedicated-space-obstructed", measured({**DP1, "kind": kind}))) == has_one


@pytest.mark.parametrize(("kind", "asked"), [("", ["Kind of DP-1"]), ("N/V", ["Kind of DP-1"]), ("N/A", [])])
def test_a_kind_that_was_not_read_may_have_a_dedicated_space(kind: str, asked: list[str]):
    typed = measured({**DP1, "kind": kind}, items_above="Pipe")
    assert missing("dedicated-space-obstructed", typed) == asked
    assert missing("sprinkler-above", typed) == asked
    assert messages_of("dedicated-space-obstructed", typed) == []


@pytest.mark.parametrize(
    ("items", "says"),
    [("None", ""), ("N/A", ""), ("", ""), ("Ladder", "Ladder"), ("None; Ladder", "Ladder"), ("Ladder; Pallets; Paint", "Ladder, Pallets and Paint")],
)  # fmt: skip
def test_anything_in_the_working_space_is_storage(items: str, says: str):
    found = messages_of("working-space-storage", measured(items_in_space=items))
    assert [text.partition(" in the working space")[0] for text in found] == ([says] if says else [])


# -- ways out

MSB = {"tag": "MSB", "kind": "Switchboard", "room": "Main", "rating_a": "1600"}


def room_of(entrances: str, width: str = "90", **cells: str) -> Typed:
    return as_typed(
        rooms=[{"room": "Main", "entrances": entrances}],
        equipment=[{**MSB, **cells}],
        clearances=[{"tag": "MSB", "equipment_width": width}],
    )


@pytest.mark.parametrize(
    ("typed", "problem", "asked"),
    [
        (room_of("1"), True, []),
        (room_of("0"), True, []),
        (room_of("2"), False, []),
        (room_of("3"), False, []),
        (room_of("1", "72"), False, []),
        (room_of("1", "73"), True, []),
        (room_of("1", rating_a="1200"), True, []),
        (room_of("1", rating_a="1199"), False, []),
        (room_of("1", rating_a="-1600"), False, []),
        (room_of("1", kind="Transformer"), False, []),
        (room_of("1", kind="Lift controller"), False, []),
        (room_of("1", "90 ft"), False, []),
        (room_of(""), False, ["Entrances of Main"]),
        (room_of("N/V"), False, ["Entrances of Main"]),
        (room_of("N/A"), False, []),
        (room_of("1", room=""), False, ["Room of MSB"]),
        (room_of("1", room="Elsewhere"), False, ["Room of MSB"]),
        (room_of("1", ""), False, ["Equipment width"]),
        (room_of("1", rating_a=""), False, ["Rating (A) of MSB"]),
        (room_of("1", "", rating_a=""), False, ["Equipment width"]),
        (room_of("1", "N/A"), False, []),
        (room_of("1", "", rating_a="1199"), False, []),
        (room_of("1", "", rating_a="1200"), False, ["Equipment width"]),
        (room_of("1", "72", rating_a=""), False, []),
        (room_of("1", "73", rating_a=""), False, ["Rating (A) of MSB"]),
    ],
)
def test_large_equipment_wants_two_ways_out(typed: Typed, problem: bool, asked: list[str]):
    # NFPA 70 110.26(C)(2): 1200 A or more and over 6 ft wide; one entrance at each end of the working space.
    assert bool(messages_of("second-entrance-check", typed)) == problem
    assert missing("second-entrance-check", typed) == asked


def test_two_measured_sides_of_one_board_are_one_question():
    sides = [{"tag": "MSB", "equipment_width": "90"}] * 2
    typed = as_typed(rooms=[{"room": "Main", "entrances": "1"}], equipment=[MSB], clearances=sides)
    assert len(messages_of("second-entrance-check", typed)) == 1
    other = as_typed(
        rooms=[{"room": "Main", "entrances": "1"}],
        equipment=[MSB, {**MSB, "tag": "MSB-2", **WYE_208}],
        clearances=[*sides, {"tag": "MSB-2", "equipment_width": "80"}],
    )
    assert len(messages_of("second-entrance-check", other)) == 2
    unknown = as_typed(equipment=[MSB], clearances=sides)
    assert missing("second-entrance-check", unknown) == ["Room of MSB"]


@pytest.mark.parametrize(
    ("entrances", "says"), [("1", "Main has one entrance ("), ("0", "Main has no entrance (")]
)
def test_the_entrances_are_counted(entrances: str, says: str):
    (said,) = messages_of("second-entrance-check", room_of(entrances))
    assert says in said


@pytest.mark.parametrize(
    ("unit", "cells", "short"),
    [
        (
            "cm",
            {"depth": "42", "width": "36", "height": "84", "equipment_width": "24"},
            [],
        ),  # all of it in inches
        ("cm", {"depth": "42 cm", "height": "84"}, ["working-depth-short"]),
        ("in", {"depth": "914", "width": "26", "equipment_width": "20"}, ["working-width-short"]),
        ("in", {"depth": "4", "width": "26", "equipment_width": "20"}, ["working-width-short"]),
        ("cm", {"depth": "80", "height": "200"}, ["working-depth-short"]),
    ],
)
def test_a_row_in_another_unit_than_the_jobs_is_not_called_short(unit: str, cells: Row, short: list[str]):
    typed = as_typed(
        job={"dimension_unit": unit},
        equipment=[DP1],
        clearances=[{"tag": "DP-1", "opposite_side": "Grounded", **cells}],
    )
    assert [rule for rule in RULES if messages_of(rule, typed)] == short

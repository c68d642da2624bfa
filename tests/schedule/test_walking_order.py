"""One list of everything: whatever Fed from says, each piece stands in it once, after what feeds it."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbook_tools.assessment import Assessment
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule.supply_picture import LARGE, MOST_FRAMES, SMALL, draw, frames
from workbook_tools.schedule.tree import tree_nodes
from workbook_tools.schedule.walking_order import sources_first, walk


def equipment(**fed_from):
    rows = [
        {
            "tag": tag,
            "kind": "Service disconnect" if tag.startswith("SD") else "Panelboard",
            "fed_from": source,
        }
        for tag, source in fed_from.items()
    ]
    return Assessment(survey_of(as_typed(equipment=rows)))


def lines(assessment):
    return [("  " * node.depth) + node.tag + (f" ({node.note})" if node.note else "") for node in
            tree_nodes(walk(assessment), assessment, {}, {})]  # fmt: skip


def test_service_then_what_it_feeds_depth_first():
    assessment = equipment(LP="DP", SD="Utility", EP="SD", DP="SD", GEN="N/A")
    assert lines(assessment) == ["Utility", "  SD", "    EP", "    DP", "      LP", "GEN"]


def test_two_services_stand_one_after_the_other():
    assessment = equipment(SD2="Utility 2", SD1="Utility", B="SD2", A="SD1")
    assert lines(assessment) == ["Utility 2", "  SD2", "    B", "Utility", "  SD1", "    A"]


def test_a_second_source_is_said():
    assessment = equipment(SD="Utility", GEN="N/A", ATS="SD; GEN")
    assert lines(assessment) == ["Utility", "  SD", "    ATS (also fed from GEN)", "GEN"]


def test_in_the_list_a_lone_source_stands_before_what_it_feeds():
    assessment = equipment(
        SD="Utility", GEN="N/A", ATS="SD; GEN", EP="ATS", I1="PV array", I2="PV array", P="I1, I2"
    )
    tags = [step.row.called for step in sources_first(walk(assessment), assessment)]
    assert tags == ["SD", "GEN", "ATS", "EP", "I1", "I2", "P"]


def test_a_loop_and_an_unknown_source_survive():
    assessment = equipment(A="B", B="A", C="RP-99", D="D")
    assert lines(assessment) == [
        "Source not known", "  C (RP-99 is not in the list)", "  D (fed from itself)", "  A (fed from itself through B)",
        "    B",
    ]  # fmt: skip


SOURCES = ("Utility", "PV array", "N/A", "", "A", "B", "C", "D", "E", "Z")


@given(st.lists(st.lists(st.sampled_from(SOURCES), min_size=1, max_size=3), min_size=5, max_size=5))
@settings(max_examples=60, deadline=None)
def test_no_row_of_the_list_is_lost_or_doubled(sources):
    assessment = equipment(**{tag: "; ".join(names) for tag, names in zip("ABCDE", sources, strict=True)})
    listed = [step.row.called for step in sources_first(walk(assessment), assessment)]
    assert sorted(listed) == list("ABCDE")


def test_a_chain_of_ten_thousand_is_followed():
    chain = {f"P{n}": f"P{n - 1}" if n else "Utility" for n in range(10_000)}
    steps = walk(equipment(**chain))
    assert [step.depth for step in steps] == list(range(10_000))


NAMES = ["A", "B", "C", "D", "E", "F", "G", "H"]
SOURCES = st.lists(
    st.sampled_from([*NAMES, "Utility", "Utility 2", "PV array", "ZZ"]), max_size=3, unique=True
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(NAMES), SOURCES, st.booleans()), min_size=1, max_size=12))
def test_every_row_stands_in_the_list_once_after_what_feeds_it(rows):
    typed = [
        {
            "tag": tag,
            "kind": "Service disconnect" if service else "Panelboard",
            "fed_from": "; ".join(sources) or "N/A",
        }
        for tag, sources, service in rows
    ]
    assessment = Assessment(survey_of(as_typed(equipment=typed)))
    steps = walk(assessment)
    assert Counter(step.row for step in steps) == Counter(assessment.survey.equipment)
    for place, step in enumerate(steps):
        if step.parent is not None:
            above = steps[step.parent]
            assert step.parent < place
            assert above.depth == step.depth - 1
            assert any(above.row in source.rows for source in assessment.supply.sources(step.row))
    nodes = tree_nodes(steps, assessment, {}, {})
    assert sum(not node.source for node in nodes) == len(rows)
    shown, complete = frames(nodes)
    assert complete
    assert {place for frame in shown for place in frame.nodes} == set(range(len(nodes)))


@pytest.mark.parametrize("count", [5, 60, 300])
def test_pictures_hold_every_line_and_stay_readable(count):
    rows = {"SD": "Utility", **{f"P{n}": "SD" if n < 8 else f"P{(n - 8) // 5}" for n in range(count)}}
    assessment = equipment(**rows)
    nodes = tree_nodes(walk(assessment), assessment, {}, {})
    shown, complete = frames(nodes)
    assert complete
    assert {place for frame in shown for place in frame.nodes} == set(range(len(nodes)))
    most = LARGE if count < 100 else SMALL
    assert len(shown) == 1 or sum(not node.source for node in nodes) > most.ends
    for frame in shown:
        inside = set(frame.nodes)
        feeding = {nodes[place].parent for place in inside}
        ends = [place for place in inside if place not in feeding]
        assert len(ends) <= most.ends
        top = min(nodes[place].depth for place in inside)
        assert max(nodes[place].depth for place in inside) - top < most.levels
        for place in frame.cut:
            assert any(place in other.nodes and other is not frame for other in shown)


def test_a_deep_chain_becomes_a_few_pictures_and_says_that_more_is_in_the_list():
    chain = {f"P{n}": f"P{n - 1}" if n else "Utility" for n in range(400)}
    assessment = equipment(**chain)
    shown, complete = frames(tree_nodes(walk(assessment), assessment, {}, {}))
    assert len(shown) == MOST_FRAMES
    assert not complete


def test_a_second_source_is_joined_to_what_it_feeds():
    assessment = equipment(
        SD="Utility", ATS="SD; GEN", EP="ATS", GEN="N/A", I1="PV array", I2="PV array", P="I1, I2"
    )
    nodes = tree_nodes(walk(assessment), assessment, {}, {})
    tags = [node.tag for node in nodes]
    assert {node.tag: [tags[other] for other in node.also] for node in nodes if node.also} == {
        "ATS": ["GEN"],
        "P": ["I2"],
    }
    shown, complete = frames(nodes)
    assert complete
    (frame,) = shown
    with_lines, width, height = draw(nodes, frame, "#22505A")
    without, *size = draw([replace(node, also=()) for node in nodes], frame, "#22505A")
    assert [width, height] == size
    assert ink(with_lines) > ink(without)


def test_a_generator_stands_in_the_picture_of_what_it_feeds():
    rows = {"SD": "Utility", **{f"P{n}": "SD" for n in range(40)}, "ATS": "SD; GEN", "GEN": "N/A"}
    assessment = equipment(**rows)
    nodes = tree_nodes(walk(assessment), assessment, {}, {})
    place = {node.tag: at for at, node in enumerate(nodes)}
    shown, complete = frames(nodes)
    assert complete
    assert len(shown) > 1
    for frame in shown:
        assert (place["ATS"] in frame.nodes) == (place["GEN"] in frame.nodes)


def ink(png):
    from io import BytesIO

    from PIL import Image

    return sum(value < 200 for value in Image.open(BytesIO(png)).convert("L").tobytes())


def test_a_picture_has_ink_where_its_boxes_are():
    from io import BytesIO

    from PIL import Image

    assessment = equipment(SD="Utility", A="SD", B="SD")
    nodes = tree_nodes(walk(assessment), assessment, {}, {})
    png, width, height = draw(nodes, frames(nodes)[0][0], "#22505A")
    picture = Image.open(BytesIO(png)).convert("L")
    assert picture.size == (width, height)
    dark = sum(value < 128 for value in picture.tobytes())
    assert dark > 2000
    assert picture.getpixel((width - 1, 0)) == 255

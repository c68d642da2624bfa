"""The supply picture: no two lines cross, nothing lies over another, everything is there, on pages that it fits on."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sampling import sampled_property
from workbook_tools.schedule.model import TreeNode
from workbook_tools.schedule.supply_layout import MM, Box, Drawing
from workbook_tools.schedule.supply_pages import supply_drawings
from workbook_tools.schedule.supply_shape import Shape

WIDE, HIGH = 247.4, 166.0
"""About what a page of letter paper holds. [mm]"""

Point = tuple[float, float]
Segment = tuple[Point, Point]


def node(
    parent: int | None, tag: str, room: str = "", also: tuple[int, ...] = (), source: bool = False
) -> TreeNode:
    """Return a line; its depth is not asked for."""
    return TreeNode(
        0,
        parent,
        tag,
        "Panelboard",
        room,
        "Level 1" if room else "",
        "225 A, 480Y/277 V",
        source=source,
        also=also,
    )


@st.composite
def trees(draw: st.DrawFn, most: int = 45) -> list[TreeNode]:
    """Draw a tree, depth first, with second sources anywhere and a few rooms."""
    count = draw(st.integers(1, most))
    parents: list[int | None] = [None]
    for at in range(1, count):
        parents.append(
            draw(st.one_of(st.integers(max(at - 6, 0), at - 1), st.integers(0, at - 1), st.none()))
        )
    below: dict[int | None, list[int]] = {}
    for at, parent in enumerate(parents):
        below.setdefault(parent, []).append(at)
    order: list[int] = []
    stack = list(reversed(below[None]))
    while stack:
        at = stack.pop()
        order.append(at)
        stack.extend(reversed(below.get(at, [])))
    place = {at: new for new, at in enumerate(order)}
    made = []
    for new, at in enumerate(order):
        parent = parents[at]
        also = (
            draw(st.lists(st.integers(0, count - 1), max_size=2, unique=True))
            if draw(st.integers(0, 4)) == 0
            else []
        )
        others = tuple(one for one in also if one not in (new, None if parent is None else place[parent]))
        made.append(
            node(
                None if parent is None else place[parent], f"P-{new}", draw(st.sampled_from(["", "Riser", "Plant room"])), others,
                source=parent is None and not others and draw(st.booleans()),
            )
        )  # fmt: skip
    return made


def segments(drawing: Drawing) -> list[tuple[int, Segment]]:
    return [
        (wire.into, (one, other))
        for wire in drawing.wires
        for one, other in zip(wire.points, wire.points[1:], strict=False)
    ]


def crosses(one: Segment, other: Segment) -> bool:
    """Whether a level and an upright line meet within both of them."""
    (a, b), (c, d) = one, other
    level, upright = ((a, b), (c, d)) if a[1] == b[1] else ((c, d), (a, b))
    if level[0][1] != level[1][1] or upright[0][0] != upright[1][0]:
        return False
    x, y = upright[0][0], level[0][1]
    left, right = sorted((level[0][0], level[1][0]))
    top, bottom = sorted((upright[0][1], upright[1][1]))
    return left + 0.01 < x < right - 0.01 and top + 0.01 < y < bottom - 0.01


def lies_on(one: Segment, other: Segment) -> bool:
    """Whether two lines run on each other for a while."""
    for axis in (0, 1):
        along = 1 - axis
        if one[0][axis] == one[1][axis] == other[0][axis] == other[1][axis]:
            a, b = sorted((one[0][along], one[1][along]))
            c, d = sorted((other[0][along], other[1][along]))
            return min(b, d) - max(a, c) > 0.01
    return False


def over(one: Box, other: Box) -> bool:
    return (
        one.x < other.x + other.wide - 0.01
        and other.x < one.x + one.wide - 0.01
        and one.y < other.y + other.high - 0.01
        and other.y < one.y + one.high - 0.01
    )


def through(box: Box, segment: Segment) -> bool:
    """Whether a line runs inside a box, not only along its edge."""
    left, right = sorted((segment[0][0], segment[1][0]))
    top, bottom = sorted((segment[0][1], segment[1][1]))
    return (
        left < box.x + box.wide - 0.01
        and right > box.x + 0.01
        and top < box.y + box.high - 0.01
        and bottom > box.y + 0.01
    )


def hold(nodes: list[TreeNode], wide: float = WIDE, high: float = HIGH) -> None:
    """Assert all that is promised about the pictures of a tree."""
    shape = Shape(nodes)
    made = supply_drawings(nodes, wide, high)
    feeder = {at: one.parent for at, one in enumerate(nodes)}
    for drawing in made.drawings:
        lines = segments(drawing)
        for (into, one), (other_into, other) in combinations(lines, 2):
            assert not crosses(one, other)
            # What one piece feeds, and what is fed by several, may share a line; nothing else does.
            if lies_on(one, other):
                assert into == other_into or feeder[into] == feeder[other_into]
        for one_box, other_box in combinations(drawing.boxes, 2):
            assert not over(one_box, other_box)
        for box in drawing.boxes:
            assert not any(through(box, one) for _, one in lines)
            assert box.x >= 0
            assert box.y >= 0
            assert box.x + box.wide <= drawing.wide + 0.01
            assert box.y + box.high <= drawing.high + 0.01
        assert drawing.wide <= wide
        assert drawing.high <= high
        for ground in drawing.places:
            for x, y, across, down in ground.areas:
                inside = [
                    b
                    for b in drawing.boxes
                    if x < b.x + b.wide / 2 < x + across and y < b.y + b.high / 2 < y + down
                ]
                assert {shape.room[b.at] for b in inside} <= {shape.room[at] for at in range(len(nodes)) if shape.room[at].startswith(ground.name.rstrip("."))}  # fmt: skip
    drawn = Counter(box.at for drawing in made.drawings for box in drawing.boxes)
    wired = {wire.into for drawing in made.drawings for wire in drawing.wires}
    if made.drawings:
        assert set(drawn) | set(shape.lone) == set(range(len(nodes)))
        assert not set(drawn) & set(shape.lone)
        assert wired == {at for at, one in enumerate(nodes) if one.parent is not None}
    else:
        assert all(one.parent is None for one in nodes)


@sampled_property(max_examples=600, fewest=60)
@given(trees())
def test_no_line_crosses_and_nothing_is_lost(nodes):
    hold(nodes)


@sampled_property(max_examples=200)
@given(trees(12))
def test_a_small_page_takes_several_pictures(nodes):
    hold(nodes, 160.0, 60.0)


def test_a_generator_stands_beside_what_it_feeds_and_inverters_share_a_line():
    nodes = [
        node(None, "Utility", source=True), node(0, "SD-1"), node(1, "ATS-1", also=(7,)), node(2, "EP-1"), node(1, "DP-1"),
        node(4, "LP-1"), node(4, "LP-2"), node(None, "GEN-1"), node(None, "PV array", source=True), node(8, "INV-1"),
        node(9, "PVP-1", also=(11, 12)), node(8, "INV-2"), node(8, "INV-3"), node(None, "FA-1"),
    ]  # fmt: skip
    hold(nodes)
    shape = Shape(nodes)
    assert shape.beside == {2: [7]}
    assert shape.joined == {10: [11, 12]}
    assert [nodes[at].tag for at in shape.lone] == ["FA-1"]
    assert shape.below[1] == [4, 2], "what has a second source stands last"
    (drawing,) = supply_drawings(nodes, WIDE, HIGH).drawings
    assert [wire.into for wire in drawing.wires if wire.broken] == [2]
    assert sum(wire.into == 10 for wire in drawing.wires) == 3


def test_a_source_that_cannot_be_drawn_is_named_in_the_box():
    nodes = [node(None, "Utility", source=True), node(0, "A"), node(1, "B"), node(0, "C", also=(2,))]
    (drawing,) = supply_drawings(nodes, WIDE, HIGH).drawings
    assert next(box for box in drawing.boxes if box.at == 3).lines[-1] == "also from B"


def test_the_demonstrations_size_stands_on_one_page_in_letters_that_can_be_read():
    nodes = [node(None, "Utility", source=True), node(0, "SD-1", "Main"), node(1, "MSB-1", "Main")]
    for group in range(8):
        top = len(nodes)
        nodes.append(node(2, f"DP-{group}", "Main"))
        nodes += [node(top, f"T-{group}", f"Riser {group}"), node(top + 1, f"RP-{group}", f"Riser {group}")]
        nodes += [
            node(top + 2, f"LP-{group}A", f"Riser {group}"),
            node(top + 2, f"LP-{group}B", f"Office {group}"),
        ]
    assert len(nodes) == 43
    (drawing,) = supply_drawings(nodes, WIDE, HIGH).drawings
    assert drawing.letters.points >= 6
    assert drawing.letters.small >= 6


@pytest.mark.parametrize("shape", ["comb", "chain", "tree"])
def test_three_hundred_pieces_are_cut_by_branch_and_every_cut_names_its_picture(shape):
    above = {"comb": lambda at: 1, "chain": lambda at: at, "tree": lambda at: (at - 1) // 4 + 1}[shape]
    nodes = [node(None, "Utility", source=True), node(0, "SD-1")]
    nodes += [node(above(at), f"P-{at}", f"Room {at // 9}") for at in range(1, 300)]
    hold(nodes)
    made = supply_drawings(nodes, WIDE, HIGH)
    assert 2 < len(made.drawings) < 20
    for number, (drawing, tops) in enumerate(zip(made.drawings, made.tops, strict=True), 1):
        for box in drawing.boxes:
            for line in box.lines:
                if line.startswith("goes on in picture "):
                    assert box.at in made.tops[int(line.rsplit(" ", 1)[1]) - 1]
                    assert int(line.rsplit(" ", 1)[1]) != number
                if line == "goes on in this picture":
                    assert box.at in tops
        assert drawing.letters.points >= 7


def test_texts_are_as_wide_as_they_are_taken_for():
    # The face that the PDF is printed in, in the narrow cut of tables and boxes.
    from importlib import resources

    from PIL import ImageFont

    from workbook_tools.schedule.supply_layout import _wide

    file = resources.files("fontpkg_ibm_plex_sans").joinpath("files", "IBMPlexSans[wdth,wght].ttf")
    face = ImageFont.truetype(str(file), 1000)
    texts = ("2000 A, fuses 1600 A, 480Y/277 V", "112.5 kVA, 480 to 208Y/120 V", "Motor control center", "Disconnect switch",
             "Main electrical room (Ground)", "EV charging equipment", "RP-1", "MSB-10", "Utility 2", "Panelboard")  # fmt: skip
    for bold, weight in ((False, 400), (True, 700)):
        face.set_variation_by_axes([weight, 85])
        for text in texts:
            drawn = face.getlength(text) / 1000 * 7 * 25.4 / 72
            # A millimetre is left at either side of a box.
            assert drawn <= _wide(text, 7, bold) + 0.6
            assert _wide(text, 7, bold) <= drawn * 1.12
    assert MM == 25.4 / 96

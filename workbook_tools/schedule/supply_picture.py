"""The supply tree as a picture: sources at the left, what they feed to the right.

    frames(nodes)                which lines of the tree go into which picture
    draw(nodes, frame, colour)   one picture as PNG, with its size in pixels
    Frame                        the lines of one picture

A tree that fits stands in one picture; a larger one is split by source, and below that where
it would become too small to read. A box that goes on elsewhere says so. A second source (a
generator, a further inverter) is joined to what it feeds by a broken line.

Not here: the order of the lines (walking_order), the boxes (supply_boxes), the sheet (tree_sheets).
"""

from __future__ import annotations

import zlib
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from io import BytesIO
from typing import Any

from workbook_tools.rules.plain_english import listed
from workbook_tools.schedule.model import TreeNode
from workbook_tools.schedule.supply_boxes import Boxes, Told

__all__ = ["Frame", "draw", "frames"]


@dataclass(frozen=True, slots=True)
class Size:
    """How much one page shows: boxes, boxes that feed nothing, levels."""

    nodes: int
    ends: int
    levels: int


LARGE, SMALL = Size(60, 13, 6), Size(80, 52, 8)
"""With large letters; and, for a large building, what can still be read."""

_MOST_LARGE = 120
"""Lines of a tree that is drawn with large letters."""

MOST_FRAMES = 24
"""Pictures of one schedule; the list has the rest."""

_WIDE, _HIGH = 1840, 1140
"""One printed page at two pixels to the point on screen."""

_SHORTEST_PITCH, _TALLEST_PITCH = 22, 96


_GUTTER, _HIGHEST_BOX, _DASH = 36, 90, 8
"""Room between two levels, where the lines run; the highest box; a dash of a broken line. [pixels]"""


@dataclass(frozen=True, slots=True)
class Frame:
    """One picture: its lines in their order, those that go on in another one, and its title."""

    nodes: tuple[int, ...]
    cut: frozenset[int] = frozenset()
    title: str = ""


def frames(nodes: Sequence[TreeNode]) -> tuple[list[Frame], bool]:
    """Return the pictures, and whether they hold every line.

    Parameters
    ----------
    nodes : sequence of TreeNode
        The tree, depth first.
    """
    size = LARGE if len(nodes) <= _MOST_LARGE else SMALL
    below: list[list[int]] = [[] for _ in nodes]
    tops: list[int] = []
    for place, node in enumerate(nodes):
        (tops if node.parent is None else below[node.parent]).append(place)
    lone = _lone_sources(nodes, tops, below)
    made: list[Frame] = []
    waiting: list[list[int]] = []
    group: list[int] = []
    for top in tops:
        if top in lone:
            continue
        trial = _spread([*group, top], below, size)
        if group and not _fits(trial, below, size):
            waiting.append(group)
            group = []
        group.append(top)
    waiting.append(group)
    at = 0
    while at < len(waiting) and len(made) < MOST_FRAMES:
        frame, more = _frame(waiting[at], below, nodes, size)
        made.append(frame)
        waiting[at + 1 : at + 1] = more
        at += 1
    return [_with_sources(frame, nodes, lone) for frame in made], at == len(waiting)


def _lone_sources(nodes: Sequence[TreeNode], tops: Sequence[int], below: Sequence[Sequence[int]]) -> set[int]:
    """Return lines that stand for themselves in the tree and feed something: each is drawn beside what it feeds."""
    feeding = {other for node in nodes for other in node.also}
    return {top for top in tops if top in feeding and not below[top]}


def _with_sources(frame: Frame, nodes: Sequence[TreeNode], lone: Collection[int]) -> Frame:
    beside = dict.fromkeys(other for place in frame.nodes for other in nodes[place].also if other in lone)
    return replace(frame, nodes=(*frame.nodes, *beside)) if beside else frame


def _spread(tops: Sequence[int], below: Sequence[Sequence[int]], size: Size) -> list[tuple[int, int]]:
    """Return the lines under some tops with their levels, as deep as a picture shows, depth first."""
    shown: list[tuple[int, int]] = []
    stack = [(top, 0) for top in reversed(tops)]
    while stack and len(shown) <= size.nodes + 1:
        place, level = stack.pop()
        shown.append((place, level))
        if level + 1 < size.levels:
            stack.extend((child, level + 1) for child in reversed(below[place]))
    return shown


def _fits(shown: Sequence[tuple[int, int]], below: Sequence[Sequence[int]], size: Size) -> bool:
    ends = sum(not below[place] or level == size.levels - 1 for place, level in shown)
    return len(shown) <= size.nodes and ends <= size.ends


def _frame(
    tops: list[int], below: Sequence[Sequence[int]], nodes: Sequence[TreeNode], size: Size
) -> tuple[Frame, list[list[int]]]:
    """Return one picture, and the tops of those that go on from it."""
    title = listed([nodes[top].tag for top in tops[:4]]) + (", ..." if len(tops) > 4 else "")
    shown = _spread(tops, below, size)
    if not _fits(shown, below, size):
        return _packed(tops, below, title, size)
    deep = [place for place, level in shown if level == size.levels - 1 and below[place]]
    return Frame(tuple(place for place, _ in shown), frozenset(deep), title), [[place] for place in deep]


def _packed(
    tops: list[int], below: Sequence[Sequence[int]], title: str, size: Size
) -> tuple[Frame, list[list[int]]]:
    """Show the first level under the tops and as many whole branches as fit; the others go on elsewhere."""
    kept: list[int] = list(tops)
    children = [child for top in tops for child in below[top]]
    # What feeds a single piece stands in the picture of what that piece feeds.
    while len(children) == 1 and len(kept) < size.levels - 2 and below[children[0]]:
        kept.append(children[0])
        children = list(below[children[0]])
    budget = size.ends - 1
    cut: set[int] = set()
    more: list[list[int]] = []
    for place, child in enumerate(children):
        branch = [p for p, _ in _spread([child], below, size)]
        ends = sum(not below[p] for p in branch)
        room = budget - (len(children) - place - 1)
        if ends <= room and len(branch) <= size.nodes - len(kept) and _whole(branch, below):
            kept += branch
            budget -= ends
        elif budget > 0:
            kept.append(child)
            budget -= 1
            if below[child]:
                cut.add(child)
                more.append([child])
        else:
            more.append(children[place:])
            break
    return Frame(tuple(dict.fromkeys(kept)), frozenset(cut), title), more


def _whole(branch: Sequence[int], below: Sequence[Sequence[int]]) -> bool:
    inside = set(branch)
    return all(child in inside for place in branch for child in below[place])


def draw(nodes: Sequence[TreeNode], frame: Frame, colour: str) -> tuple[bytes, int, int]:
    """Draw one picture.

    Parameters
    ----------
    nodes : sequence of TreeNode
        The tree, depth first.
    frame : Frame
        Which lines.
    colour : str
        The firm's colour, "#RRGGBB": the picture is drawn in its shades.

    Returns
    -------
    png : bytes
    width, height : int
        [pixels]; two of them to one at 96 to the inch.
    """
    from PIL import Image, ImageDraw

    inside = set(frame.nodes)
    parent = {place: nodes[place].parent for place in frame.nodes if nodes[place].parent in inside}
    level, ends = _placed(frame.nodes, parent)
    levels = max(level.values()) + 1
    pitch = max(min(_HIGH // max(len(ends), 1), _TALLEST_PITCH), _SHORTEST_PITCH)
    step = min(_WIDE // levels, 420)
    middle = _middles(frame.nodes, parent, ends, pitch)
    width, height = step * levels, pitch * len(ends) + 4
    image = Image.new("L", (width, height), 255)
    pen = ImageDraw.Draw(image)
    told = {place: _told(nodes, place, inside, place in frame.cut) for place in frame.nodes}
    box = Boxes(
        image, pen, step - _GUTTER, min(pitch - (6 if pitch >= 50 else 1), _HIGHEST_BOX), list(told.values())
    )
    for place in frame.nodes:
        for other in nodes[place].also:
            if other in inside:
                start = (level[other] * step + box.wide, middle[other])
                _broken_line(pen, start, (level[place] * step, middle[place] + box.high // 4))
    for place, above in parent.items():
        if above is not None:
            x1, x2 = level[above] * step + box.wide, level[place] * step
            bend = x1 + _GUTTER // 2
            pen.line(
                [(x1, middle[above]), (bend, middle[above]), (bend, middle[place]), (x2, middle[place])],
                110,
                2,
            )
    for place in frame.nodes:
        box.draw(told[place], level[place] * step, middle[place])
    # Sixteen shades are enough for lines and letters, and make a file of a third of the size.
    image = image.point([shade >> 4 for shade in range(256)])
    image.putpalette(_shades(colour))
    file = BytesIO()
    file.name = "supply.png"  # told by the name, only what writes this kind of file is loaded
    image.save(file, bits=4, compress_level=1, compress_type=zlib.Z_RLE)
    return file.getvalue(), width, height


def _placed(places: Sequence[int], parent: dict[int, int | None]) -> tuple[dict[int, int], list[int]]:
    level: dict[int, int] = {}
    feeding = set(parent.values())
    for place in places:
        above = parent.get(place)
        level[place] = level[above] + 1 if above is not None else 0
    return level, [place for place in places if place not in feeding]


def _middles(
    places: Sequence[int], parent: dict[int, int | None], ends: Sequence[int], pitch: int
) -> dict[int, int]:
    """Return the middle of each box: ends one under the other, the others halfway along what they feed."""
    middle = {place: 2 + pitch * row + pitch // 2 for row, place in enumerate(ends)}
    span: dict[int, list[int]] = {}
    for place in reversed(places):
        if place not in middle:
            middle[place] = (min(span[place]) + max(span[place])) // 2
        above = parent.get(place)
        if above is not None:
            span.setdefault(above, []).append(middle[place])
    return middle


def _shades(colour: str) -> bytes:
    """Return a palette from the firm's colour (black) to white."""
    try:
        dark = tuple(int(colour[at : at + 2], 16) // 2 for at in (1, 3, 5))
    except ValueError:
        dark = (0, 0, 0)
    return bytes(d + (255 - d) * shade // 15 for shade in range(16) for d in dark)


def _told(nodes: Sequence[TreeNode], place: int, inside: Collection[int], cut: bool) -> Told:
    """Return what a box says; a further source that is not in the picture is named."""
    node = nodes[place]
    figures = node.short or node.note or node.room
    elsewhere = [nodes[other].tag for other in node.also if other not in inside]
    if elsewhere and node.short:
        figures = f"{figures}; also from {listed(elsewhere)}"
    mark = "(goes on)" if cut else f"[{node.issues}]" if node.issues else ""
    return Told(f"{node.tag} {node.kind}".strip(), figures, mark, node.source, bool(node.issues))


def _broken_line(pen: Any, start: tuple[int, int], end: tuple[int, int]) -> None:
    """Draw a broken line: along the row of the start, up or down before the box at the end, and into it."""
    (x1, y1), (x2, y2) = start, end
    bend = x2 - 8
    for (left, top), (right, bottom) in (
        ((x1, y1), (bend, y1)),
        ((bend, y1), (bend, y2)),
        ((bend, y2), (x2, y2)),
    ):
        long = max(abs(right - left), abs(bottom - top))
        for at in range(0, long, 2 * _DASH):
            points = [
                (left + (right - left) * part // long, top + (bottom - top) * part // long)
                for part in (at, min(at + _DASH, long))
            ]
            pen.line(points, 60, 3)

"""The supply tree as a picture: sources at the left, what they feed to the right.

    frames(nodes)                which lines of the tree go into which picture
    draw(nodes, frame, colour)   one picture as PNG, with its size in pixels
    Frame                        the lines of one picture

A tree that fits stands in one picture; a larger one is split by source, and below that where
it would become too small to read. A box that goes on elsewhere says so.

Not here: the order of the lines (walking_order), the sheet (tree_sheets).
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Any

from workbook_tools.schedule.lettering import lettering
from workbook_tools.schedule.plain_english import listed

if TYPE_CHECKING:
    from workbook_tools.schedule.model import TreeNode

__all__ = ["Frame", "draw", "frames"]

MOST_NODES, MOST_ENDS, MOST_LEVELS = 80, 52, 8
"""What one page shows in print that can be read."""

MOST_FRAMES = 24
"""Pictures of one schedule; the list has the rest."""

_WIDE, _HIGH = 1840, 1140
"""One printed page at two pixels to the point on screen."""

_SHORTEST_PITCH, _TALLEST_PITCH = 22, 84


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
    below: list[list[int]] = [[] for _ in nodes]
    tops: list[int] = []
    for place, node in enumerate(nodes):
        (tops if node.parent is None else below[node.parent]).append(place)
    made: list[Frame] = []
    waiting: list[list[int]] = []
    group: list[int] = []
    for top in tops:
        trial = _spread([*group, top], below)
        if group and not _fits(trial, below, nodes):
            waiting.append(group)
            group = []
        group.append(top)
    waiting.append(group)
    at = 0
    while at < len(waiting) and len(made) < MOST_FRAMES:
        frame, more = _frame(waiting[at], below, nodes)
        made.append(frame)
        waiting[at + 1 : at + 1] = more
        at += 1
    return made, at == len(waiting)


def _spread(tops: Sequence[int], below: Sequence[Sequence[int]]) -> list[tuple[int, int]]:
    """Return the lines under some tops with their levels, as deep as a picture shows, depth first."""
    shown: list[tuple[int, int]] = []
    stack = [(top, 0) for top in reversed(tops)]
    while stack and len(shown) <= MOST_NODES + 1:
        place, level = stack.pop()
        shown.append((place, level))
        if level + 1 < MOST_LEVELS:
            stack.extend((child, level + 1) for child in reversed(below[place]))
    return shown


def _fits(
    shown: Sequence[tuple[int, int]], below: Sequence[Sequence[int]], nodes: Sequence[TreeNode]
) -> bool:
    ends = sum(not below[place] or level == MOST_LEVELS - 1 for place, level in shown)
    return len(shown) <= MOST_NODES and ends <= MOST_ENDS


def _frame(
    tops: list[int], below: Sequence[Sequence[int]], nodes: Sequence[TreeNode]
) -> tuple[Frame, list[list[int]]]:
    """Return one picture, and the tops of those that go on from it."""
    title = listed([nodes[top].tag for top in tops[:4]]) + (", ..." if len(tops) > 4 else "")
    shown = _spread(tops, below)
    if not _fits(shown, below, nodes):
        return _packed(tops, below, nodes, title)
    deep = [place for place, level in shown if level == MOST_LEVELS - 1 and below[place]]
    return Frame(tuple(place for place, _ in shown), frozenset(deep), title), [[place] for place in deep]


def _packed(
    tops: list[int], below: Sequence[Sequence[int]], nodes: Sequence[TreeNode], title: str
) -> tuple[Frame, list[list[int]]]:
    """Show the first level under the tops and as many whole branches as fit; the others go on elsewhere."""
    kept: list[int] = list(tops)
    children = [child for top in tops for child in below[top]]
    # What feeds a single piece stands in the picture of what that piece feeds.
    while len(children) == 1 and len(kept) < MOST_LEVELS - 2 and below[children[0]]:
        kept.append(children[0])
        children = list(below[children[0]])
    budget = MOST_ENDS - 1
    cut: set[int] = set()
    more: list[list[int]] = []
    for place, child in enumerate(children):
        branch = [p for p, _ in _spread([child], below)]
        ends = sum(not below[p] for p in branch)
        room = budget - (len(children) - place - 1)
        if ends <= room and len(branch) <= MOST_NODES - len(kept) and _whole(branch, below):
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
    box = _Box(image, pen, step - 36, min(pitch - (6 if pitch >= 50 else 1), 66))
    for place, above in parent.items():
        if above is not None:
            x1, x2 = level[above] * step + box.wide, level[place] * step
            bend = x1 + 18
            pen.line(
                [(x1, middle[above]), (bend, middle[above]), (bend, middle[place]), (x2, middle[place])],
                110,
                2,
            )
    for place in frame.nodes:
        box.draw(nodes[place], level[place] * step, middle[place], place in frame.cut)
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


class _Box:
    """Draws boxes of one size: tag and kind above, rating and voltage below where there is room."""

    def __init__(self, image: Any, pen: Any, wide: int, high: int) -> None:
        self.image, self.pen = image, pen
        self.wide, self.high = wide, high
        self.two_lines = high >= 44
        most = 23 if wide > 260 else 20
        size = min(most, high // 2 - 1) if self.two_lines else min(most, high - 4)
        self.letters = lettering(max(size, 13))

    def draw(self, node: TreeNode, left: int, middle: int, cut: bool) -> None:
        top = middle - self.high // 2
        shape = (left, top, left + self.wide, top + self.high)
        fill = 200 if node.source else 246
        if self.two_lines:
            self.pen.rectangle(shape, fill=fill, outline=40, width=4 if node.issues else 2)
        else:
            self.pen.rectangle(shape, fill=fill, outline=170, width=1)
            if node.issues:
                self.pen.rectangle((left, top, left + 5, top + self.high), fill=40)
        mark = " (goes on)" if cut else f" [{node.issues}]" if node.issues else ""
        first = f"{node.tag} {node.kind}".strip()
        second = node.short or node.note
        second = second or node.room
        if self.two_lines and second:
            self._text(first, mark, left, middle - self.high // 4)
            self._text(second, "", left, middle + self.high // 4)
        elif self.two_lines:
            self._text(first, mark, left, middle)
        else:
            tag = f"{node.tag} {node.short or node.kind}".strip()
            self._text(tag, mark, left, middle)

    def _text(self, text: str, mark: str, left: int, middle: int) -> None:
        room = self.wide - 18 - (self.letters.width(mark) if mark else 0)
        text = self.letters.cut(text.replace("\n", " ")[:200], room)
        self.letters.write(self.image, left + 10, middle, f"{text}{mark}")

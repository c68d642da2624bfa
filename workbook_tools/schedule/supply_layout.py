"""Where everything of a supply picture stands: boxes, lines and rooms, in millimetres, with no crossing line.

    lay_out(shape, branches, letters, spread)   some branches as one Drawing, side by side and under each other
    size_of(...)                                how large that would be
    Branch                                      what of the tree is drawn together
    Drawing                                     boxes, wires and rooms with their places
    Letters, Spread                             how large letters are; how far things stand apart

Widths are those of a plain sans serif (files.text_width), which a test holds to the face that is printed with.

Not here: what stands beside what (supply_shape), what stands on which page (supply_pages), how it looks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from itertools import pairwise

from workbook_tools.files.text_width import cut, shortened, text_width, wrapped
from workbook_tools.schedule.model import TreeNode
from workbook_tools.schedule.supply_shape import Shape

__all__ = ["Box", "Branch", "Drawing", "Letters", "Place", "Spread", "Wire", "lay_out", "size_of"]

MM = 25.4 / 96
"""Millimetres in a pixel at 96 to the inch."""

_FACE = {False: 0.97, True: 0.93}
"""Letters of the narrow face that boxes are written in, beside those of files.text_width; the second for bold ones."""

_MOST_LINES = 4
_SIDE, _ABOVE = 1.0, 0.55
"""Between a box and its text. [mm]"""

_NAME = 46.0
"""Of tag and kind, which stand in one line; what is longer ends in dots. [mm]"""

_MARK = 3.4
"""Room for the sign of a priority. [mm]"""

_ROOM = 0.8
"""How far the ground of a room goes beyond its boxes. [mm]"""

_SECOND = 1.2
"""How far below its feeder a broken line enters a box. [mm]"""


@dataclass(frozen=True, slots=True)
class Letters:
    """Letters of a picture: their size, and how wide a text in a box may be before it goes on in a next line [mm].

    `face` is how wide they are beside those that the PDF is printed in.
    """

    points: float
    widest: float = 46.0
    face: float = 1.0

    @property
    def line(self) -> float:
        """Millimetres from one line to the next."""
        return self.points * 1.07 * 25.4 / 72

    @property
    def small(self) -> float:
        """Size of a room's name."""
        return max(self.points - 0.6, 6.0)

    @property
    def named(self) -> float:
        """Height of a room's name in millimetres."""
        return self.small * 1.08 * 25.4 / 72 + 0.1


@dataclass(frozen=True, slots=True)
class Spread:
    """Millimetres between two columns, where the lines run, and between two rows."""

    columns: float
    rows: float


@dataclass(frozen=True, slots=True)
class Branch:
    """A line of the tree with what it feeds: all of it, or some of it. What is `cut` goes on elsewhere."""

    top: int
    children: tuple[int, ...]
    cut: frozenset[int] = frozenset()
    goes_on: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Box:
    """A box with its left upper corner, and its lines of text; `at` is the line of the tree."""

    at: int
    x: float
    y: float
    wide: float
    high: float
    name: str
    kind: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wire:
    """A line through some points; `broken` to a second source. `into` is the box that it feeds."""

    points: tuple[tuple[float, float], ...]
    into: int
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """The ground of a room: rectangles (x, y, wide, high) of one shade, and its name with where that stands."""

    areas: tuple[tuple[float, float, float, float], ...]
    name: str
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything of one picture, in millimetres."""

    wide: float
    high: float
    boxes: tuple[Box, ...] = ()
    wires: tuple[Wire, ...] = ()
    places: tuple[Place, ...] = ()
    letters: Letters = Letters(7)


def lay_out(
    shape: Shape, branches: Iterable[Branch], letters: Letters, spread: Spread, widest: float
) -> Drawing:
    """Return the branches as one drawing: small ones side by side as far as `widest` goes, under the one before."""
    whole = Drawing(0.0, 0.0, letters=letters)
    for one, left, top in _side_by_side(shape, branches, letters, spread, widest):
        whole = _beside(whole, one.drawing(), left, top)
    return whole


def size_of(
    shape: Shape, branches: Iterable[Branch], letters: Letters, spread: Spread, widest: float
) -> tuple[float, float]:
    """Return how wide and how high the branches are as one drawing."""
    wide = high = 0.0
    for one, left, top in _side_by_side(shape, branches, letters, spread, widest):
        wide, high = max(wide, left + one.wide), max(high, top + one.high)
    return wide, high


def _side_by_side(
    shape: Shape, branches: Iterable[Branch], letters: Letters, spread: Spread, widest: float
) -> Iterator[tuple[_Laid, float, float]]:
    """Yield each branch with its left upper corner."""
    left = top = high = 0.0
    for branch in branches:
        one = _Laid(shape, branch, letters, spread)
        if left and left + one.wide > widest:
            left, top = 0.0, high + 2 * spread.rows + 1.5
        yield one, left, top
        high = max(high, top + one.high)
        left += one.wide + 2 * spread.columns


def _beside(whole: Drawing, one: Drawing, right: float, down: float) -> Drawing:
    """Return a drawing with another one put into it."""
    return replace(
        whole,
        wide=max(whole.wide, right + one.wide),
        high=max(whole.high, down + one.high),
        boxes=(*whole.boxes, *(replace(box, x=box.x + right, y=box.y + down) for box in one.boxes)),
        wires=(
            *whole.wires,
            *(
                replace(wire, points=tuple((x + right, y + down) for x, y in wire.points))
                for wire in one.wires
            ),
        ),
        places=(
            *whole.places,
            *(
                replace(
                    place,
                    x=place.x + right,
                    y=place.y + down,
                    areas=tuple((x + right, y + down, wide, high) for x, y, wide, high in place.areas),
                )
                for place in one.places
            ),
        ),
    )


class _Laid:
    """One branch being laid out."""

    def __init__(self, shape: Shape, branch: Branch, letters: Letters, spread: Spread) -> None:
        self.shape, self.branch, self.letters, self.spread = shape, branch, letters, spread
        self.row: dict[int, int] = {}
        self.column: dict[int, int] = {}
        self.parent: dict[int, int] = {}
        self.second: dict[int, int] = {}
        self._place_all()
        self.text = {at: self._text_of(at) for at in self.row}
        self.room = self._rooms()
        self._measure()

    def _children(self, at: int) -> Sequence[int]:
        if at in self.branch.cut:
            return ()
        return self.branch.children if at == self.branch.top else self.shape.below[at]

    def _place_all(self) -> None:
        """Give each line its row and column, depth first; a lone source comes after all that hangs on what it feeds."""
        rows = 0
        stack: list[tuple[int, int, int | None, bool]] = [(self.branch.top, 0, None, False)]
        while stack:
            at, column, parent, done = stack.pop()
            if done:
                row = self.row[at]
                for number, source in enumerate(self.shape.beside.get(at, ()), 1):
                    self.row[source], self.column[source] = row + number, column - 1
                    self.second[source] = at
                    rows = max(rows, row + number + 1)
                continue
            # The first that a piece feeds stands in its row.
            first = parent is None or self._children(parent)[0] == at
            self.row[at] = (self.row[parent] if parent is not None else 0) if first else rows
            self.column[at] = column
            rows = max(rows, self.row[at] + 1)
            if parent is not None:
                self.parent[at] = parent
                stack.append((at, column, parent, True))
            stack.extend((child, column + 1, at, False) for child in reversed(self._children(at)))
        self.rows = rows

    def _text_of(self, at: int) -> tuple[str, str, tuple[str, ...]]:
        node = self.shape.nodes[at]
        also = self.shape.also[at]
        if goes_on := self.branch.goes_on.get(at, ""):
            return _text(node, (*also,), self.letters, goes_on)
        return _text(node, (*also,), self.letters)

    def _rooms(self) -> dict[int, int]:
        """Return for each line the first one of the ground that it stands on; joined lines of one room share it."""
        room = self.shape.room
        ground: dict[int, int] = {}
        in_column: dict[int, int] = {}
        for at in sorted(self.row, key=lambda one: (self.row[one], self.column[one])):
            column = self.column[at]
            parent = self.parent.get(at)
            above = in_column.get(column)
            in_column[column] = at
            beside = None
            if room[at]:
                if parent is not None and self.row[parent] == self.row[at]:
                    beside = parent
                if (beside is None or room[beside] != room[at]) and above is not None:
                    beside = above if self.parent.get(above) == parent and above not in self.second else None
                if beside is not None and room[beside] == room[at] and at not in self.second:
                    ground[at] = ground[beside]
                    continue
            ground[at] = at
        return ground

    def _named(self, at: int) -> str:
        """Return the room that is named above a box: at the first box of its ground."""
        return self.shape.room[at] if self.room[at] == at else ""

    def _measure(self) -> None:
        """Give each column its width and each row its height."""
        self.widths: dict[int, float] = {}
        box_high: dict[int, float] = {}
        self.named: set[int] = set()
        goes_on = {
            first for at, first in self.room.items() if at != first and self.row[at] == self.row[first]
        }
        for at, (name, kind, lines) in self.text.items():
            node = self.shape.nodes[at]
            marked = _MARK if node.issues else 0.0
            wide = self._wide(f"{name} ", True) + self._wide(kind) + marked
            wide = max(wide, *(self._wide(line) for line in lines), 0.0) if lines else wide
            room = self._named(at)
            if room:
                self.named.add(self.row[at])
                # A room's name goes on over the boxes of the room beside.
                if at not in goes_on:
                    wide = max(wide, min(_wide(room, self.letters.small) * self.letters.face, _NAME))
            column, row = self.column[at], self.row[at]
            self.widths[column] = max(self.widths.get(column, 0.0), wide + 2 * _SIDE)
            box_high[row] = max(box_high.get(row, 0.0), self._high(lines))
        self.left: dict[int, float] = {}
        x = _ROOM
        for column in sorted(self.widths):
            self.left[column] = x
            x += self.widths[column] + self.spread.columns
        self.wide = x - self.spread.columns + _ROOM
        self.top: dict[int, float] = {}
        y = 0.0
        for row in range(self.rows):
            y += self.letters.named if row in self.named else _ROOM
            self.top[row] = y
            y += box_high.get(row, 0.0) + self.spread.rows
        self.high = y - self.spread.rows + _ROOM

    def drawing(self) -> Drawing:
        boxes = {at: self._box(at) for at in self.row}
        wires = [*self._wires(boxes), *self._second_sources(boxes)]
        places = tuple(self._places(boxes))
        return Drawing(self.wide, self.high, tuple(boxes.values()), tuple(wires), places, self.letters)

    def _box(self, at: int) -> Box:
        name, kind, lines = self.text[at]
        column, high = self.column[at], self._high(lines)
        return Box(
            at, self.left[column], self.top[self.row[at]], self.widths[column], high, name, kind, lines
        )

    def _wide(self, text: str, bold: bool = False) -> float:
        return _wide(text, self.letters.points, bold) * self.letters.face

    def _high(self, lines: Sequence[str]) -> float:
        """Return the height of a box: of two lines of text at least, so that the lines of a row meet at one height."""
        return max(1 + len(lines), 2) * self.letters.line + 2 * _ABOVE

    def _gutter(self, at: int) -> float:
        """Return where the lines into a box run up and down."""
        return self.left[self.column[at]] - self.spread.columns * 0.55

    def _wires(self, boxes: Mapping[int, Box]) -> Iterable[Wire]:
        for at, parent in self.parent.items():
            yield Wire(self._bent(boxes[parent], boxes[at], self._gutter(at), 0.0), at)
            for other in self.shape.joined.get(at, ()):
                if other in boxes:
                    yield Wire(self._bent(boxes[other], boxes[at], self._gutter(at), 0.0), at)

    def _bent(self, source: Box, fed: Box, bend: float, lower: float) -> tuple[tuple[float, float], ...]:
        """Return a line out of the right of one box, below its first line of text, and into the left of another."""
        middle = _ABOVE + self.letters.line
        start, end = source.y + middle, fed.y + middle + lower
        out = source.x + source.wide
        if start == end:
            return (out, start), (fed.x, end)
        return (out, start), (bend, start), (bend, end), (fed.x, end)

    def _second_sources(self, boxes: Mapping[int, Box]) -> Iterable[Wire]:
        for source, at in self.second.items():
            bend = self._gutter(at) + self.spread.columns * 0.25
            yield Wire(self._bent(boxes[source], boxes[at], bend, _SECOND), at, broken=True)

    def _places(self, boxes: Mapping[int, Box]) -> Iterable[Place]:
        groups: dict[int, list[int]] = {}
        for at, first in self.room.items():
            if self.shape.room[at]:
                groups.setdefault(first, []).append(at)
        for first, members in groups.items():
            areas = []
            for at in members:
                box = boxes[at]
                above = box.y - self.top[self.row[at]] + self._above(at)
                areas.append((box.x - _ROOM, box.y - above, box.wide + 2 * _ROOM, box.high + above + _ROOM))
            areas += self._between(members, boxes)
            box = boxes[first]
            right = max(boxes[at].x + boxes[at].wide for at in members if self.row[at] == self.row[first])
            room = (right - box.x) / MM / _FACE[False] / self.letters.face
            name = shortened(self.shape.room[first], room, self.letters.small)
            yield Place(tuple(areas), name, box.x, box.y - self.letters.named)

    def _above(self, at: int) -> float:
        """Return how far the ground goes up over a box: over the name of its room where that stands there."""
        return self.letters.named if self._named(at) else _ROOM * 0.6

    def _between(
        self, members: Sequence[int], boxes: Mapping[int, Box]
    ) -> Iterable[tuple[float, float, float, float]]:
        """Return the ground between boxes of one room that stand beside or under each other."""
        inside = set(members)
        columns: dict[tuple[int, int | None], list[int]] = {}
        for at in members:
            parent = self.parent.get(at)
            columns.setdefault((self.column[at], parent), []).append(at)
            if parent in inside and self.row[parent] == self.row[at]:
                one, other = boxes[parent], boxes[at]
                high = min(one.high, other.high)
                yield one.x + one.wide, one.y - 0.6 * _ROOM, other.x - one.x - one.wide, high + 1.6 * _ROOM
        for group in columns.values():
            group.sort(key=lambda at: self.row[at])
            for upper, lower in pairwise(group):
                one, other = boxes[upper], boxes[lower]
                yield one.x - _ROOM, one.y + one.high, one.wide + 2 * _ROOM, other.y - one.y - one.high


@lru_cache(maxsize=8192)
def _wide(text: str, points: float, bold: bool = False) -> float:
    return text_width(text, points, bold) * _FACE[bold] * MM


def _text(
    node: TreeNode, also: tuple[str, ...], letters: Letters, goes_on: str = ""
) -> tuple[str, str, tuple[str, ...]]:
    """Return what a box says: tag, kind, and the lines under them."""
    room = letters.widest / MM / _FACE[False] / letters.face
    figures = [node.short] if node.short else []
    if node.note and not node.short:
        figures = [node.note]
    if also:
        figures.append("also from " + ", ".join(also))
    if goes_on:
        figures.append(goes_on)
    lines = [line for text in figures for line in _in_lines(text, room, letters.points)]
    if len(lines) > _MOST_LINES:
        last = cut(" ".join(lines[_MOST_LINES - 1 :]), 1, room, letters.points)
        lines = [*lines[: _MOST_LINES - 1], last]
    name = shortened(node.tag, _NAME * 0.75 / MM / letters.face, letters.points, bold=True)
    left = _NAME / MM / letters.face - text_width(f"{name} ", letters.points, bold=True)
    return name, shortened(node.kind, max(left, 20.0), letters.points), tuple(lines)


def _in_lines(text: str, room: float, points: float) -> list[str]:
    """Return a text in lines that end after a comma where that is possible: a figure keeps its unit."""
    lines: list[str] = []
    for part in text.split(", "):
        if lines and text_width(f"{lines[-1]}, {part}", points) <= room:
            lines[-1] = f"{lines[-1]}, {part}"
        else:
            lines.append(part)
    return [one for line in lines for one in wrapped(line, room / 0.96, points)]

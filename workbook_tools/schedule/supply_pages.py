"""A supply tree on as few pages as can be read: on one, or cut by branch.

    supply_drawings(nodes, wide, high)   the pictures, each no larger than that [mm]
    Pictures                             what came of it
    picture_title(nodes, ...)            "Picture 2 of 3: DP-1 and DP-2"
    not_drawn(nodes)                     what stands in no picture, in a sentence

A tree that fits stands on one page. What does not is cut: the largest branches that fill a page of their own go
on there, and both boxes say so; small branches share a page. A piece that feeds more than a page holds comes again.

Not here: where a box stands (supply_layout).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from workbook_tools.rules.plain_english import listed
from workbook_tools.schedule.model import TreeNode
from workbook_tools.schedule.supply_layout import Branch, Drawing, Letters, Spread, lay_out, size_of
from workbook_tools.schedule.supply_shape import Shape

__all__ = ["Pictures", "not_drawn", "picture_title", "supply_drawings"]

_LETTERS = tuple(Letters(points, widest) for points in (8, 7.5, 7, 6.5, 6) for widest in (46, 36, 30, 27, 25))
"""Tried one after the other: the largest with which everything stands on one page."""

_WHERE_CUT = Letters(7, 36)
"""For a tree that takes several pages."""

_SMALLEST = 12.0, 5.0
"""No box is smaller, with what parts it from the next: across and down. [mm]"""

_CLOSE = Spread(4.4, 0.8)
_WIDER = (Spread(10, 4), Spread(9, 3), Spread(8, 2.4), Spread(7, 1.8), Spread(6, 1.3))


@dataclass(frozen=True, slots=True)
class Pictures:
    """The pictures, and the lines of the tree that each begins with."""

    drawings: tuple[Drawing, ...]
    tops: tuple[tuple[int, ...], ...]


def supply_drawings(
    nodes: Sequence[TreeNode], wide: float, high: float, title: float = 0.0, face: float = 1.0
) -> Pictures:
    """Return the supply tree drawn on pages of that size.

    Parameters
    ----------
    nodes : sequence of TreeNode
        The tree, depth first.
    wide, high : float
        What a page holds. [mm]
    title : float, optional
        What the title of each picture takes of it where there are several. [mm]
    face : float, optional
        How wide the letters are beside those that the PDF is printed in.
    """
    shape = Shape(nodes)
    if not any(shape.below[top] for top in shape.tops):
        return Pictures((), ())
    whole = [Branch(top, tuple(shape.below[top])) for top in shape.tops]
    page = _Page(shape, wide, high)
    for letters in (replace(one, face=face) for one in _LETTERS):
        if page.fits(whole, letters):
            return Pictures((page.spread(whole, letters),), (tuple(shape.tops),))
    return _cut(shape, _Page(shape, wide, high - title), whole, replace(_WHERE_CUT, face=face))


def picture_title(nodes: Sequence[TreeNode], number: int, of: int, tops: Sequence[int]) -> str:
    """Return what stands over one of several pictures; `tops` are the lines that it begins with."""
    tags = [nodes[top].tag for top in dict.fromkeys(tops)]
    few = listed(tags) if len(tags) <= 4 else f"{', '.join(tags[:4])}, ..."
    return f"Picture {number} of {of}: {few}"


def not_drawn(nodes: Sequence[TreeNode]) -> str:
    """Return which pieces stand in no picture, since nothing feeds them and they feed nothing; "" for none."""
    lone = [nodes[at].tag for at in Shape(nodes).lone]
    return (
        f"Not drawn, since nothing is recorded to feed it or to be fed from it: {listed(lone)}."
        if lone
        else ""
    )


class _Page:
    """What a page holds."""

    def __init__(self, shape: Shape, wide: float, high: float) -> None:
        self.shape, self.wide, self.high = shape, wide, high

    def fits(self, branches: Sequence[Branch], letters: Letters, spread: Spread = _CLOSE) -> bool:
        if self._too_many(branches):
            return False
        wide, high = size_of(self.shape, branches, letters, spread, self.wide)
        return wide <= self.wide and high <= self.high

    def _too_many(self, branches: Sequence[Branch]) -> bool:
        """Whether so many boxes, however small, take more room than there is: then nothing has to be laid out."""
        left = int(self.wide / _SMALLEST[0]) * int(self.high / _SMALLEST[1])
        for branch in branches:
            stack = [branch.top]
            while stack and left >= 0:
                at = stack.pop()
                left -= 1
                if at not in branch.cut:
                    stack.extend(branch.children if at == branch.top else self.shape.below[at])
        return left < 0

    def spread(self, branches: Sequence[Branch], letters: Letters) -> Drawing:
        """Return the branches as far apart as the page allows."""
        for spread in _WIDER:
            if self.fits(branches, letters, spread):
                return lay_out(self.shape, branches, letters, spread, self.wide)
        return lay_out(self.shape, branches, letters, _CLOSE, self.wide)


def _cut(shape: Shape, page: _Page, whole: Sequence[Branch], letters: Letters) -> Pictures:
    """Return the tree on several pages."""
    pieces: list[Branch] = []
    waiting = list(reversed(whole))
    while waiting:
        branch, more = _cut_once(shape, page, waiting.pop(), letters)
        pieces.append(branch)
        waiting.extend(reversed(more))
    pages: list[list[Branch]] = []
    for piece in pieces:
        if pages and page.fits([_as_cut(one) for one in (*pages[-1], piece)], letters):
            pages[-1].append(piece)
        else:
            pages.append([piece])
    return _numbered(shape, page, pages, letters)


def _cut_once(shape: Shape, page: _Page, branch: Branch, letters: Letters) -> tuple[Branch, list[Branch]]:
    """Return as much of a branch as a page holds, and what goes on elsewhere."""
    more: list[Branch] = []
    while not page.fits([_as_cut(branch)], letters):
        found = _to_cut(shape, branch)
        if found is not None:
            # What was cut off further below goes along with what is cut off above it.
            along = set(_under(shape, found))
            more = [one for one in more if one.top not in along]
            more.append(Branch(found, tuple(shape.below[found])))
            branch = replace(branch, cut=(branch.cut - along) | {found})
        elif len(branch.children) > 1:
            half = len(branch.children) // 2
            # What goes on elsewhere does so from the part that it stands in.
            rest = replace(branch, children=branch.children[half:])
            branch = replace(branch, children=branch.children[:half])
            more.insert(0, rest)
        else:
            break
    # In the order of the tree; what is left of a piece that feeds more than a page holds comes first.
    return branch, sorted(more, key=lambda one: one.top)


def _under(shape: Shape, top: int) -> Iterator[int]:
    """Yield the lines below one, in no order."""
    stack = list(shape.below[top])
    while stack:
        at = stack.pop()
        yield at
        stack.extend(shape.below[at])


def _as_cut(branch: Branch) -> Branch:
    """Return a branch with the room that the numbers of pages will take."""
    return replace(branch, goes_on=dict.fromkeys(branch.cut, _goes_on(999)))


def _goes_on(picture: int, here: int = 0) -> str:
    return f"goes on in {'this picture' if picture == here else f'picture {picture}'}"


def _to_cut(shape: Shape, branch: Branch) -> int | None:
    """Return the line whose branch goes on elsewhere: the largest that is no more than half, else the largest of all."""
    size: dict[int, int] = {}
    order: list[int] = []
    stack = list(branch.children)
    while stack:
        at = stack.pop()
        order.append(at)
        if at not in branch.cut:
            stack.extend(shape.below[at])
    for at in reversed(order):
        size[at] = 1 + (sum(size[child] for child in shape.below[at]) if at not in branch.cut else 0)
    can = [at for at in order if at not in branch.cut and shape.below[at]]
    if not can:
        return None
    half = [at for at in can if size[at] <= max(len(order) // 2, 2)]
    return max(half or can, key=lambda at: size[at])


def _numbered(shape: Shape, page: _Page, pages: Sequence[Sequence[Branch]], letters: Letters) -> Pictures:
    """Return the pages, each box that goes on elsewhere with the number of the picture."""
    number: dict[int, int] = {}
    for at, branches in enumerate(pages, 1):
        for branch in branches:
            number.setdefault(branch.top, at)
    drawings = []
    for here, branches in enumerate(pages, 1):
        told = [replace(b, goes_on={at: _goes_on(number[at], here) for at in b.cut}) for b in branches]
        drawings.append(page.spread(told, letters))
    tops = tuple(tuple(branch.top for branch in branches) for branches in pages)
    return Pictures(tuple(drawings), tops)

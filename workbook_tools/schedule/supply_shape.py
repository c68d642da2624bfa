"""The supply as it is to be drawn: who stands under whom, and which second sources are drawn beside what they feed.

    Shape(nodes)      the tree in drawing order
        .tops         what the picture begins with
        .below        what each line feeds, in drawing order
        .beside       the lone sources (generators) that stand beside a line, joined to it by a broken line
        .joined       the further sources (inverters) that stand under a line's feeder, joined to it like that feeder
        .lone         lines that feed nothing and are fed by nothing: named, not drawn
        .room         where each line stands: "Workshop (Ground)"
        .also         the tags of further sources that are neither: they are named in the box

What is drawn here can be drawn without two lines crossing:

* what one piece feeds stands in the column right of it, the first in its own row; pieces of one room stand together;
* a lone source stands left of what it feeds and below it, which is the last in its group for that;
* sources that share what they feed stand directly under each other, and feed nothing else.

Not here: where a box stands (supply_layout), which page it stands on (supply_pages).
"""

from __future__ import annotations

from collections.abc import Sequence

from workbook_tools.schedule.equipment_texts import with_level
from workbook_tools.schedule.model import TreeNode

__all__ = ["Shape"]


class Shape:
    """A supply tree in drawing order. Lines are named by their positions in the tree."""

    def __init__(self, nodes: Sequence[TreeNode]) -> None:
        self.nodes = nodes
        self.room = [with_level(node.room, node.level) for node in nodes]
        self.below: list[list[int]] = [[] for _ in nodes]
        self.tops: list[int] = []
        for at, node in enumerate(nodes):
            (self.tops if node.parent is None else self.below[node.parent]).append(at)
        feeds: dict[int, list[int]] = {}
        for at, node in enumerate(nodes):
            for other in node.also:
                feeds.setdefault(other, []).append(at)
        self.joined = self._joined(feeds)
        self.beside = self._beside(feeds)
        moved = {source for sources in self.beside.values() for source in sources}
        self.lone = [
            top for top in self.tops if not self.below[top] and top not in feeds and not nodes[top].source
        ]
        self.tops = [top for top in self._in_order(self.tops, None) if top not in {*moved, *self.lone}]
        self.below = [self._in_order(group, at) for at, group in enumerate(self.below)]
        self.also = [self._named(at) for at in range(len(nodes))]

    def _joined(self, feeds: dict[int, list[int]]) -> dict[int, list[int]]:
        """Return the further sources of a line that stand beside its feeder and feed nothing else."""
        joined: dict[int, list[int]] = {}
        for at, node in enumerate(self.nodes):
            feeder = node.parent
            if feeder is None or self.below[feeder] != [at] or self.nodes[feeder].also:
                continue
            beside = self.nodes[feeder].parent
            sources = [
                other
                for other in node.also
                if self.nodes[other].parent == beside
                and not self.below[other]
                and not self.nodes[other].also
                and feeds[other] == [at]
            ]
            if sources:
                joined[at] = sources
        return joined

    def _beside(self, feeds: dict[int, list[int]]) -> dict[int, list[int]]:
        """Return the lone sources that stand beside a line; of one group only the last line can have them."""
        beside: dict[int, list[int]] = {}
        taken: set[int] = set()
        groups: set[int] = set()
        joined = {source for sources in self.joined.values() for source in sources}
        for at, node in enumerate(self.nodes):
            feeder = node.parent
            if feeder is None or feeder in groups or at in self.joined or at in joined:
                continue
            sources = [
                other
                for other in node.also
                if self.nodes[other].parent is None
                and not self.nodes[other].source
                and not self.nodes[other].also
                and not self.below[other]
                and other not in taken | joined
            ]
            if sources:
                beside[at] = sources
                taken.update(sources)
                groups.add(feeder)
        return beside

    def _in_order(self, group: Sequence[int], above: int | None) -> list[int]:
        """Return lines that stand under each other: those of the room above first, each level and room together."""
        levels: dict[str, int] = {}
        rooms: dict[str, int] = {}
        for at in group if above is None else (above, *group):
            levels.setdefault(self.nodes[at].level, len(levels))
            rooms.setdefault(self.room[at], len(rooms))
        follows = {source: at for at, sources in self.joined.items() for source in sources}
        ordered = sorted(
            (at for at in group if at not in follows),
            key=lambda at: (
                (at in self.beside, levels[self.nodes[at].level], rooms[self.room[at]])
                if above is not None
                else (at in self.beside, 0, 0)
            ),
        )
        under: dict[int | None, list[int]] = {}
        for source, fed in follows.items():
            under.setdefault(self.nodes[fed].parent, []).append(source)
        return [one for at in ordered for one in (at, *under.get(at, ()))]

    def _named(self, at: int) -> list[str]:
        drawn = {*self.beside.get(at, ()), *self.joined.get(at, ())}
        return [self.nodes[other].tag for other in self.nodes[at].also if other not in drawn]

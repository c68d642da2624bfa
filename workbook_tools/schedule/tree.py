"""The supply tree as lines to print: what feeds what.

    tree_nodes(steps, assessment, ...)   TreeNodes, depth first, with a line for each outside source

Not here: the order (walking_order), the picture (supply_picture).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.rules.plain_english import listed
from workbook_tools.schedule.equipment_texts import kind_of, level_of, rating, room_of, voltage
from workbook_tools.schedule.model import TreeNode
from workbook_tools.schedule.walking_order import NO_SOURCE, UNKNOWN, Step
from workbook_tools.survey import Row

__all__ = ["tree_nodes"]


def tree_nodes(
    steps: Sequence[Step],
    assessment: Assessment,
    issues: Mapping[Row, int],
    rows: Mapping[Row, int],
) -> tuple[TreeNode, ...]:
    """Return the lines of the tree.

    Parameters
    ----------
    steps : sequence of Step
        The walking order.
    assessment : Assessment
        Voltages and ratings.
    issues : mapping
        Number of conditions of each row of Equipment that has any.
    rows : mapping
        Position of each row of Equipment in the list of everything.
    """
    nodes: list[TreeNode] = []
    position: dict[int, int] = {}
    source: str | None = None
    at = 0
    for place, step in enumerate(steps):
        own_root = step.root == NO_SOURCE
        if step.parent is None and (step.root != source or own_root):
            source = step.root
            if not own_root:
                at = len(nodes)
                nodes.append(TreeNode(0, None, step.root, "", "", "", "", source=True))
        parent = position[step.parent] if step.parent is not None else None if own_root else at
        position[place] = len(nodes)
        depth = nodes[parent].depth + 1 if parent is not None else 0
        row = step.row
        nodes.append(
            TreeNode(
                depth=depth,
                parent=parent,
                tag=row.called or "(no tag)",
                kind=kind_of(row),
                room=room_of(row),
                level=level_of(row, assessment.survey),
                short=", ".join(
                    t for t in (rating(row, assessment), voltage(row, assessment)) if t[:1].isdigit()
                ),
                note=_note(step),
                issues=issues.get(row, 0),
                row=rows.get(row),
            )
        )
    return tuple(_with_further_sources(nodes, steps, position, assessment))


def _with_further_sources(
    nodes: list[TreeNode], steps: Sequence[Step], position: Mapping[int, int], assessment: Assessment
) -> list[TreeNode]:
    """Return the lines with the positions of what else feeds them; a source outside has a line where it stands first."""
    of_row = {step.row: position[place] for place, step in enumerate(steps)}
    outside = {plain(node.tag): at for at, node in enumerate(nodes) if node.source}
    for place, step in enumerate(steps):
        if not step.also:
            continue
        at = position[place]
        known = (
            of_row.get(source.rows[0]) if source.rows else outside.get(plain(source.name))
            for source in assessment.supply.sources(step.row)
        )
        also = [other for other in known if other is not None and other not in (at, nodes[at].parent)]
        nodes[at] = replace(nodes[at], also=tuple(dict.fromkeys(also)))
    return nodes


def _note(step: Step) -> str:
    notes = []
    if step.also:
        notes.append(f"also fed from {listed(step.also)}")
    if step.strays:
        notes.append(f"{listed(step.strays)} is not in the list")
    if step.loop:
        names = step.row.fed_from.value or ()
        others = [name for name in names if name.casefold() != step.row.called.casefold()]
        notes.append(f"fed from itself through {listed(others)}" if others else "fed from itself")
    elif step.root == UNKNOWN and step.parent is None and not step.strays and step.row.fed_from.answered:
        notes.append(f"source typed as {step.row.fed_from.said}")
    return "; ".join(notes)

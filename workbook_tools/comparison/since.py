"""A Comparison as the client schedule prints it.

since_last(comparison)   a SinceLast: the figures, the issues and the equipment
"""

from __future__ import annotations

from workbook_tools.comparison.model import Comparison, EquipmentChange
from workbook_tools.schedule.model import SinceEquipment, SinceIssue, SinceLast

__all__ = ["since_last"]


def since_last(comparison: Comparison) -> SinceLast:
    """Return what has changed, ready to print."""
    return SinceLast(
        comparison.last,
        comparison.this,
        tuple(comparison.pieces.items()),
        tuple(comparison.states.items()),
        tuple(SinceEquipment(c.change, c.tag, _field(c), c.was, c.is_) for c in comparison.equipment),
        tuple(SinceIssue(i.state, i.id, i.priority, i.place, i.what, i.why) for i in comparison.issues),
        comparison.said,
    )


def _field(change: EquipmentChange) -> str:
    """Return the answer that changed, with its sheet where that is not the list of equipment itself."""
    if change.change != "changed" or change.sheet == change.field:
        return change.field
    return f"{change.sheet}: {change.field}"

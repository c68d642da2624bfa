"""The signs of the priorities: told apart by shape, so that a grey print needs no colour.

mark_of(priority)   the name of its sign: octagon, triangle, square, ring; "" for no priority
"""

from __future__ import annotations

from workbook_tools.definitions import PRIORITIES

__all__ = ["MARKS", "mark_of"]

MARKS = ("octagon", "triangle", "square", "ring")
"""Most urgent first, like the priorities."""

_MARK_OF: dict[str, str] = dict(zip(PRIORITIES, MARKS, strict=True))


def mark_of(priority: str) -> str:
    """Return the name of a priority's sign.

    Examples
    --------
    >>> mark_of("Act now"), mark_of("Record"), mark_of("")
    ('octagon', 'ring', '')
    """
    return _MARK_OF.get(priority, "")

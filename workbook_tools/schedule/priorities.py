"""How a priority is printed: its sign and its name, with a colour that only repeats them.

priority_style(name)   fill and font of a cell that holds it
signed(name)           "\u203c Act now": the sign tells them apart where there is no colour
"""

from __future__ import annotations

from typing import Any

__all__ = ["SHORT_STYLE", "priority_style", "signed"]

_STYLES: dict[str, dict[str, Any]] = {
    "Act now": {"bg_color": "#9A2B1E", "font_color": "#FFFFFF", "bold": True},
    "Correct soon": {"bg_color": "#F0C27A", "font_color": "#000000", "bold": True},
    "Upkeep": {"bg_color": "#E7E2C0", "font_color": "#000000"},
    "Record": {"bg_color": "#E3E8EA", "font_color": "#000000"},
}

_SIGNS = {"Act now": "\u203c", "Correct soon": "\u25b2", "Upkeep": "\u25a1", "Record": "\u25cb"}
"""Of the signs that the usual fonts of office programs have."""

SHORT_STYLE: dict[str, Any] = {"bg_color": "#F8DCCB", "bold": True}
"""A measured figure that is too small; a sign and words say so too."""


def priority_style(name: str) -> dict[str, Any]:
    """Return the style of a cell that holds a priority; none for a blank one."""
    return dict(_STYLES.get(name, {}))


def signed(name: str) -> str:
    """Return a priority with its sign; "" for a blank one.

    Examples
    --------
    >>> signed("Correct soon"), signed("")
    ('\u25b2 Correct soon', '')
    """
    return f"{_SIGNS[name]} {name}" if name in _SIGNS else name

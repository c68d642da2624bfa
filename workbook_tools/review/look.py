"""How the review workbook looks: its formats, its pages, and how high a row must be.

Look       the formats, made once
Pages      paper, margins, header and footer of every sheet
height     points that the texts of a row need, so that none is cut
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from workbook_tools.definitions import Firm
from workbook_tools.files.text_width import wrapped

__all__ = ["Look", "Pages", "height"]

_CLASS_FILL = {
    "correct": "#F6D9CC",
    "report": "#F9E7B9",
    "finding": "#F9E7B9",
    "confirm": "#DCE9EE",
    "note": "#EEEEEE",
    "your own": "#E3EEDC",
}
_INK = {
    "correct": "#7A2E0E",
    "report": "#6B4E00",
    "finding": "#6B4E00",
    "confirm": "#1D4B5A",
    "note": "#444444",
    "your own": "#2F5222",
}
_POINTS = 11
_LINE = 15
_HIGHEST = 409
"""No program draws a row higher than this [points]."""
_PADDING = 12
"""Pixels of a cell that no letter is drawn in: its borders and the indent."""


class Look:
    """The formats, made once."""

    def __init__(self, book: Any, firm: Firm) -> None:
        self._book = book
        base = {"font_name": "Calibri", "font_size": 11, "valign": "top"}

        def make(**more: Any) -> Any:
            return book.add_format({**base, **more})

        self.title = make(font_size=18, bold=True, font_color=firm.colour)
        self.under_title = make(font_size=11, font_color="#444444")
        self.heading = make(bold=True, font_color="#FFFFFF", bg_color=firm.colour, text_wrap=True, border=1,
                            border_color=firm.colour)  # fmt: skip
        self.section = make(
            bold=True, font_size=12, font_color=firm.colour, bottom=1, bottom_color=firm.colour
        )
        self.band = make(
            bold=True, text_wrap=True, font_color=firm.colour, bg_color="#F2F2F2", num_format="@"
        )
        self.text = make(text_wrap=True, num_format="@")
        self.cell = make(text_wrap=True, indent=1, num_format="@", bottom=1, bottom_color="#D0D0D0")
        self.strong = make(
            text_wrap=True, indent=1, num_format="@", bottom=1, bottom_color="#D0D0D0", bold=True
        )
        self.link = make(font_color="#0B5394", underline=1, num_format="@", bottom=1, bottom_color="#D0D0D0")
        self.answer = make(
            text_wrap=True, num_format="@", border=1, border_color="#A0A0A0", bg_color="#FFFDF2"
        )
        self.label = make(bold=True)
        self.count = make(bold=True, align="left", num_format="0")
        self.classes = {
            name: make(bold=True, bg_color=fill, font_color=_INK[name], bottom=1, bottom_color="#D0D0D0")
            for name, fill in _CLASS_FILL.items()
        }
        self.new = make(bold=True, text_wrap=True, font_color="#2F5222", bg_color="#E3EEDC", num_format="@", bottom=1,
                        bottom_color="#D0D0D0")  # fmt: skip
        self.waiting = book.add_format({"bg_color": "#F7C9B5", "pattern": 1})


class Pages:
    """Paper, margins, header and footer of every sheet."""

    def __init__(self, book: Any, firm: Firm) -> None:
        self.paper = 9 if firm.paper == "a4" else 1

    def set_up(self, *sheets: Any) -> None:
        """Set up every page of these sheets."""
        for sheet in sheets:
            sheet.set_paper(self.paper)
            sheet.set_landscape()
            sheet.fit_to_pages(1, 0)
            sheet.set_margins(left=0.4, right=0.4, top=0.6, bottom=0.6)
            sheet.set_header("&L&F&R&A")
            sheet.set_footer(
                "&LReview of a visual survey; no design or code-compliance ruling&RPage &P of &N"
            )
            sheet.hide_gridlines(2)


def height(texts: Iterable[tuple[str, int, bool]], least: float = 0) -> float:
    """Return the points that a row needs: texts with the pixels of their columns, and whether they are bold.

    Examples
    --------
    >>> height([("Depth reads 41 in", 400, False)]), height([("Depth reads 41 in", 60, False)])
    (18, 48)
    """
    lines = max(
        (len(wrapped(text, pixels - _PADDING, _POINTS, bold)) for text, pixels, bold in texts), default=1
    )
    return min(max(_LINE * lines + 3, least), _HIGHEST)

"""How a survey workbook looks: formats made once from the firm's two colours, and the print setup.

    Look(book, firm)      .typed, .heading, .live, ...: xlsxwriter formats
    Look.print_setup(sheet, title, landscape)

Made for a thumb and a dark room: large letters, high rows, dark text on pale cells. A colour
never says anything alone: where a cell is tinted, words in it or beside it say why.
"""

from __future__ import annotations

from typing import Any

from workbook_tools.definitions import Firm

__all__ = ["CHECK_SIZE", "PIXELS_A_LETTER", "ROW_HEIGHT", "TEXT_SIZE", "Look", "tint"]

TEXT_SIZE = 12
CHECK_SIZE = 10
"""Points: letters of the row check, the smallest of a table."""

PIXELS_A_LETTER = 7
"""What a column is wide for each letter of its width, at 96 to the inch."""

TABLE_SCALE = 80
"""Percent at which a table prints, so that no letter is under 8 points."""

ROW_HEIGHT = 30
"""Points: one line of what is typed, two of the row check."""

_GRID = "#C9CED1"
_INK = "#1B2327"
_AMBER = "#FFE9B8"
_PAPERS = {"letter": 1, "a4": 9}


def tint(colour: str, part: float) -> str:
    """Return a colour mixed with white: part 1 is the colour itself, 0 white.

    Examples
    --------
    >>> tint("#22505A", 1), tint("#22505A", 0)
    ('#22505A', '#FFFFFF')
    """
    channels = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    return "#" + "".join(f"{round(255 - (255 - channel) * part):02X}" for channel in channels)


class Look:
    """The formats of one workbook."""

    def __init__(self, book: Any, firm: Firm) -> None:
        self.firm = firm
        base = {"font_size": TEXT_SIZE, "font_color": _INK, "valign": "vcenter"}
        cell = {**base, "border": 1, "border_color": _GRID}
        pale = tint(firm.colour, 0.08)

        def make(**more: Any) -> Any:
            return book.add_format({**base, **more})

        self.text = make(text_wrap=True)
        self.title = make(bold=True, font_size=18, font_color="#FFFFFF", bg_color=firm.colour, text_wrap=True)
        self.firm_name = make(font_color="#FFFFFF", bg_color=firm.colour, text_wrap=True)
        self.caution_head = make(bold=True, font_color="#FFFFFF", bg_color=firm.accent, text_wrap=True)
        self.caution = make(
            text_wrap=True, bg_color=tint(firm.accent, 0.12), left=5, left_color=firm.accent, indent=1
        )
        self.section = make(
            bold=True, font_size=14, font_color=firm.colour, bottom=2, bottom_color=firm.colour
        )
        self.number = make(bold=True, font_size=14, font_color=firm.colour, align="center")
        self.link = make(bold=True, font_size=14, font_color=firm.colour, underline=1)
        self.back = make(bold=True, font_color=firm.colour, underline=1)
        self.progress = make(bold=True, bg_color=pale, text_wrap=True, indent=1)
        self.small = make(font_size=10, font_color="#6B757B")
        self.ask = make(font_color="#3C484E", italic=True)
        self.heading = book.add_format({
            **cell, "bold": True, "font_color": "#FFFFFF", "bg_color": firm.colour, "text_wrap": True, "border_color": "#FFFFFF",
        })  # fmt: skip
        self.live_heading = book.add_format({
            **cell, "bold": True, "italic": True, "font_color": firm.colour, "bg_color": tint(firm.colour, 0.25), "text_wrap": True,
        })  # fmt: skip
        # Text format on every cell that a person types in: 1/2, 1E3 and MAR1 stay as typed.
        top = {**cell, "valign": "top", "align": "left", "text_wrap": True}
        self.typed = book.add_format({**top, "num_format": "@"})
        # Columns are text below the last row too, without a grid down to the end of the sheet.
        open_end = {**base, "valign": "top", "align": "left", "text_wrap": True}
        self.typed_column = book.add_format({**open_end, "num_format": "@"})
        self.live_column = book.add_format(open_end)
        self.key = book.add_format({**top, "num_format": "@", "bold": True})
        self.date = book.add_format({**cell, "num_format": "yyyy-mm-dd", "align": "left"})
        self.live = book.add_format({**top, "bg_color": pale})
        self.check = book.add_format({**top, "bg_color": pale, "font_size": CHECK_SIZE})
        self.label = book.add_format({**cell, "bold": True, "bg_color": pale, "text_wrap": True})
        self.hint = make(font_color="#3C484E", text_wrap=True, indent=1)
        self.listed = make(num_format="@")
        self.figure = make(valign="top")
        self.working = book.add_format({"font_size": 9, "font_color": "#6B757B"})
        self.gap = book.add_format({"bg_color": _AMBER})
        self.attention = book.add_format({"bg_color": _AMBER, "font_color": _INK, "bold": True})
        self.alarm = book.add_format({"bg_color": tint(firm.accent, 0.35), "font_color": _INK, "bold": True})

    def print_setup(self, sheet: Any, title: str, *, landscape: bool) -> None:
        """State paper, orientation, fit to width, header and footer: a sheet without comes back as A4."""
        self._print_page(sheet, title, landscape)
        sheet.fit_to_pages(1, 0)

    def print_table_setup(self, sheet: Any, title: str) -> None:
        """State how a table prints: on as many pages side by side as keep its letters at 8 points."""
        self._print_page(sheet, title, landscape=True)
        sheet.set_print_scale(TABLE_SCALE)
        sheet.print_across()

    def _print_page(self, sheet: Any, title: str, landscape: bool) -> None:
        sheet.set_paper(_PAPERS[self.firm.paper])
        if landscape:
            sheet.set_landscape()
        else:
            sheet.set_portrait()
        sheet.set_margins(left=0.4, right=0.4, top=0.7, bottom=0.6)
        name = self.firm.name.replace("&", "&&")
        as_stated = {"scale_with_doc": False}
        sheet.set_header(f"&L&9{name[:100]}&R&9{title.replace('&', '&&')}", as_stated)
        sheet.set_footer("&L&9Visual survey; no design or code-compliance ruling&R&9Page &P of &N", as_stated)

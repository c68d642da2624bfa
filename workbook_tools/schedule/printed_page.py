"""One sheet as it is printed: paper, header and footer, row heights, where pages end.

    PrintedPage(recorder, name, title, ...)   a sheet that is set up and begun
        .table(columns, rows)                 headings that repeat, rows that are never cut
        .band(text), .paragraph(text)         lines over the whole width
        .keep(points)                         begins a new page when that much would not fit

Heights are set for every row, since programs do not agree on fitting them by themselves; so
it is known where each page ends, and a heading is never left alone at the foot of one.

Not here: what stands in the cells.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

from workbook_tools.files.text_width import shortened, wrapped
from workbook_tools.schedule.recorder import FONT, RecordedSheet, Recorder, Style, Target, printable

__all__ = ["WIDTH", "Cell", "Column", "PrintedPage"]

WIDTH = 932
"""Width of every sheet [pixels at 96 to the inch]: a little less than letter paper between its margins, so that
a program whose columns come out wider still needs no smaller print."""

_PAPER = {"letter": (1, 792.0, 612.0), "a4": (9, 841.9, 595.3)}
_TOP, _BOTTOM, _SIDE = 0.75, 0.8, 0.5
_LINE = 12.0
_PADDING = 5.0
_INDENT = 9
"""Width of one step of indentation [pixels]: no text touches the rule or the text beside it."""

_TALLEST = 26
"""Lines of one row; what is longer goes on in the next row."""

_BUTTON = 14.0
"""Height of the button of a filter. [points]"""

_FOOTER_MOST = 255
_ALT_TEXT_MOST = 250


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: heading, width [pixels], and the style of its cells."""

    heading: str
    width: int
    style: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell with a style of its own, laid over that of its column, and what it leads to."""

    value: str | float | None
    style: dict[str, Any] = field(default_factory=dict)
    to: Target | None = None


_Look = tuple[Style, float, bool]
"""How a cell of a table looks: its style, the room for its text [pixels], and whether it is bold."""


class PrintedPage:
    """One sheet being written, row by row."""

    def __init__(
        self,
        recorder: Recorder,
        name: str,
        title: str,
        explanation: str,
        *,
        widths: Sequence[int],
        property_name: str,
        caution: str,
        draft: bool,
    ) -> None:
        self.sheet: RecordedSheet = recorder.sheet(name)
        self.recorder = recorder
        self.widths = tuple(widths)
        self.last = len(self.widths) - 1
        self.row = 0
        self.colour = recorder.firm.colour
        _number, _long, short = _PAPER.get(recorder.firm.paper, _PAPER["letter"])
        self._page = short - (_TOP + _BOTTOM) * 72
        self._used = 0.0
        self._repeated = 0.0
        self._breaks: list[int] = []
        self._columns: Sequence[Column] = ()
        self._plain: list[_Look] = []
        self._own: dict[tuple[int, tuple[tuple[str, Any], ...]], _Look] = {}
        self._set_up(name, property_name, caution, draft)
        if title:
            self.line(title, {"bold": True, "font_size": 15, "font_color": self.colour}, height=22)
        if explanation:
            self.paragraph(explanation, {"font_color": "#404040"})

    def _set_up(self, name: str, property_name: str, caution: str, draft: bool) -> None:
        sheet = self.sheet.worksheet
        for column, width in enumerate(self.widths):
            sheet.set_column_pixels(column, column, width)
        paper, _long, _short = _PAPER.get(self.recorder.firm.paper, _PAPER["letter"])
        sheet.set_landscape()
        sheet.set_paper(paper)
        sheet.set_margins(_SIDE, _SIDE, _TOP, _BOTTOM)
        sheet.fit_to_pages(1, 0)
        sheet.hide_gridlines(2)
        header = f'&L&"{FONT}"&8 {_in_header(property_name, 70)}: {name}'
        header += f'&C&"{FONT},Bold"&14DRAFT' if draft else ""
        sheet.set_header(f'{header}&R&"{FONT}"&8Page &P of &N', {"margin": 0.35})
        sheet.set_footer(f'&C&"{FONT}"&8 {_in_header(caution, _FOOTER_MOST - 14)}', {"margin": 0.35})

    def keep(self, points: float) -> None:
        """Begin a new page where less than that is left on this one."""
        if self._used > self._repeated and self._used + points > self._page:
            self.new_page()

    def new_page(self) -> None:
        """Begin a new page at the next row."""
        if self.row and (not self._breaks or self._breaks[-1] != self.row):
            self._breaks.append(self.row)
        self._used = self._repeated

    def end(self) -> None:
        """Set what is known only when all rows stand."""
        self.sheet.worksheet.set_h_pagebreaks(self._breaks)
        self.sheet.worksheet.print_area(0, 0, max(self.row - 1, 0), self.last)

    def advance(self, height: float, **options: Any) -> None:
        """Give the current row its height and go to the next."""
        if self._used + height > self._page and self._used > self._repeated:
            self.new_page()
        self.sheet.worksheet.set_row(self.row, height, None, options)
        self._used += height
        self.row += 1

    def line(self, text: str, style: dict[str, Any], *, height: float) -> None:
        """Write one line over the whole width."""
        size = style.get("font_size", 9)
        self.sheet.merged(
            self.row,
            0,
            self.last,
            shortened(printable(text), sum(self.widths) - 8, size, bool(style.get("bold"))),
            self.recorder.style({"valign": "vcenter", **style}),
        )
        self.advance(height)

    def paragraph(
        self, text: str, style: dict[str, Any] | None = None, *, first: int = 0, last: int | None = None
    ) -> None:
        """Write a text over the whole width, in as many lines as it takes."""
        last = self.last if last is None else last
        style = {"text_wrap": True, "valign": "vcenter", **(style or {})}
        size = style.get("font_size", 9)
        lines = wrapped(printable(text), self.width_of(first, last), size, bool(style.get("bold")))
        for start in range(0, len(lines), _TALLEST):
            # Broken here, since a program that finds room for a word more leaves the last line empty.
            part = lines[start : start + _TALLEST]
            self.keep(_height(len(part), size))
            self.sheet.merged(self.row, first, last, "\n".join(part), self.recorder.style(style))
            self.advance(_height(len(part), size))

    def width_of(self, first: int, last: int) -> float:
        """Return the room for text in these columns, in pixels."""
        return sum(self.widths[first : last + 1]) - 7

    def band(self, text: str, *, keep: float = 60, style: dict[str, Any] | None = None) -> None:
        """Write a heading over the whole width that stays with what follows it."""
        self.keep(20 + keep)
        shown = {
            "bold": True,
            "font_size": 11,
            "font_color": self.colour,
            "bottom": 2,
            "bottom_color": self.colour,
        }
        self.line(text, {**shown, **(style or {})}, height=20)

    def space(self, points: float = 6) -> None:
        """Leave some room."""
        self.advance(points)

    def headings(
        self,
        columns: Sequence[Column],
        *,
        filtered: bool = False,
        repeated: bool = True,
        frozen: bool = True,
    ) -> int:
        """Write the headings of a table, which repeat on every page; return their row.

        Under the headings of a filtered table there is room for the buttons that open its filters. A sheet of
        several tables repeats the headings of one at most; `frozen` keeps them in sight, with all above them.
        """
        heading = {
            "bold": True, "font_color": "#FFFFFF", "bg_color": self.colour, "text_wrap": True,
            "valign": "top" if filtered else "vcenter", "border": 1, "border_color": self.colour,
        }  # fmt: skip
        lines = 1
        for place, column in enumerate(columns):
            beside = {"align": column.style.get("align", "left")}
            style = self.recorder.style(_padded({**heading, **beside}))
            self.sheet.text(self.row, place, column.heading, style)
            lines = max(lines, len(wrapped(column.heading, _room(column, beside), 9, True)))
        height = _height(lines, 9) + (_BUTTON if filtered else 0)
        if repeated:
            self.sheet.worksheet.repeat_rows(self.row)
        if frozen:
            self.sheet.worksheet.freeze_panes(self.row + 1, 0)
        self.advance(height)
        self._repeated = height if repeated else 0.0
        self._columns = columns
        self._plain = [self._made_look(column, {}) for column in columns]
        self._own = {}
        return self.row - 1

    def cells(
        self, values: Sequence[Any], *, least: float = 0.0, target: Target | None = None, outline: int = 0
    ) -> int:
        """Write one row of the table, at least so high [points]; a text too long for one row goes on in the next.

        `target` is what stands there, so that links lead to it; `outline` is how deep the row folds
        under those above it. Returns the first row of it.
        """
        texts: list[str] = []
        broken: list[Sequence[str]] = []
        styles: list[Style] = []
        tallest = 1
        for place, value in enumerate(values):
            style, room, bold = self._plain[place]
            if isinstance(value, Cell):
                if value.style:
                    style, room, bold = self._look(place, value.style)
                value = value.value
            text = printable(value) if isinstance(value, str) else ""
            lines = wrapped(text, room, 9, bold) if text else ()
            tallest = max(tallest, len(lines))
            texts.append(text)
            broken.append(lines)
            styles.append(style)
        first = self.row
        for start in range(0, tallest, _TALLEST):
            height = _height(min(tallest - start, _TALLEST), 9)
            if start == 0:
                height = max(height, least)
            self.keep(height)
            if start == 0 and target is not None:
                self.recorder.target(self.sheet, self.row, target)
            for place, value in enumerate(values):
                number = value.value if isinstance(value, Cell) else value
                if isinstance(number, (int, float)):
                    if start == 0:
                        self.sheet.number(self.row, place, number, styles[place])
                    continue
                part = (
                    texts[place] if tallest <= _TALLEST else " ".join(broken[place][start : start + _TALLEST])
                )
                self.sheet.text(self.row, place, part, styles[place])
                # One office program prints a link on one line, whatever the cell says: a text of several has none.
                if len(broken[place]) == 1 and isinstance(value, Cell) and value.to is not None:
                    self.recorder.link(self.sheet, self.row, place, value.to)
            self.advance(height, **({"level": outline} if outline else {}))
        return first

    def picture(
        self,
        row: int,
        column: int,
        picture: bytes,
        size: tuple[int, int],
        room: tuple[int, int],
        *,
        name: str,
        says: str,
        down: int = 2,
        to: Target | None = None,
    ) -> None:
        """Put a picture of a size into a room of that many pixels that begins so far down in a cell, in its middle.

        `to` is what it leads to, where that stands already.
        """
        scale = min((room[0] - 4) / size[0], (room[1] - 4) / size[1])
        self.sheet.worksheet.insert_image(
            row,
            column,
            name,
            {
                "image_data": BytesIO(picture),
                "x_scale": scale,
                "y_scale": scale,
                "x_offset": (room[0] - size[0] * scale) / 2,
                "y_offset": down,
                "object_position": 1,
                "description": printable(says)[:_ALT_TEXT_MOST],
                **({"url": there} if to is not None and (there := self.recorder.place_of(to)) else {}),
            },
        )

    def _look(self, place: int, own: dict[str, Any]) -> _Look:
        key = (place, tuple(own.items()))
        made = self._own.get(key)
        if made is None:
            made = self._own[key] = self._made_look(self._columns[place], own)
        return made

    def _made_look(self, column: Column, own: dict[str, Any]) -> _Look:
        style = {**column.style, **own}
        return self.recorder.style(_padded({**_CELL, **style})), _room(column, own), "bold" in style


_CELL = {
    "text_wrap": True, "valign": "vcenter", "bottom": 1, "bottom_color": "#B9C2C6", "left": 1, "left_color": "#DDE3E5",
}  # fmt: skip


def _padded(style: dict[str, Any]) -> dict[str, Any]:
    """Return a style whose text keeps off the edge it stands at."""
    if style.get("align") == "center":
        return style
    return {"align": "left", **style, "indent": style.get("indent", 0) + 1}


def _room(column: Column, own: dict[str, Any]) -> float:
    """Return the room for text in a column, in pixels."""
    centred = own.get("align", column.style.get("align")) == "center"
    return column.width - 7 - (0 if centred else _INDENT * (own.get("indent", 0) + 1))


def _height(lines: int, points: float) -> float:
    return lines * _LINE * points / 9 + _PADDING


def _in_header(text: str, most: int) -> str:
    """Return a text for a header: the sign that begins a code doubled, not too long."""
    text = " ".join(printable(text).split()).replace("&", "&&")
    return text if len(text) <= most else f"{text[: most - 3].rstrip('& ')}..."

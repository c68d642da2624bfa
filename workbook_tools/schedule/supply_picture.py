"""A laid-out supply picture as pixels, for a sheet of the workbook.

    draw(schedule, drawing, colour)   PNG, with its size in pixels
    PIXELS                            of one millimetre
    FACE                              how wide its letters are beside those of the PDF

The PDF draws the same layout in lines and letters of its own.

Not here: where anything stands (supply_layout), which picture has what (supply_pages), the sheet (tree_sheets).
"""

from __future__ import annotations

import zlib
from collections.abc import Callable
from io import BytesIO
from itertools import pairwise
from typing import Any

from workbook_tools.definitions import PRIORITIES
from workbook_tools.schedule.lettering import lettering
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.schedule.supply_layout import Box, Drawing

__all__ = ["FACE", "PIXELS", "draw"]

PIXELS = 2 * 96 / 25.4
"""Of one millimetre: two to one on screen."""

FACE = 1.1
"""The letters of the drawing library beside the narrow ones of the PDF; a test measures them."""

_GROUND, _PAPER, _SOURCE = 226, 255, 190
_DASH = 9
"""A dash of a broken line. [pixels]"""

_SIGN = 20
"""Width of the sign of a priority. [pixels]"""


def draw(schedule: ClientSchedule, drawing: Drawing, colour: str) -> tuple[bytes, int, int]:
    """Draw one picture.

    Parameters
    ----------
    schedule : ClientSchedule
        Whose tree it is; its list has the priorities.
    drawing : Drawing
        What stands where.
    colour : str
        The firm's colour, "#RRGGBB": the picture is drawn in its shades.

    Returns
    -------
    png : bytes
    width, height : int
        [pixels]; two of them to one at 96 to the inch.
    """
    from PIL import Image, ImageDraw

    width, height = _px(drawing.wide) + 4, _px(drawing.high) + 4
    image = Image.new("L", (width, height), _PAPER)
    pen = ImageDraw.Draw(image)
    for place in drawing.places:
        for x, y, wide, high in place.areas:
            pen.rectangle((_px(x), _px(y), _px(x + wide), _px(y + high)), fill=_GROUND)
    for wire in drawing.wires:
        points = [(_px(x), _px(y)) for x, y in wire.points]
        if wire.broken:
            _broken_line(pen, points)
        else:
            pen.line(points, 60, 2)
    small = lettering(round(_points(drawing.letters.small)))
    for place in drawing.places:
        small.write(
            image, _px(place.x), _px(place.y) + round(_points(drawing.letters.small) * 0.5), place.name
        )
    for box in drawing.boxes:
        _box(image, pen, schedule, drawing, box)
    # Sixteen shades are enough for lines and letters, and make a file of a third of the size.
    image = image.point([shade >> 4 for shade in range(256)])
    image.putpalette(_shades(colour))
    file = BytesIO()
    file.name = "supply.png"  # told by the name, only what writes this kind of file is loaded
    image.save(file, bits=4, compress_level=1, compress_type=zlib.Z_RLE)
    return file.getvalue(), width, height


def _px(millimetres: float) -> int:
    return round(millimetres * PIXELS)


def _points(points: float) -> float:
    """Return a size in points as pixels."""
    return points / 72 * 25.4 * PIXELS


def _box(image: Any, pen: Any, schedule: ClientSchedule, drawing: Drawing, box: Box) -> None:
    node = schedule.tree[box.at]
    priority = schedule.priority_of(node)
    left, top, right, bottom = _px(box.x), _px(box.y), _px(box.x + box.wide), _px(box.y + box.high)
    fill = _SOURCE if node.source else _PAPER
    pen.rectangle(
        (left, top, right, bottom), fill=fill, outline=30, width=5 if priority == PRIORITIES[0] else 2
    )
    letters = lettering(round(_points(drawing.letters.points)))
    line = _px(drawing.letters.line)
    lines = (f"{box.name} {box.kind}".strip(), *box.lines)
    middle = (top + bottom - line * (len(lines) - 1)) // 2
    for number, text in enumerate(lines):
        room = right - left - 12 - (_SIGN + 4 if priority and not number else 0)
        letters.write(image, left + 7, middle + number * line, letters.cut(text, room))
    if priority:
        _SIGNS[PRIORITIES.index(priority)](pen, right - _SIGN - 5, top + 5)


def _octagon(pen: Any, x: int, y: int) -> None:
    part, whole = round(_SIGN * 0.29), _SIGN
    corners = [(part, 0), (whole - part, 0), (whole, part), (whole, whole - part), (whole - part, whole), (part, whole),
               (0, whole - part), (0, part)]  # fmt: skip
    pen.polygon([(x + a, y + b) for a, b in corners], fill=0)
    middle = x + whole // 2
    pen.rectangle((middle - 2, y + 4, middle + 1, y + 11), fill=255)
    pen.rectangle((middle - 2, y + 14, middle + 1, y + 16), fill=255)


def _triangle(pen: Any, x: int, y: int) -> None:
    pen.polygon([(x + _SIGN // 2, y + 1), (x + _SIGN, y + _SIGN - 1), (x, y + _SIGN - 1)], fill=60)


def _square(pen: Any, x: int, y: int) -> None:
    pen.rectangle((x + 2, y + 2, x + _SIGN - 2, y + _SIGN - 2), outline=0, width=3)


def _ring(pen: Any, x: int, y: int) -> None:
    pen.ellipse((x + 2, y + 2, x + _SIGN - 2, y + _SIGN - 2), outline=0, width=3)


_SIGNS: tuple[Callable[[Any, int, int], None], ...] = (_octagon, _triangle, _square, _ring)
"""Of the priorities, most urgent first: told apart by shape, as in the PDF."""


def _shades(colour: str) -> bytes:
    """Return a palette from the firm's colour (black) to white."""
    try:
        dark = tuple(int(colour[at : at + 2], 16) // 2 for at in (1, 3, 5))
    except ValueError:
        dark = (0, 0, 0)
    return bytes(d + (255 - d) * shade // 15 for shade in range(16) for d in dark)


def _broken_line(pen: Any, points: list[tuple[int, int]]) -> None:
    for (left, top), (right, bottom) in pairwise(points):
        long = max(abs(right - left), abs(bottom - top), 1)
        for at in range(0, long, 2 * _DASH):
            ends = [
                (left + (right - left) * part // long, top + (bottom - top) * part // long)
                for part in (at, min(at + _DASH, long))
            ]
            pen.line(ends, 60, 3)

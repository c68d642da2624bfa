"""The boxes of the supply picture: what stands in one, and how large its letters are.

    Boxes(image, pen, wide, high, told)   boxes of one size, with the largest letters that hold every text
        .draw(told, left, middle)         one box
    Told                                  what one box says

Not here: where a box stands (supply_picture), the letters (lettering).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from workbook_tools.schedule.lettering import Lettering, lettering

__all__ = ["Boxes", "Told"]

_SIZES = (24, 22, 20, 18)
"""Letters that are tried where a box holds two lines or more [pixels, two to one on screen]."""

_SMALLEST = 13
_LEADING = 1.1
_MARGIN = 9


@dataclass(frozen=True, slots=True)
class Told:
    """What one box says: what it is, its figures, and a mark that is never cut ("[2]")."""

    name: str
    figures: str
    mark: str = ""
    source: bool = False
    issues: bool = False


class Boxes:
    """Draws boxes of one size."""

    def __init__(self, image: Any, pen: Any, wide: int, high: int, told: Sequence[Told]) -> None:
        self.image, self.pen = image, pen
        self.wide, self.high = wide, high
        self.room = wide - 2 * _MARGIN
        if self._one_line():
            self.letters = lettering(max(min(_SIZES[1], high - 4), _SMALLEST))
            return
        for size in _SIZES:
            self.letters = lettering(size)
            if all(len(self._lines(one)) <= self._most() for one in told):
                break

    def _one_line(self) -> bool:
        return self.high < 44

    def _most(self) -> int:
        """Return how many lines a box holds."""
        return max(int((self.high - 2) // (self.letters.size * _LEADING)), 1)

    def _lines(self, told: Told) -> list[str]:
        name = f"{told.name} {told.mark}".strip()
        return [*_wrapped(name, self.letters, self.room), *_wrapped(told.figures, self.letters, self.room)]

    def draw(self, told: Told, left: int, middle: int) -> None:
        """Draw one box with its left edge and its middle there."""
        top = middle - self.high // 2
        shape = (left, top, left + self.wide, top + self.high)
        fill = 200 if told.source else 246
        if self._one_line():
            self.pen.rectangle(shape, fill=fill, outline=170, width=1)
            if told.issues:
                self.pen.rectangle((left, top, left + 5, top + self.high), fill=40)
            mark = f" {told.mark}" if told.mark else ""
            text = f"{told.name.partition(' ')[0]} {told.figures}" if told.figures else told.name
            self._write(
                [f"{self.letters.cut(text, self.room - self.letters.width(mark))}{mark}"], left, middle
            )
            return
        self.pen.rectangle(shape, fill=fill, outline=40, width=4 if told.issues else 2)
        lines, most = self._lines(told), self._most()
        if len(lines) > most:
            lines = [*lines[: most - 1], self.letters.cut(" ".join(lines[most - 1 :]), self.room)]
        self._write(lines, left, middle)

    def _write(self, lines: Sequence[str], left: int, middle: int) -> None:
        step = self.letters.size * _LEADING
        first = middle - step * (len(lines) - 1) / 2
        for number, line in enumerate(lines):
            self.letters.write(self.image, left + _MARGIN, round(first + number * step), line)


def _wrapped(text: str, letters: Lettering, room: float) -> list[str]:
    """Return the lines of a text; a word longer than a line is cut."""
    lines: list[str] = []
    line = ""
    for word in text.replace("\n", " ")[:200].split():
        longer = f"{line} {word}" if line else word
        if line and letters.width(longer) > room:
            lines.append(line)
            line = word
        else:
            line = longer
    return [letters.cut(one, room) for one in (*lines, line) if one]

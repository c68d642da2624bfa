"""Letters in a drawn picture, each word drawn once.

    lettering(size)    a Lettering of that size, made once
    Lettering          writes lines, measures them, cuts them to a width

Most words of a supply tree stand in every box ("Panelboard", "480Y/277 V"), and to draw the
letters takes longer than all lines and boxes: a word is drawn once and copied from then on.
"""

from __future__ import annotations

from bisect import bisect_right
from functools import cache
from math import ceil
from typing import Any

__all__ = ["Lettering", "lettering"]

_MOST_WORDS = 5000  # that are kept
_EDGE = 2  # of a drawn word [pixels]: letters may reach beyond their width


@cache
def lettering(size: int) -> Lettering:
    """Return the lettering of a size [pixels]."""
    return Lettering(size)


class Lettering:
    """Letters of one size [pixels]."""

    def __init__(self, size: int) -> None:
        from PIL import ImageFont

        self.size = size
        self._font: Any = ImageFont.load_default(size)
        self._high = 2 * size
        self._space: float = self._font.getlength(" ")
        self._words: dict[str, tuple[Any, float]] = {}

    def width(self, text: str) -> float:
        """Width of a line [pixels]."""
        words = _words(text)
        return sum(self._word(word)[1] for word in words) + self._space * (len(words) - 1)

    def cut(self, text: str, room: float) -> str:
        """Return the text, or as much of its beginning as has room, and dots."""
        if self.width(text) <= room:
            return text

        def length(letters: int) -> float:
            said: float = self._font.getlength(f"{text[:letters]}...")
            return said

        fits = bisect_right(range(len(text)), room, key=length) - 1
        return f"{text[: max(fits, 0)].rstrip()}..."

    def write(self, image: Any, left: int, middle: int, text: str) -> None:
        """Write a line in black, its letters' middle at the height given."""
        at = float(left)
        for word in _words(text):
            mask, width = self._word(word)
            if mask is not None:
                image.paste(0, (round(at) - _EDGE, middle - self._high // 2), mask)
            at += width + self._space

    def _word(self, word: str) -> tuple[Any, float]:
        """Return a word as a mask, None where there is nothing to see, and its width."""
        if (known := self._words.get(word)) is not None:
            return known
        from PIL import Image, ImageDraw

        if len(self._words) >= _MOST_WORDS:
            self._words.clear()
        width: float = self._font.getlength(word)
        mask = None
        if word.strip():
            mask = Image.new("L", (ceil(width) + 2 * _EDGE, self._high), 0)
            ImageDraw.Draw(mask).text((_EDGE, self._high // 2), word, font=self._font, fill=255, anchor="lm")
        self._words[word] = mask, width
        return mask, width


def _words(text: str) -> list[str]:
    """Return what is drawn by itself: in other scripts than ours the whole, since words may change places."""
    return text.split(" ") if text.isascii() else [text]

"""How many lines a text takes in a column, so that no printed text is cut.

    text_width(text, points)          width in pixels at 96 to the inch
    wrapped(text, pixels, points)     the lines a cell of that width shows
    shortened(text, pixels, points)   the text, cut with "..." where it is too long for one line
    cut(text, most, pixels, points)   the text, cut with "..." after so many lines

Widths are those of the faces that every office program has for a plain sans serif (Arial and
its metric equals), in thousandths of the size, from memory; a test measures them against an
installed face. Programs break lines a little differently, so a cell is taken as 4 % narrower.
"""

from __future__ import annotations

from functools import lru_cache

__all__ = ["cut", "shortened", "text_width", "wrapped"]

_OTHER = 667
_WIDE = 1000
_WIDTHS: dict[str, int] = {}
for _width, _characters in (
    (191, "'"), (222, "ijl‘’"), (260, "|"), (278, " !,./:;I[]\\ft·"), (333, "()-`r“”{}°¡"), (355, '"'), (389, "*"), (350, "•"),
    (469, "^"), (500, "ckvxyzJs"), (556, "#$0123456789?_abdeghnopquL–"), (584, "+<=>~±×÷"),
    (611, "FTZ"), (667, "&ABEKPSVXY"), (722, "CDHNRUw"), (778, "GOQ"), (833, "Mm"), (889, "%"), (944, "W"),
    (1000, "—…"), (1015, "@"), (834, "½¼¾"), (990, "▼▲"),
):  # fmt: skip
    for _character in _characters:
        _WIDTHS[_character] = _width

_SAFETY = 0.96


def text_width(text: str, points: float, bold: bool = False) -> float:
    """Return the width of a text on one line, in pixels at 96 to the inch.

    Examples
    --------
    >>> round(text_width("0000000000", 9), 1)
    66.7
    """
    try:
        units = sum(map(_WIDTHS.__getitem__, text))
    except KeyError:
        units = sum(_WIDTHS.get(c) or (_OTHER if c < "⺀" else _WIDE) for c in text)
    return units * (1.08 if bold else 1.0) / 1000 * points * 96 / 72


@lru_cache(maxsize=4096)
def _word_width(word: str, points: float, bold: bool) -> float:
    return text_width(word, points, bold)


@lru_cache(maxsize=16384)
def wrapped(text: str, pixels: float, points: float, bold: bool = False) -> tuple[str, ...]:
    """Return the lines that a cell shows; a word longer than a line is broken.

    Examples
    --------
    >>> wrapped("Two of eight trim screws missing", 110, 9)
    ('Two of eight trim', 'screws missing')
    """
    room = max(pixels * _SAFETY, points * 2)
    lines: list[str] = []
    for paragraph in text.split("\n"):
        # The common case first: a short text needs no measuring word by word.
        if text_width(paragraph, points, bold) <= room:
            lines.append(paragraph)
            continue
        line, used = "", 0.0
        space = _word_width(" ", points, bold)
        for word in paragraph.split(" "):
            width = _word_width(word, points, bold)
            if line and used + space + width <= room:
                line, used = f"{line} {word}", used + space + width
                continue
            if line:
                lines.append(line)
            *whole, word = _broken(word, room, points, bold) if width > room else [word]
            lines += whole
            line, used = word, text_width(word, points, bold)
        lines.append(line)
    return tuple(lines)


def _broken(word: str, room: float, points: float, bold: bool) -> list[str]:
    """Break a word that is longer than a line, letter by letter."""
    parts: list[str] = []
    start, used = 0, 0.0
    for place, letter in enumerate(word):
        width = text_width(letter, points, bold)
        if used + width > room and place > start:
            parts.append(word[start:place])
            start, used = place, 0.0
        used += width
    return [*parts, word[start:]]


def shortened(text: str, pixels: float, points: float, bold: bool = False) -> str:
    """Return the text on one line, cut where it does not fit.

    Examples
    --------
    >>> shortened("Main electrical room", 60, 9)
    'Main ele...'
    """
    if text_width(text, points, bold) <= pixels:
        return text
    text = _broken(text, pixels - text_width("...", points, bold), points, bold)[0]
    return f"{text.rstrip()}..."


def cut(text: str, most: int, pixels: float, points: float, bold: bool = False) -> str:
    """Return the text, cut where it takes more than so many lines.

    Examples
    --------
    >>> cut("Two of eight trim screws missing", 1, 110, 9)
    'Two of eight...'
    """
    lines = wrapped(text, pixels, points, bold)
    if len(lines) <= most:
        return text
    return f"{' '.join(lines[:most])[:-4].rstrip()}..."

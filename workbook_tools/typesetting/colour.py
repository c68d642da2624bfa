"""A firm's colour, legible on paper.

    contrast(one, other)   how far two colours stand apart, 1 to 21
    legible(colour)        the colour as it can letter white paper: darkened until it stands out 4.5 to 1
    letters_on(colour)     black or white, whichever stands out more on it

The measure is the contrast ratio of WCAG 2.2, with the relative luminance it defines; 4.5 : 1 is its
success criterion 1.4.3 for text of ordinary size.
"""

from __future__ import annotations

__all__ = ["LEGIBLE", "contrast", "legible", "letters_on"]

LEGIBLE = 4.5
_BLACK, _WHITE = "#000000", "#FFFFFF"


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours (#RRGGBB).

    Examples
    --------
    >>> round(contrast("#000000", "#FFFFFF"), 2), round(contrast("#777777", "#FFFFFF"), 2)
    (21.0, 4.48)
    """
    dark, light = sorted((_luminance(one), _luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def legible(colour: str) -> str:
    """Return the colour, darkened in small steps until letters of it can be read on white.

    Examples
    --------
    >>> legible("#22505A"), contrast(legible("#F2D24B"), "#FFFFFF") >= LEGIBLE
    ('#22505A', True)
    """
    parts = [float(part) for part in _parts(colour)]
    while contrast(_text(parts), _WHITE) < LEGIBLE:
        parts = [part * 0.96 for part in parts]
    return _text(parts)


def letters_on(colour: str) -> str:
    """Return black or white, whichever reads better on a surface of that colour.

    Examples
    --------
    >>> letters_on("#F2D24B"), letters_on("#22505A")
    ('#000000', '#FFFFFF')
    """
    return max((_BLACK, _WHITE), key=lambda letters: contrast(letters, colour))


def _luminance(colour: str) -> float:
    red, green, blue = (_linear(part / 255) for part in _parts(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4


def _parts(colour: str) -> tuple[int, int, int]:
    """Return red, green and blue; black for what is no colour."""
    try:
        red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    except ValueError:
        return 0, 0, 0
    return red, green, blue


def _text(parts: list[float]) -> str:
    return "#" + "".join(f"{int(part):02X}" for part in parts)

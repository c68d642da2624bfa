"""What the words of one heading mean on one sheet.

    match_heading(text, sheet)    exactly: the column's own words or a synonym, unit stated or not
    near_heading(text, sheet)     nearly: a typing slip, or a heading with a word more or less
    is_of_workings(text)          whether the heading is that of a hidden computing column
    Match                         the column and the unit that the heading states
    stated_unit(text)             ("Depth", "mm") from "Depth (mm)"
    is_unit(text)                 whether a text is a unit alone
    can_be_in(column, unit)       whether a column can be in that unit

A unit in a heading must be one that the column can be in: "Rating (kVA)" is no ampere
rating. What is near to two columns is near to none.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet, spelling

__all__ = [
    "WORKINGS",
    "Match",
    "can_be_in",
    "is_of_workings",
    "is_unit",
    "match_heading",
    "near_heading",
    "spelled",
    "stated_unit",
]

WORKINGS = "Workings"
"""How the heading of a hidden column begins in which live cells compute: it is no data."""

_UNITS = {
    "A": ("a", "amp", "amps", "ampere", "amperes"),
    "V": ("v", "volt", "volts", "vac"),
    "kVA": ("kva",),
    "kA": ("ka", "kaic"),
    "%": ("%", "percent", "pct"),
    "in": ("in", "inch", "inches", '"', "″", "”"),
    "ft": ("ft", "foot", "feet", "'"),
    "mm": ("mm", "millimetres", "millimeters"),
    "cm": ("cm", "centimetres", "centimeters"),
    "m": ("m", "metres", "meters"),
}
"""Spellings of the units that a heading may state."""

_LENGTHS = ("in", "ft", "mm", "cm", "m")
_UNIT_OF = {word: unit for unit, words in _UNITS.items() for word in words}
_BRACKETED = re.compile(r"^(?P<words>.*?\S)\s*[(\[{](?P<inside>[^()\[\]{}]*)[)\]}]\s*[.:*]*\s*$", re.DOTALL)
_TRAILING = re.compile(
    r"^(?P<words>.*?[^\s,;:/])(?:\s*[,;:/]\s*|\s+in\s+|\s+)(?P<inside>[^\s,;:/]+?)\.?\s*$", re.DOTALL
)

_CLOSING = frozenset(")]}")
_PARTED = dict.fromkeys(map(ord, ",;:/"), " ")

# Words that say too little alone to carry a heading with another word before them.
_VAGUE = frozenset({
    "number", "no", "name", "type", "size", "id", "date", "notes", "note", "year", "what", "who", "why",
    "where", "a", "v", "w", "z", "ph", "x", "made", "main", "marked", "up", "level", "use", "code",
    "unit", "units", "current", "door", "above", "source", "load", "system", "rating", "item", "items",
})  # fmt: skip
_NEAR = 0.82
_APART = 0.04


class Match(NamedTuple):
    """A column, and the unit that the heading states ("" for none)."""

    column: Column
    unit: str = ""


def is_of_workings(text: str) -> bool:
    """Whether a heading is that of a hidden computing column.

    Examples
    --------
    >>> is_of_workings("Workings: depth form"), is_of_workings("Working depth")
    (True, False)
    """
    return text.startswith(WORKINGS) and not text[len(WORKINGS) :][:1].isalpha()


def is_unit(text: str) -> bool:
    """Whether a text is a unit alone: "(A)", "kVA".

    Examples
    --------
    >>> is_unit("(kVA)"), is_unit("V"), is_unit("LP-1")
    (True, True, False)
    """
    return text.strip("()[]{} .").casefold() in _UNIT_OF


@lru_cache(maxsize=16384)
def stated_unit(text: str) -> tuple[str, str]:
    """Split the unit off a heading.

    Examples
    --------
    >>> stated_unit("Depth (mm)"), stated_unit("Width, in."), stated_unit("Serves")
    (('Depth', 'mm'), ('Width', 'in'), ('Serves', ''))
    """
    for pattern in _patterns_for(text):
        found = pattern.match(text)
        if found:
            unit = _UNIT_OF.get(found["inside"].strip().casefold().rstrip("."))
            if unit:
                return found["words"], unit
    return text, ""


def _patterns_for(text: str) -> Iterator[re.Pattern[str]]:
    """Give the patterns that may match at all: most texts are no headings, and these are slow to say no."""
    if not _CLOSING.isdisjoint(text):
        yield _BRACKETED
    words = text.translate(_PARTED).split()
    if len(words) > 1 and words[-1].casefold().rstrip(".") in _UNIT_OF:
        yield _TRAILING


@lru_cache(maxsize=16384)
def _bare(text: str) -> str:
    """Take a bracketed remark off a heading: "Tag (as posted)" is "Tag"."""
    found = _BRACKETED.match(text) if not _CLOSING.isdisjoint(text) else None
    return found["words"] if found else text


def can_be_in(column: Column, unit: str) -> bool:
    """Whether a column can be in a unit that a heading states; "" is any."""
    if not unit:
        return True
    if column.unit == "length" or column.holds == "length":
        return unit in _LENGTHS
    return column.unit == unit


def match_heading(text: str, sheet: Sheet) -> Match | None:
    """Return what a heading means exactly, or None.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> equipment = load_template("office").by_key["equipment"]
    >>> match_heading("AMPS", equipment).column.field, match_heading("Rating (kVA)", equipment)
    ('rating_a', None)
    """
    whole, bare, unit = _forms(text)
    known = sheet.by_spelling
    if (column := known.get(whole)) is not None:
        return Match(column, unit if can_be_in(column, unit) else "")
    column = known.get(bare) if bare != whole else None
    # What the tool writes itself stands under its own words, and a list's "Last seen (2)" is another column.
    if column is not None and not column.carried and can_be_in(column, unit):
        return Match(column, unit)
    return None


def spelled(text: str) -> tuple[str, str]:
    """Return the two spellings of which one is a column's where the heading means it exactly."""
    return _forms(text)[:2]


class _Forms(NamedTuple):
    """A heading as it is compared: whole, without its unit or bracketed remark, and the unit."""

    whole: str
    bare: str
    unit: str


@lru_cache(maxsize=16384)
def _forms(text: str) -> _Forms:
    words, unit = stated_unit(text)
    return _Forms(spelling(text), spelling(words) if unit else spelling(_bare(text)), unit)


def near_heading(text: str, sheet: Sheet) -> Match | None:
    """Return the one typed column whose words the heading is near to, or None.

    Near is a typing slip ("Manufactuer"), or words around a known heading at its end
    ("Panel location") or a known heading's own end or beginning ("Short circuit").

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> equipment = load_template("office").by_key["equipment"]
    >>> near_heading("Manufactuer", equipment).column.field, near_heading("Colour", equipment)
    ('maker', None)
    """
    if is_of_workings(text):
        return None
    words, unit = stated_unit(text)
    bare = words if unit else _bare(text)
    asked, letters = _tokens(bare), spelling(bare)
    if len(letters) < 4:
        return None
    best: dict[str, tuple[float, Column]] = {}
    for column in sheet.typed:
        if column.carried or not can_be_in(column, unit):
            continue
        score = max(_likeness(asked, letters, known) for known in (column.heading, *column.also_called))
        best[column.field] = (score, column)
    ranked = sorted(best.values(), key=lambda pair: -pair[0])
    if not ranked or ranked[0][0] < _NEAR or (len(ranked) > 1 and ranked[1][0] > ranked[0][0] - _APART):
        return None
    return Match(ranked[0][1], unit)


def _likeness(asked: tuple[str, ...], letters: str, known_text: str) -> float:
    from difflib import SequenceMatcher

    known, known_letters = _tokens(known_text), spelling(known_text)
    if not known or not known_letters:
        return 0.0
    if not (len(known) == 1 and known[0] in _VAGUE) and known == asked[-len(known) :]:
        return 0.9
    if not (len(asked) == 1 and asked[0] in _VAGUE) and asked in (known[-len(asked) :], known[: len(asked)]):
        return 0.86
    shorter, longer = sorted((len(letters), len(known_letters)))
    if shorter < 4 or 2 * shorter / (shorter + longer) < _NEAR:
        return 0.0
    matcher = SequenceMatcher(None, letters, known_letters, autojunk=False)
    return matcher.ratio() if matcher.quick_ratio() >= _NEAR else 0.0


@lru_cache(maxsize=16384)
def _tokens(text: str) -> tuple[str, ...]:
    return tuple(re.findall(r"[^\W_]+", text.casefold()))

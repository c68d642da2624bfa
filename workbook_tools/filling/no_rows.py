"""Which rows below the headings of a list are no entries: totals, notes, titles between, headings again.

    is_no_row(cells, identity, ...)      a total, a note or a title
    repeats_headings(cells, headings)    the headings on a later page
    is_floor(text), is_room(text)        whether a title says a floor or a room
    floor_in(text)                       the floor that the name of a sheet says, "" for none

The words are common practice; those of other languages are from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from workbook_tools.definitions import spelling

__all__ = ["floor_in", "is_floor", "is_no_row", "is_room", "repeats_headings"]

_TOTAL_WORD = r"(?:totals?|sum|summe|suma|somme|totale|count)"
_TOTAL = re.compile(rf"\W*(?:(?:grand|sub|sheet|page)[ -]?)?{_TOTAL_WORD}\b.*", re.IGNORECASE | re.DOTALL)
_TOTAL_ALONE = re.compile(rf"\W*(?:(?:grand|sub|sheet|page)[ -]?)?{_TOTAL_WORD}\W*", re.IGNORECASE)
_SO_MANY = re.compile(r"[0-9][0-9.,]*(?:\s+[a-z]+\.?)?", re.IGNORECASE)
_NUMBERED_NOTE = re.compile(r"\s*(?:\(?\d{1,2}[.)]\s+|notes?\b|\*|n\.?b\.?\b|legend\b|see\b)", re.IGNORECASE)
_NOTE_LENGTH = 30
_FLOOR = re.compile(
    r"\W*(?:(?:[\w.+-]+\s+)?(?:floor|level|storey|story|étage|etage|geschoss|stock(?:werk)?|piano|piso|planta|niveau|nivel|livello)"
    r"(?:\s+[\w-]+)?|basement|sub-?basement|ground(?:\s+floor)?|mezzanine|penthouse|roof|attic|cellar"
    r"|keller|erdgeschoss|rez-de-chaussée|rdc|sótano|planta baja|sotterraneo|\d{1,2}\.?\s*og|eg|ug)\W*",
    re.IGNORECASE,
)
_ROOM = re.compile(
    r"\b(?:room|rm|closet|corridor|kitchen|garage|office|lobby|shop|plant|vault|store|storage|hall|pump|boiler|electrical|elec)\b",
    re.IGNORECASE,
)  # fmt: skip
_LONGEST_TITLE = 40


def is_floor(text: str) -> bool:
    """Whether a text says a floor and nothing else.

    Examples
    --------
    >>> is_floor("2ND FLOOR"), is_floor("Basement"), is_floor("Level 3"), is_floor("LP-1"), is_floor("Floor plan of the hall")
    (True, True, True, False, False)
    """
    return (
        len(text) <= _LONGEST_TITLE and _FLOOR.fullmatch(text) is not None and "plan" not in text.casefold()
    )


def floor_in(text: str) -> str:
    """Return the floor that the name of a sheet says, "" for none.

    Examples
    --------
    >>> floor_in("Level 2"), floor_in("Floor 1 panels"), floor_in("Panels 2019")
    ('Level 2', 'Floor 1', '')
    """
    if is_floor(text):
        return text.strip()
    words = text.split()
    return next((" ".join(words[:n]) for n in (2, 1) if len(words) > n and is_floor(" ".join(words[:n]))), "")


def is_room(text: str) -> bool:
    """Whether a short text says a room.

    Examples
    --------
    >>> is_room("Electrical room 101"), is_room("Panels with spare breakers, see below, by the room")
    (True, False)
    """
    return len(text) <= _LONGEST_TITLE and _ROOM.search(text) is not None


def repeats_headings(cells: Mapping[int, str], headings: Mapping[int, Sequence[str]]) -> bool:
    """Whether a row holds the headings of its columns once more."""
    return len(cells) > 1 and all(
        spelling(text)
        in {spelling(part) for words in headings.get(column, ()) for part in (words, *words.split(" "))}
        for column, text in cells.items()
    )


def is_no_row(
    cells: Mapping[int, str], identity: int, headings: int, wide: bool, *, of_tags: bool = True
) -> bool:
    """Whether a row is a total, a note or a title.

    Parameters
    ----------
    cells : mapping of int to str
        The filled cells of the row by column.
    identity : int
        The column that names what a row speaks of, 0 for none.
    headings : int
        How many headings the table has.
    wide : bool
        Whether a cell of the row is merged over several columns.
    of_tags : bool
        Whether the rows are named by tags, which are short.
    """
    first = cells.get(identity, "")
    if any(_TOTAL.fullmatch(text) for text in cells.values()) and (not first or _TOTAL.fullmatch(first)):
        return True
    left = (text for column, text in cells.items() if column < identity)
    if _SO_MANY.fullmatch(first.strip()) and any(_TOTAL_ALONE.fullmatch(text) for text in left):
        return True
    if len(cells) != 1 or headings < 2:
        return False
    (text,) = cells.values()
    if wide or not of_tags:
        return wide
    if is_floor(text) or _NUMBERED_NOTE.match(text):
        return True
    if headings < 3:
        return False
    words = text.split()
    return (
        len(text) > _NOTE_LENGTH or len(words) > 3 or (len(words) > 1 and not any(c.isdigit() for c in text))
    )

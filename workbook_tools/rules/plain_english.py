"""Small grammar: numbers in words, lists with "and", a clean sentence out of what was typed.

    in_words(4)                   "four"
    listed(["a", "b", "c"])       "a, b and c"
    sentence("two screws gone")   "Two screws gone."
    inside("Two screws gone.")    "two screws gone", as it reads in the middle of a sentence
    as_of(when, "two screws gone")   "as of October 6, 2025: two screws gone"

Not here: what the sentences are about (sentences).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from workbook_tools.survey.written_numbers import NUMBER_WORDS

__all__ = ["as_of", "capital", "in_words", "inside", "listed", "plural", "sentence"]

_WORDS = ("no", *NUMBER_WORDS[1:])


def in_words(number: int) -> str:
    """Return a small number as a word, a larger one in figures.

    Examples
    --------
    >>> in_words(2), in_words(12), in_words(13)
    ('two', 'twelve', '13')
    """
    return _WORDS[number] if 0 <= number < len(_WORDS) else str(number)


def as_of(when: str, said: str) -> str:
    """Return what was last seen on an earlier day with that day before it, once; as it is where there is no day.

    Examples
    --------
    >>> as_of("October 6, 2025", "two screws gone"), as_of("", "two screws gone")
    ('as of October 6, 2025: two screws gone', 'two screws gone')
    >>> as_of("May 2", "As of May 2: it leaks.")
    'As of May 2: it leaks.'
    """
    begins = f"as of {when}: "
    return said if not when or not said or said.casefold().startswith(begins.casefold()) else begins + said


def plural(number: int, one: str, many: str | None = None) -> str:
    """Return the number in words with its noun.

    Examples
    --------
    >>> plural(1, "photo"), plural(3, "photo"), plural(2, "box", "boxes")
    ('one photo', 'three photos', 'two boxes')
    """
    return f"{in_words(number)} {one if number == 1 else many or one + 's'}"


def listed(names: Sequence[str], word: str = "and") -> str:
    """Return the names as one would say them.

    Examples
    --------
    >>> listed(["DP-1"]), listed(["a", "b", "c"])
    ('DP-1', 'a, b and c')
    """
    if not names:
        return ""
    *first, last = names
    return f"{', '.join(first)} {word} {last}" if first else last


def capital(text: str) -> str:
    """Return the text with its first letter large."""
    return text[:1].upper() + text[1:]


def sentence(text: str) -> str:
    r"""Return what was typed as a sentence: one line, a capital, a full stop.

    Examples
    --------
    >>> sentence("  two of eight screws gone\n from the trim "), sentence("Hot!"), sentence("")
    ('Two of eight screws gone from the trim.', 'Hot!', '')
    """
    text = " ".join(text.split()).rstrip(" ;,:")
    if not text:
        return ""
    closed = text.endswith((".", "!", "?", "…", ".)", ".”", '."'))
    return capital(text) + ("" if closed else ".")


def inside(text: str, names: Collection[str] = ()) -> str:
    """Return a typed text as it reads within a sentence: no full stop, no capital.

    A first word that is a name (a tag, a room, a maker), or that is not written as an
    ordinary word ("MCC-1", "EMT"), keeps its capital.

    Examples
    --------
    >>> inside("Orange leads run through the wall."), inside("EMT loose"), inside("Tarnwell door", {"tarnwell"})
    ('orange leads run through the wall', 'EMT loose', 'Tarnwell door')
    """
    text = " ".join(text.split()).rstrip(" ;,:.")
    first = re.match(r"[^\W\d_]+", text)
    if first is None:
        return text
    word = first.group()
    ordinary = word[:1].isupper() and (len(word) == 1 or word[1:].islower()) and word != "I"
    attached = text[len(word) : len(word) + 1] not in ("", " ", ",")
    if ordinary and not attached and word.casefold() not in names:
        return word.lower() + text[len(word) :]
    return text

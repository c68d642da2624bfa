"""What reaches a page: no control, no character without a shape, no word wider than its column.

    on_paper(value, kept)    every text of a document as it can be printed
    characters_of(value)     the characters that need a shape
    BOX                      stands for what no font can show

Not here: which characters the fonts have (typesetter asks the library itself).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection
from typing import Any

from workbook_tools.schedule.recorder import printable

__all__ = ["BOX", "characters_of", "on_paper"]

BOX = "\u25a1"
_BREAK = "\u200b"
"""A place where a line may break."""

_ISOLATE, _END = "\u2068", "\u2069"

_LONG_WORD = re.compile(r"\S{25,}")
_AFTER = re.compile(r"(?<=[-/_.,;:\\|&=+])(?=\w)")
_RIGHT_TO_LEFT = frozenset({"R", "AL"})


def on_paper(value: Any, missing: Collection[str] = ()) -> Any:
    """Return a value as built of dictionaries and lists, each text in it as it can be printed.

    Examples
    --------
    >>> on_paper({"tag": "a\u202eb", "n": [1, "\u4f60"]}, {"\u4f60"}) == {"tag": "ab", "n": [1, BOX]}
    True
    """
    if isinstance(value, str):
        return _text(value, missing)
    if isinstance(value, dict):
        return {key: on_paper(one, missing) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [on_paper(one, missing) for one in value]
    return value


def characters_of(value: Any) -> set[str]:
    """Return the characters beyond ASCII that stand in the texts of a value, as they would be printed."""
    if isinstance(value, str):
        return set() if value.isascii() else {c for c in _shown(value) if not c.isascii()}
    if isinstance(value, dict):
        return set().union(*map(characters_of, value.values()))
    if isinstance(value, list | tuple):
        return set().union(*map(characters_of, value))
    return set()


def _shown(text: str) -> str:
    """Return the text without controls, with plain spaces."""
    text = printable(text)
    if text.isascii():
        return text
    return "".join(" " if c != "\u00a0" and unicodedata.category(c) == "Zs" else c for c in text)


def _text(text: str, missing: Collection[str]) -> str:
    text = _shown(text)
    if not text.isascii():
        text = "".join(BOX if c in missing else c for c in text)
    text = _LONG_WORD.sub(_broken, text)
    # A text that is written from right to left keeps its place among those beside it.
    if any(unicodedata.bidirectional(c) in _RIGHT_TO_LEFT for c in text if not c.isascii()):
        return f"{_ISOLATE}{text}{_END}"
    return text


def _broken(word: re.Match[str]) -> str:
    """Return a long word with places to break it: after a sign, else after every ten letters."""
    parts = _AFTER.split(word[0])
    return _BREAK.join(
        _BREAK.join(part[at : at + 10] for at in range(0, len(part), 10)) if len(part) > 20 else part
        for part in parts
    )

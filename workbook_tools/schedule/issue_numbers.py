"""The number of an issue: the same in a later edition and in next year's survey of the building.

    numbered(keys)   a number for each key, in their order

A number is drawn from what the issue is about (the tag, and what is wrong there), never from its place
in the list: a new issue moves no other. Another tag or another thing that is wrong is another issue.
"""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import blake2b

from workbook_tools.definitions import plain

__all__ = ["numbered"]

_FIRST = "CDFHJKMNPQRTVWX"
_FURTHER = "23456789" + _FIRST
"""No vowel (no words), no letter that looks like a digit, no E (2E3 is a number to a spreadsheet program)."""

_LETTERS = 5


def numbered(keys: Iterable[tuple[str, str]]) -> list[str]:
    """Return a number for each issue.

    Parameters
    ----------
    keys : iterable of (subject, cause)
        The tag or room, and what is wrong there. The same pair again counts as a further issue of its kind.

    Returns
    -------
    numbers : list of str
        Each once, a letter first: "K74MP". Where two would be alike, the later key gets a longer one.

    Examples
    --------
    >>> numbered([("RP-1", "DEF-19"), ("rp-1", "DEF-19"), ("RP-2", "DEF-19")])
    ['TM8C3', 'WQD45', 'PFM3W']
    """
    asked = list(keys)
    whole: list[tuple[str, str, int]] = []
    seen: dict[tuple[str, str], int] = {}
    for subject, cause in asked:
        key = plain(subject), plain(cause)
        seen[key] = seen.get(key, 0) + 1
        whole.append((*key, seen[key]))
    given: dict[tuple[str, str, int], str] = {}
    taken: set[str] = set()
    for one in sorted(whole):
        letters = _letters("\n".join(map(str, one)))
        length = next(n for n in range(_LETTERS, len(letters) + 1) if letters[:n] not in taken)
        given[one] = letters[:length]
        taken.add(given[one])
    return [given[one] for one in whole]


def _letters(text: str) -> str:
    """Return more letters than are ever needed, drawn from a text."""
    number = int.from_bytes(blake2b(text.encode(), digest_size=32).digest())
    number, first = divmod(number, len(_FIRST))
    said = [_FIRST[first]]
    for _ in range(40):
        number, further = divmod(number, len(_FURTHER))
        said.append(_FURTHER[further])
    return "".join(said)

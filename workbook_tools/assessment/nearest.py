"""Which name of the survey a mistyped one most likely means.

    Names(names).near(text)    up to three names, the most likely first

One letter more, less or different is found through an index, so that a thousand mistyped
tags cost no more than a thousand right ones; anything further off is compared letter by
letter, and only for the first few.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from workbook_tools.definitions import plain

__all__ = ["Names"]

MOST_OFFERED = 3
LONGEST_NAME = 80  # characters; what is longer is no mistyped tag, and costs its square to compare
_LETTER_BY_LETTER = 20


class Names:
    """The names of a survey, to look up one that is nearly among them.

    Examples
    --------
    >>> Names(["RP-1", "RP-2", "MSB"]).near("RP-22")
    ['RP-2']
    >>> Names(["RP-1", "MSB"]).near("Yard")
    []
    """

    def __init__(self, names: Iterable[str]) -> None:
        self._typed = {plain(name): name for name in names}
        self._order = {name: place for place, name in enumerate(self._typed)}
        self._shortened: dict[str, list[str]] = {}
        for name in self._typed:
            if len(name) > LONGEST_NAME:
                continue
            for short in {name, *_without_one(name)}:
                self._shortened.setdefault(short, []).append(name)
        self._patience = _LETTER_BY_LETTER

    def near(self, text: str) -> list[str]:
        """Return the names most like the text, as typed; one that is a letter too long or short comes alone."""
        wanted = plain(text)
        if len(wanted) > LONGEST_NAME:
            return []
        found = {
            name: None
            for short in (wanted, *_without_one(wanted))
            for name in self._shortened.get(short, ())
            if name != wanted
        }
        longer_or_shorter = [name for name in found if len(name) != len(wanted)]
        nearest = sorted(longer_or_shorter or found, key=self._order.__getitem__)
        if not nearest and self._patience:
            from difflib import get_close_matches

            self._patience -= 1
            nearest = get_close_matches(
                wanted, [n for n in self._typed if len(n) <= LONGEST_NAME], n=1, cutoff=0.6
            )
        return [self._typed[name] for name in nearest[:MOST_OFFERED]]


def _without_one(name: str) -> Iterator[str]:
    return (name[:place] + name[place + 1 :] for place in range(len(name)))

"""Which name of the survey a mistyped one most likely means.

    Names(names).near(text)    up to three names, the most likely first; none where nothing is near

Names are compared by their letters and digits alone: "LP1" is nearest to LP-1. One letter more, less or different
is found through an index, so that a thousand mistyped tags cost no more than a thousand right ones; anything further
off is compared letter by letter, only for the first few, and only with names of the same number.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from workbook_tools.definitions import spelling

__all__ = ["Names"]

MOST_OFFERED = 3
LONGEST_NAME = 80  # characters; what is longer is no mistyped tag, and costs its square to compare
_LETTER_BY_LETTER = 20
_FEW = 3  # letters
_ALIKE = 0.75  # of the letters: "Boiler rm" and "Boiler room" share more, "Store" and "Stair 2" less


class Names:
    """The names of a survey, to look up one that is nearly among them.

    Examples
    --------
    >>> Names(["RP-1", "RP-2", "MSB"]).near("RP-22")
    ['RP-2']
    >>> Names(["LP-1", "LP-11"]).near("lp 1"), Names(["RP-1", "MSB"]).near("Yard")
    (['LP-1'], [])
    """

    def __init__(self, names: Iterable[str]) -> None:
        self._typed: dict[str, list[str]] = {}
        for name in names:
            self._typed.setdefault(spelling(name), []).append(name)
        self._typed.pop("", None)
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
        wanted = spelling(text)
        if not wanted or len(wanted) > LONGEST_NAME:
            return []
        nearest = [wanted] if wanted in self._typed else self._a_letter_off(wanted)
        if not nearest and self._patience:
            self._patience -= 1
            nearest = self._alike(wanted)
        return [typed for name in nearest for typed in self._typed[name]][:MOST_OFFERED]

    def _a_letter_off(self, wanted: str) -> list[str]:
        found = {
            name: None for short in (wanted, *_without_one(wanted)) for name in self._shortened.get(short, ())
        }
        longer_or_shorter = [name for name in found if len(name) != len(wanted)]
        return sorted(longer_or_shorter or found, key=self._order.__getitem__) if len(wanted) > 1 else []

    def _alike(self, wanted: str) -> list[str]:
        from difflib import get_close_matches

        same = [
            name for name in self._typed if len(name) <= LONGEST_NAME and _number(name) == _number(wanted)
        ]
        short = [name for name in same if len(wanted) >= _FEW and _is_short_for(wanted, name)]
        return short if len(short) == 1 else get_close_matches(wanted, same, n=1, cutoff=_ALIKE)


def _is_short_for(wanted: str, name: str) -> bool:
    """Whether a name begins alike and has all letters of the text in their order: "main elec rm"."""
    rest = iter(name)
    return wanted[0] == name[0] and all(letter in rest for letter in wanted)


def _number(name: str) -> str:
    return "".join(c for c in name if c.isdecimal())


def _without_one(name: str) -> Iterator[str]:
    return (name[:place] + name[place + 1 :] for place in range(len(name)))

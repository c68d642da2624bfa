"""Which columns of the template a heading of a foreign list can mean, best first.

    Homes(template)                 the words of every column, looked up once
    Homes.of(wordings)              Home: sheet, column, how sure (0 to 1), and why, for a heading
    Homes.knows(text)               whether a text is the heading of some column
    Homes.naming(headings)          which column of a table says what a row speaks of

A heading is compared in five ways, each less sure than the one before: the column's own words, a spelling that
the template lists, the same words in another form or order, the same words with one beside them that
changes nothing ("Panel location"), and a slip of the pen. What is only like two columns is like none.

Not here: what the cells below say of it (column_values), which heading gets which column (placing).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet, Template, spelling
from workbook_tools.filling.heading_forms import AS_THEY_ARE, WEAK, readable, words_of
from workbook_tools.survey import Equipment
from workbook_tools.survey.found_headings import LONGEST_HEADING, identity_of
from workbook_tools.survey.heading_words import can_be_in, is_of_workings, stated_unit

__all__ = ["NEAR", "Home", "Homes"]

OWN, LISTED, SAME_WORDS, WEAK_WORD, BESIDE, NEAR = 1.0, 0.96, 0.92, 0.84, 0.8, 0.6
_OTHER_UNIT = re.compile(
    r"[(\[](?:m2|m²|sq\.?\s*(?:ft|m)\.?|ft2|ft²|sf|kg|lbs?|hp|kw|mw|kwh|kv|kvar|mva|hz|ohms?|Ω|°?[cf]|db|rpm|\$|usd|y(?:ea)?rs?|days?|awg|kcmil|kmil)[)\]]",
    re.IGNORECASE,
)
"""A unit that no column of a survey is in: "Area (m2)" is no area to find a panel in."""
_TWICE = re.compile(r"\s*(?:/|&|\bor\b|\|)\s*", re.IGNORECASE)
_LIKE, _APART, _FEWEST_LETTERS = 86.0, 4.0, 5


class Home(NamedTuple):
    """One column that a heading can mean; `unit` is what the heading states, `why` says how it means it.

    `said` is the spelling of the template that it is, or is like; `beside` one that means the column only
    where another heading means what it would mean alone.
    """

    sheet: Sheet
    column: Column
    sure: float
    unit: str
    why: str
    said: str = ""
    beside: bool = False

    @property
    def names_rows(self) -> bool:
        """Whether the column says what a row of its sheet speaks of."""
        return self.column.field == identity_of(self.sheet)

    @property
    def place(self) -> tuple[str, str]:
        """The sheet's key and the field."""
        return self.sheet.key, self.column.field


class _Wording(NamedTuple):
    sheet: Sheet
    column: Column
    text: str
    sure: float


class Homes:
    """The columns of a template by the words of their headings."""

    def __init__(self, template: Template) -> None:
        self._spelled: dict[str, list[_Wording]] = {}
        self._worded: dict[tuple[str, ...], list[_Wording]] = {}
        self._letters: dict[str, list[_Wording]] = {}
        self._known: dict[tuple[str, ...], tuple[Home, ...]] = {}
        for sheet in template.sheets:
            if sheet.layout != "table":
                continue
            for column in sheet.typed:
                if column.carried:
                    continue  # no list says what the tool writes itself
                if Equipment.key in column.refers_to and column.field == Equipment.tag.name:
                    # What calls a tag of Equipment calls the same tag on every sheet that speaks of it.
                    for text in template.by_key[Equipment.key].by_field[column.field].also_called:
                        self._add(sheet, column, text, LISTED)
                self._add(sheet, column, column.heading, OWN)
                self._add(sheet, column, column.field.replace("_", " "), LISTED)
                for text in column.also_called:
                    self._add(sheet, column, text, LISTED)
                for text in column.also_called_beside:
                    self._add(sheet, column, text, BESIDE)

    def _add(self, sheet: Sheet, column: Column, text: str, sure: float) -> None:
        bare, unit = stated_unit(text)
        # "Rating (A)" is "Rating" too; "panel amps" is not "panel".
        for form in {text, bare} if unit and spelling(bare) and text.endswith(")") else {text}:
            wording = _Wording(sheet, column, text, sure)
            self._spelled.setdefault(spelling(form), []).append(wording)
            self._worded.setdefault(words_of(form), []).append(wording)
            if sure > BESIDE and len(spelling(form)) >= _FEWEST_LETTERS:
                self._letters.setdefault(spelling(form), []).append(wording)

    def knows(self, text: str) -> bool:
        """Whether a text is the heading of some column, slips of the pen left out."""
        return any(home.sure > NEAR for home in self.of((text,)))

    def naming(self, headings: Mapping[int, Sequence[str]]) -> int:
        """Return the column, of headings by column, that says what a row speaks of: a tag before all else, 0 for none."""
        best = (0.0, 0)
        for column, wordings in sorted(headings.items()):
            for home in self.of(wordings):
                if home.names_rows and home.sure > NEAR:
                    points = home.sure + (home.column.holds == "tag" and home.column.field == "tag")
                    best = max(best, (points, column), key=lambda pair: pair[0])
        return best[1]

    def of(self, wordings: Sequence[str]) -> tuple[Home, ...]:
        """Return the columns that a heading can mean, best first, each once.

        Parameters
        ----------
        wordings : sequence of str
            The heading, and where it is read from two rows the lower one alone.

        Examples
        --------
        >>> from workbook_tools.definitions import load_template
        >>> homes = Homes(load_template("office"))
        >>> [home.place for home in homes.of(["LOCATION OF PANEL"])][0]
        ('equipment', 'room')
        >>> homes.of(["Serial number"]), homes.of(["Load (kVA)"])
        ((), ())
        """
        key = tuple(wordings)
        if key not in self._known:
            self._known[key] = self._look_up(key)
        return self._known[key]

    def _look_up(self, wordings: tuple[str, ...]) -> tuple[Home, ...]:
        best: dict[tuple[str, str], Home] = {}
        for penalty, text in enumerate(wordings):
            text = text.strip()
            if not text or len(text) > LONGEST_HEADING or is_of_workings(text):
                continue
            for home in self._of_one(text):
                home = home._replace(sure=home.sure - penalty * 0.01)
                other = best.get(home.place, home)
                first = home if home.sure > other.sure else other
                best[home.place] = first._replace(beside=home.beside or other.beside)
            if best and max(home.sure for home in best.values()) >= WEAK_WORD:
                break
        return tuple(sorted(best.values(), key=lambda home: -home.sure))

    def _of_one(self, text: str) -> list[Home]:
        plain = readable(text)
        bare, unit = stated_unit(plain)
        found: list[Home] = []
        for form in dict.fromkeys((text, plain)):
            found += _homes(self._spelled.get(spelling(form), ()), unit, 0.0, whole=True)
        found += _homes(self._spelled.get(spelling(bare), ()) if unit else (), unit, 0.0)
        known = self._worded
        words, bare_words = words_of(plain), words_of(_without_remark(bare))
        if _OTHER_UNIT.search(plain):
            bare_words = words
        for said in dict.fromkeys((words, bare_words)):
            found += _homes(known.get(said, ()) if said else (), unit, SAME_WORDS)
        if not any(home.sure >= SAME_WORDS for home in found):
            for said in dict.fromkeys(_with_fewer(bare, bare_words)):
                less = known.get(said, ()) if said else ()
                found += _homes((w for w in less if w.column.holds != "length"), unit, WEAK_WORD)
                if found:
                    break
        return found or self._of_both(bare) or self._like(spelling(bare), unit)

    def _of_both(self, text: str) -> list[Home]:
        """Return what each part means of a heading that says one thing twice, as "Room / Location"."""
        parts = [part for part in _TWICE.split(text) if part.strip()]
        if len(parts) < 2:
            return []
        first, *others = (
            {home.place: home for home in self._of_one(part) if home.sure > NEAR} for part in parts
        )
        both = [home for place, home in first.items() if all(place in other for other in others)]
        if not both and not any(others):
            both = [home for home in first.values() if home.sure >= SAME_WORDS and not home.names_rows]
        return [home._replace(sure=min(home.sure, WEAK_WORD)) for home in both]

    def _like(self, letters: str, unit: str) -> list[Home]:
        if len(letters) < _FEWEST_LETTERS or letters in AS_THEY_ARE:
            return []
        from rapidfuzz import fuzz, process

        near = process.extract(letters, self._letters.keys(), scorer=fuzz.ratio, score_cutoff=_LIKE, limit=8)
        if not near:
            return []
        best = near[0][1]
        likely = [name for name, alike, _ in near if alike > best - _APART and name[0] == letters[0]]
        found = _homes((wording for name in likely for wording in self._letters[name]), unit, NEAR)
        # Like the headings of two columns of one sheet is like none of them.
        keys = [home.sheet.key for home in {home.place: home for home in found}.values()]
        return [home for home in found if keys.count(home.sheet.key) == 1]


def _with_fewer(text: str, words: tuple[str, ...]) -> Iterable[tuple[str, ...]]:
    """Yield the words without those that change nothing, the fewest taken away first."""
    # "Source 1" is a source; "A1" is a tag.
    numbered = sum(c.isalpha() for c in text) >= _FEWEST_LETTERS
    weak = [word for word in words if word in WEAK or (numbered and word.isdecimal())]
    for word in weak:
        yield tuple(other for other in words if other != word)
    if len(weak) > 1:
        yield tuple(other for other in words if other not in weak)


def _without_remark(text: str) -> str:
    return text.partition("(")[0].strip() or text if text.endswith(")") else text


def _homes(wordings: Iterable[_Wording], unit: str, most: float, *, whole: bool = False) -> list[Home]:
    out = []
    for wording in wordings:
        if unit and not whole and not can_be_in(wording.column, unit):
            continue
        sure = min(wording.sure, most) if most else wording.sure
        if wording.sure == BESIDE:
            sure = min(sure, BESIDE)
        stated = unit if can_be_in(wording.column, unit) else ""
        why = _why(sure, wording.text)
        out.append(
            Home(wording.sheet, wording.column, sure, stated, why, wording.text, wording.sure == BESIDE)
        )
    return out


def _why(sure: float, known: str) -> str:
    if sure == OWN:
        return "its own heading"
    if sure == NEAR:
        return f"nearly {known!r}: please look"
    return f"means {known!r}" if sure >= SAME_WORDS else f"can mean {known!r}"

"""The objects that a template file becomes.

    Template      one firm's survey workbook: sheets, vocabularies, finding library, firm, rule settings
    Sheet         one sheet: a table, or a list of labels with a value beside each
    Column        one column (or one label of a label sheet)
    Vocabulary    the choices of a field with the spellings people use
    FindingType   one entry of the finding library
    plain(text)   the form in which names and tags are compared
    spelling(text)  the form in which headings and choices are compared

All are frozen; nothing here reads a file.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal, NamedTuple, get_args

from workbook_tools.definitions.slips import allowed, is_tail, slips
from workbook_tools.definitions.work import USUAL, Work

__all__ = [
    "HOLDS",
    "PRIORITIES",
    "Choice",
    "Column",
    "FindingType",
    "Firm",
    "Priority",
    "RuleSetting",
    "Sheet",
    "Template",
    "Vocabulary",
    "plain",
    "spelling",
]

Priority = Literal["Act now", "Correct soon", "Upkeep", "Record"]
PRIORITIES: tuple[Priority, ...] = get_args(Priority)
"""Most urgent first (the scale of the finding library)."""

HOLDS = (
    "text", "tag", "tags", "room", "choice", "items", "voltage", "phase", "wires", "amperes", "kva",
    "percent", "kiloamperes", "number", "count", "length", "year", "date", "photos", "finding",
    "voltage_rating",
)  # fmt: skip
"""What a column can hold; the reader has one parser for each."""

_DASHES = dict.fromkeys(map(ord, "‐‑‒–—−"), "-")
_NOT_PLAIN, _NOT_SPELLED = re.compile(r"[^a-z0-9\-/.+#]+"), re.compile("[^a-z0-9]+")  # of lower-case ASCII


@lru_cache(maxsize=65536)
def plain(text: str) -> str:
    """Return the text as it is compared: no case, no accents of width, no spaces or punctuation at all.

    Letters, digits, and the signs that tell tags apart ("-", "/", ".", "+", "#") stay.

    Examples
    --------
    >>> plain("  Fed   from ") == plain("FED FROM") == "fedfrom"
    True
    >>> plain("RP–2") == plain("rp-2"), plain("RP-2") == plain("RP2")
    (True, False)
    """
    if text.isascii():
        return _NOT_PLAIN.sub("", text.lower())
    text = unicodedata.normalize("NFKC", text).translate(_DASHES).casefold()
    return "".join(c for c in text if c.isalnum() or c in "-/.+#")


@lru_cache(maxsize=65536)
def spelling(text: str) -> str:
    """Return the letters and digits of the text: the form in which headings and choices are compared.

    Examples
    --------
    >>> spelling("Rating (A)"), spelling("sub-panel"), spelling("%Z")
    ('ratinga', 'subpanel', 'z')
    """
    if text.isascii():
        return _NOT_SPELLED.sub("", text.lower())
    return "".join(c for c in plain(text) if c.isalnum())


class Choice(NamedTuple):
    """One answer of a vocabulary: its name and the other spellings that mean it.

    `in_scope` is False for a kind of equipment that is recorded but not inspected; `like`
    is the stock kind that a firm's own kind is treated as, "" for none.
    """

    name: str
    also_called: tuple[str, ...] = ()
    in_scope: bool = True
    ask: str = ""
    like: str = ""


@dataclass(frozen=True)
class Vocabulary:
    """The choices of a field. `open` means that another answer is welcome too."""

    name: str
    choices: tuple[Choice, ...]
    open: bool = False

    @cached_property
    def _by_spelling(self) -> Mapping[str, Choice]:
        return {spelling(s): c for c in self.choices for s in (*c.also_called, c.name)}

    def find(self, text: str) -> Choice | None:
        """Return the choice that the text spells, or None."""
        return self._by_spelling.get(spelling(text))

    def nearest(self, text: str) -> str | None:
        """Return the name of the choice that the text spells with a slip; None where another may be meant.

        So "ngrounded" has none, a letter from two choices of which one is safe, nor has "did alert".
        """
        wanted = spelling(text)
        most = allowed(wanted)
        found: dict[str, int] = {}
        for spelled, choice in self._by_spelling.items():
            if is_tail(wanted, spelled):
                return None
            apart = slips(wanted, spelled, most + 1)
            found[choice.name] = min(apart, found.get(choice.name, apart))
        name = min(found, key=found.__getitem__, default=None)
        if name is None or found[name] > most:
            return None
        return (
            name if all(apart > found[name] + 1 for other, apart in found.items() if other != name) else None
        )

    @property
    def names(self) -> tuple[str, ...]:
        """The names in the order of the template."""
        return tuple(choice.name for choice in self.choices)

    def treated_as(self, name: str) -> tuple[str, ...]:
        """Return the names of the choices that are treated as that one: itself, and those like it."""
        return (name, *(choice.name for choice in self.choices if choice.like == name))


class Column(NamedTuple):
    """One column of a table sheet, or one label of a label sheet.

    `required` holds for every row; `required_for` and `optional_for` narrow it by kind
    of equipment. `live` names the computation of a live cell (such a column is never
    data). `plausible` is the range that the trade meets, in `unit` (lengths: inches).
    `each_visit` marks what is true of one visit only (a touch test, a date): the next survey
    of the building asks it again; `carried` what stands only in a workbook that was filled from an
    earlier survey. `also_called_beside` are headings of another column that mean
    this one where the list has a heading for that other column too: "Main amps" beside "Bus amps".
    """

    field: str
    heading: str
    holds: str = "text"
    also_called: tuple[str, ...] = ()
    also_called_beside: tuple[str, ...] = ()
    ask: str = ""
    required: bool = False
    required_for: tuple[str, ...] = ()
    optional_for: tuple[str, ...] = ()
    vocabulary: str = ""
    refers_to: tuple[str, ...] = ()
    unit: str = ""
    plausible: tuple[float, float] | None = None
    default: str = ""
    width: float = 12
    live: str = ""
    each_visit: bool = False
    carried: bool = False

    def is_required(self, kind: str | None) -> bool:
        """Whether a row of that kind of equipment must answer this column."""
        if kind in self.required_for:
            return True
        return self.required and kind not in self.optional_for


@dataclass(frozen=True)
class Sheet:
    """One sheet of the survey workbook.

    `layout` is "guide" (Start here), "labels" (Job), "table" or "lists"; `position` is its place
    in the workbook, from 0.
    """

    key: str
    name: str
    layout: str
    also_called: tuple[str, ...]
    ask: str
    columns: tuple[Column, ...]
    position: int = 0

    @cached_property
    def by_field(self) -> Mapping[str, Column]:
        """The columns by field name."""
        return {column.field: column for column in self.columns}

    @cached_property
    def by_spelling(self) -> Mapping[str, Column]:
        """The columns by the spelling of their headings and synonyms (a live column has no synonyms)."""
        known: dict[str, Column] = {}
        for column in self.columns:
            known.setdefault(spelling(column.heading), column)
        for column in self.typed:
            for text in column.also_called:
                known.setdefault(spelling(text), column)
        known.pop("", None)
        return known

    @cached_property
    def beside(self) -> Mapping[str, Column]:
        """The columns by the spelling of the headings that mean them only beside another heading."""
        return {spelling(text): column for column in self.typed for text in column.also_called_beside}

    @property
    def typed(self) -> tuple[Column, ...]:
        """The columns that a person fills in."""
        return tuple(column for column in self.columns if not column.live)

    @property
    def live(self) -> tuple[Column, ...]:
        """The columns that the workbook computes."""
        return tuple(column for column in self.columns if column.live)

    @cached_property
    def carried(self) -> tuple[Column, ...]:
        """The columns that stand only in a workbook that was filled from an earlier survey."""
        return tuple(column for column in self.columns if column.carried)

    def __iter__(self) -> Iterator[Column]:
        """Yield the columns in their order."""
        return iter(self.columns)


class FindingType(NamedTuple):
    """One type of finding of the library.

    `one` and `many` are how the client reads it ("open knockout", "open knockouts");
    `disagrees_with` names the recorded value that contradicts it when that value is
    fine: the slug of a rule, or "field=Choice" ("circuit_directory=Present"). `action` is what is to be done,
    `work` by whom and how.
    """

    code: str
    name: str
    category: str
    look_for: str
    why: str
    priority: str
    action: str
    section: str
    also_called: tuple[str, ...] = ()
    one: str = ""
    many: str = ""
    disagrees_with: tuple[str, ...] = ()
    source: str = ""
    status: str = ""
    work: Work = USUAL


@dataclass(frozen=True, slots=True)
class Firm:
    """Who signs the schedule, and the two colours it is printed in (#RRGGBB)."""

    name: str
    lines: tuple[str, ...] = ()
    colour: str = "#22505A"
    accent: str = "#A84A16"
    paper: str = "letter"


class RuleSetting(NamedTuple):
    """What a template changes about one rule; the schedule says so with the reason."""

    slug: str
    off: bool = False
    priority: str = ""
    reason: str = ""


@dataclass(frozen=True)
class Template:
    """A firm's definition of the survey workbook."""

    name: str
    title: str
    line: str
    path: str
    sheets: tuple[Sheet, ...]
    vocabularies: Mapping[str, Vocabulary]
    findings: tuple[FindingType, ...]
    outside_sources: tuple[str, ...]
    firm: Firm
    rules: Mapping[str, RuleSetting]
    code_profile: str
    amendments: str
    dimension_unit: str
    cautions: tuple[str, ...]

    @cached_property
    def by_key(self) -> Mapping[str, Sheet]:
        """The sheets by key: "job", "rooms", "equipment", ..."""
        return {sheet.key: sheet for sheet in self.sheets}

    @cached_property
    def _findings_by_spelling(self) -> Mapping[str, FindingType]:
        return {spelling(s): f for f in self.findings for s in (*f.also_called, f.name)}

    def find_finding(self, text: str) -> FindingType | None:
        """Return the library entry that the text spells, or None."""
        return self._findings_by_spelling.get(spelling(text))

    def as_written(self, tables: Mapping[str, Iterable[Mapping[str, str]]]) -> Template:
        """Return the template as a workbook has it whose rows, by sheet and field, are these.

        Its `carried` columns stand only on sheets on which one of them is answered; choices that no column has any
        more go too.
        """
        sheets = tuple(
            replace(sheet, columns=tuple(column for column in sheet if not column.carried))
            if sheet.carried
            and not any(row.get(c.field) for row in tables.get(sheet.key, ()) for c in sheet.carried)
            else sheet
            for sheet in self.sheets
        )
        gone, left = (
            {column.vocabulary for sheet in part for column in sheet} for part in (self.sheets, sheets)
        )
        vocabularies = {
            name: known for name, known in self.vocabularies.items() if name in left or name not in gone
        }
        return replace(self, sheets=sheets, vocabularies=vocabularies)

    def vocabulary_of(self, column: Column) -> Vocabulary | None:
        """Return the vocabulary of a column, or None where it has none."""
        return self.vocabularies[column.vocabulary] if column.vocabulary else None

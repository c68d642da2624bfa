"""Whether a formula can read what was typed: the tables that live cells look up, asked in Python.

    Readable(template)
        .choice(cell)                blank, N/V or a spelling that stands on Lists; phases and wires too
        .kind(cell)                  a choice, or words that can be no transformer
        .voltage(text)               "none", "known" or "unread"
        .length(text, unit_read)     "none", "known" or "unread"; likewise .amount(cell)
        .year(text), .finding(text), .answers_none(text)

Formulas and this class use the same forms and the same tables, so they agree on what is
readable; what a readable text means is the business of the tool's own readers.
"""

from __future__ import annotations

from functools import cached_property, lru_cache
from typing import Any

from workbook_tools.definitions import FindingType, Template, spelling
from workbook_tools.electrical import VoltageSystem, read_phases, read_wires
from workbook_tools.live_cells.known_texts import ANSWERS, NO_AMOUNT, number_spellings
from workbook_tools.live_cells.typed_forms import (
    AMOUNT,
    AMOUNT_SHAPES,
    LENGTH,
    LENGTH_SHAPES,
    SPELLING,
    VOLTAGE,
    shape_of,
)  # fmt: skip
from workbook_tools.live_cells.voltage_table import (
    said_beside,
    source_dependent,
    system_numbers,
    voltage_rows,
)
from workbook_tools.survey import Equipment, Value

__all__ = ["Readable", "transformer_stems"]

_ANSWERS = frozenset(SPELLING.of(text) for text in ANSWERS)
_NO_VOLTAGE = frozenset(VOLTAGE.of(text) for text in NO_AMOUNT)


_STEMS = ("dry", "tr", "tx", "xf")


def transformer_stems(template: Template) -> tuple[str, ...]:
    """Return what a kind in words of somebody's own holds where it may be a transformer, as spellings are compared."""
    vocabulary = template.vocabularies[Equipment.kind.name]
    names = set(vocabulary.treated_as("Transformer"))
    texts = [
        text
        for choice in vocabulary.choices
        if choice.name in names
        for text in (choice.name, *choice.also_called)
    ]
    keys = (SPELLING.of(text).removeprefix(SPELLING.prefix) for text in texts)
    return (*_STEMS, *sorted(key for key in keys if key and not any(stem in key for stem in _STEMS)))


class Readable:
    """What the live cells of one template's workbooks can read."""

    def __init__(self, template: Template) -> None:
        self.template = template

    def answers_none(self, text: str) -> bool:
        """Whether the cell is blank or answers N/V or N/A, in a spelling that the sheet knows."""
        return not text.strip(" ") or SPELLING.of(text) in _ANSWERS

    def choice_of(self, cell: Value[Any]) -> str:
        """Return the choice that the sheet takes a cell for: "" for none, "?" for what it does not know.

        Phases and wires come as their number.
        """
        if not cell.typed.strip(" "):
            return ""
        key = SPELLING.of(cell.typed)
        found = self._spellings(cell.column.vocabulary).get(key)
        if found is not None:
            return found
        return "" if key in _ANSWERS else "?"

    def choice(self, cell: Value[Any]) -> bool:
        """Whether the sheet can read a choice, or a number of phases or wires."""
        return self.choice_of(cell) != "?"

    def kind(self, cell: Value[Any]) -> bool:
        """Whether the sheet knows that a piece of equipment is a transformer, or that it is none."""
        return self.choice(cell) or not any(stem in SPELLING.of(cell.typed) for stem in self._stems)

    @cached_property
    def _stems(self) -> tuple[str, ...]:
        return transformer_stems(self.template)

    @cached_property
    def _vocabularies(self) -> dict[str, dict[str, str]]:
        return {}

    def _spellings(self, name: str) -> dict[str, str]:
        known = self._vocabularies.get(name)
        if known is None:
            if name in ("phase", "wires"):
                read = read_phases if name == "phase" else read_wires
                known = {key: f"{number:g}" for key, number in number_spellings(self.template, name, read)}
            else:
                vocabulary = self.template.vocabularies[name]
                known = {
                    SPELLING.prefix + spelling(text): choice.name
                    for choice in vocabulary.choices
                    for text in (*choice.also_called, choice.name)
                }
            self._vocabularies[name] = known
        return known

    @lru_cache(maxsize=4096)  # noqa: B019  # lives as long as the survey it looks at
    def voltage(self, text: str) -> str:
        """Say whether a voltage is "none", "known" or "unread"."""
        if not text.strip(" "):
            return "none"
        form = VOLTAGE.of(text)
        if not form or form in _NO_VOLTAGE:
            return "none"
        return "known" if said_beside(form)[0] in voltage_rows() else "unread"

    def phases_said(self, text: str) -> int:
        """Return the phases that a voltage names at its end; 0 for none."""
        return said_beside(VOLTAGE.of(text))[1]

    def wires_said(self, text: str) -> int:
        """Return the wires that a voltage names at its end; 0 for none."""
        return said_beside(VOLTAGE.of(text))[2]

    def date(self, text: str) -> bool:
        """Whether the sheet can read a date, written as 2026-09-16; blank and N/V are answers."""
        if self.answers_none(text):
            return True
        plain = text.strip(" ")
        parts = plain[:4], plain[5:7], plain[8:]
        written = (
            len(plain) == 10
            and plain[4] + plain[7] == "--"
            and "".join(parts).isascii()
            and "".join(parts).isdigit()
        )
        return written and 1 <= int(parts[1]) <= 12 and 1 <= int(parts[2]) <= 31

    @cached_property
    def _dependent(self) -> frozenset[int]:
        return frozenset(load for _, load in source_dependent())

    def depends_on_source(self, system: VoltageSystem) -> bool:
        """Whether the system above can change the volts to ground of this one."""
        return system_numbers()[system.key] in self._dependent

    def follows(self, source: VoltageSystem, load: VoltageSystem) -> bool:
        """Whether a load takes over volts to ground of its source that can depend on what feeds the source."""
        numbers = system_numbers()
        found = source_dependent().get((numbers[source.key], numbers[load.key]))
        return found is not None and found.follows

    def length(self, text: str, unit_read: bool) -> str:
        """Say whether a length is "none", "known" or "unread"; `unit_read` is whether the job's unit is."""
        if not text.strip(" "):
            return "none"
        form = LENGTH.of(text)
        shape = shape_of(form)
        if shape in NO_AMOUNT:
            return "none"
        unit = LENGTH_SHAPES.get(shape)
        if unit is None or (unit == "job" and not unit_read) or not _fractions_hold(form):
            return "unread"
        return "known"

    def amount(self, cell: Value[float]) -> str:
        """Say whether a number is "none", "known" or "unread"."""
        if not cell.typed.strip(" "):
            return "none"
        form = AMOUNT.of(cell.typed)
        shape = shape_of(form)
        if shape in NO_AMOUNT or not form:
            return "none"
        return "known" if shape in AMOUNT_SHAPES[cell.column.holds] and _fractions_hold(form) else "unread"

    def year(self, text: str) -> bool:
        """Whether the sheet can read a year: four digits, blank or N/V."""
        bare = text.strip(" ")
        return self.answers_none(text) or (len(bare) == 4 and bare.isascii() and bare.isdigit())

    def finding(self, text: str) -> FindingType | None:
        """Return the entry of the finding library that the sheet takes a text for, or None."""
        return self._findings.get(SPELLING.of(text))

    @cached_property
    def _findings(self) -> dict[str, FindingType]:
        return {
            SPELLING.prefix + spelling(text): entry
            for entry in self.template.findings
            for text in (*entry.also_called, entry.name)
        }


def _fractions_hold(form: str) -> bool:
    """Whether each fraction of a form is one: 6 1/2, not 6 3/2 and not 1/0."""
    for part in form.replace('"', "").split("'"):
        before, slash, bottom = part.removeprefix("-").partition("/")
        if not slash:
            continue
        bottom = bottom.rstrip("mckva%z ")
        whole, gap, top = before.replace("-", " ").partition(" ")
        if int(bottom) == 0 or (gap and int(top or whole) >= int(bottom)):
            return False
    return True

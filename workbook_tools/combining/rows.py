"""The rows of one table out of several parts.

    Table(sheet, template)         .add(part, rows) one part after the other
        .rows, .differences        what came of it

Rows of one name (a tag, a room) from two parts are one row where they contradict each other in nothing: what the one
leaves blank the other fills in. Rows without a name of their own (findings, photos) are one where they are alike.
Two rows of one part are never taken as one: that is for the check to ask about. A row that was carried over from an
earlier survey is what the part says that has seen it again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from workbook_tools.combining.model import Difference, Follows
from workbook_tools.definitions import Sheet, Template, plain, spelling
from workbook_tools.filling.column_values import same_answer
from workbook_tools.filling.gathered import NAMED
from workbook_tools.survey import Finding
from workbook_tools.survey.found_headings import identity_of
from workbook_tools.survey.rows import SEEN_AGAIN

__all__ = ["Table", "Texts"]

Texts = dict[str, str]
"""A row as typed: field, or the heading of an own column, to text."""

LAST_SEEN, THIS_YEAR = Finding.last_seen.name, Finding.this_year.name
CHANGED = "Changed"
_FINDING = (Finding.subject.name, Finding.finding.name, LAST_SEEN)
"""What tells one carried finding from another."""


@dataclass(eq=False)
class _Entry:
    row: Texts
    parts: list[str]


@dataclass
class Table:
    """The rows of one table, gathered part by part."""

    sheet: Sheet
    template: Template
    entries: list[_Entry] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    _by_name: dict[str, list[_Entry]] = field(default_factory=dict)

    def add(self, part: str, rows: Iterable[Texts]) -> None:
        """Add the rows of one part."""
        for row in rows:
            name = self._name(row)
            others = [entry for entry in self._by_name.get(name, ()) if part not in entry.parts]
            same = next((entry for entry in others if self._agree(entry.row, row, name)), None)
            if same is not None:
                self._lay_over(same, row, part)
                continue
            if others and name and self._is_named():
                self._say(others[0], row, part)
            entry = _Entry(row, [part])
            self.entries.append(entry)
            self._by_name.setdefault(name, []).append(entry)

    def rows(self, written_by: str) -> list[Mapping[str, str]]:
        """Return the rows, each with who wrote it in an own column."""
        order = {name: place for place, name in enumerate(self.sheet.by_field)}

        def in_order(row: Mapping[str, str]) -> Mapping[str, str]:
            return dict(sorted(row.items(), key=lambda cell: order.get(cell[0], len(order))))

        return [{**in_order(entry.row), written_by: ", ".join(entry.parts)} for entry in self.entries]

    def _is_named(self) -> bool:
        return self.sheet.key in NAMED

    def _name(self, row: Mapping[str, str]) -> str:
        if self._is_named():
            return plain(row.get(identity_of(self.sheet), ""))
        named = [field_name for field_name in _FINDING if row.get(LAST_SEEN)] or sorted(row)
        return "\n".join(f"{name}\t{spelling(row.get(name, ''))}" for name in named)

    def _agree(self, one: Mapping[str, str], other: Mapping[str, str], name: str) -> bool:
        """Whether two rows contradict each other in nothing; rows without a name are one only where they are alike."""
        carried = bool(one.get(LAST_SEEN)) and one.get(LAST_SEEN) == other.get(LAST_SEEN)
        if not carried and (not self._is_named() or not name):
            return _spelled(one) == _spelled(other)
        if carried and {self._answer(one), self._answer(other)} == {"", CHANGED}:
            return True  # the one has corrected what the other has not looked at
        return all(
            self._same(field_name, one[field_name], text)
            for field_name, text in other.items()
            if one.get(field_name)
        )

    def _same(self, name: str, one: str, other: str) -> bool:
        if spelling(one) == spelling(other):
            return True
        if name == THIS_YEAR and not (self._is_seen(one) and self._is_seen(other)):
            return True
        column = self.sheet.by_field.get(name)
        return column is not None and same_answer(column, one, other, self.template)

    def _answer(self, row: Mapping[str, str]) -> str:
        """Return what a carried row is this year, as one of the choices; "" for no answer."""
        return self._choice(row.get(THIS_YEAR, ""))

    def _choice(self, typed: str) -> str:
        column = self.sheet.by_field.get(THIS_YEAR)
        vocabulary = self.template.vocabulary_of(column) if column is not None else None
        choice = vocabulary.find(typed) if vocabulary is not None and typed.strip() else None
        return choice.name if choice is not None else typed.strip()

    def _is_seen(self, typed: str) -> bool:
        return self._choice(typed) in SEEN_AGAIN

    def _lay_over(self, entry: _Entry, row: Texts, part: str) -> None:
        newer = self._answer(row) in SEEN_AGAIN and self._answer(entry.row) not in SEEN_AGAIN
        for name, text in row.items():
            before = entry.row.get(name, "")
            if before and spelling(before) != spelling(text) and name != THIS_YEAR:
                follows: Follows = "the same in other words"
                if not self._same(name, before, text):
                    follows = "seen again in one of the two"
                self.differences.append(self._difference(entry, name, before, part, text, follows))
        entry.row = {**entry.row, **row} if newer else {**row, **entry.row}
        entry.parts.append(part)

    def _say(self, entry: _Entry, row: Texts, part: str) -> None:
        for name, text in row.items():
            before = entry.row.get(name)
            if before and not self._same(name, before, text):
                self.differences.append(self._difference(entry, name, before, part, text, "asked about"))

    def _difference(
        self, entry: _Entry, name: str, one: str, part: str, another: str, follows: Follows
    ) -> Difference:
        column = self.sheet.by_field.get(name)
        subject = entry.row.get(identity_of(self.sheet), "")
        heading = column.heading if column is not None else name
        return Difference(
            self.sheet.name, subject, heading, ", ".join(entry.parts), one, part, another, follows
        )


def _spelled(row: Mapping[str, str]) -> dict[str, str]:
    return {name: spelling(text) for name, text in row.items() if text.strip()}

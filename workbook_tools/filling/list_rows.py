"""The rows that a table of a list gives, by its plan.

    rows_of(plan, template, job_unit)   ListRows: rows by sheet, extra columns, what feeds what, what was assumed

One row of a list may be a row of Equipment, of Transformers and of Clearances, and say the level of a room.
Nothing of it is lost: what has no place stands in the row under its own heading.

Not here: which column goes where (placing), how rows of several lists become one (combining).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from workbook_tools.definitions import Template, plain, spelling
from workbook_tools.filling.column_values import says_transformer
from workbook_tools.filling.compound import parts_of, several_tags
from workbook_tools.filling.model import Target
from workbook_tools.filling.no_rows import floor_in, is_floor, is_room
from workbook_tools.filling.parting import PARTS, one_source, parted
from workbook_tools.filling.plans import (
    FED_FROM,
    FEEDS_THEM,
    KIND,
    KVA,
    LEVEL,
    PHASE,
    PRIMARY,
    RATING,
    ROOM,
    SECONDARY,
    SERVES,
    VOLTAGE,
    ColumnPlan,
    Plan,
)
from workbook_tools.filling.survey_rows import extra_heading
from workbook_tools.survey import Equipment, Room, Transformer
from workbook_tools.survey.found_headings import identity_of

__all__ = ["ListRows", "rows_of"]

_BARE_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]+)?(?:\s+[0-9]+/[0-9]+)?")
_TRANSFORMER = "Transformer"
_SIDES = (PRIMARY, SECONDARY)
_NO_COLUMN = 0

Texts = dict[Target, str]


@dataclass
class ListRows:
    """What a table gives: `served` has for each tag what it feeds; the counts say what was assumed."""

    rows: dict[str, list[dict[str, str]]] = field(default_factory=dict)
    extra: dict[str, list[str]] = field(default_factory=dict)
    served: list[tuple[str, str]] = field(default_factory=list)
    with_units: dict[str, str] = field(default_factory=dict)
    kinds_assumed: int = 0
    rooms_assumed: int = 0
    tags_parted: list[str] = field(default_factory=list)


def rows_of(plan: Plan, template: Template, job_unit: str, levels: dict[str, tuple[str, str]]) -> ListRows:
    """Turn the rows of a table into rows of the survey; `levels` takes in the rooms of a floor, by their spelling."""
    return _Rows(plan, template, job_unit, levels).read()


class _Rows:
    def __init__(
        self, plan: Plan, template: Template, job_unit: str, levels: dict[str, tuple[str, str]]
    ) -> None:
        self.plan, self.template, self.job_unit, self.levels = plan, template, job_unit, levels
        self.out = ListRows()
        self.sheet = template.by_key[plan.key]
        self.names_of = {one.key: identity_of(one) for one in template.sheets}
        self.identity = Target(plan.key, identity_of(self.sheet))
        self.of_tags = (
            self.sheet.by_field[self.identity.field].holds == "tag" if self.identity.field else False
        )
        taken = {spelling(text) for c in self.sheet.columns for text in (c.heading, c.field)}
        self.names: dict[int, str] = {}
        for column, one in sorted(plan.columns.items(), key=lambda pair: (bool(pair[1].targets), pair[0])):
            # What a parted cell said whole stands beside the column that has its heading.
            again = one.targets and spelling(one.heading) in taken
            self.names[column] = extra_heading(f"{one.heading} as listed" if again else one.heading, taken)
            taken.add(spelling(self.names[column]))
        self.names[_NO_COLUMN] = extra_heading("Level", taken)
        self.used: set[int] = set()
        self.floor = floor_in(plan.table.sheet.grid.name)
        self.places = {t for one in plan.columns.values() for t in one.targets}
        column = plan.column_of(self.identity)
        self.tags = {plain(text) for text in plan.table.texts(column)} if column else set()
        self.titled = {
            spelling(text): (is_floor(text), is_room(text)) for text in set(plan.table.titles.values())
        }

    def read(self) -> ListRows:
        titles = self.plan.table.titles
        for number, cells in self.plan.table.rows.items():
            self._read_row(cells, titles.get(number, ""))
        names = [self.names[column] for column in (*self.plan.columns, _NO_COLUMN) if column in self.used]
        if names:
            self.out.extra[self.plan.key] = names
        return self.out

    def _read_row(self, cells: Mapping[int, str], title: str) -> None:
        texts: Texts = {}
        parts: Texts = {}
        kept: dict[int, str] = {}
        of_column: dict[Target, int] = {}
        for column, text in cells.items():
            one = self.plan.columns[column]
            if not one.targets:
                kept[column] = text
                continue
            self._put(one, text, texts, parts, kept, of_column)
        for target, text in parts.items():
            texts.setdefault(target, text)
        self._floors(texts, kept, of_column, title)
        tags = (
            several_tags(texts.get(self.identity, ""))
            if self.of_tags and self.plan.key == Equipment.key
            else ()
        )
        if tags:
            column = of_column[self.identity]
            kept[column] = texts[self.identity]
            self.out.tags_parted.append(texts[self.identity])
        for tag in tags or (texts.get(self.identity, ""),):
            self._add({**texts, **({self.identity: tag} if tag else {})}, dict(kept), of_column)

    def _put(
        self,
        one: ColumnPlan,
        text: str,
        texts: Texts,
        parts: Texts,
        kept: dict[int, str],
        of_column: dict[Target, int],
    ) -> None:
        base, *others = one.targets
        if texts.get(base, text) != text:
            kept[one.column] = text  # another column was there first
            return
        said = parted(base, text) if others or one.column not in self.plan.forced else None
        if said is not None and said.texts != {base: text}:
            allowed = {target: part for target, part in said.texts.items() if target in self._allowed(one)}
            if base in allowed:
                texts[base] = allowed.pop(base)
            parts.update({target: part for target, part in allowed.items() if target not in parts})
            if said.keep or base not in texts:
                kept[one.column] = text
        else:
            texts[base] = self._with_unit(one, base, text)
        for other in others:
            if other not in PARTS and not self._names_rows(other):
                texts[other] = text
        if base == FED_FROM:
            source = one_source(text, self.tags)
            if source:
                texts[base], kept[one.column] = source, text
        of_column.update(dict.fromkeys(one.targets, one.column))

    def _names_rows(self, target: Target) -> bool:
        """Whether a target is the tag of another sheet, which each row there gets by itself."""
        return target.key != self.plan.key and target.field == self.names_of[target.key]

    def _allowed(self, one: ColumnPlan) -> set[Target]:
        """Return what a cell of the column may fill: its own targets, and what has a column elsewhere too."""
        if one.column in self.plan.forced:
            return set(one.targets)
        return set(one.targets) | {t for t in self.places if t.key in (Equipment.key, Transformer.key)}

    def _floors(self, texts: Texts, kept: dict[int, str], of_column: dict[Target, int], title: str) -> None:
        """Let the title above a row, or the name of its sheet, be its floor or its room."""
        if self.plan.key not in (Equipment.key, Transformer.key) or ROOM.field not in self._fields(
            Equipment.key
        ):
            return
        of_floor, of_room = self.titled.get(spelling(title), (False, False))
        floor = texts.pop(LEVEL, "") or (title if of_floor else "") or self.floor
        listed = of_column.get(LEVEL)
        if of_room and not of_floor and ROOM not in self.places:
            texts.setdefault(ROOM, title)
        elif floor and listed is None and ROOM not in self.places:
            texts[ROOM] = floor
            self.out.rooms_assumed += 1
        room = texts.get(ROOM, "")
        if not floor:
            return
        _, level = self.levels.setdefault(spelling(room), (room, floor)) if room else ("", "")
        if spelling(level) != spelling(floor) or Room.key not in self.template.by_key:
            # No room to say it of, or a room of that name on another floor too.
            kept[listed if listed is not None else _NO_COLUMN] = floor

    def _fields(self, key: str) -> Mapping[str, object]:
        sheet = self.template.by_key.get(key)
        return sheet.by_field if sheet is not None else {}

    def _add(self, texts: Texts, kept: dict[int, str], of_column: Mapping[Target, int]) -> None:
        served = texts.pop(FEEDS_THEM, "")
        self._size_of_a_transformer(texts, of_column)
        tag = texts.get(self.identity, "")
        is_transformer = self.plan.key == Transformer.key or self._is_transformer(texts)
        if served:
            self.out.served.append((tag, served))
        if served and not is_transformer:
            kept[of_column[FEEDS_THEM]] = served
            texts.pop(SERVES, None)
        elif served and SERVES.field in self._fields(SERVES.key):
            texts.setdefault(SERVES, served)
        elif served:
            kept[of_column[FEEDS_THEM]] = served
        if not is_transformer and self.plan.key == Equipment.key:
            for target in [t for t in texts if t.key == Transformer.key]:
                column = of_column.get(target)
                text = texts.pop(target)
                if column is None:
                    continue
                if target in _SIDES and self.plan.columns[column].targets[0] == VOLTAGE:
                    texts.setdefault(VOLTAGE, kept.pop(column, text))
                else:
                    kept.setdefault(column, text)
        by_key: dict[str, dict[str, str]] = {}
        for target, text in texts.items():
            by_key.setdefault(target.key, {})[target.field] = text
        self._with_transformer(by_key, tag, is_transformer)
        own = by_key.pop(self.plan.key, {})
        for column, text in kept.items():
            own[self.names[column]] = text
            self.used.add(column)
        self._row(self.plan.key, own)
        for key, row in by_key.items():
            name = self.names_of[key]
            if set(row) - {name}:
                self._row(key, {name: tag, **row} if tag else row)

    def _size_of_a_transformer(self, texts: Texts, of_column: Mapping[Target, int]) -> None:
        """Let a bare number under "Size" be the kVA of a transformer."""
        column = of_column.get(RATING)
        if column is None or KVA in texts or KVA not in self.plan.columns[column].targets:
            return
        if RATING in texts and not parts_of(texts[RATING]).amperes and self._is_transformer(texts):
            texts[KVA] = texts.pop(RATING)

    def _with_transformer(self, by_key: dict[str, dict[str, str]], tag: str, is_transformer: bool) -> None:
        """Make a transformer of a list a row of Equipment and one of Transformers."""
        if not is_transformer:
            return
        if self.plan.key == Transformer.key and tag and KIND.field in self._fields(Equipment.key):
            row = by_key.setdefault(Equipment.key, {})
            if not row.get(KIND.field):
                row[KIND.field] = _TRANSFORMER
                self.out.kinds_assumed += 1
        elif (
            Transformer.key in by_key
            and PHASE.field in by_key.get(Equipment.key, {})
            and PHASE.field in self._fields(Transformer.key)
        ):
            by_key[Transformer.key].setdefault(PHASE.field, by_key[Equipment.key][PHASE.field])

    def _is_transformer(self, texts: Texts) -> bool:
        said = texts.get(KIND, "")
        column = self.template.by_key[Equipment.key].by_field.get(KIND.field)
        vocabulary = self.template.vocabulary_of(column) if column is not None else None
        choice = vocabulary.find(said) if vocabulary is not None and said else None
        if choice is not None:
            return _TRANSFORMER in (choice.name, choice.like)
        if said:
            return says_transformer(said)
        if says_transformer(texts.get(self.identity, "")):
            return True
        return any(side in texts for side in _SIDES) or (KVA in texts and RATING not in texts)

    def _row(self, key: str, row: dict[str, str]) -> None:
        if row:
            self.out.rows.setdefault(key, []).append(row)

    def _with_unit(self, one: ColumnPlan, target: Target, text: str) -> str:
        """Write the unit that only the heading states behind a bare length: the new heading says it no longer."""
        sheet = self.template.by_key[target.key]
        column = sheet.by_field.get(target.field)
        if not one.unit or column is None or column.holds != "length" or one.unit == self.job_unit:
            return text
        if not _BARE_NUMBER.fullmatch(text.strip()):
            return text
        self.out.with_units[one.heading] = one.unit
        return f"{text.strip()} {one.unit}"

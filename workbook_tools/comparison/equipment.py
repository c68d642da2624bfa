"""What changed of the equipment between two surveys.

    equipment_changes(last, this, same)   EquipmentChanges, in the order of this year's list, what is gone after it

Answers are compared by what they say, not how they are spelled. What is asked anew at every visit is compared where both
visits answered it; touch test and photos, which are of one visit alone, never.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from workbook_tools.comparison.model import EquipmentChange
from workbook_tools.definitions import plain, spelling
from workbook_tools.survey import Clearance, Equipment, Field, Row, Survey, Transformer, Value
from workbook_tools.survey.fingerprint import cells_of

__all__ = ["equipment_changes"]

_TABLES: tuple[type[Row], ...] = (Equipment, Transformer, Clearance)

_TELLING: tuple[Field[Any], ...] = (
    Equipment.room,
    Equipment.fed_from,
    Equipment.rating_a,
    Equipment.voltage,
    Equipment.phase,
    Equipment.wires,
    Equipment.maker,
    Equipment.main_device,
)
"""Answers by which one knows a piece again whose tag was changed."""

_OF_ONE_VISIT: tuple[Field[Any], ...] = (Equipment.touch_test, Equipment.photos, Transformer.nameplate_photo)
"""Answers that say nothing about the next visit."""

_FEWEST_ALIKE, _MOST_OTHER = 3, 1


def equipment_changes(last: Survey, this: Survey, same: Mapping[str, str]) -> list[EquipmentChange]:
    """Return what changed.

    Parameters
    ----------
    last, this : Survey
        The earlier survey and the later one.
    same : mapping of str to str
        Tags of the earlier survey to what they are called now, as somebody has answered; in plain form.
    """
    tables = [(_by_tag(last, table, same), _by_tag(this, table, {})) for table in _TABLES]
    before, now = tables[0]
    gone = {key: rows[0] for key, rows in before.items() if key not in now}
    new = {key: rows[0] for key, rows in now.items() if key not in before}
    renamed = _renamed(gone, new)
    asked = {key: old for old, key in renamed.items()}
    changes: list[EquipmentChange] = []
    for key, rows in now.items():
        tag = rows[0].called
        if key in asked:
            old = gone[asked[key]]
            changes.append(
                EquipmentChange(
                    "renamed?",
                    tag,
                    rows[0].sheet,
                    rows[0].definition.by_field["tag"].heading,
                    old.called,
                    tag,
                )
            )
        elif key in new:
            changes.append(EquipmentChange("new", tag, rows[0].sheet))
        else:
            for old_rows, new_rows in tables:
                changes += _differences(tag, old_rows.get(key, []), new_rows.get(key, []))
    changes += [
        EquipmentChange("gone", row.called, row.sheet) for key, row in gone.items() if key not in renamed
    ]
    return changes


def _by_tag(survey: Survey, table: type[Row], same: Mapping[str, str]) -> dict[str, list[Row]]:
    rows: dict[str, list[Row]] = {}
    for row in survey.tables.get(table.key, ()):
        if row.called:
            key = plain(row.called)
            rows.setdefault(plain(same.get(key, key)), []).append(row)
    return rows


def _differences(tag: str, before: Sequence[Row], now: Sequence[Row]) -> Iterator[EquipmentChange]:
    for old, new in zip(before, now, strict=False):
        yield from _of_row(tag, old, new)
    for extra, was, is_ in ((before[len(now) :], "recorded", ""), (now[len(before) :], "", "recorded")):
        for row in extra:
            yield EquipmentChange("changed", tag, row.sheet, row.definition.name, was, is_)


def _of_row(tag: str, old: Row, new: Row) -> Iterator[EquipmentChange]:
    """Yield one change for each answer that says something else, in the order of the sheet."""
    before, now = cells_of(old), cells_of(new)
    asked_anew = {column.field: column.heading for column in new.definition.columns if column.each_visit}
    passed_over = {c.field for c in new.definition.columns if c.carried} | {f.name for f in _OF_ONE_VISIT}
    order = [column.field for column in new.definition.columns]
    names = [*(name for name in order if name in before or name in now)]
    names += [name for name in dict.fromkeys((*before, *now)) if name not in order]
    for name in names:
        was, is_ = before.get(name), now.get(name)
        if was is not None and is_ is not None:
            if name in passed_over or plain(was[0]) == plain(is_[0]):
                continue
        elif name in passed_over or name in asked_anew or _is_of_an_earlier_visit(name, asked_anew.values()):
            continue  # not answered on one of the two visits
        shown: Value[Any] = (is_ or was)[1]  # type: ignore[index]
        yield EquipmentChange("changed", tag, new.sheet, shown.heading, _said(was), _said(is_))


def _is_of_an_earlier_visit(name: str, asked_anew: Iterable[str]) -> bool:
    """Whether an own column keeps what an earlier visit answered: "Touch test on 2025-10-06"."""
    return any(name.startswith(f"own {spelling(f'{heading} on')}") for heading in asked_anew)


def _said(cell: tuple[str, Value[Any]] | None) -> str:
    return " ".join(cell[1].typed.split()) if cell is not None else ""


def _renamed(gone: Mapping[str, Row], new: Mapping[str, Row]) -> dict[str, str]:
    """Return which of the pieces that are gone may be which of the new ones: the one that is most alike, and no other."""
    before, now = ({key: _Looks.of(row) for key, row in rows.items()} for rows in (gone, new))
    found: dict[str, str] = {}
    for old, looks in before.items():
        alike = sorted(
            ((score, key) for key, other in now.items() if (score := looks.alike(other))), reverse=True
        )
        if alike and (len(alike) == 1 or alike[0][0] > alike[1][0]) and alike[0][1] not in found.values():
            found[old] = alike[0][1]
    return found


class _Looks(NamedTuple):
    """By what one knows a piece again: its kind, and its telling answers."""

    kind: str | None
    answers: Mapping[str, str]

    @classmethod
    def of(cls, row: Row) -> _Looks:
        said = cells_of(row)
        answers = {f.name: plain(said[f.name][0]) for f in _TELLING if f.name in said}
        return cls(row.stock_kind if isinstance(row, Equipment) else "", answers)

    def alike(self, other: _Looks) -> int:
        """Return how many telling answers two share; 0 where they are of other kinds or differ in more than one."""
        if self.kind != other.kind:
            return 0
        both = self.answers.keys() & other.answers.keys()
        equal = sum(self.answers[name] == other.answers[name] for name in both)
        return equal if equal >= _FEWEST_ALIKE and len(both) - equal <= _MOST_OTHER else 0

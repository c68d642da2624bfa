"""Job details out of a sheet of labels.

    take_labels(sheet, found, gathered, ...)   the answers beside the labels, and what has no label of ours
    take_labels_above(sheet, row, gathered)    details above a table ("Site: Harbour House"); the cells they stand in

What is true of one visit is not answered again from an earlier survey: it goes into labels that name its date.
"""

from __future__ import annotations

from collections.abc import Callable, Collection

from workbook_tools.definitions import spelling
from workbook_tools.filling.gathered import Gathered
from workbook_tools.filling.job_details import labels_above
from workbook_tools.filling.model import Placed, Target
from workbook_tools.filling.sources import Source, SourceSheet
from workbook_tools.filling.survey_rows import OutsideCell
from workbook_tools.survey import Job
from workbook_tools.survey.headings import SheetFound

__all__ = ["take_labels", "take_labels_above"]

_HEADED = {"item", "label", "field", "detail", "key", "value", "answer"}
_ASKED_ANEW = (
    "This is the survey of {}: what is true of one visit is asked anew ({}); the old answers stand in columns and "
    "labels named after that day. Measurements and findings are carried over with that day under Last seen: answer This year "
    "beside each. Until then they go to the client as of that day. See whether everything else that was typed still holds."
)

Said = Callable[[str], tuple[Target, ...] | None]
"""What a placement file says of a label."""


def take_labels(source: Source, sheet: SourceSheet, found: SheetFound, into: Gathered, said: Said) -> None:
    """Take the answers of a sheet of labels."""
    key = found.key or Job.key
    definition = into.template.by_key[key]
    values: dict[str, str] = {}
    left: list[tuple[str, str]] = []
    used: set[tuple[int, int]] = set()
    for label in found.headings:
        value_at = label.value_at or (label.row, label.column + 1)
        used |= {(label.row, label.column), value_at}
        text = sheet.grid.texts.get(value_at, "")
        field = label.field if label.field is not None and not definition.by_field[label.field].live else None
        corrected = said(label.text)
        if corrected is not None:
            field = next((target.field for target in corrected if target.key == key), None)
        if field is not None and field in values:
            field = None
        if field is not None:
            values[field] = text
        elif text.strip() and not (label.row == 1 and spelling(label.text) in _HEADED):
            left.append((label.text, text))
        else:
            continue
        targets = (Target(key, field),) if field is not None else ()
        why = "a label of the job" if targets else "kept: the job has no such label"
        sure = 1.0 if label.exact or corrected is not None else 0.6
        into.placement.append(
            Placed(sheet.file, sheet.grid.name, "labels", label.text, (text,) if text.strip() else (), targets, why, key, sure, sure < 1,
                   sheet.label)
        )  # fmt: skip
    _answer(source, into, values, left)
    for (row, column), text in sorted(sheet.grid.texts.items()):
        if (row, column) in used or (source.survey and (row, column) in sheet.computed):
            continue
        if not (row == 1 and spelling(text) in _HEADED) and text.strip() not in source.printed:
            into.outside.append(OutsideCell(sheet.label, row, column, text))


def _answer(source: Source, into: Gathered, values: dict[str, str], left: list[tuple[str, str]]) -> None:
    definition = into.template.by_key[Job.key]
    date = values.get(Job.inspection_date.name, "").strip()
    into.earlier = date if source.survey else ""
    for field, text in values.items():
        column = definition.by_field[field]
        if into.earlier and column.each_visit:
            if text.strip():
                left.append((f"{column.heading} of the survey of {into.earlier}", text))
        elif text.strip():
            into.job[field] = text
    into.extra_job += left
    if into.earlier:
        into.remarks.append(_ASKED_ANEW.format(into.earlier, ", ".join(_asked_anew(into))))


def _asked_anew(into: Gathered) -> list[str]:
    sheets = [s for s in into.template.sheets if not all(c.each_visit for c in s.typed)]
    return [f"{c.heading} ({s.name})" for s in sheets for c in s.typed if c.each_visit]


def take_labels_above(sheet: SourceSheet, row: int, into: Gathered) -> Collection[tuple[int, int]]:
    """Take the job details above a row, and return the cells that say them."""
    used: set[tuple[int, int]] = set()
    definition = into.template.by_key[Job.key]
    for label in labels_above(sheet.grid, row, definition):
        if label.field not in into.job:
            into.job[label.field] = label.text
            heading = definition.by_field[label.field].heading
            target = Target(Job.key, label.field)
            into.placement.append(
                Placed(sheet.file, sheet.grid.name, "above", heading, (label.text,), (target,), "a label above the table", Job.key,
                       label=sheet.label)
            )  # fmt: skip
            used |= set(label.cells)
    return used

"""The label sheet: one answer beside each label, wherever the labels went.

    read_labels(sheet, found, definition, template)   LabelsRead: the one row, and what stands around it

Not here: how labels are recognised (headings).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from workbook_tools.definitions import Sheet as Definition
from workbook_tools.definitions import Template, spelling
from workbook_tools.spreadsheet import Sheet, cell_name
from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.headings import SheetFound
from workbook_tools.survey.own_texts import OwnTexts
from workbook_tools.survey.rows import Job
from workbook_tools.survey.tables import as_value
from workbook_tools.survey.values import ColumnReader

__all__ = ["LabelsRead", "read_labels"]


@dataclass(slots=True)
class LabelsRead:
    """The answers as one row; `titles` are headings and instructions, `stray` what stands beside."""

    row: Job
    titles: list[Value[Any]] = field(default_factory=list)
    stray: list[Value[Any]] = field(default_factory=list)


def read_labels(
    sheet: Sheet, found: SheetFound, definition: Definition, template: Template, own: OwnTexts
) -> LabelsRead:
    """Read the answer beside each label of a label sheet."""
    name = sheet.name
    sheet.restore_quiet()
    out = LabelsRead(Job(definition, name, found.headings[0].row if found.headings else 1))
    used = {(heading.row, heading.column) for heading in found.headings}
    for heading in found.headings:
        if heading.value_at is None:
            continue
        cell = sheet.cells.get(heading.value_at)
        place = cell_name(*heading.value_at)
        used.add(heading.value_at)
        column = definition.by_field.get(heading.field or "")
        if column is None:
            if cell is not None and cell.text.strip():
                label = heading.text if heading.text not in out.row.extra else f"{heading.text} ({place})"
                out.row.extra[label] = as_value(cell, name, place)
        elif cell is None:
            out.row.values[column.field] = Value(Outcome.BLANK, sheet=name, cell=place, column=column)
        elif column.live:
            out.row.live[column.field] = as_value(cell, name, place, column)
        else:
            reader = ColumnReader(column, template, template.dimension_unit, ())
            out.row.values[column.field] = reader.read(cell, name, place)
    ours = own.in_labels(definition)
    for (number, column_number), cell in sheet.cells.items():
        if (number, column_number) in used or not cell.text.strip():
            continue
        title = spelling(cell.text) in ours or cell.formula is not None
        (out.titles if title else out.stray).append(as_value(cell, name, cell_name(number, column_number)))
    return out

"""Answers of the Job sheet, from KEY=VALUE pairs and from sheets of a source.

    job_answers(pairs, template)      pairs as answers by field; an unknown key raises Unusable
    labels_above(grid, row, sheet)    details written above a table ("Site: Harbour House")

A key is a heading of the Job sheet, its field name, or any spelling of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from workbook_tools.definitions import Sheet, Template, spelling
from workbook_tools.errors import Unusable
from workbook_tools.survey.headings import Grid, match_heading

__all__ = ["LabelAbove", "job_answers", "labels_above"]

_LONGEST = 80


def job_answers(pairs: Mapping[str, str], template: Template) -> dict[str, str]:
    """Return job details by field.

    Raises
    ------
    Unusable
        A key that the Job sheet does not have, with the nearest that it has; or two keys
        for the same answer.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> job_answers({"Site": "Harbour House", "report_no": "HH-1"}, load_template("office"))
    {'property': 'Harbour House', 'report_no': 'HH-1'}
    """
    sheet = template.by_key["job"]
    answers: dict[str, str] = {}
    for key, value in pairs.items():
        field = _field_of(key, sheet)
        if field is None:
            near = _nearest(key, sheet)
            asked = f"It asks for {', '.join(column.heading for column in sheet.typed)}."
            raise Unusable(
                f"There is no {key.strip()!r} on the sheet {sheet.name}. {f'Did you mean {near}?' if near else asked}"
            )
        if field in answers:
            raise Unusable(
                f"{sheet.by_field[field].heading} is given twice ({key.strip()!r} means it too): give it once."
            )
        answers[field] = value.strip()
    return answers


def _field_of(key: str, sheet: Sheet) -> str | None:
    for column in sheet.typed:
        if spelling(key) == spelling(column.field):
            return column.field
    match = match_heading(key.strip().rstrip(":"), sheet)
    return match.column.field if match is not None and not match.column.live else None


def _nearest(key: str, sheet: Sheet) -> str:
    from difflib import get_close_matches

    said = {spelling(s): c.heading for c in sheet.typed for s in (*c.also_called, c.field, c.heading)}
    near = get_close_matches(spelling(key), list(said), n=1, cutoff=0.6)
    return said[near[0]] if near else ""


class LabelAbove(NamedTuple):
    """A job detail above a table: the field, its text, and the cells that said it."""

    field: str
    text: str
    cells: tuple[tuple[int, int], ...]


def labels_above(grid: Grid, row: int, sheet: Sheet) -> list[LabelAbove]:
    """Return what stands above a row as "label: value", or as a label with its value beside it.

    Only the exact words of a label count: a title is no answer. In the row right above the
    headings, which may hold headings too, only a label with a colon counts.
    """
    found: list[LabelAbove] = []
    fields: set[str] = set()
    used: set[tuple[int, int]] = set()
    for (at, column), text in sorted(grid.texts.items()):
        label, colon, rest = text.partition(":")
        if at >= row or (at, column) in used or len(label) > _LONGEST or (at == row - 1 and not colon):
            continue
        field = _field_of(label, sheet)
        if field is None or field in fields:
            continue
        if rest.strip():
            found.append(LabelAbove(field, rest.strip(), ((at, column),)))
        else:
            beside = next(
                (c for c in range(column + 1, column + 5) if grid.texts.get((at, c), "").strip()), None
            )
            if beside is None or _field_of(grid.texts[at, beside].partition(":")[0], sheet) is not None:
                continue
            found.append(LabelAbove(field, grid.texts[at, beside].strip(), ((at, column), (at, beside))))
        fields.add(field)
        used.update(found[-1].cells)
    return found

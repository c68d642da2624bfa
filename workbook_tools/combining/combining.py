"""Parts of one survey become a Whole.

combine_parts(parts)   from Surveys that were read, in the order in which they are given
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from workbook_tools.combining.identity import part_names, refuse_another_survey
from workbook_tools.combining.model import Difference, Whole
from workbook_tools.combining.rows import Table, Texts
from workbook_tools.definitions import spelling
from workbook_tools.errors import Unusable
from workbook_tools.filling import ExtraSheet
from workbook_tools.filling.survey_rows import with_unit
from workbook_tools.survey import Job, Row, Survey, Value
from workbook_tools.survey.own_texts import COMBINED, COMBINED_COLUMNS, COMBINED_SAYS, WRITTEN_BY

__all__ = ["combine_parts"]

NOTES = "Notes on cells"
"""The own column that keeps what somebody wrote over a cell."""

ELSEWHERE = "Written elsewhere"
"""The sheet that keeps what stands in no table of a part."""


def combine_parts(parts: Sequence[Survey]) -> Whole:
    """Put the parts of a survey together.

    Parameters
    ----------
    parts : sequence of Survey
        Two or more, as read.

    Raises
    ------
    Unusable
        Fewer than two, or not all of one survey.
    """
    if len(parts) < 2:
        raise Unusable("There is nothing to combine: name two or more parts of one survey.")
    refuse_another_survey(parts)
    names = part_names(parts)
    template = parts[0].template
    tables = {sheet.key: Table(sheet, template) for sheet in template.sheets if sheet.layout == "table"}
    extra: dict[str, list[str]] = {}
    job: Texts = {}
    extra_job: list[tuple[str, str]] = []
    differences: list[Difference] = []
    elsewhere: list[tuple[str, ...]] = []
    for part, name in zip(parts, names, strict=True):
        unit = _unit_to_add(part, parts[0])
        for key, table in tables.items():
            rows = [_texts(row, unit, extra.setdefault(key, [])) for row in part.tables.get(key, ())]
            table.add(name, rows)
        differences += _job(part, name, names[0], job, extra_job)
        elsewhere += [(name, value.sheet, value.cell, value.typed) for value in _elsewhere(part)]
    said = {key: table.rows(WRITTEN_BY) for key, table in tables.items() if table.entries}
    columns = {key: [*dict.fromkeys(extra.get(key, ())), WRITTEN_BY] for key in said}
    differences += [difference for table in tables.values() for difference in table.differences]
    sheets = [_sheet_of(differences)]
    if elsewhere:
        sheets.append(ExtraSheet(ELSEWHERE, "", (("Part", "Sheet", "Cell", "Text"), *elsewhere)))
    number = next((part.number for part in parts if part.number), "")
    lines = tuple(_lines(parts, names, tables, differences, len(elsewhere)))
    return Whole(said, job, columns, extra_job, sheets, number, tuple(differences), lines)


def _texts(row: Row, unit: str, extra: list[str]) -> Texts:
    """Return what was typed into a row, its own columns and the notes over its cells under their headings."""
    said = {
        name: with_unit(value.typed, unit) if unit and value.column.holds == "length" else value.typed
        for name, value in row.values.items()
        if value.typed.strip()
    }
    for heading, value in row.extra.items():
        if value.typed.strip() and heading not in (WRITTEN_BY, NOTES):
            said[heading] = value.typed
            extra.append(heading)
    notes = [f"{value.heading}: {value.typed}" for value in row.comments if value.typed.strip()]
    notes += [value.typed for heading, value in row.extra.items() if heading == NOTES and value.typed.strip()]
    if notes:
        said[NOTES] = "; ".join(notes)
        extra.append(NOTES)
    return said


def _unit_to_add(part: Survey, first: Survey) -> str:
    """Return the unit of a part's bare lengths where the whole would read them in another."""
    one, other = (
        survey.job.dimension_unit.value or survey.template.dimension_unit for survey in (part, first)
    )
    return one if one != other else ""


def _job(
    part: Survey, name: str, first: str, job: Texts, extra_job: list[tuple[str, str]]
) -> Iterator[Difference]:
    """Lay the job answers of a part over those before it; yield what differs."""
    for field_name, value in part.job.values.items():
        text = value.typed.strip()
        if not text:
            continue
        before = job.setdefault(field_name, text)
        if spelling(before) == spelling(text):
            continue
        if field_name == Job.inspector.name:
            job[field_name] = f"{before}, {text}"
            continue
        extra_job.append((f"{value.heading} in the part of {name}", text))
        yield Difference(
            part.job.definition.name, "", value.heading, first, before, name, text, "kept beside it"
        )
    extra_job += [
        (heading, value.typed)
        for heading, value in part.job.extra.items()
        if value.typed.strip() and (heading, value.typed) not in extra_job
    ]
    extra_job += [
        (f"Note on {value.heading} in the part of {name}", value.typed) for value in part.job.comments
    ]


def _elsewhere(part: Survey) -> Iterator[Value[Any]]:
    yield from part.typed_elsewhere()
    yield from (value for value in part.damage if value.typed.strip())


def _sheet_of(differences: Sequence[Difference]) -> ExtraSheet:
    rows = [COMBINED_COLUMNS]
    rows += [
        (d.sheet, d.subject, d.heading, d.first, d.one, d.other, d.another, d.follows) for d in differences
    ]
    return ExtraSheet(COMBINED, "", tuple(rows), COMBINED_SAYS)


def _lines(
    parts: Sequence[Survey],
    names: Sequence[str],
    tables: dict[str, Table],
    differences: Sequence[Difference],
    elsewhere: int,
) -> Iterator[str]:
    """Yield what a person is to know about it."""
    for part, name in zip(parts, names, strict=True):
        rows = sum(name in entry.parts for table in tables.values() for entry in table.entries)
        yield f"{part.path.name}: {rows} rows, as the part of {name}."
    asked = [difference for difference in differences if difference.follows == "asked about"]
    if asked:
        differ = "One answer differs" if len(asked) == 1 else f"{len(asked)} answers differ"
        yield f"{differ} between the parts. Both rows stand in the whole, and the check asks about them:"
        for one in asked[:_MOST_TOLD]:
            yield f"  - {one.sheet}, {one.subject or 'a row without a name'}, {one.heading}: {one.one!r} ({one.first}) and {one.another!r} ({one.other})."
        if len(asked) > _MOST_TOLD:
            yield f"  - and {len(asked) - _MOST_TOLD} more: the sheet {COMBINED} has them all."
    for one in differences:
        if one.follows == "kept beside it":
            yield f"{one.heading}: {one.one!r} ({one.first}) was taken, and {one.another!r} ({one.other}) stands beside it on the sheet {one.sheet}."
    if elsewhere:
        yield f"What stands in no table ({elsewhere} texts) is kept on the sheet {ELSEWHERE}."
    pictures = [part.path.name for part in parts if part.pictures]
    if pictures:
        yield f"Pictures that were pasted into {', '.join(pictures)} stay there: keep those files."


_MOST_TOLD = 8

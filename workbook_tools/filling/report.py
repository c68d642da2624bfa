"""The filling's report as lines for a person.

report_lines(report, template, ...)    what came from where, what was taken for what, what was kept
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from workbook_tools.definitions import Template
from workbook_tools.filling.model import FillReport, TakenHeading

__all__ = ["report_lines"]


def report_lines(
    report: FillReport,
    template: Template,
    answers: int,
    remarks: Sequence[str],
    outside: int,
    outside_sheet: str,
) -> tuple[str, ...]:
    """Return the report line by line, in the words on the sheets.

    Parameters
    ----------
    report : FillReport
        Its lists and counts; its `lines` are not looked at.
    template : Template
        Of the workbook being made.
    answers : int
        How many job details there are.
    remarks : sequence of str
        Sentences gathered while reading.
    outside : int
        How many cells belong to no row, kept on `outside_sheet`.
    """
    counted = [f"{template.by_key[key].name} {_count(n, 'row')}" for key, n in report.rows.items()]
    if answers:
        counted.append(f"{template.by_key['job'].name} {_count(answers, 'answer')}")
    lines = [
        f"Filled from {report.source}: {', '.join(counted)}."
        if counted
        else f"Nothing of {report.source} fits a sheet."
    ]
    for (source, key), headings in _grouped(report.taken).items():
        sheet = template.by_key[key]
        renamed = [
            f"{h.heading} = {sheet.by_field[h.field].heading}"
            for h in headings
            if h.field and _differs(h, template)
        ]
        near = [
            f"{h.heading} = {sheet.by_field[h.field].heading}" for h in headings if h.field and not h.exact
        ]
        if renamed:
            lines.append(f"{source} to {sheet.name}: {'; '.join(renamed)}.")
        if near:
            lines.append(
                f"{source} to {sheet.name}, taken although only near (please look): {'; '.join(near)}."
            )
    for (source, key), headings in _grouped(report.kept).items():
        sheet = template.by_key[key]
        as_what = "extra labels" if sheet.layout == "labels" else "extra columns"
        named = ", ".join(h.heading for h in headings)
        lines.append(f"{source}: no place on {sheet.name} for {named}; kept there as {as_what}.")
    others = [name for name in report.extra_sheets if name != outside_sheet]
    if others:
        lines.append(f"Kept whole, each on a sheet of its own: {', '.join(others)}.")
    if outside:
        lines.append(
            f"{_count(outside, 'cell')} outside the rows (titles, totals, notes): kept on the sheet {outside_sheet}."
        )
    return (*lines, *remarks)


def _differs(heading: TakenHeading, template: Template) -> bool:
    own = template.by_key[heading.key].by_field[heading.field or ""].heading
    return heading.exact and heading.heading.casefold() != own.casefold()


def _grouped(headings: Iterable[TakenHeading]) -> dict[tuple[str, str], list[TakenHeading]]:
    groups: dict[tuple[str, str], list[TakenHeading]] = {}
    for heading in headings:
        groups.setdefault((heading.source, heading.key), []).append(heading)
    return groups


def _count(n: int, what: str) -> str:
    return f"{n} {what}" if n == 1 else f"{n} {what}s"

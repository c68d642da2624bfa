"""The filling's report as lines for a person.

is_own(placed, template)               whether a column had the survey's own heading
report_lines(report, template, ...)    what came from where, what was taken for what, what was kept

What looks wrong comes first: headings that are only near, and columns that their cells forbade. Headings that are
the survey's own need no line.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from workbook_tools.definitions import Template, spelling
from workbook_tools.filling.model import FillReport, Placed
from workbook_tools.filling.placement_file import in_words

__all__ = ["is_own", "report_lines"]

_WIDEST = 34
_MOST_LINES = 40


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
    lines += _table(report.placement, template)
    others = [name for name in report.extra_sheets if name != outside_sheet]
    if others:
        lines.append(f"Kept whole, each on a sheet of its own: {', '.join(others)}.")
    if outside:
        lines.append(
            f"{_count(outside, 'cell')} outside the rows (titles, totals, notes): kept on the sheet {outside_sheet}."
        )
    return (*lines, *remarks)


def _table(placement: Iterable[Placed], template: Template) -> Iterator[str]:
    """Yield a short table of what was taken for what, the doubtful first, and a line of what was kept."""
    listed = [p for p in placement if p.key]
    several = len({(p.file, p.label) for p in listed}) > 1
    doubtful = [p for p in listed if p.doubt]
    renamed = [p for p in listed if p.targets and not p.doubt and not is_own(p, template)]
    if doubtful:
        yield "Please look:"
        yield from _rows(doubtful, template, several)
    if renamed:
        yield "Taken:"
        yield from _rows(renamed, template, several)
    for (source, key), headings in _grouped(p for p in listed if not p.targets and not p.doubt).items():
        sheet = template.by_key[key]
        as_what = "extra labels" if sheet.layout == "labels" else "extra columns"
        yield f"{source}: no place on {sheet.name} for {', '.join(headings)}; kept there as {as_what}."


def _rows(placed: Sequence[Placed], template: Template, several: bool) -> Iterator[str]:
    shown = placed[:_MOST_LINES]
    width = min(_WIDEST, max(len(p.heading) for p in shown))
    for one in shown:
        goes = _goes(one, template) if one.targets else "extra column"
        why = f"  ({one.why})" if one.doubt else ""
        yield f"  {one.heading[:_WIDEST].ljust(width)}  -> {goes}{f'  [{_where(one)}]' if several else ''}{why}"
    if len(placed) > len(shown):
        yield f"  and {len(placed) - len(shown)} more, on the sheet How this was filled"


def _where(placed: Placed) -> str:
    return placed.label if placed.label.startswith(placed.file) else f"{placed.file}, {placed.label}"


def _goes(placed: Placed, template: Template) -> str:
    """Return "Equipment: Rating (A), Voltage; Transformers: kVA"."""
    by_sheet: dict[str, list[str]] = {}
    for target in placed.targets:
        sheet, column = in_words([target], template)
        by_sheet.setdefault(sheet, []).append(column)
    return "; ".join(f"{sheet}: {', '.join(columns)}" for sheet, columns in by_sheet.items())


def is_own(placed: Placed, template: Template) -> bool:
    """Whether the heading is the survey's own word for the one place where it goes."""
    own = {
        spelling(template.by_key[t.key].by_field[t.field].heading)
        for t in placed.targets
        if t.field in template.by_key[t.key].by_field
    }
    return own == {spelling(placed.heading)}


def _grouped(placed: Iterable[Placed]) -> dict[tuple[str, str], list[str]]:
    groups: dict[tuple[str, str], list[str]] = {}
    for one in placed:
        groups.setdefault((_where(one), one.key), []).append(one.heading)
    return groups


def _count(n: int, what: str) -> str:
    return f"{n} {what}" if n == 1 else f"{n} {what}s"

"""Make a survey workbook, blank or prefilled.

    new(output, template=..., fill=...)        write it
    placement(output, fill, template=...)      write only where each column of lists would go, to be corrected
    NewWorkbook                                what was written, and what the filling says

Not here: what stands in the workbook (survey_workbook), how lists are read (filling).
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from workbook_tools.commands.targets import workbook_to_write
from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.filling import Filling, FillReport
    from workbook_tools.filling.sources import Source

__all__ = ["ORDINARY_ROWS", "Fill", "NewWorkbook", "new", "placement"]

Fill = str | os.PathLike[str]

MOST_ROWS = 5000
ORDINARY_ROWS = 80
"""Rows that are prepared on every sheet where nothing else is asked for: those of an ordinary building."""


class NewWorkbook(NamedTuple):
    """A survey workbook that was written; `filled` is the filling's report, None where nothing was filled in."""

    path: Path
    template: str
    filled: FillReport | None = None


def new(
    output: str | os.PathLike[str],
    *,
    template: str | Path | Template | None = None,
    fill: Fill | Sequence[Fill] | None = None,
    placement: Fill | None = None,
    job: Mapping[str, str] | None = None,
    rows: int = ORDINARY_ROWS,
    number: str = "",
    force: bool = False,
) -> NewWorkbook:
    """Write a survey workbook.

    Parameters
    ----------
    output : str or path
        The .xlsx file to write.
    template : str, Path or Template, optional
        A stock template by name, a firm's by its file, or a loaded one. Left out, the stock
        template that an earlier survey given as `fill` was made from, else "office".
    fill : str or path, or several, optional
        What to take rows from, each a folder of CSV files, a CSV, JSON, Markdown or text file, or another
        workbook. Several are combined, the first before the next.
    placement : str or path, optional
        A corrected placement file, which says where columns of the lists go.
    job : mapping, optional
        Answers for the Job sheet: field, heading or synonym to text.
    rows : int, optional
        Rows with live cells on every table, 1 to 5000. [-]
    number : str, optional
        What tells this survey from every other; drawn at random where left out. A workbook that
        is made anew for the same survey gets the number of the one before.
    force : bool, optional
        Replace a file that stands at `output`.

    Returns
    -------
    made : NewWorkbook
        Where it lies, from which template, and what the filling did.

    Raises
    ------
    Unusable
        No such template, a broken one, a source that cannot be read, a file that exists, or
        a place where nothing can be written. Nothing is left half-written.

    Examples
    --------
    >>> made = new(getfixture("tmp_path") / "survey.xlsx", template="retail", rows=20)
    >>> made.path.name, made.template
    ('survey.xlsx', 'retail')
    """
    from dataclasses import replace

    from workbook_tools.definitions import check_rule_names
    from workbook_tools.files import whole_file
    from workbook_tools.rules import catalogue
    from workbook_tools.survey.bounds import FILLED, refuse_more
    from workbook_tools.survey.origin import draw_number
    from workbook_tools.survey_workbook import write_survey_workbook

    if not 1 <= rows <= MOST_ROWS:
        raise Unusable(f"rows is {rows}; a table can have 1 to {MOST_ROWS} rows.")
    listed = _listed(fill)
    if placement is not None and not listed:
        raise Unusable("A placement file says where columns of lists go: name the lists with --fill.")
    path = workbook_to_write(output, "A survey workbook is", listed, "what the new workbook is filled from")
    with whole_file(path, force=force) as temporary:
        sources = _sources(listed)
        chosen, said = _chosen(template, sources)
        if chosen.rules:
            check_rule_names(chosen, catalogue())
        number = number or draw_number()
        if not sources:
            write_survey_workbook(temporary, chosen, job=_job_answers(job, chosen), rows=rows, number=number)
            return NewWorkbook(path, chosen.name)

        filling = _filled(sources, chosen, job, placement)
        name = ", ".join(os.path.basename(os.fspath(one)) for one in listed)
        refuse_more(FILLED, sum(map(len, filling.tables.values())), name)
        write_survey_workbook(
            temporary,
            chosen,
            filling.tables,
            filling.job,
            filling.extra_columns,
            rows=rows,
            extra_job=filling.extra_job,
            extra_sheets=[*filling.extra_sheets, *([filling.how_filled] if filling.how_filled else [])],
            number=number,
        )
        report = filling.report
        if said and report is not None:
            report = replace(report, lines=(said, *report.lines))
        return NewWorkbook(path, chosen.name, report)


def placement(
    output: Fill,
    fill: Fill | Sequence[Fill],
    *,
    template: str | Path | Template | None = None,
    force: bool = False,
) -> NewWorkbook:
    r"""Write where each column of lists would go as a CSV file, and nothing else.

    Change `goes_to_sheet` and `goes_to_column` in it (both blank: kept as an extra column) and give it to `new`.

    Raises
    ------
    Unusable
        A source cannot be read, or nothing can be written to `output`.

    Examples
    --------
    >>> folder = getfixture("tmp_path")
    >>> _ = (folder / "panels.csv").write_text("Panel,Amps,Colour\nLP-1,225,grey\n")
    >>> placement(folder / "placement.csv", folder / "panels.csv").path.read_text().splitlines()[1]
    '"panels.csv","panels","1","Panel","LP-1","Equipment","Tag","means \'panel\'"'
    """
    from workbook_tools.filling.placement_file import write_placement

    listed = _listed(fill)
    if not listed:
        raise Unusable("There is no list to place: name one or more with --fill.")
    sources = _sources(listed)
    chosen, _ = _chosen(template, sources)
    report = _filled(sources, chosen, None, None).report
    written = write_placement(output, report.placement if report is not None else (), chosen, force=force)
    return NewWorkbook(written, chosen.name, report)


def _listed(fill: Fill | Sequence[Fill] | None) -> list[Fill]:
    if fill is None:
        return []
    return [fill] if isinstance(fill, str | os.PathLike) else list(fill)


def _sources(listed: Sequence[Fill]) -> list[Source]:
    from workbook_tools.filling.sources import read_source

    return [read_source(one) for one in listed]


def _chosen(template: str | Path | Template | None, sources: Sequence[Source]) -> tuple[Template, str]:
    """Return the template to use, and a sentence about it where it was taken from a source."""
    from workbook_tools.definitions import Template, load_template

    if isinstance(template, Template):
        return template, ""
    said = ""
    if template is None:
        template, said = next((_template_of(s) for s in sources if s.template), ("office", ""))
    return load_template(template), said


def _filled(
    sources: Sequence[Source], template: Template, job: Mapping[str, str] | None, placement: Fill | None
) -> Filling:
    from workbook_tools.filling import read_fill
    from workbook_tools.filling.placement_file import read_placement

    corrections = read_placement(placement, template) if placement is not None else None
    return read_fill(sources, template, job=job, placement=corrections)


def _template_of(source: Source) -> tuple[str, str]:
    """Return the template to use where none was named, and a sentence about it."""
    from workbook_tools.definitions.stock import stock_path

    if not source.template or source.template == "office":
        return "office", ""
    if stock_path(source.template) is not None:
        return source.template, (
            f"{source.name} was made from the template {source.template}, so this one is too; "
            "name another with --template."
        )
    return "office", (
        f"{source.name} was made from the template {source.template!r}, which is no stock template, so the template "
        "office was taken; name the template's file with --template."
    )


def _job_answers(job: Mapping[str, str] | None, template: Template) -> dict[str, str]:
    if not job:
        return {}
    from workbook_tools.filling import job_answers

    return dict(job_answers(job, template))

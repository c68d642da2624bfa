"""Make a survey workbook, blank or prefilled.

    new(output, template=..., fill=...)   write it
    NewWorkbook                           what was written, and what the filling says

Not here: what stands in the workbook (survey_workbook), how lists are read (filling).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.filling import FillReport
    from workbook_tools.filling.sources import Source

__all__ = ["ORDINARY_ROWS", "NewWorkbook", "new"]

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
    fill: str | os.PathLike[str] | None = None,
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
    fill : str or path, optional
        A folder of CSV files, one CSV file, or another workbook to take rows from.
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
    from pathlib import Path

    from workbook_tools.definitions import Template, check_rule_names, load_template
    from workbook_tools.files import whole_file
    from workbook_tools.filling import read_fill
    from workbook_tools.filling.sources import read_source
    from workbook_tools.rules import catalogue
    from workbook_tools.survey.bounds import FILLED, refuse_more
    from workbook_tools.survey.origin import draw_number
    from workbook_tools.survey_workbook import write_survey_workbook

    path = Path(output)
    if path.suffix.casefold() != ".xlsx":
        raise Unusable(f"A survey workbook is written as .xlsx: name it {path.with_suffix('.xlsx').name}.")
    if not 1 <= rows <= MOST_ROWS:
        raise Unusable(f"rows is {rows}; a table can have 1 to {MOST_ROWS} rows.")
    if fill is not None and _is_same_file(path, Path(fill)):
        raise Unusable(f"{path} is what the new workbook is filled from: choose another name to write to.")
    with whole_file(path, force=force) as temporary:
        source, said = None, ""
        if fill is not None:
            source = read_source(fill)
            if template is None:
                template, said = _template_of(source)
        chosen = template if isinstance(template, Template) else load_template(template or "office")
        if chosen.rules:
            check_rule_names(chosen, catalogue())

        number = number or draw_number()
        if source is None:
            write_survey_workbook(temporary, chosen, job=_job_answers(job, chosen), rows=rows, number=number)
            return NewWorkbook(path, chosen.name)

        filling = read_fill(source, chosen, job=job)
        refuse_more(FILLED, sum(map(len, filling.tables.values())), os.path.basename(os.fspath(fill or "")))
        write_survey_workbook(
            temporary,
            chosen,
            filling.tables,
            filling.job,
            filling.extra_columns,
            rows=rows,
            extra_job=filling.extra_job,
            extra_sheets=filling.extra_sheets,
            number=number,
        )
        report = filling.report
        if said and report is not None:
            report = replace(report, lines=(said, *report.lines))
        return NewWorkbook(path, chosen.name, report)


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


def _is_same_file(path: Path, other: Path) -> bool:
    try:
        return path.samefile(other)
    except (OSError, ValueError):  # one of them is not there
        return False


def _job_answers(job: Mapping[str, str] | None, template: Template) -> dict[str, str]:
    if not job:
        return {}
    from workbook_tools.filling import job_answers

    return dict(job_answers(job, template))

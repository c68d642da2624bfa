"""Put the parts of one survey together into one survey workbook.

    combine(parts, output, ...)   a Combined: where it lies, and what is to be known

Not here: what counts as one row, and what differs (combining).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from workbook_tools.commands.new import ORDINARY_ROWS
from workbook_tools.commands.targets import workbook_to_write

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.combining import Difference
    from workbook_tools.definitions import Template

__all__ = ["Combined", "combine"]


class Combined(NamedTuple):
    """A survey workbook that was put together; `lines` say what a person is to know."""

    path: Path
    lines: tuple[str, ...]
    differences: tuple[Difference, ...]


def combine(
    parts: Sequence[str | os.PathLike[str]],
    output: str | os.PathLike[str],
    *,
    template: str | Path | Template | None = None,
    force: bool = False,
) -> Combined:
    """Put the parts of one survey together.

    Parameters
    ----------
    parts : sequence of path
        Two or more survey workbooks, copies of one that different inspectors filled in; they are only read.
    output : path
        The survey workbook to write.
    template : str, path or Template, optional
        The template they were made from; left out, the one that each file names.
    force : bool, optional
        Replace a file that stands at `output`.

    Raises
    ------
    Unusable
        Fewer than two parts, a part of another survey, a file that cannot be read, or a place where nothing can be
        written. Nothing is left half-written.
    """
    from workbook_tools.combining import combine_parts
    from workbook_tools.files import whole_file
    from workbook_tools.survey.bounds import FILLED, refuse_more
    from workbook_tools.survey.reading import read_survey
    from workbook_tools.survey_workbook import write_survey_workbook

    target = workbook_to_write(output, "A survey workbook is", parts, "one of the parts")
    surveys = [read_survey(part, template) for part in parts]
    whole = combine_parts(surveys)
    refuse_more(FILLED, sum(map(len, whole.tables.values())), target.name)
    with whole_file(target, force=force) as aside:
        write_survey_workbook(
            aside,
            surveys[0].template,
            whole.tables,
            whole.job,
            whole.extra_columns,
            rows=ORDINARY_ROWS,
            extra_job=whole.extra_job,
            extra_sheets=whole.extra_sheets,
            number=whole.number,
        )
    return Combined(target, tuple(whole.lines), tuple(whole.differences))

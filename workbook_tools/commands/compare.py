"""Compare a survey with the one before.

    compare(last, this, ...)   a Comparison; writes the workbook of changes where one is asked for

Not here: what counts as changed (comparison), how the workbook looks (schedule).
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from typing import TYPE_CHECKING

from workbook_tools.commands.targets import workbook_to_write

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.comparison import Comparison
    from workbook_tools.definitions import Template

__all__ = ["compare"]


def compare(
    last: str | os.PathLike[str],
    this: str | os.PathLike[str],
    *,
    output: str | os.PathLike[str] | None = None,
    template: str | Path | Template | None = None,
    same: Mapping[str, str] | None = None,
    force: bool = False,
) -> Comparison:
    """Hold two surveys of one building against each other, and write the workbook of changes where one is asked for.

    Parameters
    ----------
    last, this : path
        The earlier survey workbook and the later one; they are only read.
    output : path, optional
        The workbook to write.
    template : str, path or Template, optional
        The template they were made from; left out, the one that each file names.
    same : mapping of str to str, optional
        Tags of the earlier survey to what they are called in the later one.
    force : bool, optional
        Replace a file that stands at `output`.

    Returns
    -------
    comparison : Comparison

    Raises
    ------
    Unusable
        A file that cannot be used, a tag that is in neither list, or a place where nothing can be written.
    """
    from workbook_tools.checking import check_survey
    from workbook_tools.comparison import compare_checked, since_last
    from workbook_tools.delivery.proof import prove
    from workbook_tools.files import whole_file
    from workbook_tools.schedule import write_changes
    from workbook_tools.survey.reading import read_survey

    target = None
    if output is not None:
        target = workbook_to_write(
            output, "The changes are", (last, this), "one of the two surveys", called="the workbook"
        )
    before, now = check_survey(read_survey(last, template)), check_survey(read_survey(this, template))
    comparison = compare_checked(before, now, same)
    if target is not None:
        with whole_file(target, force=force) as aside:
            survey = now.survey
            prove(
                aside, write_changes(since_last(comparison), aside, survey.template.firm, comparison.building)
            )
    return comparison

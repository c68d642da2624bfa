"""Write the review workbook.

    write_review(checked, path, earlier)    the Review that was written

Four sheets: Summary, Problems, Closed, Sign-off; a fifth keeps texts that the reviewer wrote
elsewhere. Answers of the earlier review go to the
problems that still stand; a sign-off holds only for the state of the survey that was signed.
A file appears whole or not at all.

Not here: what is known again (model), how the file is read back (reading).
"""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import date
from pathlib import Path

from workbook_tools.checking import Checked
from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file
from workbook_tools.review.columns import STATEMENT
from workbook_tools.review.model import Review, SignOff, carried_over, template_as_said
from workbook_tools.review.sheets import write_sheets
from workbook_tools.survey.fingerprint import fingerprint

__all__ = ["refuse_another_ending", "write_review"]


def write_review(
    checked: Checked,
    path: str | os.PathLike[str],
    earlier: Review | None = None,
    *,
    today: date | None = None,
) -> Review:
    """Write the review workbook of a checked survey.

    Parameters
    ----------
    checked : Checked
        From `check_survey`.
    path : path
        An .xlsx file. One that stands there is replaced: read it first and give it as `earlier`.
    earlier : Review, optional
        The review before, whose answers are carried over.
    today : date, optional
        The day that closed and new problems get; today where left out.

    Returns
    -------
    review : Review
        What was written.

    Raises
    ------
    Unusable
        The file cannot be written there, or is no .xlsx.
    """
    target = Path(path)
    refuse_another_ending(target)
    day = (today or date.today()).isoformat()
    entries, closed = carried_over(checked.problems, earlier, day)
    said = list(earlier.said) if earlier is not None else []
    sign_off, lapsed = _sign_off(fingerprint(checked.survey), earlier)
    review = Review(
        target,
        entries,
        closed,
        sign_off,
        template_as_said(checked.survey.template),
        list(earlier.strays) if earlier is not None else [],
        said + lapsed,
    )
    with whole_file(target, force=True) as temporary:
        write_sheets(checked, review, temporary, _link_to(checked.survey.path, target))
    return review


def refuse_another_ending(target: Path) -> None:
    """Refuse to write a review under a name that is no workbook's.

    Raises
    ------
    Unusable
        A name that does not end in .xlsx.
    """
    if target.suffix.casefold() != ".xlsx":
        better = target.with_suffix(".xlsx").name if target.name else "review.xlsx"
        raise Unusable(
            f"{target.name}: the review is written as an .xlsx workbook; name another file to write, such as {better}."
        )


def _sign_off(mark: str, earlier: Review | None) -> tuple[SignOff, list[str]]:
    """Return the sign-off to write, and a sentence where an earlier one no longer holds."""
    if earlier is None or not earlier.sign_off.is_signed:
        statement = earlier.sign_off.statement if earlier is not None else ""
        return SignOff(statement=statement or STATEMENT, fingerprint=mark), []
    before = earlier.sign_off
    if before.fingerprint == mark:
        return replace(before, statement=before.statement or STATEMENT), []
    signed = f"{before.reviewer} signed on {before.date} for an earlier state of the survey: it is to be signed again."
    return SignOff(statement=before.statement or STATEMENT, fingerprint=mark), [signed]


def _link_to(survey: Path, review: Path) -> str:
    """Return the survey's file as the review links to it: relative to it where that is possible."""
    try:
        return Path(os.path.relpath(survey.resolve(), review.resolve().parent)).as_posix()
    except ValueError:  # another drive
        return survey.resolve().as_posix()

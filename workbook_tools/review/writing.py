"""Write the review workbook.

    write_review(checked, path, earlier, photos=...)    the Review that was written
    answers_of(review)                                  the answers, each under what it speaks of
    sealed_answers_of(review)                           the same, and who signed them

Sheets: Summary, Problems, Closed, Sign-off; one for texts that the reviewer wrote elsewhere, and a
hidden one with the seal. Answers of the earlier review go to the problems that still stand; a
sign-off holds only for what was signed. A file appears whole or not at all.

Not here: what is known again (carrying), how the file is read back (reading).
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

from workbook_tools.checking import Checked
from workbook_tools.definitions import spelling
from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file
from workbook_tools.photos.looked_at import LookedAt, look_at
from workbook_tools.review.carrying import carried_over
from workbook_tools.review.columns import SIGN_OFF_TITLE, STATEMENT
from workbook_tools.review.desk import desk
from workbook_tools.review.kept import Stray
from workbook_tools.review.model import Review, SignOff, template_as_said
from workbook_tools.review.problems_sheet import Desk
from workbook_tools.review.seal import Item, changes, seal_of
from workbook_tools.review.sheets import write_sheets
from workbook_tools.review.signature import in_one_form
from workbook_tools.review.which_survey import WhichSurvey, another_survey

__all__ = ["answers_of", "refuse_another_ending", "sealed_answers_of", "write_review"]

_MOST_TOLD = 12
_SIGNATURE = "the signature"


def write_review(
    checked: Checked,
    path: str | os.PathLike[str],
    earlier: Review | None = None,
    *,
    photos: LookedAt | None = None,
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
    photos : LookedAt, optional
        The photos of the survey, for the seal and beside the problems; looked at where left out.
    today : date, optional
        The day that closed and new problems get; today where left out.

    Returns
    -------
    review : Review
        What was written; `lapsed` says which signature no longer holds.

    Raises
    ------
    Unusable
        The file cannot be written there, or is no .xlsx, or the earlier review is of another survey.
    """
    target = Path(path)
    refuse_another_ending(target)
    if earlier is not None:
        another = another_survey(earlier.name, earlier.which, checked.survey)
        if another:
            raise Unusable(another)
    seen = photos if photos is not None else look_at(checked.survey, checked.assessment.photos)
    day = (today or date.today()).isoformat()
    made = day if today is not None else datetime.now().isoformat(sep=" ", timespec="milliseconds")
    entries, closed = carried_over(desk(checked), earlier, day)
    review = Review(
        target,
        entries,
        list(earlier.own) if earlier is not None else [],
        closed,
        SignOff(statement=STATEMENT),
        seal_of(checked, seen),
        WhichSurvey.of(checked.survey),
        made,
        template=template_as_said(checked.survey.template),
        strays=list(earlier.strays) if earlier is not None else [],
        said=list(earlier.said) if earlier is not None else [],
    )
    if earlier is not None:
        _sign_again(review, earlier, checked, today)
    with whole_file(target, force=True) as temporary:
        write_sheets(checked, review, temporary, Desk(_link_to(checked.survey.path, target), seen))
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
        if target.exists() and target.suffix.casefold() in (".ods", ".xlsm"):
            raise Unusable(
                f"{target.name}: the review is written as an .xlsx workbook; save this one as {better} in the program that "
                "it is open in, and name that: its answers are carried over."
            )
        raise Unusable(
            f"{target.name}: the review is written as an .xlsx workbook; name another file to write, such as {better}."
        )


def answers_of(review: Review) -> Iterator[Item]:
    """Yield everything that the reviewer said: answers, edits, own issues, each under what it speaks of."""
    for entry in review.entries:
        if any(entry.answer):
            p = entry.problem
            about = f"{p.rule} of {p.subject}" if p.subject else p.rule
            yield f"{about} ({p.field}: {p.read})", " | ".join(filter(None, entry.answer))
    for issue in review.own:
        yield f"your own issue {issue.subject}: {issue.message}", f"{issue.priority} {issue.action}".strip()


def sealed_answers_of(review: Review) -> Iterator[Item]:
    """Yield what a seal holds of a signed review: the answers, and who signed them when."""
    yield from answers_of(review)
    if review.sign_off.is_signed:
        yield _SIGNATURE, " ".join(f"{review.sign_off.reviewer}, {review.sign_off.date}".split())


def _sign_again(review: Review, earlier: Review, checked: Checked, today: date | None) -> None:
    """Keep an earlier signature where everything is as it was signed, with a seal on its answers too."""
    before = earlier.sign_off
    if spelling(before.statement) not in ("", spelling(STATEMENT)):
        review.strays.append(Stray(SIGN_OFF_TITLE, "", before.statement))
    if not before.is_signed:
        return
    inspected, now_day = checked.survey.job.inspection_date.value, today or date.today()
    before = replace(before, date=in_one_form(before.date, inspected, now_day))
    now = review.seal.with_answers(sealed_answers_of(replace(earlier, sign_off=before)))
    changed = changes(earlier.seal, now, checked.survey)
    if spelling(before.statement) != spelling(STATEMENT):
        changed.append("The statement that was signed is another; the earlier text stands on Carried over.")
    if changed:
        more = f" And {len(changed) - _MOST_TOLD} more." if len(changed) > _MOST_TOLD else ""
        review.lapsed.append(
            f"{before.reviewer} signed on {before.date}, and that no longer holds: it is to be signed again. "
            f"{' '.join(changed[:_MOST_TOLD])}{more}"
        )
    else:
        review.sign_off, review.made, review.seal = replace(before, statement=STATEMENT), earlier.made, now


def _link_to(survey: Path, review: Path) -> str:
    """Return the survey's file as the review links to it: relative to it where that is possible."""
    try:
        return Path(os.path.relpath(survey.resolve(), review.resolve().parent)).as_posix()
    except ValueError:  # another drive
        return survey.resolve().as_posix()

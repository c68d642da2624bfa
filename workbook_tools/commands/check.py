"""Check a filled-in survey, and write its review workbook where one is asked for.

    check(path, ...)    a Checked: the problems with their cells, and what could not be looked at

Not here: the rules (rules), how the result reads (checking).
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.checking import Checked
    from workbook_tools.definitions import Template
    from workbook_tools.review import Review
    from workbook_tools.survey import Survey

__all__ = ["check"]


def check(
    path: str | os.PathLike[str],
    *,
    template: str | Path | Template | None = None,
    photos: str | os.PathLike[str] | None = None,
    output: str | os.PathLike[str] | None = None,
    earlier: str | os.PathLike[str] | None = None,
) -> Checked:
    """Read a survey, check it, and write the review workbook where one is asked for.

    Parameters
    ----------
    path : path
        The filled-in survey workbook; it is only read.
    template : str, path or Template, optional
        The template it was made from; left out, the one that the file names.
    photos : path, optional
        The photo folder.
    output : path, optional
        The review workbook to write. One that stands there already is the earlier review:
        its answers are carried over. A file that is not the review of this survey is refused.
    earlier : path, optional
        Another review workbook of this survey to carry answers over from.

    Returns
    -------
    checked : Checked

    Raises
    ------
    Unusable
        A file that cannot be used, in one sentence. Nothing is written then.
    """
    from pathlib import Path

    from workbook_tools.checking import check_survey
    from workbook_tools.photos.folder import list_photos, no_pictures
    from workbook_tools.survey.bounds import REVIEWED, refuse_more_than
    from workbook_tools.survey.reading import read_survey

    survey = read_survey(path, template)
    folder = None
    unreadable: list[str] = []
    if photos is not None:
        folder = list_photos(photos)
        unreadable = no_pictures(folder)
    if output is None:
        checked = check_survey(survey, folder)
        checked.said += unreadable
        return checked
    from workbook_tools.review import read_review, refuse_another_ending, write_review

    refuse_more_than(REVIEWED, survey)
    target = Path(output)
    refuse_another_ending(target)
    if target.exists() and target.resolve() == Path(path).resolve():
        raise Unusable(f"{target.name} is the survey itself: give the review workbook another name.")
    before = None
    if earlier is not None:
        before = read_review(earlier)
        if target.exists() and target.resolve() != Path(earlier).resolve():
            _refuse_another(_standing_there(target), survey)
    elif target.exists():
        before = _standing_there(target)
    if before is not None:
        _refuse_another(before, survey)
        if folder is None:
            _refuse_to_lose_a_signature(before)
    checked = check_survey(survey, folder)
    checked.said += unreadable
    written = write_review(checked, target, before)
    checked.said += written.lapsed
    checked.signed = written.sign_off.is_signed
    if checked.signed:
        signed = written.sign_off
        checked.said.append(
            f"The signature of {signed.reviewer} ({signed.date}) holds: nothing has changed. From now on it covers the "
            "answers as they stand."
        )
    return checked


def _refuse_to_lose_a_signature(before: Review) -> None:
    """Refuse to check without photos what was signed with them: the signature would not hold."""
    from workbook_tools.photos.looked_at import NO_FOLDER, PASTED
    from workbook_tools.review.seal import PHOTOS

    contents = before.seal.parts.get(PHOTOS, ())
    if before.sign_off.is_signed and any(
        not name.startswith(PASTED) and content != NO_FOLDER for name, content in contents
    ):
        raise Unusable(
            f"{before.name} is signed, and the signature covers photos: name their folder with --photos. To check without "
            "them, clear name and date on its sheet Sign-off first."
        )


def _refuse_another(standing: Review, survey: Survey) -> None:
    from workbook_tools.review import another_survey

    another = another_survey(standing.name, standing.which, survey)
    if another:
        raise Unusable(another)


def _standing_there(target: Path) -> Review:
    """Return the review that the new one takes the place of."""
    from workbook_tools.review import read_review

    try:
        return read_review(target)
    except Unusable:
        raise Unusable(
            f"{target.name} stands there already and is no review workbook, so nothing was written over it: "
            "choose another name to write the review to."
        ) from None

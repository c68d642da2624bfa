"""Write the client's folder from a reviewed survey.

    deliver(path, output=..., ...)   check, pass the gate, write everything, prove it, put it in place

Not here: what a delivery holds (delivery), what the schedule says (schedule).
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from workbook_tools.checking import Checked
    from workbook_tools.definitions import Template
    from workbook_tools.delivery import Delivered
    from workbook_tools.review import Review, Seal
    from workbook_tools.survey import Survey

__all__ = ["deliver"]


def deliver(
    path: str | os.PathLike[str],
    *,
    output: str | os.PathLike[str],
    template: str | Path | Template | None = None,
    review: str | os.PathLike[str] | Sequence[str | os.PathLike[str]] | None = None,
    photos: str | os.PathLike[str] | None = None,
    without_photos: bool = False,
    draft: bool = False,
    force: bool = False,
    today: date | None = None,
    since: str | os.PathLike[str] | None = None,
    handover: bool = False,
) -> Delivered:
    """Write the client's folder from a reviewed survey.

    Parameters
    ----------
    path : path
        The filled-in survey workbook; it is only read.
    output : path
        The folder to make. It appears whole or not at all.
    template : str, path or Template, optional
        The template the survey was made from; left out, the one that the file names.
    review : path, or several, optional
        The signed review workbook. Several are taken as one where they agree. Only a draft does without.
    photos : path, optional
        The photo folder.
    without_photos : bool, optional
        Deliver without the photos that the survey names.
    draft : bool, optional
        Deliver although something is open; every page is marked DRAFT and says what.
    force : bool, optional
        Replace the files of an earlier delivery that its list names and nobody has changed; whatever else
        lies in the folder stays, or stops it where it is in the way.
    today : date, optional
        The day of the delivery, after which no sign-off can be dated; today where left out.
    since : path, optional
        The survey before: the schedule says what has changed since.
    handover : bool, optional
        Add a workbook of COBie sheets, from which facility systems take the equipment and the rooms.

    Returns
    -------
    delivered : Delivered

    Raises
    ------
    Unusable
        A review is of another survey; or something is open (all of it is listed, one line each); or
        what was signed has changed since; or a file cannot be read or written, or the written workbook
        is not what was meant. Nothing is put in place then.
    """
    import datetime
    from pathlib import Path

    from workbook_tools.checking import check_survey
    from workbook_tools.delivery import Order, judge, not_ready, put_in_place
    from workbook_tools.photos.folder import list_photos
    from workbook_tools.photos.looked_at import look_at
    from workbook_tools.review import another_survey, combined, desk, read_review, seal_of, signed_day
    from workbook_tools.survey.bounds import DELIVERED, refuse_more_than
    from workbook_tools.survey.reading import read_survey

    if photos is not None and without_photos:
        raise Unusable("A photo folder is named and --without-photos is said: leave one of them out.")
    target = _named(output)
    given = [] if review is None else [review] if isinstance(review, str | os.PathLike) else list(review)
    _refuse_a_place_in_use(target, photos, path, since, *given)
    survey = read_survey(path, template)
    last = check_survey(read_survey(since, template)) if since is not None else None
    refuse_more_than(DELIVERED, survey)
    reviews = [read_review(one) for one in given]
    for one in reviews:
        another = another_survey(one.name, one.which, survey)
        if another:
            raise Unusable(another)
    listed = list_photos(photos) if photos is not None else None
    checked = check_survey(survey, listed)
    found = desk(checked)
    seen = look_at(survey, listed)
    day = today or datetime.date.today()
    whole, disagreeing = combined(reviews) if reviews else (None, [])
    unsigned = _open_of_reviews(checked, reviews, seal_of(checked, seen), target, day)
    judgment = judge(found, whole)
    still_open = [*unsigned, *disagreeing, *judgment.open]
    if listed is None and not without_photos and seen.contents:
        still_open.append(_ask_for_photos(survey))
    still_open = list(filter(None, still_open))
    if still_open and not draft:
        raise not_ready(Path(path), still_open)
    inspected = survey.job.inspection_date.value
    signed = [] if unsigned else [one.sign_off for one in reviews]
    order = Order(
        target=target,
        checked=checked,
        judgment=judgment,
        reviews=reviews,
        review=whole,
        signed=[(one.reviewer, signed_day(one.date, inspected, day).isoformat()) for one in signed],
        photos=seen,
        photo_folder=listed,
        still_open=still_open,
        draft=draft,
        force=force,
        last=last,
        handover=handover,
    )
    return put_in_place(order)


def _open_of_reviews(
    checked: Checked, reviews: Sequence[Review], seal: Seal, target: Path, today: date
) -> list[str]:
    """Return what is open about the reviews: none, changed since, not signed, not of what was found."""
    from workbook_tools.delivery import NO_REVIEW, delivered_otherwise, open_of_review, unmatched
    from workbook_tools.review import desk, signed_day
    from workbook_tools.rules import catalogue

    if not reviews:
        return [NO_REVIEW]
    with_photos = checked.assessment.photos is not None
    quiet = [] if with_photos else [slug for slug, rule in catalogue().items() if "Photos" in rule.subject]
    inspected = checked.survey.job.inspection_date.value
    said = []
    for review in reviews:
        of_this = open_of_review(checked.survey, review, seal, today=today, with_photos=with_photos)
        if not of_this:
            of_this = unmatched(desk(checked), review, quiet)
        if not of_this:
            folders = [target.parent, *([review.path.parent] if review.path is not None else [])]
            day = signed_day(review.sign_off.date, inspected, today).isoformat()
            of_this = delivered_otherwise(review, day, folders)
        said += of_this
    return said


def _ask_for_photos(survey: Survey) -> str:
    from workbook_tools.photos.folder import same_file

    files = {same_file(name) for _, _, name in survey.photos_named()}
    if not files:
        return ""
    are = "One photo file is" if len(files) == 1 else f"{len(files)} different photo files are"
    return f"{are} named and no folder was given: name it with --photos, or say --without-photos."


def _named(output: str | os.PathLike[str]) -> Path:
    """Return the folder to make; "." and ".." by their own names."""
    from pathlib import Path

    said = os.fspath(output)
    target = Path(said.replace("\0", ""))
    if target.name in ("", ".."):
        target = target.resolve()
    if not said or "\0" in said or not target.name:
        raise Unusable(f"{said!r} names no folder to make: name one, such as -o delivery.")
    return target


def _refuse_a_place_in_use(
    target: Path, photos: str | os.PathLike[str] | None, *sources: str | os.PathLike[str] | None
) -> None:
    """Refuse a folder that holds what the delivery is made from, and one among the photos: they would mix."""
    from pathlib import Path

    for source in (photos, *sources):
        if source is not None and _holds(target, Path(source)):
            raise Unusable(
                f"{target} holds {Path(source).name}, which the delivery is made from: choose another folder."
            )
    if photos is not None and _holds(Path(photos), target):
        raise Unusable(
            f"{target} lies in {Path(photos).name}, the photo folder: choose a folder outside of it."
        )


def _holds(folder: Path, path: Path) -> bool:
    """Whether a path is a folder or lies in it, by whatever name and link either is called."""
    whole = path.resolve()
    if whole.is_relative_to(folder.resolve()):
        return True
    # A disk that makes no difference between capitals and small letters has one folder under two names.
    return folder.exists() and any(
        place.exists() and place.samefile(folder) for place in (whole, *whole.parents)
    )

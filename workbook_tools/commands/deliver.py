"""Write the client's folder from a reviewed survey.

    deliver(path, output=..., ...)   check, pass the gate, write everything, prove it, put it in place

Not here: what a delivery holds (delivery), what the schedule says (schedule).
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.delivery import Delivered

__all__ = ["deliver"]


def deliver(
    path: str | os.PathLike[str],
    *,
    output: str | os.PathLike[str],
    template: str | Path | Template | None = None,
    review: str | os.PathLike[str] | None = None,
    photos: str | os.PathLike[str] | None = None,
    draft: bool = False,
    force: bool = False,
    pdf: bool = False,
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
    review : path, optional
        The signed review workbook. Only a draft does without.
    photos : path, optional
        The photo folder.
    draft : bool, optional
        Deliver although something is open; every page is marked DRAFT and says what.
    force : bool, optional
        Replace the files of an earlier delivery; whatever else lies in the folder stays.
    pdf : bool, optional
        Print the schedule too, where LibreOffice is installed.

    Returns
    -------
    delivered : Delivered

    Raises
    ------
    Unusable
        Something is open (all of it is listed, one line each), the survey changed after the
        sign-off, a file cannot be read or written, or the written workbook is not what was
        meant. Nothing is put in place then.
    """
    from pathlib import Path

    from workbook_tools.checking import check_survey
    from workbook_tools.delivery import (
        Order,
        doubts_of_sign_off,
        judge,
        not_ready,
        open_of_sign_off,
        put_in_place,
    )
    from workbook_tools.photos.folder import list_photos
    from workbook_tools.review import read_review
    from workbook_tools.survey.reading import read_survey

    target = _named(output)
    _refuse_a_place_in_use(target, path, review, photos)
    survey = read_survey(path, template)
    answered = read_review(review) if review is not None else None
    listed = list_photos(photos) if photos is not None else None
    checked = check_survey(survey, listed)
    judgment = judge(checked.problems, answered)
    unsigned = open_of_sign_off(survey, answered)
    still_open = [*unsigned, *judgment.open]
    if still_open and not draft:
        raise not_ready(Path(path), still_open)
    order = Order(
        target=target,
        checked=checked,
        judgment=judgment,
        review=answered,
        signed=not unsigned,
        doubts=doubts_of_sign_off(answered),
        photo_folder=listed,
        still_open=still_open,
        draft=draft,
        force=force,
        pdf=pdf,
    )
    return put_in_place(order)


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


def _refuse_a_place_in_use(target: Path, *sources: str | os.PathLike[str] | None) -> None:
    """Refuse a folder that holds what the delivery is made from: it would be moved and replaced."""
    from pathlib import Path

    folder = target.resolve()
    for source in sources:
        if source is not None and Path(source).resolve().is_relative_to(folder):
            raise Unusable(
                f"{target} holds {Path(source).name}, which the delivery is made from: choose another folder."
            )

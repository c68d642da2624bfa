"""All of the job on an invented building: from the blank workbook to the client's folder.

    demo(folder)     writes every file of the job and returns what was made

Not here: the building itself (demonstration).
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, NamedTuple

from workbook_tools.commands.check import check
from workbook_tools.commands.deliver import deliver
from workbook_tools.commands.new import new

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.review import Review

__all__ = [
    "BLANK",
    "DELIVERY",
    "FIRST_REVIEW",
    "FROM_SITE",
    "MENDED",
    "PHOTOS",
    "SIGNED_REVIEW",
    "Demonstration",
    "demo",
]

BLANK = "1-blank-survey.xlsx"
FROM_SITE = "2-survey-from-site.xlsx"
FIRST_REVIEW = "3-first-review.xlsx"
MENDED = "4-survey-mended.xlsx"
SIGNED_REVIEW = "5-signed-review.xlsx"
DELIVERY = "delivery"
PDF = "schedule.pdf"
PHOTOS = "photos"

ROWS = 60  # enough for this building; the stock workbook has more


class Demonstration(NamedTuple):
    """The folder that was made, and what to say about it."""

    folder: Path
    lines: tuple[str, ...]


def demo(folder: str | os.PathLike[str], *, force: bool = False) -> Demonstration:
    """Do the whole job on the invented building.

    Parameters
    ----------
    folder : path
        The folder to make. It appears whole or not at all.
    force : bool, optional
        Replace the files of an earlier demonstration that its list names and nobody has changed; whatever
        else lies in the folder stays, or stops it where it is in the way.

    Returns
    -------
    demonstration : Demonstration

    Raises
    ------
    Unusable
        The folder exists already, or cannot be written.
    """
    import json
    from pathlib import Path

    from workbook_tools.demonstration import (
        FIRST_CHECK,
        NUMBER,
        SIGNED,
        answered,
        draw,
        firm_template,
        job_known,
        mended,
        notes,
        typed_on_site,
    )
    from workbook_tools.files import whole_folder
    from workbook_tools.review import read_review

    template = firm_template()
    with whole_folder(folder, force=force) as filling, notes() as typed:
        made = filling.folder
        photos = made / PHOTOS
        draw(typed, photos)
        new(made / BLANK, template=template, job=job_known(typed), rows=ROWS, number=NUMBER)
        with typed_on_site(typed) as slipped:
            new(made / FROM_SITE, template=template, fill=slipped, rows=ROWS, number=NUMBER)
        first = check(made / FROM_SITE, template=template, photos=photos)
        _review(template, made / FROM_SITE, made / FIRST_REVIEW, photos, None, FIRST_CHECK)
        with mended(typed) as corrected:
            new(made / MENDED, template=template, fill=corrected, rows=ROWS, number=NUMBER)
        signed, day = made / SIGNED_REVIEW, SIGNED
        review = _review(template, made / MENDED, signed, photos, read_review(made / FIRST_REVIEW), day)
        _review(template, made / MENDED, signed, photos, answered(review, typed), day)
        deliver(
            made / MENDED,
            output=made / DELIVERY,
            template=template,
            review=made / SIGNED_REVIEW,
            photos=photos,
            today=day,
        )
        told = json.loads((made / DELIVERY / "schedule.json").read_text(encoding="utf-8"))
        issues = len(told["conditions"])
        urgent = sum(issue["priority"] == "Act now" for issue in told["conditions"])
        typeset = (made / DELIVERY / PDF).exists()
    target = Path(folder)
    first_to_open, printed = (
        (PDF, f"{PDF} is the same, typeset") if typeset else ("schedule.xlsx", "without a PDF")
    )
    to_correct = sum(problem.class_ == "correct" for problem in first.problems)
    made_of = (
        (BLANK, "the blank workbook, as an inspector gets it"),
        (FROM_SITE, f"filled in on site, with {to_correct} slips to correct"),
        (FIRST_REVIEW, "what the first check found, each with its cell"),
        (MENDED, "the survey after the inspector mended it"),
        (SIGNED_REVIEW, "the reviewer's answers and sign-off"),
        (
            f"{DELIVERY}/schedule.xlsx",
            f"what the client gets: {issues} issues, {urgent} of them to act on now; {printed}",
        ),
        (f"{DELIVERY}/data", "the same as data"),
        (PHOTOS, "the drawn placeholder photos"),
    )
    lines = (
        f"The whole job on an invented building is in {target}:",
        *(f"  {name:<25}  {says}" for name, says in made_of),
        f"Open {target / DELIVERY / first_to_open} first, then {target / FROM_SITE}.",
    )
    return Demonstration(target, lines)


def _review(
    template: Template, survey: Path, review: Path, photos: Path, earlier: Review | None, today: date
) -> Review:
    from workbook_tools.review import write_review

    return write_review(check(survey, template=template, photos=photos), review, earlier, today=today)

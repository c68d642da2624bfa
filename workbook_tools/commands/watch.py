"""Watch a folder: what arrives there is checked, its review written, and a page tells the state of every survey.

    watch(folder, ...)    until it is interrupted; with `once`, one round

Not here: when to look and what is new (watching), the check of one survey (check).
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from workbook_tools.sites import NotRead
    from workbook_tools.sites.reading import Look, PassedOver
    from workbook_tools.watching import Looked, Outcome, Reviewed, SomethingElse, Watched

__all__ = ["check_and_review", "watch"]

_WAIT = 5.0
"""Seconds between two tries to take a folder that another process watches."""


def watch(
    folder: str | os.PathLike[str],
    *,
    template: str | Path | None = None,
    once: bool = False,
    each: Callable[[Path, Outcome], None] = lambda path, outcome: None,
    say: Callable[[str], None] = lambda sentence: None,
    workers: int | None = None,
) -> int:
    """Check every survey in a folder that is new or has changed, now and from now on.

    New processes import the program that calls this: it needs `if __name__ == "__main__":` around what it does.

    Parameters
    ----------
    folder : path
        The folder with the surveys, and all that lies in it. A survey is never written to; its review and the page
        "state of the surveys.html" are.
    template : str or path, optional
        The template they were made from; left out, for each the one that it names.
    once : bool, optional
        Look once and return; else it ends by an interruption alone.
    each : function, optional
        Told of every survey that was checked.
    say : function, optional
        Told in a sentence what stops or hinders the watching.
    workers : int, optional
        How many processes at most; left out, one for each core.

    Returns
    -------
    status : int
        Of one round: 2 where a survey was not read or something not written, 1 where one needs attention, else 0.

    Raises
    ------
    Unusable
        There is no such folder, or another process watches it already and only one round is asked for.
    """
    from workbook_tools.definitions import load_template
    from workbook_tools.watching import Round, Watched, watch_rounds

    place = Path(folder)
    if not place.is_dir():
        raise Unusable(f"{place} is no folder: name the folder where the surveys arrive.")
    if template is not None:
        load_template(template)
    watched = Watched(place)

    def begun() -> Round:
        _take(watched, place, once, say)
        return Round(
            place,
            check_and_review,
            template=template,
            made_with=_made_with(template),
            each=each,
            warn=say,
            is_ours=watched.is_ours,
            workers=workers,
        )

    try:
        round_ = begun()
        if once:
            looked = round_.look()
            for name in looked.arriving:
                say(f"{name} is not whole yet, so it was not checked: the next look does.")
            return looked.status

        def look() -> Looked:
            nonlocal round_
            if not watched.is_ours():
                round_ = begun()
            return round_.look()

        watch_rounds(place, look)
        return 0
    finally:
        watched.given_back()


def _take(watched: Watched, place: Path, once: bool, say: Callable[[str], None]) -> None:
    """Take the folder; where another process has it, or it cannot be written to, wait until it can be had.

    Raises
    ------
    Unusable
        Only one round is asked for, and it cannot be had now.
    """
    told = ""
    while True:
        try:
            owner = watched.taken()
            if not owner:
                return
            sentence = f"{place} is watched by {owner} already"
            if once:
                raise Unusable(f"{sentence}, which checks what arrives: nothing was done here.")
            sentence += ": this one waits, and takes its place when it has left."
        except Unusable as error:
            if once:
                raise
            sentence = str(error)
        if sentence != told:
            say(sentence)
            told = sentence
        time.sleep(_WAIT)


def check_and_review(look: Look) -> Reviewed | SomethingElse | NotRead | PassedOver:
    """Check one survey and write its review beside it. A function of its own, so that a new process finds it."""
    from workbook_tools.sites.reading import PassedOver, without_error
    from workbook_tools.watching import SomethingElse

    made = without_error(look, lambda: _reviewed(look))
    return SomethingElse(look.path, made.what) if isinstance(made, PassedOver) else made


def _reviewed(look: Look) -> Reviewed:
    from workbook_tools.commands.check import check
    from workbook_tools.sites.checked import site_of
    from workbook_tools.survey.origin import NotASurvey
    from workbook_tools.watching import Reviewed, open_elsewhere, outcome_of, review_beside

    review = review_beside(look.path)
    lock = open_elsewhere(review)
    no_review = ""
    if lock is not None:
        no_review = f"{review.name} is open in a spreadsheet program: close it there. If it is open nowhere, delete {lock.name}."
    else:
        try:
            checked = check(look.path, template=look.template, output=review)
        except NotASurvey:
            raise
        except Unusable as error:
            no_review = str(error)
    if no_review:
        # What keeps the review from being written keeps nobody from knowing what the survey holds.
        checked = check(look.path, template=look.template)
    site = site_of(look, checked)
    return Reviewed(look.path, outcome_of(site, no_review, (*site.notes, *checked.said)))


def _made_with(template: str | Path | None) -> str:
    """Return what an outcome depends on beside the survey: the rules of this version, and the template that is given."""
    from workbook_tools.files.contents import hash_of
    from workbook_tools.review.seal import rules_mark

    given = "" if template is None else str(template)
    if given and Path(given).is_file():
        given += f" {hash_of(Path(given))}"
    return f"{rules_mark()} {given}".strip()

"""Check many surveys at once: folders with all that lies in them, and files.

    check_sites(places, each=...)   what all of them come to; `each` is told of every one as soon as it is known

Not here: the check of one survey (check).
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.sites import NotRead, Search, SiteChecked, Tally

__all__ = ["check_sites", "surveys_in"]


def check_sites(
    places: Iterable[str | os.PathLike[str]],
    *,
    each: Callable[[SiteChecked | NotRead], None] | None = None,
    template: str | Path | Template | None = None,
    whole: bool = False,
    workers: int | None = None,
) -> tuple[Tally, str]:
    """Check every survey in some places, each in a process of its own.

    New processes import the program that calls this: it needs `if __name__ == "__main__":` around what it does.

    Parameters
    ----------
    places : iterable of path
        Survey workbooks, and folders to look through. What is no survey in a folder is passed over; a file
        that cannot be read is named and stops no other.
    each : function, optional
        Called with every `SiteChecked` or `NotRead`, in the order of the places and of the names in a folder.
    template : str, path or Template, optional
        The template they were made from; left out, for each the one that it names.
    whole : bool, optional
        Whether each comes with everything that was found, as JSON text.
    workers : int, optional
        How many processes at most; left out, one for each core.

    Returns
    -------
    tally : Tally
        Counts over all of them, and the most urgent; `tally.status` is the exit status.
    passed_over : str
        One sentence about what was no survey; "" where all were.

    Raises
    ------
    Unusable
        There is no survey in these places.
    """
    from workbook_tools.sites import Tally, check_one, each_survey

    search = surveys_in(places)
    tally = Tally()
    for one in each_survey(search, check_one, template=template, whole=whole, workers=workers):
        tally.add(one)
        if each is not None:
            each(one)
    if not tally.surveys and not tally.not_read:
        raise none_of_them(places, search)
    return tally, search.said


def surveys_in(places: Iterable[str | os.PathLike[str]]) -> Search:
    """Return what is to be read in some places.

    Raises
    ------
    Unusable
        No workbook at all.
    """
    from workbook_tools.sites import look_for

    search = look_for(places)
    if not search.files and not search.unlisted:
        raise none_of_them(places, search)
    return search


def none_of_them(places: Iterable[str | os.PathLike[str]], search: Search) -> Unusable:
    """Return the sentence for places without a survey."""
    where = ", ".join(str(os.fspath(place)) for place in places)
    return Unusable(
        f"There is no survey workbook in {where}: name the folder where they are. {search.said}".rstrip()
    )

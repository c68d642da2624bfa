"""Which files may be surveys, in folders and among files that are named.

    look_for(places)   a Search: the files to read, what was passed over, what could not be listed
    in_order(name)     a key that sorts names as people do

Only names are looked at here. Whether a workbook is a survey, a review or something else, the reader tells
(reading); a file that is named itself is always read, and never passed over.
"""

from __future__ import annotations

import os
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

from workbook_tools.files.contents import LIST
from workbook_tools.sites.in_words import passed_over

__all__ = ["Candidate", "Search", "in_order", "look_for"]

_ENDINGS = (".xlsx", ".xlsm", ".ods")
_OTHER_ENDINGS = {".xls": "old .xls workbook", ".xlsb": ".xlsb workbook"}
_LOCKS = ("~$", ".~lock.")
_SCHEDULE = "schedule.xlsx"


class Candidate(NamedTuple):
    """A file that may be a survey; `named` where the user named the file itself."""

    path: Path
    named: bool


@dataclass
class Search:
    """What was found: files to read in order, and what else was there.

    `passed` counts what was passed over, by what it is; `unlisted` are sentences about folders that
    cannot be looked into.
    """

    files: list[Candidate] = field(default_factory=list)
    passed: Counter[str] = field(default_factory=Counter)
    unlisted: list[tuple[Path, str]] = field(default_factory=list)

    @property
    def said(self) -> str:
        """What was passed over, in one sentence; "" for nothing."""
        return passed_over(self.passed)


def look_for(places: Iterable[str | os.PathLike[str]]) -> Search:
    """Look for surveys.

    Parameters
    ----------
    places : iterable of path
        Files, and folders to look through with all that lies in them. Links to folders are not followed,
        hidden files and folders not looked at; a file that is named twice is read once.
    """
    search = Search()
    seen: set[Path] = set()
    for place in map(Path, places):
        found = _in_folder(place, search) if place.is_dir() else iter((Candidate(place, True),))
        for candidate in found:
            real = candidate.path.resolve()
            if real not in seen:
                seen.add(real)
                search.files.append(candidate)
    return search


def _in_folder(folder: Path, search: Search) -> Iterator[Candidate]:
    def unlisted(error: OSError) -> None:
        where = Path(os.fsdecode(error.filename or folder))
        why = (error.strerror or str(error)).lower()
        search.unlisted.append(
            (where, f"The folder cannot be looked into ({why}): see that you may read it.")
        )

    for where, folders, names in os.walk(folder, onerror=unlisted):
        inside = Path(where)
        deliveries = [name for name in folders if _is_delivery(inside / name)]
        search.passed["delivery's folder"] += len(deliveries)
        folders[:] = sorted(
            (name for name in folders if not name.startswith(".") and name not in deliveries), key=in_order
        )
        for name in sorted(names, key=in_order):
            ending = os.path.splitext(name)[1].casefold()
            if name.startswith(_LOCKS):
                search.passed["lock file of an open workbook"] += 1
            elif name.startswith("."):
                continue
            elif name.startswith("~"):
                search.passed["temporary file of another program"] += ending in _ENDINGS
            elif ending in _OTHER_ENDINGS:
                search.passed[_OTHER_ENDINGS[ending]] += 1
            elif ending in _ENDINGS:
                yield Candidate(inside / name, False)


def _is_delivery(folder: Path) -> bool:
    return (folder / LIST).is_file() and (folder / _SCHEDULE).is_file()


def in_order(name: str) -> list[tuple[bool, int, str]]:
    """Return a key that sorts names as people do: numbers by their size.

    Examples
    --------
    >>> sorted(["site 10", "Site 9"], key=in_order)
    ['Site 9', 'site 10']
    """
    parts = re.split(r"([0-9]+)", name.casefold())
    return [(not part.isdigit(), int(part) if part.isdigit() else 0, part) for part in parts if part]

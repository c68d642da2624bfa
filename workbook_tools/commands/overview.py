"""Put the surveys of many sites into one workbook.

    overview(places, output=..., data=...)   an Overview: where it is, and what to say about it

Not here: what it shows (portfolio), how surveys are read (sites).
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TYPE_CHECKING, NamedTuple

from workbook_tools.commands.check_sites import none_of_them, surveys_in
from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

    from workbook_tools.definitions import Template
    from workbook_tools.portfolio import RolledUp

__all__ = ["Overview", "overview"]


class Overview(NamedTuple):
    """The workbook that was written, and what to say about it; `status` is 2 where a file could not be read."""

    path: Path
    lines: tuple[str, ...]
    status: int


def overview(
    places: Iterable[str | os.PathLike[str]],
    *,
    output: str | os.PathLike[str],
    data: str | os.PathLike[str] | None = None,
    template: str | Path | Template | None = None,
    force: bool = False,
    workers: int | None = None,
) -> Overview:
    """Put the surveys of many sites into one workbook.

    New processes import the program that calls this: it needs `if __name__ == "__main__":` around what it does.

    Parameters
    ----------
    places : iterable of path
        Folders to look through, and survey workbooks. A file that cannot be read stands on a sheet of its own.
    output : path
        The workbook to write.
    data : path, optional
        A folder to write the same into as CSV files with a data package description.
    template : str, path or Template, optional
        The template they were made from; left out, for each the one that it names.
    force : bool, optional
        Replace a workbook that stands there, and the files of the data folder that nobody has changed.
    workers : int, optional
        How many processes read at most; left out, one for each core.

    Returns
    -------
    made : Overview

    Raises
    ------
    Unusable
        There is no survey in these places, or something cannot be written. Nothing is put in place then.
    """
    from pathlib import Path

    from workbook_tools.files import refuse_what_stands, whole_file, whole_folder
    from workbook_tools.files.data_package import write_data
    from workbook_tools.portfolio import data_tables, gather, record_one, roll_up, write_overview
    from workbook_tools.portfolio.front_sheet import how_much
    from workbook_tools.sites import each_survey

    target = Path(output)
    if target.suffix.casefold() != ".xlsx":
        raise Unusable(f"{target.name} is no name for the overview: give it the ending .xlsx.")
    refuse_what_stands(target, force)
    search = surveys_in(places)
    if any(target.resolve() == candidate.path.resolve() for candidate in search.files if candidate.named):
        raise Unusable(f"{target.name} is one of the surveys: give the overview another name.")
    gathered = gather(each_survey(search, record_one, template=template, workers=workers))
    if not gathered.entries and not gathered.not_read:
        raise none_of_them(places, search)
    gathered.passed_over = search.said
    rolled = roll_up(gathered)
    with whole_file(target, force=force) as path:
        write_overview(rolled, path)
        if data is not None:
            with whole_folder(data, force=force) as filling:
                write_data(data_tables(rolled), filling.folder, _about(rolled))
    said = [f"{target}: {how_much(rolled)[0]}", *how_much(rolled)[1:]]
    if data is not None:
        said.append(f"The same as data is in {Path(data)}.")
    said += [f"Not read: {one.path}: {one.sentence}" for one in rolled.not_read[:_MOST_NAMED]]
    return Overview(target, tuple(said), 2 if rolled.not_read else 0)


_MOST_NAMED = 10


def _about(rolled: RolledUp) -> dict[str, str]:
    import datetime

    return {
        "name": "electrical-sites",
        "title": "Overview of sites",
        "description": f"Visual electrical surveys of {len(rolled.by_site)} sites, before review.",
        "created": datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds"),
    }

"""Where a command may write.

workbook_to_write(output, ...)   the path of a workbook, unless it has another ending or is what it is made from
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import TYPE_CHECKING

from workbook_tools.errors import Unusable

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["workbook_to_write"]


def workbook_to_write(
    output: str | os.PathLike[str],
    written: str,
    sources: Iterable[str | os.PathLike[str]],
    source: str,
    *,
    called: str = "it",
) -> Path:
    """Return the path of a workbook that is to be written.

    Parameters
    ----------
    output : path
        As the user named it.
    written : str
        What is written, with its verb: "A survey workbook is".
    sources : iterable of path
        What it is made from.
    source : str
        What one of them is: "one of the parts".
    called : str, optional
        How the sentence about the ending calls it.

    Raises
    ------
    Unusable
        It has another ending, or is one of the sources.
    """
    from pathlib import Path

    path = Path(output)
    if path.suffix.casefold() != ".xlsx":
        raise Unusable(f"{written} written as .xlsx: name {called} {path.with_suffix('.xlsx').name}.")
    if any(_is_same_file(path, Path(one)) for one in sources):
        raise Unusable(f"{path} is {source}: choose another name to write to.")
    return path


def _is_same_file(path: Path, other: Path) -> bool:
    try:
        return path.samefile(other)
    except (OSError, ValueError):  # one of them is not there
        return False

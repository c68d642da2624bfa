"""When a workbook was last saved, as the program that saved it wrote down.

    last_saved(path)    the day, on the clock of this machine; None where the file does not say

A review that was saved after the day of its signature may have been changed after it: that cannot
be told, but it can be said. Not here: the cells (spreadsheet).
"""

from __future__ import annotations

import re
from datetime import date, datetime
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.package import open_package

__all__ = ["last_saved"]

_PARTS = ("docProps/core.xml", "meta.xml")
_SAYS = re.compile(rb"<(?:dcterms:modified|dc:date)\b[^>]*>\s*([0-9T:.+Z\-]{10,40})\s*<")
_MOST_BYTES = 1_000_000


def last_saved(path: Path) -> date | None:
    """Return the day on which a workbook was last saved; None where it does not say so, or not legibly."""
    try:
        with open_package(path) as package:
            for name in _PARTS:
                part = package.find(name)
                found = _SAYS.search(package.bytes_of(part, _MOST_BYTES)) if part is not None else None
                if found:
                    return _local_day(found[1].decode("ascii"))
    except (Unusable, ValueError, OverflowError, OSError):
        return None
    return None


def _local_day(text: str) -> date:
    # OpenDocument writes nine decimals and no zone: the clock of the machine that saved it.
    moment = datetime.fromisoformat(re.sub(r"(\.[0-9]{6})[0-9]+", r"\1", text))
    if moment.tzinfo is None:
        return moment.date()
    return moment.astimezone().date()

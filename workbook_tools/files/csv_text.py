r"""Text in a CSV file that no spreadsheet program runs.

    guarded(text)      the text as it is written
    unguarded(text)    the text again
    write_csv(rows)    a CSV file as bytes: every text quoted and guarded

A CSV file opened in a spreadsheet program runs a text that begins with "=" as a formula,
and a text with a ";" in it may be cut there where that is the separator of the country.
So an apostrophe is put where a formula could begin: at the start, and after a ";", a "|",
a tab or a line break. One that stands there already gets a second, so nothing is lost:
take one apostrophe off wherever it stands at such a place.

The characters are those of OWASP's page "CSV Injection" (github.com/OWASP/www-community,
pages/attacks/CSV_Injection.md, read in the version of August 2025), which also warns of the
separator; the wide forms of = + - @ are from memory.

Not here: the columns (tables) and their description (data_package).
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from io import StringIO

__all__ = ["guarded", "unguarded", "write_csv"]

_PLACE = r'(^|[;|\t\r\n])("*)'
_TO_GUARD = re.compile(_PLACE + r"(?=[=+\-@\t\r\n'＝＋－＠])")
_GUARDED = re.compile(_PLACE + r"'")
# Most texts have no such place at all; one look tells, and a large survey has many thousand cells.
_MAYBE = re.compile(r"[;|\t\r\n]|\A\"*[=+\-@'＝＋－＠]")


@lru_cache(maxsize=4096)  # sheets, headings and choices stand in every row
def guarded(text: str) -> str:
    """Return the text as it is written to a CSV file.

    Examples
    --------
    >>> guarded("=1+1"), guarded("RP-2; DP-1"), guarded("a;=1+1"), guarded("'t")
    ("'=1+1", 'RP-2; DP-1', "a;'=1+1", "''t")
    """
    return _TO_GUARD.sub(r"\1\2'", text) if _MAYBE.search(text) else text


def unguarded(text: str) -> str:
    """Return what `guarded` was given.

    Examples
    --------
    >>> unguarded(guarded("=cmd|' /C calc'!A0"))
    "=cmd|' /C calc'!A0"
    """
    return _GUARDED.sub(r"\1\2", text)


def write_csv(rows: Iterable[Sequence[str | int | float | None]]) -> bytes:
    """Return a CSV file (RFC 4180): UTF-8, comma, CRLF; everything quoted but numbers."""
    file = StringIO(newline="")
    writer = csv.writer(file, quoting=csv.QUOTE_NONNUMERIC)
    for row in rows:
        writer.writerow([guarded(cell) if isinstance(cell, str) else cell for cell in row])
    return file.getvalue().encode("utf-8", "backslashreplace")

"""Cells of an .xlsx sheet that are left out anyway, taken out of its bytes before they are parsed.

    without_unread(chunks, unread)    the same part, shorter
    Unread                            what may go, and the place to note quiet formulas in

Most of a prepared survey workbook is the text of formulas in hidden columns. To look for
their cells costs a tenth of what parsing them does. Only cells in the plain form that every
spreadsheet program writes are taken out here, and only where leaving them out changes nothing for
those that stay; the parser leaves out the rest (xlsx_sheet), so that both read the same.
"""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache

from workbook_tools.spreadsheet.cells import column_letters, position

__all__ = ["Unread", "without_unread"]

# The cell that follows must say where it stands: one that does not is counted from the one before.
_PLACED = rb'(?=<c r="|</row>)'
_LOOK = rb'(?: s="\d{1,9}")?'
_BLANK = re.compile(rb'<c r="[A-Z]{1,3}\d{1,7}"' + _LOOK + rb"/>" + _PLACED)
_QUIET = re.compile(
    rb'<c r="([A-Z]{1,3})([1-9]\d{0,6})"' + _LOOK + rb'(?: t="str")?><f>([^<]*)</f><v></v></c>' + _PLACED
)
_ROW_END = b"</row>"


@dataclass(slots=True)
class Unread:
    """What may go.

    `left_out` are the columns whose formulas nobody reads; the reader adds to it while it parses
    the headings. `quiet` takes the rows of formulas that show nothing, by column; None keeps
    them. `heading_rows` are the first rows, of which one may tell of columns to leave out.
    """

    left_out: set[int]
    quiet: dict[int, array[int]] | None
    heading_rows: int


def without_unread(chunks: Iterable[bytes], unread: Unread) -> Iterator[bytes]:
    """Give the bytes of a sheet in whole rows where there are rows, without the cells that may go."""
    rest, rows = b"", 0
    source = iter(chunks)
    for chunk in source:
        piece = rest + chunk
        if b"<!" in piece:  # a comment or raw text may hold what only looks like a cell
            yield piece
            yield from source
            return
        while rows < unread.heading_rows and not unread.left_out and _ROW_END in piece:
            row, end, piece = piece.partition(_ROW_END)
            rows += 1
            yield row + end
        at = piece.rfind(_ROW_END)
        at = at + len(_ROW_END) if at >= 0 else 0
        if at:
            yield _shortened(piece[:at], unread)
            rest = piece[at:]
        elif len(piece) > len(chunk):  # a row longer than a chunk, or none at all
            at = len(piece) - piece.endswith(b"<")  # a comment begins with two characters
            yield piece[:at]
            rest = piece[at:]
        else:
            rest = piece
    if rest:
        yield rest


def _shortened(rows: bytes, unread: Unread) -> bytes:
    if unread.left_out:
        rows = _of_columns(frozenset(unread.left_out)).sub(b"", rows)
    if (quiet := unread.quiet) is not None and b"</f><v></v></c>" in rows:

        def note(found: re.Match[bytes]) -> bytes:
            place = position((found[1] + found[2]).decode())
            if place is None or b"DISPIMG(" in found[3]:
                return found[0]
            quiet.setdefault(place[1], array("I")).append(place[0])
            return b""

        rows = _QUIET.sub(note, rows)
    return _BLANK.sub(b"", rows) if b'"/><' in rows else rows


@lru_cache(maxsize=64)
def _of_columns(columns: frozenset[int]) -> re.Pattern[bytes]:
    """Cells of some columns that hold the result of a formula of their own."""
    by_first: dict[str, str] = {}
    for letters in sorted(map(column_letters, columns)):
        by_first[letters[:-1]] = by_first.get(letters[:-1], "") + letters[-1]
    names = "|".join(f"{first}[{last}]" for first, last in by_first.items()).encode()
    return re.compile(
        rb'<c r="(?:'
        + names
        + rb')[1-9]\d{0,6}"'
        + _LOOK
        + rb'(?: t="[a-z]+")?><f>[^<]*</f><v>[^<]*</v></c>'
        + _PLACED
    )

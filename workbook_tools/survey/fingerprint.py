"""The fingerprint of a survey: does it still say what it said when it was signed.

    fingerprint(survey)    twenty letters and digits over everything that was typed
    lines_of(survey)       what it is taken over: a Line for each row, and for each text beside a table
    in_groups(digest)      a digest as people read it

It holds for the content, not for the file: the same survey saved by another program, with its
columns, sheets or rows in another order, keeps it; any answer that changes changes it, and so do
words that stand beside a value and are not part of it ("2 HOT"), comments on cells, and whatever is typed
outside the tables. Live cells, headings' wording
and formats do not count.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import Any, NamedTuple

from workbook_tools.definitions import spelling
from workbook_tools.electrical import Length
from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.model import Survey
from workbook_tools.survey.rows import Row

__all__ = ["Line", "cells_of", "fingerprint", "in_groups", "lines_of"]

_GROUPS, _GROUP = 5, 4
BESIDE = "beside"
"""The key of a line that stands in no table."""


class Line(NamedTuple):
    """What one row says: the key of its sheet, what it is called, and (field, content) of each answer."""

    key: str
    called: str
    cells: tuple[tuple[str, str], ...]


def fingerprint(survey: Survey) -> str:
    """Return the fingerprint of what was typed.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> from workbook_tools.survey.from_texts import survey_of_texts
    >>> def of(**panel):
    ...     return fingerprint(survey_of_texts(load_template("office"), {"equipment": [panel]}, {}, first_row=3))
    >>> of(tag="DP-1", rating_a="400 A") == of(rating_a="400", tag="DP-1")
    True
    >>> of(tag="DP-1", rating_a="400 A") == of(tag="DP-1", rating_a="225")
    False
    """
    import hashlib

    content = hashlib.sha256()
    for line in sorted(f"{line.key}\x1e{line.cells!r}" for line in lines_of(survey)):
        content.update(line.encode("utf-8", "surrogatepass"))
        content.update(b"\n")
    return in_groups(content.hexdigest())


def in_groups(digest: str) -> str:
    """Return the beginning of a digest in groups that can be read aloud.

    Examples
    --------
    >>> in_groups("0123456789abcdef0123456789abcdef")
    '0123-4567-89ab-cdef-0123'
    """
    return "-".join(digest[start : start + _GROUP] for start in range(0, _GROUPS * _GROUP, _GROUP))


def lines_of(survey: Survey) -> Iterator[Line]:
    """Yield a line for each row in which anything stands, then one for each text beside a table."""
    for row in survey.rows():
        cells = tuple(sorted((name, content) for name, (content, _) in cells_of(row).items()))
        if cells:
            yield Line(row.key or row.definition.key, _text(row.called), cells)
    for value in (*survey.typed_elsewhere(), *survey.damage):
        if value.typed.strip():
            yield Line(BESIDE, "", (("", _text(value.typed)),))


def cells_of(row: Row) -> dict[str, tuple[str, Value[Any]]]:
    """Return what each cell of a row says, however it is spelled, with the cell; blank ones left out."""
    said = {
        name: (_content(value), value)
        for name, value in row.values.items()
        if value.outcome is not Outcome.BLANK
    }
    for heading, value in row.extra.items():
        if value.typed.strip():
            said[f"own {spelling(heading)}"] = (_text(value.typed), value)
    for value in row.comments:
        name = f"comment on {value.column.field or spelling(value.heading)}"
        before = f"{said[name][0]} | " if name in said else ""
        said[name] = (f"{before}{_text(value.typed)}", value)
    return said


def _content(value: Value[Any]) -> str:
    """Return what was answered, however the program that saved it spells it."""
    if value.outcome is Outcome.VALUE:
        read = _canonical(value.value)
        return f"{read} (typed: {_text(value.typed)})" if value.note else read
    if value.outcome is Outcome.UNREADABLE:
        return f"{_text(value.typed)} (not readable)"
    return "N/V" if value.outcome is Outcome.NOT_VISIBLE else "N/A"


@lru_cache(maxsize=65536, typed=True)
def _canonical(value: Any) -> str:
    if isinstance(value, Length):
        return f"{value.number:.6g} {value.unit}"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return ";".join(map(_text, value)) if isinstance(value, tuple) else _text(str(value))
    return f"{value:.10g}"


def _text(text: str) -> str:
    return " ".join(text.split())

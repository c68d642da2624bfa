"""The fingerprint of a survey: does it still say what it said when it was signed.

    fingerprint(survey)    twenty letters and digits over everything that was typed

It holds for the content, not for the file: the same survey saved by another program, with its
columns, sheets or rows in another order, keeps it; any answer that changes changes it. Live
cells, headings' wording and formats do not count.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import Any

from workbook_tools.definitions import spelling
from workbook_tools.electrical import Length
from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.model import Survey
from workbook_tools.survey.rows import Row

__all__ = ["fingerprint"]

_GROUPS, _GROUP = 5, 4


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
    for line in sorted(_lines(survey)):
        content.update(line.encode("utf-8", "surrogatepass"))
        content.update(b"\n")
    digest = content.hexdigest()
    return "-".join(digest[start : start + _GROUP] for start in range(0, _GROUPS * _GROUP, _GROUP))


def _lines(survey: Survey) -> Iterator[str]:
    for row in survey.rows():
        cells = sorted(_cells(row))
        if cells:
            yield "\x1e".join([row.key, *cells])
    for value in (*survey.stray, *survey.damage):
        if not value.formula and value.typed.strip():
            yield f"beside\x1f{_text(value.typed)}"


def _cells(row: Row) -> Iterator[str]:
    for name, value in row.values.items():
        if value.value is not None:
            yield f"{name}\x1f{_canonical(value.value)}"
        elif value.answered:
            yield f"{name}\x1f{_without_value(value)}"
    for heading, value in row.extra.items():
        if value.typed.strip():
            yield f"own {spelling(heading)}\x1f{_text(value.typed)}"


def _without_value(value: Value[Any]) -> str:
    """Return what was answered instead of a value, however the program that saved it spells it."""
    said = value.outcome.value
    return f"{said}\x1f{_text(value.typed)}" if value.outcome is Outcome.UNREADABLE else said


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

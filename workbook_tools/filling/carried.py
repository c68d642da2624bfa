"""What an earlier survey held for one visit, marked as of the day when it was last seen.

    seen_on(typed)                    how the day of an earlier survey stands under Last seen
    marked(rows, sheet, ...)          the rows of a sheet with `carried` columns, each with the day it was last seen
    Marked                            the rows, those that were mended, and what This year held in other words

Measurements and findings are the earlier survey's until the inspector says under This year that they still hold. A row
that the earlier survey had carried over itself, and that nobody had seen again, keeps its older day. A finding that
was mended is no row of the new survey.

Not here: columns that are asked anew at every visit (earlier_surveys).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from workbook_tools.definitions import Sheet, Template
from workbook_tools.survey import Finding
from workbook_tools.survey.rows import MENDED, SEEN_AGAIN
from workbook_tools.survey.written_dates import read_date

__all__ = ["Marked", "marked", "seen_on"]

_NO_DATE = "an earlier survey without a date"
"""What stands under Last seen where the earlier survey does not say when it was made."""

LAST_SEEN, THIS_YEAR = Finding.last_seen.name, Finding.this_year.name


def seen_on(typed: str) -> str:
    """Return the day of an earlier survey as it stands under Last seen: as year-month-day, or its own words.

    Examples
    --------
    >>> seen_on("10/16/2025"), seen_on("autumn of 2025"), seen_on(" ")
    ('2025-10-16', 'autumn of 2025', 'an earlier survey without a date')
    """
    try:
        return read_date(typed).day.isoformat()
    except ValueError:
        return typed.strip() or _NO_DATE


@dataclass
class Marked:
    """Rows to carry over, rows that were mended, and the heading under which odd answers to This year are kept."""

    rows: list[dict[str, str]] = field(default_factory=list)
    mended: list[dict[str, str]] = field(default_factory=list)
    kept_under: str = ""


def marked(rows: Iterable[dict[str, str]], sheet: Sheet, template: Template, seen: str) -> Marked:
    """Return the rows of an earlier survey, each with the day when it was last seen.

    Parameters
    ----------
    rows : iterable of dict
        As read, by field.
    sheet : Sheet
        With its `carried` columns.
    template : Template
        Whose choices This year has.
    seen : str
        The day of the earlier survey, as it stands under Last seen.
    """
    found = Marked()
    column = sheet.by_field[THIS_YEAR]
    vocabulary = template.vocabularies[column.vocabulary]
    for row in rows:
        before, answer = row.pop(LAST_SEEN, "").strip(), row.pop(THIS_YEAR, "").strip()
        choice = vocabulary.find(answer) if answer else None
        said = choice.name if choice is not None else ""
        if answer and not said:
            found.kept_under = f"{column.heading} on {seen}"
            row[found.kept_under] = answer
        row[LAST_SEEN] = before if before and said not in SEEN_AGAIN else seen
        (found.mended if said == MENDED else found.rows).append(row)
    return found

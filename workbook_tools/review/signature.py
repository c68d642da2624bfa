"""A signature: a name, a real date, and the statement that it stands under.

    is_name(text)                        whether a text is the name of a person
    is_same_person(name, other)          whether two names can be of one person, written otherwise
    signed_day(text, first, last)        the day that a text names
    open_of_signature(...)               what is missing or wrong, one sentence each

Not here: whether what was signed has changed since (seal).
"""

from __future__ import annotations

from datetime import date

from workbook_tools.definitions import spelling
from workbook_tools.survey.written_dates import read_date

__all__ = ["in_one_form", "is_name", "is_same_person", "open_of_signature", "signed_day"]

_NO_NAMES = frozenset(
    [
        "notsigned",
        "unsigned",
        "na",
        "notapplicable",
        "tbd",
        "tba",
        "tbc",
        "none",
        "nobody",
        "noone",
        "pending",
        "unknown",
        "name",
        "yourname",
        "reviewer",
        "thereviewer",
        "todo",
        "blank",
        "test",
        "anonymous",
        "notyet",
        "signature",
        "signhere",
        "later",
        "draft",
        "nil",
        "null",
        "missing",
        "open",
        "signed",
        "yes",
        "ok",
        "okay",
    ]
)
_FEWEST_LETTERS = 2


def is_name(text: str) -> bool:
    """Whether a text can be the name of a person: two letters, and none of the words for "nobody yet".

    Examples
    --------
    >>> [is_name(text) for text in ("R. Reviewer", "Bo", "李明", "not signed", "N/A", "TBD", "?", "x", "xxx", "12")]
    [True, True, True, False, False, False, False, False, False, False]
    """
    letters = [letter.casefold() for letter in text if letter.isalpha()]
    if len(letters) < _FEWEST_LETTERS or set(letters) == {"x"}:
        return False
    return spelling(text) not in _NO_NAMES


def is_same_person(name: str, other: str) -> bool:
    """Whether two names can be of one person: the words of one are among those of the other, in any order.

    Examples
    --------
    >>> [is_same_person(name, "R. Reader") for name in ("Reader, R.", "R. Reader Jr", "r reader", "S. Reader", "Bo Writer")]
    [True, True, True, False, False]
    """
    words, others = (
        {spelling(word) for word in text.replace(",", " ").split()} - {""} for text in (name, other)
    )
    return bool(words and others) and (words <= others or others <= words)


def signed_day(text: str, first: date | None, last: date) -> date:
    """Return the day that a text names, written in any of the usual ways.

    Where day and month could change places, the reading counts that lies between `first` (the day of the
    inspection) and `last` (today).

    Raises
    ------
    ValueError
        No date, in words for the reader.

    Examples
    --------
    >>> signed_day("8 Oct 2026", None, date(2026, 12, 1)), signed_day("5/11/2026", date(2026, 10, 7), date(2026, 12, 1))
    (datetime.date(2026, 10, 8), datetime.date(2026, 11, 5))
    """
    written = read_date(text)
    day = written.day
    if written.note and not _between(day, first, last):
        other = day.replace(month=day.day, day=day.month)
        if _between(other, first, last):
            return other
    return day


def _between(day: date, first: date | None, last: date) -> bool:
    return (first is None or first <= day) and day <= last


def in_one_form(text: str, first: date | None, last: date) -> str:
    """Return a date as it is printed, 2026-10-08; the text itself where it is none."""
    try:
        return signed_day(text, first, last).isoformat()
    except ValueError:
        return text.strip()


def open_of_signature(
    review: str, reviewer: str, dated: str, inspected: date | None, today: date
) -> list[str]:
    """Return what keeps a name and a date from being a signature, one sentence each.

    Parameters
    ----------
    review : str
        The name of the review's file.
    reviewer, dated : str
        What stands on its sheet Sign-off.
    inspected : date or None
        The day of the inspection.
    today : date
        The day of the delivery.
    """
    said = []
    if not reviewer.strip():
        said.append(f"The sign-off of {review} names no reviewer.")
    elif not is_name(reviewer):
        said.append(
            f"The sign-off of {review} reads {reviewer.strip()!r} where the reviewer's name is needed: "
            "who answers for it writes the name there."
        )
    if not dated.strip():
        said.append(f"The sign-off of {review} has no date.")
        return said
    try:
        day = signed_day(dated, inspected, today)
    except ValueError:
        said.append(
            f"The sign-off of {review} is dated {dated.strip()!r}, which is no date: write one like {today.isoformat()}."
        )
        return said
    if day > today:
        said.append(
            f"The sign-off of {review} is dated {day.isoformat()}, which is after today ({today.isoformat()})."
        )
    if inspected is not None and day < inspected:
        said.append(
            f"The sign-off of {review} is dated {day.isoformat()}, before the inspection on {inspected.isoformat()}."
        )
    return said

"""Dates as people write them, and what a spreadsheet program made a date of.

    read_date(text)              a WrittenDate, or ValueError: what it is not and why
    what_was_typed(day, format)  the texts that a program turns into that date
    in_words(date or text)       "October 6, 2025"; a text that is no date as it is

A day and a month that could be either way round are read as month/day, the custom of the
surveys' country, and that is said. Not here: times of day, which no survey asks for.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.survey.typed_text import straight

__all__ = ["WrittenDate", "in_words", "read_date", "what_was_typed"]

MONTHS = (
    "january", "february", "march", "april", "may", "june",
    "july", "august", "september", "october", "november", "december",
)  # fmt: skip
_EXPECTED = "a date like 2026-09-16, 9/16/2026 or 16 Sep 2026 is needed"


class WrittenDate(NamedTuple):
    """A date, and a sentence where it could have been read another way."""

    day: date
    note: str = ""


@lru_cache(maxsize=4096)
def read_date(text: str) -> WrittenDate:
    """Read a date as people write it.

    Parameters
    ----------
    text : str
        "2026-09-16", "9/16/2026", "16.9.2026", "Sept. 16, 2026", "16-Sep-26", "Wed 16 September 2026".

    Returns
    -------
    written : WrittenDate
        With a note when day and month could change places. A year of two digits is of this
        century up to 79.

    Raises
    ------
    ValueError
        A text that is no whole date.

    Examples
    --------
    >>> read_date("Sept. 16th, 2026").day
    datetime.date(2026, 9, 16)
    >>> read_date("5/6/2026").note
    '5/6/2026 was read as month/day/year, 2026-05-06; it could also be 2026-06-05'
    >>> read_date("last Tuesday")
    Traceback (most recent call last):
    ValueError: 'last Tuesday' is no date; a date like 2026-09-16, 9/16/2026 or 16 Sep 2026 is needed
    """
    cleaned = straight(text).casefold()
    cleaned = re.sub(r"^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+", "", cleaned)
    cleaned = re.sub(r"[t\s]+0?0:00(?::00(?:\.0+)?)?z?$", "", cleaned)
    cleaned = re.sub(r"(?<=[0-9])(?:st|nd|rd|th)\b", "", cleaned)
    found = re.fullmatch(r"([0-9]{4})\s?([-/.])\s?([0-9]{1,2})\s?\2\s?([0-9]{1,2})", cleaned)
    if found:
        return WrittenDate(_day(text, int(found[1]), int(found[3]), int(found[4])))
    found = re.fullmatch(r"([0-9]{4})([0-9]{2})([0-9]{2})", cleaned)
    if found:
        return WrittenDate(_day(text, int(found[1]), int(found[2]), int(found[3])))
    found = re.fullmatch(r"([0-9]{1,2})\s?([-/.])\s?([0-9]{1,2})\s?\2\s?([0-9]{4}|[0-9]{2})", cleaned)
    if found:
        return _two_numbers(text, int(found[1]), int(found[3]), _year(found[4]), day_first=found[2] == ".")
    return _with_month_name(text, cleaned)


def _two_numbers(text: str, first: int, second: int, year: int, *, day_first: bool) -> WrittenDate:
    if first > 12 or (day_first and second <= 12):
        return WrittenDate(_day(text, year, second, first))
    read = _day(text, year, first, second)
    if second > 12 or first == second:
        return WrittenDate(read)
    other = _day(text, year, second, first)
    return WrittenDate(read, f"{text.strip()} was read as month/day/year, {read}; it could also be {other}")


def _with_month_name(text: str, cleaned: str) -> WrittenDate:
    parts = re.findall(r"[a-z]+|[0-9]+", cleaned)
    if len(parts) == 3 and re.fullmatch(r"[a-z0-9 ,./\-]+", cleaned):
        month = [number for part in parts if (number := _month(part))]
        numbers = [part for part in parts if part.isdigit()]
        if len(month) == 1 and len(numbers) == 2:
            year_first = len(numbers[0]) == 4
            day, year = (numbers[1], numbers[0]) if year_first else (numbers[0], numbers[1])
            if len(day) <= 2 and len(year) in (2, 4):
                return WrittenDate(_day(text, _year(year), month[0], int(day)))
    raise ValueError(f"{text.strip()!r} is no date; {_EXPECTED}")


def _month(word: str) -> int | None:
    if len(word) < 3:
        return None
    return next(
        (i for i, name in enumerate(MONTHS, 1) if name.startswith(word) or word == name[:3] + "t"), None
    )


def _year(digits: str) -> int:
    year = int(digits)
    return year if len(digits) == 4 else year + (2000 if year < 80 else 1900)


def _day(text: str, year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError:
        raise ValueError(f"{text.strip()!r} is no day of the calendar; {_EXPECTED}") from None


def what_was_typed(value: object, number_format: str | None) -> tuple[str, ...]:
    """Return the texts that a spreadsheet program may have turned into a date or time, likeliest first.

    Examples
    --------
    >>> what_was_typed(date(2026, 9, 2), "d-mmm"), what_was_typed(date(2026, 1, 2), "m/d/yy")
    (('9/2', 'SEP-2'), ('1/2', 'JAN-2'))
    >>> what_was_typed(time(10, 0), "h AM/PM")
    ('10 A', '10:00')
    """
    if isinstance(value, datetime):
        return (f"{value:%Y-%m-%d %H:%M}",)
    if isinstance(value, date):
        letters = re.sub(r"\[[^\]]*\]|\"[^\"]*\"|[^dmy]", "", (number_format or "").lower())
        name = MONTHS[value.month - 1][:3].upper()
        pair = (
            f"{value.day}/{value.month}"
            if re.match(r"d+m{1,2}(?!m)", letters)
            else f"{value.month}/{value.day}"
        )
        if value.day == 1 and letters.startswith("mmm"):
            return f"{name}-{value.year % 100}", f"{value.month}/{value.year % 100}"
        return pair, f"{name}-{value.day}"
    if isinstance(value, time):
        half = "A" if value.hour < 12 else "P"
        if value.minute or value.second:
            return (f"{value.hour}:{value.minute:02}",)
        return f"{value.hour % 12 or 12} {half}", f"{value.hour}:00"
    if isinstance(value, timedelta):
        return (f"{int(value.total_seconds() // 3600)}:{int(value.total_seconds() // 60 % 60):02}",)
    return ()


def in_words(said: date | str) -> str:
    """Return a date as the client reads it; a text that is no date as it is.

    Examples
    --------
    >>> in_words("2025-10-06"), in_words("autumn of 2025")
    ('October 6, 2025', 'autumn of 2025')
    """
    try:
        day = read_date(said).day if isinstance(said, str) else said
    except ValueError:
        return str(said)
    return f"{MONTHS[day.month - 1].capitalize()} {day.day}, {day.year}"

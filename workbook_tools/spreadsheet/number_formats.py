"""Numbers and dates as a spreadsheet file stores them.

    read_number       "1600" -> 1600.0; None for what is no finite number
    whole_number      "12" -> 12, for what a file counts or numbers
    number_text       shortest decimal of a stored number: "1600", not "1600.0"
    date_part         does a format code show a date, a time of day, an elapsed time?
    date_of_serial    45000 -> 2023-03-15
    date_text         ISO text of what date_of_serial gave
    BUILT_IN          format codes that files name by number only

Not here: whether a date belongs in a cell. The number and its format are kept so
that the caller can ask.
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from math import isfinite
from typing import Literal

__all__ = [
    "BUILT_IN",
    "DatePart",
    "date_of_serial",
    "date_part",
    "date_text",
    "number_text",
    "read_number",
    "whole_number",
]

DatePart = Literal["date", "time", "elapsed"]

# ECMA-376 part 1, 18.8.30 numFmt (from memory; the tests hold it against openpyxl's table).
BUILT_IN: dict[int, str] = {
    0: "General", 1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00",
    9: "0%", 10: "0.00%", 11: "0.00E+00", 12: "# ?/?", 13: "# ??/??",
    14: "mm-dd-yy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy",
    18: "h:mm AM/PM", 19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yy h:mm",
    37: "#,##0_);(#,##0)", 38: "#,##0_);[Red](#,##0)", 39: "#,##0.00_);(#,##0.00)",
    40: "#,##0.00_);[Red](#,##0.00)",
    45: "mm:ss", 46: "[h]:mm:ss", 47: "mmss.0", 48: "##0.0E+0", 49: "@",
}  # fmt: skip
# Dates in East Asian copies of the programs; elsewhere unused.
BUILT_IN.update(dict.fromkeys([*range(27, 37), *range(50, 59)], "yyyy/m/d"))

# Parts of a code that are shown as they stand: "quoted", \x, _x, *x and [bracketed].
LITERAL = re.compile(r'"[^"]*"?|\\.|_.|\*.|\[[^\]]*\]?', re.DOTALL)
ELAPSED = re.compile(r"\[(h+|m+|s+)\]", re.IGNORECASE)

PLAIN_INTEGER = re.compile(r"-?[1-9][0-9]{0,30}\Z")
MIDNIGHT = time()
LARGEST_COUNT = 999_999_999  # far more than any part of a workbook holds of anything


def read_number(raw: str) -> float | None:
    """Read a number as stored; None for NaN, INF, 1E400 and what is no number.

    Examples
    --------
    >>> read_number("1600"), read_number(" 4.5e-1 "), read_number("NaN"), read_number("1E400")
    (1600.0, 0.45, None, None)
    """
    if "_" in raw or not raw.isascii():
        return None
    try:
        value = float(raw)
    except ValueError:
        return None
    return value if isfinite(value) else None


def whole_number(raw: str | None) -> int | None:
    """Read a count, an index or an id: digits alone; None for what is none, or is not stated.

    Python refuses to convert digits by the thousand, so that one too long is the largest count.

    Examples
    --------
    >>> whole_number("12"), whole_number("9" * 5000), whole_number("-1"), whole_number(None)
    (12, 999999999, None, None)
    """
    if raw is None or not (raw.isascii() and raw.isdigit()):
        return None
    return int(raw) if len(raw) < 10 else LARGEST_COUNT


def number_text(raw: str, value: float) -> str:
    """Shortest decimal of a number; a whole number keeps every digit stored.

    Examples
    --------
    >>> number_text("1600.0", 1600.0), number_text("0.10000000000000001", 0.1)
    ('1600', '0.1')
    >>> number_text("12345678901234567", 12345678901234567.0), number_text("1E-7", 1e-07)
    ('12345678901234567', '0.0000001')
    """
    if PLAIN_INTEGER.match(raw):
        return raw
    shortest = repr(value)
    if shortest.endswith(".0"):
        return "0" if shortest == "-0.0" else shortest[:-2]
    if "e" in shortest and 1e-12 < abs(value) < 1e21:
        return format(Decimal(shortest), "f")
    return shortest


def date_part(code: str) -> DatePart | None:
    r"""Tell what a format code makes of a number: a date, a time, or none of them.

    Only the first section counts, and only letters that stand outside quotes.

    Examples
    --------
    >>> date_part("yyyy-mm-dd"), date_part("h:mm AM/PM"), date_part("[h]:mm:ss")
    ('date', 'time', 'elapsed')
    >>> date_part('0" kVA"'), date_part(r"0\d"), date_part("[Red]0.0"), date_part("General")
    (None, None, None, None)
    """
    section = LITERAL.sub(_keep_elapsed, code).split(";", 1)[0]
    if ELAPSED.search(section):
        return "elapsed"
    letters = section.lower()
    if "general" in letters or "@" in letters:
        return None
    if "y" in letters or "d" in letters:
        return "date"
    if "h" in letters or "s" in letters:
        return "time"
    return "date" if "m" in letters else None


def _keep_elapsed(found: re.Match[str]) -> str:
    return found.group() if ELAPSED.fullmatch(found.group()) else ""


def date_of_serial(
    serial: float, part: DatePart, *, from_1904: bool
) -> date | datetime | time | timedelta | None:
    """Calendar value of a stored serial number; None outside the calendar.

    Days count from 1900-01-01 as day 1, with a 29 February 1900 that never was
    (day 60, for which there is no date), or from 1904-01-01 as day 0.

    Examples
    --------
    >>> date_of_serial(45000, "date", from_1904=False)
    datetime.date(2023, 3, 15)
    >>> date_of_serial(99999999, "date", from_1904=False) is None
    True
    """
    if part == "elapsed":
        return timedelta(milliseconds=round(serial * 86_400_000)) if abs(serial) < 1e6 else None
    if not 0 <= serial < 2_958_466:
        return None
    whole, milliseconds = divmod(round(serial * 86_400_000), 86_400_000)
    clock = timedelta(milliseconds=milliseconds)
    if part == "time" and whole == 0:
        return (datetime.min + clock).time()
    if from_1904:
        first = date(1904, 1, 1)
    elif whole == 60 or whole == 0:
        return None
    else:
        first = date(1899, 12, 31) if whole < 60 else date(1899, 12, 30)
    try:
        day = first + timedelta(days=whole)
    except OverflowError:
        return None
    return datetime.combine(day, MIDNIGHT) + clock if milliseconds else day


def date_text(value: date | datetime | time | timedelta) -> str:
    """ISO text of a date or time; an elapsed time as hours:minutes:seconds.

    Examples
    --------
    >>> date_text(date(2026, 11, 3)), date_text(timedelta(hours=26, minutes=5))
    ('2026-11-03', '26:05:00')
    """
    if isinstance(value, timedelta):
        seconds = round(value.total_seconds())
        sign, seconds = ("-", -seconds) if seconds < 0 else ("", seconds)
        return f"{sign}{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
    return value.isoformat()

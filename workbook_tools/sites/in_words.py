"""How many surveys at once read in a terminal.

passed_over(counted)      "Passed over: 2 review workbooks, 1 lock file of an open workbook."
how_many(number, one)     "1,204 surveys"
"""

from __future__ import annotations

from collections.abc import Mapping

__all__ = ["how_many", "passed_over"]


def how_many(number: int, one: str) -> str:
    """Return a number with its noun; the words of a noun up to " of " take the plural.

    Examples
    --------
    >>> how_many(1, "survey"), how_many(1204, "lock file of an open workbook")
    ('1 survey', '1,204 lock files of an open workbook')
    """
    head, of, rest = one.partition(" of ")
    return f"{number:,} {head}{'' if number == 1 else 's'}{of}{rest}"


def passed_over(counted: Mapping[str, int]) -> str:
    """Return in one sentence what was passed over; "" for nothing.

    Examples
    --------
    >>> passed_over({"review workbook": 2, "lock file of an open workbook": 0, "client schedule": 1})
    'Passed over: 2 review workbooks, 1 client schedule.'
    """
    said = [how_many(number, what) for what, number in counted.items() if number]
    return f"Passed over: {', '.join(said)}." if said else ""

"""How large a survey may be: what is larger is refused at once, with a sentence.

    refuse_more_than(limit, survey)      where the survey has more rows than the limit
    refuse_more(limit, rows, name)       the same for rows that are no survey yet
    READ, REVIEWED, DELIVERED, FILLED    the limits, each of about 500 MB of memory and 30 seconds

Measured with panels of ten columns on a slow machine: 100,000 rows are checked in 25 s and 620 MB, 20,000 are
reviewed in 12 s and 320 MB, and delivered in 17 s and 610 MB; 10,000 are carried over in 11 s and 340 MB. Time and memory grow with the rows.
"""

from __future__ import annotations

from typing import NamedTuple

from workbook_tools.errors import Unusable
from workbook_tools.survey.model import Survey

__all__ = [
    "DELIVERED",
    "FILLED",
    "MOST_NAMES",
    "READ",
    "REVIEWED",
    "Limit",
    "refuse_more",
    "refuse_more_than",
]

MOST_NAMES = 200
"""Tags, photos or things in one cell; each may be asked about with the text of the whole cell."""


class Limit(NamedTuple):
    """The most rows of all tables together, and what is done with so many."""

    rows: int
    what: str


READ = Limit(80_000, "checked")
REVIEWED = Limit(30_000, "reviewed")
DELIVERED = Limit(15_000, "delivered")
FILLED = Limit(12_000, "carried over")


def refuse_more_than(limit: Limit, survey: Survey) -> None:
    """Raise Unusable where a survey has more rows than a limit."""
    refuse_more(limit, sum(map(len, survey.tables.values())), survey.path.name)


def refuse_more(limit: Limit, rows: int, name: str) -> None:
    """Raise Unusable where what is called so has more rows than a limit.

    Raises
    ------
    Unusable
        With the number of rows, the limit and what to do.
    """
    if rows > limit.rows:
        raise Unusable(
            f"{name} has {rows:,} rows, more than the {limit.rows:,} that can be {limit.what} in one go: "
            "make one of each building or floor."
        )

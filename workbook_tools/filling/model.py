"""What fill sources give: rows for the new workbook, and where every column of theirs went.

    Filling        tables, job details, extra columns and sheets, and the report
    FillReport     what was taken for what: `lines` for people, the lists for programs
    Placed         one column of a list: its samples, where it goes, and why
    Target         one column of the template: the sheet's key and the field
    ExtraSheet     a sheet (or stray cells) that fits no table, carried over as it was
    first_of(texts)   the first of several texts, and how many more

Nothing here reads or writes a file.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

__all__ = [
    "AS_SAID",
    "SERVED",
    "ExtraSheet",
    "FillReport",
    "Filling",
    "Placed",
    "TakenHeading",
    "Target",
    "first_of",
]

SERVED = "fed_from_of_what_it_serves"
"""In place of a field of Equipment: the column names what a piece feeds, so that each of those is fed from it."""


AS_SAID = "as the placement file says"
"""Why a column goes where a person put it."""


def first_of(texts: Sequence[str], most: int = 6, between: str = ", ") -> str:
    """Return the first of several texts in one, and how many more there are.

    Examples
    --------
    >>> first_of(["LP-1", "LP-2", "LP-3"], 2), first_of(["LP-1"])
    ('LP-1, LP-2 and 1 more', 'LP-1')
    """
    more = len(texts) - most
    return between.join(texts[:most]) + (f" and {more} more" if more > 0 else "")


class Target(NamedTuple):
    """A column of the template: the key of its sheet and its field."""

    key: str
    field: str


@dataclass(frozen=True, slots=True)
class TakenHeading:
    """A heading of a source and one place where its column (or its value) went; `field` is None for an extra column."""

    source: str
    heading: str
    key: str
    field: str | None
    exact: bool = True


@dataclass(frozen=True, slots=True)
class Placed:
    """One column (or label) of a source. No `targets`: it is kept as an extra column, on `key` where that is a sheet.

    `sure` is 1 for the column's own words and less the further the heading is from them; `doubt` marks what a
    person should look at: a heading that is only near, or cells that forbade what the heading says.
    """

    file: str
    sheet: str
    table: str
    heading: str
    samples: tuple[str, ...]
    targets: tuple[Target, ...]
    why: str
    key: str = ""
    sure: float = 1.0
    doubt: bool = False
    label: str = ""

    @property
    def taken(self) -> tuple[TakenHeading, ...]:
        """The heading with each of its places."""
        if not self.targets:
            return (TakenHeading(self.label, self.heading, self.key, None),) if self.key else ()
        return tuple(
            TakenHeading(self.label, self.heading, t.key, t.field, self.sure > 0.7) for t in self.targets
        )


@dataclass(frozen=True, slots=True)
class ExtraSheet:
    """Cells that fit no table of the template, as texts row by row; `source` says where they stood.

    `says` is the line on top where the sheet is not one that was kept as it was.
    """

    name: str
    source: str
    rows: tuple[tuple[str, ...], ...]
    says: str = ""


@dataclass(frozen=True, slots=True)
class FillReport:
    """What the filling did with its sources.

    `lines` say it to a person; `placement` has every column of every source, `extra_sheets` the names of sheets
    carried over as they were, `rows` how many rows each table received.
    """

    source: str
    lines: tuple[str, ...] = ()
    placement: tuple[Placed, ...] = ()
    extra_sheets: tuple[str, ...] = ()
    rows: Mapping[str, int] = field(default_factory=dict)

    @property
    def taken(self) -> tuple[TakenHeading, ...]:
        """Every heading that was placed, once for each place."""
        return tuple(t for placed in self.placement for t in placed.taken if t.field is not None)

    @property
    def kept(self) -> tuple[TakenHeading, ...]:
        """Every heading that is an extra column."""
        return tuple(t for placed in self.placement for t in placed.taken if t.field is None)


@dataclass(frozen=True, slots=True)
class Filling:
    """What to write into a new survey workbook.

    `tables` has for each table sheet its rows, each a mapping of field to text; a value of
    an extra column stands in the row under its heading as listed in `extra_columns` (by
    sheet key, in the order of the source; never the name of a field). `job` has the answers of
    the label sheet by field; `extra_job` (label, value) pairs that it has no label for.
    `extra_sheets` follow behind the workbook's own sheets, and `how_filled` behind those.
    """

    tables: Mapping[str, Sequence[Mapping[str, str]]] = field(default_factory=dict)
    job: Mapping[str, str] = field(default_factory=dict)
    extra_columns: Mapping[str, Sequence[str]] = field(default_factory=dict)
    extra_job: Sequence[tuple[str, str]] = ()
    extra_sheets: Sequence[ExtraSheet] = ()
    how_filled: ExtraSheet | None = None
    report: FillReport | None = None

"""What a fill source gives: rows for the new workbook, and what became of every heading.

    Filling        tables, job details, extra columns and sheets, and the report
    FillReport     what was taken for what: `lines` for people, the lists for programs
    ExtraSheet     a sheet (or stray cells) that fits no table, carried over as it was

Nothing here reads or writes a file.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

__all__ = ["ExtraSheet", "FillReport", "Filling", "TakenHeading"]


@dataclass(frozen=True, slots=True)
class TakenHeading:
    """A heading of the source and where its column (or its value) went.

    `key` and `field` are the template's; `field` is None where the column is kept as an
    extra column under its own heading. `exact` is False where the words were only near.
    """

    source: str
    heading: str
    key: str
    field: str | None
    exact: bool = True


@dataclass(frozen=True, slots=True)
class ExtraSheet:
    """Cells that fit no table of the template, as texts row by row; `source` says where they stood."""

    name: str
    source: str
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class FillReport:
    """What the filling did with its source.

    `lines` say it to a person; `taken` has every heading that was placed, `kept` every one
    that is an extra column, `extra_sheets` the names of sheets carried over as they were,
    `rows` how many rows each table received.
    """

    source: str
    lines: tuple[str, ...] = ()
    taken: tuple[TakenHeading, ...] = ()
    kept: tuple[TakenHeading, ...] = ()
    extra_sheets: tuple[str, ...] = ()
    rows: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Filling:
    """What to write into a new survey workbook.

    `tables` has for each table sheet its rows, each a mapping of field to text; a value of
    an extra column stands in the row under its heading as listed in `extra_columns` (by
    sheet key, in the order of the source; never the name of a field). `job` has the answers of
    the label sheet by field; `extra_job` (label, value) pairs that it has no label for.
    `extra_sheets` follow behind the workbook's own sheets.
    """

    tables: Mapping[str, Sequence[Mapping[str, str]]] = field(default_factory=dict)
    job: Mapping[str, str] = field(default_factory=dict)
    extra_columns: Mapping[str, Sequence[str]] = field(default_factory=dict)
    extra_job: Sequence[tuple[str, str]] = ()
    extra_sheets: Sequence[ExtraSheet] = ()
    report: FillReport | None = None

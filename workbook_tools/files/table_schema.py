"""Tables as they are handed over: rows, and what each column holds.

    DataTable    name, title, rows, key, and which columns number rows of another table
    DataField    one column: type, heading, description with its unit
    MISSING      what stands in place of a value of a survey, and what it means

Not here: which tables there are and their files (data_package).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

__all__ = ["MISSING", "Cell", "DataField", "DataTable", "number"]

Cell = str | int | float | None

MISSING = {
    "": "the cell was left blank",
    "N/V": "not visible: the inspector looked and could not see it",
    "N/A": "not applicable",
    "(not readable)": "what was typed cannot be read as what the column holds; it stands in as_typed",
}
"""What stands in place of a value of a survey, and what it means."""


@dataclass(frozen=True)
class DataField:
    """One column: a Table Schema type, the heading people know, and what it holds with its unit."""

    name: str
    type: str
    title: str
    description: str
    constraints: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class DataTable:
    """One table. `refers` maps a column of numbers to the table whose key they are; `missing` as `MISSING`."""

    name: str
    title: str
    description: str
    fields: tuple[DataField, ...]
    rows: list[list[Cell]]
    key: tuple[str, ...] = ("row",)
    refers: dict[str, str] = field(default_factory=dict)
    missing: dict[str, str] = field(default_factory=MISSING.copy)


def number(value: float | None, places: int = 6) -> int | float | None:
    """Return a number rounded for handing over, a whole one without a point.

    Examples
    --------
    >>> number(225.0), number(90.210979560879, 3), number(None)
    (225, 90.211, None)
    """
    if value is None:
        return None
    rounded = round(value, places)
    return int(rounded) if rounded == int(rounded) else rounded

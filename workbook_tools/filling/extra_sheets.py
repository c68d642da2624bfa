"""Sheets of a source that are kept as they were.

as_rows(texts)                   texts by place as rows, blank rows and columns closed up
free_sheet_name(name, taken)     a name that a sheet can have and that is not taken
typed_alone(sheet, found, ...)   the texts of a survey's sheet without what the workbook makes itself
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from workbook_tools.definitions import Sheet
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.survey.headings import SheetFound

__all__ = ["as_rows", "free_sheet_name", "typed_alone"]

_LONGEST_NAME = 31


def as_rows(texts: Mapping[tuple[int, int], str]) -> tuple[tuple[str, ...], ...]:
    """Return texts row by row, with blank rows and columns closed up.

    Examples
    --------
    >>> as_rows({(2, 1): "What", (2, 9): "Cost", (70, 9): "12"})
    (('What', 'Cost'), ('', '12'))
    """
    by_row: dict[int, dict[int, str]] = {}
    for (row, column), text in texts.items():
        by_row.setdefault(row, {})[column] = text
    columns = {column: i for i, column in enumerate(sorted({column for _, column in texts}))}
    rows: list[tuple[str, ...]] = []
    for row in sorted(by_row):
        cells = [""] * len(columns)
        for column, text in by_row[row].items():
            cells[columns[column]] = text
        rows.append(tuple(cells))
    return tuple(rows)


def free_sheet_name(name: str, taken: Iterable[str]) -> str:
    """Return the name as a sheet can have it, numbered where it is taken.

    Examples
    --------
    >>> free_sheet_name("Costs 2025/26", ["Rooms"]), free_sheet_name("rooms", ["Rooms"])
    ('Costs 2025 26', 'rooms (2)')
    """
    kept = (
        "".join(" " if c in "[]:*?/\\" or ord(c) < 32 else c for c in name)
        .strip(" '")[:_LONGEST_NAME]
        .strip(" '")
    )
    kept = kept or "Kept"
    known = {other.casefold() for other in taken} | {"history"}
    candidate, number = kept, 2
    while candidate.casefold() in known:
        candidate, number = f"{kept[:25]} ({number})", number + 1
    return candidate


def typed_alone(
    sheet: SourceSheet, found: SheetFound, definition: Sheet, printed: Collection[str]
) -> dict[tuple[int, int], str]:
    """Return what people typed into a survey's sheet: no live cells, no words that the workbook prints itself."""
    typed = {place for place in sheet.grid.texts if place[0] > found.row and place not in sheet.computed}
    columns = {column for _, column in typed}
    columns |= {column for field, column in found.columns.items() if not definition.by_field[field].live}
    return {
        (row, column): text
        for (row, column), text in sheet.grid.texts.items()
        if (row, column) in typed
        or (row == found.row and column in columns)
        or (row < found.row and text.strip() not in printed)
    }

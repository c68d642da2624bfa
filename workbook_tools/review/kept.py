"""What a reviewer wrote into the review workbook beside the answers that it asks for.

    Stray                            a text with the place it stood at
    own_headings(row, known)         the columns of a table that are the reviewer's own, by their headings
    strays_of(name, rows, mine)      the texts of a sheet that the workbook did not write itself
    strays_again(rows)               what the sheet CARRIED_OVER of an earlier review keeps

A column goes on with its rows. A text that belongs to no row, or stands on a sheet of the
reviewer's own, is kept on the sheet CARRIED_OVER. Nothing that somebody wrote is dropped.

Not here: reading answers (reading), writing sheets (sheets).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import NamedTuple

from workbook_tools.definitions import spelling
from workbook_tools.spreadsheet.cells import cell_name, column_letters

__all__ = ["CARRIED_OVER", "STRAY_HEADINGS", "Stray", "own_headings", "strays_again", "strays_of"]

CARRIED_OVER = "Carried over"
STRAY_HEADINGS = ("From", "Cell", "Text")


class Stray(NamedTuple):
    """A text of the reviewer's own, and the sheet and cell where it first stood."""

    sheet: str
    cell: str
    text: str


def own_headings(
    headings: Mapping[int, str], known: Collection[int], filled: Iterable[int], taken: Iterable[str]
) -> dict[int, str]:
    """Return the reviewer's own columns with a heading for each, no two of them alike.

    Parameters
    ----------
    headings : mapping of int to str
        The row of the headings, by column.
    known : collection of int
        The columns that the workbook has itself.
    filled : iterable of int
        The columns with anything in a row of the table.
    taken : iterable of str
        Headings that are the workbook's.

    Examples
    --------
    >>> own_headings({1: "Rule", 2: "Who", 3: "Reason"}, [1], [1, 2, 5], ["Reason"])
    {2: 'Who', 3: 'Reason (2)', 5: 'Column E'}
    """
    used = {spelling(heading) for heading in taken}
    own = {}
    for column in sorted({*headings, *filled} - set(known)):
        said = " ".join(headings.get(column, "").split()) or f"Column {column_letters(column)}"
        name, number = said, 2
        while spelling(name) in used:
            name, number = f"{said} ({number})", number + 1
        used.add(spelling(name))
        own[column] = name
    return own


def strays_of(
    name: str, rows: Mapping[int, Mapping[int, str]], mine: Collection[tuple[int, int]]
) -> list[Stray]:
    """Return the texts of a sheet but for those at the places in `mine`."""
    return [
        Stray(name, cell_name(row, column), text)
        for row in sorted(rows)
        for column, text in sorted(rows[row].items())
        if (row, column) not in mine
    ]


def strays_again(name: str, rows: Mapping[int, Mapping[int, str]]) -> list[Stray] | None:
    """Return what an earlier review kept; None where the sheet is not the one that keeps it."""
    first = min(rows, default=0)
    if not first or tuple(rows[first].get(column) for column in (1, 2, 3)) != STRAY_HEADINGS:
        return None
    kept, mine = [], {(first, 1), (first, 2), (first, 3)}
    for row in sorted(rows):
        cells = rows[row]
        if row > first and 1 in cells and 3 in cells:
            kept.append(Stray(cells[1], cells.get(2, ""), cells[3]))
            mine |= {(row, 1), (row, 2), (row, 3)}
    return [*kept, *strays_of(name, rows, mine)]

"""Which sheet of a file is which table, which of its rows holds the headings, and what each heading means.

    Grid(name, texts, merged)         one sheet of a file, as texts by (row, column)
    find_sheets(grids, template)      a SheetFound for each grid, in the same order
    find_table(grid, sheet)           one grid as one table, or None
    find_labels(grid, sheet)          one grid as labels with a value beside each, or None
    match_heading(text, sheet)        one heading, exactly: its own words, a synonym, with or without a unit
    SheetFound, Heading               what was found; `exact` is False where the words are only near

Sheets are told by their headings first and by their name second, columns by the words of
their heading only, never by position. A heading that could mean two fields means neither
and is left over. Nothing is dropped here: every heading of a table comes back, with its
field or without.

Not here: reading values (the survey reader), and carrying rows over (filling).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from workbook_tools.definitions import Sheet, Template
from workbook_tools.survey.found_headings import (
    HEADING_ROWS,
    FirstRows,
    Fits,
    Grid,
    Heading,
    SheetFound,
    name_points,
)
from workbook_tools.survey.heading_words import match_heading
from workbook_tools.survey.label_headings import find_labels
from workbook_tools.survey.table_headings import find_table, likely_rows

__all__ = [
    "HEADING_ROWS",
    "Grid",
    "Heading",
    "SheetFound",
    "find_labels",
    "find_sheets",
    "find_table",
    "match_heading",
]


def find_sheets(grids: Sequence[Grid], template: Template, *, fits: Fits | None = None) -> list[SheetFound]:
    """Say for each sheet of a file which sheet of the template it is.

    Parameters
    ----------
    grids : sequence of Grid
        The sheets in the order of the file.
    template : Template
        Whose sheets and headings are looked for.
    fits : callable, optional
        Asked with a column and the texts below a heading before a heading that is not the
        column's own is taken for it. Without it, only near headings are looked at closely.

    Returns
    -------
    found : list of SheetFound
        One for each grid, in the same order.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> old = Grid("Panels 2019", {(1, 1): "Panel", (1, 2): "Amps", (1, 3): "Volts", (2, 1): "LP-1"})
    >>> found, = find_sheets([old], load_template("office"))
    >>> found.key, found.columns
    ('equipment', {'tag': 1, 'rating_a': 2, 'voltage': 3})
    """
    found = [_best(grid, template, fits) for grid in grids]
    for key in {f.key for f in found if f.key is not None}:
        same = [i for i, f in enumerate(found) if f.key == key]
        first = max(same, key=lambda i: (found[i].score, -i))
        for i in same:
            if i != first:
                found[i] = replace(found[i], rival=True)
    return found


def _best(grid: Grid, template: Template, fits: Fits | None) -> SheetFound:
    # The cells of a guide and of lists hold headings of other sheets: only the name tells them.
    for sheet in template.sheets:
        if sheet.layout in ("guide", "lists") and name_points(grid.name, sheet):
            return SheetFound(grid.name, sheet.key, named=True)
    best = SheetFound(grid.name)
    tables: list[tuple[float, Sheet]] = []
    first = FirstRows(grid)
    for sheet in template.sheets:
        if sheet.layout == "labels":
            found = find_labels(grid, sheet, fits=fits, first=first)
            best = found if found is not None and found.score > best.score else best
        elif sheet.layout == "table":
            likely = likely_rows(grid, sheet, first)
            points = max((row.points for row in likely), default=0.0)
            tables.append((name_points(grid.name, sheet) + points, sheet))
    # Near words take long to look for, and never make up for half of the exact ones.
    most = max((points for points, _ in tables), default=0.0)
    for points, sheet in tables:
        found = find_table(grid, sheet, fits=fits, first=first) if points and points * 2 >= most else None
        best = found if found is not None and found.score > best.score else best
    return best

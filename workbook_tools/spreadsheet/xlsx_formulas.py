"""The formulas of one .xlsx sheet that are stated once and hold for several cells.

    FormulasOfSheet    gives every cell that shows a result its formula

A shared formula stands in its first cell; the others only say its number. An array formula
stands in its first cell with the block it fills; the others look like typed values.

Not here: a formula of its own cell, which is only text (xlsx_cells.with_formula).
"""

from __future__ import annotations

from workbook_tools.spreadsheet.cells import Range, Sheet, position
from workbook_tools.spreadsheet.xlsx_cells import with_formula

__all__ = ["FormulasOfSheet", "range_of"]

MOST_LOOKED_AT = 20_000_000  # cells, when marking the results of array formulas


class FormulasOfSheet:
    """The shared and the array formulas of a sheet, as far as they are read."""

    def __init__(self) -> None:
        self._shared: dict[str, str] = {}
        self._arrays: list[tuple[str, str]] = []

    def note(self, formula: str, stated: dict[str, str]) -> str:
        """Remember a formula for other cells where it says so; give it, or the shared one it continues."""
        kind = stated.get("t")
        if kind == "shared":
            number = stated.get("si", "")
            if not formula:
                return self._shared.get(number, "")
            self._shared[number] = formula
        elif kind in ("array", "dataTable") and ":" in stated.get("ref", ""):
            self._arrays.append((stated["ref"], formula))
        return formula

    def mark_array_results(self, sheet: Sheet) -> None:
        """Give the cells that an array formula fills that formula; those with one of their own keep it."""
        looked_at = 0
        for reference, formula in self._arrays:
            block = range_of(reference)
            if block is None:
                continue
            looked_at += min(block.size, len(sheet.cells))
            if looked_at > MOST_LOOKED_AT:
                says = "There are too many array formulas to follow: some of their results may be read as typed values."
                sheet.note_damage(None, "", says)
                return
            for place in block.places() if block.size < len(sheet.cells) else list(sheet.cells):
                cell = sheet.cells.get(place)
                if cell is not None and cell.formula is None and block.holds(place):
                    sheet.cells[place] = with_formula(cell, formula)


def range_of(reference: str) -> Range | None:
    """Range that a file names by its corners, in whatever order; None when it is none.

    Examples
    --------
    >>> range_of("C5:A2"), range_of("B2"), range_of("B2:")
    (Range(top=2, left=1, bottom=5, right=3), Range(top=2, left=2, bottom=2, right=2), Range(top=2, left=2, bottom=2, right=2))
    >>> range_of("everything") is None
    True
    """
    first, _, second = reference.partition(":")
    one, other = position(first), position(second or first)
    if one is None or other is None:
        return None
    return Range(min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1]))

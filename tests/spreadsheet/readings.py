"""What is expected of one file, and what was read, in the same form.

OddFile            a file, its cells, formulas, damaged places, hidden sheets
cells_read(...)    a Workbook's cells in the form of OddFile.cells
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from workbook_tools.spreadsheet import Cell, Workbook, cell_name

__all__ = ["Expected", "OddFile", "cells_read", "damage_read", "formulas_read"]

# A text, a number or a boolean as itself; anything else as (kind, text).
Expected = str | float | bool | tuple[str, str]


class OddFile(NamedTuple):
    """One file of the corpus.

    `cells` by sheet and cell; `formulas` lists "Sheet!A1" of every formula cell;
    `damage` lists "Sheet!A1", "Sheet" or "" for every damaged place, in any order.
    A sheet name that comes twice is written with "|2" the second time.
    """

    name: str
    content: bytes
    cells: Mapping[str, Mapping[str, Expected]]
    formulas: Sequence[str] = ()
    damage: Sequence[str] = ()
    hidden: Sequence[str] = ()
    pictures: Sequence[str] = ()
    merged: Sequence[str] = ()


def _sheet_names(workbook: Workbook) -> list[str]:
    seen: dict[str, int] = {}
    names = []
    for sheet in workbook.sheets:
        seen[sheet.name] = seen.get(sheet.name, 0) + 1
        names.append(sheet.name if seen[sheet.name] == 1 else f"{sheet.name}|{seen[sheet.name]}")
    return names


def _as_expected(cell: Cell) -> Expected:
    if cell.kind == "text":
        return cell.text
    if cell.kind in ("number", "bool"):
        assert isinstance(cell.value, (float, bool))
        return cell.value
    return (cell.kind, cell.text)


def cells_read(workbook: Workbook) -> dict[str, dict[str, Expected]]:
    """Cells by sheet and name, in the form of `OddFile.cells`."""
    return {
        name: {cell_name(*place): _as_expected(cell) for place, cell in sheet.cells.items()}
        for name, sheet in zip(_sheet_names(workbook), workbook.sheets, strict=True)
    }


def formulas_read(workbook: Workbook) -> list[str]:
    """Names of the formula cells, "Sheet!A1"."""
    return [
        f"{name}!{cell_name(*place)}"
        for name, sheet in zip(_sheet_names(workbook), workbook.sheets, strict=True)
        for place, cell in sheet.cells.items()
        if cell.formula is not None
    ]


def damage_read(workbook: Workbook) -> list[str]:
    """Places of the damage, "Sheet!A1", "Sheet" or ""."""
    return sorted(f"{d.sheet}!{d.cell}" if d.cell else d.sheet for d in workbook.damage)

"""Tables out of texts: cells, rows, and what is known of a piece of equipment.

    words_of(text)          a text as it stands in a cell
    row_of(cells, ...)      a row; a long one may go on over the end of a page
    one_table(columns, rows)
    named(parts)            what is known, and what is not with its name
    FEW                     rows of a chapter that needs no page of its own

Not here: the chapters (lists, work_list, since_last).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from workbook_tools.schedule.equipment_texts import NONE, NOT_RECORDED, NOT_VISIBLE
from workbook_tools.typesetting.model import Band, Column, Row, Run, Table, Words

__all__ = ["FEW", "named", "one_table", "row_of", "words_of"]

_LONGEST_WHOLE = 900
"""Letters of a row that is kept on one page."""


FEW = 12
"""Rows of a chapter that needs no page of its own: it stands whole below the one before, or on the next page."""


def words_of(text: str, strong: bool = False) -> Words:
    """Return a text as it stands in a cell."""
    return (Run(text, strong=strong),) if text else ()


def row_of(*cells: Words | str, id: str = "", short: bool = False) -> Row:
    """Return a row of cells; one with a very long text may go on over the end of a page."""
    made = tuple(words_of(cell) if isinstance(cell, str) else cell for cell in cells)
    longest = max(sum(len(run.text) for run in cell) for cell in made)
    return Row(made, id, longest <= _LONGEST_WHOLE, short)


def one_table(columns: Sequence[Column], rows: Sequence[Row]) -> tuple[Table, ...]:
    """Return the tables of a chapter that has one, without a heading of its own."""
    return (Table("", tuple(columns), (Band("", tuple(rows)),)),)


def named(parts: Iterable[tuple[str, str]]) -> list[str]:
    """Return what is known, and what is not with its name: "maker not visible".

    Examples
    --------
    >>> named((("maker", "Pellbrook"), ("main device", "-"), ("short-circuit rating", "not visible")))
    ['Pellbrook', 'short-circuit rating not visible']
    """
    return [
        f"{name} {text}" if text in (NOT_VISIBLE, NOT_RECORDED) else text
        for name, text in parts
        if text and text != NONE
    ]

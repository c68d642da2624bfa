"""Lists that are no table of rows below headings: lying across, or labels with values.

    across(sheet, homes, ...) labels in the first column, a piece in each column beside it, or one below the other
    scattered(sheet, homes)  labels with their values anywhere in the first rows, as above the circuits of one panel

Each gives an ordinary Table, or None where the sheet is no such list.

Not here: lines of text (lines_of_text).
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Collection
from typing import NamedTuple

from workbook_tools.definitions import Template, spelling
from workbook_tools.filling.column_values import fitness
from workbook_tools.filling.heading_rows import Cells, TableHeading
from workbook_tools.filling.homes import NEAR, Home, Homes
from workbook_tools.filling.sources import SourceSheet
from workbook_tools.filling.tables import Table
from workbook_tools.survey import Equipment, Transformer
from workbook_tools.survey.found_headings import LONGEST_HEADING, one_line

__all__ = ["across", "scattered"]

_OF_A_PIECE = (Equipment.key, Transformer.key)
_FEWEST_LABELS = 3
_HEADING_ROWS = 20
_LOOKED_AT = 60
_LONGEST_TAG = 40
_LABELLED = re.compile(r"\s*([^:\d][^:]{0,50}?)\s*:\s*(\S.*)", re.DOTALL)


class _Label(NamedTuple):
    """A label, where it stands, and its values with their places; `shown` is how it stands there, where that means nothing."""

    text: str
    at: tuple[int, int]
    values: dict[int, tuple[tuple[int, int], str]]
    shown: str = ""


def across(sheet: SourceSheet, homes: Homes, template: Template) -> Table | None:
    """Read a sheet whose first column holds the headings."""
    rows: dict[int, Cells] = {}
    for (row, column), text in sorted(sheet.grid.texts.items()):
        rows.setdefault(row, {})[column] = text
    first = _labels(dict(itertools.islice(rows.items(), _LOOKED_AT)))
    if (
        len({home.place for label in first if (home := _home(label.text, homes)) is not None})
        < _FEWEST_LABELS
    ):
        return None
    labels = _labels(rows)
    known = {home.place for label in labels if (home := _home(label.text, homes)) is not None}
    in_rows = max((_known(cells, homes) for row, cells in rows.items() if row <= _HEADING_ROWS), default=0)
    naming = homes.naming({i: (label.text,) for i, label in enumerate(labels, 1)})
    if len(known) < _FEWEST_LABELS or len(known) <= in_rows:
        return None
    if not _names_a_piece(naming, labels, homes) and _heads_pieces(rows, labels):
        # Whatever stands in the corner: the first row names the pieces.
        labels = [_with_tags(rows), *(label for label in labels if label.at[0] != next(iter(rows)))]
        naming = 1
    if not naming:
        return None
    if not any(home.column.field == Equipment.tag.name for home in homes.of((labels[naming - 1].text,))):
        return None
    if not _answer(labels, homes, template):
        return None
    return _table(sheet, labels, spelling(labels[naming - 1].text))


def _answer(labels: list[_Label], homes: Homes, template: Template) -> bool:
    """Whether what stands beside the labels answers them: figures beside what is measured."""
    measured = [
        (home, label)
        for label in labels
        if (home := _home(label.text, homes)) is not None and home.column.unit
    ]
    fit = [
        fitness(home.column, [text for _, text in label.values.values()], template) > 0
        for home, label in measured
    ]
    return sum(fit) * 2 >= len(fit)


def _names_a_piece(naming: int, labels: list[_Label], homes: Homes) -> bool:
    named = homes.of((labels[naming - 1].text,)) if naming else ()
    return any(home.column.field == Equipment.tag.name for home in named)


def _heads_pieces(rows: dict[int, Cells], labels: list[_Label]) -> bool:
    """Whether the first row holds a different short name over each column of answers."""
    first, corner = next(iter(rows.values())), min(column for cells in rows.values() for column in cells)
    names = [text for column, text in first.items() if column != corner or len(first) == 1]
    widest = max((len(label.values) for label in labels), default=0)
    return (
        len(names) >= max(1, widest)
        and len(set(names)) == len(names)
        and all(_is_one_tag(name) for name in names)
    )


def _with_tags(rows: dict[int, Cells]) -> _Label:
    row, cells = next(iter(rows.items()))
    first = min(column for others in rows.values() for column in others)
    values = {c: ((row, c), text) for c, text in cells.items() if c != first}
    return _Label("Tag", (row, first), values, one_line(cells.get(first, "")))


def _labels(rows: dict[int, Cells]) -> list[_Label]:
    first = min((column for cells in rows.values() for column in cells), default=1)
    out = []
    for row, cells in rows.items():
        text = cells.get(first, "")
        inside = _LABELLED.fullmatch(text)
        if inside is not None and len(cells) == 1:
            out.append(_Label(one_line(inside[1]), (row, first), {first: ((row, first), inside[2])}))
        elif text and len(text) <= LONGEST_HEADING:
            values = {c: ((row, c), said) for c, said in cells.items() if c != first}
            out.append(_Label(one_line(text).rstrip(": "), (row, first), values))
    return out


def _home(text: str, homes: Homes, keys: Collection[str] = ()) -> Home | None:
    return next((h for h in homes.of((text,)) if h.sure > NEAR and (not keys or h.sheet.key in keys)), None)


def _known(cells: Cells, homes: Homes) -> int:
    return len(
        {home.place for text in cells.values() if (home := _home(text.rstrip(": "), homes)) is not None}
    )


def _table(sheet: SourceSheet, labels: list[_Label], naming: str) -> Table:
    """Make rows of it: each time that the naming label comes again, another piece begins."""
    headings: dict[str, int] = {}
    table = Table(sheet, 1, {}, {}, said="its headings stand in the first column")
    places: dict[tuple[int, int], tuple[int, int]] = {}
    leading = spelling(labels[0].text)
    repeated = sum(spelling(label.text) == leading for label in labels) > 1
    starts = leading if repeated else naming
    block, pieces = 0, max((max(label.values, default=1) for label in labels), default=1)
    seen = False
    for label in labels:
        if spelling(label.text) == starts:
            block += seen
            seen = True
        column = headings.setdefault(spelling(label.text), len(headings) + 1)
        table.headings.setdefault(column, TableHeading(label.shown or label.text, (label.text,)))
        for piece, (place, text) in label.values.items():
            row = block * (pieces + 1) + piece
            table.rows.setdefault(row, {})[column] = text
            places[row, column] = place
    table.rows = dict(sorted(table.rows.items()))
    table.places = places
    # A first label without a value is the title of the sheet, whatever else it could mean.
    table.labels = frozenset(label.at for label in labels if label.values or label is not labels[0])
    return table


def scattered(sheet: SourceSheet, homes: Homes, template: Template) -> Table | None:
    """Read the labels of one piece that stand in the first rows: "PANEL: LP-1   VOLTS: 208Y/120", in cells or one."""
    rows: dict[int, Cells] = {}
    for (row, column), text in sorted((p, t) for p, t in sheet.grid.texts.items() if p[0] <= _HEADING_ROWS):
        rows.setdefault(row, {})[column] = text
    found: dict[tuple[str, str], tuple[str, tuple[int, int], str]] = {}
    measured = False
    for row, cells in rows.items():
        labels = {c: home for c, text in cells.items() if (home := _label_of(text, homes)) is not None}
        apart = {c for c in labels if _LABELLED.fullmatch(cells[c]) is None}
        if len(apart) * 2 > len(cells):
            continue  # more labels than answers: the headings of a table
        for column, home in labels.items():
            inside = _LABELLED.fullmatch(cells[column])
            at, value = (column, inside[2]) if inside is not None else _beside(cells, column, labels)
            fits = fitness(home.column, [value], template) if value else -1
            if home.place not in found and (fits == 1 or (fits == 0 and inside is not None)):
                label = inside[1] if inside is not None else cells[column].rstrip(": ")
                found[home.place] = (one_line(label), (row, at), value)
                measured = measured or (fits == 1 and bool(home.column.unit))
    naming = found.get((Equipment.key, Equipment.tag.name))
    if len(found) < _FEWEST_LABELS or not measured or naming is None or not _is_one_tag(naming[2]):
        return None
    table = Table(sheet, 1, {}, {1: {}}, said="one piece, from its labels")
    places: dict[tuple[int, int], tuple[int, int]] = {}
    for number, (label, place, value) in enumerate(found.values(), 1):
        table.headings[number] = TableHeading(label, (label,))
        table.rows[1][number] = value
        places[1, number] = place
    table.places = places
    return table


def _label_of(text: str, homes: Homes) -> Home | None:
    inside = _LABELLED.fullmatch(text)
    label = inside[1] if inside is not None else text.rstrip(": ")
    if len(label) > LONGEST_HEADING or any(c.isdigit() for c in label):
        return None
    return _home(label, homes, _OF_A_PIECE)


def _is_one_tag(text: str) -> bool:
    return len(text) <= _LONGEST_TAG and (
        any(c.isdigit() for c in text) or not any(c.isspace() for c in text)
    )


def _beside(cells: Cells, column: int, labels: Collection[int]) -> tuple[int, str]:
    """Return the value of a label: the next cell of its row, where that is no label itself."""
    for at in range(column + 1, column + 4):
        if at in cells:
            return (at, "") if at in labels else (at, cells[at])
    return column, ""

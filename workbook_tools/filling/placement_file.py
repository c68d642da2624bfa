"""The placement as a file that a person can correct, and that the next list of the same client is filled by.

    write_placement(path, placed, template)   the columns of every list as CSV
    read_placement(path, template)            Corrections
    Corrections.of(column)                    what the file says of a column of a list
    placement_rows(placed, template)          the same as rows of texts, heading first

Columns: file, sheet, table, heading, samples, goes_to_sheet, goes_to_column, why. Several targets are joined by
" + "; a blank target keeps the column as an extra. A line counts for the column of its file, sheet, table and
heading; for another file's column of the same heading where the file says one thing of it.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from workbook_tools.definitions import Sheet, Template, spelling
from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file
from workbook_tools.files.csv_text import unguarded, write_csv
from workbook_tools.filling.csv_tables import read_csv
from workbook_tools.filling.model import SERVED, Placed, Target
from workbook_tools.survey.heading_words import match_heading
from workbook_tools.survey.own_texts import HOW_FILLED_COLUMNS

__all__ = ["Corrections", "in_words", "placement_rows", "read_placement", "write_placement"]

_NEEDED = ("heading", "goes_to_sheet", "goes_to_column")
_JOINED, _SAMPLES = " + ", " | "
_SERVED_WORDS = "Fed from of what it serves"

Place = tuple[str, str, str, str]


def in_words(targets: Sequence[Target], template: Template) -> tuple[str, str]:
    """Return the sheets and the columns of targets as they are written down."""
    sheets = [template.by_key[target.key].name for target in targets]
    columns = [_heading(target, template) for target in targets]
    return _JOINED.join(dict.fromkeys(sheets) if len(set(sheets)) == 1 else sheets), _JOINED.join(columns)


def _heading(target: Target, template: Template) -> str:
    if target.field == SERVED:
        return _SERVED_WORDS
    return template.by_key[target.key].by_field[target.field].heading


def placement_rows(placed: Iterable[Placed], template: Template) -> list[tuple[str, ...]]:
    """Return the placement as rows of texts, its headings first."""
    rows: list[tuple[str, ...]] = [HOW_FILLED_COLUMNS]
    for one in placed:
        sheets, columns = in_words(one.targets, template)
        rows.append(
            (
                one.file,
                one.sheet,
                one.table,
                one.heading,
                _SAMPLES.join(one.samples),
                sheets,
                columns,
                one.why,
            )
        )
    return rows


def write_placement(
    path: str | os.PathLike[str], placed: Iterable[Placed], template: Template, *, force: bool = False
) -> Path:
    """Write the placement as CSV that a spreadsheet program opens.

    Raises
    ------
    Unusable
        A file stands there already, or nothing can be written there.
    """
    with whole_file(path, force=force) as temporary:
        temporary.write_bytes(write_csv(placement_rows(placed, template)))
    return Path(path)


@dataclass
class Corrections:
    """What a placement file says: by file, sheet, table and heading in their order, and by heading alone."""

    name: str
    exact: dict[Place, list[tuple[Target, ...]]] = field(default_factory=dict)
    by_heading: dict[str, set[tuple[Target, ...]]] = field(default_factory=dict)
    headings: dict[str, None] = field(default_factory=dict)
    used: set[str] = field(default_factory=set)

    def of(self, place: Place, nth: int = 0) -> tuple[Target, ...] | None:
        """Return the targets of a column, () for an extra, None where the file says nothing of it.

        Parameters
        ----------
        place : tuple of str
            File, sheet, table and heading.
        nth : int
            Which of the columns of that heading in the table, from 0.
        """
        listed = self.exact.get(place, [])
        heading = spelling(place[3])
        if nth < len(listed):
            self.used.add(heading)
            return listed[nth]
        said = self.by_heading.get(heading, set())
        if len(said) != 1:
            return None
        self.used.add(heading)
        return next(iter(said))


def read_placement(path: str | os.PathLike[str], template: Template) -> Corrections:
    """Read a placement file.

    Raises
    ------
    Unusable
        It cannot be read, has not the columns of one, or names a sheet or a column that the template does not have:
        with the row, what was read, and the nearest that there is.
    """
    file = Path(path)
    if not file.is_file():
        raise Unusable(f"There is no placement file at {file}: check the path.")
    texts = read_csv(file).texts
    first = {text.strip().casefold(): column for (row, column), text in texts.items() if row == 1}
    missing = [name for name in _NEEDED if name not in first]
    if missing:
        raise Unusable(
            f"{file.name} is no placement file: its first row has no {', '.join(missing)}; write one with --placement-only."
        )
    out = Corrections(file.name)
    for row in range(2, max((row for row, _ in texts), default=1) + 1):
        cells = {name: unguarded(texts.get((row, column), "")).strip() for name, column in first.items()}
        if not cells["heading"]:
            continue
        targets = _targets(
            cells["goes_to_sheet"], cells["goes_to_column"], f"{file.name}, row {row}", template
        )
        place = (cells.get("file", ""), cells.get("sheet", ""), cells.get("table", ""), cells["heading"])
        out.headings[cells["heading"]] = None
        out.exact.setdefault(place, []).append(targets)
        out.by_heading.setdefault(spelling(cells["heading"]), set()).add(targets)
    return out


def _targets(sheets: str, columns: str, where: str, template: Template) -> tuple[Target, ...]:
    named = [part.strip() for part in columns.split(_JOINED.strip()) if part.strip()]
    places = [part.strip() for part in sheets.split(_JOINED.strip()) if part.strip()]
    if not named:
        if places:
            raise Unusable(
                f"{where} names the sheet {sheets} and no column: name one, or leave both blank to keep the column."
            )
        return ()
    if len(places) == 1:
        places *= len(named)
    if len(places) != len(named):
        raise Unusable(
            f"{where} names {len(named)} columns and {len(places)} sheets: name one sheet, or one for each column."
        )
    return tuple(_target(place, name, where, template) for place, name in zip(places, named, strict=True))


def _target(place: str, name: str, where: str, template: Template) -> Target:
    sheets = [s for s in template.sheets if s.layout in ("table", "labels")]
    sheet = next((s for s in sheets if spelling(s.name) == spelling(place) or s.key == place), None)
    if sheet is None:
        raise Unusable(f"{where} names the sheet {place!r}; there are {', '.join(s.name for s in sheets)}.")
    if spelling(name) == spelling(_SERVED_WORDS):
        return Target(sheet.key, SERVED)
    column = _column(name, sheet)
    if column is None:
        from difflib import get_close_matches

        near = get_close_matches(name, [c.heading for c in sheet.typed], n=1, cutoff=0.5)
        hint = (
            f"did you mean {near[0]}?" if near else f"there are {', '.join(c.heading for c in sheet.typed)}."
        )
        raise Unusable(f"{where} names {name!r}, which is no column of {sheet.name}: {hint}")
    return Target(sheet.key, column)


def _column(name: str, sheet: Sheet) -> str | None:
    if name in sheet.by_field and not sheet.by_field[name].live:
        return name
    match = match_heading(name, sheet)
    return match.column.field if match is not None and not match.column.live else None

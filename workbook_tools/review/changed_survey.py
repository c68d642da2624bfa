"""Which cells of a survey have changed since its seal, by name.

    changes_of_survey(before, survey)    "Clearances!F12 (DP-1, Depth) was 36 in, is 42 in."

Rows are found again by what they are called, wherever they stand. Not here: the other parts of a
seal (seal).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from workbook_tools.definitions import plain
from workbook_tools.survey import Row, Survey
from workbook_tools.survey.fingerprint import Line, cells_of, lines_of

__all__ = ["changes_of_survey"]


class _Now(NamedTuple):
    """A line of the survey as it is, and its row (None for a text beside a table)."""

    line: Line
    row: Row | None


def changes_of_survey(before: Iterable[tuple[str, Any]], survey: Survey) -> list[str]:
    """Return a sentence for each cell and row that is not as it was.

    Parameters
    ----------
    before : iterable of (key of the sheet, [what the row is called, {field: content}])
        The rows as they were sealed.
    survey : Survey
        As it is now.
    """
    old = list(_read_back(before))
    rows = [row for row in survey.rows() if cells_of(row)]
    new = [
        _Now(line, rows[place] if place < len(rows) else None) for place, line in enumerate(lines_of(survey))
    ]
    gone = Counter(old) - Counter(now.line for now in new)
    come = Counter(now.line for now in new) - Counter(old)
    left = list(gone.elements())
    changed: list[_Now] = []
    for now in new:
        if come[now.line] > 0:
            come[now.line] -= 1
            changed.append(now)
    said: list[str] = []
    for now in changed:
        was = _the_same(now.line, left)
        if was is not None:
            left.remove(was)
        said += _of_row(now, was)
    said += [f"{_sheet(survey, line.key)}: {_called(line)} is gone." for line in left]
    return said


def _read_back(before: Iterable[tuple[str, Any]]) -> Iterator[Line]:
    """Yield the rows as they were written down, those that somebody damaged left out."""
    for key, content in before:
        match content:
            case [str(called), dict(cells)]:
                yield Line(key, called, tuple(sorted((str(name), str(text)) for name, text in cells.items())))


def _the_same(line: Line, left: Iterable[Line]) -> Line | None:
    """Return the row that this one was: of its name, or with at least half of its answers."""
    of_table = [one for one in left if one.key == line.key]
    cells = set(line.cells)

    def alike(one: Line) -> tuple[bool, int]:
        return plain(one.called) == plain(line.called), len(cells & set(one.cells))

    best = max(of_table, key=alike, default=None)
    if best is None:
        return None
    same_name, shared = alike(best)
    return best if (same_name and line.called) or shared * 2 >= len(cells) else None


def _of_row(now: _Now, was: Line | None) -> Iterator[str]:
    line, row = now
    if row is None:
        text = line.cells[0][1]
        yield (
            f"A text beside a table is new: {text[:80]}."
            if was is None
            else (f"A text beside a table was {was.cells[0][1][:80]}, is {text[:80]}.")
        )
        return
    if was is None:
        yield f"{row.sheet}, row {row.number}: {_called(line)} is new."
        return
    before: Mapping[str, str] = dict(was.cells)
    cells = cells_of(row)
    for field in sorted(before.keys() | cells.keys()):
        content, value = cells.get(field, ("", row.blank(field)))
        if before.get(field, "") != content:
            named = ", ".join(filter(None, (row.called, value.heading or field.removeprefix("own "))))
            yield f"{value.place} ({named}) was {before.get(field) or 'blank'}, is {content or 'blank'}."


def _called(line: Line) -> str:
    return line.called or ", ".join(content for _, content in line.cells)[:80] or "a row"


def _sheet(survey: Survey, key: str) -> str:
    sheet = survey.template.by_key.get(key)
    return sheet.name if sheet is not None else "Beside a table"

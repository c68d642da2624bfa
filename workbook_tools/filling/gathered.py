"""What one file gives, gathered while it is read; and several files as one.

    Gathered              rows, extras, job answers, remarks and placement of one file
    Gathered.add_rows     rows of a table; a piece that another table of the file tells too becomes one row
    combined(parts)       several files as one, the first before the next; what differs is kept and said

Within a file two tables tell of one piece where they contradict each other in nothing. Between files they do where
the tag is the same: what the first leaves blank the next fills in, and another answer stands in a column
that names its file.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from workbook_tools.definitions import Template, plain, spelling
from workbook_tools.filling.column_values import same_answer
from workbook_tools.filling.extra_sheets import free_sheet_name
from workbook_tools.filling.model import ExtraSheet, Placed, first_of
from workbook_tools.filling.survey_rows import OutsideCell, extra_heading
from workbook_tools.survey.found_headings import identity_of

__all__ = ["NAMED", "Gathered", "combined"]

Row = dict[str, str]
NAMED = ("rooms", "equipment", "transformers", "clearances")
"""The sheets on which two rows of one name are one thing."""


@dataclass
class Gathered:
    """What one file gives.

    `outside` are cells of no row, `sheets` what is kept whole; `levels`, the rooms with
    their floor, is one mapping for all files. `earlier` is the date of an earlier survey as typed, "" for
    none; `seen` how it stands under Last seen.
    """

    name: str
    template: Template
    tables: dict[str, list[Row]] = field(default_factory=dict)
    extra: dict[str, list[str]] = field(default_factory=dict)
    job: dict[str, str] = field(default_factory=dict)
    extra_job: list[tuple[str, str]] = field(default_factory=list)
    outside: list[OutsideCell] = field(default_factory=list)
    sheets: list[ExtraSheet] = field(default_factory=list)
    placement: list[Placed] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    levels: dict[str, tuple[str, str]] = field(default_factory=dict)
    computed: int = 0
    earlier: str = ""
    seen: str = ""
    _by_name: dict[tuple[str, str], list[Row]] = field(default_factory=dict)

    def add_rows(self, key: str, rows: Iterable[Row], extra: Sequence[str] = ()) -> None:
        """Add the rows of one table; one that completes a row of another table is laid into it."""
        if extra:
            names = self.extra.setdefault(key, [])
            names += [heading for heading in extra if heading not in names]
        known = self.tables.setdefault(key, [])
        fresh: list[Row] = []
        for row in rows:
            other = self._completed(key, row)
            if other is None:
                known.append(row)
                fresh.append(row)
            else:
                other.update({name: text for name, text in row.items() if not other.get(name)})
        for row in fresh:
            name = self._name(key, row)
            if name:
                self._by_name.setdefault((key, name), []).append(row)
        if not known:
            del self.tables[key]

    def _name(self, key: str, row: Mapping[str, str]) -> str:
        return plain(row.get(identity_of(self.template.by_key[key]), "")) if key in NAMED else ""

    def _completed(self, key: str, row: Mapping[str, str]) -> Row | None:
        name = self._name(key, row)
        others = self._by_name.get((key, name), []) if name else []
        if len(others) != 1:
            return None
        other = others[0]
        agree = all(spelling(other[f]) == spelling(text) for f, text in row.items() if other.get(f))
        return other if agree else None

    def named(self, key: str) -> Mapping[str, list[Row]]:
        """Return the rows of a sheet by their names, as names are compared."""
        out: dict[str, list[Row]] = {}
        for row in self.tables.get(key, []):
            name = self._name(key, row)
            if name:
                out.setdefault(name, []).append(row)
        return out


def combined(parts: Sequence[Gathered]) -> Gathered:
    """Take several files as one."""
    if len(parts) == 1:
        return parts[0]
    first = parts[0]
    out = Gathered(", ".join(part.name for part in parts), first.template)
    for part in parts:
        _lay_in(out, part)
    return out


def _lay_in(out: Gathered, part: Gathered) -> None:
    differing: list[str] = []
    for key, headings in part.extra.items():
        out.extra.setdefault(key, []).extend(h for h in headings if h not in out.extra.get(key, []))
    for key, rows in part.tables.items():
        known = {name: rows_of[0] for name, rows_of in out.named(key).items() if len(rows_of) == 1}
        mine = part.named(key)
        repeated = {tuple(sorted(row.items())) for row in out.tables.get(key, [])}
        for row in rows:
            name = part._name(key, row)
            other = known.get(name) if len(mine.get(name, ())) == 1 else None
            if other is not None:
                differing += _lay_over(out, part, key, other, row)
            elif key in NAMED or tuple(sorted(row.items())) not in repeated:
                out.tables.setdefault(key, []).append(row)
    for name, text in part.job.items():
        kept = out.job.setdefault(name, text)
        if spelling(kept) != spelling(text):
            label = out.template.by_key["job"].by_field[name].heading
            out.extra_job.append((f"{label} in {part.name}", text))
            differing.append(f"{label} ({kept!r} and {text!r})")
    out.extra_job += [pair for pair in part.extra_job if pair not in out.extra_job]
    out.outside += part.outside
    for sheet in part.sheets:
        taken = [other.name for other in out.sheets]
        out.sheets.append(
            ExtraSheet(free_sheet_name(sheet.name, taken), sheet.source, sheet.rows, sheet.says)
        )
    out.placement += part.placement
    out.remarks += [r if r.startswith(part.name) else f"{part.name}: {r}" for r in part.remarks]
    out.computed += part.computed
    out.earlier = out.earlier or part.earlier
    if differing:
        shown = first_of(differing, 5, "; ")
        out.remarks.append(
            f"{part.name} contradicts a list before it: the earlier answer was kept, and its own stands in a column that names it: {shown}."
        )


def _lay_over(out: Gathered, part: Gathered, key: str, other: Row, row: Row) -> list[str]:
    """Fill the blanks of a row from another file's, keep what differs, and return it in words."""
    sheet = out.template.by_key[key]
    differing = []
    # What was seen on another day fills no blank of a row: it would read as of that row's day.
    of_one_day = all(other.get(c.field) == row.get(c.field) for c in sheet.carried if c.field in other)
    for name, text in row.items():
        if not other.get(name) and (of_one_day or name not in sheet.by_field):
            other[name] = text
        elif spelling(other.get(name, "")) != spelling(text):
            column = sheet.by_field.get(name)
            said = column.heading if column is not None else name
            heading = f"{said} in {part.name}"
            taken = {spelling(t) for c in sheet.columns for t in (c.heading, c.field)}
            heading = extra_heading(heading, taken)
            if heading not in out.extra.setdefault(key, []):
                out.extra[key].append(heading)
            other[heading] = text
            kept = other.get(name, "")
            if column is not None and kept and same_answer(column, kept, text, out.template):
                continue  # "225 A" and "225": kept, and nothing to look at
            differing.append(f"{other.get(sheet.columns[0].field, '')} {said} ({kept!r} and {text!r})")
    return differing

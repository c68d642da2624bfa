"""What a list gives that is no survey: a client's panel list, an asset register, a drawing's table.

    take_list(source, gathered, unit, said, homes)   its tables, details and lines of text; the rest is kept whole

Not here: where a table ends (tables), where its columns go (placing), which rows that gives (list_rows).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

from workbook_tools.definitions import plain
from workbook_tools.filling.evidence import other_trades
from workbook_tools.filling.extra_sheets import as_rows, free_sheet_name
from workbook_tools.filling.gathered import Gathered
from workbook_tools.filling.homes import Homes
from workbook_tools.filling.labels import take_labels, take_labels_above
from workbook_tools.filling.lines_of_text import in_lines
from workbook_tools.filling.list_rows import ListRows, rows_of
from workbook_tools.filling.model import ExtraSheet, Placed, Target, first_of
from workbook_tools.filling.other_shapes import across, scattered
from workbook_tools.filling.parting import with_parts
from workbook_tools.filling.placing import plan_of
from workbook_tools.filling.plans import Forced, Plan, named_elsewhere
from workbook_tools.filling.sources import Source, SourceSheet
from workbook_tools.filling.survey_rows import OutsideCell
from workbook_tools.filling.tables import Table, tables_of
from workbook_tools.survey import Equipment, Job
from workbook_tools.survey.found_headings import SheetFound, name_points
from workbook_tools.survey.headings import find_labels

__all__ = ["take_list"]

Said = Callable[[SourceSheet, str, str, int], tuple[Target, ...] | None]
"""What a placement file says of a sheet's table and its nth column of a heading."""

_BETWEEN = re.compile(r"[;,\n&/]|\band\b")
_FEW = 12


def take_list(source: Source, into: Gathered, unit: Callable[[], str], said: Said, homes: Homes) -> None:
    """Take over what a list holds."""
    reading = _List(source, into, said, homes)
    reading.look()
    reading.take(unit)


@dataclass
class _Seen:
    """A sheet and what it was taken for: labels, tables with their plans, or nothing; `whole` keeps its rest together."""

    sheet: SourceSheet
    labels: SheetFound | None = None
    plans: list[Plan] = field(default_factory=list)
    outside: list[tuple[int, int]] = field(default_factory=list)
    whole: bool = False


class _List:
    def __init__(self, source: Source, into: Gathered, said: Said, homes: Homes) -> None:
        self.source, self.into, self.said, self.homes = source, into, said, homes
        self.template = into.template
        self.seen: list[_Seen] = []
        self.served: list[tuple[str, str]] = []
        self.aside: list[str] = []

    def look(self) -> None:
        """Take every sheet for what it is; job details are read at once, since they may say the unit."""
        for sheet in self.source.sheets:
            seen = self._seen(sheet)
            self.seen.append(seen)
            if seen.labels is not None:
                take_labels(self.source, sheet, seen.labels, self.into, partial(self._of_label, sheet))

    def _seen(self, sheet: SourceSheet) -> _Seen:
        job = self.template.by_key[Job.key]
        if name_points(sheet.grid.name, job):
            labels = self._labels(sheet)
            if labels is not None:
                return _Seen(sheet, labels)
        for table in (across(sheet, self.homes, self.template), scattered(sheet, self.homes, self.template)):
            plan = self._plan(table) if table is not None else None
            if plan is not None and plan.key:
                rest = set(sheet.grid.texts) - set(plan.table.places.values()) - plan.table.labels
                return _Seen(sheet, None, [plan], sorted(rest), whole=True)
        named = any(name_points(sheet.grid.name, s) for s in self.template.sheets if s.layout == "table")
        parted = tables_of(sheet, self.homes, named=named)
        plans = [self._plan(table) for table in parted.tables]
        if not any(plan.key for plan in plans):
            labels = self._labels(sheet)
            if labels is not None:
                return _Seen(sheet, labels)
            headed = any(table.known and len(table.columns) > 1 for table in parted.tables)
            lines = in_lines(sheet, self.template) if not headed else None
            if lines is not None:
                used_rows = set(lines.rows)
                return _Seen(
                    sheet,
                    None,
                    [self._plan(lines)],
                    sorted(p for p in sheet.grid.texts if p[0] not in used_rows),
                )
        return _Seen(sheet, None, plans, parted.outside)

    def _of_label(self, sheet: SourceSheet, text: str) -> tuple[Target, ...] | None:
        return self.said(sheet, "labels", text, 0)

    def _labels(self, sheet: SourceSheet) -> SheetFound | None:
        return find_labels(sheet.grid, self.template.by_key[Job.key])

    def _plan(self, table: Table) -> Plan:
        plan = plan_of(table, self.template, self.homes, self._forced(table))
        return named_elsewhere(with_parts(plan, self.template), self.template)

    def _forced(self, table: Table) -> Forced:
        nth: dict[int, int] = {}
        count: dict[str, int] = {}
        for column in table.columns:
            text = table.heading(column).text
            nth[column] = count.get(text, 0)
            count[text] = nth[column] + 1
        return lambda of, column: self.said(of.sheet, str(of.number), of.heading(column).text, nth[column])

    # ------------------------------------------------------------ rows

    def take(self, unit: Callable[[], str]) -> None:
        """Take the rows of every table."""
        length_unit = unit()
        for seen in self.seen:
            if seen.labels is not None:
                continue
            if not any(plan.key for plan in seen.plans):
                self._keep_whole(seen)
                continue
            self._take_sheet(seen, length_unit)
        self._feed_what_is_served()
        if self.aside:
            named = ", ".join(self.aside)
            self.into.remarks.append(
                f"Set aside whole, since no electrical equipment was recognized there: {named}. "
                "If it lists some, give its columns headings such as Panel, Room, Volts, Amps."
            )

    def _take_sheet(self, seen: _Seen, unit: str) -> None:
        above = take_labels_above(seen.sheet, min(plan.table.top for plan in seen.plans), self.into)
        if seen.whole and len(seen.outside) > _FEW:
            rest = {place: seen.sheet.grid.texts[place] for place in seen.outside if place not in above}
            self.into.sheets.append(
                ExtraSheet(self._name(seen.sheet.grid.name), seen.sheet.label, as_rows(rest))
            )
            seen.outside = []
        self.into.outside += [
            OutsideCell(seen.sheet.label, row, column, seen.sheet.grid.texts[row, column])
            for row, column in seen.outside
            if (row, column) not in above
        ]
        for plan in seen.plans:
            self._place(plan)
            if not plan.key:
                self._keep_table(plan)
                continue
            self._set_other_trades_aside(plan)
            read = rows_of(plan, self.template, unit, self.into.levels)
            for key, rows in read.rows.items():
                self.into.add_rows(key, rows, read.extra.get(key, ()))
            self.served += read.served
            self._say(plan, read)

    def _place(self, plan: Plan) -> None:
        table = plan.table
        for one in plan.columns.values():
            self.into.placement.append(
                Placed(table.sheet.file, table.sheet.grid.name, str(table.number), one.heading, one.samples, one.targets, one.why,
                       plan.key, one.sure, one.doubt, table.sheet.label)
            )  # fmt: skip

    def _say(self, plan: Plan, read: ListRows) -> None:
        remarks, label = self.into.remarks, plan.table.sheet.label
        if plan.table.said:
            remarks.append(f"{label}: {plan.table.said}.")
        for heading, unit in read.with_units.items():
            remarks.append(
                f"{label}: {heading} states its unit, so {unit} was written behind each bare number."
            )
        if read.kinds_assumed:
            remarks.append(
                f"{label}: a list of transformers, so Kind says Transformer on {read.kinds_assumed} rows of Equipment."
            )
        if read.rooms_assumed:
            remarks.append(
                f"{label}: no room is listed, so the floor stands as Room on {read.rooms_assumed} rows."
            )
        if read.tags_parted:
            remarks.append(
                f"{label}: cells with several tags became a row for each: {first_of(read.tags_parted)}."
            )

    def _feed_what_is_served(self) -> None:
        """Turn "LP-1 serves LP-2" into "LP-2 is fed from LP-1", where nothing else is said."""
        pieces = self.into.named(Equipment.key)
        field, fed = Equipment.fed_from.name, dict[str, list[str]]()
        for tag, text in self.served:
            for part in (text, *_BETWEEN.split(text)):
                rows = pieces.get(plain(part), [])
                if (
                    tag
                    and part.strip()
                    and plain(part) != plain(tag)
                    and len(rows) == 1
                    and not rows[0].get(field)
                ):
                    fed.setdefault(plain(part), []).append(tag)
        for name, tags in fed.items():
            pieces[name][0][field] = "; ".join(dict.fromkeys(tags))
        if fed:
            told = [pieces[name][0][Equipment.tag.name] for name in fed]
            self.into.remarks.append(
                f"Fed from was taken from what the list says that each piece serves: {first_of(told)}."
            )

    # ------------------------------------------------------------ what has no place

    def _keep_whole(self, seen: _Seen) -> None:
        sheet = seen.sheet
        for plan in seen.plans:
            self._place(plan)
        if sheet.grid.texts:
            self.into.sheets.append(
                ExtraSheet(self._name(sheet.grid.name), sheet.label, as_rows(sheet.grid.texts))
            )
            self.aside += [sheet.grid.name] if seen.plans else []

    def _keep_table(self, plan: Plan) -> None:
        table = plan.table
        texts = _as_table(table, table.rows)
        title = f"{table.sheet.grid.name[:20]} table {table.number}"
        self.into.sheets.append(ExtraSheet(self._name(title), table.sheet.label, as_rows(texts)))
        self.into.remarks.append(
            f"{table.sheet.label}: table {table.number} ({first_of([h.text for h in table.headings.values()])}) says nothing of "
            "electrical equipment and was set aside, on a sheet of its own."
        )

    def _set_other_trades_aside(self, plan: Plan) -> None:
        """Keep pumps and doors of a register of all trades apart: they are no equipment of the survey."""
        table = plan.table
        fields = {target.field for one in plan.columns.values() for target in one.targets}
        rows = other_trades(table, fields) if plan.key == Equipment.key else []
        if not rows:
            return
        texts = _as_table(table, {row: table.rows.pop(row) for row in rows})
        name = self._name(f"{table.sheet.grid.name[:18]} other trades")
        self.into.sheets.append(ExtraSheet(name, table.sheet.label, as_rows(texts)))
        self.into.remarks.append(
            f"{table.sheet.label}: {len(rows)} rows of other trades are no equipment of this survey; kept on the sheet {name}."
        )

    def _name(self, name: str) -> str:
        return free_sheet_name(
            name, [*(s.name for s in self.template.sheets), *(s.name for s in self.into.sheets)]
        )


def _as_table(table: Table, rows: Mapping[int, Mapping[int, str]]) -> dict[tuple[int, int], str]:
    """Return some rows of a table below its headings, each cell by its place."""
    headings = {(0, column): heading.text for column, heading in table.headings.items()}
    return headings | {(row, column): text for row, cells in rows.items() for column, text in cells.items()}

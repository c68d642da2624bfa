"""What an earlier survey workbook gives, and the data of a delivery: its own sheets under their own headings.

    take_survey(source, template, gathered, ...)   everything that was typed there

Columns marked `each_visit` in the template, such as the touch test or the access to a room, are true of one visit
only: their old answers stand in extra columns that name the date, and the new cells are blank. Measurements and
findings are carried with the day when they were last seen (carried). What the workbook
computes is not carried, nor the words that it prints itself, nor how an earlier one was filled.

Not here: lists of other people (client_lists).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from workbook_tools.definitions import Column, Sheet
from workbook_tools.filling.carried import marked, seen_on
from workbook_tools.filling.column_values import fitness, said_in
from workbook_tools.filling.extra_sheets import as_rows, free_sheet_name, typed_alone
from workbook_tools.filling.gathered import Gathered
from workbook_tools.filling.labels import take_labels, take_labels_above
from workbook_tools.filling.model import ExtraSheet, Placed, Target
from workbook_tools.filling.sources import Source, SourceSheet
from workbook_tools.filling.survey_rows import OutsideCell, PlacedTable, place_table
from workbook_tools.survey.headings import SheetFound, find_sheets
from workbook_tools.survey.own_texts import COMBINED, HOW_FILLED

__all__ = ["take_survey"]

Said = Callable[[SourceSheet, str, int], tuple[Target, ...] | None]
"""What a placement file says of the nth column of a heading on a sheet."""


def take_survey(source: Source, into: Gathered, unit: Callable[[], str], said: Said) -> None:
    """Take over what an earlier survey holds."""
    _Survey(source, into, unit, said).take()


class _Survey:
    def __init__(self, source: Source, into: Gathered, unit: Callable[[], str], said: Said) -> None:
        self.source, self.into, self.unit, self.said = source, into, unit, said
        self.template = into.template

    def take(self) -> None:
        sheets = [sheet for sheet in self.source.sheets if sheet.grid.name not in (HOW_FILLED, COMBINED)]
        found = find_sheets([s.grid for s in sheets], self.template, fits=self._fits)
        for sheet, one in zip(sheets, found, strict=True):
            if self._layout(one) == "labels" and not one.rival:
                take_labels(self.source, sheet, one, self.into, partial(self._of_label, sheet))
        self.into.seen = seen_on(self.into.earlier)
        unit = self.unit()
        for sheet, one in zip(sheets, found, strict=True):
            layout = self._layout(one)
            if layout == "table" and not self._is_of_one_visit(one):
                self._take_table(sheet, one, unit)
            elif layout in ("guide", "lists"):
                continue  # made anew with every workbook
            elif layout != "labels" or one.rival:
                self._keep_sheet(sheet, one)

    def _fits(self, column: Column, texts: Sequence[str]) -> bool:
        return fitness(column, texts, self.template) >= 0

    def _of_label(self, sheet: SourceSheet, text: str) -> tuple[Target, ...] | None:
        return self.said(sheet, text, 0)

    def _layout(self, found: SheetFound) -> str:
        return self.template.by_key[found.key].layout if found.key is not None else ""

    def _is_of_one_visit(self, found: SheetFound) -> bool:
        """Whether every column of the table is of one visit, as with last year's photos."""
        if not self.into.earlier or found.key is None:
            return False
        return all(column.each_visit for column in self.template.by_key[found.key].typed)

    def _take_table(self, sheet: SourceSheet, found: SheetFound, unit: str) -> None:
        definition = self.template.by_key[found.key or ""]
        found = self._corrected(sheet, found)
        aside = {
            c.field: f"{c.heading} on {self.into.earlier}"
            for c in definition.typed
            if self.into.earlier and c.each_visit
        }
        placed = place_table(sheet, found, definition, ours=True, job_unit=unit, set_aside=aside)
        if definition.carried:
            self._mark(placed, definition)
            aside |= {column.field: column.heading for column in definition.carried}
        self.into.tables.setdefault(placed.key, []).extend(placed.rows)
        if placed.extra:
            extra = self.into.extra.setdefault(placed.key, [])
            extra += [heading for heading in placed.extra if heading not in extra]
        self.into.computed += placed.computed
        above = take_labels_above(sheet, found.row, self.into)
        self.into.outside += [
            cell
            for cell in placed.outside
            if (cell.row, cell.column) not in above and not self._printed(cell, found.row)
        ]
        for heading_text, stated in placed.with_units.items():
            self.into.remarks.append(
                f"{definition.name}: {heading_text} states its unit, so {stated} was written behind each bare number."
            )
        self._say(sheet, found, set(placed.extra), aside)

    def _mark(self, placed: PlacedTable, definition: Sheet) -> None:
        """Say of each row when it was last seen; keep the findings that were mended on a sheet of their own."""
        found = marked(placed.rows, definition, self.template, self.into.seen)
        placed.rows = found.rows
        if found.kept_under:
            placed.extra.append(found.kept_under)
        if not found.mended:
            return
        fields = [*(column.field for column in definition.typed), *placed.extra]
        fields = [name for name in fields if any(row.get(name) for row in found.mended)]
        headings = [
            definition.by_field[name].heading if name in definition.by_field else name for name in fields
        ]
        rows = [headings, *([row.get(name, "") for name in fields] for row in found.mended)]
        name = self._free_name(f"Mended by {self.into.seen}")
        label = f"{definition.name} of {self.source.name}"
        self.into.sheets.append(ExtraSheet(name, label, tuple(map(tuple, rows))))
        self.into.remarks.append(
            f"{definition.name}: what was mended by {self.into.seen} is carried over no more; it stands on the sheet {name}."
        )

    def _free_name(self, name: str) -> str:
        taken = [*(s.name for s in self.template.sheets), *(s.name for s in self.into.sheets)]
        return free_sheet_name(name, taken)

    def _corrected(self, sheet: SourceSheet, found: SheetFound) -> SheetFound:
        """Obey the placement file, which may give a column of a survey to another column of the same sheet."""
        headings, seen = [], dict[str, int]()
        for heading in found.headings:
            nth = seen.get(heading.text, 0)
            seen[heading.text] = nth + 1
            targets = self.said(sheet, heading.text, nth)
            if targets is not None:
                field = next((target.field for target in targets if target.key == found.key), None)
                if targets and field is None:
                    self.into.remarks.append(
                        f"{heading.text} of {sheet.label} was kept: a column of a survey goes to a column of its own sheet only."
                    )
                heading = replace(heading, field=field, exact=True, unit=heading.unit if field else "")
            headings.append(heading)
        return replace(found, headings=tuple(headings))

    def _say(self, sheet: SourceSheet, found: SheetFound, extra: set[str], aside: dict[str, str]) -> None:
        definition = self.template.by_key[found.key or ""]
        below: dict[int, list[str]] = {}
        for (row, at), text in sheet.grid.texts.items():
            if row > found.row:
                below.setdefault(at, []).append(text)
        for heading in found.headings:
            column = definition.by_field.get(heading.field or "")
            if column is not None and column.live:
                continue
            kept = column is None or column.field in aside
            if kept and not any(heading.text in name for name in extra):
                continue
            targets: tuple[Target, ...] = ()
            why = "kept: no column of the survey is called so"
            if column is not None and kept:
                why = "of an earlier visit: asked anew"
            elif column is not None:
                targets = (Target(definition.key, column.field),)
                why = "its own heading" if heading.exact else "nearly its heading"
            samples = tuple(said_in(below.get(heading.column, []))[:3])
            self.into.placement.append(
                Placed(sheet.file, sheet.grid.name, "1", heading.text, samples, targets, why, definition.key,
                       1.0 if heading.exact else 0.6, not heading.exact, sheet.label)
            )  # fmt: skip

    def _printed(self, cell: OutsideCell, heading_row: int) -> bool:
        """Whether a cell above the rows holds words that a survey workbook prints itself."""
        return cell.row <= heading_row and cell.text.strip() in self.source.printed

    def _keep_sheet(self, sheet: SourceSheet, found: SheetFound) -> None:
        texts, name = sheet.grid.texts, sheet.grid.name
        if self._is_of_one_visit(found):
            # Under their own names they would be read as this year's.
            texts = typed_alone(sheet, found, self.template.by_key[found.key or ""], self.source.printed)
            texts |= {
                (h.row, h.column): f"{h.text} on {self.into.earlier}"
                for h in found.headings
                if (h.row, h.column) in texts
            }
            name = f"{name[:18]} on {self.into.earlier}"
        if texts:
            self.into.sheets.append(ExtraSheet(self._free_name(name), sheet.label, as_rows(texts)))

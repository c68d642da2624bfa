"""From a fill source to a Filling.

    read_fill(source, template, job=...)    everything that the new workbook can take over

What is carried, and what is not answered again: from an earlier survey workbook (one that
has an inspection date) everything typed is carried. Columns marked `each_visit` in the
template, such as the touch test or the access to a room, are true of one visit only: their
old answers stand in extra columns that name the date, and the new cells are blank. The
inspection date and report number are not carried, nor is what the workbook computes.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import replace
from functools import partial

from workbook_tools.definitions import Sheet, Template, spelling
from workbook_tools.errors import Unusable
from workbook_tools.filling.extra_sheets import as_rows, free_sheet_name, typed_alone
from workbook_tools.filling.job_details import job_answers, labels_above
from workbook_tools.filling.model import ExtraSheet, Filling, FillReport, TakenHeading
from workbook_tools.filling.placing import OutsideCell, PlacedTable, fits_column, place_table
from workbook_tools.filling.report import report_lines
from workbook_tools.filling.sources import Source, SourceSheet, read_source
from workbook_tools.spreadsheet.cells import cell_name
from workbook_tools.survey import Equipment, Job
from workbook_tools.survey.heading_words import stated_unit
from workbook_tools.survey.headings import Heading, SheetFound, find_sheets, match_heading

__all__ = ["CARRIED_OVER", "read_fill"]

CARRIED_OVER = "Carried over"
"""The sheet that keeps cells which belong to no row of a table: titles, totals, notes."""

_ASKED_ANEW = (
    "This is the survey of {}: what is true of one visit is asked anew ({}); the old answers stand in columns and "
    "labels named after that day. Everything else that was typed is carried over, findings too: see whether they still stand."
)

_HEADED = {"item", "label", "field", "detail", "key", "value", "answer"}


def read_fill(
    source: str | os.PathLike[str] | Source, template: Template, *, job: Mapping[str, str] | None = None
) -> Filling:
    r"""Read what a new survey workbook can be filled with.

    Parameters
    ----------
    source : str, path or Source
        A folder of CSV files (one for each sheet, `job.csv` with Item,Value), one CSV file,
        the data of a delivery, or a workbook: an old list, another firm's, last year's survey.
    template : Template
        Of the workbook to be made.
    job : mapping, optional
        Job details that go before those of the source, by heading, field or spelling.

    Returns
    -------
    filling : Filling
        With `report`, which says what was taken for what and what was kept elsewhere.

    Raises
    ------
    Unusable
        The source cannot be read or holds nothing, or `job` has an unknown key.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> path = getfixture("tmp_path") / "old list.csv"
    >>> _ = path.write_text("Panel,Amps,Colour\nLP-1,225,grey\n")
    >>> filling = read_fill(path, load_template("office"))
    >>> filling.tables["equipment"], filling.extra_columns
    ([{'tag': 'LP-1', 'rating_a': '225', 'Colour': 'grey'}], {'equipment': ['Colour']})
    """
    given = job_answers(job or {}, template)
    read = source if isinstance(source, Source) else read_source(source)
    if not any(sheet.grid.texts for sheet in read.sheets):
        raise Unusable(f"{read.name} holds nothing to fill from: every sheet is blank.")
    return _Filler(read, template, given).filling()


class _Filler:
    def __init__(self, source: Source, template: Template, given: Mapping[str, str]) -> None:
        self.source = source
        self.template = template
        self.given = given
        self.job: dict[str, str] = {}
        self.extra_job: list[tuple[str, str]] = []
        self.tables: dict[str, list[Mapping[str, str]]] = {}
        self.extra: dict[str, list[str]] = {}
        self.outside: list[OutsideCell] = []
        self.extra_sheets: list[ExtraSheet] = []
        self.taken: list[TakenHeading] = []
        self.kept: list[TakenHeading] = []
        self.remarks: list[str] = list(source.remarks)
        self.computed = 0
        self.earlier = ""

    def filling(self) -> Filling:
        sheets = self.source.sheets
        found = find_sheets([s.grid for s in sheets], self.template, fits=partial(fits_column, self.template))
        for sheet, one in zip(sheets, found, strict=True):
            if self._layout(one) == "labels" and not one.rival:
                self._take_labels(sheet, one)
        unit = self._unit()
        for sheet, one in zip(sheets, found, strict=True):
            if self._layout(one) == "table" and not self._is_of_one_visit(one):
                self._take_table(sheet, one, found, unit)
            elif self._layout(one) in ("guide", "lists") and self.source.survey:
                continue  # made anew with every workbook
            elif self._layout(one) != "labels" or one.rival:
                self._keep_sheet(sheet, one)
        self._rooms_of_equipment()
        self._keep_outside()
        self.job = {**self.job, **self.given}
        report = FillReport(
            self.source.name,
            (),
            tuple(self.taken),
            tuple(self.kept),
            tuple(sheet.name for sheet in self.extra_sheets),
            {s.key: len(self.tables[s.key]) for s in self.template.sheets if self.tables.get(s.key)},
        )
        lines = report_lines(
            report, self.template, len(self.job), self.remarks, len(self.outside), CARRIED_OVER
        )
        return Filling(
            self.tables, self.job, self.extra, self.extra_job, self.extra_sheets, replace(report, lines=lines)
        )

    def _layout(self, found: SheetFound) -> str:
        return self.template.by_key[found.key].layout if found.key is not None else ""

    def _unit(self) -> str:
        unit = Job.dimension_unit.name
        vocabulary = self.template.vocabularies.get(unit)
        said = self.given.get(unit) or self.job.get(unit) or ""
        choice = vocabulary.find(said) if vocabulary is not None else None
        return choice.name if choice is not None else self.template.dimension_unit

    # ------------------------------------------------------------ job details

    def _take_labels(self, sheet: SourceSheet, found: SheetFound) -> None:
        definition = self.template.by_key[found.key or ""]
        values: dict[str, str] = {}
        left: list[tuple[str, str]] = []
        used: set[tuple[int, int]] = set()
        for label in found.headings:
            value_at = label.value_at or (label.row, label.column + 1)
            used |= {(label.row, label.column), value_at}
            text = sheet.grid.texts.get(value_at, "")
            if label.field is not None and not definition.by_field[label.field].live:
                self.taken.append(
                    TakenHeading(sheet.label, label.text, found.key or "", label.field, label.exact)
                )
                values[label.field] = text
            elif text.strip() and not (label.row == 1 and spelling(label.text) in _HEADED):
                self.kept.append(TakenHeading(sheet.label, label.text, found.key or "", None))
                left.append((label.text, text))
        date = values.get(Job.inspection_date.name, "").strip()
        self.earlier = date if self.source.survey else ""
        for field, text in values.items():
            column = definition.by_field[field]
            if self.earlier and column.each_visit:
                if text.strip():
                    left.append((f"{column.heading} of the survey of {self.earlier}", text))
            elif text.strip():
                self.job[field] = text
        self.extra_job += left
        if self.earlier:
            self.remarks.append(_ASKED_ANEW.format(self.earlier, ", ".join(self._asked_anew())))
        for (row, column_number), text in sorted(sheet.grid.texts.items()):
            if (row, column_number) in used or (
                self.source.survey and (row, column_number) in sheet.computed
            ):
                continue
            if not (row == 1 and spelling(text) in _HEADED) and text.strip() not in self.source.printed:
                self.outside.append(OutsideCell(sheet.label, row, column_number, text))

    def _asked_anew(self) -> list[str]:
        sheets = [s for s in self.template.sheets if not all(c.each_visit for c in s.typed)]
        return [f"{c.heading} ({s.name})" for s in sheets for c in s.typed if c.each_visit]

    def _take_labels_above(self, sheet: SourceSheet, found: SheetFound) -> set[tuple[int, int]]:
        used: set[tuple[int, int]] = set()
        for label in labels_above(sheet.grid, found.row, self.template.by_key["job"]):
            if label.field not in self.job:
                self.job[label.field] = label.text
                said = self.template.by_key["job"].by_field[label.field].heading
                self.taken.append(TakenHeading(sheet.label, said, "job", label.field))
                used |= set(label.cells)
        return used

    # ------------------------------------------------------------ tables

    def _printed(self, cell: OutsideCell, heading_row: int) -> bool:
        """Whether a cell above the rows holds words that a survey workbook prints itself."""
        return cell.row <= heading_row and cell.text.strip() in self.source.printed

    def _is_of_one_visit(self, found: SheetFound) -> bool:
        """Whether every column of the table is of one visit, as with last year's photos."""
        if not self.earlier or found.key is None:
            return False
        return all(column.each_visit for column in self.template.by_key[found.key].typed)

    def _take_table(
        self, sheet: SourceSheet, found: SheetFound, all_found: list[SheetFound], unit: str
    ) -> None:
        definition = self.template.by_key[found.key or ""]
        aside = {
            c.field: f"{c.heading} on {self.earlier}"
            for c in definition.typed
            if self.earlier and c.each_visit
        }
        others = self._other_tables(found, definition, {f.key for f in all_found})
        elsewhere = {h.column for other in others for h in other.headings[1:]}
        columns = {c for _, c in sheet.grid.texts} - elsewhere
        place = partial(place_table, sheet, ours=self.source.survey, job_unit=unit)
        placed = place(found, definition, set_aside=aside, only=columns)
        above = self._take_labels_above(sheet, found)
        outside = {(c.row, c.column): c for c in placed.outside}
        self._add(
            sheet, replace(found, headings=tuple(h for h in found.headings if h.column in columns)), placed
        )
        for other in others:
            wanted = self.template.by_key[other.key or ""]
            rows = place(other, wanted, only={h.column for h in other.headings})
            identity = wanted.columns[0].field
            rows.rows = [row for row in rows.rows if len(row) > 1 or identity not in row]
            self._add(sheet, other, rows)
            outside |= {(c.row, c.column): c for c in rows.outside if c.column != other.headings[0].column}
        self.outside += [
            outside[place]
            for place in sorted(outside)
            if place not in above and not self._printed(outside[place], found.row)
        ]

    def _add(self, sheet: SourceSheet, found: SheetFound, placed: PlacedTable) -> None:
        self.tables.setdefault(placed.key, []).extend(placed.rows)
        extra = self.extra.setdefault(placed.key, [])
        extra += [heading for heading in placed.extra if heading not in extra]
        self.computed += placed.computed
        definition = self.template.by_key[placed.key]
        for heading in found.headings:
            column = definition.by_field.get(heading.field or "")
            if column is None or not column.live:
                taken = TakenHeading(sheet.label, heading.text, placed.key, heading.field, heading.exact)
                if column is not None:
                    self.taken.append(taken)
                elif any(heading.text in name for name in placed.extra):
                    self.kept.append(taken)
        for heading_text, unit in placed.with_units.items():
            self.remarks.append(
                f"{definition.name}: {heading_text} states its unit, so {unit} was written behind each bare number."
            )
        if not extra:
            del self.extra[placed.key]

    def _other_tables(self, found: SheetFound, definition: Sheet, keys: set[str | None]) -> list[SheetFound]:
        """Find columns of one long list that belong to another table of the same tags: kVA, depth."""
        identity = next((h for h in found.headings if h.field == definition.columns[0].field), None)
        if identity is None or definition.columns[0].holds != "tag" or found.rival:
            return []
        free = {h.column: h for h in found.leftovers}
        others = []
        for sheet in self.template.sheets:
            first = sheet.columns[0] if sheet.columns else None
            if sheet.key in keys or first is None or first.holds != "tag" or first.field != identity.field:
                continue
            theirs: dict[str, Heading] = {}
            own = False
            for heading in free.values():
                matches = (match_heading(words, sheet) for words in heading.wordings)
                match = next((m for m in matches if m is not None), None)
                if match is not None and not match.column.live and match.column.field != first.field:
                    own = own or spelling(stated_unit(heading.wordings[-1])[0]) == spelling(
                        stated_unit(match.column.heading)[0]
                    )
                    theirs.setdefault(
                        match.column.field, replace(heading, field=match.column.field, unit=match.unit)
                    )
            if own and (len(theirs) > 1 or sheet.key == "transformers"):
                headings = (replace(identity, field=first.field), *theirs.values())
                others.append(SheetFound(found.name, sheet.key, found.row, headings))
                for heading in theirs.values():
                    del free[heading.column]
        return others

    def _rooms_of_equipment(self) -> None:
        rooms = self.template.by_key.get("rooms")
        if rooms is None or self.tables.get("rooms"):
            return
        named: dict[str, str] = {}
        for row in self.tables.get("equipment", []):
            room = row.get(Equipment.room.name, "").strip()
            if spelling(room) not in ("", "nv", "na"):
                named.setdefault(spelling(room), room)
        if named:
            self.tables["rooms"] = [{"room": room} for room in named.values()]
            which = "the one room" if len(named) == 1 else f"the {len(named)} rooms"
            self.remarks.append(f"{rooms.name}: {which} that the equipment names.")

    # ------------------------------------------------------------ what has no place

    def _keep_sheet(self, sheet: SourceSheet, found: SheetFound) -> None:
        texts, name = sheet.grid.texts, sheet.grid.name
        if self._is_of_one_visit(found):
            # Under their own names they would be read as this year's.
            texts = typed_alone(sheet, found, self.template.by_key[found.key or ""], self.source.printed)
            texts |= {
                (h.row, h.column): f"{h.text} on {self.earlier}"
                for h in found.headings
                if (h.row, h.column) in texts
            }
            name = f"{name[:18]} on {self.earlier}"
        if texts:
            taken = [
                *(s.name for s in self.template.sheets),
                *(s.name for s in self.extra_sheets),
                CARRIED_OVER,
            ]
            self.extra_sheets.append(ExtraSheet(free_sheet_name(name, taken), sheet.label, as_rows(texts)))

    def _keep_outside(self) -> None:
        if self.outside:
            rows = [("From", "Cell", "Text")]
            rows += [(cell.label, cell_name(cell.row, cell.column), cell.text) for cell in self.outside]
            self.extra_sheets.append(ExtraSheet(CARRIED_OVER, self.source.name, tuple(rows)))

"""The lines of the first sheet: how far each sheet is filled in, and what is left to do before leaving.

    GuideLines(results)            the lines of one survey
        .progress(name)            that of a sheet (by key) or of a priority: "Rooms: 4 rows, complete"
        .left(line)                "Touch test blank: 2 (LP-1, RP-1)"
    blank_progress(template, name), nothing_left(line)   the same where nothing stands yet
    LEFT, lines_of(template), tables_of(line, template)  what may be left, and the tables that it looks at

Not here: the formulas (survey_workbook.guide_formulas), the words that a line begins with (survey.own_texts).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property
from typing import NamedTuple

from workbook_tools.definitions import PRIORITIES, Sheet, Template
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.live_cells.wording import OK, SHORT
from workbook_tools.survey import Clearance, Equipment, Finding, Job, Room, Row, Transformer
from workbook_tools.survey.own_texts import LEFT_OPEN, NONE_LEFT

__all__ = [
    "LACKING",
    "LEFT",
    "NAMED",
    "SAID",
    "GuideLines",
    "Left",
    "blank_progress",
    "lines_of",
    "name_of",
    "nothing_left",
    "said_of",
    "tables_of",
]

NAMED = 3
"""How many rows a line names."""

SAID = 200
"""Letters of what a line names at most: a spreadsheet program shows 255 of a link."""


class Left(NamedTuple):
    """One line: its name, and the key of the table that it looks at; blank for all tables."""

    name: str
    table: str = ""

    @property
    def words(self) -> str:
        """What the line begins with."""
        return LEFT_OPEN[self.name]


LEFT = (
    Left("clearances", Equipment.key),
    Left("plates", Equipment.key),
    Left("touch", Equipment.key),
    Left("access", Room.key),
    Left("photos", Finding.key),
    Left("carried"),
    Left("unread"),
    Left("unprepared"),
)

LACKING = {Clearance.key: LEFT[0], Transformer.key: LEFT[1]}
"""Tables that want a row for some pieces of equipment: the line that counts those without."""


def tables_of(line: Left, template: Template) -> list[str]:
    """Return the keys of the tables that a line looks at, of those that a template has."""
    sheets = [sheet for sheet in template.sheets if sheet.layout == "table"]
    if line.name == "carried":
        sheets = [sheet for sheet in sheets if sheet.carried]
    return [sheet.key for sheet in sheets if line.table in ("", sheet.key)]


def lines_of(template: Template) -> list[Left]:
    """Return the lines of a template: what was carried over is asked about where something was."""
    return [line for line in LEFT if line.name != "carried" or tables_of(line, template)]


def nothing_left(line: Left) -> str:
    """Return what a line says where nothing is left."""
    return f"{line.words}: {NONE_LEFT}"


def blank_progress(template: Template, name: str) -> str:
    """Return the progress line of a workbook in which only the defaults stand."""
    if name in PRIORITIES:
        return f"{name}: 0"
    sheet = template.by_key[name]
    if sheet.layout != "labels":
        return f"{sheet.name}: nothing yet"
    missing = [
        c.heading
        for c in sheet.columns
        if c.required and c.field not in (Job.code_profile.name, Job.dimension_unit.name)
    ]
    return f"{sheet.name}: fill in {', '.join(missing)}" if missing else f"{sheet.name}: complete"


class GuideLines:
    """The lines of one survey."""

    def __init__(self, results: LiveResults) -> None:
        self.results = results
        self.survey = results.survey
        self.template = results.template
        self._found: dict[tuple[Left, str], list[Row]] = {}

    def progress(self, name: str) -> str:
        """Return the line of a sheet, by key, or of a priority."""
        if name in PRIORITIES:
            count = sum(self.results.priority_counted(row) == name for row in self.survey.findings)
            return f"{name}: {count}"
        sheet = self.template.by_key[name]
        if sheet.layout == "labels":
            job = self.survey.job
            missing = [c.heading for c in sheet.columns if c.required and not job[c].typed.strip(" ")]
            return f"{sheet.name}: fill in {', '.join(missing)}" if missing else f"{sheet.name}: complete"
        rows = self.survey.tables.get(name, [])
        counted = f"{len(rows)} row{'' if len(rows) == 1 else 's'}" if rows else "nothing yet"
        lacking = len(self.rows_left(LACKING[name], LACKING[name].table)) if name in LACKING else 0
        text = f"{sheet.name}: {counted}" + (f", {lacking} still missing" if lacking else "")
        checks = next((c.field for c in sheet.columns if c.live == "row_check"), None)
        if checks is not None and rows:
            odd = sum(not str(self.results.row(row)[checks]).startswith(OK) for row in rows)
            text += f", {odd} to look at" if odd else "" if lacking else ", complete"
        result = next((c.field for c in sheet.columns if c.live == "clearance_result"), None)
        if result is not None:
            short = sum(SHORT in str(self.results.row(row)[result]) for row in rows)
            text += f", {short} short" if short else ""
        return text

    @cached_property
    def _is_left(self) -> Mapping[str, Callable[[Row], bool]]:
        checks, sheets = self.results.checks, self.results.checks.sheets
        return {
            "clearances": lambda row: isinstance(row, Equipment) and sheets.lacks_clearance(row),
            "plates": lambda row: isinstance(row, Equipment) and sheets.lacks_plate(row),
            "touch": checks.is_open,
            "access": lambda row: isinstance(row, Room) and not checks.is_access_said(row),
            "photos": checks.is_open,
            "carried": checks.is_of_last_time,
            "unread": checks.is_not_understood,
            # Every row of a file that the tool has written or read is prepared; only a spreadsheet program adds others.
            "unprepared": lambda row: False,
        }

    def left(self, line: Left) -> str:
        """Return a line: its words, how many rows, the first of them."""
        found = {key: self.rows_left(line, key) for key in tables_of(line, self.template)}
        said = "; ".join(
            said_of(line, self.template.by_key[key], rows) for key, rows in found.items() if rows
        )
        count = sum(map(len, found.values()))
        return f"{line.words}: {count} ({said[:SAID]})" if count else nothing_left(line)

    def rows_left(self, line: Left, table: str) -> list[Row]:
        """Return the rows of a table on which something is left."""
        found = self._found.get((line, table))
        if found is None:
            is_left = self._is_left[line.name]
            found = [row for row in self.survey.tables.get(table, []) if is_left(row)]
            self._found[line, table] = found
        return found


def said_of(line: Left, sheet: Sheet, rows: list[Row]) -> str:
    """Return the first rows of a table by their names, after the sheet's name where a line looks at several."""
    named = ", ".join([*map(name_of, rows[:NAMED]), *(["..."] if len(rows) > NAMED else [])])
    return named if line.table else f"{sheet.name} {named}"


def name_of(row: Row) -> str:
    """Return what stands in the first column of a row, or its number where nothing does."""
    return row[row.definition.columns[0]].typed or f"row {row.number}"

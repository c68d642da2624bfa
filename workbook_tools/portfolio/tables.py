"""The overview as tables of data, each column described.

    data_tables(rolled)   surveys, issues, equipment, counts, years, not_read

Not here: the files and their description (files.data_package).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from workbook_tools.definitions import PRIORITIES
from workbook_tools.files.table_schema import Cell, DataField, DataTable, number
from workbook_tools.portfolio.rolled_up import BY_PRIORITY, CountLine, Counts, RolledUp

__all__ = ["data_tables"]

_MISSING = {"": "not recorded, or not asked"}
_ROW = DataField("row", "integer", "Row", "Number of the row, from 1.")
_SURVEY = DataField("survey_row", "integer", "Row in surveys", "Row of surveys that it belongs to.")
_SITE = DataField("site", "string", "Site", "Property; with its address where two properties share a name.")
_COUNTED = DataField("counted", "boolean", "Counted", "Whether it is in the counts.")
_DATE = DataField("inspection_date", "date", "Inspection date", "As year, month and day.")
_AT_LEAST = {"minimum": 0}


def _text(name: str, title: str, says: str) -> DataField:
    return DataField(name, "string", title, says)


def _whole(name: str, title: str, says: str) -> DataField:
    return DataField(name, "integer", title, says, _AT_LEAST)


_ISSUES = _whole("issues", "Issues", "Issues in all.")
_BY_PRIORITY = tuple(
    _whole(name, heading, f"Issues of the priority {heading}.")
    for name, heading in zip(BY_PRIORITY, PRIORITIES, strict=True)
)
_PIECES = _whole("pieces", "Pieces", "Pieces of equipment.")

_OF_SURVEYS = (
    _SITE,
    _text("property", "Property", "As typed."),
    _text("address", "Address", "As typed."),
    _text("inspector", "Inspector", "As typed."),
    _DATE,
    DataField("year", "integer", "Year", "Year of the inspection."),
    DataField("year_built", "integer", "Year built", "Of the building."),
    _PIECES,
    _whole("correct", "To correct", "Problems of this class."),
    _whole("confirm", "To confirm", "Problems of this class."),
    _whole("report", "To report", "Problems of this class."),
    _whole("note", "Noted", "Problems of this class."),
    _ISSUES,
    *_BY_PRIORITY,
    _COUNTED,
    _text("why_not", "Why not counted", "The reason, where it is not counted."),
    _text("file", "File", "Where the survey workbook was read."),
)

_OF_ISSUES = (
    _SURVEY, _SITE, _DATE, _COUNTED,
    _text("id", "No.", "The number of the issue, the same from year to year at its site."),
    DataField("priority", "string", "Priority", "Most urgent first: " + ", ".join(PRIORITIES) + "."),
    _text("subject", "Subject", "Tag, room or service, as typed."),
    _text("kind", "Kind", "Kind of the equipment, or Room."),
    _text("level", "Level", "Level of the room."),
    _text("room", "Room", "Room."),
    _text("rule", "Rule", "The rule that found it, where one did."),
    _text("finding", "Finding", "What the inspector called it, where the inspector found it."),
    _text("kind_of_issue", "What is wrong", "Whoever found it: what it is counted as."),
    _text("seen", "What was seen", "One sentence or two."),
    _text("task", "Task", "What is to be done."),
    _text("trade", "Trade", "Who does it."),
    DataField("count", "integer", "Count", "How many at this place.", {"minimum": 1}),
)  # fmt: skip

_OF_PIECES = (
    _SURVEY, _SITE, _COUNTED,
    _text("tag", "Tag", "As typed."),
    _text("kind", "Kind", "Kind of the equipment."),
    _text("level", "Level", "Level of the room."),
    _text("room", "Room", "Room."),
    _text("voltage", "Voltage", "With unit, or in words."),
    _text("maker", "Maker", "As typed."),
    DataField("rating_a", "number", "Rating (A)", "Of the bus or the switch. [A]"),
    DataField("kva", "number", "kVA", "Nameplate rating of a transformer. [kVA]"),
    DataField("year_made", "integer", "Year made", "On the nameplate of a transformer."),
    DataField("transformer", "boolean", "Transformer", "Whether it is one."),
    _ISSUES, *_BY_PRIORITY,
)  # fmt: skip

_OF_COUNTS = (
    _text("by", "Counted by", "What the lines tell apart."),
    _text("label", "Label", "The line."),
    _whole("sites", "Sites", "Sites that it concerns."),
    _PIECES,
    _ISSUES,
    *_BY_PRIORITY,
)

_OF_YEARS = (
    _SITE,
    DataField("year", "integer", "Year", "Year of the inspection."),
    _PIECES,
    _ISSUES,
    *_BY_PRIORITY,
    _whole("new", "New", "Issues that the survey before did not have."),
    _whole("again", "Found again", "Issues that the survey before had too."),
    _whole("gone", "Not found again", "Issues of the survey before: mended, or not looked at."),
)

_OF_NOT_READ = (_text("file", "File", "What could not be read."), _text("why", "Why", "One sentence."))


def data_tables(rolled: RolledUp) -> Iterator[DataTable]:
    """Yield the tables."""
    surveys = ((_flags(line)[1:]) for line in rolled.surveys)
    yield _table("surveys", "Surveys", "One row for each survey that was read.", _OF_SURVEYS, surveys)
    issues = ((*_flags(line[:4]), *line.issue) for line in rolled.issues)
    yield _table("issues", "Issues", "Every issue, most urgent first.", _OF_ISSUES, issues, of_survey=True)
    pieces = ((*_flags(line[:3]), *_flags(line.piece)) for line in rolled.pieces)
    yield _table("equipment", "Equipment", "Every piece of equipment.", _OF_PIECES, pieces, of_survey=True)
    yield _table("counts", "Counts", "Over the surveys that are counted.", _OF_COUNTS, _counts(rolled))
    yield _table("years", "Over the years", "Sites surveyed in several years.", _OF_YEARS, rolled.years)
    not_read = ((str(one.path), one.sentence) for one in rolled.not_read)
    yield _table("not_read", "Not read", "Files that could not be read.", _OF_NOT_READ, not_read)


def _counts(rolled: RolledUp) -> Iterator[Sequence[Cell]]:
    tables: tuple[tuple[str, Counts], ...] = (
        ("priority", rolled.by_priority),
        ("site", rolled.by_site),
        ("what is wrong", rolled.by_issue),
        ("kind of equipment", rolled.by_kind),
        ("year made of transformers", rolled.by_decade),
        ("kVA of transformers", rolled.by_kva),
        ("amperes of everything else", rolled.by_amperes),
        ("first and last survey of sites surveyed in several years", rolled.first_and_last),
    )
    for by, counts in tables:
        line: CountLine
        for line in counts:
            yield by, *line


def _flags(cells: Iterable[Cell]) -> tuple[Cell, ...]:
    """Return cells with truth values as data has them."""
    return tuple(("true" if cell else "false") if isinstance(cell, bool) else cell for cell in cells)


def _table(
    name: str,
    title: str,
    says: str,
    columns: tuple[DataField, ...],
    rows: Iterable[Sequence[Cell]],
    *,
    of_survey: bool = False,
) -> DataTable:
    numbered: list[list[Cell]] = [
        [n, *(number(cell) if isinstance(cell, float) else None if cell == "" else cell for cell in row)]
        for n, row in enumerate(rows, 1)
    ]
    refers = {_SURVEY.name: "surveys"} if of_survey else {}
    return DataTable(name, title, says, (_ROW, *columns), numbered, refers=refers, missing=_MISSING)

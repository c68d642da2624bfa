"""What a survey workbook says by itself: everything else that stands there was typed by somebody.

    OwnTexts(template)          .above(text, headings), .in_labels(definition): what is ours there;
                                .typed_on_guide(sheet): what is not
    typed_on_lists(sheet, own)  the places of what was typed on the sheet of choices; None where it is another sheet
    how_filled(sheet)           the cells that say how the workbook was filled, where it is the sheet of that
    GUIDE_HEADS, HOW_TO_ANSWER  what the first sheet says whatever the template

Texts are compared by their letters and digits, so that no program's spaces or quotes make one of ours somebody's.

Not here: how they are written (survey_workbook).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property

from workbook_tools.definitions import PRIORITIES, Sheet, Template, spelling
from workbook_tools.spreadsheet import Cell
from workbook_tools.spreadsheet import Sheet as FileSheet
from workbook_tools.survey.origin import is_identity
from workbook_tools.survey.rows import Job

__all__ = [
    "BEFORE",
    "CHOICE",
    "COMBINED",
    "COMBINED_COLUMNS",
    "COMBINED_SAYS",
    "GUIDE_HEADS",
    "HOW",
    "HOW_FILLED",
    "HOW_FILLED_COLUMNS",
    "HOW_FILLED_SAYS",
    "HOW_TO_ANSWER",
    "IN_ORDER",
    "LEAVING",
    "LEFT_OPEN",
    "LIBRARY",
    "LIBRARY_HEADINGS",
    "NONE_LEFT",
    "NO_VALUE",
    "SO_FAR",
    "WRITTEN_BY",
    "OwnTexts",
    "how_filled",
    "in_words",
    "typed_on_lists",
]

BEFORE, LEAVING, IN_ORDER = "Before you touch anything", "Before you leave", "Fill in, in this order"
SO_FAR, HOW = "Findings so far", "How to answer"
GUIDE_HEADS = (BEFORE, LEAVING, IN_ORDER, SO_FAR, HOW)
"""The headings of the guide."""

HOW_TO_ANSWER = (
    "Amber cells are still to be filled in; an amber name has something missing or odd on its row: Row check, beside it, says what.",
    "N/V: could not be seen. N/A: there is none. Both are answers; a blank is not.",
    "Several tags or photos in one cell: part them with ;",
    "Choose from the lists, or type something else if nothing fits.",
    "Columns with a pale heading compute themselves; leave them alone.",
    "Keep photos as files, and write their names here.",
    "To print only what is filled in, filter Row check by what is not blank.",
)

NONE_LEFT = "none"
LEFT_OPEN = {
    "clearances": "Nothing measured in front of",
    "plates": "Label plate not recorded",
    "touch": "Touch test blank",
    "access": "Rooms with Access left open",
    "photos": "Findings without a photo",
    "carried": "Of the last survey, not looked at again",
    "unread": "Answers not understood",
    "unprepared": "Rows that only the check reads",
}
"""What may be left to do before leaving the building: each begins a line of the guide."""

HOW_FILLED = "How this was filled"
"""The sheet that says where the columns of the lists went that a workbook was filled from."""
HOW_FILLED_SAYS = (
    "Where each column of the lists went, and why. To correct it: workbook-tools new --fill LIST --placement-only "
    "placement.csv, change goes_to_sheet and goes_to_column there, and make the workbook again with --placement placement.csv."
)
HOW_FILLED_COLUMNS = (
    "file",
    "sheet",
    "table",
    "heading",
    "samples",
    "goes_to_sheet",
    "goes_to_column",
    "why",
)

COMBINED = "How this was combined"
"""The sheet that says where the parts of a survey answered differently."""
COMBINED_SAYS = (
    "Where the parts that this survey was put together from answer differently. Both answers stand on the sheet that is named: "
    "keep the right row and delete the other."
)
COMBINED_COLUMNS = (
    "sheet",
    "subject",
    "column",
    "part",
    "its answer",
    "other part",
    "its answer too",
    "what follows",
)

WRITTEN_BY = "Written by"
"""The own column of every table that says in whose part a row stands."""

LIBRARY = "Finding library of this template"
LIBRARY_HEADINGS = ("Finding", "Category", "Usual priority", "Usual action", "Related section")
CHOICE = "Choice"
NO_VALUE = ("N/V", "N/A")
"""The answers that there is no value, offered behind the choices of what is read off the equipment."""

_COUNTED = re.compile(
    r"(complete|nothing yet|\d+ rows?)(, complete)?(, \d+ (?:still missing|with gaps|to look at|short))*"
)
"""What a line of the guide counts, where a program saved its result without the formula."""

_LEFT = re.compile(r"\d+ \(.+\)", re.DOTALL)

_LIST_HEADING_ROWS = 5
_FEWEST_BLOCKS = 3


def in_words(name: str) -> str:
    """Return the name of a vocabulary as the sheet of choices has it.

    Examples
    --------
    >>> in_words("wiring_method")
    'Wiring method'
    """
    return name.replace("_", " ").capitalize()


class OwnTexts:
    """The texts that a workbook of one template says by itself."""

    def __init__(self, template: Template) -> None:
        self.template = template

    @cached_property
    def _everywhere(self) -> frozenset[str]:
        return _spelled(
            [
                self.template.title,
                self.template.firm.name,
                *(text for sheet in self.template.sheets for text in (sheet.name, sheet.ask)),
            ]
        )

    @cached_property
    def _guide(self) -> frozenset[str]:
        return self._everywhere | _spelled([*GUIDE_HEADS, *HOW_TO_ANSWER, *self.template.cautions])

    def above(self, text: str, headings: Iterable[str]) -> bool:
        """Whether a text above the headings of a table is ours, or part of a heading that takes two rows."""
        said = spelling(text)
        if not said:
            return False
        return said in self._everywhere or any(spelling(heading).startswith(said) for heading in headings)

    def in_labels(self, definition: Sheet) -> frozenset[str]:
        """Return what the sheet of labels says beside its labels, as texts are compared."""
        return self._everywhere | _spelled(column.ask for column in definition)

    def typed_on_guide(self, sheet: FileSheet) -> list[tuple[int, int]]:
        """Return the places of what somebody typed on the guide."""
        cells = sheet.cells
        title = cells.get((2, 1))
        # Above the title stands the firm's name, whatever template is at hand.
        head = (1, 1) if title is not None and spelling(title.text) == spelling(self.template.title) else None
        return [
            at for at, cell in cells.items() if cell.text.strip() and at != head and not self._on_guide(cell)
        ]

    def _on_guide(self, cell: Cell) -> bool:
        if cell.formula is not None or is_identity(cell.text):
            return True
        if cell.text.isdecimal():
            return int(cell.text) <= len(self.template.sheets)
        return spelling(cell.text) in self._guide or self._is_progress(cell.text)

    def _is_progress(self, text: str) -> bool:
        name, colon, said = text.partition(": ")
        if not colon:
            return False
        if name in PRIORITIES:
            return said.isdecimal()
        if name in LEFT_OPEN.values():
            return said == NONE_LEFT or _LEFT.fullmatch(said) is not None
        sheet = next((sheet for sheet in self.template.sheets if sheet.name == name), None)
        if sheet is not None and sheet.key == Job.key and said.startswith("fill in "):
            missing = said.removeprefix("fill in ").split(", ")
            return all(label in {column.heading for column in sheet} for label in missing)
        return sheet is not None and _COUNTED.fullmatch(said) is not None

    @cached_property
    def choices(self) -> frozenset[str]:
        """What the visible blocks of the sheet of choices hold, as texts are compared."""
        template = self.template
        names = (
            choice.name for vocabulary in template.vocabularies.values() for choice in vocabulary.choices
        )
        library = (
            text
            for entry in template.findings
            for text in (entry.name, entry.category, entry.priority, entry.action, entry.section)
        )
        return _spelled([*names, *NO_VALUE, *library])

    @cached_property
    def blocks(self) -> frozenset[str]:
        """The titles of the visible blocks, as texts are compared."""
        return _spelled([LIBRARY, *map(in_words, self.template.vocabularies)])


def how_filled(sheet: FileSheet) -> set[tuple[int, int]]:
    """Return the places of a sheet's cells that say how the workbook was filled or combined; none of another sheet."""
    top = sheet.cells.get((1, 1))
    said = {spelling(HOW_FILLED_SAYS): HOW_FILLED_COLUMNS, spelling(COMBINED_SAYS): COMBINED_COLUMNS}
    columns = said.get(spelling(top.text), ()) if top is not None else ()
    return {(row, column) for row, column in sheet.cells if column <= len(columns)}


def _spelled(texts: Iterable[str]) -> frozenset[str]:
    return frozenset(filter(None, map(spelling, texts)))


def typed_on_lists(sheet: FileSheet, own: OwnTexts) -> list[tuple[int, int]] | None:
    """Return the places of what somebody typed on the sheet of choices; None where it is no such sheet of ours.

    In a block of choices everything is typed that is no choice of the template. The blocks that only
    formulas read are hidden; what stands below their last row, or in no block, is typed.
    """
    cells = sheet.cells
    rows: dict[int, int] = {}
    for (row, _), cell in cells.items():
        if row <= _LIST_HEADING_ROWS and cell.text == CHOICE:
            rows[row] = rows.get(row, 0) + 1
    heads = max(rows, key=lambda row: rows[row], default=0)
    headed = sorted(column for row, column in cells if row == heads)
    title_of = {column: cells[heads - 1, column].text for column in headed if (heads - 1, column) in cells}
    visible = [column for column, title in title_of.items() if spelling(title) in own.blocks]
    if len(visible) < _FEWEST_BLOCKS:
        return None
    block_of: dict[int, int] = {}
    for column in headed:
        starts = column in title_of or column - 1 not in block_of
        block_of[column] = column if starts else block_of[column - 1]
    last = _last_rows(sheet, block_of, heads)
    return list(_typed(sheet, own, heads, block_of, frozenset(visible), last))


def _last_rows(sheet: FileSheet, block_of: dict[int, int], heads: int) -> dict[int, int]:
    """Return for each block the last row of those that follow its headings without a gap."""
    filled: dict[int, set[int]] = {}
    for row, column in sheet.cells:
        if row > heads and column in block_of:
            filled.setdefault(block_of[column], set()).add(row)
    for column, quiet in sheet.quiet.items():
        if column in block_of:
            filled.setdefault(block_of[column], set()).update(quiet)
    last = {}
    for block, rows in filled.items():
        row = heads
        while row + 1 in rows:
            row += 1
        last[block] = row
    return last


def _typed(
    sheet: FileSheet,
    own: OwnTexts,
    heads: int,
    block_of: dict[int, int],
    visible: frozenset[int],
    last: dict[int, int],
) -> Iterator[tuple[int, int]]:
    for (row, column), cell in sheet.cells.items():
        if cell.formula is not None or not cell.text.strip():
            continue
        block = block_of.get(column)
        if row < heads:
            if row < heads - 1 or block != column:
                yield row, column
        elif row > heads and (
            block is None
            or (block in visible and spelling(cell.text) not in own.choices)
            or (block not in visible and row > last.get(block, 0))
        ):
            yield row, column

"""Cells made from what an .xlsx file states: type, style, value, formula.

    CellMaker         makes the cells of one file; equal cells share one object
    with_formula      the same cell as the result of a formula
    too_many_cells    the sentence for a file over the limit; too_many_rows likewise

An .ods file writes errors and ticked booleans in the same words and is held to the same limits, so
its reader takes them from here.

Not here: where the cells stand (xlsx_sheet), the tables they point into (xlsx_tables).
"""

from __future__ import annotations

from datetime import date, datetime

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.cells import Cell
from workbook_tools.spreadsheet.number_formats import (
    DatePart,
    date_of_serial,
    date_part,
    date_text,
    number_text,
    read_number,
    whole_number,
)
from workbook_tools.spreadsheet.xlsx_pictures import InCellPictures
from workbook_tools.spreadsheet.xlsx_tables import plain

__all__ = [
    "BOOLEAN_FORMULAS",
    "KNOWN_ERRORS",
    "MOST_CELLS",
    "CellMaker",
    "too_many_cells",
    "too_many_rows",
    "with_formula",
]

MOST_CELLS = 2_000_000

# Results of formulas that went wrong, old and new, and those of other programs.
KNOWN_ERRORS = frozenset(
    [
        *("#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#GETTING_DATA"),
        *("#SPILL!", "#CALC!", "#FIELD!", "#BLOCKED!", "#CONNECT!", "#BUSY!", "#UNKNOWN!", "#EXTERNAL!"),
        *("#PYTHON!", "#TIMEOUT!", "#ERROR!", "#MACRO?"),
    ]
)
# A ticked boolean as LibreOffice Calc saves it.
BOOLEAN_FORMULAS = {"TRUE()": True, "FALSE()": False}


class CellMaker:
    """Makes the cells of one file."""

    def __init__(
        self, strings: list[str], formats: list[str], pictures: InCellPictures, *, from_1904: bool
    ) -> None:
        self.strings = strings
        self.formats = formats
        self.pictures = pictures
        self.from_1904 = from_1904
        self.filled = 0  # cells of the sheets read so far
        self.made: dict[tuple[str | None, str | None, str], Cell] = {}  # by type, style and value
        self._codes: dict[str | None, str | None] = {}
        self._parts: dict[str, DatePart | None] = {}

    def make(self, kind: str | None, style: str | None, raw: str) -> Cell | str | None:
        """Make a cell from its type, style and value; None when blank, a sentence when damaged."""
        code = self._codes[style] if style in self._codes else self.format_of(style)
        if kind is None or kind == "n":
            return self._number(raw, code)
        if kind == "s":
            return self._shared_text(raw, code)
        if kind == "str" or kind == "inlineStr":
            text = plain(raw)
            return Cell("text", text, text, None, code) if text else None
        if kind == "b":
            return self._flag(raw, code)
        if kind == "e":
            return self._error(raw, code)
        if kind == "d":
            return self._iso_date(raw.strip(), code)
        return self._number(raw, code)  # a type that no program writes

    def _number(self, raw: str, code: str | None) -> Cell | str | None:
        """Make a number, or a date where its format shows one."""
        value = read_number(raw)
        if value is None:
            return f"This cell should hold a number; the file says {raw[:40]}." if raw.strip() else None
        part = None if code is None else self._date_part(code)
        if part is None:
            return Cell("number", value, number_text(raw, value), None, code)
        day = date_of_serial(value, part, from_1904=self.from_1904)
        if day is None:
            return Cell("date", value, number_text(raw, value), None, code, value)
        return Cell("date", day, date_text(day), None, code, value)

    def _shared_text(self, raw: str, code: str | None) -> Cell | str | None:
        index = whole_number(raw.strip())
        if index is None or index >= len(self.strings):
            return (
                f"The text of this cell is lost: the file points to text number {raw[:20]}, which it lacks."
            )
        text = self.strings[index]
        return Cell("text", text, text, None, code) if text else None

    @staticmethod
    def _flag(raw: str, code: str | None) -> Cell | str:
        flag = raw.strip().lower()
        if flag in ("1", "true"):
            return Cell("bool", True, "TRUE", None, code)
        if flag in ("0", "false"):
            return Cell("bool", False, "FALSE", None, code)
        return f"This cell should hold TRUE or FALSE; the file says {raw[:40]}."

    @staticmethod
    def _error(raw: str, code: str | None) -> Cell | str:
        text = raw.strip()
        if text in KNOWN_ERRORS or text.startswith("Err:"):
            return Cell("error", text, text, None, code)
        return f"This cell holds an unknown error value: {raw[:40]}."

    def rescue(self, kind: str | None, style: str | None, raw: str) -> Cell:
        """Make a cell of what a damaged one still shows."""
        code = self.format_of(style)
        if kind == "s":
            return Cell("error", None, "", None, code)
        text = raw.strip()
        return Cell("error" if kind == "e" else "text", text, text, None, code)

    def format_of(self, style: str | None) -> str | None:
        """Give the number format code of a style."""
        if style not in self._codes:
            index = whole_number("0" if style is None else style)
            code = self.formats[index] if index is not None and index < len(self.formats) else None
            self._codes[style] = code
        return self._codes[style]

    def _date_part(self, code: str) -> DatePart | None:
        if code not in self._parts:
            self._parts[code] = date_part(code)
        return self._parts[code]

    @staticmethod
    def _iso_date(raw: str, code: str | None) -> Cell | str:
        try:
            moment = datetime.fromisoformat(raw)
        except ValueError:
            return f"This cell should hold a date; the file says {raw[:40]}."
        whole_day = len(raw) <= 10 or raw[10:] in (
            "T00:00:00",
            "T00:00:00Z",
            "T00:00:00.000",
            "T00:00:00.000Z",
        )
        day: date = moment.date() if whole_day else moment
        return Cell("date", day, date_text(day), None, code)


def with_formula(cell: Cell | None, formula: str, code: str | None = None) -> Cell:
    """Make the cell the result of a formula; TRUE() and FALSE() are plain booleans.

    Examples
    --------
    >>> with_formula(Cell("number", 1.0, "1"), "TRUE()").value
    True
    >>> with_formula(None, "A1+1").formula
    '=A1+1'
    """
    if len(formula) < 9 and (flag := BOOLEAN_FORMULAS.get(formula.upper())) is not None:
        return Cell("bool", flag, "TRUE" if flag else "FALSE", None, cell.number_format if cell else code)
    if cell is None:
        return Cell("text", None, "", "=" + formula, code)
    return Cell(cell.kind, cell.value, cell.text, "=" + formula, cell.number_format, cell.serial)


def too_many_rows(name: str) -> Unusable:
    """Sentence for a file with more rows than a sheet can hold."""
    return Unusable(
        f"{name} has more rows on a sheet than a sheet can hold: "
        "copy the filled rows into a new workbook and try again."
    )


def too_many_cells(name: str) -> Unusable:
    """Sentence for a file over the limit of cells."""
    return Unusable(
        f"{name} holds more than {MOST_CELLS // 1_000_000} million filled cells, too much for a survey: "
        "copy the filled rows into a new workbook and try again."
    )

"""Cells made from what an .ods file states: type, value, formula, paragraphs.

    make_cell    a Cell, None when blank, or a sentence when damaged

Not here: where the cell stands (ods_content).
"""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta

from workbook_tools.spreadsheet.cells import Cell
from workbook_tools.spreadsheet.number_formats import date_text, number_text, read_number
from workbook_tools.spreadsheet.xlsx_cells import KNOWN_ERRORS, with_formula

__all__ = ["make_cell"]

# "of:=A1", "oooc:=A1", "msoxl:=A1": the grammar before the formula.
GRAMMAR = re.compile(r"\A(?:[A-Za-z]+:)?=?")
DURATION = re.compile(
    r"\A(-?)P(?:(\d{1,6})D)?T?(?:(\d{1,7})H)?(?:(\d{1,7})M)?(?:(\d{1,7})(?:[.,](\d{1,9})\d*)?S)?\Z"
)
FRACTION = re.compile(r"(\.\d{6})\d+")


def make_cell(attributes: dict[str, str], text: str) -> Cell | str | None:
    """Make a cell from its attributes, names without prefix, and its paragraphs.

    Examples
    --------
    >>> make_cell({"value-type": "float", "value": "1600"}, "1,600 A").text
    '1600'
    >>> make_cell({"value-type": "float", "value": "1", "formula": "of:=TRUE()"}, "TRUE").value
    True
    """
    formula = attributes.get("formula")
    cell = _value(attributes, text)
    if formula is None or isinstance(cell, str):
        return cell
    return with_formula(cell, GRAMMAR.sub("", formula))


def _value(attributes: dict[str, str], text: str) -> Cell | str | None:
    if "error" in attributes.values() and attributes.get("value-type") in ("error", "string"):
        return Cell("error", text, text) if text else Cell("error", None, "#ERROR!")
    kind = attributes.get("value-type")
    if kind == "string":
        text = attributes.get("string-value", text)
        if "formula" in attributes and text in KNOWN_ERRORS:  # as gnumeric saves an error
            return Cell("error", text, text)
        return Cell("text", text, text) if text else None
    if kind in ("float", "percentage", "currency"):
        raw = attributes.get("value", "")
        value = read_number(raw)
        if value is None:
            return f"This cell should hold a number; the file says {raw[:40]}."
        return Cell("number", value, number_text(raw, value))
    if kind == "boolean":
        raw = attributes.get("boolean-value", "").strip().lower()
        if raw not in ("true", "false", "1", "0"):
            return f"This cell should hold TRUE or FALSE; the file says {raw[:40]}."
        flag = raw in ("true", "1")
        return Cell("bool", flag, "TRUE" if flag else "FALSE")
    if kind == "date":
        raw = attributes.get("date-value", "").strip()
        day = _date(raw)
        return f"This cell should hold a date; the file says {raw[:40]}." if day is None else _dated(day)
    if kind == "time":
        raw = attributes.get("time-value", "").strip()
        clock = _clock(raw)
        return f"This cell should hold a time; the file says {raw[:40]}." if clock is None else _dated(clock)
    return Cell("text", text, text) if text else None


def _dated(value: date | datetime | time | timedelta) -> Cell:
    return Cell("date", value, date_text(value))


def _date(raw: str) -> date | datetime | None:
    try:
        moment = datetime.fromisoformat(FRACTION.sub(r"\1", raw))
    except ValueError:
        return None
    return moment.date() if len(raw) <= 10 or moment.time() == time() else moment


def _clock(raw: str) -> time | timedelta | None:
    """Time of day below 24 hours, an elapsed time above."""
    found = DURATION.match(raw)
    if found is None or not raw.strip("-PT"):
        return None
    days, hours, minutes, seconds = (int(number or 0) for number in found.group(2, 3, 4, 5))
    fraction = float("0." + found[6]) if found[6] else 0.0
    try:
        elapsed = timedelta(days, seconds + round(fraction, 3), hours=hours, minutes=minutes)
    except OverflowError:
        return None
    if found[1]:
        return -elapsed
    return (datetime.min + elapsed).time() if elapsed < timedelta(days=1) else elapsed

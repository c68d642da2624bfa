"""What a cell says when it is selected, and what it offers to choose from.

validation(lists, column, table)    the options of the spreadsheet library for one column
"""

from __future__ import annotations

from typing import Any

from workbook_tools.definitions import Column
from workbook_tools.survey import Equipment
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists

__all__ = ["validation"]


def validation(lists: Lists, column: Column, table: Table | None = None) -> dict[str, Any]:
    """Return the input message of a column, and its drop-down where it has choices."""
    found: dict[str, Any] = {
        "validate": "any",
        "input_title": column.heading[:32],
        "input_message": column.ask[:255],
    }
    source, one_of_them = _choices(lists, column, table)
    if source:
        found |= {
            "validate": "list",
            "source": f"={source}",
            "error_type": "warning" if one_of_them else "information",
            "error_title": "Not on the list"[:32],
            "error_message": "It can stay as you typed it; the check will ask about it."
            if one_of_them
            else "It can stay as you typed it.",
        }
    return found


def _choices(lists: Lists, column: Column, table: Table | None) -> tuple[str, bool]:
    """Return the range that a column chooses from, and whether the answer should be one of it."""
    tables = lists.layout.tables
    if column.field == Equipment.fed_from.name:
        return lists.range("fed"), False
    if column.holds == "finding":
        return lists.range("findings"), False
    if column.refers_to:
        named = [tables[key] for key in column.refers_to if key in tables]
        if len(named) > 1:
            return lists.range("subjects"), False
        if named and named[0] is not table:
            return named[0].range(named[0].columns[0].field), column.holds != "tags"
    vocabulary = lists.template.vocabulary_of(column)
    if vocabulary is None:
        return "", False
    return lists.choices(column.vocabulary), not vocabulary.open and column.holds != "items"

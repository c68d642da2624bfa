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
    source = _choices(lists, column, table)
    if source:
        # Whatever is typed stays, without a dialog: its usual answer would throw the entry away.
        found |= {"validate": "list", "source": f"={source}", "show_error": False}
    return found


def _choices(lists: Lists, column: Column, table: Table | None) -> str:
    """Return the range that a column offers to choose from; blank for none."""
    tables = lists.layout.tables
    if column.field == Equipment.fed_from.name:
        return lists.range("fed")
    if column.holds == "finding":
        return lists.range("findings")
    if column.refers_to:
        named = [tables[key] for key in column.refers_to if key in tables]
        if len(named) > 1:
            return lists.range("subjects")
        if named and named[0] is not table:
            return named[0].range(named[0].columns[0].field)
    vocabulary = lists.template.vocabulary_of(column)
    return "" if vocabulary is None else lists.choices(column.vocabulary)

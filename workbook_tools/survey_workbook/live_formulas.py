"""The live cells that are seen, as formulas over the hidden columns beside them.

    live_formula(lists, table, live)   the formula of a live cell, for row {r}

Every one of them is blank on a blank row, and says in words what it cannot show as a figure.
Not here: the computing itself (workings), the row check (row_check).
"""

from __future__ import annotations

from collections.abc import Callable

from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.units import TIES_UP, UNREADABLE
from workbook_tools.live_cells.voltage_table import SEVERAL
from workbook_tools.live_cells.wording import (
    COMPARED_OK,
    NOT_LISTED,
    READ_AT_CHECK,
    SYSTEM_WORDS,
    WHICH_VOLTAGE,
)
from workbook_tools.survey_workbook.clearance_steps import DIMENSIONS, headings_of_dimensions
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.row_check import row_check

__all__ = ["live_formula"]

Q = quoted(UNREADABLE)
Shown = Callable[[Lists, Table], str]


def live_formula(lists: Lists, table: Table, live: str) -> str:
    """Return the formula of a live cell, for row {r}."""
    if live == "row_check":
        return "=" + row_check(table)
    used = table.cell("entries")
    return f'=IF({used}=0,"",{_SHOWN[live](lists, table)})'


def _unless_unread(cell: str, shown: str) -> str:
    return f'IF({cell}={Q},{quoted(READ_AT_CHECK)},IF({cell}="","",{shown}))'


def _volts(lists: Lists, table: Table) -> str:
    volts = table.cell("volts")
    words = f'"{SYSTEM_WORDS["not nominal"]}"'
    for outcome in ("conflict", "ambiguous"):
        words = f"IF({volts}={quoted(outcome)},{quoted(SYSTEM_WORDS[outcome])},{words})"
    return _unless_unread(volts, f"IF(ISNUMBER({volts}),{volts},{words})")


def _both_lines(table: Table, shown: str) -> str:
    first, second = table.cell("primary line"), table.cell("secondary line")
    several = f"OR({first}={quoted(SEVERAL)},{second}={quoted(SEVERAL)})"
    blank = f'OR({first}="",{second}="")'
    unread = f"OR({first}={Q},{second}={Q})"
    return (
        f'IF({blank},"",IF({unread},{quoted(READ_AT_CHECK)},IF({several},{quoted(WHICH_VOLTAGE)},{shown})))'
    )


def _direction(lists: Lists, table: Table) -> str:
    first, second = table.cell("primary line"), table.cell("secondary line")
    return _both_lines(table, f'IF({first}={second},"Isolation",IF({first}>{second},"Step-down","Step-up"))')


def _ratio(lists: Lists, table: Table) -> str:
    return _both_lines(table, _rounding(f"{table.cell('primary line')}/{table.cell('secondary line')}", 3))


def _rounding(expression: str, decimals: int) -> str:
    return f"ROUND({expression}*{10**decimals}+{TIES_UP},0)/{10**decimals}"


def _rounded(name: str, decimals: int) -> Shown:
    def shown(lists: Lists, table: Table) -> str:
        return _unless_unread(table.cell(name), _rounding(table.cell(name), decimals))

    return shown


def _needed(field: str) -> Shown:
    def shown(lists: Lists, table: Table) -> str:
        figure = table.cell(f"needed {field} parts")
        return _unless_unread(figure, table.cell(f"needed {field} said"))

    return shown


def _clearance_result(lists: Lists, table: Table) -> str:
    parts = [table.cell(f"{field} short") for field in DIMENSIONS]
    fine = ",".join(f"ISNUMBER({part})" for part in parts)
    all_enough = f"IF(AND({fine}),SUM({','.join(parts)})=0,FALSE)"
    compared_ok = quoted(", ".join(headings_of_dimensions(table).values()) + COMPARED_OK)
    return f"IF({all_enough},{compared_ok},MID({table.cell('said of clearances')},3,200))"


def _usual(column: int) -> Shown:
    def shown(lists: Lists, table: Table) -> str:
        row = table.cell("library row")
        found = f"INDEX({lists.range('findings', column)},{row})"
        return f'IF({row}="","",IF({row}={Q},{quoted(NOT_LISTED)},{found}))'

    return shown


_SHOWN: dict[str, Shown] = {
    "volts_to_ground": _volts,
    "direction": _direction,
    "turns_ratio": _ratio,
    "primary_a": _rounded("primary amps", 1),
    "secondary_a": _rounded("secondary amps", 1),
    "highest_fault_ka": _rounded("fault", 2),
    "needed_depth": _needed("depth"),
    "needed_width": _needed("width"),
    "needed_height": _needed("height"),
    "clearance_result": _clearance_result,
    "usual_priority": _usual(2),
    "usual_action": _usual(3),
}

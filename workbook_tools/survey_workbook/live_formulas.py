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
    DOUBTED,
    NOT_COMPARED,
    NOT_LISTED,
    READ_AT_CHECK,
    READ_LATER,
    SHORT,
    SYSTEM_WORDS,
    WHICH_VOLTAGE,
)
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.row_check import row_check
from workbook_tools.survey_workbook.workings import DIMENSIONS

__all__ = ["live_formula"]

Q = quoted(UNREADABLE)
Shown = Callable[[Lists, Table], str]


def live_formula(lists: Lists, table: Table, live: str) -> str:
    """Return the formula of a live cell, for row {r}."""
    if live == "row_check":
        return "=" + row_check(lists, table)
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
        return _unless_unread(figure, f'{_written(lists, figure)}&" "&{lists.cell("unit")}')

    return shown


def _written(lists: Lists, parts: str) -> str:
    """Return a count of parts of a unit as text: whole numbers put together, since programs write 5.37 differently."""
    scale, decimals = lists.cell("parts of a unit"), lists.cell("decimals")
    rest = f"MOD({parts},{scale})"
    return f'INT({parts}/{scale})&IF({rest}=0,"","."&RIGHT({scale}+{rest},{decimals}))'


def _clearance_result(lists: Lists, table: Table) -> str:
    short = not_compared = unread = doubted = '""'
    headings = []
    for field in DIMENSIONS:
        column = table.sheet.by_field.get(field)
        heading = column.heading if column is not None else field.capitalize()
        headings.append(heading)
        cell = table.cell(f"{field} short")
        said = quoted(f"; {heading} ")
        short += f'&IF(ISNUMBER({cell}),IF({cell}>0,{said}&{_written(lists, cell)}&" "&{lists.cell("unit")}&" {SHORT}",""),"")'
        not_compared += f'&IF({cell}="",{quoted(f", {heading}")},"")'
        doubted += f'&IF({cell}="unit",{quoted(f", {heading}")},"")'
        unread += f'&IF({cell}={Q},{quoted(f", {heading}")},"")'
    parts = [table.cell(f"{field} short") for field in DIMENSIONS]
    fine = ",".join(f"ISNUMBER({part})" for part in parts)
    all_enough = f"IF(AND({fine}),SUM({','.join(parts)})=0,FALSE)"
    texts = (
        f'IF({short}="","",{short})'
        f'&IF({not_compared}="","","; {NOT_COMPARED}"&MID({not_compared},3,99))'
        f'&IF({unread}="","","; {READ_LATER}"&MID({unread},3,99))'
        f'&IF({doubted}="","","; {DOUBTED}"&MID({doubted},3,99))'
    )
    compared_ok = quoted(", ".join(headings) + COMPARED_OK)
    return f"IF({all_enough},{compared_ok},MID({texts},3,200))"


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

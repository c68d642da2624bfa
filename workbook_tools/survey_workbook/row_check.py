"""The row check: what is missing next on a row, as a formula.

    key_steps(workings)    hidden columns: entries on the row, its key, the keys of the names it refers to
    gap_steps(workings)    hidden column: the headings still to be filled in
    row_check(lists, table)   the visible cell

One thing at a time, in the order in which it helps to mend it: what is blank, a name used
twice, a name that is on no other sheet. Values are judged by the check, not here.
"""

from __future__ import annotations

from workbook_tools.definitions import Column
from workbook_tools.live_cells.row_checks import NAMED_ONCE, SEVERAL_SIGNS
from workbook_tools.live_cells.typed_forms import LIST, SPELLING, TAG, quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.live_cells.wording import FILL_IN, OK, not_in, twice
from workbook_tools.survey import Equipment
from workbook_tools.survey_workbook.hidden_columns import Workings
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.profile_in_use import answered_none

__all__ = ["gap_steps", "key_steps", "referring", "row_check"]

Q = quoted(UNREADABLE)


def key_steps(w: Workings) -> None:
    """Add the hidden columns that other tables look up."""
    table = w.table
    counted = [f"COUNTA(${first}{{r}}:${last}{{r}})" for first, last in table.typed_runs()]
    w.add("entries", "+".join(counted) or "0")
    if table.columns and table.columns[0].holds in ("tag", "room"):
        w.add("key", TAG.formula(table.cell(table.columns[0].field)))
    for column, _ in referring(table, w.lists):
        if column is not table.columns[0]:
            w.add(f"{column.field} key", TAG.formula(table.cell(column.field)))
    if table.sheet.key == Equipment.key:
        if Equipment.kind.name in table.sheet.by_field:
            w.choice("kind choice", Equipment.kind)
        else:
            w.add("kind choice", '""')
        _fed_key(w)


def _fed_key(w: Workings) -> None:
    """Add the key of the one name that Fed from holds; blank for none and for several."""
    cell = w.table.cell(Equipment.fed_from)
    listed = w.add("fed list", f'IF(TRIM({cell})="","",{LIST.formula(cell)})')
    start = f'IF(LEFT({listed},1)=";",MID({listed},2,999),{listed})'
    trimmed = w.add("fed trimmed", start)
    bare = f'IF(RIGHT({trimmed},1)=";",LEFT({trimmed},LEN({trimmed})-1),{trimmed})'
    one = w.add("fed one", bare)
    w.add("fed key", f'IF(OR({one}="",ISNUMBER(FIND(";",{one}))),"",{TAG.formula(one)})')


def referring(table: Table, lists: Lists) -> list[tuple[Column, list[Table]]]:
    """Return the columns that hold one name of another sheet, with the tables it must be in."""
    found = []
    for column in table.sheet.typed:
        tables = [lists.layout.tables[key] for key in column.refers_to if key in lists.layout.tables]
        if tables and column.holds in ("tag", "room"):
            found.append((column, tables))
    return found


def gap_steps(w: Workings) -> None:
    """Add the headings of what is still to be filled in: ", Room, Maker"."""
    table = w.table
    parts = []
    for column in table.sheet.typed:
        asked = _asked(table, column)
        if asked is None:
            continue
        blank = f'TRIM({table.cell(column.field)})=""'
        condition = f"AND({blank},{asked})" if asked else blank
        parts.append(f'IF({condition},{quoted(f", {column.heading}")},"")')
    w.joined("gaps", parts)


def _asked(table: Table, column: Column) -> str | None:
    """When a column must be answered: None for never, "" for always, or a condition."""
    if not (column.required or column.required_for):
        return None
    if table.sheet.key != Equipment.key:
        return "" if column.required else None
    kind = table.cell("kind choice")
    conditions = []
    if column.required_for and not column.required:
        conditions.append(_one_of(kind, column.required_for))
    elif column.required and column.optional_for:
        conditions.append(f"NOT({_one_of(kind, (*column.optional_for, UNREADABLE))})")
    if column.field in (Equipment.phase.name, Equipment.wires.name):
        said = table.cell(f"voltage {'phases' if column.field == Equipment.phase.name else 'wires'} said")
        system = table.cell("system")
        conditions.append(f"NOT(OR(ISNUMBER({system}),{table.cell('voltage row')}={Q},{said}>0))")
    return f"AND({','.join(conditions)})" if len(conditions) > 1 else "".join(conditions)


def _one_of(cell: str, names: tuple[str, ...]) -> str:
    return f"OR({','.join(f'{cell}={quoted(name)}' for name in names)})"


def row_check(lists: Lists, table: Table) -> str:
    """Return the expression of the row check, for row {r}."""
    steps = []
    gaps = table.cell("gaps")
    steps.append((f'{gaps}<>""', f"{quoted(FILL_IN)}&MID({gaps},3,200)"))
    if table.sheet.key in NAMED_ONCE and "key" in table.workings:
        key = table.cell("key")
        steps.append(
            (
                f'AND({key}<>"k",COUNTIF({table.range("key")},{key})>1)',
                quoted(twice(table.columns[0].heading)),
            )
        )
    for column, tables in referring(table, lists):
        name = "key" if column is table.columns[0] else f"{column.field} key"
        said = quoted(not_in(column.heading, [other.sheet.name for other in tables]))
        steps.append((_nowhere(lists, table.cell(name), table.cell(column.field), tables), said))
    fed = table.sheet.by_field.get(Equipment.fed_from.name)
    if table.sheet.key == Equipment.key and fed is not None:
        cell, key = table.cell(Equipment.fed_from), table.cell("fed key")
        outside = f"ISNUMBER(MATCH({key},{lists.range('outside')},0))"
        several = ",".join(f"ISNUMBER(FIND({quoted(sign)},{cell}))" for sign in SEVERAL_SIGNS)
        nowhere = _nowhere(lists, key, cell, [table])
        steps.append(
            (
                f"AND({nowhere},NOT({outside}),NOT(OR({several})))",
                quoted(not_in(fed.heading, [table.sheet.name])),
            )
        )
    expression = quoted(OK)
    for condition, said in reversed(steps):
        expression = f"IF({condition},{said},{expression})"
    return f'IF({table.cell("entries")}=0,"",{expression})'


def _nowhere(lists: Lists, key: str, cell: str, tables: list[Table]) -> str:
    """Return the condition that a name was typed, is no answer like N/V, and is the key of no row of the tables."""
    missing = ",".join(f"ISNA(MATCH({key},{table.range('key')},0))" for table in tables)
    return f'AND({key}<>"",{key}<>"k",{missing},NOT({answered_none(lists, cell, SPELLING.formula(cell))}))'

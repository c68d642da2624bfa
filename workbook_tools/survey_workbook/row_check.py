"""The row check: what is missing or odd next on a row, as a formula.

    key_steps(workings)       hidden columns: entries on the row, its key, the keys of the names it refers to
    check_steps(workings)     hidden columns: what each thing that can be said is about
    row_check(table)          the visible cell: the first that has something to say
    unprepared_row_check(table)   the same below the prepared rows

One thing at a time, in the order in which it helps to mend it; live_cells.row_checks says the same in Python.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.definitions import Column
from workbook_tools.live_cells.row_checks import MOST_SAID, NAMED_ONCE, asks_of_last_time, echoed, wanted
from workbook_tools.live_cells.typed_forms import LIST, TAG, quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.live_cells.wording import (
    FILL_IN,
    NOT_A_CHOICE,
    OK,
    READ_AS,
    READ_AT_CHECK,
    READ_LATER,
    ROW_BELOW,
    STILL_OPEN,
    UNUSUAL,
    not_in,
    twice,
)
from workbook_tools.survey import Equipment, Finding
from workbook_tools.survey_workbook.hidden_columns import Workings, is_one_of
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.sheet_checks import is_found, is_visited, sheet_steps

__all__ = ["OF_LAST_TIME", "check_steps", "key_steps", "referring", "row_check", "unprepared_row_check"]

Q = quoted(UNREADABLE)

OF_LAST_TIME = "says of last time"
"""The hidden column that asks about a row which was carried over."""


def key_steps(w: Workings) -> None:
    """Add the hidden columns that other tables look up."""
    table = w.table
    w.add("entries", entries(table))
    w.add("below", _below(table))
    if table.columns and table.columns[0].holds in ("tag", "room"):
        w.add("key", TAG.formula(table.cell(table.columns[0].field)))
    for column, _ in referring(table, w.lists):
        if column is not table.columns[0]:
            w.add(f"{column.field} key", TAG.formula(table.cell(column.field)))
    if table.sheet.key == Equipment.key:
        if Equipment.kind.name in table.sheet.by_field:
            w.choice(Equipment.kind)
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


def check_steps(w: Workings) -> None:
    """Add the hidden columns of what the row check can say: the words or what they list, or a blank."""
    table = w.table
    steps = [
        _headed(NOT_A_CHOICE, table.cell("no choices")),
        _headed(FILL_IN, w.joined("gaps", list(_gaps(table)))),
        *map(_as_it_is, _twice(w)),
        _headed(READ_LATER, table.cell("unread")),
        _headed(UNUSUAL, table.cell("unusual")),
        *map(_as_it_is, _nowhere(w)),
        *map(_as_it_is, sheet_steps(w)),
        *map(_as_it_is, _of_last_time(w)),
        _headed(STILL_OPEN, w.joined("open", list(_open(w)))),
    ]
    w.joined("read as", list(_read_as(w)))
    table.said = steps


def _headed(begins: str, listed: str) -> tuple[str, str]:
    return listed, f"{quoted(begins)}&MID({listed},3,{MOST_SAID})"


def _as_it_is(cell: str) -> tuple[str, str]:
    return cell, cell


def _gaps(table: Table) -> Iterator[str]:
    """Yield the headings of what is still to be filled in, each ", Room" where it is."""
    for column in table.sheet.typed:
        asked = _asked(table, column)
        if asked is None:
            continue
        blank = f'TRIM({table.cell(column.field)})=""'
        condition = f"AND({blank},{asked})" if asked else blank
        yield f'IF({condition},{quoted(f", {column.heading}")},"")'


def _twice(w: Workings) -> Iterator[str]:
    table = w.table
    if table.sheet.key in NAMED_ONCE and "key" in table.workings:
        key = table.cell("key")
        said = quoted(twice(table.columns[0].heading))
        yield w.add("says twice", f'IF({key}="k","",IF(COUNTIF({table.own_range("key")},{key})>1,{said},""))')


def _nowhere(w: Workings) -> Iterator[str]:
    for column, tables in referring(w.table, w.lists):
        name = "key" if column is w.table.columns[0] else f"{column.field} key"
        said = quoted(not_in(column.heading, [other.sheet.name for other in tables]))
        nowhere = w.nowhere(column.field, w.table.cell(name), tables)
        yield w.add(f"says {column.field} nowhere", f'IF({nowhere},{said},"")')


def _of_last_time(w: Workings) -> Iterator[str]:
    asks = asks_of_last_time(w.table.sheet, w.lists.template)
    if asks:
        carried, answer = w.table.cell(Finding.last_seen), w.table.cell(Finding.this_year)
        yield w.add(OF_LAST_TIME, f'IF(AND(TRIM({carried})<>"",TRIM({answer})=""),{quoted(asks)},"")')


def _open(w: Workings) -> Iterator[str]:
    """Yield the headings of what nobody must fill in and the check asks for all the same."""
    asked = {Equipment.key: is_visited, Finding.key: is_found}.get(w.table.sheet.key, lambda _: "")
    for column in wanted(w.table.sheet.key, w.lists.template):
        blank, condition = f'TRIM({w.table.cell(column.field)})=""', asked(w)
        condition = f"AND({blank},{condition})" if condition else blank
        yield f'IF({condition},{quoted(f", {column.heading}")},"")'


def _read_as(w: Workings) -> Iterator[str]:
    """Yield what free answers were taken for: choices in other words, and a system whose phases and wires nobody typed."""
    for column in echoed(w.table.sheet):
        choice, cell = w.choice(column), w.table.cell(column.field)
        yield f'IF(OR({choice}="",LOWER(TRIM({cell}))=LOWER({choice})),"",", "&{choice})'
    if w.table.sheet.key == Equipment.key:
        system = w.table.cell("system")
        phase, wires = w.table.cell(Equipment.phase), w.table.cell(Equipment.wires)
        typed = f'AND(TRIM({phase})<>"",TRIM({wires})<>"")'
        name = w.add(
            "system name", f'IF(ISNUMBER({system}),INDEX({w.lists.range("systems", 1)},{system}),"")'
        )
        yield f'IF(OR({typed},{name}=""),"",", "&{name})'


def row_check(table: Table) -> str:
    """Return the expression of the row check, for row {r}."""
    read_as = table.cell("read as")
    expression = f'IF({read_as}="",{quoted(OK)},{quoted(OK + READ_AS)}&MID({read_as},3,{MOST_SAID}))'
    for cell, said in reversed(table.said):
        expression = f'IF({cell}<>"",{said},{expression})'
    return f'IF({table.cell("entries")}=0,"",{expression}&{table.cell("below")})'


def entries(table: Table) -> str:
    """Return the expression of how many cells of a row are typed."""
    return "+".join(f"COUNTA(${first}{{r}}:${last}{{r}})" for first, last in table.typed_runs()) or "0"


def unprepared_row_check(table: Table) -> str:
    """Return the expression of the row check on a row below the prepared ones, where no other formula stands."""
    return f'IF({entries(table)}=0,"",{quoted(READ_AT_CHECK)})'


def _below(table: Table) -> str:
    """Return the expression of what is said of the next row, where something is typed and no formula stands.

    A row that somebody puts in between has no formula of its own in most programs.
    """
    first, counted = table.letters[table.columns[0].field], table.workings["entries"]
    unprepared = f'AND(INDEX(${first}:${first},ROW()+1)<>"",INDEX(${counted}:${counted},ROW()+1)="")'
    return f'IF({unprepared},{quoted(ROW_BELOW)},"")'


def _asked(table: Table, column: Column) -> str | None:
    """When a column must be answered: None for never, "" for always, or a condition."""
    if not (column.required or column.required_for):
        return None
    if table.sheet.key != Equipment.key:
        return "" if column.required else None
    kind = table.cell("kind choice")
    conditions = []
    if column.required_for and not column.required:
        conditions.append(is_one_of(kind, column.required_for))
    elif column.required and column.optional_for:
        conditions.append(f"NOT({is_one_of(kind, (*column.optional_for, UNREADABLE))})")
    if column.field in (Equipment.phase.name, Equipment.wires.name):
        said = table.cell(f"voltage {'phases' if column.field == Equipment.phase.name else 'wires'} said")
        system = table.cell("system")
        conditions.append(f"NOT(OR(ISNUMBER({system}),{table.cell('voltage row')}={Q},{said}>0))")
    return f"AND({','.join(conditions)})" if len(conditions) > 1 else "".join(conditions)

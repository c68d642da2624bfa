"""What the lines of Start here count, as formulas.

    leaving_steps(workings)      hidden columns: the row, where something is left to do on it
    add_left(lists)              a block of Lists: how many rows, and the first of them, for each line and table
    left_formulas(lists)         {line: formula}: what is left to do, a link to where
    progress_formulas(lists)     {name: formula}: how far each sheet is, and findings by priority

Not here: the same in Python (live_cells.guide_lines).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbook_tools.definitions import PRIORITIES
from workbook_tools.live_cells.guide_lines import (
    LACKING,
    NAMED,
    SAID,
    Left,
    lines_of,
    name_of,
    nothing_left,
    said_of,
    tables_of,
)
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.live_cells.wording import OK, SHORT
from workbook_tools.survey import Finding, Job, Room, Row
from workbook_tools.survey_workbook.blocks import Block
from workbook_tools.survey_workbook.hidden_columns import Workings
from workbook_tools.survey_workbook.layout import FIRST_ROW, Table, letters
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.prefilled import Prefilled
from workbook_tools.survey_workbook.row_check import OF_LAST_TIME

__all__ = ["add_left", "leaving_steps", "left_formulas", "progress_formulas"]

UNPREPARED = "unprepared"
LEFT_BLOCK = "left"
FAR_DOWN = 2000
"""Rows below the last prepared one in which names are still counted."""

_HEADINGS = ("Line", "Rows", "Any", "Where", *(f"Name {number}" for number in range(1, NAMED + 1)), "Said")
_ROWS, _ANY, _WHERE, _NAMES, _SAID = 1, 2, 3, 4, 4 + NAMED


def leaving_steps(w: Workings) -> None:
    """Add a hidden column for each line that looks at this table: the row's number, where something is left."""
    for line in lines_of(w.lists.template):
        condition = _condition(w, line)
        if condition:
            w.add(f"left {line.name}", f'IF({w.table.cell("entries")}=0,"",IF({condition},ROW(),""))')


def _condition(w: Workings, line: Left) -> str:
    """Return when something is left on a row; blank where the line does not look at this table."""
    table = w.table
    if line.table not in ("", table.sheet.key) or line.name == UNPREPARED:
        return ""
    if line.name == "unread":
        return f'OR({table.cell("no choices")}<>"",{table.cell("unread")}<>"")'
    if line.name == "access":
        if Room.access.name not in table.sheet.by_field:
            return ""
        access = w.choice(Room.access)
        return f'OR({access}="",{access}={quoted(UNREADABLE)})'
    said = {"clearances": "says no clearance", "plates": "says no plate", "carried": OF_LAST_TIME}.get(
        line.name, "open"
    )
    return f'{table.cell(said)}<>""' if said in table.workings else ""


def add_left(lists: Lists, filled: Prefilled) -> None:
    """Add the block of Lists that the lines read: for each line and table how many rows, and the first of them."""
    block = Block(LEFT_BLOCK, "What is left to do", _HEADINGS, [])
    lists.add(block)
    for line in lines_of(lists.template):
        for key in tables_of(line, lists.template):
            _add_counted(lists, block, line, lists.layout.tables[key], filled.rows_left(line, key))


def _add_counted(lists: Lists, block: Block, line: Left, table: Table, rows: list[Row]) -> None:
    number = len(block.rows)
    names = [name_of(row) for row in rows[:NAMED]]
    names += [""] * (NAMED - len(names))
    where = f"{table.quoted_name}!A{rows[0].number}" if rows else ""
    said = said_of(line, table.sheet, rows) if rows else ""
    block.rows.append((f"{line.name} {table.sheet.key}", len(rows), int(bool(rows)), where, *names, said))

    def at(column: int) -> str:
        return f"${letters(block.first_column + column)}${FIRST_ROW + number}"

    count, column = at(_ROWS), f"left {line.name}"
    if line.name == UNPREPARED:
        first = table.letters[table.columns[0].field]
        names_typed = f"{table.quoted_name}!${first}${FIRST_ROW}:${first}${table.last_row + FAR_DOWN}"
        prepared = f'({table.range(table.columns[0].field)}<>"")*({table.range("entries")}>0)'
        texts = {
            _ROWS: f"COUNTA({names_typed})-SUMPRODUCT({prepared})",
            _WHERE: f'IF({count}=0,"",{quoted(f"{table.quoted_name}!A{table.last_row + 1}")})',
            _SAID: f'IF({count}=0,"",{quoted(f"{table.sheet.name} ")}&{count})',
        }
    elif column in table.workings:
        texts = {_ROWS: f"COUNT({table.range(column)})"} | dict(_first_of(line, table, at))
    else:
        return
    texts[_ANY] = f"IF({count}>0,1,0)"
    block.formulas |= {(number, column): f"={text}" for column, text in texts.items()}


def _first_of(line: Left, table: Table, at: Callable[[int], str]) -> Iterator[tuple[int, str]]:
    count, rows = at(_ROWS), table.range(f"left {line.name}")
    names = f"{table.quoted_name}!$A:$A"
    yield _WHERE, f'IF({count}=0,"",{quoted(f"{table.quoted_name}!A")}&MIN({rows}))'
    for place in range(NAMED):
        row = f"SMALL({rows},{place + 1})"
        name = f"INDEX({names},{row})"
        yield _NAMES + place, f'IF({count}>{place},IF({name}="","row "&{row},{name}),"")'
    listed = at(_NAMES) + "".join(
        f'&IF({count}>{place},", "&{at(_NAMES + place)},"")' for place in range(1, NAMED)
    )
    head = "" if line.table else f"{quoted(f'{table.sheet.name} ')}&"
    yield _SAID, f'IF({count}=0,"",{head}{listed}&IF({count}>{NAMED},", ...",""))'


def left_formulas(lists: Lists) -> dict[Left, str]:
    """Return what is left to do, line by line: a link to the first place."""
    names = [entry[0] for entry in lists.blocks[LEFT_BLOCK].rows]
    found, first = {}, 0
    for line in lines_of(lists.template):
        last = first + sum(str(name).startswith(f"{line.name} ") for name in names) - 1
        found[line] = (
            _left_formula(lists, line, first, last) if last >= first else f"={quoted(nothing_left(line))}"
        )
        first = last + 1
    return found


def _left_formula(lists: Lists, line: Left, first: int, last: int) -> str:
    block = lists.blocks[LEFT_BLOCK]

    def run(column: int) -> str:
        place = letters(block.first_column + column)
        ends = "" if first == last else f":${place}${FIRST_ROW + last}"
        return f"{lists.layout.lists_name}!${place}${FIRST_ROW + first}{ends}"

    said = f"{lists.layout.lists_name}!${letters(block.first_column + _SAID)}$"
    parts = "&".join(
        f'IF({said}{FIRST_ROW + row}="","","; "&{said}{FIRST_ROW + row})' for row in range(first, last + 1)
    )
    # gnumeric looks up nothing in a range of one cell.
    found = run(_WHERE) if first == last else f"INDEX({run(_WHERE)},MATCH(1,{run(_ANY)},0))"
    count = f"SUM({run(_ROWS)})"
    text = f'{quoted(f"{line.words}: ")}&{count}&" ("&MID({parts},3,{SAID})&")"'
    link = f'HYPERLINK("#"&{found},{text})'
    return f"=IF({count}=0,{quoted(nothing_left(line))},{link})"


def progress_formulas(lists: Lists) -> dict[str, str]:
    """Return the progress line of each sheet to fill in, by key, and of each priority."""
    found = {key: _table_progress(lists, table) for key, table in lists.layout.tables.items()}
    found[Job.key] = _job_progress(lists)
    findings = lists.layout.tables.get(Finding.key)
    for priority in PRIORITIES:
        count = f"COUNTIF({findings.range('priority counted')},{quoted(priority)})" if findings else "0"
        found[priority] = f"={quoted(f'{priority}: ')}&{count}"
    return found


def _table_progress(lists: Lists, table: Table) -> str:
    used = f'COUNTIF({table.range("entries")},">0")'
    counted = f'IF({used}=0,"nothing yet",{used}&IF({used}=1," row"," rows"))'
    text = f"{quoted(f'{table.sheet.name}: ')}&{counted}"
    lacking = _lacking(lists, table)
    if lacking:
        text += f'&IF({lacking}=0,"",", "&{lacking}&" still missing")'
    checks = next((column.field for column in table.columns if column.live == "row_check"), "")
    if checks:
        said = table.range(checks)
        odd = f'(COUNTIF({said},"?*")-COUNTIF({said},{quoted(OK + "*")}))'
        wanting = f"OR({used}=0,{lacking}>0)" if lacking else f"{used}=0"
        text += f'&IF({odd}>0,", "&{odd}&" to look at",IF({wanting},"",", complete"))'
    result = next((column.field for column in table.columns if column.live == "clearance_result"), "")
    if result:
        short = f"COUNTIF({table.range(result)},{quoted(f'*{SHORT}*')})"
        text += f'&IF({short}=0,"",", "&{short}&" short")'
    return f"={text}"


def _lacking(lists: Lists, table: Table) -> str:
    """Return how many pieces of equipment want a row in a table and have none; blank for a table that none wants."""
    line = LACKING.get(table.sheet.key)
    equipment = lists.layout.tables.get(line.table) if line else None
    if line is None or equipment is None or f"left {line.name}" not in equipment.workings:
        return ""
    return _left_cell(lists, line, line.table, _ROWS)


def _left_cell(lists: Lists, line: Left, table: str, column: int) -> str:
    """Return a cell of the block of what is left, for one line and one table."""
    block = lists.blocks[LEFT_BLOCK]
    row = [entry[0] for entry in block.rows].index(f"{line.name} {table}")
    return f"{lists.layout.lists_name}!${letters(block.first_column + column)}${FIRST_ROW + row}"


def _job_progress(lists: Lists) -> str:
    job = lists.layout.job
    parts = [
        f'IF(TRIM({lists.layout.job_cell(column)})="",{quoted(f", {column.heading}")},"")'
        for column in job.columns
        if column.required
    ]
    missing = "&".join(parts) or '""'
    complete = quoted(f"{job.name}: complete")
    return f'=IF({missing}="",{complete},{quoted(f"{job.name}: fill in ")}&MID({missing},3,200))'

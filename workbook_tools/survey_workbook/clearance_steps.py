"""The working space of Clearances, step by step in hidden columns.

    clearance_steps(workings)         what is needed, what each length comes to, and by how much it is short
    doubt_steps(workings, field)      whether a length is in the usual range, and whether its unit is doubted
    headings_of_dimensions(table)     the headings of depth, width and height
    DIMENSIONS                        their fields

Not here: how a length is read (amounts), the same results in Python (live_cells).
"""

from __future__ import annotations

from workbook_tools.electrical import CONDITIONS
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.units import MM_IN_UNIT, TIES_UP, UNREADABLE
from workbook_tools.live_cells.wording import DOUBTED, NOT_COMPARED, READ_LATER, SHORT
from workbook_tools.rules.values import UNIT_SUSPECT
from workbook_tools.survey import Clearance, Equipment
from workbook_tools.survey_workbook.amounts import length_steps
from workbook_tools.survey_workbook.hidden_columns import Workings
from workbook_tools.survey_workbook.layout import Table

__all__ = ["DIMENSIONS", "clearance_steps", "doubt_steps", "headings_of_dimensions"]

DIMENSIONS = tuple(length.name for length in (Clearance.depth, Clearance.width, Clearance.height))
Q = quoted(UNREADABLE)
SLACK = 1e-6  # millimetres that the arithmetic may leave at the end of a range


def clearance_steps(w: Workings) -> None:
    """Add the hidden columns, the last of them "said of clearances"."""
    lists, cell = w.lists, w.table.cell
    opposite = w.choice(Clearance.opposite_side)
    equipment = lists.layout.tables[Equipment.key]
    key = cell("key")
    place = f"MATCH({key},{equipment.range('key')},0)"
    volts = w.add("volts", f'IF({key}="k","",IFERROR(INDEX({equipment.range("volts")},{place}),""))')
    readable = f"{w.in_use('readable')}=1"
    side = "0"
    for number, name in reversed(list(enumerate(CONDITIONS, 1))):
        side = f"IF({opposite}={quoted(name)},{number},{side})"
    column = w.add("side", f"IF({opposite}={Q},1,{side})")
    row = f"MATCH({volts}-0.001,{lists.range('depths in use')},1)"
    unread = f"OR({volts}={Q},{opposite}={Q},NOT({readable}))"
    nothing = f"OR(AND({volts}<>{Q},NOT(ISNUMBER({volts}))),{column}=0)"
    # Where something is not known: what falls short even at the lowest voltage with nothing opposite.
    least_row, least_column = f"IF(ISNUMBER({volts}),{row},1)", f"IF({column}=0,1,{column})"
    for name, block in (("in", 1), ("mm", 4)):
        table = lists.range("depths in use", block, 3)
        found = f'IFERROR(INDEX({table},{row},{column}),"")'
        w.add(f"needed depth {name}", f'IF({nothing},"",IF({unread},{Q},{found}))')
        least = f'IFERROR(INDEX({table},{least_row},{least_column}),"")'
        w.add(f"least depth {name}", f"IF({unread},{Q},{least})")
    for field in (*DIMENSIONS, *OWN.values()):
        length_steps(w, field)
    high = f"AND(ISNUMBER({volts}),N({volts})>{w.in_use('high volts')})"
    for field, own_field in OWN.items():
        own = cell(f"{own_field} length")
        own_in = f"{own}/IF({cell(f'{own_field} metric')}=1,25.4,1)"
        of_width = field == Clearance.width.name
        figures = {
            name: f"IF({high},{w.in_use(f'high width {name}')},{w.in_use(f'width {name}')})"
            if of_width
            else w.in_use(f"height {name}")
            for name in ("in", "mm")
        }
        unknown = [f"{own}={Q}", f"NOT({readable})", *([f"{volts}={Q}"] if of_width else [])]
        governs = w.add(f"{own_field} governs", f"IF(ISNUMBER({own}),IF({own_in}>{figures['in']},1,0),0)")
        for name, when_own in (("in", own_in), ("mm", '""')):
            greater = f"IF({governs}=1,{when_own},{figures[name]})"
            w.add(f"needed {field} {name}", f"IF(OR({','.join(unknown)}),{Q},{greater})")
    for field in DIMENSIONS:
        inches, millimetres = cell(f"needed {field} in"), cell(f"needed {field} mm")
        printed = f"IF(AND({w.in_use('metric')}=1,ISNUMBER({millimetres})),{millimetres},{inches}*25.4)"
        parts = f"ROUND({printed}/{w.in_use('mm in a unit')}*{w.in_use('parts of a unit')}+{TIES_UP},0)"
        needed = w.add(f"needed {field} parts", f"IF(ISNUMBER({inches}),{parts},{inches})")
        w.add(f"needed {field} said", f'{_written(w, needed)}&" "&{w.in_use("unit")}')
    for field in (*DIMENSIONS, *OWN.values()):
        doubt_steps(w, field)
    # Without the equipment's own width, or what decides the depth, only a shortfall is certain, not that it is enough.
    exact = {
        Clearance.depth.name: f"ISNUMBER({cell('needed depth in')})",
        Clearance.width.name: f'{cell("equipment_width length")}<>""',
    }
    for field in DIMENSIONS:
        doubted = f"{cell(f'{field} doubted')}=1"
        if field in OWN:
            governs = f"AND({cell(f'{OWN[field]} governs')}=1,{cell(f'{OWN[field]} in range')}=0)"
            doubted = f"OR({doubted},{cell(f'{OWN[field]} doubted')}=1,{governs})"
        _shortfall(w, field, exact.get(field, "TRUE"), doubted)
    _said(w)


OWN = {
    Clearance.width.name: Clearance.equipment_width.name,
    Clearance.height.name: Clearance.equipment_height.name,
}
"""The length of the equipment itself that a length must not be below."""


def doubt_steps(w: Workings, field: str) -> None:
    """Add whether a length is in the range that the trade meets, and whether its unit is doubted.

    A bare number is doubted when it is out of that range in the job's unit and in it in another.
    """
    lists, cell = w.lists, w.table.cell
    column = w.table.sheet.by_field.get(field)
    if f"{field} doubted" in w.table.workings:
        return
    if column is None or column.plausible is None:
        w.add(f"{field} in range", "1")
        w.add(f"{field} doubted", "0")
        return
    length, metric = cell(f"{field} length"), cell(f"{field} metric")
    low, high = (inches * 25.4 for inches in column.plausible)
    millimetres = w.add(f"{field} mm", f'IF(ISNUMBER({length}),{length}*IF({metric}=1,1,25.4),"")')
    within = f"AND({millimetres}>={low - SLACK:.12g},{millimetres}<={high + SLACK:.12g})"
    in_range = w.add(f"{field} in range", f"IF(ISNUMBER({millimetres}),IF({within},1,0),1)")
    if UNIT_SUSPECT.is_off(lists.template):
        w.add(f"{field} doubted", "0")
        return
    count = w.add(
        f"{field} count", f'IF(ISNUMBER({millimetres}),{millimetres}/{w.in_use("mm in a unit")},"")'
    )
    others = []
    for unit, size in MM_IN_UNIT.items():
        inside = f"{count}>={(low - SLACK) / size:.12g},{count}<={(high + SLACK) / size:.12g}"
        # What was measured in metric is never taken for millimetres: they are the smallest unit already.
        others.append(f"AND({inside},{metric}=0)" if unit == "mm" else f"AND({inside})")
    bare = f'AND({cell(f"{field} what")}="job",{in_range}=0)'
    w.add(f"{field} doubted", f"IF({bare},IF(OR({','.join(others)}),1,0),0)")


def _shortfall(w: Workings, field: str, exact: str, doubted: str) -> None:
    """Add by how much a length is short, in parts of the job's unit: 0 when it is enough, blank when not compared.

    Where what is needed is not exactly known, only a shortfall of the least that can be is shown.
    """
    cell = w.table.cell
    length, metric = cell(f"{field} length"), cell(f"{field} metric")
    inches, millimetres = cell(f"needed {field} in"), cell(f"needed {field} mm")
    if field == Clearance.depth.name:
        inches, millimetres = (
            f'IF({inches}="",{cell(f"least {field} {name}")},{cell(f"needed {field} {name}")})'
            for name in ("in", "mm")
        )
        inches, millimetres = w.add(f"{field} limit in", inches), w.add(f"{field} limit mm", millimetres)
    limit = f"MIN({inches}*25.4,IF(ISNUMBER({millimetres}),{millimetres},{inches}*25.4))"
    per_unit = w.in_use("mm in a unit")
    in_metric = f"IF({length}>={limit}-{w.in_use('tolerance mm')}-0.000001,0,({limit}-{length})/{per_unit})"
    in_inches = (
        f"IF({length}>={inches}-{w.in_use('tolerance in')}-0.000001,0,({inches}-{length})*25.4/{per_unit})"
    )
    short = f"ROUND(IF({metric}=1,{in_metric},{in_inches})*{w.in_use('parts of a unit')}+{TIES_UP},0)"
    blank = f'OR({length}="",{inches}="")'
    lacking = w.add(f"{field} lacking", f'IF({blank},"",IF(OR({length}={Q},{inches}={Q}),{Q},{short}))')
    certain = f'IF(OR({exact},N({lacking})>0),IF({doubted},"unit",{lacking}),"")'
    w.add(f"{field} short", f"IF(ISNUMBER({lacking}),{certain},{lacking})")


def _written(w: Workings, parts: str) -> str:
    """Return a count of parts of a unit as text: whole numbers put together, since programs write 5.37 differently."""
    scale, decimals = w.in_use("parts of a unit"), w.in_use("decimals")
    rest = f"MOD({parts},{scale})"
    return f'INT({parts}/{scale})&IF({rest}=0,"","."&RIGHT({scale}+{rest},{decimals}))'


def headings_of_dimensions(table: Table) -> dict[str, str]:
    """Return the heading of depth, width and height, by field."""
    by_field = table.sheet.by_field
    return {f: by_field[f].heading if f in by_field else f.capitalize() for f in DIMENSIONS}


def _said(w: Workings) -> None:
    """Add what is said of a row's lengths where not all are enough: "; Depth 4 in short; Not compared: Width"."""
    headings, cell = headings_of_dimensions(w.table), w.table.cell
    short = {field: cell(f"{field} short") for field in DIMENSIONS}
    runs = []
    for field, heading in headings.items():
        lacking = f'{quoted(f"; {heading} ")}&{_written(w, short[field])}&" "&{w.in_use("unit")}&" {SHORT}"'
        runs.append(w.add(f"{field} said", f'IF(N({short[field]})>0,{lacking},"")'))
    for begins, where in ((NOT_COMPARED, '""'), (READ_LATER, Q), (DOUBTED, '"unit"')):
        listed = "&".join(
            f'IF({short[f]}={where},{quoted(f", {heading}")},"")' for f, heading in headings.items()
        )
        named = w.add(f"lengths {where}", listed)
        runs.append(f'IF({named}="","",{quoted(f"; {begins}")}&MID({named},3,99))')
    w.joined("said of clearances", runs)

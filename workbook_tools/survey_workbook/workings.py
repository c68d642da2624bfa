"""The hidden columns in which live cells compute, as formulas.

    all_workings(lists)                [(name, formula)]: the hidden columns of each table, in order

A formula is written for row {r} and reads only its own row, whole columns of other tables,
and Lists. Each hidden column does one step, so that a formula stays short enough to read.

Not here: the cells that are seen (live_formulas), the same results in Python (live_cells).
"""

from __future__ import annotations

from workbook_tools.electrical import (
    CENTRE_TAP_FACTOR,
    CONDITIONS,
    LOW_IMPEDANCE_PERCENT,
    SMALL_KVA,
    impedance_tolerance,
)
from workbook_tools.live_cells.typed_forms import SPELLING, quoted
from workbook_tools.live_cells.units import MM_IN_UNIT, TIES_UP, UNREADABLE
from workbook_tools.rules.values import UNIT_SUSPECT
from workbook_tools.survey import Clearance, Equipment, Finding, Transformer
from workbook_tools.survey_workbook.amounts import amount_steps, length_steps
from workbook_tools.survey_workbook.hidden_columns import Workings
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.row_check import gap_steps, key_steps
from workbook_tools.survey_workbook.to_ground import to_ground_steps

__all__ = ["DIMENSIONS", "all_workings"]

DIMENSIONS = tuple(length.name for length in (Clearance.depth, Clearance.width, Clearance.height))
Q = quoted(UNREADABLE)
SLACK = 1e-6  # millimetres that the arithmetic may leave at the end of a range


def all_workings(lists: Lists) -> dict[str, list[tuple[str, str]]]:
    """Return the hidden columns of every table: name and formula, in the order of their columns."""
    steps = {
        Transformer.key: _transformers,
        Equipment.key: _equipment,
        Clearance.key: _clearances,
        Finding.key: _findings,
    }
    tables = lists.layout.tables
    # A table is built behind those that it looks up; each needs the keys of all.
    order = [*(key for key in steps if key in tables), *(key for key in tables if key not in steps)]
    workings = {key: Workings(lists, tables[key]) for key in order}
    for w in workings.values():
        key_steps(w)
    for key, w in workings.items():
        if key in steps:
            steps[key](w)
    for w in workings.values():
        gap_steps(w)
    return {key: w.steps for key, w in workings.items()}


def _equipment(w: Workings) -> None:
    cell = w.table.cell
    phase = w.choice("phase count", Equipment.phase)
    wires = w.choice("wire count", Equipment.wires)
    w.voltage("voltage", cell(Equipment.voltage))
    row, phases_said, wires_said = (
        cell("voltage row"),
        cell("voltage phases said"),
        cell("voltage wires said"),
    )
    disagree = (
        f"OR(AND({phases_said}>0,N({phase})>0,{phases_said}<>N({phase})),"
        f"AND({wires_said}>0,N({wires})>0,{wires_said}<>N({wires})))"
    )
    two_phase = f"OR(N({phase})=2,N({wires})=5)"
    found = w.of_voltage("voltage", 0, f"MAX({phases_said},N({phase}))", f"MAX({wires_said},N({wires}))")
    system = w.add(
        "system",
        f'IF({row}="","",IF(OR({row}={Q},{phase}={Q},{wires}={Q}),{Q},IF({disagree},"conflict",IF({two_phase},"not nominal",{found}))))',
    )
    to_ground_steps(w, system)


def _transformers(w: Workings) -> None:
    cell = w.table.cell
    phase = w.choice("phase count", Transformer.phase)
    kva = amount_steps(w, "kva number", cell(Transformer.kva), "kva")
    percent = amount_steps(w, "impedance number", cell(Transformer.impedance_percent), "percent")
    for side, volts in (("primary", Transformer.primary_v), ("secondary", Transformer.secondary_v)):
        w.voltage(side, cell(volts))
        row, said, wires = cell(f"{side} row"), cell(f"{side} phases said"), cell(f"{side} wires said")
        disagree = f"AND({said}>0,N({phase})>0,{said}<>N({phase}))"
        phases = f"MAX({said},N({phase}))"
        unread = f"OR({row}={Q},{phase}={Q},N({phase})=2,{disagree})"
        for name, block in (("system", 0), ("line", 1), ("ground", 2)):
            found = w.of_voltage(side, block, phases, wires)
            w.add(f"{side} {name}", f'IF({row}="","",IF({unread},{Q},{found}))')
    first, second = cell("primary ground"), cell("secondary ground")
    w.add(
        "ground",
        f'IF(OR({first}={Q},{second}={Q}),{Q},IF(AND(ISNUMBER({first}),ISNUMBER({second})),MAX({first},{second}),""))',
    )
    root = f"IF({phase}=3,SQRT(3),1)"
    for side in ("primary", "secondary"):
        line = cell(f"{side} line")
        known = f"AND(ISNUMBER({line}),ISNUMBER({kva}),ISNUMBER({phase}))"
        unread = f"OR({line}={Q},{kva}={Q},{phase}={Q})"
        blank = f'OR({line}="",{kva}="",{phase}="")'
        w.add(
            f"{side} amps",
            f'IF({blank},"",IF({unread},{Q},IF({known},IF({kva}>0,1000*{kva}/{line}/{root},""),"")))',
        )
    amps, system = cell("secondary amps"), cell("secondary system")
    known = f"AND(ISNUMBER({amps}),ISNUMBER({percent}))"
    # Small and low impedances have a wider tolerance; a fault to a centre tap is greater than one between the lines.
    wide, usual = (1 - impedance_tolerance(SMALL_KVA, z) / 100 for z in (LOW_IMPEDANCE_PERCENT, 100))
    lowest = (
        f"{percent}*IF(OR({percent}<={LOW_IMPEDANCE_PERCENT:g},{kva}<{SMALL_KVA:g}),{wide:.10g},{usual:.10g})"
    )
    tapped = f"IF(ISNUMBER({system}),INDEX({w.lists.range('systems', 5)},{system}),0)=1"
    fault = f'IF({percent}>0,{amps}*100/({lowest})/1000*IF({tapped},{CENTRE_TAP_FACTOR:g},1),"")'
    w.add(
        "fault",
        f'IF(OR({amps}="",{percent}=""),"",IF(OR({amps}={Q},{percent}={Q}),{Q},IF({known},{fault},"")))',
    )


def _clearances(w: Workings) -> None:
    lists, cell = w.lists, w.table.cell
    opposite = w.choice("opposite choice", Clearance.opposite_side)
    equipment = lists.layout.tables[Equipment.key]
    key = cell("key")
    place = f"MATCH({key},{equipment.range('key')},0)"
    volts = w.add("volts", f'IF({key}="k","",IFERROR(INDEX({equipment.range("volts")},{place}),""))')
    readable = f"{lists.cell('readable')}=1"
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
    for field in (*DIMENSIONS, Clearance.equipment_width.name, Clearance.equipment_height.name):
        length_steps(w, field, cell(field))
    high = f"AND(ISNUMBER({volts}),N({volts})>{lists.cell('high volts')})"
    for field, own_field in OWN.items():
        own = cell(f"{own_field} length")
        own_in = f"{own}/IF({cell(f'{own_field} metric')}=1,25.4,1)"
        of_width = field == Clearance.width.name
        figures = {
            name: f"IF({high},{lists.cell(f'high width {name}')},{lists.cell(f'width {name}')})"
            if of_width
            else lists.cell(f"height {name}")
            for name in ("in", "mm")
        }
        unknown = [f"{own}={Q}", f"NOT({readable})", *([f"{volts}={Q}"] if of_width else [])]
        governs = w.add(f"{own_field} governs", f"IF(ISNUMBER({own}),IF({own_in}>{figures['in']},1,0),0)")
        for name, when_own in (("in", own_in), ("mm", '""')):
            greater = f"IF({governs}=1,{when_own},{figures[name]})"
            w.add(f"needed {field} {name}", f"IF(OR({','.join(unknown)}),{Q},{greater})")
    for field in DIMENSIONS:
        inches, millimetres = cell(f"needed {field} in"), cell(f"needed {field} mm")
        printed = f"IF(AND({lists.cell('metric')}=1,ISNUMBER({millimetres})),{millimetres},{inches}*25.4)"
        parts = f"ROUND({printed}/{lists.cell('mm in a unit')}*{lists.cell('parts of a unit')}+{TIES_UP},0)"
        w.add(f"needed {field} parts", f"IF(ISNUMBER({inches}),{parts},{inches})")
    for field in (*DIMENSIONS, *OWN.values()):
        _doubt_steps(w, field)
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


OWN = {
    Clearance.width.name: Clearance.equipment_width.name,
    Clearance.height.name: Clearance.equipment_height.name,
}
"""The length of the equipment itself that a length must not be below."""


def _doubt_steps(w: Workings, field: str) -> None:
    """Add whether a length is in the range that the trade meets, and whether its unit is doubted.

    A bare number is doubted when it is out of that range in the job's unit and in it in another.
    """
    lists, cell = w.lists, w.table.cell
    column = w.table.sheet.by_field.get(field)
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
        f"{field} count", f'IF(ISNUMBER({millimetres}),{millimetres}/{lists.cell("mm in a unit")},"")'
    )
    others = []
    for unit, size in MM_IN_UNIT.items():
        inside = f"{count}>={(low - SLACK) / size:.12g},{count}<={(high + SLACK) / size:.12g}"
        # What was measured in metric is never taken for millimetres: they are the smallest unit already.
        others.append(f"AND({inside},{metric}=0)" if unit == "mm" else f"AND({inside})")
    bare = f'AND({cell(f"{field} shape")}="job",{in_range}=0)'
    w.add(f"{field} doubted", f"IF({bare},IF(OR({','.join(others)}),1,0),0)")


def _shortfall(w: Workings, field: str, exact: str, doubted: str) -> None:
    """Add by how much a length is short, in parts of the job's unit: 0 when it is enough, blank when not compared.

    Where what is needed is not exactly known, only a shortfall of the least that can be is shown.
    """
    lists, cell = w.lists, w.table.cell
    length, metric = cell(f"{field} length"), cell(f"{field} metric")
    inches, millimetres = cell(f"needed {field} in"), cell(f"needed {field} mm")
    if field == Clearance.depth.name:
        inches, millimetres = (
            f'IF({inches}="",{cell(f"least {field} {name}")},{cell(f"needed {field} {name}")})'
            for name in ("in", "mm")
        )
        inches, millimetres = w.add(f"{field} limit in", inches), w.add(f"{field} limit mm", millimetres)
    limit = f"MIN({inches}*25.4,IF(ISNUMBER({millimetres}),{millimetres},{inches}*25.4))"
    per_unit = lists.cell("mm in a unit")
    in_metric = f"IF({length}>={limit}-{lists.cell('tolerance mm')}-0.000001,0,({limit}-{length})/{per_unit})"
    in_inches = (
        f"IF({length}>={inches}-{lists.cell('tolerance in')}-0.000001,0,({inches}-{length})*25.4/{per_unit})"
    )
    short = f"ROUND(IF({metric}=1,{in_metric},{in_inches})*{lists.cell('parts of a unit')}+{TIES_UP},0)"
    blank = f'OR({length}="",{inches}="")'
    lacking = w.add(f"{field} lacking", f'IF({blank},"",IF(OR({length}={Q},{inches}={Q}),{Q},{short}))')
    certain = f'IF(OR({exact},N({lacking})>0),IF({doubted},"unit",{lacking}),"")'
    w.add(f"{field} short", f"IF(ISNUMBER({lacking}),{certain},{lacking})")


def _findings(w: Workings) -> None:
    lists, cell = w.lists, w.table.cell
    finding = cell(Finding.finding)
    place = f"MATCH({SPELLING.formula(finding)},{lists.range('spellings findings')},0)"
    entry = f"IFERROR(INDEX({lists.range('spellings findings', 1)},{place}),{Q})"
    w.add("library row", f'IF(TRIM({finding})="","",{entry})')
    chosen = w.choice("priority chosen", Finding.priority)
    usual = (
        f'IF(ISNUMBER({cell("library row")}),INDEX({lists.range("findings", 2)},{cell("library row")}),"")'
    )
    w.add("priority counted", f'IF({chosen}="",{usual},IF({chosen}={Q},"",{chosen}))')

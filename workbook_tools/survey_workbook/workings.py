"""The hidden columns in which live cells compute, as formulas.

    all_workings(lists)                [(name, formula)]: the hidden columns of each table, in order

A formula is written for row {r} and reads only its own row, whole columns of other tables,
and Lists. Each hidden column does one step, so that a formula stays short enough to read.

Not here: the cells that are seen (live_formulas), the same results in Python (live_cells).
"""

from __future__ import annotations

from workbook_tools.electrical import (
    CENTRE_TAP_FACTOR,
    LOW_IMPEDANCE_PERCENT,
    SMALL_KVA,
    impedance_tolerance,
)
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.survey import Clearance, Equipment, Finding, Transformer
from workbook_tools.survey_workbook.amounts import amount_steps
from workbook_tools.survey_workbook.clearance_steps import clearance_steps
from workbook_tools.survey_workbook.guide_formulas import leaving_steps
from workbook_tools.survey_workbook.hidden_columns import Workings
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.readings import reading_steps
from workbook_tools.survey_workbook.row_check import check_steps, key_steps
from workbook_tools.survey_workbook.sheet_checks import is_mended
from workbook_tools.survey_workbook.to_ground import to_ground_steps

__all__ = ["all_workings"]

Q = quoted(UNREADABLE)


def all_workings(lists: Lists) -> dict[str, list[tuple[str, str]]]:
    """Return the hidden columns of every table: name and formula, in the order of their columns."""
    steps = {
        Transformer.key: _transformers,
        Equipment.key: _equipment,
        Clearance.key: clearance_steps,
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
        reading_steps(w)
    # The label plates count what Equipment says of its sources.
    for w in sorted(workings.values(), key=lambda w: w.table.sheet.key != Equipment.key):
        check_steps(w)
        leaving_steps(w)
    return {key: w.steps for key, w in workings.items()}


def _equipment(w: Workings) -> None:
    cell = w.table.cell
    phase = w.choice(Equipment.phase)
    wires = w.choice(Equipment.wires)
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
    phases, wires_here = f"MAX({phases_said},N({phase}))", f"MAX({wires_said},N({wires}))"
    found = w.add(
        "system found",
        f'IFERROR({w.of_voltage("voltage", 0, w.place_in_voltages("voltage", phases, wires_here))},"")',
    )
    system = w.add(
        "system",
        f'IF({row}="","",IF(OR({row}={Q},{phase}={Q},{wires}={Q}),{Q},IF({disagree},"conflict",IF({two_phase},"not nominal",{found}))))',
    )
    to_ground_steps(w, system)


def _transformers(w: Workings) -> None:
    cell = w.table.cell
    phase = w.choice(Transformer.phase)
    kva = amount_steps(w, Transformer.kva.name, "kva")
    percent = amount_steps(w, Transformer.impedance_percent.name, "percent")
    for side, volts in (("primary", Transformer.primary_v), ("secondary", Transformer.secondary_v)):
        w.voltage(side, cell(volts))
        row, said, wires = cell(f"{side} row"), cell(f"{side} phases said"), cell(f"{side} wires said")
        disagree = f"AND({said}>0,N({phase})>0,{said}<>N({phase}))"
        phases = f"MAX({said},N({phase}))"
        unread = f"OR({row}={Q},{phase}={Q},N({phase})=2,{disagree})"
        state = w.add(f"{side} state", f'IF({row}="","",IF({unread},{Q},1))')
        place = w.place_in_voltages(side, phases, wires)
        for name, block in (("system", 0), ("line", 1), ("ground", 2)):
            w.add(f"{side} {name}", f"IF({state}=1,{w.of_voltage(side, block, place)},{state})")
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


def _findings(w: Workings) -> None:
    lists, cell = w.lists, w.table.cell
    finding = cell(Finding.finding)
    place = f"MATCH({w.spelled(Finding.finding.name)},{lists.range('spellings findings')},0)"
    entry = f"IFERROR(INDEX({lists.range('spellings findings', 1)},{place}),{Q})"
    w.add("library row", f'IF(TRIM({finding})="","",{entry})')
    chosen = w.choice(Finding.priority)
    usual = (
        f'IF(ISNUMBER({cell("library row")}),INDEX({lists.range("findings", 2)},{cell("library row")}),"")'
    )
    counted = f'IF({chosen}="",{usual},IF({chosen}={Q},"",{chosen}))'
    mended = is_mended(w)
    w.add("priority counted", f'IF({mended},"",{counted})' if mended else counted)

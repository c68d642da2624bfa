"""Whether each typed cell of a row can be read, and is in the range that the trade meets, in hidden columns.

    reading_steps(workings)    the last of them: "no choices", "unread", "unusual": ", Kind, Phase"

Whatever the template lets a person type is read here where a formula can: choices, amounts, lengths,
voltages, years, findings. What a column holds decides; a column of the firm's own is no exception.

Not here: how a text is read (amounts, hidden_columns), the same in Python (live_cells.row_checks).
"""

from __future__ import annotations

from workbook_tools.definitions import Column
from workbook_tools.live_cells.row_checks import CLOSED
from workbook_tools.live_cells.typed_forms import AMOUNT_UNITS, all_digits, quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.survey import Equipment, Transformer
from workbook_tools.survey_workbook.amounts import amount_steps, length_steps
from workbook_tools.survey_workbook.clearance_steps import doubt_steps
from workbook_tools.survey_workbook.hidden_columns import Workings

__all__ = ["reading_steps"]

Q = quoted(UNREADABLE)

_VOLTAGES = {
    Equipment.voltage.name: "voltage",
    Transformer.primary_v.name: "primary",
    Transformer.secondary_v.name: "secondary",
}
"""The voltages that live cells compute with: the names of their steps."""


def reading_steps(w: Workings) -> None:
    """Add what is no choice, not read, and not usual on a row, each as the headings behind a comma."""
    no_choices, unread, unusual = [], [], []
    for column in w.table.sheet.typed:
        heading = quoted(f", {column.heading}")
        if column.holds in CLOSED:
            no_choices.append(f'IF({w.choice(column)}={Q},{heading},"")')
            continue
        cannot = _cannot_be_read(w, column)
        if cannot:
            unread.append(f'IF({cannot},{heading},"")')
        outside = _outside(w, column)
        if outside:
            unusual.append(f'IF({outside},{heading},"")')
    w.joined("no choices", no_choices)
    w.joined("unread", unread)
    w.joined("unusual", unusual)


def _cannot_be_read(w: Workings, column: Column) -> str:
    """Return the condition that a formula cannot read the cell; blank where there is nothing to read."""
    field, cell = column.field, w.table.cell
    if column.holds in AMOUNT_UNITS:
        return f"{amount_steps(w, field, column.holds)}={Q}"
    if column.holds == "length":
        length_steps(w, field)
        doubt_steps(w, field)
        unread = f"{cell(f'{field} length')}={Q}"
        return f"AND({unread},{w.choice(column)}={Q})" if column.vocabulary else unread
    if column.holds == "voltage":
        name = _VOLTAGES.get(field, field)
        if f"{name} row" not in w.table.workings:
            w.voltage(name, cell(field))
        # Of a label plate a side is not read either where its phases disagree.
        of_plate = f"{name} state" in w.table.workings
        return f"{cell(f'{name} state' if of_plate else f'{name} row')}={Q}"
    if column.holds == "year":
        return f"{_year(w, field)}={Q}"
    return f"{_date(w, field)}={Q}" if column.holds == "date" else ""


def _outside(w: Workings, column: Column) -> str:
    """Return the condition that an amount is outside the range of its column; blank where it has none."""
    if column.plausible is None:
        return ""
    field, (low, high) = column.field, column.plausible
    if column.holds == "length":
        return f"{w.table.cell(f'{field} in range')}=0"
    if column.holds in AMOUNT_UNITS or column.holds == "year":
        number = w.table.cell(f"{field} number")
        return f"IF(ISNUMBER({number}),OR({number}<{low:g},{number}>{high:g}),FALSE)"
    return ""


def _year(w: Workings, field: str) -> str:
    """Return the year of a cell, its hidden columns added: four digits and nothing else; other ways are left to the check."""
    cell = w.table.cell(field)
    text, none = f"TRIM({cell})", w.answers_none(field)
    digits = f"AND(LEN({text})=4,{all_digits(text)})"
    return w.add(f"{field} number", f'IF({none},"",IF({digits},VALUE({text}),{Q}))')


def _date(w: Workings, field: str) -> str:
    """Return whether a cell is a date as 2026-09-16 ("" or "?"), its hidden column added; other ways are left to the check."""
    text = f"TRIM({w.table.cell(field)})"
    digits = all_digits(f"LEFT({text},4)&MID({text},6,2)&MID({text},9,2)")
    month, day = f"VALUE(MID({text},6,2))", f"VALUE(MID({text},9,2))"
    within = f"AND({month}>=1,{month}<=12,{day}>=1,{day}<=31)"
    written = f'AND(LEN({text})=10,MID({text},5,1)&MID({text},8,1)="--",{digits})'
    return w.add(f"{field} read", f'IF({w.answers_none(field)},"",IF({written},IF({within},"",{Q}),{Q}))')

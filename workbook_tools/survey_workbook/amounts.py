"""Numbers and lengths out of typed text, step by step in hidden columns.

    amount_steps(workings, field, holds)   one number; returns the reference to it
    length_steps(workings, field)          a length: "FIELD length" in inches or mm, "FIELD metric" 1 or 0

A number is put together from its digits alone: what VALUE makes of "1.07" or "1/2" depends
on where the device thinks it is.
"""

from __future__ import annotations

from workbook_tools.live_cells.known_texts import NONE
from workbook_tools.live_cells.typed_forms import AMOUNT, AMOUNT_UNITS, LENGTH, quoted, shape_formula
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.survey_workbook.hidden_columns import Workings

__all__ = ["amount_steps", "length_steps"]

Q = quoted(UNREADABLE)
INCH_SIGN = quoted('"')


def amount_steps(w: Workings, field: str, holds: str) -> str:
    """Return the one number of a column, its hidden columns added once: a number, "" or "?"."""
    name, cell = f"{field} number", w.table.cell(field)
    if name in w.table.workings:
        return w.table.cell(name)
    form = w.form(f"{name} form", AMOUNT, cell)
    kind = _shape(w, name, form, f"amounts {holds}")
    bare = form
    for sign in AMOUNT_UNITS[holds]:
        bare = f'SUBSTITUTE({bare},{quoted(sign)},"")'
    text = w.add(f"{name} digits", f"TRIM({bare})")
    amount = _amount(w, name, text)
    return w.add(name, f'IF(OR({kind}="",{kind}={quoted(NONE)}),"",IF({kind}={Q},{Q},IFERROR({amount},{Q})))')


def length_steps(w: Workings, field: str) -> None:
    """Add the steps that read a length, once: its form, its unit, the number in it, and what it comes to."""
    if f"{field} length" in w.table.workings:
        return
    cell = w.table.cell(field)
    text = w.form(f"{field} form", LENGTH, cell)
    what = _shape(w, field, text, "lengths")
    unit = w.add(f"{field} unit", f'IF({what}="job",{w.in_use("unit")},IF({what}={quoted(NONE)},"",{what}))')
    mark = f"""FIND("'",{text})"""
    millimetres = f'OR({unit}="mm",{unit}="cm")'
    end = f'IF({what}="job",0,IF({millimetres},2,1))'
    behind = f'{mark}+IF(MID({text},{mark}+1,1)="-",2,1)'
    inches = f'SUBSTITUTE(MID({text},{behind},40),{INCH_SIGN},"")'
    both = f'{unit}="feet and inches"'
    number = w.add(f"{field} number", f"IF({both},{inches},TRIM(LEFT({text},MAX(LEN({text})-{end},0))))")
    w.add(f"{field} metric", f'IF(OR({millimetres},{unit}="m"),1,0)')
    factor = f'IF({unit}="ft",12,IF({unit}="cm",10,IF({unit}="m",1000,1)))'
    feet = f"IF({both},VALUE(LEFT({text},{mark}-1))*12,0)"
    amount = w.add(f"{field} amount", f"IFERROR({_amount(w, field, number)},{Q})")
    length = f"IFERROR({amount}*{factor}+{feet},{Q})"
    w.add(f"{field} length", f'IF({unit}="","",IF({unit}={Q},{Q},{length}))')


def _shape(w: Workings, name: str, text: str, block: str) -> str:
    """Add what the shape of a text says, by a block of Lists; unreadable where it is not there, blank for a blank."""
    shape = w.add(f"{name} shape", f'"k"&{shape_formula(text)}')
    found = f"INDEX({w.lists.range(block, 1)},MATCH({shape},{w.lists.range(block)},0))"
    return w.add(f"{name} what", f'IF({text}="","",IFERROR({found},{Q}))')


def _amount(w: Workings, name: str, text: str) -> str:
    """Return the expression of the number of a text whose shape is known: 42, 1.07, .5, 1/2, 36 1/2, 36-1/2."""
    gap = w.add(f"{name} gap", f'IFERROR(FIND(" ",{text}),IFERROR(FIND("-",{text}),0))')
    slash, point = f'FIND("/",{text})', f'FIND(".",{text})'
    whole = f'VALUE("0"&LEFT({text},MAX({gap}-1,0)))'
    top = f"VALUE(MID({text},{gap}+1,{slash}-{gap}-1))"
    bottom = f"VALUE(MID({text},{slash}+1,20))"
    # 6 3/2 is no way to write a length: an error, which becomes "read at the check".
    fraction = f'IF(AND({gap}>0,{top}>={bottom}),VALUE("?"),{whole}+{top}/{bottom})'
    decimal = (
        f'VALUE("0"&LEFT({text},{point}-1))+VALUE("0"&MID({text},{point}+1,20))/POWER(10,LEN({text})-{point})'
    )
    return f"IF(ISNUMBER({slash}),{fraction},IF(ISNUMBER({point}),{decimal},VALUE({text})))"

"""The hidden columns of one table, gathered in order: each a name and a formula.

    Workings(lists, table)    .add(name, expression), .choice(...), .voltage(...); .steps has them all
    is_one_of(cell, names)    a condition; Workings.is_kind(cell, ...) one of kinds

Not here: which columns there are (workings, amounts, row_check, to_ground).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from workbook_tools.definitions import Column
from workbook_tools.live_cells.typed_forms import SPELLING, VOLTAGE, VOLTS, Form, quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.survey import Equipment, Field
from workbook_tools.survey_workbook.layout import Table
from workbook_tools.survey_workbook.lists import Lists
from workbook_tools.survey_workbook.profile_in_use import answered_none

__all__ = ["Workings", "is_one_of"]

Q = quoted(UNREADABLE)
LONGEST = 500
"""Letters of a formula beyond which it is done in two steps."""


def is_one_of(cell: str, names: Sequence[str]) -> str:
    """Return the condition that a cell is one of some texts."""
    tests = [f"{cell}={quoted(name)}" for name in names]
    return tests[0] if len(tests) == 1 else f"OR({','.join(tests)})" if tests else "FALSE"


class Workings:
    """The hidden columns of one table, gathered in order."""

    def __init__(self, lists: Lists, table: Table) -> None:
        self.lists = lists
        self.table = table
        self.steps: list[tuple[str, str]] = []

    def add(self, name: str, expression: str) -> str:
        """Add a hidden column; return the reference to its cell."""
        self.table.add_working(name)
        self.steps.append((name, f"={expression}"))
        return self.table.cell(name)

    def form(self, name: str, form: Form, cell: str) -> str:
        """Add the form of a text, in two columns where one formula would be too long to read."""
        half = len(form.steps) // 2 if len(form.formula(cell)) > LONGEST else 0
        begun = self.add(f"{name} begun", form.begun(cell, half)) if half else form.begun(cell, 0)
        return self.add(name, form.ended(begun, half))

    def joined(self, name: str, parts: Sequence[str]) -> str:
        """Add texts put together, in as many columns as keep each short; blank where there are none."""
        runs: list[str] = []
        for part in parts:
            if runs and len(runs[-1]) + len(part) < LONGEST:
                runs[-1] += f"&{part}"
            else:
                runs.append(part)
        if len(runs) > 1:
            runs = [self.add(f"{name} {number}", run) for number, run in enumerate(runs, 1)]
        return self.add(name, "&".join(runs) or '""')

    def choice(self, column: Field[Any] | Column) -> str:
        """Return the choice that a column spells, its hidden columns added once: "" where blank or N/V, "?" where no spelling is known."""
        field = column.name if isinstance(column, Field) else column.field
        name = f"{field} choice"
        if name in self.table.workings:
            return self.table.cell(name)
        vocabulary = (
            self.table.sheet.by_field[field].vocabulary if field in self.table.sheet.by_field else field
        )
        found = self.lists.range(f"spellings {vocabulary}", 1)
        known = self.lists.range(f"spellings {vocabulary}")
        key = self.add(f"{name} key", SPELLING.formula(self.table.cell(field)))
        return self.add(name, f"IFERROR(INDEX({found},MATCH({key},{known},0)),{Q})")

    def is_kind(self, cell: str, *stock: str) -> str:
        """Return the condition that a cell holds one of some stock kinds, or a kind that the firm treats as one."""
        vocabulary = self.lists.template.vocabularies[Equipment.kind.name]
        return is_one_of(cell, [name for one in stock for name in vocabulary.treated_as(one)])

    def in_use(self, figure: str) -> str:
        """Return a figure of the code profile in use, brought over once so that longer formulas stay on their own sheet."""
        name = f"in use {figure}"
        return (
            self.table.cell(name) if name in self.table.workings else self.add(name, self.lists.cell(figure))
        )

    def spelled(self, field: str) -> str:
        """Return how the text of a column is compared, its hidden column added once."""
        name = f"{field} spelled"
        if name not in self.table.workings:
            self.add(name, SPELLING.formula(self.table.cell(field)))
        return self.table.cell(name)

    def answers_none(self, field: str) -> str:
        """Return the condition that a cell is blank or answers N/V or N/A."""
        name = f"{field} none"
        if name not in self.table.workings:
            none = answered_none(self.lists, self.table.cell(field), self.spelled(field))
            self.add(name, f"IF({none},1,0)")
        return f"{self.table.cell(name)}=1"

    def nowhere(self, field: str, key: str, tables: Sequence[Table]) -> str:
        """Return the condition that a name was typed, is no answer like N/V, and is the key of no row of the tables."""
        ranges = [t.own_range("key") if t is self.table else t.range("key") for t in tables]
        missing = ",".join(f"ISNA(MATCH({key},{keys},0))" for keys in ranges)
        return f'AND({key}<>"",{key}<>"k",{missing},NOT({self.answers_none(field)}))'

    def voltage(self, name: str, cell: str) -> None:
        """Add the steps that part a voltage: its form, the wires and the phases it says, and what is left."""
        form = self.form(f"{name} form", VOLTAGE, cell)
        said = f'AND(LEN({form})>3,RIGHT({form},1)="w",LEFT(RIGHT({form},3),1)=" ")'
        digit = f"LEFT(RIGHT({form},2),1)"
        wires = self.add(f"{name} wires said", f'IF({said},IFERROR(FIND({digit},"234")+1,0),0)')
        rest = self.add(f"{name} rest", f"IF({wires}>0,TRIM(LEFT({form},LEN({form})-3)),{form})")
        said = f'AND(LEN({rest})>4,RIGHT({rest},2)="ph",LEFT(RIGHT({rest},4),1)=" ")'
        digit = f"LEFT(RIGHT({rest},3),1)"
        phases = self.add(f"{name} phases said", f'IF({said},IF({digit}="3",3,IF({digit}="1",1,0)),0)')
        volts = f"IF({phases}>0,TRIM(LEFT({rest},LEN({rest})-4)),{rest})"
        base = self.add(f"{name} volts", VOLTS.formula(volts))
        row = f'IFERROR(MATCH("k"&{base},{self.lists.range("voltages")},0),{Q})'
        none = f'IF(ISNUMBER(MATCH({form},{self.lists.range("no voltage")},0)),"",{row})'
        self.add(f"{name} row", f'IF({form}="","",{none})')

    def place_in_voltages(self, name: str, phases: str, wires: str) -> str:
        """Add where the voltage table has the entry for phases and wires, which are cells of counts."""
        return self.add(f"{name} place", f"1+4*INT(({phases}+1)/2)+MAX({wires}-1,0)")

    def of_voltage(self, name: str, block: int, place: str) -> str:
        """Return the entry of the voltage table for a parted voltage, at a place."""
        entry = self.lists.range("voltages", 1 + 12 * block, 12)
        return f"INDEX({entry},{self.table.cell(f'{name} row')},{place})"

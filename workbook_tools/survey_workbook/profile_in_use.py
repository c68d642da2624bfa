"""The code profile that the Job sheet names, as two blocks of Lists that follow what is chosen there.

    figures_block(lists, names, profile, year, unit)   unit, tolerance, width, height, and whether all is readable
    depth_block(lists, rows, profile, year_built)      the depth table, older allowances applied

Every figure is a formula over the blocks of all profiles; the values beside it are those of
the profile given, so that a program that computes nothing shows the right ones.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from workbook_tools.electrical import CONDITIONS, CodeProfile, needed_depth, needed_height
from workbook_tools.live_cells.typed_forms import SPELLING, all_digits, quoted
from workbook_tools.live_cells.units import DECIMALS, METRIC, MM_IN_UNIT, UNREADABLE
from workbook_tools.survey import Field, Job
from workbook_tools.survey_workbook.blocks import BEYOND, Block, Entry, PlacedBlocks, or_absent
from workbook_tools.survey_workbook.layout import FIRST_ROW, letters

__all__ = ["depth_block", "figures_block"]


ANSWERS_IN_USE = (Job.code_profile, Job.dimension_unit, Job.year_built)
"""The answers of the Job sheet that the figures depend on."""


def by_unit(cell: str, figures: Mapping[str, float]) -> str:
    """Return the expression that picks a figure by the unit in a cell; 0 for no unit."""
    expression = "0"
    for unit, figure in reversed(list(figures.items())):
        expression = f"IF({cell}={quoted(unit)},{figure:g},{expression})"
    return expression


def figures_block(
    lists: PlacedBlocks, names: Sequence[str], profile: CodeProfile, year_built: int | None, unit: str
) -> Block:
    """Return the block of single figures in use."""
    layout, template = lists.layout, lists.template
    height, high = needed_height(profile, year_built=year_built), profile.high_voltage

    def of_profile(column: int) -> str:
        return f"INDEX({lists.range('profiles', column)},{here('profile row')})"

    def here(name: str) -> str:
        row = [entry[0] for entry in rows].index(name)
        return f"${letters(column)}${FIRST_ROW + row}"

    column = lists.next_column + 1
    rows: list[Sequence[Entry]] = [
        ("profile", profile.name),
        ("profile row", float(list(names).index(profile.name) + 1)),
        ("unit", unit),
        ("year built", float(year_built) if year_built else ""),
        ("readable", 1.0),
        ("width in", profile.width.inches),
        ("width mm", or_absent(profile.width.millimetres)),
        ("high volts", high.above.number if high else BEYOND),
        ("high width in", (high.width if high else profile.width).inches),
        ("high width mm", or_absent((high.width if high else profile.width).millimetres)),
        ("height in", height.inches),
        ("height mm", or_absent(height.millimetres)),
        ("tolerance in", profile.tolerance_in),
        ("tolerance mm", profile.tolerance_mm),
        ("mm in a unit", MM_IN_UNIT[unit]),
        ("decimals", float(DECIMALS[unit])),
        ("metric", float(unit in METRIC)),
        ("parts of a unit", float(10 ** DECIMALS[unit])),
        *((f"{answer.name} as compared", "") for answer in ANSWERS_IN_USE),
    ]
    year = layout.job_cell(Job.year_built)

    def choice(answer: Field[str], default: str) -> str:
        """Return the formula that gives the choice a Job cell names, the default where it names none."""
        spellings, key = f"spellings {answer.name}", here(f"{answer.name} as compared")
        found = f"INDEX({lists.range(spellings, 1)},MATCH({key},{lists.range(spellings)},0))"
        none = answered_none(lists, layout.job_cell(answer), key)
        return f"=IF({none},{quoted(default)},IFERROR({found},{quoted(UNREADABLE)}))"

    older = f"AND(ISNUMBER({here('year built')}),ISNUMBER({of_profile(6)}),N({here('year built')})<N({of_profile(6)}))"
    year_text = f"TRIM({year})"
    formulas = [
        choice(Job.code_profile, template.code_profile),
        f"=IFERROR(MATCH({here('profile')},{lists.range('profiles')},0),{quoted(UNREADABLE)})",
        choice(Job.dimension_unit, template.dimension_unit),
        # Four digits and nothing else; other ways to write a year are left to the check.
        f'=IF({answered_none(lists, year, here(f"{Job.year_built.name} as compared"))},"",IF(AND(LEN({year_text})=4,{all_digits(year_text)}),VALUE({year_text}),{quoted(UNREADABLE)}))',
        (
            f"=IF(OR({here('profile row')}={quoted(UNREADABLE)},{here('unit')}={quoted(UNREADABLE)}),0,"
            f"IF(AND({here('year built')}={quoted(UNREADABLE)},{of_profile(11)}=1),0,1))"
        ),
        *(f'=IFERROR({of_profile(number)},"")' for number in (2, 3, 12, 13, 14)),
        *(f'=IFERROR(IF({older},{of_profile(new)},{of_profile(old)}),"")' for old, new in ((4, 7), (5, 8))),
        *(f'=IFERROR({of_profile(number)},"")' for number in (9, 10)),
        f"={by_unit(here('unit'), MM_IN_UNIT)}",
        f"={by_unit(here('unit'), DECIMALS)}",
        f"={by_unit(here('unit'), {name: int(name in METRIC) for name in MM_IN_UNIT})}",
        f"={by_unit(here('unit'), {name: 10**decimals for name, decimals in DECIMALS.items()})}",
        *(f"={SPELLING.formula(layout.job_cell(answer))}" for answer in ANSWERS_IN_USE),
    ]
    block = Block("in use", "In use: from the Job sheet", ("Figure", "In use"), rows)
    block.formulas = {(number, 1): formula for number, formula in enumerate(formulas)}
    return block


def answered_none(lists: PlacedBlocks, cell: str, key: str) -> str:
    """Return the condition that a cell is blank or answers N/V or N/A; `key` is how it is compared."""
    return f'OR(TRIM({cell})="",ISNUMBER(MATCH({key},{lists.range("answers")},0)))'


def depth_block(lists: PlacedBlocks, depth_rows: int, profile: CodeProfile, year_built: int | None) -> Block:
    """Return the block of the depth table in use."""
    sides = tuple(CONDITIONS)
    headings = (
        "Above volts to ground",
        *(f"{side} (in)" for side in sides),
        *(f"{side} (mm)" for side in sides),
    )
    rows: list[Sequence[Entry]] = []
    formulas = {}
    above = -1.0
    for number in range(depth_rows):
        if number < len(profile.depth):
            volts = min(profile.depth[number].volts_max, BEYOND)
            limits = [needed_depth(profile, volts, side, year_built) for side in sides]
            metric = ("" if limit.millimetres is None else limit.millimetres for limit in limits)
            rows.append((above, *(limit.inches for limit in limits), *metric))
            above = volts
        else:
            rows.append((above, *("",) * 6))
            above += BEYOND
        row = f"({lists.cell('profile row')}-1)*{depth_rows}+{number + 1}"

        def figure(of: int, row: str = row) -> str:
            return f"INDEX({lists.range('depths', of)},{row})"

        year = lists.cell("year built")
        older = f"AND(ISNUMBER({year}),ISNUMBER({figure(8)}),N({year})<N({figure(8)}))"
        formulas[number, 0] = f"=IFERROR({figure(1)},{number * BEYOND:.0f})"
        for side in range(6):
            value = f"IF({older},{figure(9 + side)},{figure(2 + side)})"
            formulas[number, 1 + side] = f'=IFERROR(IF(ISNUMBER({value}),{value},""),"")'
    block = Block("depths in use", "Depth of the working space in use", headings, rows)
    block.formulas = formulas
    return block

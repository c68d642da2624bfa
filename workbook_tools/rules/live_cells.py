"""Rules about live cells.

    formula-overtyped    a live cell was typed over

What a live cell shows comes from where the workbook's own formulas are said in Python.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Live cells"


def formula_overtyped(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for live cells that hold a typed value which is not the computed one."""
    results = LiveResults(assessment)
    for row in assessment.survey.rows():
        typed_over = {field: value for field, value in row.live.items() if not value.formula and value.said}
        if not typed_over:
            continue
        shown = results.row(row)
        for field, value in typed_over.items():
            computed = shown.get(field)
            if computed is None or _same(value.typed, computed):
                continue
            text = computed if isinstance(computed, str) else f"{computed:g}"
            yield FORMULA_OVERTYPED.problem(
                row,
                value,
                f"{value.said!r} was typed over a cell that computes its own answer, "
                f"{text or 'a blank'}. The typed value is not used.",
                read=value.typed,
                expected=text or "(blank)",
            )


def _same(typed: str, computed: str | float) -> bool:
    if isinstance(computed, str):
        return typed.strip().casefold() == computed.strip().casefold()
    try:
        return abs(float(typed) - computed) < 1e-6 * max(1.0, abs(computed))
    except ValueError:
        return False


FORMULA_OVERTYPED = Rule(
    slug="formula-overtyped",
    class_="note",
    subject="live cells",
    what="A live cell holds a typed value that differs from the computed one.",
    why="The sheet then shows one thing and the schedule another; the computed value is the one used.",
    mend="Nothing to do: the value is computed again. Put what you wanted to say into Remarks.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=formula_overtyped,
    fires=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4",
                    "volts_to_ground": "480"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4",
                    "volts_to_ground": "277"}],
    ),
)  # fmt: skip

RULES = (FORMULA_OVERTYPED,)

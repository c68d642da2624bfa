"""Rules about live cells.

    formula-overtyped                       a live cell was typed over
    computed_text(assessment, row, field)   what the live cell computes; None where it is not compared

Every figure comes from the assessment, as those of the live cells do. Live cells that hold a
sentence (row check, result) are not compared: typing over them hides no figure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from workbook_tools.electrical import Limit
from workbook_tools.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed

if TYPE_CHECKING:
    from workbook_tools.assessment import Assessment
    from workbook_tools.survey.model import Row

__all__ = ["RULES", "computed_text"]


def formula_overtyped(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for live cells that hold a typed value which is not the computed one."""
    for row in assessment.survey.rows():
        for field, value in row.live.items():
            computed = computed_text(assessment, row, field)
            if value.formula or computed is None or _same(value.typed, computed):
                continue
            yield FORMULA_OVERTYPED.problem(
                assessment,
                row,
                field,
                f"The live cell holds a typed {value.typed.strip()!r}; computed is {computed or 'a blank'}. "
                "The typed value is not used.",
                read=value.typed,
                expected=computed or "(blank)",
            )


def _same(typed: str, computed: str) -> bool:
    if typed.strip().casefold() == computed.strip().casefold():
        return True
    try:
        return abs(float(typed) - float(computed)) <= 0.0051 * max(1.0, abs(float(computed)))
    except ValueError:
        return False


def computed_text(assessment: Assessment, row: Row, field: str) -> str | None:
    """Return what the live cell of a field computes; "" where it is blank, None where it is not compared."""
    column = assessment.survey.template.by_key[row.key].by_field.get(field)
    figure = _FIGURES.get(column.live) if column is not None else None
    return _text(figure(assessment, row)) if figure is not None else None


def _text(figure: Any) -> str:
    if figure is None:
        return ""
    if isinstance(figure, Limit):
        return f"{figure.inches:.6g}"
    return figure if isinstance(figure, str) else f"{figure:.6g}"


def _entry(assessment: Assessment, row: Row, name: str) -> str | None:
    entry = assessment.survey.template.find_finding(row.get("finding") or "")
    return str(getattr(entry, name)) if entry is not None else None


_FIGURES: dict[str, Callable[[Assessment, Row], Any]] = {
    "volts_to_ground": lambda a, row: a.equipment(row).volts_to_ground,
    "direction": lambda a, row: (a.transformer(row).direction or "").capitalize() or None,
    "turns_ratio": lambda a, row: a.transformer(row).turns_ratio,
    "primary_a": lambda a, row: a.transformer(row).primary_amps,
    "secondary_a": lambda a, row: a.transformer(row).secondary_amps,
    "highest_fault_ka": lambda a, row: a.transformer(row).highest_fault_ka,
    "usual_priority": lambda a, row: _entry(a, row, "priority"),
    "usual_action": lambda a, row: _entry(a, row, "action"),
}

FORMULA_OVERTYPED = Rule(
    slug="formula-overtyped",
    class_="note",
    subject="live cells",
    what="A live cell holds a typed value that differs from the computed one.",
    why="The sheet then shows one thing and the schedule another; the computed value is the one used.",
    mend="Nothing to do: the value is computed again. Put what you wanted to say into Remarks.",
    source="common practice",
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

"""Which recorded value shows that what a finding claims is fine; the rules put these on their cards.

    enough(length)             the clearance was measured, and it is enough
    answered(field, answer)    every row of Clearances of the tag gives the answer that says so
    recorded(field, answer)    the row of Equipment does
    reads(cell)                "Depth reads 48 in at Clearances!C5"

Not here: comparing findings with them (findings).
"""

from __future__ import annotations

from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import Length
from workbook_tools.rules.rule import Fine
from workbook_tools.survey import Clearance, Field, Value

__all__ = ["answered", "enough", "reads", "recorded"]


def reads(cell: Value[Any]) -> str:
    """Return what a cell reads, with its place."""
    return f"{cell.heading} reads {cell.said} at {cell.place}"


def enough(length: Field[Length]) -> Fine:
    """Say where every measurement of a length is enough."""

    def fine(assessment: Assessment, tag: str) -> str:
        rows = _measured(assessment, tag)
        for row in rows:
            compared = assessment.clearance(row).comparison(length)
            if compared is None or not compared.enough or assessment.suspect_unit(row[length]):
                return ""
        return f"{reads(rows[0][length])}, which is enough" if rows else ""

    return fine


def _measured(assessment: Assessment, tag: str) -> list[Clearance]:
    """Return what was measured around a piece; nothing where a part of it was not seen again on this visit."""
    rows = assessment.survey.clearances_of(tag)
    return [] if any(row.is_as_of for row in rows) else rows


def answered(field: Field[Any], answer: object) -> Fine:
    """Say where every row of Clearances gives an answer."""

    def fine(assessment: Assessment, tag: str) -> str:
        rows = _measured(assessment, tag)
        return reads(rows[0][field]) if rows and all(row[field].value == answer for row in rows) else ""

    return fine


def recorded(field: Field[Any], answer: object) -> Fine:
    """Say where the row of Equipment gives an answer."""

    def fine(assessment: Assessment, tag: str) -> str:
        rows = assessment.survey.tagged(tag)
        return reads(rows[0][field]) if len(rows) == 1 and rows[0][field].value == answer else ""

    return fine

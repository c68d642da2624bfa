"""Rules about a survey that was put together from several inspectors' parts.

measured-differently    two parts measured one piece, and not alike
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Row
from workbook_tools.survey.fingerprint import cells_of
from workbook_tools.survey.own_texts import WRITTEN_BY

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Parts put together"


def measured_differently(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the rows of Clearances of one tag that stand in the parts of different inspectors."""
    first: dict[str, Clearance] = {}
    for row in assessment.survey.clearances:
        name, writer = plain(row.called), _writer(row)
        if not name or not writer:
            continue
        other = first.setdefault(name, row)
        differing = _differing(other, row) if writer != _writer(other) else []
        if differing:
            yield MEASURED_DIFFERENTLY.problem(
                row,
                row.tag,
                f"{row.called} stands in two parts, {_writer(other)} and {writer}, with another {listed(differing)} at "
                f"{other.tag.place}.",
            )


def _writer(row: Row) -> str:
    found = row.extra.get(WRITTEN_BY)
    return " ".join(found.typed.split()) if found is not None else ""


def _differing(one: Row, other: Row) -> list[str]:
    """Return the headings of what both rows answer, and not alike."""
    before, now = cells_of(one), cells_of(other)
    names = [
        column.field for column in one.definition.typed if column.field in before and column.field in now
    ]
    return [now[name][1].heading for name in names if plain(before[name][0]) != plain(now[name][0])]


MEASURED_DIFFERENTLY = Rule(
    slug="measured-differently",
    class_="confirm",
    subject="Clearances",
    what="Two inspectors' parts have the clearances of one piece, and they differ.",
    why="Only one of them is what the client is to read, unless each tells of another side of it.",
    mend="Delete the row that is wrong; where both are right (two sides of one board), answer No issue.",
    source="common practice",
    client=Paperwork(),
    check=measured_differently,
    fires=as_typed(
        clearances=[
            {"tag": "DP-1", "depth": "36 in", "Written by": "Inspector A"},
            {"tag": "DP-1", "depth": "48 in", "Written by": "Inspector B"},
        ]
    ),
    passes=as_typed(
        clearances=[
            {"tag": "DP-1", "depth": "36 in", "Written by": "Inspector A"},
            {"tag": "DP-2", "depth": "48 in", "Written by": "Inspector B"},
        ]
    ),
)

RULES = (MEASURED_DIFFERENTLY,)

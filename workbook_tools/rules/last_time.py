"""Rules about what was carried over from an earlier survey.

not-looked-at-again    nobody has said whether a measurement or a finding of the last survey still holds
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.plain_english import in_words, listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Finding, Row

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "The survey before"

Carried = Clearance | Finding


def not_looked_at_again(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for carried rows without an answer; one question for a sheet on which nobody has begun to answer."""
    for rows in (assessment.survey.clearances, assessment.survey.findings):
        carried: list[Carried] = [row for row in rows if row.last_seen.said]
        without = [row for row in carried if row.is_unconfirmed]
        if len(without) > 1 and len(without) == len(carried):
            yield _of_the_sheet(without)
        else:
            yield from map(_of_a_row, without)


def _of_the_sheet(rows: list[Carried]) -> Problem:
    first, heading = rows[0], rows[0].this_year.heading
    days = list(dict.fromkeys(row.is_as_of for row in rows))
    return NOT_LOOKED_AT_AGAIN.problem(
        first,
        first.this_year,
        f"{first.definition.name} has {in_words(len(rows))} rows of {listed(days)}, and {heading} is blank in all of them.",
        subject=first.definition.name,
    )


def _of_a_row(row: Carried) -> Problem:
    return NOT_LOOKED_AT_AGAIN.problem(
        row, row.this_year, f"{_what(row)} is of {row.is_as_of}, and {row.this_year.heading} is blank."
    )


def _what(row: Row) -> str:
    if isinstance(row, Finding):
        return f"{row.finding.said or 'The finding'} at {row.called or 'a place that was not recorded'}"
    return f"What was measured at {row.called or 'a place that was not recorded'}"


NOT_LOOKED_AT_AGAIN = Rule(
    slug="not-looked-at-again",
    class_="confirm",
    subject="Clearances, Findings",
    what="A measurement or a finding was carried over from the survey before, and This year is blank.",
    why="Rooms change: until somebody has looked again it is the earlier survey's, and the client reads the day beside it.",
    mend="Look again and answer This year. Where nobody looked, answer Not seen: the client reads it as of the day under Last seen.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=not_looked_at_again,
    fires=as_typed(clearances=[{"tag": "DP-1", "depth": "42", "last_seen": "2025-10-06"}]),
    passes=as_typed(
        clearances=[
            {"tag": "DP-1", "depth": "42", "last_seen": "2025-10-06", "this_year": "Still so"},
            {"tag": "DP-2", "depth": "42"},
        ]
    ),
)

RULES = (NOT_LOOKED_AT_AGAIN,)

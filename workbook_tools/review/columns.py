"""The columns of the review's sheets, said once for writing and reading.

PROBLEM_COLUMNS       heading, width, whether it prints, the spellings it is found by
CLOSED_ON             the heading that tells the Closed sheet from the Problems sheet
SIGN_OFF_LABELS       the labels of the sign-off; SIGN_OFF_TITLE, SIGN_OFF_LINES, WAITING: what else stands there
NOTHING               what stands in a table without a row
SUMMARY_COLUMNS       how many columns the summary has
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = [
    "CLOSED_ON",
    "NOTHING",
    "PRINTED",
    "PROBLEM_COLUMNS",
    "SCHEMA",
    "SIGN_OFF_LABELS",
    "SIGN_OFF_LINES",
    "SIGN_OFF_TITLE",
    "STATEMENT",
    "SUMMARY_COLUMNS",
    "WAITING",
    "ReviewColumn",
]

SCHEMA = "review 1"
"""How the workbook names itself, in a visible cell and as a property; the template's name follows."""


class ReviewColumn(NamedTuple):
    """One column of the Problems sheet."""

    field: str
    heading: str
    width: float
    also_called: tuple[str, ...] = ()


PROBLEM_COLUMNS = (
    ReviewColumn("class_", "Class", 8),
    ReviewColumn("priority", "Priority", 11),
    ReviewColumn("sheet", "Sheet", 11),
    ReviewColumn("cell", "Cell", 6),
    ReviewColumn("subject", "Subject", 11),
    ReviewColumn("field", "Field", 11),
    ReviewColumn("read", "Read", 13, ("what was read",)),
    ReviewColumn("expected", "Expected", 20, ("what was expected",)),
    ReviewColumn("message", "What is wrong", 34, ("message", "problem")),
    ReviewColumn("action", "What to do", 32, ("action",)),
    ReviewColumn("source", "Source", 14),
    ReviewColumn("disposition", "Disposition", 12, ("answer", "decision")),
    ReviewColumn("reason", "Reason", 20, ("why",)),
    ReviewColumn("remark", "Since last time", 18, ("remark",)),
    ReviewColumn("rule", "Rule", 24),
    ReviewColumn("first_seen", "First seen", 11),
)
PRINTED = 13
"""So many columns go on paper; what changed, rule and date stay on the screen."""

CLOSED_ON = "Closed on"
STATEMENT = (
    "I have gone through every problem of this workbook. What is left out has its reason beside it; a question without an "
    "answer goes to the client as an open one. This is a review of a visual survey; it rules on no design and no code compliance."
)
SIGN_OFF_LABELS = {
    "reviewer": "Reviewer",
    "date": "Date",
    "statement": "Statement",
    "survey": "Survey",
    "template": "Template",
    "fingerprint": "Fingerprint of the survey",
}

SIGN_OFF_TITLE = "Sign-off"
WAITING = "Waiting for an answer"
SIGN_OFF_LINES = (
    "Write your name and the date (2026-09-16) in the two marked cells when you have gone through every problem.",
    "The sign-off holds for the survey as it was checked: when a cell of it changes, the fingerprint changes and it is to",
    "be checked and signed again.",
)
NOTHING = {"Problems": "Nothing was found.", "Closed": "Nothing was closed yet."}
SUMMARY_COLUMNS = 3

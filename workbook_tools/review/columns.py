"""The columns of the review's sheets, said once for writing and reading.

PROBLEM_COLUMNS       heading, width, the spellings it is found by; the first FROZEN stay in sight
ANSWERED              the fields that a reviewer fills in
CLOSED_ON             the heading that tells the Closed sheet from the Problems sheet
SIGN_OFF_LABELS       the labels of the sign-off; SIGN_OFF_TITLE, SIGN_OFF_LINES, WAITING: what else stands there
SEAL_HEADINGS         the headings of the sheet that holds the seal
is_printed(text)      whether a line of the Problems sheet is the workbook's own
SUMMARY_COLUMNS       how many columns the summary has
"""

from __future__ import annotations

from typing import NamedTuple

__all__ = [
    "ANSWERED",
    "CLOSED_ON",
    "FROZEN",
    "NOTES",
    "NOTHING",
    "PRINTED",
    "PROBLEM_COLUMNS",
    "SCHEMA",
    "SEAL_HEADINGS",
    "SEAL_SHEET",
    "SIGN_OFF_LABELS",
    "SIGN_OFF_LINES",
    "SIGN_OFF_TITLE",
    "STATEMENT",
    "SUMMARY_COLUMNS",
    "WAITING",
    "YOUR_ISSUES",
    "ReviewColumn",
    "is_printed",
]

SCHEMA = "review 2"
"""How the workbook names itself, in a visible cell and as a property; the template's name follows."""


class ReviewColumn(NamedTuple):
    """One column of the Problems sheet."""

    field: str
    heading: str
    width: float
    also_called: tuple[str, ...] = ()

    @property
    def pixels(self) -> int:
        """Its width on a screen at 100 %, and on paper at 96 to the inch."""
        return int(self.width * 7 + 5)


PROBLEM_COLUMNS = (
    ReviewColumn("subject", "Subject", 12),
    ReviewColumn("message", "What is wrong", 48, ("message", "problem")),
    ReviewColumn("disposition", "Disposition", 16, ("answer", "decision")),
    ReviewColumn("reason", "Reason", 27, ("why",)),
    ReviewColumn("class_", "Class", 9),
    ReviewColumn("priority", "Priority", 12),
    ReviewColumn("sheet", "Sheet", 13),
    ReviewColumn("cell", "Cell", 7),
    ReviewColumn("photo", "Photo", 16),
    ReviewColumn("action", "What to do", 34, ("action",)),
    ReviewColumn("your_priority", "Your priority", 13),
    ReviewColumn("words", "Your words for the client", 48, ("your words",)),
    ReviewColumn("second", "Second name", 16),
    ReviewColumn("remark", "Since last time", 30, ("remark",)),
    ReviewColumn("field", "Field", 16),
    ReviewColumn("read", "Read", 48, ("what was read",)),
    ReviewColumn("expected", "Expected", 60, ("what was expected",)),
    ReviewColumn("source", "Source", 48),
    ReviewColumn("rule", "Rule", 26),
    ReviewColumn("first_seen", "First seen", 11),
)
FROZEN = 4
"""So many columns stay in sight; with them, a window of 1366 pixels has room for the next four."""
PRINTED = 10
"""So many columns go on paper; the reviewer's finer answers, rule and date stay on the screen."""
ANSWERED = ("disposition", "reason", "your_priority", "words", "second")
"""What a reviewer fills in."""

CLOSED_ON = "Closed on"
STATEMENT = (
    "I have gone through every problem of this workbook. What is left out has its reason beside it; a question without an "
    "answer goes to the client as an open one. This is a review of a visual survey; it rules on no design and no code compliance."
)
SIGN_OFF_LABELS = {
    "reviewer": "Reviewer",
    "date": "Date",
    "statement": "Statement",
    "property": "Property",
    "report_no": "Report no.",
    "number": "Survey number",
    "survey": "Survey",
    "template": "Template",
    "made": "Checked on",
    "mark": "Seal",
}

SIGN_OFF_TITLE = "Sign-off"
WAITING = "Waiting for an answer"
SIGN_OFF_LINES = (
    "Write your name and the date (2026-09-16) in the two marked cells when you have gone through every problem.",
    "The sign-off holds for what was checked: survey, template, code profile, rules, photos. When one of them changes, the",
    "next check or delivery says what, and it is to be signed again. Your answers are sealed when the signed review is first",
    "read: run check once more after signing, and whoever changes an answer later is told so.",
    "To sign again after changing an answer yourself: clear name and date, run check again, sign.",
)
NOTHING = {"Problems": "Nothing was found.", "Closed": "Nothing was closed yet."}
NOTES = "Notes, folded"
YOUR_ISSUES = "Issues of your own"
SUMMARY_COLUMNS = 3
SEAL_SHEET = "Seal"
SEAL_HEADINGS = ("Sealed part", "What it held")


def is_printed(text: str) -> bool:
    """Whether a line between the rows of the Problems sheet is one that the workbook writes itself."""
    return text in NOTHING.values() or text.startswith((NOTES, YOUR_ISSUES))

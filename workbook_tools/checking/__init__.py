"""Check a survey: run every rule, say what was found, and what could not be looked at.

    check_survey(survey, ...)     the rules over a Survey
    Checked, Crash                the survey, its assessment, the problems in sheet order, and the rest
    summary(checked)              what the terminal shows
    as_json(checked)              what --json prints

The survey is never changed. A rule that crashes is named; the others still run.

Not here: the rules (rules), the review workbook (review).
"""

from workbook_tools.checking.report import as_json, summary
from workbook_tools.checking.running import Checked, Crash, check_survey

__all__ = ["Checked", "Crash", "as_json", "check_survey", "summary"]

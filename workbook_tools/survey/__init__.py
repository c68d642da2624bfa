"""The one model of a job, and how it is read from a workbook.

    read_survey(path, template)   a Survey from whatever came back from the site
    Survey, Row, Value, Outcome   the model: every value knows sheet, cell and typed text
    fingerprint(survey)           whether a survey still says what it said

Not here: what is wrong with it (rules) and what follows from it (assessment).
"""

from workbook_tools.survey.fingerprint import fingerprint
from workbook_tools.survey.model import HeadingTaken, Outcome, Row, Survey, Value
from workbook_tools.survey.reading import read_survey

__all__ = ["HeadingTaken", "Outcome", "Row", "Survey", "Value", "fingerprint", "read_survey"]

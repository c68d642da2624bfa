"""The one model of a job, and how it is read from a workbook.

    read_survey(path, template)   a Survey from whatever came back from the site
    survey_of_texts(...)          the same from texts in memory
    Survey, Value, Outcome        the model: every value knows sheet, cell, column and typed text
    Row, Field                    a row and its columns as attributes; a class for each stock sheet:
                                  Job, Room, Equipment, Transformer, Clearance, Finding, PhotoCaption, NotInspected
    fingerprint(survey)           whether a survey still says what it said

Not here: what is wrong with it (rules) and what follows from it (assessment).
"""

from workbook_tools.survey.cells import Outcome, Value
from workbook_tools.survey.fingerprint import fingerprint
from workbook_tools.survey.from_texts import survey_of_texts
from workbook_tools.survey.model import HeadingTaken, Survey
from workbook_tools.survey.reading import read_survey
from workbook_tools.survey.rows import (
    Clearance,
    Equipment,
    Field,
    Finding,
    Job,
    NotInspected,
    PhotoCaption,
    Room,
    Row,
    Transformer,
)

__all__ = [
    "Clearance",
    "Equipment",
    "Field",
    "Finding",
    "HeadingTaken",
    "Job",
    "NotInspected",
    "Outcome",
    "PhotoCaption",
    "Room",
    "Row",
    "Survey",
    "Transformer",
    "Value",
    "fingerprint",
    "read_survey",
    "survey_of_texts",
]

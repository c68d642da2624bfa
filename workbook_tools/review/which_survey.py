"""Which survey a review belongs to: an answer never reaches another building.

    WhichSurvey.of(survey)                 building, report number, number of the survey, name of its file
    another_survey(name, theirs, survey)   why a review is not of this survey, or ""

The number that `new` gives a survey tells it from every other. A workbook that was copied for
another building has the same number: then property and report number tell. Where the survey
has no number, since it was made by hand or a program dropped it, they decide alone.
"""

from __future__ import annotations

from typing import NamedTuple

from workbook_tools.definitions import plain
from workbook_tools.survey import Survey

__all__ = ["WhichSurvey", "another_survey"]


class WhichSurvey(NamedTuple):
    """What tells one survey from another; "" for what is not known."""

    building: str = ""
    report_no: str = ""
    number: str = ""
    file: str = ""

    @classmethod
    def of(cls, survey: Survey) -> WhichSurvey:
        """Return what a survey says of itself."""
        job = survey.job
        return cls(
            " ".join(job.property.said.split()),
            " ".join(job.report_no.said.split()),
            survey.number,
            survey.path.name,
        )

    @property
    def in_words(self) -> str:
        """How it is named to a person: "Harbour House (report 12-7, survey number ABCD-EFGH-JKLM)"."""
        more = ", ".join(
            filter(
                None,
                (
                    f"report {self.report_no}" if self.report_no else "",
                    f"survey number {self.number}" if self.number else "",
                ),
            )
        )
        name = self.building or (f"the file {self.file}" if self.file else "a building without a name")
        return f"{name} ({more})" if more else name


def another_survey(review: str, theirs: WhichSurvey, survey: Survey) -> str:
    """Return the sentence that refuses a review of another survey; "" where it is of this one.

    Parameters
    ----------
    review : str
        The name of the review's file.
    theirs : WhichSurvey
        What the review says it was made from.
    survey : Survey
        The survey at hand.
    """
    ours = WhichSurvey.of(survey)
    if _is_same(theirs, ours):
        return ""
    said = (
        f"{review} is the review of {theirs.in_words}, and {survey.path.name} is the survey of {ours.in_words}: "
        "no answer goes from one building to another, and nothing was written. "
    )
    if theirs.building and not ours.building:
        return said + f"If it is that building, fill in its property in {survey.path.name}."
    if ours.number and theirs.number == ours.number:
        return said + (
            "If it is one survey of which the property or the report number was corrected, write them beside Property and "
            f"Report no. on the sheet Sign-off of {review} as the survey has them: {ours.building or 'blank'}, "
            f"{ours.report_no or 'blank'}."
        )
    return said + "Name the review of this survey, or another file for a new one."


def _is_same(theirs: WhichSurvey, ours: WhichSurvey) -> bool:
    if ours.number and theirs.number != ours.number:
        return False  # a number can be lost on the way; none is ever gained
    if _differ(theirs.report_no, ours.report_no) or (theirs.building and not ours.building):
        return False  # a name is filled in later; one that is gone is that of another copy
    one_number = bool(theirs.number) and theirs.number == ours.number
    if _differ(theirs.building, ours.building):
        # The report number is the same, or not given: only a given one shows that the name was corrected.
        return one_number and bool(ours.report_no) and plain(theirs.report_no) == plain(ours.report_no)
    named = bool(theirs.building and ours.building)
    return one_number or named or (bool(ours.file) and theirs.file.casefold() == ours.file.casefold())


def _differ(one: str, other: str) -> bool:
    return bool(one and other) and plain(one) != plain(other)

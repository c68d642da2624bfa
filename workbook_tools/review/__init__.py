"""The review workbook: every problem and finding, with the reviewer's answer to it, and the sign-off.

    write_review(checked, path, earlier)   write it; earlier answers are carried over
    read_review(path)                      the answers and the sign-off, whatever program saved it
    combined(reviews)                      several reviews of one survey as one
    Review, Entry, OwnIssue, SignOff       what a review holds
    Disposition, DISPOSITIONS              the answers
    Seal, seal_of, changes                 what a signature covers, and what of it has changed
    WhichSurvey, another_survey            a review belongs to one survey
    open_of_signature, signed_day, is_name what a signature is
    desk(checked)                          what the reviewer goes through, in its order

Not here: what is a problem (rules), and what may be delivered (delivery).
"""

from workbook_tools.review.answers import DISPOSITIONS, Disposition
from workbook_tools.review.combining import combined
from workbook_tools.review.desk import desk, is_finding
from workbook_tools.review.model import Entry, OwnIssue, Review, SignOff, template_as_said
from workbook_tools.review.reading import read_review
from workbook_tools.review.seal import Seal, changes, seal_of
from workbook_tools.review.signature import is_name, is_same_person, open_of_signature, signed_day
from workbook_tools.review.which_survey import WhichSurvey, another_survey
from workbook_tools.review.writing import (
    answers_of,
    refuse_another_ending,
    sealed_answers_of,
    write_review,
)

__all__ = [
    "DISPOSITIONS",
    "Disposition",
    "Entry",
    "OwnIssue",
    "Review",
    "Seal",
    "SignOff",
    "WhichSurvey",
    "another_survey",
    "answers_of",
    "changes",
    "combined",
    "desk",
    "is_finding",
    "is_name",
    "is_same_person",
    "open_of_signature",
    "read_review",
    "refuse_another_ending",
    "seal_of",
    "sealed_answers_of",
    "signed_day",
    "template_as_said",
    "write_review",
]

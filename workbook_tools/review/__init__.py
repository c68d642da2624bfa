"""The review workbook: every problem, with the reviewer's answer to it, and the sign-off.

    write_review(checked, path, earlier)   write it; earlier answers are carried over
    read_review(path)                      the answers and the sign-off, whatever program saved it
    Review, Entry, SignOff, DISPOSITIONS   what a review holds
    template_as_said(...)                  how a review names the template that it was made with
    fingerprint(survey)                    tells whether a survey changed since the sign-off

Not here: what is a problem (rules), and what may be delivered (delivery).
"""

from workbook_tools.review.model import DISPOSITIONS, Entry, Review, SignOff, template_as_said
from workbook_tools.review.reading import read_review
from workbook_tools.review.writing import refuse_another_ending, write_review
from workbook_tools.survey.fingerprint import fingerprint

__all__ = [
    "DISPOSITIONS",
    "Entry",
    "Review",
    "SignOff",
    "fingerprint",
    "read_review",
    "refuse_another_ending",
    "template_as_said",
    "write_review",
]

"""Prefilling a survey workbook from what a firm already has.

    read_fill(source, template, job=...)   a Filling from a folder of CSV files, one CSV file or a workbook
    job_answers(pairs, template)           KEY=VALUE pairs as answers of the Job sheet
    Filling, FillReport, ExtraSheet        what comes of it

Nothing is asked and nothing is dropped: what has no place in the template is kept in extra
columns, extra labels or extra sheets, and the report says so.
"""

from workbook_tools.filling.job_details import job_answers
from workbook_tools.filling.model import ExtraSheet, Filling, FillReport, Placed, TakenHeading, Target
from workbook_tools.filling.reading import CARRIED_OVER, read_fill

__all__ = [
    "CARRIED_OVER",
    "ExtraSheet",
    "FillReport",
    "Filling",
    "TakenHeading",
    "job_answers",
    "read_fill",
]

"""Prefilling a survey workbook from what a firm already has.

    read_fill(sources, template, ...)      a Filling from lists in whatever form, and from earlier surveys
    job_answers(pairs, template)           KEY=VALUE pairs as answers of the Job sheet
    Filling, FillReport, ExtraSheet        what comes of it
    Placed, Target                         where a column of a list goes, and why

source -> tables -> columns with samples -> placement -> rows: `sources` reads a file, `tables` and `other_shapes`
find its tables, `homes` says what a heading can mean, `column_values` what its cells forbid, `placing` gives each
column its place, `list_rows` and `parting` make the rows, and `gathered` takes several files as one.

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
    "Placed",
    "TakenHeading",
    "Target",
    "job_answers",
    "read_fill",
]

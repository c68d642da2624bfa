"""Rules about the Job sheet.

job-detail-missing    property, inspection date, inspector or code profile is blank
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Job"

_COMPLETE = {
    "property": "Harbour House (invented)",
    "inspection_date": "2026-09-16",
    "inspector": "Lead inspector",
    "code_profile": "nec-2023",
}


def job_detail_missing(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look at the required answers of the Job sheet."""
    job = assessment.survey.job
    for column in job.definition.typed:
        if column.required and not job[column].answered:
            yield JOB_DETAIL_MISSING.problem(job, job[column], f"{column.heading} is blank.")


JOB_DETAIL_MISSING = Rule(
    slug="job-detail-missing",
    class_="correct",
    subject="Job",
    what="Property, inspection date, inspector or code profile is blank.",
    why="Every page of the schedule carries them, and the thresholds come from the code profile.",
    mend="Fill in the answer beside the label.",
    source="common practice",
    client=Paperwork(),
    check=job_detail_missing,
    fires=as_typed(job={**_COMPLETE, "inspector": ""}),
    passes=as_typed(job=_COMPLETE),
)

RULES = (JOB_DETAIL_MISSING,)

"""Rules about the Job sheet.

job-detail-missing           property, inspection date, inspector or code profile is blank
profile-newer-than-building  the edition is newer than the building: which one held then is not known
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Limit, Paperwork
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


def profile_newer_than_building(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the year of the edition with the year built; a profile with allowances by date judges age itself."""
    job, profile, built = assessment.survey.job, assessment.profile, assessment.year_built
    if built is not None and built < profile.year and not profile.older:
        yield PROFILE_NEWER_THAN_BUILDING.problem(
            job,
            job.year_built,
            f"The building is of {built}, and {profile.title} is the code profile: which edition held when it was built, or "
            "when it was changed, is not known. Figures are compared with those of the profile; what was first "
            "asked for by a later edition names its year.",
            subject="Edition of the code",
            expected=f"{profile.year} or later, or the edition that held then",
        )


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

PROFILE_NEWER_THAN_BUILDING = Rule(
    slug="profile-newer-than-building",
    class_="note",
    subject="Job",
    what="The code profile is newer than the year built: which edition held then is not known.",
    why="Older work is judged by the edition in force when it was built; the client must know by which one it was compared.",
    mend="Nothing to do, unless the local authority names another edition: choose that profile then.",
    source="common practice",
    client=Limit(
        one="The building is older than the edition whose figures stand here. Which edition held when it was built or changed "
        "is not known; the local authority decides which one applies.",
        many="The building is older than the edition whose figures stand here. Which edition held when it was built or changed "
        "is not known; the local authority decides which one applies.",
    ),
    check=profile_newer_than_building,
    fires=as_typed(job={**_COMPLETE, "year_built": "1965"}),
    passes=as_typed(job={**_COMPLETE, "year_built": "2024"}),
)

RULES = (JOB_DETAIL_MISSING, PROFILE_NEWER_THAN_BUILDING)

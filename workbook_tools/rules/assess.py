"""A survey assessed as its template's rules want it.

assess(survey, photos)    an Assessment that heeds what the template switches off
"""

from __future__ import annotations

from workbook_tools.assessment import Assessment
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.rules.values import UNIT_SUSPECT
from workbook_tools.survey import Survey

__all__ = ["assess"]


def assess(survey: Survey, photos: PhotoFolder | None = None) -> Assessment:
    """Return the assessment of a survey; where nobody is asked about units, lengths are taken as they stand."""
    return Assessment(survey, photos=photos, doubts_units=not UNIT_SUSPECT.is_off(survey.template))

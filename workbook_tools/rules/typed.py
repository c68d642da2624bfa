"""The examples of the rules as surveys in memory.

survey_of(typed)         a Survey whose cells stand where the template puts them
assessment_of(typed)     its Assessment, with the photo folder of the example
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Template, load_template
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.rules.assess import assess
from workbook_tools.rules.rule import Typed
from workbook_tools.survey import Survey, survey_of_texts
from workbook_tools.survey.own_texts import WRITTEN_BY

__all__ = ["assessment_of", "survey_of"]

FIRST_ROW = 5
"""Where the rows of an example begin: under a title and the headings."""


def survey_of(typed: Typed, template: Template | None = None) -> Survey:
    """Return the survey that the typed cells make.

    Raises
    ------
    ValueError
        A text under a name that is no field: an example is misspelled.

    Examples
    --------
    >>> from workbook_tools.rules.rule import as_typed
    >>> survey = survey_of(as_typed(equipment=[{"tag": "DP-1", "rating_a": "400 A"}]))
    >>> survey.equipment[0].rating_a.value, survey.equipment[0].tag.cell
    (400.0, 'A5')
    """
    template = template or _stock()
    for key, rows in typed.tables.items():
        sheet = template.by_key[key]
        unknown = {field for row in rows for field in row} - sheet.by_field.keys() - {WRITTEN_BY}
        if unknown:
            raise ValueError(f"{sheet.name} has no field {', '.join(sorted(unknown))}")
    return survey_of_texts(template, typed.tables, typed.job, first_row=FIRST_ROW, source="as_typed.xlsx")


def assessment_of(typed: Typed, template: Template | None = None) -> Assessment:
    """Return the assessment of the typed cells."""
    files = typed.photo_folder
    photos = PhotoFolder(Path("photos"), tuple(files), {}) if files is not None else None
    return assess(survey_of(typed, template), photos)


@lru_cache(maxsize=1)
def _stock() -> Template:
    return load_template("office")

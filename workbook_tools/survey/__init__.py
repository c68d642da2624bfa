"""The one model of a job, and how it is read from a workbook.

    read_survey(path, template)   a Survey from whatever came back from the site
    Survey, Row, Value, Outcome   the model: every value knows sheet, cell and typed text

Not here: what is wrong with it (rules) and what follows from it (assessment).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from workbook_tools.survey.model import HeadingTaken, Outcome, Row, Survey, Value

if TYPE_CHECKING:
    from workbook_tools.survey.reading import read_survey

__all__ = ["HeadingTaken", "Outcome", "Row", "Survey", "Value", "read_survey"]


def __getattr__(name: str) -> Any:
    # The reader brings zip and XML with it; a caller that only needs the model does without.
    if name == "read_survey":
        from workbook_tools.survey.reading import read_survey

        return read_survey
    raise AttributeError(name)

"""Parts of one survey, each filled in by another inspector, put together.

    combine_parts(parts)   a Whole: rows, job answers and what is kept beside them, from Surveys that were read
    Whole, Difference      what came of it; where two parts answered differently

A row that stands in several parts is one row where they contradict each other in nothing, and two rows
where they do, so that the check asks about them. Nothing that anybody typed is lost.

Not here: reading and writing workbooks (survey, survey_workbook).
"""

from workbook_tools.combining.combining import combine_parts
from workbook_tools.combining.model import Difference, Whole

__all__ = ["Difference", "Whole", "combine_parts"]

"""What is written in free words about a row: its remarks, and the findings about it.

    written(assessment, *rows)            every such text
    says(assessment, pattern, *rows)      whether one of them has the words
    found_already(assessment, slug, row)  whether a finding of the library says what a rule would ask

A question that no column answers is answered there: "ground-fault relay on the door", "sign at the
service". Not here: which words answer which question (the rules).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.survey import Equipment

__all__ = ["found_already", "says", "written"]


def written(assessment: Assessment, *rows: Equipment) -> Iterator[str]:
    """Yield remarks and comments of the rows and of their label plates, and the words of the findings about them."""
    for row in rows:
        yield row.remarks.typed
        yield from (comment.typed for comment in row.comments)
        plate = assessment.plate(row)
        if plate is not None:
            yield plate.remarks.typed
            yield from (comment.typed for comment in plate.comments)
        for finding in assessment.survey.findings_about(row.tag.value):
            yield finding.finding.typed
            yield finding.seen.typed


def says(assessment: Assessment, pattern: re.Pattern[str], *rows: Equipment) -> bool:
    """Whether something written about one of the rows has the words of the pattern."""
    return any(pattern.search(text) for text in written(assessment, *rows))


def found_already(assessment: Assessment, slug: str, row: Equipment) -> bool:
    """Whether a finding about the row has the cause of a rule: what somebody found is not asked again."""
    template, about = assessment.survey.template, assessment.survey.findings_about(row.tag.value)
    entries = (template.find_finding(finding.finding.value) for finding in about if finding.finding.value)
    return any(entry is not None and slug in entry.disagrees_with for entry in entries)

"""Two checked surveys become a Comparison.

compare_checked(last, this, same, told)   the whole of it
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from workbook_tools.checking import Checked
from workbook_tools.comparison.equipment import equipment_changes
from workbook_tools.comparison.issues import issue_states
from workbook_tools.comparison.model import Comparison
from workbook_tools.definitions import plain
from workbook_tools.errors import Unusable
from workbook_tools.schedule.model import Condition
from workbook_tools.survey import Survey

__all__ = ["compare_checked"]


def compare_checked(
    last: Checked,
    this: Checked,
    same: Mapping[str, str] | None = None,
    told: Iterable[Condition] | None = None,
) -> Comparison:
    """Hold two surveys of one building against each other.

    Parameters
    ----------
    last, this : Checked
        The earlier survey and the later one, checked.
    same : mapping of str to str, optional
        Tags of the earlier survey to what they are called now, as somebody has answered.
    told : iterable of Condition, optional
        This year's issues as the client reads them.

    Raises
    ------
    Unusable
        `same` names a tag that the survey does not have.
    """
    renamed = dict(_renamed(last.survey, this.survey, same or {}))
    return Comparison(
        this.survey.job.property.said or last.survey.job.property.said,
        _edition(last.survey),
        _edition(this.survey),
        tuple(equipment_changes(last.survey, this.survey, renamed)),
        tuple(issue_states(last, this, renamed, told)),
        tuple(_said(last.survey, this.survey)),
    )


def _renamed(last: Survey, this: Survey, same: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    for old, new in same.items():
        for survey, tag, year in ((last, old, "earlier"), (this, new, "later")):
            if not survey.tagged(tag):
                raise Unusable(
                    f"{survey.path.name}: the {year} survey has no equipment with the tag {tag!r}."
                )
        yield plain(old), this.tagged(new)[0].called


def _edition(survey: Survey) -> str:
    day = survey.job.inspection_date.value
    return f"{survey.path.name}, {f'inspected on {day.isoformat()}' if day is not None else 'without an inspection date'}"


def _said(last: Survey, this: Survey) -> Iterator[str]:
    """Yield what makes the comparison doubtful: two names of the building, or the years the other way round."""
    names = [survey.job.property.said for survey in (last, this)]
    if all(names) and plain(names[0]) != plain(names[1]):
        yield f"The two surveys name two properties: {names[0]} and {names[1]}. Look whether they are of one building."
    before, now = last.job.inspection_date.value, this.job.inspection_date.value
    if before is not None and now is not None and before > now:
        yield (
            f"The survey named first was inspected later ({before.isoformat()}) than the second ({now.isoformat()}): "
            "name the earlier one first."
        )
    if last.template.name != this.template.name:
        yield f"They were made from two templates: {last.template.name} and {this.template.name}."

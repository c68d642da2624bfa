"""What a check of one survey among many comes to: small enough to keep, and sent from the process that made it.

check_one(look)   a SiteChecked, or why there is none
site_of(look, checked)   the same of a check that was made otherwise
SiteChecked       its line, its most urgent problems, and all of it as JSON where that is asked for
"""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from pathlib import Path

from workbook_tools.checking import Checked, as_json
from workbook_tools.checking.report import counts_by_class
from workbook_tools.definitions import PRIORITIES
from workbook_tools.review import desk, is_finding
from workbook_tools.rules.problems import CLASSES, Problem
from workbook_tools.sites.reading import Look, NotRead, PassedOver, read_and_check

__all__ = ["SiteChecked", "check_one", "site_of"]

_SHOWN = 5
"""The most urgent problems of a site that are kept."""

_NOTE = "note"


@dataclass(frozen=True, slots=True)
class SiteChecked:
    """One survey among many.

    `counts` reads as in a check of one file; `state` says who is next; `shown` are its most urgent problems,
    `more` how many there are beside them, `notes` sentences about how the file was read. `urgency` sorts the most urgent first. `json` is what a check of
    one file prints, with the name of the file; "" where it was not asked for.
    """

    path: Path
    property: str
    counts: str
    state: str
    by_class: tuple[int, ...]
    shown: tuple[Problem, ...]
    more: int
    notes: tuple[str, ...]
    urgency: tuple[int, ...]
    needs_attention: bool
    json: str = ""


def check_one(look: Look) -> SiteChecked | NotRead | PassedOver:
    """Check one survey among many. A function of its own, so that a new process finds it."""
    return read_and_check(look, site_of)


def site_of(look: Look, checked: Checked) -> SiteChecked:
    """Return what a check comes to."""
    problems = [problem for problem in desk(checked) if not is_finding(problem)]
    listed = [problem for problem in problems if problem.class_ != _NOTE]
    by_class = tuple(sum(problem.class_ == name for problem in problems) for name in CLASSES)
    of_priority = tuple(-sum(problem.priority == name for problem in listed) for name in PRIORITIES)
    return SiteChecked(
        path=look.path,
        property=" ".join(checked.survey.job.property.said.split()),
        counts=counts_by_class(problems),
        state=_state(checked, dict(zip(CLASSES, by_class, strict=True))),
        by_class=by_class,
        # Without its row, which holds the whole survey.
        shown=tuple(replace(problem, row=None) for problem in listed[:_SHOWN]),
        more=len(listed) - len(listed[:_SHOWN]),
        notes=tuple(checked.survey.notes),
        urgency=(*of_priority, *(-number for number in by_class)),
        needs_attention=checked.needs_attention,
        json=json.dumps({"file": str(look.path), **as_json(checked)}, ensure_ascii=False, indent=1)
        if look.whole
        else "",
    )


def _state(checked: Checked, by_class: dict[str, int]) -> str:
    """Return who is next."""
    if not any(checked.survey.tables.values()):
        return "not filled in"
    if by_class["correct"]:
        return "back to the inspector"
    if by_class["confirm"]:
        return "questions for the reviewer"
    return "ready for the reviewer"

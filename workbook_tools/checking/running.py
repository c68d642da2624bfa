"""Run every rule over a survey.

    check_survey(survey, ...)     what the rules come to
    Checked                       the survey, its assessment, the problems in sheet order, and the rest
    Crash                         a rule that failed

The survey is never changed. A rule that crashes is named; the others still run.

Not here: the rules (rules), what is said about the result (report).
"""

from __future__ import annotations

import gc
from dataclasses import dataclass, field, replace

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import RuleSetting, Template
from workbook_tools.photos.folder import PhotoFolder
from workbook_tools.rules import catalogue
from workbook_tools.rules.assess import assess
from workbook_tools.rules.problems import NotChecked, Problem, in_sheet_order
from workbook_tools.survey import Survey

__all__ = ["Checked", "Crash", "check_survey"]


@dataclass(frozen=True, slots=True)
class Crash:
    """A rule that failed: a fault in the tool, not in the survey."""

    rule: str
    error: str


@dataclass
class Checked:
    """What checking came to.

    `problems` are in sheet order; `not_checked` are rules that could not look at a row, never
    passes; `off` are the rules that the template switches off or gives another priority;
    `said` are sentences about the check itself; `signed` is whether the review workbook that was
    written carries a signature that holds.
    """

    survey: Survey
    assessment: Assessment
    problems: list[Problem] = field(default_factory=list)
    not_checked: list[NotChecked] = field(default_factory=list)
    crashed: list[Crash] = field(default_factory=list)
    off: list[RuleSetting] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    signed: bool = False

    @property
    def needs_attention(self) -> bool:
        """Whether there is anything to correct or to report."""
        return any(problem.class_ in ("correct", "report") for problem in self.problems)


def check_survey(survey: Survey, photos: PhotoFolder | None = None) -> Checked:
    """Run every rule over a survey.

    Parameters
    ----------
    survey : Survey
        As read; it is not changed.
    photos : PhotoFolder, optional
        The listing of the photo folder; without it the rules on photos are not checked.

    Returns
    -------
    checked : Checked

    Raises
    ------
    Unusable
        A code profile or an amendment file that cannot be used.

    Examples
    --------
    >>> from workbook_tools.rules.rule import as_typed
    >>> from workbook_tools.rules.typed import survey_of
    >>> checked = check_survey(survey_of(as_typed(rooms=[{"room": "Yard", "access": "Locked"}])))
    >>> [problem.message for problem in checked.problems if problem.sheet == "Rooms"]
    ['The room Yard was not entered (locked).']
    """
    assessment = assess(survey, photos)
    checked = Checked(survey, assessment)
    # Rules make no circles of objects: the collector would only walk through the survey again and again.
    collecting = gc.isenabled()
    gc.disable()
    try:
        _run_rules(checked)
    finally:
        if collecting:
            gc.enable()
    checked.problems = in_sheet_order(checked.problems)
    checked.said.extend(_unknown_settings(survey.template))
    return checked


def _run_rules(checked: Checked) -> None:
    assessment, settings = checked.assessment, checked.survey.template.rules
    for slug, rule in catalogue().items():
        setting = settings.get(slug)
        if setting is not None:
            checked.off.append(setting)
            if setting.off:
                continue
        try:
            for found in rule.check(assessment):
                if isinstance(found, NotChecked):
                    checked.not_checked.append(found)
                elif setting is not None and setting.priority:
                    checked.problems.append(replace(found, priority=setting.priority))
                else:
                    checked.problems.append(found)
        except Exception as error:  # noqa: BLE001 - whatever a rule does, the others still run, and it is named
            checked.crashed.append(Crash(slug, f"{type(error).__name__}: {str(error)[:200]}"))


def _unknown_settings(template: Template) -> list[str]:
    from difflib import get_close_matches

    said = []
    for slug in template.rules.keys() - catalogue().keys():
        near = get_close_matches(slug, catalogue(), n=1)
        hint = f" Is {near[0]} meant?" if near else ""
        said.append(f"The template {template.name} changes a rule {slug}, which does not exist.{hint}")
    return sorted(said)

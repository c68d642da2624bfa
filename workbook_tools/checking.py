"""Check a survey: run every rule, say what was found, and what could not be looked at.

    check(path, ...)              read, check, and write the review workbook where one is asked for
    check_survey(survey, ...)     the rules over a Survey that is in memory
    summary(checked)              what the terminal shows
    as_json(checked)              what --json prints
    Checked                       the survey, its assessment, the problems in sheet order, and the rest

The survey is never changed. A rule that crashes is named; the others still run.

Not here: the rules (rules), the review workbook (review).
"""

from __future__ import annotations

import gc
import os
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import RuleSetting, Template
from workbook_tools.errors import Unusable
from workbook_tools.problems import NotChecked, Problem, in_sheet_order
from workbook_tools.rules import catalogue

if TYPE_CHECKING:
    from workbook_tools.photo_folder import PhotoFolder
    from workbook_tools.review import Review
    from workbook_tools.survey.model import Survey

__all__ = ["Checked", "Crash", "as_json", "check", "check_survey", "summary"]


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
    `said` are sentences about the check itself.
    """

    survey: Survey
    assessment: Assessment
    problems: list[Problem] = field(default_factory=list)
    not_checked: list[NotChecked] = field(default_factory=list)
    crashed: list[Crash] = field(default_factory=list)
    off: list[RuleSetting] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

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
    >>> [problem.rule for problem in checked.problems if problem.sheet == "Rooms"]
    ['room-not-entered']
    """
    assessment = Assessment(survey, photos=photos)
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


def check(
    path: str | os.PathLike[str],
    *,
    template: str | Path | Template | None = None,
    photos: str | os.PathLike[str] | None = None,
    output: str | os.PathLike[str] | None = None,
    earlier: str | os.PathLike[str] | None = None,
) -> Checked:
    """Read a survey, check it, and write the review workbook where one is asked for.

    Parameters
    ----------
    path : path
        The filled-in survey workbook; it is only read.
    template : str, path or Template, optional
        The template it was made from; left out, the one that the file names.
    photos : path, optional
        The photo folder.
    output : path, optional
        The review workbook to write. One that stands there already is the earlier review:
        its dispositions are carried over.
    earlier : path, optional
        Another review workbook to carry dispositions over from.

    Returns
    -------
    checked : Checked

    Raises
    ------
    Unusable
        A file that cannot be used, in one sentence. Nothing is written then.
    """
    from workbook_tools.survey import read_survey

    survey = read_survey(path, template)
    folder = None
    unreadable: list[str] = []
    if photos is not None:
        from workbook_tools.photo_folder import list_photos, no_pictures

        folder = list_photos(photos)
        unreadable = no_pictures(folder)
    if output is None:
        checked = check_survey(survey, folder)
        checked.said += unreadable
        return checked
    from workbook_tools.review import read_review, refuse_another_ending, write_review

    target = Path(output)
    refuse_another_ending(target)
    if target.exists() and target.resolve() == Path(path).resolve():
        raise Unusable(f"{target.name} is the survey itself: give the review workbook another name.")
    before = None
    if earlier is not None:
        before = read_review(earlier)
    elif target.exists():
        before = _standing_there(target)
    checked = check_survey(survey, folder)
    checked.said += unreadable
    write_review(checked, target, before)
    return checked


def _standing_there(target: Path) -> Review:
    """Return the review that the new one takes the place of."""
    from workbook_tools.review import read_review

    try:
        return read_review(target)
    except Unusable:
        raise Unusable(
            f"{target.name} stands there already and is no review workbook, so nothing was written over it: "
            "choose another name to write the review to."
        ) from None


def summary(checked: Checked, *, emphasise: Any = None) -> str:
    """Return what the terminal shows: what was read, counts, then the problems in sheet order."""
    from workbook_tools.checking_report import summary_text

    return summary_text(checked, emphasise or str)


def as_json(checked: Checked) -> dict[str, Any]:
    """Return what --json prints: {"survey": ..., "problems": [...]}."""
    from workbook_tools.checking_report import json_object

    return json_object(checked)

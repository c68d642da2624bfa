"""One rule asked about a few typed cells."""

from collections.abc import Mapping

from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import assessment_of

Row = Mapping[str, str]

WYE_480 = {"voltage": "480Y/277", "phase": "3", "wires": "4"}
WYE_208 = {"voltage": "208Y/120", "phase": "3", "wires": "4"}
DP1 = {"tag": "DP-1", "kind": "Panelboard", **WYE_480}


def problems_of(slug: str, typed: Typed) -> list[Problem]:
    return [found for found in catalogue()[slug].check(assessment_of(typed)) if isinstance(found, Problem)]


def not_checked_of(slug: str, typed: Typed) -> list[NotChecked]:
    return [found for found in catalogue()[slug].check(assessment_of(typed)) if isinstance(found, NotChecked)]


def missing(slug: str, typed: Typed) -> list[str]:
    """Return what a rule said was missing, where it could not look."""
    return [found.missing for found in not_checked_of(slug, typed)]


def messages_of(slug: str, typed: Typed) -> list[str]:
    return [problem.message for problem in problems_of(slug, typed)]


def cells_of(slug: str, typed: Typed) -> list[str]:
    return [problem.place for problem in problems_of(slug, typed)]

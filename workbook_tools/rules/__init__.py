"""The rules: each looks at a survey and reports, and changes nothing.

    catalogue()       every rule by its slug, in the order of the catalogue page
    by_subject()      the rules of each group
    Rule, as_typed    the record of a rule, and its examples (workbook_tools.rules.rule)
    Problem, NotChecked  what a rule yields (workbook_tools.rules.problems)

CATALOGUE.md beside this file is the catalogue as a page; the command `explain` prints it too.
A rule is one record and one small generator in a module that says its SUBJECT and lists it in
RULES; every module of this folder that does so is found, and its rules appear everywhere else
by themselves.

Not here: running them over a survey (workbook_tools.checking).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from workbook_tools.rules.rule import Rule

__all__ = ["by_subject", "catalogue"]

_ORDER = (
    "Job",
    "What stands in a cell",
    "Live cells",
    "Limits of the survey",
    "Tags and rooms",
    "Service",
    "Details of the service",
    "Posted fault currents",
    "Supply",
    "Voltages and ratings",
    "Grounding",
    "Voltage ratings",
    "Protection of panelboards",
    "Mains",
    "Ground-fault protection",
    "Large boards",
    "Transformers",
    "Label plates",
    "Clearances",
    "Clear spaces",
    "Ways out",
    "Ways out beside a service",
    "Doors of rooms",
    "Where equipment stands",
    "Handles",
    "Touch test",
    "Conditions recorded",
    "Findings",
    "The survey before",
    "Photos",
)
"""The groups as a reader of the catalogue meets them; a group that is not named here comes last."""


@cache
def by_subject() -> Mapping[str, tuple[Rule, ...]]:
    """Return the rules of each group."""
    modules = [import_module(f"{__name__}.{module.name}") for module in iter_modules(__path__)]
    groups: dict[str, tuple[Rule, ...]] = {
        module.SUBJECT: module.RULES for module in modules if hasattr(module, "RULES")
    }
    return {
        subject: groups[subject]
        for subject in sorted(groups, key=lambda one: _ORDER.index(one) if one in _ORDER else len(_ORDER))
    }


@cache
def catalogue() -> Mapping[str, Rule]:
    """Return every rule by its slug.

    Examples
    --------
    >>> catalogue()["working-depth-short"].class_
    'report'
    """
    rules: dict[str, Rule] = {}
    for group in by_subject().values():
        for rule in group:
            if rule.slug in rules:
                raise ValueError(f"the slug {rule.slug} is given twice")
            rules[rule.slug] = rule
    return rules

"""The rules: each looks at a survey and reports, and changes nothing.

    catalogue()       every rule by its slug, in the order of the catalogue page
    SUBJECTS          the groups of the catalogue, each with its module
    Rule, as_typed    the record of a rule, and its examples (workbook_tools.rules.rule)

CATALOGUE.md beside this file is the catalogue as a page; the command `explain` prints it too.
A rule is one record and one small generator in the module of its group; it is listed in RULES
there, and appears everywhere else by itself.

Not here: running them over a survey (workbook_tools.checking).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module

from workbook_tools.rules.rule import Rule

__all__ = ["SUBJECTS", "by_subject", "catalogue"]

SUBJECTS = {
    "Job": "job_details",
    "What stands in a cell": "values",
    "Live cells": "live_cells",
    "Limits of the survey": "limits",
    "Tags and rooms": "tags",
    "Service": "service",
    "Supply": "supply",
    "Voltages and ratings": "voltage",
    "Transformers": "transformers",
    "Label plates": "label_plates",
    "Clearances": "clearances",
    "Clear spaces": "clear_spaces",
    "Touch test": "touch_test",
    "Findings": "findings",
    "Photos": "photos",
}
"""The groups of the catalogue in its order, each with the module that holds its rules."""


@cache
def by_subject() -> Mapping[str, tuple[Rule, ...]]:
    """Return the rules of each group."""
    return {subject: import_module(f"{__name__}.{module}").RULES for subject, module in SUBJECTS.items()}


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

"""What the client reads of a problem: the card of its rule, and the words of the case.

    card_of(problem)            what its rule's card says to the client
    is_condition(problem)       whether it is a condition of the property
    condition_of(problem)       what is said of it as one, whatever its rule
    phrase(problem)             how it reads inside a sentence
    why(problem)                why it matters to the owner
    action(problem, template)   what to do, addressed to the owner
    work(rule, template)        by whom it is done, and how
    cause(problem or finding, template)   what is wrong, whoever found it: inspector or rule

Not here: the cards (client); findings (schedule); whether a problem goes out at all (delivery).
"""

from __future__ import annotations

import re

from workbook_tools.definitions import FindingType, Template
from workbook_tools.definitions.work import USUAL, Work
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition, ForClient
from workbook_tools.rules.plain_english import inside
from workbook_tools.rules.problems import Problem

__all__ = ["action", "card_of", "cause", "condition_of", "is_condition", "phrase", "why", "work"]

_LEAST = Condition(work=USUAL)
_SECTION = re.compile(r"\s*\([^()]*\d{3}\.\d+(?:\([^()]*\))*[^()]*\)")


def card_of(problem: Problem) -> ForClient:
    """Return what the card of a problem's rule says to the client."""
    return catalogue()[problem.rule].client


def is_condition(problem: Problem) -> bool:
    """Whether a problem is a condition of the property: by its rule, or since the reviewer wants it told."""
    return problem.class_ == "report" or isinstance(card_of(problem), Condition)


def condition_of(problem: Problem) -> Condition:
    """Return what is said of a problem as a condition; of a question or a note that is told as one, the least."""
    card = card_of(problem)
    return card if isinstance(card, Condition) else _LEAST


def phrase(problem: Problem) -> str:
    """Return what a problem says inside a sentence, without a full stop.

    That is the phrase of its rule, or the message without the section; a remark that is told as
    a condition says the whole of its message.
    """
    of_rule = problem.phrase if isinstance(card_of(problem), Condition) else ""
    return of_rule or inside(_SECTION.sub("", problem.message), {problem.subject.casefold()})


def why(problem: Problem) -> str:
    """Return why it matters: addressed to the owner where the rule's own reason speaks of the workbook."""
    return condition_of(problem).why or catalogue()[problem.rule].why


def action(problem: Problem, template: Template) -> str:
    """Return what the owner is to do: the library's action for the same cause, or the card's."""
    entry = _in_the_library(problem.rule, template)
    return entry.action if entry is not None else condition_of(problem).do


def work(rule: str, template: Template) -> Work:
    """Return by whom it is done and how what a rule found: as the library says for the same cause, or the card."""
    entry = _in_the_library(rule, template)
    if entry is not None:
        return entry.work
    card = catalogue()[rule].client
    return card.work if isinstance(card, Condition) else USUAL


def cause(found: Problem | FindingType, template: Template) -> str:
    """Return what is wrong as one name, whoever found it: the first code of the findings that share it, or the rule's name."""
    if isinstance(found, FindingType):
        shared = set(found.disagrees_with)
        return min(
            (one.code for one in template.findings if shared & set(one.disagrees_with)), default=found.code
        )
    entry = _in_the_library(found.rule, template)
    return cause(entry, template) if entry is not None else found.rule


def _in_the_library(rule: str, template: Template) -> FindingType | None:
    return next((entry for entry in template.findings if rule in entry.disagrees_with), None)

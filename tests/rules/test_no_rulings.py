"""A visual survey rules on nothing: it lays the measured beside the needed, and says who decides."""

import re
from collections.abc import Iterator

import pytest

from tests.rules.asking import problems_of
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.rules import catalogue, client_reads
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.rule import Rule
from workbook_tools.schedule.cautions import CAUTION, CLIENT_CAUTIONS
from workbook_tools.schedule.words import words_used

RULING = re.compile(
    r"\b(?:is|are|be|not) (?:not )?(?:allowed|permitted|prohibited|required|forbidden|illegal|compliant)\b|\ballowed\b"
    r"|\bis the limit\b|\bas needed\b|\bviolat|\bmust be (?!able|sure)|\bnot to code\b|\bcompl(?:y|ies)\b",
    re.IGNORECASE,
)


def read_by_the_client(rule: Rule) -> Iterator[str]:
    card = rule.client
    if isinstance(card, Condition):
        yield from (card.do, card.why, card.in_short)
    elif isinstance(card, Limit):
        yield from (card.one, card.many)
    for problem in problems_of(rule.slug, rule.fires):
        yield client_reads.phrase(problem)
        yield client_reads.why(problem)
        # An open question and a remark are printed as they stand.
        yield problem.message


@pytest.mark.parametrize("rule", catalogue().values(), ids=lambda rule: rule.slug)
def test_no_rule_tells_the_client_what_is_allowed(rule: Rule):
    assert [text for text in read_by_the_client(rule) if RULING.search(text)] == []


@pytest.mark.parametrize("template", stock_templates())
def test_no_finding_of_the_library_does(template: str):
    for entry in load_template(template).findings:
        said = (entry.one, entry.many, entry.why, entry.action, entry.look_for)
        assert [text for text in said if RULING.search(text)] == [], entry.code


def test_neither_do_the_cautions_and_the_words_used():
    everything = " ".join(
        f"{word} {meaning}" for word, meaning in words_used("working space knockout filler plate non-contact")
    )
    assert [text for text in (*CLIENT_CAUTIONS, everything) if RULING.search(text)] == []
    assert "The local authority and licensed practice decide." in CAUTION


def test_such_a_sentence_would_be_noticed():
    said = (
        "At most six are allowed.",
        "30 in is the limit.",
        "As needed.",
        "It must be moved.",
        "A directory is required.",
    )
    assert all(RULING.search(text) for text in said)


@pytest.mark.parametrize("template", stock_templates())
def test_whoever_touches_is_told_what_the_tester_does_not_find(template: str):
    office = load_template(template)
    ask = office.by_key["equipment"].by_field["touch_test"].ask
    choice = office.vocabularies["touch_test"].choices[0]
    for text in (ask, choice.ask, " ".join(office.cautions), " ".join(CLIENT_CAUTIONS)):
        assert "does not detect direct current" in text
    assert all("1000 V" in " ".join(cautions) for cautions in (office.cautions, CLIENT_CAUTIONS))

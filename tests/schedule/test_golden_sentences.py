"""Every sentence the schedule can say about a finding or a rule, as a person has read it.

golden_sentences.txt is rewritten only with the environment variable WRITE_GOLDEN_SENTENCES=1,
and then read in full before it is committed. Nothing outside the project is compared here:
what makes a sentence right is that a reader finds it to be English.
"""

import os
import re
from pathlib import Path

import pytest

from workbook_tools.checking import check_survey
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.rules import catalogue
from workbook_tools.rules.plain_english import sentence
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import cards
from workbook_tools.schedule.sentences import finding_headline

GOLDEN = Path(__file__).with_name("golden_sentences.txt")


def finding_lines():
    seen = {}
    for name in stock_templates():
        for entry in load_template(name).findings:
            said = [sentence(finding_headline(entry, entry.name, count)) for count in (None, 1, 2)]
            seen.setdefault(entry.code, f"{entry.code} {entry.name}\n    " + "\n    ".join(said))
    return list(seen.values())


def rule_lines():
    lines = []
    for slug, rule in catalogue().items():
        survey = survey_of(rule.fires)
        checked = check_survey(survey)
        problems = [problem for problem in checked.problems if problem.rule == slug]
        if not problems or not cards.is_condition(problems[0]):
            continue
        problem = problems[0]
        said = (cards.phrase(problem), cards.why(problem), cards.action(problem, survey.template))
        lines.append("\n    ".join([f"{slug} ({rule.class_})", *map(sentence, said)]))
    return lines


@pytest.fixture(scope="module")
def sentences():
    return "\n".join([*finding_lines(), "", *rule_lines(), ""])


def test_every_sentence_is_as_a_person_has_read_it(sentences):
    if os.environ.get("WRITE_GOLDEN_SENTENCES") == "1":
        GOLDEN.write_text(sentences, encoding="utf-8")
    assert sentences.splitlines() == GOLDEN.read_text(encoding="utf-8").splitlines()


def test_every_finding_type_and_every_report_rule_is_there(sentences):
    codes = {entry.code for name in stock_templates() for entry in load_template(name).findings}
    assert len(codes) >= 80
    assert codes <= set(re.findall(r"^(\S+) ", sentences, re.MULTILINE))
    reports = {slug for slug, rule in catalogue().items() if rule.class_ == "report"}
    assert reports <= set(re.findall(r"^(\S+) \(report\)$", sentences, re.MULTILINE))


def test_no_code_word_reaches_the_client(sentences):
    said = [line.strip() for line in sentences.splitlines() if line.startswith("    ")]
    assert len(said) > 250
    for line in said:
        assert line[0].isupper() or line[0].isdigit(), line
        assert line.endswith((".", "!", "?")), line
        assert not re.search(
            r"[a-z]_[a-z]|\b[a-z]+-[a-z]+-(short|over|low|limited|check)\b|  |\.\.|None|N/V", line
        ), line


def test_every_report_rule_has_a_phrase_of_its_own():
    for slug, rule in catalogue().items():
        if rule.class_ == "report":
            problems = [p for p in check_survey(survey_of(rule.fires)).problems if p.rule == slug]
            assert problems, slug
            assert all(problem.phrase for problem in problems), slug

"""Every sentence the schedule can say about a finding or a rule reads as English to the owner."""

import re

import pytest

from tests.schedule.golden_sentences import PAGE, finding_lines
from workbook_tools.checking import check_survey
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.rules import catalogue, client_reads
from workbook_tools.rules.plain_english import sentence
from workbook_tools.rules.typed import survey_of


def rule_lines():
    lines = []
    for slug, rule in catalogue().items():
        survey = survey_of(rule.fires)
        checked = check_survey(survey)
        problems = [problem for problem in checked.problems if problem.rule == slug]
        if not problems or not client_reads.is_condition(problems[0]):
            continue
        problem = problems[0]
        said = (
            client_reads.phrase(problem),
            client_reads.why(problem),
            client_reads.action(problem, survey.template),
        )
        lines.append("\n    ".join([f"{slug} ({rule.class_})", *map(sentence, said)]))
    return lines


@pytest.fixture(scope="module")
def sentences():
    return "\n".join([*finding_lines(), *rule_lines()])


def test_every_finding_reads_as_a_person_has_read_it():
    written = PAGE.read_text(encoding="utf-8").splitlines()
    assert written == "\n".join(finding_lines()).splitlines(), (
        "run: python -m tests.schedule.golden_sentences"
    )


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

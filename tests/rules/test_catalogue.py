"""The catalogue: every required rule with its class, priority, subject and basis, and every rule true to its card."""

import csv
import re
from dataclasses import replace
from pathlib import Path

import pytest

from workbook_tools.commands import explain
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.definitions.model import PRIORITIES
from workbook_tools.electrical import KINDS
from workbook_tools.errors import Unusable
from workbook_tools.rules import by_subject, catalogue
from workbook_tools.rules.catalogue_page import PAGE
from workbook_tools.rules.explaining import catalogue_page, catalogue_text
from workbook_tools.rules.problems import CLASSES, NotChecked, Problem
from workbook_tools.rules.rule import Rule
from workbook_tools.rules.typed import assessment_of
from workbook_tools.survey import Job

REQUIRED = list(
    csv.DictReader((Path(__file__).parent / "required_rules.csv").read_text(encoding="utf-8").splitlines())
)
RULES = list(catalogue().values())


@pytest.mark.parametrize("row", REQUIRED, ids=lambda row: row["rule"])
def test_a_required_rule_has_its_class_priority_subject_and_basis(row: dict[str, str]):
    rule = catalogue()[row["rule"]]
    assert (rule.class_, rule.priority, rule.subject, rule.source) == (
        row["class"],
        row["priority"],
        row["subject"],
        row["basis"],
    )


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_every_rule_lives_up_to_its_own_card(rule: Rule):
    fires = list(rule.check(assessment_of(rule.fires)))
    assert {problem.rule for problem in fires} == {rule.slug}
    assert all(isinstance(problem, Problem) for problem in fires)
    assert list(rule.check(assessment_of(rule.passes))) == []


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_a_problem_carries_everything_that_a_person_needs(rule: Rule):
    for problem in rule.check(assessment_of(rule.fires)):
        assert isinstance(problem, Problem)
        assert problem.class_ == rule.class_ in CLASSES
        assert problem.priority == rule.priority in ("", *PRIORITIES)
        assert problem.sheet
        assert problem.message.endswith(".")
        assert problem.action.endswith(".")
        assert problem.source == rule.source
        assert re.fullmatch(r"[A-Z]+[0-9]+", problem.cell) or rule.slug == "photo-unused"


FIELDS = {column.field for sheet in load_template("office").sheets for column in sheet if "_" in column.field}


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_no_word_of_the_code_reaches_the_user(rule: Rule):
    for problem in rule.check(assessment_of(rule.fires)):
        assert isinstance(problem, Problem)
        said = f"{problem.message} {problem.action} {problem.expected} {problem.field}"
        assert not [field for field in FIELDS if field in said]
        assert "None" not in problem.message.replace("None of", "").replace("reads None", "")
        assert not re.search(r"[a-z]+\.[a-z]+\(|<[a-z]|\{|\}", said)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_only_what_is_reported_has_a_priority(rule: Rule):
    assert bool(rule.priority) == (rule.class_ == "report")


NEEDED_ELSEWHERE = {
    # Asked where the equipment is a transformer: its two sides take the place of its voltage.
    ("working-depth-short", "Transformer.primary_v"),
    ("working-depth-short", "Transformer.secondary_v"),
    # Asked where the source is a transformer.
    ("phase-exceeds-source", "Transformer.secondary_v"),
    ("neutral-not-supplied", "Transformer.secondary_v"),
    # Asked where nothing foreign was seen.
    ("dedicated-space-obstructed", "Clearance.open_above"),
}
"""Needs that the example of a card does not hold; test_blanks_are_no_pass asks them."""


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.needs], ids=lambda rule: rule.slug)
def test_a_need_left_blank_is_not_checked(rule: Rule):
    for need in rule.needs:
        key = need.owner.key
        rows = [rule.fires.job] if need.owner is Job else rule.fires.tables.get(key, ())
        if not any(need.name in row for row in rows):
            assert (rule.slug, repr(need)) in NEEDED_ELSEWHERE
            continue
        blanked = [{**row, need.name: ""} for row in rows]
        if need.owner is Job:
            typed = replace(rule.fires, job=blanked[0])
        else:
            typed = replace(rule.fires, tables={**rule.fires.tables, key: blanked})
        found = list(rule.check(assessment_of(typed)))
        heading = load_template("office").by_key[key].by_field[need.name].heading
        missing = [one.missing for one in found if isinstance(one, NotChecked)]
        assert any(said == heading or said.startswith(f"{heading} of ") for said in missing), (need, missing)


def test_the_catalogue_page_is_what_the_rules_say():
    written = PAGE.read_text(encoding="utf-8")
    assert written == catalogue_page(), "run: python -m workbook_tools.rules.catalogue_page"
    assert all(f"### {slug}\n" in written for slug in catalogue())


def test_the_catalogue_lists_every_rule_under_its_subject():
    text = catalogue_text()
    assert [line.split()[0] for line in text.splitlines() if re.match(r"  [a-z]", line)] == list(catalogue())
    assert all(subject in text.splitlines() for subject in by_subject())


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_explain_says_what_why_how_and_whence(rule: Rule):
    text = " ".join(explain(rule.slug).split())
    for part in (rule.what, rule.why, rule.mend, rule.source):
        assert " ".join(part.split()) in text
    assert "An example that it reports:" in text
    assert " -> " in text


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_the_list_gives_class_and_source_of_each_rule(rule: Rule):
    text = " ".join(catalogue_text().split())
    source = rule.source.partition(";")[0].partition(",")[0]
    class_ = f"{rule.class_}, {rule.priority}" if rule.priority else rule.class_
    assert f"{rule.slug} ({class_}; {source})" in text
    assert text.endswith("`workbook-tools explain RULE` tells more about one of them.")


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)
def test_what_is_measured_against_a_limit_says_its_tolerance(rule: Rule):
    # 1/8 in and 3 mm are the code profile's; the rules are those that compare a length with a printed limit.
    measured = {
        "working-depth-short",
        "working-width-short",
        "working-height-short",
        "older-allowance-check",
        "working-space-check",
        "front-projection-over",
        "front-projection-check",
    }
    text = " ".join(explain(rule.slug).split())
    assert ("Measuring tolerance: 1/8 in, 3 mm" in text) == (rule.slug in measured)


def test_the_table_is_cited_with_one_edition():
    assert "(NFPA 70-2023 Table 450.3(B))" in explain("secondary-protection-check")
    assert "NFPA 70-2023 NFPA 70" not in PAGE.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("914", "Depth reads 914; in inches that is 76 ft 2 in, as 914 mm it would be 36.0 in."),
        ("4", "Depth reads 4; in inches that is only 4 in, as 4 ft it would be 48.0 in."),
    ],
)
def test_a_suspect_unit_is_said_in_both_units(typed: str, says: str):
    from workbook_tools.rules.rule import as_typed

    found = catalogue()["unit-suspect"].check(
        assessment_of(as_typed(clearances=[{"tag": "DP-1", "depth": typed}]))
    )
    assert [problem.message.startswith(says) for problem in found if isinstance(problem, Problem)] == [True]


def test_a_rule_that_does_not_exist_is_answered_with_the_nearest():
    with pytest.raises(Unusable, match=r"working-depth-shrt.*Did you mean working-depth-short"):
        explain("working-depth-shrt")


def test_a_blank_voltage_is_not_checked():
    from workbook_tools.rules.rule import as_typed

    typed = as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard"}],
        clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "40"}],
    )
    found = list(catalogue()["working-depth-short"].check(assessment_of(typed)))
    assert found == [NotChecked("working-depth-short", "DP-1", "Clearances", "A5", "Voltage of DP-1")]


@pytest.mark.parametrize("template", stock_templates())
def test_the_core_knows_every_kind_of_a_stock_template_that_is_inspected(template: str):
    kinds = load_template(template).vocabularies["kind"].choices
    assert {kind.like or kind.name for kind in kinds if kind.in_scope} <= set(KINDS)

"""Running the rules: what is said beside the problems, and what reaches the terminal and --json."""

import json
from dataclasses import replace

import pytest

from tests.rules.clean_survey import clean_survey
from tests.rules.notes import BAKERY, typed_notes
from workbook_tools.checking import as_json, check_survey, running, summary
from workbook_tools.definitions import RuleSetting, load_template
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import CLASSES
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey.model import HeadingTaken

HALF_BLIND = as_typed(
    rooms=[{"room": "Yard", "access": "Locked"}],
    equipment=[{"tag": "DP-1", "kind": "Panelboard", "voltage": "N/V"}],
    clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "40"}],
)


@pytest.fixture
def a_rule_crashes(monkeypatch: pytest.MonkeyPatch) -> str:
    def crash(_assessment: object):
        raise RuntimeError("the wheels came off")
        yield

    rules: dict[str, Rule] = dict(catalogue())
    rules["fed-from-unknown"] = replace(rules["fed-from-unknown"], check=crash)
    monkeypatch.setattr(running, "catalogue", lambda: rules)
    return "fed-from-unknown"


def test_a_rule_that_crashes_is_named_and_the_others_run(a_rule_crashes: str):
    checked = check_survey(survey_of(typed_notes(BAKERY)))
    assert [crash.rule for crash in checked.crashed] == [a_rule_crashes]
    assert {problem.rule for problem in checked.problems} > {"supply-loop"} - {"supply-loop"}
    assert "duplicate-tag" in {problem.rule for problem in checked.problems}
    assert f"The rule {a_rule_crashes} failed" in summary(checked)
    assert as_json(checked)["survey"]["rules_crashed"] == [
        {"rule": a_rule_crashes, "error": "RuntimeError: the wheels came off"}
    ]


def test_problems_stand_in_the_order_of_the_sheets_rows_and_columns():
    checked = check_survey(survey_of(typed_notes(BAKERY)))
    orders = [problem.order for problem in checked.problems]
    assert orders == sorted(orders)
    sheets = list(dict.fromkeys(problem.sheet for problem in checked.problems))
    assert sheets == ["Job", "Rooms", "Equipment", "Transformers", "Clearances", "Findings"]


def with_rules(**settings: RuleSetting):
    survey = survey_of(typed_notes(BAKERY))
    survey.template = replace(load_template("office"), rules={s.slug: s for s in settings.values()})
    return check_survey(survey)


def test_a_rule_that_the_template_switches_off_is_off_and_said():
    setting = RuleSetting("duplicate-tag", off=True, reason="Tags are checked by the client.")
    checked = with_rules(off=setting)
    assert "duplicate-tag" not in {problem.rule for problem in checked.problems}
    assert checked.off == [setting]
    assert (
        "The rule duplicate-tag is switched off by the template: Tags are checked by the client."
        in summary(checked)
    )


def test_another_priority_reaches_the_problem_and_is_said():
    checked = with_rules(p=RuleSetting("working-depth-short", priority="Act now", reason="Firm policy."))
    assert {p.priority for p in checked.problems if p.rule == "working-depth-short"} == {"Act now"}
    assert (
        "The rule working-depth-short is given the priority Act now by the template: Firm policy."
        in summary(checked)
    )


def test_a_rule_that_is_off_explains_nothing_away():
    # With unit-suspect off, the 4 in of RP-4 are taken as they stand, and are a shortfall.
    checked = with_rules(off=RuleSetting("unit-suspect", off=True, reason="All lengths carry their unit."))
    short = {p.subject for p in checked.problems if p.rule == "working-depth-short"}
    assert short == {"DP-1", "ATS-1", "RP-4"}


def test_a_setting_for_a_rule_that_does_not_exist_is_said():
    checked = with_rules(off=RuleSetting("duplicate-tags", off=True, reason="A slip."))
    assert checked.said == [
        "The template office changes a rule duplicate-tags, which does not exist. Is duplicate-tag meant?"
    ]


def test_not_checked_is_said_and_is_no_pass():
    checked = check_survey(survey_of(HALF_BLIND))
    assert ("working-depth-short", "Voltage of DP-1") in {(n.rule, n.missing) for n in checked.not_checked}
    assert "working-depth-short 1, missing: Voltage of DP-1" in summary(checked)
    assert {"rule": "working-depth-short", "subject": "DP-1", "sheet": "Clearances", "cell": "A5",
            "missing": "Voltage of DP-1"} in as_json(checked)["survey"]["not_checked"]  # fmt: skip


def test_what_was_not_checked_is_counted_by_rule_and_missing_field():
    typed = as_typed(
        equipment=[{"tag": tag, "kind": "Panelboard"} for tag in ("P-1", "P-2", "P-3")],
        clearances=[{"tag": "P-1"}, {"tag": "P-2", "door_opens_90": "Yes"}, {"tag": "P-3", "door_opens_90": "N/A"}],
    )  # fmt: skip
    checked = check_survey(survey_of(typed))
    lines = summary(checked).splitlines()
    assert "  door-swing-limited 1, missing: Door opens 90° (P-1)" in lines
    assert "  working-space-storage 3, missing: Items in working space (P-1, P-2, P-3)" in lines
    grouped = as_json(checked)["survey"]["not_checked_by_rule"]
    assert {"rule": "front-projection-over", "times": 3, "missing": {"Front projection": 3}} in grouped
    assert sum(group["times"] for group in grouped) == len(as_json(checked)["survey"]["not_checked"])


def test_the_summary_says_how_to_see_the_notes():
    lines = summary(check_survey(survey_of(typed_notes(BAKERY)))).splitlines()
    noted = next(number for number, line in enumerate(lines) if line.startswith("Noted: "))
    assert lines[noted + 1] == "  -o REVIEW.xlsx or --json lists them."


def test_columns_that_the_template_does_not_know_are_named_in_one_line():
    survey = survey_of(clean_survey())
    assert "Kept as extra columns" not in summary(check_survey(survey))
    survey.headings += [
        HeadingTaken("Equipment", "S4", "Sticker\nno.", "equipment", None, False),
        HeadingTaken("Equipment", "T4", "Colour", "equipment", None, False),
        HeadingTaken("Rooms", "H4", "Key", "rooms", None, False),
    ]
    said = summary(check_survey(survey)).splitlines()
    assert "  Kept as extra columns: Equipment: Sticker no., Colour; Rooms: Key" in said


def test_the_summary_says_what_was_read_and_how_much_was_found():
    text = summary(check_survey(survey_of(typed_notes(BAKERY))))
    assert "Quarry Street Bakery and Cold Store" in text
    assert "9 rooms, 23 pieces of equipment, 3 transformers, 21 clearances, 11 findings" in text
    assert "5 to correct, 6 to confirm, 13 to report (1 Act now, 12 Correct soon)" in text
    assert (
        "Clearances!D7  DP-1  working-depth-short (report, Correct soon)\n"
        "  Depth reads 38 in; 42 in is needed at 277 V to ground with something grounded opposite "
        "(NFPA 70-2023 110.26(A)(1)).\n"
        "  Measure again from the enclosure front. If it stands, leave the cell: it goes to the client.\n"
    ) in text


def test_a_long_list_is_cut_in_the_terminal_only():
    findings = [
        {"subject": f"X-{number}", "finding": "Open knockout", "photos": "a.jpg"} for number in range(500)
    ]
    checked = check_survey(survey_of(as_typed(findings=findings)))
    text = summary(checked)
    assert "more; -o REVIEW.xlsx or --json lists them all." in text
    assert text.count("unknown-tag") <= 200
    assert sum(p["rule"] == "unknown-tag" for p in as_json(checked)["problems"]) == 500


def test_json_holds_the_record_with_its_names():
    said = json.loads(json.dumps(as_json(check_survey(survey_of(typed_notes(BAKERY))))))
    assert list(said) == ["survey", "problems"]
    assert said["survey"]["property"] == "Quarry Street Bakery and Cold Store"
    assert said["survey"]["counts"]["equipment"] == 23
    assert said["survey"]["problems_by_class"] == {"correct": 5, "confirm": 6, "report": 13, "note": 18}
    assert {tuple(problem) for problem in said["problems"]} == {
        (
            "rule",
            "class",
            "priority",
            "sheet",
            "cell",
            "subject",
            "field",
            "read",
            "expected",
            "message",
            "action",
            "source",
        )
    }
    assert {problem["class"] for problem in said["problems"]} <= set(CLASSES)


def test_a_clean_survey_needs_no_attention():
    assert not check_survey(survey_of(clean_survey())).needs_attention
    assert check_survey(survey_of(typed_notes(BAKERY))).needs_attention

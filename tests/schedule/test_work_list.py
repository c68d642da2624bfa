"""The work list, the numbers of the issues, their order, and the links between the sheets.

Who mends what, and with power off or on, is common practice of the trade; that electricians work on
equipment that is off is 29 CFR 1910.333(a)(1), from memory.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from tests.sampling import sampled_property
from tests.schedule.notes import bakery
from workbook_tools.checking import check_survey
from workbook_tools.definitions import load_template, stock_templates
from workbook_tools.definitions.work import Danger, Effort, Power, Trade
from workbook_tools.errors import Unusable
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Condition
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import build_schedule, write_schedule
from workbook_tools.schedule.issue_numbers import numbered
from workbook_tools.schedule.model import ReviewersIssue

PANEL = {"kind": "Panelboard", "fed_from": "Utility", "touch_test": "No alert"}


def schedule_of(**tables):
    return build_schedule(check_survey(survey_of(as_typed(**tables))))


@pytest.fixture(scope="module")
def schedule():
    return build_schedule(check_survey(bakery()))


def test_every_issue_has_one_line_of_work_with_all_that_a_quotation_needs(schedule):
    assert sorted(item.id for item in schedule.work) == sorted(one.id for one in schedule.conditions)
    of = {one.id: one for one in schedule.conditions}
    words = [{word.value for word in kind} for kind in (Trade, Power, Effort)]
    for item in schedule.work:
        assert (item.task, item.seen, item.priority) == (
            of[item.id].task,
            of[item.id].seen,
            of[item.id].priority,
        )
        for said, allowed in zip(
            (item.trade, item.power, item.effort.removeprefix("today; ")), words, strict=True
        ):
            assert said in allowed
        assert item.count >= 1
        assert item.task.endswith(".")


def test_the_work_list_goes_by_trade_then_level_and_room(schedule):
    trades = [trade.value for trade in Trade]
    places = [trades.index(item.trade) for item in schedule.work]
    assert places == sorted(places)
    for trade in trades:
        rooms = [(item.level, item.room) for item in schedule.work if item.trade == trade]
        runs = [room for at, room in enumerate(rooms) if at == 0 or rooms[at - 1] != room]
        assert len(runs) == len(set(runs)), "the work of one room stands together"


def test_a_line_of_work_says_what_the_equipment_is():
    schedule = schedule_of(
        rooms=[{"room": "Closet", "level": "2", "access": "Entered", "remarks": "Key at the front desk. Dusty."}],
        equipment=[
            {"tag": "LP-1", **PANEL, "room": "Closet", "rating_a": "225", "voltage": "208Y/120", "phase": "3", "wires": "4",
             "maker": "Ostrevik", "main_device": "Main breaker", "short_circuit_rating_ka": "10"},
        ],
        findings=[{"subject": "LP-1", "finding": "Open knockout or conduit hole in a cabinet", "count": "3"}],
    )  # fmt: skip
    item = next(item for item in schedule.work if "closure" in item.task)
    assert (item.level, item.room, item.tag, item.kind) == ("Level 2", "Closet", "LP-1", "Panelboard")
    assert (item.rating, item.voltage, item.phase_wires) == ("225 A", "208Y/120 V", "3-phase, 4-wire")
    assert (item.maker, item.main_device, item.short_circuit) == ("Ostrevik", "Main breaker", "10 kA")
    assert (item.count, item.power, item.effort) == (3, "must be off", "one visit")
    assert item.access == "Key at the front desk."
    assert (
        next(one.place for one in schedule.conditions if one.id == item.id)
        == "LP-1, panelboard, Closet (Level 2)"
    )


def test_a_ladder_and_a_room_that_was_not_entered_are_said():
    schedule = schedule_of(
        rooms=[{"room": "Vault", "access": "Locked", "remarks": "Ask the tenant for the badge"}],
        equipment=[{"tag": "LP-1", **PANEL, "room": "Vault"}],
        findings=[{"subject": "LP-1", "finding": "Pipe, duct or drain in the dedicated space"}],
    )
    (item,) = [item for item in schedule.work if item.tag == "LP-1"]
    assert item.access == "Ladder. Not entered at the survey: Locked. Ask the tenant for the badge."


def test_shock_and_fire_come_before_access_and_access_before_labels():
    findings = [
        {"subject": "DP-1", "finding": "Feeder source not marked", "priority": "Correct soon"},
        {"subject": "DP-1", "finding": "Stored goods in the working space", "priority": "Correct soon"},
        {"subject": "LP-9", "finding": "Flexible cord used as fixed wiring", "priority": "Correct soon"},
        {"subject": "LP-9", "finding": "Circuit directory missing", "priority": "Act now"},
    ]
    equipment = [{"tag": "DP-1", **PANEL}, {"tag": "LP-9", **PANEL, "fed_from": "DP-1"}]
    done = [one.action for one in schedule_of(equipment=equipment, findings=findings).conditions]
    wanted = ["fit a directory", "fixed wiring", "Move the stored goods", "names the source"]
    assert [words for action in done for words in wanted if words in action] == wanted


def test_numbers_stay_when_issues_come_and_go_and_the_plate_is_read_again(schedule):
    survey = bakery()
    before = {(one.subject, one.seen): one.id for one in schedule.conditions}
    findings = list(survey.findings)
    survey.tables["findings"] = [*reversed(findings)][:-1]
    less = build_schedule(check_survey(survey), own=[ReviewersIssue("RP-4", "A label hangs loose")])
    same = [one for one in less.conditions if (one.subject, one.seen) in before]
    assert len(same) == len(before) - 1
    # Two alike at one place are told apart by their order alone.
    twice = {one.subject for one in same if sum(o.subject == one.subject for o in same) > 1}
    assert all(
        one.id == before[one.subject, one.seen]
        for one in same
        if one.subject not in twice or one.subject != "EP-1"
    )
    assert len({one.id for one in less.conditions}) == len(less.conditions)


def test_a_finding_and_the_rule_that_sees_the_same_have_one_number():
    storage = {"tag": "DP-1", "items_in_space": "boxes"}
    ruled = schedule_of(equipment=[{"tag": "DP-1", **PANEL}], clearances=[storage])
    found = schedule_of(
        equipment=[{"tag": "dp-1", **PANEL}], findings=[{"subject": "DP-1", "finding": "Stored goods in the working space"}]
    )  # fmt: skip
    (rule,) = [
        one for one in ruled.conditions if "storage" in one.seen.casefold() or "boxes" in one.seen.casefold()
    ]
    (finding,) = [one for one in found.conditions if one.seen.startswith("Storage")]
    assert rule.id == finding.id


@sampled_property(max_examples=200)
@given(
    st.lists(st.tuples(st.text(max_size=4), st.sampled_from("abc")), max_size=12),
    st.tuples(st.text(max_size=4), st.sampled_from("abc")),
)
def test_a_number_depends_on_nothing_but_its_issue_and_those_alike(keys, more):
    numbers = numbered(keys)
    assert len(set(numbers)) == len(numbers)
    assert all(len(number) >= 5 and number[0].isalpha() and number.isalnum() for number in numbers)
    assert numbered([*keys, more])[: len(keys)] == numbers
    # No spreadsheet program takes one for a number, a date or a formula.
    assert not any(letter in number for number in numbers for letter in "EOIAU01")


def test_numbers_that_would_be_alike_are_told_apart(monkeypatch):
    monkeypatch.setattr("workbook_tools.schedule.issue_numbers._letters", lambda text: "KKKKKKKK")
    assert numbered([("b", "x"), ("a", "x")]) == ["KKKKKK", "KKKKK"]


@pytest.mark.parametrize("name", sorted(stock_templates()))
def test_every_finding_says_what_to_do_and_nothing_is_left_to_further_evaluation(name):
    for entry in load_template(name).findings:
        assert len(entry.action.split()) >= 4, entry.code
        assert "further evaluation" not in entry.action.casefold(), entry.code
        if entry.work.trade is Trade.OWNER:
            assert entry.work.effort is Effort.OWN, entry.code
            assert entry.work.power is Power.ON, entry.code
        if entry.work.trade is Trade.ENGINEER:
            assert entry.work.effort is Effort.ENGINEER, entry.code
        if entry.priority == "Act now":
            assert entry.work.danger is Danger.SHOCK_OR_FIRE, entry.code
        if entry.category == "Marking":
            assert entry.work.danger is not Danger.ACCESS, entry.code


def test_what_the_owner_does_himself_opens_nothing():
    for rule in catalogue().values():
        if isinstance(rule.client, Condition) and rule.client.work.trade is Trade.OWNER:
            assert rule.client.work.power is Power.ON, rule.slug


def test_a_firms_finding_says_its_work_and_a_slip_is_named(tmp_path):
    own = tmp_path / "firm.toml"
    head = '[template]\nname = "f"\nextends = "office"\n[[findings]]\ncode = "F-1"\nname = "Loose sign"\npriority = "Upkeep"\n'
    own.write_text(
        f'{head}work = {{ trade = "licensed electrician", power = "can stay on", ladder = true }}\n'
    )
    work = next(entry.work for entry in load_template(own).findings if entry.code == "F-1")
    assert (work.trade, work.power, work.effort, work.ladder) == (
        Trade.ELECTRICIAN,
        Power.ON,
        Effort.VISIT,
        True,
    )
    own.write_text(f'{head}work = {{ power = "off" }}\n')
    with pytest.raises(
        Unusable, match=r"\[findings\.F-1\.work\] power is 'off'; one of must be off, can stay on"
    ):
        load_template(own)


def test_links_lead_from_the_list_to_the_issue_and_back(schedule, tmp_path):
    write_schedule(schedule, tmp_path / "schedule.xlsx")
    workbook = load_workbook(tmp_path / "schedule.xlsx")

    def led(sheet):
        for row in workbook[sheet].iter_rows():
            for cell in row:
                if cell.hyperlink is not None:
                    name, _, place = cell.hyperlink.location.partition("!")
                    yield cell.value, workbook[name.strip("'")], int(place[1:])

    numbers = {one.id: one for one in schedule.conditions}
    from_issues = [(text, sheet, row) for text, sheet, row in led("Issues") if text in numbers]
    assert len(from_issues) == sum(bool(one.rows) for one in schedule.conditions)
    for number, sheet, row in from_issues:
        assert sheet.title == "Schedule"
        assert sheet.cell(row, 1).value == schedule.rows[numbers[number].rows[0]].tag
    work = [(text, sheet.cell(row, 1).value) for text, sheet, row in led("Work list")]
    assert work == [(item.id, item.id) for item in schedule.work]
    to_issue = [
        (text, sheet.cell(row, 1).value) for text, sheet, row in led("Schedule") if sheet.title == "Issues"
    ]
    of = {row.tag: row.issue_ids for row in schedule.rows}
    assert len(to_issue) >= 10
    assert all(number == of[tag][0] for tag, number in to_issue)
    assert [sheet.cell(row, 1).value for _, sheet, row in led("Summary")] == [
        one.id for one in schedule.first
    ]


def test_who_is_needed_counts_every_issue_once(schedule):
    counted = sum(int(part.partition(")")[0]) for part in schedule.who.split("(")[1:])
    assert schedule.who.startswith("Who is needed, and for how many issues: licensed electrician (")
    assert counted == len(schedule.conditions)


def test_a_service_disconnect_that_may_be_live_is_not_sent_to_without_a_word():
    schedule = schedule_of(
        equipment=[
            {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility", "touch_test": "ALERTED"}
        ]
    )
    (said,) = [text for text in schedule.doubts if text.startswith("Keep your hands off SD-1")]
    number = next(one.id for one in schedule.conditions if one.priority == "Act now")
    assert said.endswith(f"[{number}].")


def test_an_open_question_about_switching_off_stands_beside_the_sentence():
    survey = survey_of(as_typed(equipment=[{"tag": "DP-1", **PANEL, "fed_from": ""}]))
    checked = check_survey(survey)
    asked = [problem for problem in checked.problems if problem.rule == "no-service-disconnect"]
    assert asked
    (said,) = build_schedule(checked, conditions=[], questions=asked).doubts
    assert said.startswith("Not certain, the question is open: ")
    assert build_schedule(checked, conditions=[], questions=()).doubts == ()


def test_what_was_left_out_by_its_tag_stands_once_among_the_limits():
    schedule = schedule_of(
        equipment=[
            {"tag": "LC-1", "kind": "Lift controller", "fed_from": "DP-1", "maker": "N/V"},
            {"tag": "DP-1", **PANEL},
        ],
        not_inspected=[{"item": "Lift controller LC-1", "reason": "Separate authority"}],
    )
    lines = [line for line in schedule.limits if "LC-1" in line.what]
    assert [(line.group, line.reason) for line in lines] == [
        ("Not inspected", "Separate authority. Maker could not be seen.")
    ]


def test_no_photo_is_said_and_a_photo_says_what_is_wrong(schedule, tmp_path):
    meant = write_schedule(schedule, tmp_path / "schedule.xlsx")["Issues"]
    without = sum(not one.photos for one in schedule.conditions)
    assert without
    assert list(meant.values()).count("No photo of it.") == without


def test_to_act_on_now_is_for_today_and_the_owner_keeps_people_away():
    schedule = schedule_of(
        rooms=[{"room": "Closet", "access": "Entered"}],
        equipment=[
            {"tag": "SD-1", "kind": "Service disconnect", "room": "Closet", "fed_from": "Utility", "touch_test": "No alert"},
            {"tag": "DP-1", **PANEL, "room": "Closet", "fed_from": "SD-1"},
            {"tag": "LP-1", **PANEL, "fed_from": "DP-1"},
        ],
        findings=[
            {"subject": "DP-1", "finding": "Cover, trim or dead-front missing"},
            {"subject": "DP-1", "finding": "Circuit directory missing"},
        ],
    )  # fmt: skip
    urgent = schedule.first[0]
    assert urgent.action == f"Keep people away from the equipment. {urgent.task}"
    assert urgent.effort == "today; one visit"
    items = {item.id: item for item in schedule.work}
    assert not items[urgent.id].task.startswith("Keep people away")
    assert (items[urgent.id].fed_from, items[urgent.id].feeds) == ("SD-1", "LP-1")
    later = next(item for item in schedule.work if "directory" in item.task)
    assert later.access == f"After {urgent.id}."
    (said,) = schedule.doubts
    assert said.startswith("On the way to the switch, keep away from DP-1 in the same room")


def test_a_question_among_the_limits_says_what_to_do_and_who_does():
    checked = check_survey(survey_of(as_typed(equipment=[{"tag": "DP-1", **PANEL, "fed_from": ""}])))
    asked = [problem for problem in checked.problems if problem.rule == "no-service-disconnect"]
    (line,) = [
        one for one in build_schedule(checked, questions=asked).limits if one.group == "Open questions"
    ]
    assert line.who == "The utility, or a licensed electrician"
    assert line.reason.endswith(
        "Ask the utility or a licensed electrician where the building is switched off, and have it marked."
    )

"""The bakery's schedule beside its notes.

The building is invented. expected.csv lists what an expert finds in the notes; currents are worked
out here, I = 1000 S / (sqrt(3) V) (definition of three-phase power), the needed figures below are
those of NFPA 70 Table 110.26(A)(1) as printed (NFPA70-2023 in sources.csv).
"""

import csv
import math
import re

import pytest
from openpyxl import load_workbook

from tests.schedule.notes import BAKERY, bakery
from workbook_tools.checking import check_survey
from workbook_tools.definitions import PRIORITIES, load_template
from workbook_tools.schedule import SignedBy, build_schedule, write_schedule


@pytest.fixture(scope="module")
def schedule():
    checked = check_survey(bakery())
    return build_schedule(checked, sign_off=SignedBy("R. Reviewer (invented)", "2026-09-20"))


@pytest.fixture(scope="module")
def written(schedule, tmp_path_factory):
    path = tmp_path_factory.mktemp("written") / "schedule.xlsx"
    return path, write_schedule(schedule, path)


def notes(name):
    with (BAKERY / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def row_of(schedule, tag):
    return next(row for row in schedule.rows if row.tag == tag)


def test_every_line_of_the_notes_is_in_the_list_once(schedule):
    typed = sorted(row["Tag"] for row in notes("equipment"))
    listed = sorted(row.tag for row in schedule.rows if not row.kind.startswith(("Room", "Not in")))
    assert listed == typed


def test_the_service_comes_first_and_each_piece_after_what_feeds_it(schedule):
    tags = [row.tag for row in schedule.rows]
    assert tags[:3] == ["SD-1", "MSB", "DP-1"]
    for above, below in (
        ("DP-1", "T-1"),
        ("T-1", "RP-1"),
        ("RP-1", "RP-3"),
        ("T-2", "RP-2"),
        ("RP-2", "T-3"),
        ("T-3", "OV-1"),
    ):
        assert tags.index(above) < tags.index(below)
    assert tags.index("RP-4") > tags.index("GEN-1")  # its source, RP-22, is not in the list


def test_the_service_in_one_sentence(schedule):
    assert schedule.services == (
        (
            "Switch off at SD-1, the fused switch in the Main electrical room (Ground): one motion of the hand switches it off. "
            "The service is 1600 A, 480Y/277 V, 3-phase, 4-wire."
        ),
    )
    assert "The generator GEN-1 (Yard) may start by itself" in schedule.other_sources
    assert "PVD-1" in schedule.other_sources
    assert "live by daylight" in schedule.other_sources


def test_every_report_of_the_expert_reaches_the_client(schedule):
    words = {
        "working-depth-short": "depth in front", "working-width-short": "width in front", "working-height-short": "headroom",
        "front-projection-over": "past the front", "door-swing-limited": "does not open",
        "dedicated-space-obstructed": "dedicated space", "working-space-storage": "in the working space",
        "touch-test-alerted": "alerted",
    }  # fmt: skip
    reports = [row for row in notes("expected") if row["class"] == "report"]
    assert len(reports) == 13
    for row in reports:
        said = [c.phrase for c in schedule.conditions if c.subject == row["subject"]]
        assert any(words[row["rule"]] in phrase for phrase in said), row


def test_every_finding_of_the_notes_reaches_the_client(schedule):
    for row in notes("findings"):
        seen = " ".join(c.seen for c in schedule.conditions if c.subject == row["Subject"]).casefold()
        assert row["What was seen"].casefold() in seen, row


@pytest.mark.parametrize(
    ("tag", "sentence"),
    [
        ("DP-1", "Depth in front 38 in where 42 in is needed; two of eight screws gone from the trim."),
        ("ATS-1", "Depth in front 46 in where 48 in is needed."),
        (
            "T-1",
            "Items stored on or against a transformer (floor sealer stacked on the enclosure top); storage in the working space.",
        ),
        ("EP-1", "One open knockout (1 in opening in the bottom, left of the feeder); one open knockout (bottom opening)."),
        ("SD-1", "No issue seen. Noted: Labelled SERVICE DISCONNECT. 1600A fused switch."),
        ("LC-1", "Recorded, not inspected."),
        ("Roof stair landing", "Failed or poor lighting at the equipment (lamp out over the inverters)."),
    ],
)  # fmt: skip
def test_an_issue_sentence_reads_as_a_person_writes_it(schedule, tag, sentence):
    row = row_of(schedule, tag)
    assert _without_numbers(row.issues) == sentence
    assert re.findall(r"\[([A-Z0-9]{5})\]", row.issues) == list(row.issue_ids)


def _without_numbers(issues):
    return re.sub(r" \[[A-Z0-9]{5}\]", "", issues)


def test_what_to_do_first_is_the_live_enclosure(schedule):
    first = schedule.first[0]
    assert (first.priority, first.subject) == ("Act now", "RP-4")
    assert "detector sounded on the door trim" in first.seen.casefold()
    assert first.action.startswith("Keep people away")
    assert len(schedule.first) == 3


def test_the_cautions_are_the_owners_and_not_the_inspectors(schedule):
    said = " ".join(schedule.cautions)
    assert not set(schedule.cautions) & set(load_template("office").cautions)
    assert "operate nothing" not in said
    for item in (
        "trained staff",
        "fire service",
        "qualified person",
        "proves nothing",
        "local authority and licensed",
    ):
        assert item in said


def test_what_was_done_on_site_does_not_deny_the_touch_test(schedule):
    said = next(line.reason for line in schedule.limits if line.what == "Visual survey")
    assert "tested with a non-contact voltage tester" in said
    assert "Nothing was opened" not in said
    bare = next(
        line.reason
        for line in build_schedule(check_survey(only_a_panel())).limits
        if line.what == "Visual survey"
    )
    assert "tester" not in bare
    assert "Doors" not in bare


def only_a_panel():
    from workbook_tools.rules.rule import as_typed
    from workbook_tools.rules.typed import survey_of

    return survey_of(as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", "fed_from": "Utility"}]))


def test_the_list_says_what_it_counts(written):
    said = next(str(text) for text in written[1]["Schedule"].values() if "power flows" in str(text))
    kinds = [str(text) for (_, column), text in written[1]["Schedule"].items() if column == 1]
    rooms = sum(kind == "Room" for kind in kinds)
    assert said.startswith(
        f"{len(notes('equipment'))} pieces of equipment, {rooms} rooms and 1 thing outside the lists, in"
    )


def test_sections_stand_after_the_name_of_their_code(schedule):
    assert not [c.basis for c in schedule.conditions if re.match(r"\d{3}\.", c.basis)]
    assert any("NFPA 70-2023 408" in c.basis for c in schedule.conditions)


def test_dates_read_alike_and_a_draft_has_none_of_release():
    checked = check_survey(bakery())
    signed = dict(build_schedule(checked, sign_off=SignedBy("R. Reviewer (invented)", "2026-09-20")).facts)
    assert (signed["Reviewed by"], signed["Released"]) == ("R. Reviewer (invented)", "September 20, 2026")
    assert not [text for text in signed.values() if re.search(r"\d{4}-\d\d-\d\d", text)]
    assert "draft" in dict(build_schedule(checked, draft=True).facts)["Released"]


def test_counts_are_those_of_the_conditions(schedule):
    for priority, count in schedule.counts:
        assert count == sum(c.priority == priority for c in schedule.conditions)
    assert [name for name, _ in schedule.counts] == list(PRIORITIES)
    ranks = [PRIORITIES.index(c.priority) for c in schedule.conditions]
    assert ranks == sorted(ranks)


def test_what_was_not_looked_at_is_on_the_first_page(schedule):
    short = " ".join(schedule.not_looked_at)
    for item in (
        "Tenant cold store",
        "Lift controller LC-1",
        "Phone and data wiring",
        "PV array and inverter internals",
        "TEL-1",
    ):
        assert item in short


def test_transformer_figures_read_back_with_another_library(written):
    sheet = load_workbook(written[0])["Transformers"]
    rows = {row[0]: row for row in sheet.iter_rows(values_only=True) if row[0] in ("T-1", "T-2", "T-3")}
    for plate in notes("transformers"):
        kva = float(plate["kVA"].split()[0])
        volts = [float(plate["Primary (V)"].split()[0]), 208 if "208" in plate["Secondary (V)"] else 480]
        row = rows[plate["Tag"]]
        assert row[2] == kva
        assert row[6] == ("Step-down" if volts[0] > volts[1] else "Step-up")
        assert row[7] == pytest.approx(volts[0] / volts[1])
        for place, side in ((8, volts[0]), (9, volts[1])):
            assert row[place] == pytest.approx(1000 * kva / (math.sqrt(3) * side))
        full_load = 1000 * kva / (math.sqrt(3) * volts[1])
        # The highest current comes with the lowest impedance of the tolerance, minus 7.5 % (EEP-Z in sources.csv).
        assert row[11] == pytest.approx(full_load / (0.925 * float(plate["Impedance (%)"]) / 100) / 1000)
    assert "Marked step-down; the voltages give step-up." in rows["T-3"][12]


# By hand from the table: volts to ground and the opposite side give the depth.
NEEDED_DEPTH = {"SD-1": "42 in", "DP-1": "42 in", "HP-1": "36 in", "T-1": "36 in", "RP-1": "36 in", "ATS-1": "48 in",
                "EP-1": "42 in", "MCC-1": "1000 mm (or 42 in)", "OV-1": "900 mm (or 36 in)"}  # fmt: skip


def test_clearances_read_back_with_another_library(written):
    sheet = load_workbook(written[0])["Clearances"]
    rows = {row[0]: row for row in sheet.iter_rows(values_only=True) if row[0]}
    for tag, needed in NEEDED_DEPTH.items():
        assert rows[tag][5].replace("\n", " ") == needed
    short = {tag for tag, row in rows.items() if str(row[4]).startswith("\u25bc")}
    assert short == {"DP-1", "ATS-1"}
    assert {tag for tag, row in rows.items() if str(row[6]).startswith("\u25bc")} == {"RP-1", "MCC-1"}
    assert {tag for tag, row in rows.items() if str(row[8]).startswith("\u25bc")} == {"RP-2"}
    assert "pipe in the dedicated space above" in rows["MCC-1"][12].casefold()
    assert "duct in the dedicated space above" in rows["RP-2"][12].casefold()
    assert rows["MSB"][12] == "No shortfall measured."  # a sprinkler is allowed there
    for tag in ("PVD-1", "RP-4"):
        assert "not certain" in rows[tag][12]  # 914 and 4 in a column of inches are compared with nothing


def test_the_same_cause_is_said_once():
    from workbook_tools.rules.rule import as_typed
    from workbook_tools.rules.typed import survey_of

    survey = survey_of(
        as_typed(
            equipment=[
                {"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4"}
            ],
            clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "38"}],
            findings=[{"subject": "dp-1", "finding": "Working depth too small", "seen": "block wall across"}],
        )
    )
    schedule = build_schedule(check_survey(survey))
    depth = [c for c in schedule.conditions if "depth in front" in c.phrase or "shallow" in c.phrase]
    assert len(depth) == 1
    assert depth[0].phrase == "depth in front 38 in where 42 in is needed"
    assert "Block wall across." in depth[0].seen
    assert next(row.issues for row in schedule.rows if row.tag == "DP-1").count("epth") == 1


def test_what_a_column_says_without_a_finding_is_not_lost():
    from workbook_tools.rules.rule import as_typed
    from workbook_tools.rules.typed import survey_of

    survey = survey_of(
        as_typed(
            rooms=[{"room": "Boiler room", "access": "Entered", "lighting": "No"}],
            equipment=[
                {"tag": "LP-1", "kind": "Panelboard", "room": "Boiler room", "circuit_directory": "Outdated"}
            ],
        )
    )
    checked = check_survey(survey)
    rows = {row.tag: _without_numbers(row.issues) for row in build_schedule(checked).rows}
    assert rows["LP-1"] == "Outdated circuit directory."
    assert rows["Boiler room"] == "No working light over the equipment."


def test_what_the_reviewer_keeps_back_is_no_limit_either():
    checked = check_survey(bakery())
    locked = [problem for problem in checked.problems if problem.rule == "room-not-entered"]
    assert [problem.subject for problem in locked] == ["Tenant cold store"]
    groups = [line.group for line in build_schedule(checked, left_out=locked).limits]
    assert "Rooms not entered" in [line.group for line in build_schedule(checked).limits]
    assert "Rooms not entered" not in groups


def test_rules_that_the_firm_changed_are_said():
    from dataclasses import replace

    from workbook_tools.definitions import RuleSetting

    survey = bakery()
    off = RuleSetting("door-swing-limited", off=True, reason="The firm does not open doors")
    less = RuleSetting("working-space-storage", priority="Upkeep", reason="Goods move daily")
    survey.template = replace(survey.template, rules={off.slug: off, less.slug: less})
    lines = [
        line for line in build_schedule(check_survey(survey)).limits if line.group == "Rules the firm changed"
    ]
    assert {line.reason for line in lines} == {
        "Not looked for in this survey. The firm does not open doors.",
        "Given the priority Upkeep. Goods move daily.",
    }

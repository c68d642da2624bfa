"""The bakery a year later: filled from its survey of 2026, answered in part, checked, reviewed, delivered.

The building is invented; what is expected stands in tests/data/bakery_second_year/expected.csv. That nothing passes as
seen on a visit which did not see it is common practice of surveys.
"""

from __future__ import annotations

import datetime
import random
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path
from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from tests.delivery.made_surveys import deliver, review_and_sign
from tests.delivery.test_deliver import rows_of, texts_of
from tests.next_year.years import SECOND_YEAR, expected, filled, first_year, typed_into
from tests.sampling import sampled_property
from tests.schedule.notes import BAKERY, read_notes
from workbook_tools.checking import Checked, check_survey
from workbook_tools.comparison import compare_checked
from workbook_tools.definitions import load_template
from workbook_tools.delivery import Delivered
from workbook_tools.errors import Unusable
from workbook_tools.filling import read_fill
from workbook_tools.review.desk import BY_INSPECTOR, desk, is_finding
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule import ClientSchedule, build_schedule
from workbook_tools.schedule.conditions import Found, conditions_of
from workbook_tools.survey import read_survey

DAY, AS_OF = "2026-09-16", "As of September 16, 2026"
DELIVERED = datetime.date(2027, 9, 21)


class Years(NamedTuple):
    first: Path
    begun: Path
    second: Path
    review: Path
    delivered: Delivered


@pytest.fixture(scope="module")
def years(tmp_path_factory: pytest.TempPathFactory) -> Years:
    folder = tmp_path_factory.mktemp("years")
    first = first_year(folder)
    begun = filled(first, folder / "filled.xlsx")
    second = typed_into(begun, SECOND_YEAR, folder / "second_year.xlsx")
    answers = {"confirm": ("No issue", "asked on site"), "*": ("Tell the client", "")}
    review = review_and_sign(second, folder / "review.xlsx", answers, date="2027-09-20")
    return Years(
        first,
        begun,
        second,
        review,
        deliver(second, output=folder / "delivery", review=review, today=DELIVERED),
    )


@pytest.fixture(scope="module")
def checked(years: Years) -> Checked:
    return check_survey(read_survey(years.second))


def found_in(checked: Checked) -> list[Found]:
    reported = [problem for problem in checked.problems if problem.class_ == "report"]
    return conditions_of(checked, reported, lambda _row: ())


def told(row: dict[str, str], checked: Checked) -> str:
    """Return what became of an expected line: as the words of the conditions and of the survey say it."""
    about = [one for one in found_in(checked) if one.condition.subject == row["subject"]]
    here = [one for one in about if row["what"] in (one.cause, one.finding)]
    if here:
        (one,) = here
        assert bool(one.as_of) == one.condition.phrase.startswith("as of September 16, 2026: ")
        return "as of" if one.condition.seen.startswith(AS_OF) else "this year"
    findings = [
        f for f in checked.survey.findings if (f.called, f.finding.said) == (row["subject"], row["what"])
    ]
    return "mended" if any(finding.is_mended for finding in findings) else "gone"


@pytest.mark.parametrize("row", expected(), ids=lambda row: f"{row['subject']} {row['what']}")
def test_each_issue_is_told_as_the_expert_expects(row: dict[str, str], checked: Checked) -> None:
    assert told(row, checked) == row["told"], row["why"]


def test_the_expert_leaves_out_no_issue_of_the_second_year(checked: Checked) -> None:
    listed = {(row["subject"], row["what"]) for row in expected()}
    for one in found_in(checked):
        assert {(one.condition.subject, one.cause), (one.condition.subject, one.finding)} & listed, (
            one.condition
        )


def test_the_client_reads_it_so(years: Years) -> None:
    issues = rows_of(years.delivered.folder / "data" / "issues.csv")
    dated = {issue["subject"] for issue in issues if AS_OF in issue["seen"]}
    assert dated == {row["subject"] for row in expected() if row["told"] == "as of"}
    work = rows_of(years.delivered.folder / "data" / "work_list.csv")
    assert {item["tag"] or item["room"] for item in work if AS_OF in item["seen"]} == dated
    limits = rows_of(years.delivered.folder / "data" / "limits.csv")
    again = {
        line["what"].partition(":")[0]: line["reason"]
        for line in limits
        if line["group"] == "Not looked at again"
    }
    assert again == {
        "Clearances": "8 of 21, as of September 16, 2026.",
        "Findings": "4 of 8, as of September 16, 2026.",
    }
    mended = [(line["what"], line["reason"]) for line in limits if line["group"].startswith("Mended")]
    assert mended == [
        ("T-1", "Storage on transformer: mended since September 16, 2026."),
        ("MCC-1", "Wrong cover screw: mended since September 16, 2026."),
        ("RP-3", "Circuit directory missing: mended since September 16, 2026."),
    ]
    printed = " ".join(texts_of(years.delivered.folder / "schedule.xlsx"))
    for words in (
        "mended since September 16, 2026",
        "Not looked at again",
        "As of September 16, 2026: no shortfall measured.",
    ):
        assert words in printed


def test_the_data_says_of_which_day_a_row_is(years: Years) -> None:
    rows = {row["tag"]: row for row in rows_of(years.delivered.folder / "data" / "clearances.csv")}
    assert (rows["RP-1"]["as_of"], rows["RP-1"]["last_seen"], rows["RP-1"]["this_year"]) == (
        "September 16, 2026", DAY, "Not seen",
    )  # fmt: skip
    assert (rows["DP-1"]["as_of"], rows["DP-1"]["depth"], rows["DP-1"]["this_year"]) == ("", "44", "Changed")


def test_the_check_asks_about_each_row_without_an_answer_and_of_nothing_else(checked: Checked) -> None:
    asked = {(p.sheet, p.subject) for p in checked.problems if p.rule == "not-looked-at-again"}
    assert asked == {
        ("Clearances", "HP-1"), ("Clearances", "RP-3"), ("Clearances", "RP-2"), ("Findings", "RP-3"), ("Findings", "Packing hall"),
    }  # fmt: skip


def test_where_nobody_has_begun_it_asks_once_a_sheet(years: Years) -> None:
    fresh = check_survey(read_survey(years.begun))
    asked = [(p.place, p.message) for p in fresh.problems if p.rule == "not-looked-at-again"]
    assert asked == [
        (
            "Clearances!C3",
            "Clearances has 21 rows of September 16, 2026, and This year is blank in all of them.",
        ),
        (
            "Findings!D3",
            "Findings has ten rows of September 16, 2026, and This year is blank in all of them.",
        ),
    ]
    assert not [p for p in fresh.problems if p.rule == "finding-without-photo"]


def test_what_was_mended_or_not_seen_needs_no_photo(checked: Checked) -> None:
    assert not [p for p in checked.problems if p.rule == "finding-without-photo"]


def test_an_answer_under_this_year_is_sealed(years: Years, tmp_path: Path) -> None:
    changed = tmp_path / "changed.xlsx"
    book = load_workbook(years.second)
    columns = {cell.value: cell.column for cell in book["Clearances"][2] if cell.value}
    row = next(cell.row for (cell,) in book["Clearances"].iter_rows(max_col=1) if cell.value == "RP-1")
    place = book["Clearances"].cell(row, columns["This year"], "Still so").coordinate
    book.save(changed)
    with pytest.raises(Unusable, match=rf"Clearances!{place} \(RP-1, This year\) was Not seen, is Still so"):
        deliver(changed, output=tmp_path / "delivery", review=years.review, today=DELIVERED)


def test_the_two_years_beside_each_other(years: Years, checked: Checked) -> None:
    compared = compare_checked(check_survey(read_survey(years.first, "office")), checked)
    states = {(issue.subject, issue.finding or issue.rule): issue.state for issue in compared.issues}
    words = {"gone": "mended", "mended": "mended", "as of": "not seen again", "this year": "still there"}
    for row in expected():
        key = row["subject"], row["what"]
        if key not in states:  # a finding and a rule of one cause are one issue, under the finding
            assert row["what"] in ("working-space-storage", "bad-circuit-directory", "touch-test-alerted"), (
                row
            )
            continue
        wanted = "new" if row["why"] == "new" else words[row["told"]]
        assert states[key] == wanted, row
    changed = {(change.tag, change.field, change.was, change.is_) for change in compared.equipment}
    assert changed == {
        ("DP-1", "Depth", "38", "44"),
        ("T-1", "Items in working space", "Storage", "None"),
        ("RP-4", "Depth", "4", "48"),
        ("RP-3", "Circuit directory", "Missing", "Present"),
    }


# ------------------------------------------------------------------ nothing passes as this year's

ANSWERS = ("", "", "Still so", "Changed", "Not seen", "n/v", "perhaps", "Still there", "Mended")
SEEN = {"clearances": {"Still so", "Changed"}, "findings": {"Still so", "Still there", "Mended"}}
"""Answers by which a row is this year's; of a finding "Still so" says that it is still there."""


def carried(seed: int) -> tuple[Typed, set[str]]:
    """Return the bakery with words of its own in each row, and those of the rows that nobody has seen again."""
    dice, notes, unseen = random.Random(seed), read_notes(BAKERY), set[str]()
    for key, own in (("clearances", ("depth", "remarks")), ("findings", ("seen",))):
        for number, row in enumerate(notes.tables[key]):
            row |= {"last_seen": DAY, "this_year": dice.choice(ANSWERS)}
            row |= {field: f"Xq{field}{number}z was there" for field in own if field != "depth"}
            if "depth" in own:
                row["depth"] = f"{23 + number}.0{number % 8 + 1}"
            if row["this_year"] not in SEEN[key]:
                unseen |= {row[field].partition(" ")[0] for field in own}
    return notes, unseen


def printed(schedule: ClientSchedule) -> Iterator[str]:
    """Yield what is printed together: the lines, cards and cells of a schedule."""
    for field in fields(schedule):
        value = getattr(schedule, field.name)
        for part in value if isinstance(value, tuple) else (value,):
            yield repr(part)


@sampled_property(max_examples=60)
@given(st.integers(0, 10_000))
def test_no_carried_measurement_is_printed_without_its_day_unless_somebody_has_seen_it_again(
    seed: int,
) -> None:
    notes, unseen = carried(seed)
    checked = check_survey(survey_of(notes))
    confirm, told = (
        [problem for problem in checked.problems if problem.class_ in classes]
        for classes in (("confirm",), ("report", "confirm", "note"))
    )
    # As it is without a review, every question open; and where the reviewer tells the client all there is.
    quiet, loud = build_schedule(checked, questions=confirm), build_schedule(checked, conditions=told)
    lines = [line for schedule in (quiet, loud) for line in printed(schedule)]
    carrying = [(words, line) for words in unseen for line in lines if words in line]
    assert bool(carrying) == bool(unseen)
    for words, line in carrying:
        assert AS_OF.casefold() in line.casefold(), words


def test_a_measurement_without_its_day_would_be_noticed() -> None:
    notes = read_notes(BAKERY)
    row = notes.tables["clearances"][2]
    row |= {"depth": "23.07", "last_seen": DAY, "this_year": "Still so"}
    schedule = build_schedule(check_survey(survey_of(notes)))
    assert [line for line in printed(schedule) if "23.07" in line and AS_OF.casefold() not in line.casefold()]


# ------------------------------------------------------------------ and the year after


def test_a_third_year_keeps_the_day_on_which_each_row_was_last_seen(years: Years) -> None:
    filling = read_fill(years.second, load_template("office"))
    days = {row["tag"]: row["last_seen"] for row in filling.tables["clearances"]}
    seen = {
        "SD-1",
        "MSB",
        "DP-1",
        "MCC-1",
        "T-1",
        "T-2",
        "T-3",
        "OV-1",
        "GEN-1",
        "ATS-1",
        "EP-1",
        "EVC-1",
        "RP-4",
    }
    assert {tag for tag, day in days.items() if day == "2027-09-14"} == seen
    assert {day for tag, day in days.items() if tag not in seen} == {DAY}
    findings = {(row["subject"], row["finding"]): row["last_seen"] for row in filling.tables["findings"]}
    assert findings == {
        ("DP-1", "Cover screws missing"): "2027-09-14",
        ("EP-1", "Open knockout"): DAY,
        ("RP-3", "Flexible wiring method exposed"): DAY,
        ("RP-2", "Circuit directory outdated"): "2027-09-14",
        ("Roof stair landing", "Working-space lighting out"): DAY,
        ("RP-3", "Corroded enclosure"): "2027-09-14",
        ("Packing hall", "Extension lead used as fixed wiring"): DAY,
        ("HP-1", "Open knockout"): "2027-09-14",
    }
    assert not any("this_year" in row for rows in filling.tables.values() for row in rows)
    mended = next(sheet.rows for sheet in filling.extra_sheets if sheet.name == "Mended by 2027-09-14")
    assert [row[:2] for row in mended] == [
        ("Subject", "Finding"), ("T-1", "Storage on transformer"), ("MCC-1", "Wrong cover screw"), ("RP-3", "Circuit directory missing"),
    ]  # fmt: skip
    assert filling.report is not None
    assert any(
        "what was mended by 2027-09-14 is carried over no more" in line for line in filling.report.lines
    )


def test_the_data_of_the_second_delivery_gives_the_same(years: Years) -> None:
    by_data, by_workbook = (
        read_fill(source, load_template("office"))
        for source in (years.delivered.folder / "data", years.second)
    )
    for key in ("clearances", "findings"):
        assert [(row.get("tag"), row.get("subject"), row["last_seen"]) for row in by_data.tables[key]] == [
            (row.get("tag"), row.get("subject"), row["last_seen"]) for row in by_workbook.tables[key]
        ]


def test_the_reviewer_reads_the_day_and_nothing_of_what_was_mended(checked: Checked) -> None:
    listed = desk(checked)
    dated = {(p.subject, p.rule) for p in listed if p.message.startswith(AS_OF)}
    assert {("RP-1", "working-width-short"), ("RP-2", "door-swing-limited"), ("EP-1", BY_INSPECTOR)} <= dated
    assert not {subject for subject, _ in dated} & {"MCC-1", "ATS-1", "DP-1"}
    assert {p.subject for p in listed if is_finding(p)} == {
        "DP-1", "EP-1", "RP-3", "RP-2", "Roof stair landing", "Packing hall", "HP-1",
    }  # fmt: skip

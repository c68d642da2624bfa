"""Parts of one survey put together: whatever the cut, the whole says what one inspector's survey says."""

import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from tests.sampling import sampled_property
from tests.schedule.notes import BAKERY, read_notes
from workbook_tools import demonstration
from workbook_tools.checking import check_survey
from workbook_tools.cli import main
from workbook_tools.combining import combine_parts
from workbook_tools.commands import check, combine, new
from workbook_tools.definitions import load_template
from workbook_tools.errors import Unusable
from workbook_tools.survey import read_survey, survey_of_texts

OFFICE = load_template("office")


def _demonstration():
    with demonstration.notes() as folder, demonstration.mended(folder) as notes:
        return read_notes(notes)


BUILDINGS = (read_notes(BAKERY), _demonstration())
NAMES = {"rooms": "room", "equipment": "tag", "transformers": "tag", "clearances": "tag"}


def survey_of(tables, job, name="part.xlsx"):
    return survey_of_texts(OFFICE, tables, job, first_row=3, source=name)


def problems(survey):
    """Return what a check finds, but for places and the order of names, which depend on the order of the rows."""
    found = check_survey(survey)
    said = Counter(
        (p.rule, p.class_, p.priority, p.subject, p.field, "".join(sorted(p.read)), _words(p.message))
        for p in found.problems
    )
    return said, Counter((n.rule, n.subject, n.missing) for n in found.not_checked)


def _words(message):
    return tuple(
        sorted(re.findall(r"[\w-]+", re.sub(r"\w+![A-Z]+[0-9]+", "", message.partition("nearest")[0])))
    )


ALONE = [problems(survey_of(building.tables, building.job)) for building in BUILDINGS]


@st.composite
def cuts(draw):
    """Cut a building into two to four parts: each row in one or several, its answers divided among those that have it."""
    which = draw(st.integers(0, len(BUILDINGS) - 1))
    building = BUILDINGS[which]
    number = draw(st.integers(2, 4))
    parts = [{key: [] for key in building.tables} for _ in range(number)]
    for key, rows in building.tables.items():
        for row in rows:
            holders = draw(st.lists(st.integers(0, number - 1), min_size=1, max_size=number, unique=True))
            name = NAMES.get(key)
            for holder in holders:
                mine = dict(row)
                if name is not None and len(holders) > 1:
                    dropped = draw(st.sets(st.sampled_from(sorted(row)), max_size=4)) - {name}
                    once = sum(other.get(name) == row[name] for other in rows) == 1
                    if holder != holders[0] and once:
                        mine = {field: text for field, text in row.items() if field not in dropped}
                parts[holder][key].append(mine)
    surveys = [survey_of(tables, building.job, f"part {n}.xlsx") for n, tables in enumerate(parts)]
    return which, surveys


@sampled_property(max_examples=120)
@given(cuts())
def test_whatever_the_cut_the_check_finds_the_same(cut):
    which, surveys = cut
    whole = combine_parts(surveys)
    # The bakery has one tag twice: that is no cut of ours.
    assert {difference.subject for difference in whole.differences} <= {"HP-1"}
    assert problems(survey_of(whole.tables, whole.job)) == ALONE[which]


@sampled_property(max_examples=60)
@given(cuts(), st.randoms(use_true_random=False))
def test_the_order_of_the_parts_changes_nothing_but_the_order_of_the_rows(cut, dice):
    _, surveys = cut
    one = combine_parts(surveys)
    dice.shuffle(surveys)
    other = combine_parts(surveys)
    for key, rows in one.tables.items():
        assert Counter(len(row) for row in rows) == Counter(len(row) for row in other.tables[key])


def test_what_one_leaves_blank_the_other_fills_in_and_who_wrote_it_is_said():
    one = survey_of(
        {"equipment": [{"tag": "LP-1", "maker": "Ostrevik"}]}, {"property": "P", "inspector": "A (invented)"}
    )
    two = survey_of(
        {"equipment": [{"tag": "lp-1", "rating_a": "225"}]}, {"property": "P", "inspector": "B (invented)"}
    )
    whole = combine_parts([one, two])
    assert whole.tables["equipment"] == [
        {"tag": "LP-1", "maker": "Ostrevik", "rating_a": "225", "Written by": "A (invented), B (invented)"}
    ]
    assert whole.job["inspector"] == "A (invented), B (invented)"
    assert [(d.one, d.another, d.follows) for d in whole.differences] == [
        ("LP-1", "lp-1", "the same in other words")
    ] or not (whole.differences)


@pytest.mark.parametrize(
    ("key", "row", "other"),
    [
        ("equipment", {"tag": "LP-1", "rating_a": "225"}, {"tag": "LP-1", "rating_a": "400"}),
        ("transformers", {"tag": "T-1", "kva": "45"}, {"tag": "T-1", "kva": "75"}),
        ("clearances", {"tag": "LP-1", "depth": "36"}, {"tag": "LP-1", "depth": "48"}),
        ("rooms", {"room": "Closet", "access": "Entered"}, {"room": "Closet", "access": "Locked"}),
        ("findings", {"subject": "LP-1", "finding": "Open knockout"}, {"subject": "LP-1", "finding": "Open knockout", "seen": "top"}),
    ],
)  # fmt: skip
def test_two_answers_both_stand_and_the_check_asks(key, row, other):
    board = {"equipment": [{"tag": "LP-1", "kind": "Panelboard"}, {"tag": "T-1", "kind": "Transformer"}]}
    parts = []
    for mine in (row, other):
        tables = {name: list(rows) for name, rows in board.items()}
        tables[key] = [*(r for r in tables.get(key, ()) if r.get("tag") != mine.get("tag")), mine]
        parts.append(survey_of(tables, {"property": "P"}, f"{len(parts)}.xlsx"))
    whole = combine_parts(parts)
    stand = [{f: t for f, t in found.items() if f != "Written by"} for found in whole.tables[key]]
    assert row in stand
    assert other in stand
    asked = {p.rule for p in check_survey(survey_of(whole.tables, whole.job)).problems}
    assert asked & {
        "duplicate-tag",
        "transformer-details-twice",
        "duplicate-room",
        "finding-duplicated",
        "measured-differently",
    }, asked


def test_the_same_answer_in_other_words_is_one_row_and_both_texts_are_kept():
    parts = [
        survey_of({"equipment": [{"tag": "LP-1", "rating_a": text}]}, {"property": "P"}, f"{text}.xlsx")
        for text in ("225A", "225")
    ]
    whole = combine_parts(parts)
    assert len(whole.tables["equipment"]) == 1
    (difference,) = whole.differences
    assert (difference.one, difference.another, difference.follows) == (
        "225A",
        "225",
        "the same in other words",
    )
    assert any("225A" in row and "225" in row for row in whole.extra_sheets[0].rows)


def test_lengths_of_a_part_in_another_unit_keep_their_unit():
    inches = survey_of(
        {"clearances": [{"tag": "LP-1", "depth": "42"}]}, {"property": "P", "dimension_unit": "in"}
    )
    metric = survey_of(
        {"clearances": [{"tag": "LP-2", "depth": "1100", "width": "2 ft"}]},
        {"property": "P", "dimension_unit": "mm"},
    )
    rows = {row["tag"]: row for row in combine_parts([inches, metric]).tables["clearances"]}
    assert (rows["LP-1"]["depth"], rows["LP-2"]["depth"], rows["LP-2"]["width"]) == ("42", "1100 mm", "2 ft")


@pytest.mark.parametrize(
    ("one", "two", "says"),
    [
        (
            {"property": "North (invented)"},
            {"property": "South (invented)"},
            "the property is North .* and South",
        ),
        ({"property": "P", "report_no": "1"}, {"property": "P", "report_no": "2"}, "the report number is 1"),
        ({"property": "P"}, {}, "Nothing says that"),
    ],
)
def test_a_part_of_another_survey_is_refused(one, two, says):
    with pytest.raises(Unusable, match=says):
        combine_parts([survey_of({}, one, "a.xlsx"), survey_of({}, two, "b.xlsx")])


def test_the_number_of_the_survey_tells_it_from_every_other():
    one, two = (survey_of({}, {"property": "P"}, name) for name in ("a.xlsx", "b.xlsx"))
    with pytest.raises(Unusable, match="the survey number is AAAA-AAAA-AAAA in the first"):
        combine_parts([replace(one, number="AAAA-AAAA-AAAA"), replace(two, number="BBBB-BBBB-BBBB")])
    assert combine_parts([one, replace(two, number="BBBB-BBBB-BBBB")]).number == "BBBB-BBBB-BBBB"


@pytest.fixture(scope="module")
def parts(tmp_path_factory):
    """One workbook, copied and filled in by two people, with notes beside and over the cells."""
    from openpyxl.comments import Comment

    folder = tmp_path_factory.mktemp("parts")
    made = new(folder / "blank.xlsx", job={"Property": "North House (invented)"}, rows=5)
    for name, tag in (("a", "LP-1"), ("b", "LP-2")):
        workbook = load_workbook(made.path)
        workbook["Equipment"]["A3"] = tag
        workbook["Equipment"]["C3"] = "Panelboard"
        workbook["Equipment"]["A3"].comment = Comment(f"ask about {tag}", name)
        workbook.create_sheet(f"Scraps of {name}")["B2"] = f"{tag} hums"
        workbook.save(folder / f"{name}.xlsx")
    return folder


def test_everything_typed_in_the_files_stands_in_the_whole(parts, tmp_path, capsys):
    whole = tmp_path / "whole.xlsx"
    assert main(["combine", str(parts / "a.xlsx"), str(parts / "b.xlsx"), "-o", str(whole)]) == 0
    said = capsys.readouterr().out
    assert "a.xlsx: 1 rows, as the part of a.xlsx." in said
    survey = read_survey(whole)
    assert [row.called for row in survey.equipment] == ["LP-1", "LP-2"]
    assert [row.extra["Written by"].typed for row in survey.equipment] == ["a.xlsx", "b.xlsx"]
    assert [row.extra["Notes on cells"].typed for row in survey.equipment] == [
        "Tag: ask about LP-1",
        "Tag: ask about LP-2",
    ]
    everything = " ".join(
        str(c.value) for sheet in load_workbook(whole) for row in sheet for c in row if c.value
    )
    assert "LP-1 hums" in everything
    assert "LP-2 hums" in everything
    assert survey.number == read_survey(parts / "a.xlsx").number != ""
    # What the tool says about it is nothing that somebody typed, and the check reads it without a word about it.
    assert not any(value.sheet == "How this was combined" for value in survey.typed_elsewhere())
    assert not any("Written by" in problem.message for problem in check(whole).problems)


def test_a_whole_can_be_combined_again_and_stays_what_it_is(parts, tmp_path):
    first = combine([parts / "a.xlsx", parts / "b.xlsx"], tmp_path / "first.xlsx").path
    again = combine([first, parts / "a.xlsx"], tmp_path / "again.xlsx").path
    one, two = read_survey(first), read_survey(again)
    assert [row.called for row in one.equipment] == [row.called for row in two.equipment]
    assert [row.extra["Notes on cells"].typed for row in two.equipment][1] == "Tag: ask about LP-2"


@pytest.mark.parametrize(
    ("names", "output", "sentence"),
    [
        (["a.xlsx"], "whole.xlsx", "name two or more parts"),
        (["a.xlsx", "b.xlsx"], "a.xlsx", "is one of the parts"),
        (["a.xlsx", "b.xlsx"], "whole.csv", "name it whole.xlsx"),
        (["a.xlsx", "gone.xlsx"], "whole.xlsx", "gone.xlsx was not found"),
    ],
)
def test_a_wrong_call_ends_in_one_sentence(parts, capsys, names, output, sentence):
    assert (
        main(["combine", *(str(parts / name) for name in names), "-o", str(parts / output), "--force"]) == 2
    )
    assert sentence in capsys.readouterr().err

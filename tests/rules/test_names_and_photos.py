"""Names that must mean one thing of the survey, and photos that must be in the folder."""

import re

import pytest

from tests.rules.asking import (
    DP1,
    Row,
    cells_of,
    messages_of,
    missing,
    not_checked_of,
    problems_of,
)
from workbook_tools.rules import catalogue
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import assessment_of
from workbook_tools.spreadsheet.cells import Picture

# -- names


def test_every_further_row_of_a_tag_points_to_the_first():
    typed = as_typed(equipment=[{"tag": "A"}, {"tag": ""}, {"tag": "a "}, {"tag": ""}, {"tag": "A"}])
    assert messages_of("duplicate-tag", typed) == [
        f"{tag} is also the tag of another row, at Equipment!A5." for tag in ("a", "A")
    ]
    assert cells_of("duplicate-tag", typed) == ["Equipment!A7", "Equipment!A9"]


@pytest.mark.parametrize(
    ("table", "cells", "unknown"),
    [
        ("findings", {"subject": "DP-1"}, []),
        ("findings", {"subject": "main"}, []),
        ("findings", {"subject": "DP-1; RP-1"}, []),
        ("findings", {"subject": "DP-1; X-9, Main"}, ["X-9"]),
        ("findings", {"subject": ""}, []),
        ("photos", {"file": "a.jpg", "subject": "Main"}, []),
        ("clearances", {"tag": "Main"}, ["Main"]),
        ("clearances", {"tag": "dp -1"}, []),
        ("transformers", {"tag": "RP-1", "serves": "DP-1; X-9; Y-9"}, ["X-9", "Y-9"]),
        ("transformers", {"tag": "N/V"}, []),
    ],
)
def test_a_name_is_a_tag_or_where_it_may_be_a_room(table: str, cells: Row, unknown: list[str]):
    typed = as_typed(
        rooms=[{"room": "Main"}], equipment=[{"tag": "DP-1"}, {"tag": "RP-1"}], **{table: [cells]}
    )
    found = [
        re.search(r"(?:reads|names) (.+), which is no ", text) for text in messages_of("unknown-tag", typed)
    ]
    assert [one and one[1] for one in found] == unknown


def test_a_name_that_lacks_its_row_is_one_slip_wherever_it_stands():
    tag = {"tag": "LP1"}
    typed = as_typed(
        equipment=[{"tag": "LP-1"}],
        transformers=[tag],
        clearances=[tag, tag],
        findings=[{"subject": "lp 1", "finding": "Open knockout"}],
    )
    assert messages_of("unknown-tag", typed) == [
        "Tag reads LP1, which is no tag of this survey; so do Clearances!A5, Clearances!A6 and Findings!A5. The nearest is LP-1."
    ]


@pytest.mark.parametrize(
    ("count", "also"),
    [(1, ""), (2, "; so does Equipment!D6"), (3, "; so do Equipment!D6 and Equipment!D7")],
)
def test_a_room_that_is_not_listed_is_one_slip_whatever_stands_in_it(count: int, also: str):
    equipment = [{"tag": f"DP-{n}", "room": ("Boiler rm", "boiler RM")[n % 2]} for n in range(count)]
    typed = as_typed(rooms=[{"room": "Boiler room"}], equipment=equipment)
    assert messages_of("unknown-room", typed) == [
        f"Room reads Boiler rm, which is not in Rooms{also}. The nearest is Boiler room."
    ]


def test_of_many_places_the_first_are_named_and_the_rest_are_counted():
    equipment = [{"tag": f"DP-{n}", "room": "Boiler rm"} for n in range(30)]
    (said,) = messages_of("unknown-room", as_typed(rooms=[{"room": "Boiler room"}], equipment=equipment))
    assert "Equipment!D6, Equipment!D7" in said
    assert "and 21 more. The nearest" in said


def test_where_only_a_tag_may_stand_no_room_is_offered():
    typed = as_typed(
        rooms=[{"room": "Boiler room"}], equipment=[{"tag": "DP-1"}], clearances=[{"tag": "Boiler rooms"}]
    )
    assert messages_of("unknown-tag", typed) == ["Tag reads Boiler rooms, which is no tag of this survey."]


@pytest.mark.parametrize(
    ("room", "problem"), [("Main", False), ("MAIN", False), ("Mian", True), ("", False), ("N/A", False)]
)
def test_a_room_of_equipment_stands_in_rooms(room: str, problem: bool):
    typed = as_typed(rooms=[{"room": "Main"}], equipment=[{"tag": "A", "room": room}])
    assert bool(messages_of("unknown-room", typed)) == problem


@pytest.mark.parametrize(
    ("kind", "plates", "problem"),
    [
        ("Transformer", [], True),
        ("Transformer", ["T-1"], False),
        ("Transformer", ["t-1"], False),
        ("Transformer", ["T-11"], False),
        ("Transformer", ["Q-9"], True),
        ("Panelboard", [], False),
        ("", [], False),
    ],
)
def test_a_transformer_wants_its_plate(kind: str, plates: list[str], problem: bool):
    typed = as_typed(equipment=[{"tag": "T-1", "kind": kind}], transformers=[{"tag": tag} for tag in plates])
    assert bool(messages_of("no-transformer-details", typed)) == problem
    nameless = as_typed(equipment=[{"kind": "Transformer"}])
    assert messages_of("no-transformer-details", nameless) == []


@pytest.mark.parametrize(
    ("kinds", "problem"),
    [(["Panelboard"], True), (["Transformer"], False), ([""], False), (["Panelboard", "Transformer"], False), (["Panelboard", ""], False), ([], False)],
)  # fmt: skip
def test_a_plate_belongs_to_a_transformer(kinds: list[str], problem: bool):
    typed = as_typed(
        equipment=[{"tag": "T-1", "kind": kind} for kind in kinds], transformers=[{"tag": "T-1"}]
    )
    assert bool(messages_of("not-a-transformer", typed)) == problem


@pytest.mark.parametrize(
    ("cells", "rooms", "tags", "problem", "asked"),
    [
        ({}, "Entered", [], True, []),
        ({}, "Entered", ["DP-1"], False, []),
        ({}, "Entered", ["dp -1"], False, []),
        ({}, "Entered", ["DP-11"], False, []),
        ({}, "Entered", ["Q-9"], True, []),
        ({}, "Locked", [], False, []),
        ({}, "", [], False, ["Access of Main"]),
        ({}, "N/V", [], False, ["Access of Main"]),
        ({"room": ""}, "Entered", [], False, ["Room"]),
        ({"room": "Elsewhere"}, "Entered", [], False, ["Room"]),
        ({"tag": ""}, "Entered", [], False, []),
        ({"kind": ""}, "Entered", [], False, []),
        ({"kind": "Transformer"}, "Entered", [], False, []),
        ({"kind": "Generator"}, "Entered", [], True, []),
        ({"kind": "Busway"}, "Entered", [], False, []),
        ({"kind": "Lift controller"}, "Entered", [], False, []),
        ({"kind": "Disconnect switch"}, "Entered", [], True, []),
    ],
)
def test_what_needs_working_space_wants_it_measured(
    cells: Row, rooms: str, tags: list[str], problem: bool, asked: list[str]
):
    typed = as_typed(
        rooms=[{"room": "Main", "access": rooms}],
        equipment=[{**DP1, "room": "Main", **cells}],
        clearances=[{"tag": tag} for tag in tags],
    )
    assert bool(messages_of("no-clearance-record", typed)) == problem
    assert missing("no-clearance-record", typed) == asked


def test_a_tag_on_two_rows_misses_its_clearance_once():
    rows = [{**DP1, "room": "Main"}] * 2
    typed = as_typed(rooms=[{"room": "Main", "access": "Entered"}], equipment=rows)
    assert cells_of("no-clearance-record", typed) == ["Equipment!A5"]


# -- photos


def test_without_a_photo_folder_that_is_said_once():
    rows = [{"subject": "A", "photos": "a.jpg; b.jpg"}, {"subject": "B", "photos": "c.jpg"}]
    (found,) = not_checked_of("photo-missing", as_typed(findings=rows))
    assert (found.subject, found.sheet, found.cell, found.missing) == ("", "Findings", "F5", "a photo folder")
    assert not_checked_of("photo-missing", as_typed(findings=[{"subject": "A"}])) == []
    assert problems_of("photo-unused", as_typed(findings=rows)) == []


def test_each_name_and_each_file_is_looked_up():
    rows = [{"subject": "A", "photos": "a.jpg; b.jpg; c.jpg"}]
    typed = as_typed(findings=rows, photo_folder=["A.JPG", "z.jpg", "y.jpg"])
    assert [problem.read for problem in problems_of("photo-missing", typed)] == ["b.jpg", "c.jpg"]
    assert [problem.subject for problem in problems_of("photo-unused", typed)] == ["z.jpg", "y.jpg"]


def test_an_unused_photo_comes_after_everything_on_a_sheet():
    (problem,) = problems_of("photo-unused", as_typed(photo_folder=["z.jpg"]))
    assert (problem.sheet, problem.cell, problem.field, problem.read, problem.priority) == (
        "Photos",
        "",
        "File",
        "z.jpg",
        "",
    )
    assert problem.order > (len(assessment_of(as_typed()).survey.template.sheets), 0, 0)


@pytest.mark.parametrize(
    ("rule", "table", "cells"),
    [("finding-without-photo", "findings", {"subject": "A", "finding": "Open knockout"}), ("nameplate-photo-missing", "transformers", {"tag": "T-1"})],
)  # fmt: skip
def test_a_picture_pasted_on_the_row_is_a_photo(rule: str, table: str, cells: Row):
    assessment = assessment_of(as_typed(**{table: [cells]}))
    assert list(catalogue()[rule].check(assessment)) != []
    pasted = assessment_of(as_typed(**{table: [cells]}))
    (row,) = pasted.survey.tables[table]
    pasted.survey.pictures.append(Picture(sheet=row.sheet, row=row.number, column=1, part="", floating=True))
    assert list(catalogue()[rule].check(pasted)) == []

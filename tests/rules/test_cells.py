"""What stands in a cell: blank, unreadable, out of range, in a doubtful unit; and columns that a file lacks."""

import pytest

from tests.rules.asking import (
    DP1,
    Row,
    messages_of,
    problems_of,
)
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import Problem
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import assessment_of
from workbook_tools.survey import Outcome, Value
from workbook_tools.survey.model import HeadingTaken


def fields_of(rule: str, typed: Typed) -> list[str]:
    return [problem.field for problem in problems_of(rule, typed)]


# -- required cells

FULL = {**DP1, "room": "Main", "fed_from": "Utility", "rating_a": "400", "maker": "Marlowe"}


@pytest.mark.parametrize(
    ("cells", "blank"),
    [
        ({}, []),
        ({"maker": ""}, ["Maker"]),
        ({"maker": "N/V"}, []),
        ({"maker": "N/A"}, []),
        ({"rating_a": "illegible"}, []),
        ({"main_device": "", "remarks": ""}, []),
        ({"phase": "", "wires": ""}, []),
        ({"voltage": "480", "phase": "", "wires": ""}, ["Phase", "Wires"]),
        ({"voltage": "480 3ph", "phase": "", "wires": ""}, []),
        ({"voltage": "480 3W", "phase": "", "wires": ""}, ["Phase"]),
        ({"voltage": "", "phase": "", "wires": ""}, ["Voltage", "Phase", "Wires"]),
        ({"kind": "Service disconnect"}, ["Hand motions"]),
        ({"kind": "Service disconnect", "hand_motions": "1"}, []),
    ],
)  # fmt: skip
def test_a_required_cell_is_answered_or_follows_from_another(cells: Row, blank: list[str]):
    assert fields_of("missing-value", as_typed(equipment=[{**FULL, **cells}])) == blank


def with_headings(typed: Typed, *headings: HeadingTaken) -> list[Problem]:
    assessment = assessment_of(typed)
    assessment.survey.headings[:] = headings
    found = catalogue()["missing-value"].check(assessment)
    return [problem for problem in found if isinstance(problem, Problem)]


def headings_of_rooms(**spelled: str | None) -> list[HeadingTaken]:
    """Return the headings of a sheet of rooms, under its fields; None for one that it lacks."""
    names = {"room": "Room", "level": "Level", "access": "Access", "lighting": "Lighting", **spelled}
    there = [(field, heading) for field, heading in names.items() if heading is not None]
    known = assessment_of(as_typed()).survey.template.by_key["rooms"].by_field
    return [
        HeadingTaken(
            "Spaces", f"{'ABCDEFGH'[place]}4", heading, "rooms", field if field in known else None, True
        )
        for place, (field, heading) in enumerate(there)
    ]


def test_a_required_column_that_the_file_lacks_is_said_once_with_the_nearest():
    typed = as_typed(rooms=[{"room": "A"}, {"room": "B"}])
    (problem,) = with_headings(typed, *headings_of_rooms(access=None, other="Acces?", more="Key"))
    assert problem.message == (
        "The sheet Spaces has no column Access; it has Room, Level, Lighting, Acces?, Key. "
        "The nearest is Acces?, at D4."
    )
    assert (problem.place, problem.subject, problem.field) == ("Spaces!D4", "Spaces", "Access")
    assert (problem.read, problem.expected) == ("Room, Level, Lighting, Acces?, Key", "a column Access")
    assert (
        problem.action == "Name the column Access, or add it and fill it in (N/V where it could not be seen)."
    )
    assert (problem.class_, problem.priority, problem.order[1:]) == ("correct", "", (4, 4))


def test_a_lacking_column_without_a_near_one_is_said_at_the_first_heading():
    (problem,) = with_headings(as_typed(rooms=[{"room": "A"}]), *headings_of_rooms(access=None))
    assert problem.message == "The sheet Spaces has no column Access; it has Room, Level, Lighting."
    assert problem.place == "Spaces!A4"
    # A heading that was taken for another field is not offered for this one.
    (problem,) = with_headings(
        as_typed(rooms=[{"room": "A"}]), *headings_of_rooms(access=None, level="Accesses")
    )
    assert "The nearest" not in problem.message


def test_a_lacking_column_matters_where_it_is_required_and_rows_are_there():
    assert (
        with_headings(as_typed(rooms=[{"room": "A", "access": "Entered"}]), *headings_of_rooms(lighting=None))
        == []
    )
    assert with_headings(as_typed(equipment=[FULL]), *headings_of_rooms(access=None)) == []


# -- texts that cannot be read


def test_damage_that_reading_met_is_said_where_it_was_met():
    assessment = assessment_of(as_typed(rooms=[{"room": "A", "access": "Entered"}]))
    survey = assessment.survey
    survey.headings.append(HeadingTaken("Spaces", "A4", "Room", "rooms", "room", True))
    survey.damage.extend(
        [
            Value(Outcome.UNREADABLE, "<c>", None, "Spaces", "C9", "the cell is cut off."),
            Value(Outcome.UNREADABLE, "<d>", None, "Other", "B2"),
        ]
    )
    found = [one for one in catalogue()["unreadable-value"].check(assessment) if isinstance(one, Problem)]
    assert [(p.place, p.subject, p.read, p.message) for p in found] == [
        ("Spaces!C9", "Spaces", "<c>", "The cell is cut off."),
        ("Other!B2", "Other", "<d>", "'<d>' cannot be read."),
    ]
    positions = [sheet.position for sheet in survey.template.sheets]
    assert found[0].order == (survey.template.by_key["rooms"].position, 9, 3)
    # What stands on no sheet of the template comes after all of them.
    assert found[1].order[0] > max(positions)
    assert {(p.class_, p.priority, p.field, p.expected) for p in found} == {
        ("correct", "", "", "a value that can be read")
    }


@pytest.mark.parametrize(("kind", "rule"), [("Panelbord", "unknown-choice"), ("#REF!", "unreadable-value")])
def test_an_unknown_choice_is_not_also_unreadable(kind: str, rule: str):
    typed = as_typed(equipment=[{"tag": "A", "kind": kind}])
    assert [one for one in ("unknown-choice", "unreadable-value") if messages_of(one, typed)] == [rule]


@pytest.mark.parametrize(
    ("table", "field", "text", "problem"),
    [
        ("equipment", "rating_a", "6000", False),
        ("equipment", "rating_a", "6001", True),
        ("equipment", "rating_a", "10", False),
        ("equipment", "rating_a", "9", True),
        ("clearances", "depth", "30 ft", False),
        ("clearances", "depth", "31 ft", True),
        ("clearances", "depth", "12 in", False),
        ("clearances", "depth", "11 in", True),
        ("clearances", "depth", "914", False),
        ("rooms", "entrances", "1", False),
        ("rooms", "entrances", "0", True),
        ("rooms", "entrances", "20", False),
        ("rooms", "entrances", "21", True),
        ("transformers", "year_made", "2026", False),
        ("transformers", "year_made", "2027", True),
        ("transformers", "year_made", "1500", True),
        ("transformers", "impedance_percent", "1", False),
        ("transformers", "impedance_percent", "10", False),
        ("transformers", "impedance_percent", "10.1", True),
        ("transformers", "impedance_percent", "0.9", True),
    ],
)
def test_the_ends_of_the_range_are_in_it(table: str, field: str, text: str, problem: bool):
    typed = as_typed(
        job={"inspection_date": "2026-09-16"},
        **{table: [{"tag": "A", field: text}] if table != "rooms" else [{"room": "A", field: text}]},
    )
    assert bool(messages_of("implausible-value", typed)) == problem


@pytest.mark.parametrize(("year", "problem"), [("1998", False), ("2027", True), ("1500", True)])
def test_the_job_has_plausible_years_too(year: str, problem: bool):
    typed = as_typed(job={"inspection_date": "2026-09-16", "year_built": year})
    assert bool(messages_of("implausible-value", typed)) == problem


def test_without_a_date_of_the_visit_no_year_is_after_it():
    assert messages_of("implausible-value", as_typed(transformers=[{"tag": "A", "year_made": "2027"}])) == []


@pytest.mark.parametrize(
    ("cells", "problem"),
    [({"depth": "5 in", "opposite_side": "Grounded"}, False), ({"depth": "5 in"}, False), ({"width": "5 in", "equipment_width": "20"}, False),
     ({"height": "5 in"}, False), ({"equipment_width": "1 in"}, True), ({"depth": "40 ft", "opposite_side": "Grounded"}, True)],
)  # fmt: skip
def test_what_a_clearance_rule_reports_as_short_is_not_also_implausible(cells: Row, problem: bool):
    typed = as_typed(equipment=[DP1], clearances=[{"tag": "DP-1", **cells}])
    assert bool(messages_of("implausible-value", typed)) == problem


@pytest.mark.parametrize(
    ("unit", "text", "says"),
    [
        ("in", "914", "in inches that is 76 ft 2 in, as 914 mm it would be 36.0 in"),
        ("in", "1200", "in inches that is 100 ft, as 1200 mm it would be 47.2 in"),
        ("in", "4", "in inches that is only 4 in, as 4 ft it would be 48.0 in"),
        ("mm", "36", "in millimetres that is 1.4 in, 36 in would make sense"),
        ("mm", "4", "in millimetres that is 0.2 in, as 4 m it would be 157.5 in"),
        ("ft", "914", "in feet that is 914 ft, as 914 mm it would be 36.0 in"),
        ("m", "42", "in metres that is 137 ft 10 in, 42 in would make sense"),
        ("cm", "24", "in centimetres that is 9.4 in, 24 in would make sense"),
        ("ft", "0.9", "in feet that is 10.8 in, as 0.9 m it would be 35.4 in"),
        ("m", "420", "in metres that is 1377 ft 11 in, as 420 cm it would be 165.4 in"),
    ],
)
def test_a_doubtful_length_is_said_in_both_units(unit: str, text: str, says: str):
    typed = as_typed(job={"dimension_unit": unit}, clearances=[{"tag": "A", "depth": text}])
    (said,) = messages_of("unit-suspect", typed)
    assert said == f"Depth reads {text}; {says}. It is compared with nothing until the unit is settled."

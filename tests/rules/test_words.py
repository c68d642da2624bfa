"""How messages cite a section and say a length, and how a problem is written down and read back."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.rules.asking import DP1, messages_of, problems_of
from workbook_tools.assessment import Assessment
from workbook_tools.definitions import RuleSetting, load_template
from workbook_tools.rules import catalogue
from workbook_tools.rules.in_words import edition, either, items_in_words, section
from workbook_tools.rules.plain_english import in_words, inside, listed, plural, sentence
from workbook_tools.rules.problems import RECORD, Problem
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import assessment_of, survey_of


def under(profile: str) -> Assessment:
    return assessment_of(as_typed(job={"code_profile": profile}))


@pytest.mark.parametrize(
    ("profile", "cited", "said"),
    [
        ("nec-2023", "230.71", "NFPA 70-2023 230.71"),
        ("nec-2023", "110.26(A)(1), Table 110.26(A)(1)", "NFPA 70-2023 110.26(A)(1)"),
        ("nec-2014", "230.71", "NFPA 70-2014 230.71"),
        ("osha-1910", "1910.303(g)(1)(i), Table S-1", "29 CFR 1910.303(g)(1)(i)"),
        ("osha-1910", "NFPA 70 230.71", "NFPA 70 230.71"),
    ],
)
def test_a_section_is_cited_with_its_code_and_edition(profile: str, cited: str, said: str):
    assert section(under(profile), cited) == said


@pytest.mark.parametrize(
    ("basis", "said"),
    [
        ("printed", "NFPA 70-2023 110.26(A)(1)"),
        ("equipment's own width", "NFPA 70-2023 110.26(A)(1)"),
        ("City amendment 12", "NFPA 70-2023 110.26(A)(1), City amendment 12"),
    ],
)
def test_an_amendment_is_cited_beside_the_section(basis: str, said: str):
    assert section(under("nec-2023"), "110.26(A)(1)", basis) == said


@pytest.mark.parametrize(
    ("profile", "said"),
    [("nec-2023", "NFPA 70-2023"), ("nec-2017", "NFPA 70-2017"), ("osha-1910", "NFPA 70")],
)
def test_what_stands_in_no_other_code_is_cited_from_nfpa_70(profile: str, said: str):
    assert edition(under(profile)) == said


@pytest.mark.parametrize(
    ("names", "said"),
    [([], ""), (["A"], "A"), (["A", "B"], "A or B"), (["A", "B", "C"], "A, B or C")],
)
def test_names_are_listed_as_one_would_say_them(names: list[str], said: str):
    assert either(names) == said
    assert listed(names) == said.replace(" or ", " and ")


@pytest.mark.parametrize(
    ("items", "leave", "said"),
    [
        (["Pipe"], (), "pipe"),
        (["HVAC duct", "Storage"], (), "HVAC duct and storage"),
        (["Pipe", "None", "Sprinkler only"], ("None", "Sprinkler only"), "pipe"),
        (["None"], ("None",), ""),
        (["EMT"], (), "EMT"),
    ],
)
def test_items_read_inside_a_sentence(items: list[str], leave: tuple[str, ...], said: str):
    assert items_in_words(items, leave) == said


@pytest.mark.parametrize(
    ("number", "said"), [(0, "no"), (1, "one"), (6, "six"), (12, "twelve"), (13, "13"), (-1, "-1")]
)
def test_small_numbers_are_words(number: int, said: str):
    assert in_words(number) == said


def test_one_and_several():
    assert (plural(0, "photo"), plural(1, "photo"), plural(2, "photo")) == (
        "no photos",
        "one photo",
        "two photos",
    )
    assert (plural(1, "box", "boxes"), plural(20, "box", "boxes")) == ("one box", "20 boxes")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("", ""), ("   ", ""), ("hot", "Hot."), ("hot.", "Hot."), ("hot!", "Hot!"), ("hot?", "Hot?"), ("hot…", "Hot…"),
        ("hot;", "Hot."), ("hot , ", "Hot."), ("hot:", "Hot."), ("(see photo.)", "(see photo.)"), ("called “hot.”", "Called “hot.”"),
        ('called "hot."', 'Called "hot."'), ("two\n  lines", "Two lines."), ("open box", "Open box."), (";", ""),
    ],
)  # fmt: skip
def test_what_was_typed_becomes_a_sentence(typed: str, said: str):
    assert sentence(typed) == said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("Two screws gone.", "two screws gone"), ("A screw is gone", "a screw is gone"), ("I saw a screw", "I saw a screw"),
        ("EMT loose;", "EMT loose"), ("MCC-1 hot", "MCC-1 hot"), ("Panel-board hot", "Panel-board hot"), ("Hot, dusty", "hot, dusty"),
        ("Hot", "hot"), ("Open box.", "open box"), ("Open box ;", "open box"), ("A lamp, a fax", "a lamp, a fax"), ("3 screws", "3 screws"), ("", ""), ("McKay's door", "McKay's door"), ("Tarnwell door", "Tarnwell door"),
    ],
)  # fmt: skip
def test_what_was_typed_reads_inside_a_sentence(typed: str, said: str):
    assert inside(typed, {"tarnwell"}) == said


# -- lengths


@pytest.mark.parametrize(
    ("unit", "typed", "said"),
    [
        ("in", "38", "38 in"),
        ("in", "38 in", "38 in"),
        ("in", "3 ft", "3 ft"),
        ("in", "0.9 m", "0.9 m (35.4 in)"),
        ("mm", "900", "900 mm (35.4 in)"),
        ("mm", " 35 in ", "35 in"),
    ],
)
def test_a_length_is_said_as_typed_with_the_unit_that_was_understood(unit: str, typed: str, said: str):
    survey = as_typed(
        job={"dimension_unit": unit},
        equipment=[DP1],
        clearances=[{"tag": "DP-1", "opposite_side": "Live parts", "depth": typed}],
    )
    (found,) = messages_of("working-depth-short", survey)
    assert found.startswith(f"Depth reads {said}; ")


# -- the record


def test_a_problem_is_read_back_as_it_was_written_down():
    (problem,) = problems_of("touch-test-alerted", catalogue()["touch-test-alerted"].fires)
    written = {name: getattr(problem, name) for name in RECORD}
    assert Problem.from_record(written) == replace(problem, order=(0, 0, 0))
    assert list(problem.as_json()) == [
        "rule", "class", "priority", "sheet", "cell", "subject", "field", "read", "expected", "message", "action", "source",
    ]  # fmt: skip
    assert problem.as_json()["class"] == "report"
    assert problem.place == "Equipment!O5"


def test_what_is_missing_in_a_record_is_empty():
    problem = Problem.from_record({"rule": "supply-loop", "sheet": "Equipment", "other": "x"})
    assert (problem.rule, problem.place, problem.message, problem.row) == (
        "supply-loop",
        "Equipment",
        "",
        None,
    )


# -- examples, and rules that a template switches off


def test_a_misspelled_example_is_refused():
    with pytest.raises(ValueError, match=r"^Equipment has no field colour, tga$"):
        survey_of(as_typed(equipment=[{"tga": "DP-1", "colour": "grey", "kind": "Panelboard"}]))


def test_an_example_without_a_photo_folder_has_none():
    assert assessment_of(as_typed()).photos is None
    photos = assessment_of(as_typed(photo_folder=[])).photos
    assert photos is not None
    assert photos.files == ()
    assert as_typed() == Typed({}, {}, None)


@pytest.mark.parametrize(
    ("setting", "off"),
    [(None, False), (RuleSetting("unit-suspect", priority="Upkeep"), False), (RuleSetting("unit-suspect", off=True), True)],
)  # fmt: skip
def test_a_rule_that_is_off_doubts_nothing(setting: RuleSetting | None, off: bool):
    rules = {"unit-suspect": setting} if setting is not None else {}
    template = replace(load_template("office"), rules=rules)
    assert catalogue()["unit-suspect"].is_off(template) == off
    depth = {"tag": "DP-1", "opposite_side": "Grounded", "depth": "4"}
    found = list(
        catalogue()["working-depth-short"].check(
            assessment_of(as_typed(equipment=[DP1], clearances=[depth]), template)
        )
    )
    assert bool(found) == off


def test_an_example_stands_where_a_survey_would():
    row = survey_of(as_typed(equipment=[{"tag": "DP-1"}])).equipment[0]
    assert (row.number, row.tag.cell) == (5, "A5")
    assert survey_of(as_typed()).path == Path("as_typed.xlsx")

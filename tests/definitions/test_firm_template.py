"""A firm's own template says only what differs; everything else is the parent's."""

from __future__ import annotations

from pathlib import Path

import pytest

from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import Template, check_rule_names, load_template
from workbook_tools.electrical import PROFILE_NAMES
from workbook_tools.errors import Unusable
from workbook_tools.rules import catalogue
from workbook_tools.survey import read_survey


@pytest.fixture(scope="module")
def firm() -> Template:
    return load_template(Path(__file__).parent / "example_firm.toml")


def test_the_head_and_the_firm_are_the_childs(firm: Template) -> None:
    assert (firm.name, firm.code_profile, firm.dimension_unit) == ("example_firm", "nec-2017", "mm")
    assert (firm.firm.name, firm.firm.colour, firm.firm.paper) == (
        "Example Inspections (invented)",
        "#204060",
        "a4",
    )
    assert firm.outside_sources == ("Utility", "PV array", "Harbour grid")


def test_a_spelling_is_added_to_the_parents(firm: Template) -> None:
    kinds = firm.vocabularies["kind"]
    for typed in ("fuse board", "PNL", "sub-panel"):
        found = kinds.find(typed)
        assert found is not None
        assert found.name == "Panelboard"


def test_a_choice_stands_after_the_one_named_and_another_is_gone(firm: Template) -> None:
    names = firm.vocabularies["kind"].names
    assert names[names.index("Panelboard") + 1] == "Shore power pedestal"
    assert "Lift controller" not in names


def test_columns_are_renamed_moved_added_and_removed(firm: Template) -> None:
    places = firm.by_key["rooms"]
    assert places.name == "Places"
    assert "room list" in places.also_called
    assert [c.field for c in places.typed] == [
        "room", "level", "remarks", "access", "entrances", "door_opens_out", "door_hardware",
    ]  # fmt: skip
    assert places.by_field["room"].heading == "Place"
    assert places.by_spelling["berth"].field == "room"
    assert places.by_spelling["space"].field == "room"
    equipment = [c.field for c in firm.by_key["equipment"]]
    assert equipment[equipment.index("room") + 1] == "berth"


def test_a_finding_is_changed_and_another_added(firm: Template) -> None:
    knockout = firm.find_finding("missing knockout plug")
    assert knockout is not None
    assert (knockout.code, knockout.priority, knockout.one) == ("DEF-19", "Upkeep", "open knockout")
    own = firm.find_finding("PEDESTAL leaning")
    assert own is not None
    assert (own.one, own.many) == ("pedestal leaning", "pedestal leaning")


def test_rules_are_changed_with_their_reason(firm: Template) -> None:
    assert firm.rules["finding-without-photo"].off
    assert firm.rules["working-space-storage"].priority == "Act now"
    assert firm.rules["working-space-storage"].reason == "The insurer asks for it."
    check_rule_names(firm, catalogue())
    assert set(firm.rules) <= set(catalogue())


def test_a_table_that_replaces_takes_nothing_from_the_parent(tmp_path: Path) -> None:
    path = tmp_path / "firm.toml"
    path.write_text(
        '[template]\nextends = "office"\ntitle = "x"\n'
        '[vocabulary.building_use]\nreplace = true\nopen = true\nchoices = ["Lighthouse"]\n'
        '[vocabulary.wires]\nchoices = [{ name = "4", replace = true, also_called = ["quad"] }]\n',
        encoding="utf-8",
    )
    template = load_template(path)
    assert template.vocabularies["building_use"].names == ("Lighthouse",)
    assert template.vocabularies["wires"].find("4w") is None
    assert template.vocabularies["wires"].find("quad") is not None


def test_amendments_are_found_beside_the_file_that_names_them(tmp_path: Path) -> None:
    (tmp_path / "house.toml").write_text(
        '[template]\nextends = "office"\ntitle = "x"\namendments = "county.toml"\n', encoding="utf-8"
    )
    (tmp_path / "county.toml").write_text("", encoding="utf-8")
    (tmp_path / "branch.toml").write_text('[template]\nextends = "house"\ntitle = "y"\n', encoding="utf-8")
    assert load_template(tmp_path / "branch.toml").amendments == str(tmp_path / "county.toml")


def test_a_file_with_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "firm.toml"
    path.write_bytes(b'\xef\xbb\xbf[template]\nextends = "office"\ntitle = "Marked"\n')
    assert load_template(path).title == "Marked"


def test_a_rule_that_there_is_not_is_said_when_the_workbook_is_made(tmp_path: Path) -> None:
    path = tmp_path / "firm.toml"
    path.write_text(
        '[template]\nextends = "office"\ntitle = "x"\n[rules.duplicat-tag]\noff = true\nreason = "x"\n',
        encoding="utf-8",
    )
    with pytest.raises(
        Unusable, match=r"firm\.toml: \[rules\.duplicat-tag\] names no rule .* mean duplicate-tag"
    ):
        new_workbook(tmp_path / "survey.xlsx", template=path, rows=2)
    assert not (tmp_path / "survey.xlsx").exists()


def test_a_workbook_is_made_of_a_firms_template(tmp_path: Path) -> None:
    made = new_workbook(
        tmp_path / "survey.xlsx", template=Path(__file__).parent / "example_firm.toml", rows=2
    )
    survey = read_survey(made.path, Path(__file__).parent / "example_firm.toml")
    assert not survey.missing_sheets
    assert survey.job.dimension_unit.value == "mm"
    assert {h.heading for h in survey.headings if h.field == "berth"} == {"Berth"}


def test_a_firm_may_take_a_code_profile_out_of_the_drop_down_and_add_a_spelling(tmp_path: Path) -> None:
    firm = tmp_path / "firm.toml"
    firm.write_text(
        '[template]\nextends = "office"\n[vocabulary.code_profile]\nchoices = [{ name = "nec-2014", remove = true }, '
        '{ name = "osha-1910", also_called = ["workplace rule"] }]\n',
        encoding="utf-8",
    )
    choices = load_template(firm).vocabularies["code_profile"]
    assert choices.names == tuple(name for name in PROFILE_NAMES if name != "nec-2014")
    found = choices.find("Workplace rule")
    assert found is not None
    assert found == choices.find("29 CFR 1910")
    assert choices.find("2014") is None

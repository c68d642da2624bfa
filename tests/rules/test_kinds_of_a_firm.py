"""A kind that a firm adds is treated as the stock kind that it is like, and called by its own name."""

from __future__ import annotations

import pytest

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import Template, load_template
from workbook_tools.rules import catalogue
from workbook_tools.rules.problems import NotChecked
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule.equipment_texts import kind_of

FIRM = """
[template]
extends = "base"
title = "Survey of an invented firm"

[vocabulary.kind]
choices = [
    { name = "Kiln switch", like = "Disconnect switch" },
    { name = "Stall board", like = "Panelboard" },
    { name = "Old board", like = "Panelboard", in_scope = false },
    { name = "Isolation unit", like = "Transformer" },
    { name = "Main cut-out", like = "Service disconnect", also_called = ["cutout"] },
    { name = "Curtain motor" },
]
"""
ROOM = [{"room": "Kiln room", "access": "Entered"}]


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory) -> Template:
    path = tmp_path_factory.mktemp("firm") / "firm.toml"
    path.write_text(FIRM, encoding="utf-8")
    return load_template(path)


def subjects(slug: str, firm: Template, typed: Typed) -> set[str]:
    found = list(catalogue()[slug].check(Assessment(survey_of(typed, firm))))
    return {problem.subject for problem in found if not isinstance(problem, NotChecked)}


def of_kinds(*kinds: str, **more: str) -> list[dict[str, str]]:
    return [{"tag": kind, "kind": kind, "room": "Kiln room", **more} for kind in kinds]


def test_the_working_space_is_asked_for(firm: Template) -> None:
    typed = as_typed(rooms=ROOM, equipment=of_kinds("Kiln switch", "Isolation unit", "Curtain motor"))
    # Which kinds are worked on live is common practice; of one that is like none, nothing is said.
    assert subjects("no-clearance-record", firm, typed) == {"Kiln switch"}


def test_the_dedicated_space_is_looked_at(firm: Template) -> None:
    kinds = ("Kiln switch", "Stall board", "Curtain motor")
    above = [{"tag": kind, "items_above": "Water pipe"} for kind in kinds]
    typed = as_typed(equipment=of_kinds(*kinds), clearances=above)
    # NFPA70-2023 in sources.csv, 110.26(E): panelboards are in the list, disconnect switches are not.
    assert subjects("dedicated-space-obstructed", firm, typed) == {"Stall board"}


def test_scope_is_the_firms_own_word(firm: Template) -> None:
    typed = as_typed(equipment=of_kinds("Stall board", "Old board"))
    assert subjects("outside-scope-item", firm, typed) == {"Old board"}


def test_a_unit_like_a_transformer_has_its_label_plate(firm: Template) -> None:
    typed = as_typed(equipment=of_kinds("Isolation unit", "Curtain motor"))
    assert subjects("no-transformer-details", firm, typed) == {"Isolation unit"}


def test_one_like_a_service_disconnect_is_one(firm: Template) -> None:
    assert subjects("no-service-disconnect", firm, as_typed(equipment=of_kinds("Curtain motor"))) != set()
    typed = as_typed(equipment=of_kinds("cutout"))
    assert subjects("no-service-disconnect", firm, typed) == set()
    hand_motions = firm.by_key["equipment"].by_field["hand_motions"]
    assert hand_motions.is_required("Main cut-out")
    assert not hand_motions.is_required("Kiln switch")


def test_the_client_reads_the_firms_own_name(firm: Template) -> None:
    row = survey_of(as_typed(equipment=of_kinds("Kiln switch")), firm).equipment[0]
    assert (row.stock_kind, row.kind.value, kind_of(row)) == (
        "Disconnect switch",
        "Kiln switch",
        "Kiln switch",
    )

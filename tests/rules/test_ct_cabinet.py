"""A CT cabinet: ahead of the service, one circuit through it, no sign of several occupants, nothing that switches."""

import pytest

from tests.rules.asking import WYE_208, WYE_480, Row, messages_of, problems_of
from workbook_tools.electrical import holds_devices, needs_dedicated_space, needs_working_space
from workbook_tools.rules.rule import as_typed

CT: Row = {"tag": "CT-1", "kind": "ct cabinet", "fed_from": "Utility", **WYE_480}
SD: Row = {"kind": "Service disconnect", "hand_motions": "1", **WYE_480}


def test_what_it_is():
    assert needs_working_space("CT cabinet")
    assert not holds_devices("CT cabinet")
    assert not needs_dedicated_space("nec-2023", "CT cabinet")


def test_it_stands_ahead_of_the_service_disconnect():
    typed = as_typed(equipment=[CT, {"tag": "SD-1", **SD, "fed_from": "Utility 2"}])
    assert messages_of("service-without-disconnect", typed) == []


@pytest.mark.parametrize(("kind", "reported"), [("CT cabinet", True), ("Meter center", False)])
def test_meters_speak_of_several_occupants_and_current_transformers_do_not(kind: str, reported: bool):
    disconnects = [{"tag": f"SD-{n}", **SD, "fed_from": "CT-1"} for n in range(1, 8)]
    typed = as_typed(equipment=[{**CT, "kind": kind}, *disconnects])
    assert bool(messages_of("hand-motions-over-six", typed)) == reported


def test_a_panelboard_behind_it_is_protected_where_what_is_ahead_of_it_protects():
    panel = {"tag": "P-1", "kind": "Panelboard", "fed_from": "CT-1", "main_device": "Main lugs", **WYE_208}
    transformer = {"tag": "T-1", "kind": "Transformer", "fed_from": "DS-1"}
    through = as_typed(equipment=[transformer, {**CT, **WYE_208, "fed_from": "T-1"}, panel])
    assert [problem.subject for problem in problems_of("panel-without-protection", through)] == ["P-1"]
    switch = {
        "tag": "DS-2",
        "kind": "Disconnect switch",
        "fed_from": "T-1",
        "rating_a": "200",
        "main_device": "Fused switch",
        **WYE_208,
    }
    protected = as_typed(equipment=[transformer, switch, {**CT, **WYE_208, "fed_from": "DS-2"}, panel])
    assert problems_of("panel-without-protection", protected) == []

"""Where the building is switched off, in one sentence for each service; what is not known is said."""

import pytest

from workbook_tools.assessment import Assessment
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule.services import other_sources, service_sentences

WYE = {"voltage": "480Y/277", "phase": "3", "wires": "4"}


def told(*equipment, rooms=()):
    return Assessment(survey_of(as_typed(equipment=equipment, rooms=rooms)))


def disconnect(tag, source="Utility", **more):
    return {"tag": tag, "kind": "Service disconnect", "fed_from": source, **more}


@pytest.mark.parametrize(
    ("equipment", "sentences"),
    [
        (
            [
                disconnect(
                    "SD-1",
                    room="Room 12",
                    rating_a="400",
                    hand_motions="2",
                    main_device="Main breaker",
                    **WYE,
                )
            ],
            [
                (
                    "Switch off at SD-1, the main breaker in Room 12: two motions of the hand switch it off. The service is 400 A, "
                    "480Y/277 V, 3-phase, 4-wire."
                )
            ],
        ),
        (
            [disconnect("SD-1")],
            [
                (
                    "Switch off at SD-1, the service disconnect in a room that was not recorded; how many motions of the hand it takes "
                    "was not recorded. Its rating and voltage were not recorded."
                )
            ],
        ),
        (
            [disconnect("SD-1", room="Yard", rating_a="N/V", hand_motions="1", **WYE)],
            [
                (
                    "Switch off at SD-1, the service disconnect in the Yard: one motion of the hand switches it off. The service is 480Y/277 V, "
                    "3-phase, 4-wire; its rating was not recorded."
                )
            ],
        ),
        (
            [
                disconnect("SD-1", room="Yard", rating_a="400", hand_motions="1", **WYE),
                disconnect("SD-2", room="Shed", rating_a="400", **WYE),
            ],
            [
                (
                    "Switch off at two service disconnects, SD-1 in the Yard and SD-2 in the Shed: at least one motion of the hand "
                    "(not counted at every one). They are 400 A, 480Y/277 V, 3-phase, 4-wire each."
                )
            ],
        ),
        (
            [
                disconnect("SD-1", room="Yard", rating_a="400", hand_motions="1", **WYE),
                disconnect("SD-2", room="Yard", rating_a="800", hand_motions="3", **WYE),
            ],
            [
                (
                    "Switch off at two service disconnects, SD-1 and SD-2 in the Yard: four motions of the hand switch all of them off. They "
                    "are 400 A and 800 A, 480Y/277 V, 3-phase, 4-wire."
                )
            ],
        ),
        (
            [
                disconnect("SD-1", room="Yard", rating_a="400", hand_motions="1", **WYE),
                disconnect(
                    "SD-2",
                    "Utility 2",
                    room="Shed",
                    rating_a="200",
                    hand_motions="1",
                    voltage="120/240",
                    phase="1",
                    wires="3",
                ),
            ],
            [
                (
                    "Service from the utility: switch off at SD-1, the service disconnect in the Yard: one motion of the hand switches "
                    "it off. The service is 400 A, 480Y/277 V, 3-phase, 4-wire."
                ),
                (
                    "Service from Utility 2: switch off at SD-2, the service disconnect in the Shed: one motion of the hand switches it "
                    "off. The service is 200 A, 120/240 V, 1-phase, 3-wire."
                ),
            ],
        ),
        (
            [{"tag": "MSB", "kind": "Switchboard", "fed_from": "Utility"}],
            [
                "No service disconnect was found: ask the utility or a licensed electrician where the building is switched off."
            ],
        ),
    ],
    ids=[
        "one",
        "nothing recorded",
        "rating not seen",
        "motions of one not counted",
        "two of one service",
        "two services",
        "none",
    ],
)
def test_a_service_in_one_sentence(equipment, sentences):
    assert list(service_sentences(told(*equipment))) == sentences


def test_what_stays_live_behind_the_service_is_said():
    said = other_sources(
        told(
            disconnect("SD-1"),
            {"tag": "GEN-1", "kind": "Generator", "room": "Yard", "fed_from": "N/A"},
            {"tag": "INV-1", "kind": "PV inverter", "room": "Roof", "fed_from": "PV array"},
            {"tag": "INV-2", "kind": "PV inverter", "room": "Roof", "fed_from": "PV array"},
        )
    )
    assert said == (
        "With the service off, parts of the building may still be live. The generator GEN-1 (Yard) may start by itself when the "
        "service goes off; its own stop was neither looked for nor operated in this survey. The photovoltaic array and the array "
        "side of the inverters INV-1 and INV-2 (Roof) stay live by daylight."
    )
    assert other_sources(told(disconnect("SD-1"))) == ""


def test_a_photovoltaic_disconnect_cuts_off_the_building_and_never_the_array():
    inverter = {"tag": "INV-1", "kind": "PV inverter", "room": "Roof", "fed_from": "PV array"}
    said = other_sources(
        told(inverter, {"tag": "PVD-1", "kind": "PV disconnect", "room": "Yard", "fed_from": "INV-1"})
    )
    assert "PVD-1 in the Yard cuts the photovoltaic supply off from the building." in said
    assert "array side of the inverter INV-1 (Roof) stay live by daylight, whatever is switched off." in said
    assert "disconnected" not in said
    between = other_sources(told(inverter, {"tag": "PVD-2", "kind": "PV disconnect", "fed_from": "PV array"}))
    assert "off from the building" not in between  # it stands between array and inverter

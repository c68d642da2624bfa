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
                    "Switch off at SD-1, the main breaker in Room 12, with two motions of the hand; the service is 400 A, 480Y/277 V, "
                    "3-phase, 4-wire."
                )
            ],
        ),
        (
            [disconnect("SD-1")],
            [
                (
                    "Switch off at SD-1, the service disconnect in a room that was not recorded; how many motions of the hand it takes "
                    "was not recorded; its rating and voltage were not recorded."
                )
            ],
        ),
        (
            [disconnect("SD-1", room="Yard", rating_a="N/V", hand_motions="1", **WYE)],
            [
                (
                    "Switch off at SD-1, the service disconnect in the Yard, with one motion of the hand; the service is 480Y/277 V, "
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
                    "Switch off at two service disconnects, SD-1 in the Yard and SD-2 in the Shed, with at least one motion of the hand "
                    "(not counted at every one); they are 400 A, 480Y/277 V, 3-phase, 4-wire each."
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
                    "Switch off at two service disconnects, SD-1 and SD-2 in the Yard, with four motions of the hand in all; they are "
                    "400 A and 800 A, 480Y/277 V, 3-phase, 4-wire."
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
                    "Service Utility: switch off at SD-1, the service disconnect in the Yard, with one motion of the hand; the service "
                    "is 400 A, 480Y/277 V, 3-phase, 4-wire."
                ),
                (
                    "Service Utility 2: switch off at SD-2, the service disconnect in the Shed, with one motion of the hand; the "
                    "service is 200 A, 120/240 V, 1-phase, 3-wire."
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
        "Parts of the building may stay live from other sources: the generator GEN-1 (Yard) and the photovoltaic inverters INV-1 "
        "and INV-2 (Roof)."
    )
    assert other_sources(told(disconnect("SD-1"))) == ""

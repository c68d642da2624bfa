"""Rules about the service: how the whole building is shut off.

no-service-disconnect                    no row is a service disconnect
ground-fault-protection-not-recorded     a large wye service, and nothing is written about it
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import SERVICE_DISCONNECT, Assessment
from workbook_tools.electrical import CodeProfile, VoltageSystem
from workbook_tools.rules.client import Condition, Limit, Trade
from workbook_tools.rules.in_words import section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import says
from workbook_tools.survey import Equipment, Outcome

__all__ = [
    "GROUND_FAULT_NAMED",
    "RULES",
    "SUBJECT",
    "is_fire_pump",
    "largest_setting",
    "wants_ground_fault_protection",
]

SUBJECT = "Service"

GROUND_FAULT_NAMED = re.compile(r"ground[\s-]*fault|\bGFP(?:E)?\b|\bGFR\b", re.IGNORECASE)
_FIRE_PUMP = re.compile(r"fire[\s-]*pump", re.IGNORECASE)


def no_service_disconnect(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for a service disconnect; a kind that could not be read may be one."""
    equipment = assessment.survey.equipment
    kinds = [row.stock_kind for row in equipment]
    if not equipment or SERVICE_DISCONNECT in kinds:
        return
    unread = next(
        (
            row
            for row in equipment
            if row.stock_kind is None and row.kind.outcome is not Outcome.NOT_APPLICABLE
        ),
        None,
    )
    if unread is not None:
        yield from NO_SERVICE_DISCONNECT.ask(unread)
        return
    yield NO_SERVICE_DISCONNECT.problem(
        equipment[0],
        equipment[0].kind,
        "No row of Equipment is a service disconnect.",
        phrase="no service disconnect found in the building",
        subject="Service",
        read="",
        expected="a row of the kind Service disconnect",
    )


def is_fire_pump(row: Equipment) -> bool:
    """Whether a row serves a fire pump, which no fault to ground is to shut off (NFPA 70 695.6, from memory)."""
    return any(_FIRE_PUMP.search(text) for text in (row.called, row.remarks.typed))


def largest_setting(assessment: Assessment, row: Equipment) -> float | None:
    """Return the amperes by which ground-fault protection goes: the largest fuse a switch takes, or a breaker's setting.

    Not the fuses that happen to be in a switch: larger ones can be put in (NFPA 70 230.95, from memory).
    """
    device = assessment.protective_rating(row)
    if device is None or row.main_device.value == "Fused switch":
        return row.rating_a.value
    return device.value if device.value is not None else row.rating_a.value


def wants_ground_fault_protection(profile: CodeProfile, system: VoltageSystem) -> bool:
    """Whether a service of this system needs ground-fault protection, its rating aside: a wye between two voltages."""
    above, up_to = profile.ground_fault_above_volts_to_ground, profile.ground_fault_up_to_line_volts
    return (
        system.connection == "wye"
        and (above is None or system.volts_to_ground > above.number)
        and (up_to is None or system.line_volts <= up_to.number)
    )


def ground_fault_protection_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large wye services about whose ground-fault protection nothing is written."""
    least = assessment.profile.ground_fault_amperes
    for rows in assessment.supply.services.values():
        for row in rows:
            system, amps = assessment.equipment(row).system, largest_setting(assessment, row)
            if system is None or amps is None or least is None or amps < least.number:
                continue
            if not wants_ground_fault_protection(assessment.profile, system):
                continue
            if not says(assessment, GROUND_FAULT_NAMED, row) and not is_fire_pump(row):
                yield GROUND_FAULT_PROTECTION_NOT_RECORDED.problem(
                    row,
                    row.remarks,
                    f"{row.called} is a {system.name} service disconnect of {amps:g} A; whether it has ground-fault "
                    f"protection was not recorded ({section(assessment, least.section, least.basis)} asks for it from "
                    f"{least.number:g} A).",
                    expected="Ground-fault protection seen, or not seen",
                )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}
_LARGE = {**_SD1, "rating_a": "1600", "voltage": "480Y/277", "phase": "3", "wires": "4"}

NO_SERVICE_DISCONNECT = Rule(
    slug="no-service-disconnect",
    class_="confirm",
    subject="Service",
    what="No row is a service disconnect.",
    why="Where the building is shut off is the first thing that the client's list must tell.",
    mend="Add it, or give the board that shuts off the service the kind Service disconnect; confirm where it stands outside "
    "the survey.",
    source="NFPA 70 230.70",
    needs=(Equipment.kind,),
    client=Condition(
        do="Ask the utility or a licensed electrician where the building is switched off, and have it marked.",
        trade=Trade.UTILITY,
        why="In an emergency somebody must know where the building is shut off.",
    ),
    check=no_service_disconnect,
    fires=as_typed(equipment=[{"tag": "MSB", "kind": "Switchboard"}]),
    passes=as_typed(equipment=[_SD1, {"tag": "MSB", "kind": "Switchboard"}]),
)

GROUND_FAULT_PROTECTION_NOT_RECORDED = Rule(
    slug="ground-fault-protection-not-recorded",
    class_="note",
    subject="Service",
    what="A wye service disconnect of 1000 A or more, over 150 V to ground, and nothing is written about its ground-fault "
    "protection.",
    why="An arcing fault to ground can burn such a board down without opening the main.",
    mend="Write in Remarks whether a ground-fault relay was seen; where there is none, record the finding.",
    source="NFPA 70 230.95",
    client=Limit(
        one="Whether the service has ground-fault protection was not recorded.",
        many="Whether the service has ground-fault protection was not recorded.",
    ),
    check=ground_fault_protection_not_recorded,
    fires=as_typed(equipment=[_LARGE]),
    passes=as_typed(equipment=[{**_LARGE, "remarks": "Ground-fault relay on the door"}]),
)

RULES = (
    NO_SERVICE_DISCONNECT,
    GROUND_FAULT_PROTECTION_NOT_RECORDED,
)

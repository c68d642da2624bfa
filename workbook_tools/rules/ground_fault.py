"""Rules about ground-fault protection of equipment.

    ground-fault-protection-not-recorded           a large wye service, and nothing written
    feeder-ground-fault-protection-not-recorded    a large wye board behind a transformer, and nothing written
    ground-fault-protection-absent                 one of both, and Remarks say that there is none

Each is asked once per board, and answered in Remarks or by a finding. A service disconnect is asked
for the service's alone. Not here: how an arc is ended sooner (large_boards).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import CodeProfile, VoltageSystem
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.in_words import section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Answer, answer, answer_in
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Ground-fault protection"

_NAMED = re.compile(r"ground[\s-]*fault|\bGFP(?:E)?\b|\bGFR\b", re.IGNORECASE)
_FIRE_PUMP = re.compile(r"fire[\s-]*pump", re.IGNORECASE)


class _Asked(NamedTuple):
    """A board for which the edition asks for ground-fault protection: what it is, by which section, what was said."""

    row: Equipment
    what: str
    by: str
    said: Answer


def _services(assessment: Assessment) -> Iterator[_Asked]:
    """Yield the large wye service disconnects."""
    least = assessment.profile.ground_fault_amperes
    for rows in assessment.supply.services.values() if least is not None else ():
        for row in rows:
            system, amps = assessment.equipment(row).system, _largest_setting(assessment, row)
            if least is None or system is None or amps is None or amps < least.number:
                continue
            if _is_wanted(assessment.profile, system) and not _is_fire_pump(row):
                by = f"{section(assessment, least.section, least.basis)} asks for it from {least.number:g} A"
                what = f"{row.called} is a {system.name} service disconnect of {amps:g} A"
                yield _Asked(row, what, by, answer(assessment, _NAMED, row))


def _feeders(assessment: Assessment) -> Iterator[_Asked]:
    """Yield the first large wye boards behind transformers.

    Behind a service that has it, a feeder needs none; a transformer begins a system of its own.
    """
    asked = assessment.profile.feeder_ground_fault
    if asked is None:
        return
    services = {row for rows in assessment.supply.services.values() for row in rows}
    for row in assessment.survey.equipment:
        if row in services or not _is_large_wye(assessment, row, asked.amperes):
            continue
        if assessment.supply.feeds_itself(row) or not _is_first(assessment, row, asked.amperes):
            continue
        if not _is_fire_pump(row):
            system, amps = assessment.own_system(row), _largest_setting(assessment, row)
            by = f"{section(assessment, asked.section, asked.basis)} asks for it from {asked.amperes:g} A"
            what = f"{row.called} is a {system.name if system else ''} board with a main of {amps:g} A behind a transformer"
            yield _Asked(row, what, by, answer(assessment, _NAMED, row))


def _not_recorded(rule: Rule, boards: Iterator[_Asked]) -> Iterator[Problem]:
    for row, what, by, said in boards:
        if not (said.settled or said.denied):
            yield rule.problem(
                row,
                row.remarks,
                f"{what}; whether it has ground-fault protection was not recorded ({by}).",
                expected="Ground-fault protection seen, or not seen",
            )


def ground_fault_protection_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large wye services about whose ground-fault protection nothing is written."""
    return _not_recorded(GROUND_FAULT_PROTECTION_NOT_RECORDED, _services(assessment))


def feeder_ground_fault_protection_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large wye boards behind a transformer about whose ground-fault protection nothing is written."""
    return _not_recorded(FEEDER_GROUND_FAULT_PROTECTION_NOT_RECORDED, _feeders(assessment))


def ground_fault_protection_absent(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large wye boards of both kinds whose remarks say that there is no ground-fault protection."""
    for boards in (_services, _feeders):
        for row, what, by, said in boards(assessment):
            if said.denied:
                yield GROUND_FAULT_PROTECTION_ABSENT.problem(
                    row,
                    row.remarks,
                    f"{what}; ground-fault protection is recorded there as absent or out of order: {said.quoted} ({by}).",
                    phrase=f"no ground-fault protection, as recorded: {said.quoted}",
                    expected="Ground-fault protection seen",
                )


def _is_fire_pump(row: Equipment) -> bool:
    """Whether a row serves a fire pump, which no fault to ground is to shut off (NFPA 70 695.6, from memory)."""
    return answer_in(_FIRE_PUMP, row.called, row.remarks.typed).there


def _largest_setting(assessment: Assessment, row: Equipment) -> float | None:
    """Return the amperes by which ground-fault protection goes: the largest fuse a switch takes, or a breaker's setting.

    Not the fuses that happen to be in a switch: larger ones can be put in (NFPA 70 230.95, from memory).
    """
    device = assessment.protective_rating(row)
    if device is None or row.main_device.value == "Fused switch":
        return row.rating_a.value
    return device.value if device.value is not None else row.rating_a.value


def _is_wanted(profile: CodeProfile, system: VoltageSystem) -> bool:
    """Whether a board on this system needs ground-fault protection, its rating aside: a wye between two voltages."""
    above, up_to = profile.ground_fault_above_volts_to_ground, profile.ground_fault_up_to_line_volts
    return (
        system.connection == "wye"
        and (above is None or system.volts_to_ground > above.number)
        and (up_to is None or system.line_volts <= up_to.number)
    )


def _is_large_wye(assessment: Assessment, row: Equipment, amperes: float) -> bool:
    # The amperes first: few boards have so many, and they are read already.
    return (
        (_largest_setting(assessment, row) or 0) >= amperes
        and assessment.is_plausible(row.rating_a)
        and assessment.protective_rating(row) is not None
        and (system := assessment.own_system(row)) is not None
        and _is_wanted(assessment.profile, system)
    )


def _is_first(assessment: Assessment, row: Equipment, amperes: float) -> bool:
    feeder = assessment.supply.feeder(row)
    while feeder is not None and feeder.stock_kind != "Transformer":
        if assessment.supply.feeds_itself(feeder) or _is_large_wye(assessment, feeder, amperes):
            return False
        feeder = assessment.supply.feeder(feeder)
    return feeder is not None


_SD1 = {
    "tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility", "rating_a": "1600", "voltage": "480Y/277", "phase": "3",
    "wires": "4",
}  # fmt: skip
_T1 = {"tag": "T-1", "kind": "Transformer"}
_PLATE = {"tag": "T-1", "kva": "1000", "primary_v": "4160", "secondary_v": "480Y/277", "phase": "3"}
_DP1 = {
    "tag": "DP-1", "kind": "Switchboard", "fed_from": "T-1", "rating_a": "1200", "voltage": "480Y/277", "phase": "3",
    "wires": "4", "main_device": "Main breaker",
}  # fmt: skip

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
    fires=as_typed(equipment=[_SD1]),
    passes=as_typed(equipment=[{**_SD1, "remarks": "Ground-fault relay on the door"}]),
)

FEEDER_GROUND_FAULT_PROTECTION_NOT_RECORDED = Rule(
    slug="feeder-ground-fault-protection-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="A wye board of 1000 A or more, over 150 V to ground, is the first behind a transformer, and nothing is written "
    "about its ground-fault protection.",
    why="An arcing fault to ground can burn such a board down without opening its main.",
    mend="Write in Remarks whether a ground-fault relay was seen; where there is none, record the finding.",
    source="NFPA 70 215.10",
    client=Limit(
        one="Whether the board behind the transformer has ground-fault protection was not recorded.",
        many="Whether the boards behind transformers have ground-fault protection was not recorded.",
    ),
    check=feeder_ground_fault_protection_not_recorded,
    fires=as_typed(equipment=[_T1, _DP1], transformers=[_PLATE]),
    passes=as_typed(equipment=[_T1, {**_DP1, "remarks": "GFP relay, tested 2024"}], transformers=[_PLATE]),
)

GROUND_FAULT_PROTECTION_ABSENT = Rule(
    slug="ground-fault-protection-absent",
    class_="report",
    priority="Correct soon",
    subject="Equipment",
    what="A wye service disconnect, or the first wye board behind a transformer, of 1000 A or more and over 150 V to ground, "
    "and Remarks say that it has no ground-fault protection.",
    why="An arcing fault to ground can burn such a board down without opening its main.",
    mend="Look again, for a relay on the door or a setting on the main. If it stands, leave it: it goes to the client.",
    source="NFPA 70 230.95, 215.10",
    client=Condition(
        work=Work(Trade.ENGINEER, Power.OFF, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer say whether ground-fault protection is needed there, and have it put in.",
    ),
    check=ground_fault_protection_absent,
    fires=as_typed(equipment=[{**_SD1, "remarks": "No ground-fault relay"}]),
    passes=as_typed(equipment=[{**_SD1, "remarks": "Ground-fault relay on the door"}]),
)

RULES = (
    GROUND_FAULT_PROTECTION_NOT_RECORDED,
    FEEDER_GROUND_FAULT_PROTECTION_NOT_RECORDED,
    GROUND_FAULT_PROTECTION_ABSENT,
)

"""Rules about systems that may be grounded nowhere.

    ground-detector-not-recorded    an ungrounded system, and no word of a detector
    ground-detector-absent          the same, and Remarks say that there is none

A three-wire system without a neutral may be ungrounded, grounded at a corner, or a wye whose neutral
is not brought along: only where it begins can somebody tell. Not here: what the system is (voltage),
what the breakers on it are marked for (voltage_ratings).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import VoltageSystem
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Answer, answer, answer_in
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Grounding"

_DETECTOR = re.compile(
    r"ground(?:ing|ed)?[\s-]*(?:fault)?[\s-]*(?:detect|indicat|lamp|light|monitor|relay|meter)\w*"
    r"(?:\s+(?:lamps?|lights?|relay|meter|panel))?|\bdetectors?\b",
    re.IGNORECASE,
)
_GROUNDED = re.compile(
    r"\bcorner|resistance|\bHRG\b|grounded[\s-]*(?:b\b|phase|leg|wye|y\b)|solidly", re.IGNORECASE
)
_AUTOTRANSFORMER = re.compile(
    r"auto[\s-]*transformer|\bautoxfmr|buck[\s/-]*(?:and[\s-]*)?boost", re.IGNORECASE
)
_DELTA_SAID = re.compile(r"delta|Δ|∆|ungrounded|floating", re.IGNORECASE)
_UNGROUNDED_SAID = re.compile(r"ungrounded|not grounded|floating", re.IGNORECASE)

_LOWEST_UNGROUNDED, _HIGHEST_UNGROUNDED = 120, 1000  # NFPA 70 250.21(B)


def _beginnings(assessment: Assessment) -> Iterator[tuple[Equipment, VoltageSystem, str, Answer]]:
    """Yield where each three-wire delta begins, once: its first row, the system, its source, and what is said of a detector."""
    begun: set[str] = set()
    wyes = _wyes_of_sources(assessment)
    for row in assessment.survey.equipment:
        system = assessment.own_system(row)
        if system is None or not _may_be_ungrounded(assessment, row, system):
            continue
        source = _where_it_begins(assessment, row)
        if source is None or source in begun or (plain(source), system.line_volts) in wyes:
            continue
        begun.add(source)
        feeder = assessment.supply.feeder(row)
        rows = [row, *([feeder] if feeder is not None else [])]
        if not answer(assessment, _GROUNDED, *rows).settled:
            yield row, system, source, answer(assessment, _DETECTOR, *rows)


def _wyes_of_sources(assessment: Assessment) -> set[tuple[str, int]]:
    """Return the outside sources at which a wye is recorded, each with its volts: three wires there lack the neutral alone."""
    return {
        (plain(source.name), system.line_volts)
        for row in assessment.survey.equipment
        for source in assessment.supply.sources(row)
        if source.outside
        and (system := assessment.own_system(row)) is not None
        and system.connection == "wye"
    }


def ground_detector_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look where a three-wire delta begins, behind a service or a transformer; once for each."""
    for row, system, source, said in _beginnings(assessment):
        if not (said.settled or said.denied):
            known = _UNGROUNDED_SAID.search(row.voltage.typed) is not None
            yield GROUND_DETECTOR_NOT_RECORDED.problem(
                row,
                row.remarks,
                f"{_begins(row, system, source)} {'Ground' if known else 'If it is not grounded at all, ground'} detectors watch "
                f"{'an ungrounded system' if known else 'it'} ({edition(assessment)} 250.21(B)); "
                f"{'none was' if known else 'neither a detector nor a grounded corner was'} recorded.",
                expected="Ground detector seen or not seen, or how the system is grounded",
                action=None if known else f"{GROUND_DETECTOR_NOT_RECORDED.mend} {_how_to_write(system)}",
            )


def ground_detector_absent(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look where a three-wire delta begins, and remarks say that there is no ground detector; once for each."""
    for row, system, source, said in _beginnings(assessment):
        if said.denied:
            yield GROUND_DETECTOR_ABSENT.problem(
                row,
                row.remarks,
                f"{_begins(row, system, source)} A ground detector is recorded as absent or out of order: {said.quoted}; on a system that is not "
                f"grounded at all one watches ({edition(assessment)} 250.21(B)), and a grounded corner was not recorded.",
                phrase=f"no ground detector, as recorded: {said.quoted}, on what may be an ungrounded system",
                expected="Ground detector seen, or how the system is grounded",
            )


def _begins(row: Equipment, system: VoltageSystem, source: str) -> str:
    return f"At {row.called} a three-wire system of {system.line_volts} V begins, fed from {source}."


def _how_to_write(system: VoltageSystem) -> str:
    """Say how a grounded system of these volts is written in Voltage."""
    volts = system.line_volts
    with_neutral = (
        "240/120 and its 4 wires" if system.high_leg else {480: "480Y/277", 600: "600Y/347"}.get(volts)
    )
    missing = f", or {with_neutral} where only the neutral is missing" if with_neutral else ""
    return f"Write {volts} corner grounded in Voltage{missing}."


def _may_be_ungrounded(assessment: Assessment, row: Equipment, system: VoltageSystem) -> bool:
    reading = assessment.equipment(row).reading
    wires = row.wires.value or (reading.wires if reading is not None else None)
    return (
        assessment.is_in_scope(row)
        and row.stock_kind
        not in ("Transformer", "PV inverter", "PV disconnect", "Battery system", "Generator")
        and (system.phases, wires) == (3, 3)
        and "delta" in system.connection
        and "one corner" not in system.grounding
        and _LOWEST_UNGROUNDED <= system.line_volts <= _HIGHEST_UNGROUNDED
    )


def _where_it_begins(assessment: Assessment, row: Equipment) -> str | None:
    """Return the service or the delta secondary that a row hangs on directly, by name."""
    sources = assessment.supply.sources(row)
    outside = next(
        (source.name for source in sources if source.outside and not plain(source.name).startswith("pv")),
        None,
    )
    if outside is not None:
        return outside
    feeder = assessment.supply.feeder(row)
    if feeder is None or feeder.stock_kind != "Transformer":
        return None
    given, plate = assessment.delivered(feeder), assessment.plate(feeder)
    if any(
        answer_in(_AUTOTRANSFORMER, text).there
        for text in (feeder.remarks.typed, plate.remarks.typed if plate else "")
    ):
        return None  # its windings are joined: the grounding is that of the system ahead
    if len(given) != 1 or given[0].has_neutral or "one corner" in given[0].grounding:
        return None
    # 480 behind a transformer may be a wye whose neutral stays behind, unless somebody wrote otherwise.
    said = f"{row.voltage.typed} {plate.secondary_v.typed if plate is not None else ''}"
    is_delta = given[0].connection == "delta" or _DELTA_SAID.search(said) is not None
    return feeder.called if is_delta else None


_DELTA = {"voltage": "480", "phase": "3", "wires": "3"}
_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility", **_DELTA}

GROUND_DETECTOR_NOT_RECORDED = Rule(
    slug="ground-detector-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="A three-wire delta of 120 to 1000 V begins at a service or a transformer, and nothing is written about a ground "
    "detector or a grounded corner.",
    why="On an ungrounded system the first fault to ground opens nothing; without a detector nobody notices, and the second "
    "one burns.",
    mend="Write in Remarks whether a ground detector was seen (lamps, a meter), or how the system is grounded.",
    source="NFPA 70 250.21(B)",
    client=Limit(
        one="Whether the system is grounded, or watched by ground detectors, was not recorded.",
        many="Whether the systems are grounded, or watched by ground detectors, was not recorded.",
    ),
    check=ground_detector_not_recorded,
    fires=as_typed(equipment=[_SD1]),
    passes=as_typed(equipment=[{**_SD1, "remarks": "Ground detector lamps on the door"}]),
)

GROUND_DETECTOR_ABSENT = Rule(
    slug="ground-detector-absent",
    class_="confirm",
    subject="Equipment",
    what="A three-wire delta of 120 to 1000 V begins at a service or a transformer, Remarks say that there is no ground detector, "
    "and a grounded corner was not recorded.",
    why="On an ungrounded system the first fault to ground opens nothing; without a detector nobody notices, and the second "
    "one burns.",
    mend="Write in Remarks how the system is grounded, if it is. Answer Tell the client where it is not, or where nobody knows.",
    source="NFPA 70 250.21(B)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician say whether the system is grounded, and have ground detectors put in where it is not.",
    ),
    check=ground_detector_absent,
    fires=as_typed(equipment=[{**_SD1, "remarks": "No ground detector"}]),
    passes=as_typed(equipment=[{**_SD1, "remarks": "Ground detector lamps on the door"}]),
)

RULES = (GROUND_DETECTOR_NOT_RECORDED, GROUND_DETECTOR_ABSENT)

"""Rules about ungrounded and corner-grounded systems, and the voltages that equipment is marked for.

    ground-detector-not-recorded      an ungrounded system, and no word of a detector
    slash-rating-check                a device with a slash rating where a line is further from ground
    voltage-rating-below-system       equipment marked for less than its system's voltage

A three-wire system without a neutral may be ungrounded, grounded at a corner, or a wye whose neutral
is not brought along: only where it begins can somebody tell. Not here: what the system is (voltage).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import VoltageRating, VoltageSystem, nominal_class
from workbook_tools.rules.client import Condition, Limit, Trade
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import found_already, says
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Grounding and voltage ratings"

_GROUND_DETECTOR = re.compile(
    r"ground(?:ing|ed)?[\s-]*(?:fault)?[\s-]*(?:detect|indicat|lamp|light|monitor|relay|meter)|\bcorner|resistance|\bHRG\b"
    r"|grounded[\s-]*(?:b\b|phase|leg|wye|y\b)|solidly",
    re.IGNORECASE,
)
_DELTA_SAID = re.compile(r"delta|Δ|∆|ungrounded|floating", re.IGNORECASE)

WITH_BREAKERS = (
    "Service disconnect", "Switchboard", "Switchgear", "Panelboard", "Motor control center", "Enclosed circuit breaker",
    "Control panel",
)  # fmt: skip
"""Kinds that usually hold breakers: a slash rating is a breaker's, fuses have none (common practice)."""

_LOWEST_UNGROUNDED, _HIGHEST_UNGROUNDED = 120, 1000  # NFPA 70 250.21(B)


def ground_detector_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look where a three-wire delta begins, behind a service or a transformer; once for each."""
    begun: set[str] = set()
    for row in assessment.survey.equipment:
        system = assessment.own_system(row)
        if system is None or not _may_be_ungrounded(assessment, row, system):
            continue
        source = _where_it_begins(assessment, row)
        if source is None or source in begun:
            continue
        begun.add(source)
        feeder = assessment.supply.feeder(row)
        if not says(assessment, _GROUND_DETECTOR, row, *([feeder] if feeder is not None else [])):
            yield GROUND_DETECTOR_NOT_RECORDED.problem(
                row,
                row.remarks,
                f"{row.called} is the first on a {system.name} system from {source}. If it is not grounded at all, ground "
                f"detectors watch it ({edition(assessment)} 250.21(B)); neither a detector nor a grounded corner was recorded.",
                expected="Ground detector seen or not seen, or how the system is grounded",
            )


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
    if len(given) != 1 or given[0].has_neutral or "one corner" in given[0].grounding:
        return None
    # 480 behind a transformer may be a wye whose neutral stays behind, unless somebody wrote otherwise.
    said = f"{row.voltage.typed} {plate.secondary_v.typed if plate is not None else ''}"
    is_delta = given[0].connection == "delta" or _DELTA_SAID.search(said) is not None
    return feeder.called if is_delta else None


def slash_rating_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare slash ratings with the volts to ground; where a system is said to be grounded otherwise, ask for the rating."""
    rule = SLASH_RATING_CHECK
    for row in assessment.survey.equipment:
        rating, system = row.voltage_rating.value, assessment.own_system(row)
        if not assessment.is_in_scope(row) or row.stock_kind == "Transformer":
            continue
        if found_already(assessment, rule.slug, row):
            continue
        if rating is None:
            if (
                system is None
                or not _said_otherwise(assessment, row, system)
                or row.stock_kind not in WITH_BREAKERS
            ):
                continue
            if row.main_device.value == "Fused switch":
                continue
            if row.voltage_rating.outcome is not Outcome.BLANK:
                yield from rule.unanswered(row, row.voltage_rating)
                continue
            yield rule.problem(
                row,
                row.voltage_rating,
                f"{row.called} is {row.voltage.said}, where a breaker with a slash rating (480Y/277, 120/240) may not serve "
                f"({edition(assessment)} 240.85); what it is marked for was not recorded.",
                phrase=f"voltage rating not recorded on a {row.voltage.said} system, where slash-rated breakers may not serve",
            )
        elif rating.is_slash:
            volts = assessment.equipment(row).volts_to_ground
            if system is None or volts is None:
                yield from rule.ask(row)
            elif _serves(rating, volts) or _is_below(rating, system):
                continue  # the second is voltage-rating-below-system's
            elif not system.high_leg or row.stock_kind == "Enclosed circuit breaker":
                # The placard of a high-leg board reads like a slash rating; only a lone breaker must be straight there.
                yield rule.problem(
                    row,
                    row.voltage_rating,
                    f"{row.called} is marked {rating}, for {rating.volts_to_ground:g} V to ground at most, and stands on a "
                    f"system with {volts:g} V to ground as recorded ({edition(assessment)} 240.85).",
                    phrase=f"marked {rating} on a system recorded with {volts:g} V to ground",
                    expected=f"a straight rating of at least {system.line_volts} V, or another grounding of the system",
                )


def _serves(rating: VoltageRating, volts_to_ground: float) -> bool:
    most = rating.volts_to_ground
    return most is None or nominal_class(volts_to_ground) <= nominal_class(most)


def _is_below(rating: VoltageRating, system: VoltageSystem) -> bool:
    return nominal_class(rating.line_volts) < nominal_class(system.line_volts)


def _said_otherwise(assessment: Assessment, row: Equipment, system: VoltageSystem) -> bool:
    """Whether the voltage says in words that a corner is grounded, or nothing: a delta of three wires is one of both."""
    if "one corner" in system.grounding:
        return True
    volts = assessment.equipment(row).volts_to_ground
    bare = not system.has_neutral and volts is not None and volts >= system.line_volts
    return bare and _DELTA_SAID.search(row.voltage.typed) is not None


def voltage_rating_below_system(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what equipment is marked for with the voltage of its system, line to line."""
    for row in assessment.survey.equipment:
        rating, system = row.voltage_rating.value, assessment.own_system(row)
        if rating is None or row.stock_kind == "Transformer" or not assessment.is_in_scope(row):
            continue
        if system is None:
            yield from VOLTAGE_RATING_BELOW_SYSTEM.ask(row)
        elif _is_below(rating, system):
            yield VOLTAGE_RATING_BELOW_SYSTEM.problem(
                row,
                row.voltage_rating,
                f"{row.called} is marked for {rating} V and is recorded on {system.name} ({edition(assessment)} 110.4).",
                phrase=f"marked for {rating} V, recorded on {system.name}",
                expected=f"at least {system.line_volts} V",
            )


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
    mend="Write in Remarks whether a ground detector was seen (lamps, a meter), or how the system is grounded; write "
    "480 corner grounded in Voltage, or 480Y/277 where only the neutral is missing.",
    source="NFPA 70 250.21(B)",
    client=Limit(
        one="Whether the system is grounded, or watched by ground detectors, was not recorded.",
        many="Whether the systems are grounded, or watched by ground detectors, was not recorded.",
    ),
    check=ground_detector_not_recorded,
    fires=as_typed(equipment=[_SD1]),
    passes=as_typed(equipment=[{**_SD1, "remarks": "Ground detector lamps on the door"}]),
)

_CORNER = {"voltage": "480 corner grounded", "phase": "3", "wires": "3"}

SLASH_RATING_CHECK = Rule(
    slug="slash-rating-check",
    class_="confirm",
    subject="Equipment",
    what="A device marked with a slash rating stands on a system with more volts to ground than its lower figure, or a "
    "system is said to be corner-grounded or ungrounded and the rating of its breakers was not recorded.",
    why="One pole may have to break the full voltage between the lines, and a slash-rated breaker is not made for that.",
    mend="Read what the breakers are marked for, and write it in Voltage rating: 480 is straight, 480Y/277 is a slash rating.",
    source="NFPA 70 240.85",
    needs=(Equipment.voltage,),
    client=Condition(
        do="Have a licensed electrical engineer compare the breakers with the grounding of the system.",
        trade=Trade.ENGINEER,
        why="A breaker may fail to clear a fault that it is not made for.",
    ),
    compares="Slash ratings beside the grounding of the system",
    check=slash_rating_check,
    fires=as_typed(
        equipment=[{"tag": "DP-1", "kind": "Panelboard", **_CORNER, "voltage_rating": "480Y/277"}]
    ),
    passes=as_typed(equipment=[{"tag": "DP-1", "kind": "Panelboard", **_CORNER, "voltage_rating": "480"}]),
)

VOLTAGE_RATING_BELOW_SYSTEM = Rule(
    slug="voltage-rating-below-system",
    class_="confirm",
    subject="Equipment",
    what="The equipment is marked for a lower voltage than that of the system it is recorded on.",
    why="Its insulation and its contacts are not made for that voltage.",
    mend="Read both again: Voltage is the system's, Voltage rating what the equipment is marked for. Confirm where both stand.",
    source="NFPA 70 110.4",
    needs=(Equipment.voltage,),
    client=Condition(
        do="Have a licensed electrician compare the marking with the voltage that is there.",
        why="Equipment on a higher voltage than it is made for can fail when it is switched.",
    ),
    compares="Voltage that equipment is marked for beside the system's",
    check=voltage_rating_below_system,
    fires=as_typed(
        equipment=[
            {"tag": "DS-1", "kind": "Disconnect switch", "voltage": "480Y/277", "phase": "3", "wires": "4", "voltage_rating": "240"}
        ]
    ),
    passes=as_typed(
        equipment=[
            {"tag": "DS-1", "kind": "Disconnect switch", "voltage": "208Y/120", "phase": "3", "wires": "4", "voltage_rating": "240"}
        ]
    ),
)  # fmt: skip

RULES = (GROUND_DETECTOR_NOT_RECORDED, SLASH_RATING_CHECK, VOLTAGE_RATING_BELOW_SYSTEM)

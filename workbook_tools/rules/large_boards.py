"""Rules about what large boards carry beside their breakers.

    feeder-ground-fault-protection-not-recorded    a large feeder behind a transformer, and nothing written
    arc-energy-reduction-not-recorded              a breaker or fuses of 1200 A and more, and nothing written

Each is asked once per board, and answered in Remarks or by a finding. Not here: the service's own
ground-fault protection (service).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Limit
from workbook_tools.rules.in_words import section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.service import (
    GROUND_FAULT_NAMED,
    is_fire_pump,
    largest_setting,
    wants_ground_fault_protection,
)
from workbook_tools.rules.written import says
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Large boards"

_ARC_ENERGY = re.compile(
    r"arc[\s-]*(?:energy|reduc|resist|mitigat)|maintenance (?:switch|mode)|zone[\s-]*(?:selective|interlock)|differential relay"
    r"|energy[\s-]*reduc|\bZSI\b|\bERMS\b|\bARMS\b",
    re.IGNORECASE,
)
"""Ways of 240.87 and 240.67; an arc-flash label is none of them."""


def feeder_ground_fault_protection_not_recorded(
    assessment: Assessment,
) -> Iterator[Problem | NotChecked]:
    """Look for large wye boards behind a transformer about whose ground-fault protection nothing is written.

    Behind a service that has it, a feeder needs none; a transformer begins a system of its own.
    """
    asked = assessment.profile.feeder_ground_fault
    for row in assessment.survey.equipment if asked is not None else ():
        if (
            asked is None
            or assessment.supply.feeds_itself(row)
            or not _is_large_wye(assessment, row, asked.amperes)
        ):
            continue
        if not _first_behind_a_transformer(assessment, row, asked.amperes):
            continue
        if not says(assessment, GROUND_FAULT_NAMED, row) and not is_fire_pump(row):
            system, amps = assessment.own_system(row), largest_setting(assessment, row)
            yield FEEDER_GROUND_FAULT_PROTECTION_NOT_RECORDED.problem(
                row,
                row.remarks,
                f"{row.called} is a {system.name if system else ''} board with a main of {amps:g} A behind a transformer; "
                f"whether it has ground-fault protection was not recorded "
                f"({section(assessment, asked.section, asked.basis)} asks for it from {asked.amperes:g} A).",
                expected="Ground-fault protection seen, or not seen",
            )


def _is_large_wye(assessment: Assessment, row: Equipment, amperes: float) -> bool:
    system = assessment.own_system(row)
    return (
        system is not None
        and assessment.is_plausible(row.rating_a)
        and assessment.protective_rating(row) is not None
        and (largest_setting(assessment, row) or 0) >= amperes
        and wants_ground_fault_protection(assessment.profile, system)
    )


def _first_behind_a_transformer(assessment: Assessment, row: Equipment, amperes: float) -> bool:
    feeder = assessment.supply.feeder(row)
    while feeder is not None and feeder.stock_kind != "Transformer":
        if assessment.supply.feeds_itself(feeder) or _is_large_wye(assessment, feeder, amperes):
            return False
        feeder = assessment.supply.feeder(feeder)
    return feeder is not None


def arc_energy_reduction_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large breakers and fuses about whose arc-energy reduction nothing is written."""
    profile = assessment.profile
    for row in assessment.survey.equipment:
        device = assessment.protective_rating(row)
        fused = row.main_device.value == "Fused switch"
        asked = profile.arc_energy_fuses if fused else profile.arc_energy_breakers
        if device is None or device.value is None or asked is None or not assessment.is_plausible(device):
            continue
        if device.value < asked.amperes or not asked.may_hold(assessment.year_built):
            continue
        if not assessment.is_in_scope(row) or says(assessment, _ARC_ENERGY, row):
            continue
        yield ARC_ENERGY_REDUCTION_NOT_RECORDED.problem(
            row,
            row.remarks,
            f"{row.called} has {'fuses' if fused else 'a main breaker'} of {device.value:g} A; how an arc is ended sooner there "
            f"(a maintenance switch, zone interlocking, a relay) was not recorded. "
            f"{section(assessment, asked.section, asked.basis)} asks for one of several ways from {asked.amperes:g} A, since "
            f"the {asked.since} edition.",
            expected="The way that was seen, or none seen",
        )


_T1 = {"tag": "T-1", "kind": "Transformer"}
_PLATE = {"tag": "T-1", "kva": "1000", "primary_v": "4160", "secondary_v": "480Y/277", "phase": "3"}
_LARGE = {
    "tag": "DP-1", "kind": "Switchboard", "fed_from": "T-1", "rating_a": "1200", "voltage": "480Y/277", "phase": "3",
    "wires": "4", "main_device": "Main breaker",
}  # fmt: skip

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
    fires=as_typed(equipment=[_T1, _LARGE], transformers=[_PLATE]),
    passes=as_typed(equipment=[_T1, {**_LARGE, "remarks": "GFP relay, tested 2024"}], transformers=[_PLATE]),
)

ARC_ENERGY_REDUCTION_NOT_RECORDED = Rule(
    slug="arc-energy-reduction-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="A main breaker or fuses of 1200 A or more, and nothing is written about a means that ends an arc sooner. Not asked "
    "of a building older than the edition that first asked for it.",
    why="At such ratings an arc can burn for long before the device opens by itself.",
    mend="Write in Remarks what was seen (a maintenance switch, a label that names the method), or that none was.",
    source="NFPA 70 240.87, 240.67",
    client=Limit(
        one="How an arc at this board is ended sooner was not recorded.",
        many="How an arc at these boards is ended sooner was not recorded.",
    ),
    check=arc_energy_reduction_not_recorded,
    fires=as_typed(equipment=[_LARGE]),
    passes=as_typed(equipment=[{**_LARGE, "remarks": "Arc-energy maintenance switch on the door"}]),
)

RULES = (FEEDER_GROUND_FAULT_PROTECTION_NOT_RECORDED, ARC_ENERGY_REDUCTION_NOT_RECORDED)

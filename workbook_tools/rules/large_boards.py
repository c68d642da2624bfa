"""Rules about how an arc in a large board is ended sooner than its main would.

    arc-energy-reduction-not-recorded    a breaker or fuses of 1200 A and more, and nothing written
    arc-energy-reduction-absent          the same, and Remarks say that nothing of the kind is there

Each is asked once per board, and answered in Remarks or by a finding. Not here: ground-fault
protection (ground_fault).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.in_words import section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Answer, answer
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Large boards"

_WAYS = re.compile(
    r"arc[\s-]*(?:energy|reduc|resist|mitigat)|maintenance (?:switch|mode)|zone[\s-]*(?:selective|interlock)|differential relay"
    r"|energy[\s-]*reduc|\bZSI\b|\bERMS\b|\bARMS\b",
    re.IGNORECASE,
)
"""Ways of 240.87 and 240.67; an arc-flash label is none of them."""

_UP_TO_VOLTS = 1000
"""Above so many volts between the lines another part of the article holds (NFPA 70 240, from memory)."""


def _asked(assessment: Assessment) -> Iterator[tuple[Equipment, str, str, Answer]]:
    """Yield the boards with a large device: what it is, by which section, and what Remarks say."""
    profile = assessment.profile
    for row in assessment.survey.equipment:
        device = assessment.protective_rating(row)
        fused = row.main_device.value == "Fused switch"
        asked = profile.arc_energy_fuses if fused else profile.arc_energy_breakers
        if device is None or device.value is None or asked is None or device.value < asked.amperes:
            continue
        if not asked.may_hold(assessment.year_built) or not assessment.is_plausible(device):
            continue
        system = assessment.own_system(row)
        if not assessment.is_in_scope(row) or (system is not None and system.line_volts > _UP_TO_VOLTS):
            continue
        what = f"{row.called} has {'fuses' if fused else 'a main breaker'} of {device.value:g} A"
        by = (
            f"{section(assessment, asked.section, asked.basis)} asks for one of several ways from {asked.amperes:g} A, since "
            f"the {asked.since} edition"
        )
        yield row, what, by, answer(assessment, _WAYS, row)


def arc_energy_reduction_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large breakers and fuses about whose arc-energy reduction nothing is written."""
    for row, what, by, said in _asked(assessment):
        if not (said.settled or said.denied):
            yield ARC_ENERGY_REDUCTION_NOT_RECORDED.problem(
                row,
                row.remarks,
                f"{what}; how an arc is ended sooner there (a maintenance switch, zone interlocking, a relay) was not "
                f"recorded. {by}.",
                expected="The way that was seen, or none seen",
            )


def arc_energy_reduction_absent(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large breakers and fuses whose remarks say that nothing ends an arc sooner."""
    for row, what, by, said in _asked(assessment):
        if said.denied:
            yield ARC_ENERGY_REDUCTION_ABSENT.problem(
                row,
                row.remarks,
                f"{what}; a means that ends an arc sooner is recorded there as absent or out of order: {said.quoted}. {by}; some of them "
                "do not show from outside.",
                phrase=f"no means that ends an arc sooner, as recorded: {said.quoted}",
                expected="The way that was seen",
            )


_LARGE = {
    "tag": "DP-1", "kind": "Switchboard", "fed_from": "MSB", "rating_a": "1200", "voltage": "480Y/277", "phase": "3",
    "wires": "4", "main_device": "Main breaker",
}  # fmt: skip

ARC_ENERGY_REDUCTION_NOT_RECORDED = Rule(
    slug="arc-energy-reduction-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="A main breaker or fuses of 1200 A or more, up to 1000 V, and nothing is written about a means that ends an arc "
    "sooner. Not asked of a building older than the edition that first asked for it.",
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

ARC_ENERGY_REDUCTION_ABSENT = Rule(
    slug="arc-energy-reduction-absent",
    class_="confirm",
    subject="Equipment",
    what="A main breaker or fuses of 1200 A or more, up to 1000 V, and Remarks say that a means that ends an arc sooner is not "
    "there. Not asked of a building older than the edition that first asked for it.",
    why="At such ratings an arc can burn for long before the device opens by itself.",
    mend="Read the labels again: some ways do not show from outside. Answer Tell the client where none was seen.",
    source="NFPA 70 240.87, 240.67",
    client=Condition(
        work=Work(Trade.ENGINEER, Power.ON, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer say how an arc there is ended, and what can end it sooner.",
    ),
    check=arc_energy_reduction_absent,
    fires=as_typed(equipment=[{**_LARGE, "remarks": "No maintenance switch"}]),
    passes=as_typed(equipment=[{**_LARGE, "remarks": "Maintenance switch on the door"}]),
)

RULES = (ARC_ENERGY_REDUCTION_NOT_RECORDED, ARC_ENERGY_REDUCTION_ABSENT)

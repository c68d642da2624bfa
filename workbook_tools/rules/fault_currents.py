"""Rules about what a fault can make flow, beside what equipment is marked for.

    short-circuit-rating-low    what the transformers ahead can send exceeds the marked rating

Every piece up to the next transformer is compared. What can flow is computed with an unlimited supply
and without the conductors, which bring it down, and without motors, which add: a question, no finding.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Fault currents"


def short_circuit_rating_low(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what the transformers ahead can send with the marked short-circuit rating."""
    rule = SHORT_CIRCUIT_RATING_LOW
    for load in assessment.survey.equipment:
        transformers = assessment.faults.transformers(load)
        if not transformers or assessment.supply.feeds_itself(load) or not assessment.is_in_scope(load):
            continue
        marked, highest = load.short_circuit_rating_ka.value, assessment.faults.highest_ka(load)
        if marked is None:
            yield from rule.unanswered(load, load.short_circuit_rating_ka)
        elif highest is None:
            plates = [plate for plate in map(assessment.plate, transformers) if plate is not None]
            yield from (asked for plate in plates[:1] for asked in rule.ask(load, plate))
        elif highest > marked:
            yield rule.problem(
                load,
                load.short_circuit_rating_ka,
                f"{load.called} is marked {marked:g} kA. {_what_flows(assessment, transformers, highest)}, with an unlimited "
                "supply; the conductors between bring it down, running motors add to it.",
                phrase=f"short-circuit rating of {marked:g} kA where up to about {highest:.1f} kA can flow from "
                f"{listed([one.called for one in transformers])}",
                expected=f"at least {highest:.1f} kA, or a study that shows less",
            )


def _what_flows(assessment: Assessment, transformers: tuple[Equipment, ...], highest: float) -> str:
    said = []
    for one in transformers:
        plate, facts = assessment.plate(one), assessment.facts_of_plate(one)
        if plate is not None and facts is not None:
            tapped = ", to the neutral at its middle" if facts.centre_tapped else ""
            said.append(
                f"{one.called} ({facts.kva:g} kVA, {facts.secondary_volts:g} V, {plate.impedance_percent.value:g} % impedance "
                f"less its tolerance{tapped})"
            )
    together = " together" if len(said) > 1 else ""
    return f"Up to about {highest:.1f} kA can flow at the secondary of {listed(said)}{together}"


_T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
_PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
_RP1 = {"tag": "RP-1", "fed_from": "T-1", "voltage": "208Y/120", "phase": "3", "wires": "4"}

SHORT_CIRCUIT_RATING_LOW = Rule(
    slug="short-circuit-rating-low",
    class_="confirm",
    subject="Equipment",
    what="What the transformers ahead can send into a fault, the supply taken as unlimited, exceeds the marked short-circuit "
    "rating.",
    why="Equipment that must interrupt more than it is marked for can burst; how much really flows only a study tells.",
    mend="Read the marking and the impedance again. If both stand, let it go to the client, to be referred to a licensed "
    "engineer; answer No issue where a study or a posted fault current shows that the rating is enough.",
    source="NFPA 70 110.9",
    needs=(
        Equipment.short_circuit_rating_ka,
        Transformer.kva,
        Transformer.secondary_v,
        Transformer.phase,
        Transformer.impedance_percent,
    ),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.ON, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer study the fault current and the rating.",
        why="In a fault, equipment that has to withstand more than it is marked for can burst.",
    ),
    compares="Short-circuit rating beside the highest fault current",
    check=short_circuit_rating_low,
    fires=as_typed(
        equipment=[_T1, {**_RP1, "short_circuit_rating_ka": "10"}],
        transformers=[{**_PLATE, "impedance_percent": "2"}],
    ),
    passes=as_typed(
        equipment=[_T1, {**_RP1, "short_circuit_rating_ka": "10"}],
        transformers=[{**_PLATE, "impedance_percent": "5"}],
    ),
)

RULES = (SHORT_CIRCUIT_RATING_LOW,)

"""Rules about what feeds what.

    fed-from-unknown                a source that is no tag and no outside source
    supply-loop                     following Fed from comes back to the same tag
    supply-both-ways                the same, and something outside feeds it too: a tie, or a mistake
    voltage-differs-from-source     the voltage cannot be taken from the source's
    phase-exceeds-source            three-phase equipment on a single-phase source
    neutral-not-supplied            a neutral on a source without one
    pv-disconnect-not-recorded      an inverter and no PV disconnect
    sources-not-kept-apart          a generator and another source on one board
    transfer-switch-one-source      a transfer switch that switches between nothing

An unknown source and a loop are causes: what hangs on them is not compared. Voltages of
transformers are in transformers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from workbook_tools.assessment import Assessment, Supplied
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import DIFFERS, Condition, Limit, Paperwork
from workbook_tools.rules.in_words import either
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Field, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Supply"

_MOST_PRINTED = 12


def fed_from_unknown(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for sources that the survey does not have."""
    outside = assessment.survey.template.outside_sources
    for row in assessment.survey.equipment:
        for source in assessment.supply.sources(row):
            if source.rows or source.outside:
                continue
            utility = _utility_of(source.name, outside)
            near = utility or assessment.tag_names.near(source.name)
            hint = f" The nearest tag is {either(near)}." if near and not utility else ""
            yield FED_FROM_UNKNOWN.problem(
                row,
                row.fed_from,
                f"{row.fed_from.heading} {'reads' if row.fed_from.said.strip() == source.name else 'names'} {source.name}, which is neither a tag of this survey nor one of the outside sources "
                f"({', '.join(outside)}).{hint}",
                action=f"Write {either(near)} if that is meant, or add {source.name} to Equipment."
                if near
                else None,
            )


_UTILITY = re.compile(
    r"(?:the )?(?:public )?(?:utility|utilities|utility co(?:mpany|\.)?|(?:electric|power|light) (?:co(?:mpany|\.)?|supply)|grid)"
    r"\s*(?:service|feed|no\.?|number|#|-)*\s*([0-9]{0,2})",
    re.IGNORECASE,
)


def _utility_of(name: str, outside: Sequence[str]) -> list[str]:
    """Return the outside source that somebody calls in their own words: "Utility #2", "power company"."""
    named = _UTILITY.fullmatch(name.strip())
    if named is None or not outside:
        return []
    return [f"{outside[0]} {named[1]}" if named[1] not in ("", "1") else outside[0]]


def _round(loop: Sequence[Equipment]) -> str:
    """Return a loop as it is walked: "A <- B <- A"."""
    tags = [row.called for row in loop]
    if len(tags) > _MOST_PRINTED:
        half = _MOST_PRINTED // 2
        tags = [*tags[:half], f"({len(tags) - _MOST_PRINTED} more)", *tags[-half:]]
    return " <- ".join([*tags, tags[0]])


def supply_loop(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for loops of Fed from; each is reported once, at its first row."""
    for loop in assessment.supply.loops:
        says = (
            f"{loop[0].called} is fed from itself."
            if len(loop) == 1
            else f"Following Fed from comes back to the same tag: {_round(loop)}."
        )
        yield SUPPLY_LOOP.problem(loop[0], loop[0].fed_from, says)


def supply_both_ways(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask about loops that something outside feeds too."""
    for loop in assessment.supply.both_ways:
        yield SUPPLY_BOTH_WAYS.problem(
            loop[0],
            loop[0].fed_from,
            f"{listed([row.called for row in loop[:_MOST_PRINTED]])} are recorded as feeding each other ({_round(loop)}). A tie "
            "breaker between two boards does that, and so does equipment that gives back what it took; otherwise one Fed from "
            "is written the wrong way round.",
            phrase=f"recorded as fed both ways ({_round(loop)})",
            expected="a tie, equipment that gives back, or one direction",
        )


def _standing_in_the_way(
    rule: Rule, assessment: Assessment, reason: str, field: Field[Any], *, of_transformers: bool
) -> Iterator[Problem | NotChecked]:
    """Yield one problem for each row whose sources cannot feed it for a reason, and what could not be compared."""
    apart: dict[Equipment, list[Supplied]] = {}
    for pair in assessment.supplied:
        if pair.source.stock_kind == "Transformer" and not of_transformers:
            continue
        if pair.missing is not None:
            yield rule.not_checked(pair.row, pair.missing, pair.of)
        elif pair.feeding is None or pair.feeding.reason != reason:
            continue
        elif reason == "phase" and assessment.in_a_bank(pair.row):
            continue  # two single-phase units in open delta, or three, give three phases
        elif not (reason == "neutral" and pair.fed_otherwise):
            apart.setdefault(pair.row, []).append(pair)
    for row, pairs in apart.items():
        message, phrase = _said(assessment, row, pairs, reason)
        yield rule.problem(row, row[field], message, phrase=phrase)


def _said(assessment: Assessment, load: Equipment, pairs: Sequence[Supplied], reason: str) -> tuple[str, str]:
    """Return what stands in the way, for the inspector and for the client."""
    row, source = load.called, listed([pair.source.called for pair in pairs])
    sources = list(load.fed_from.value or ()) or ["its source"]
    named, has = listed(sources), "has" if len(sources) == 1 else "have"
    system = assessment.equipment(load).system
    wanted = _volts(system.name if system is not None else load.voltage.said)
    offered = [one for pair in pairs for one in assessment.delivered(pair.source)]
    verb = "gives" if len(pairs) == 1 else "give"
    if reason == "voltage":
        untransformed = "with no transformer recorded between"
        gives = either(list(dict.fromkeys(_volts(one.name) for one in offered)))
        return (
            (
                f"{row} is recorded with {wanted} but is fed from {source}, which {verb} {gives}; unless one of the two is only the rating on a "
                "placard, that takes a transformer between them."
            ),
            f"recorded with {_volts(load.voltage.said)} but fed from {named}, which {has} another voltage, {untransformed}",
        )
    gives = either(list(dict.fromkeys(one.description for one in offered)))
    if reason == "phase":
        return (
            f"{row} is three-phase but is fed from {source}, which {'is' if len(pairs) == 1 else 'are'} single-phase ({gives}).",
            f"three-phase equipment recorded on a single-phase source, {named}",
        )
    needs = system.description if system is not None else wanted
    return (
        f"{row} ({needs}) needs a neutral but is fed from {source}, which {'has' if len(pairs) == 1 else 'have'} none ({gives}).",
        f"recorded with a neutral but fed from {named}, which {has} none",
    )


def _volts(system: str) -> str:
    return f"{system} V" if re.fullmatch(r"[\dY/]+", system) else system


def voltage_differs_from_source(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare each voltage with that of the source, no transformer between."""
    yield from _standing_in_the_way(
        VOLTAGE_DIFFERS_FROM_SOURCE, assessment, "voltage", Equipment.voltage, of_transformers=False
    )


def phase_exceeds_source(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the phases with those of the source, those of transformers by their plates."""
    rule = PHASE_EXCEEDS_SOURCE
    yield from _standing_in_the_way(rule, assessment, "phase", Equipment.phase, of_transformers=True)
    for row in assessment.survey.equipment:
        plate, feeder = assessment.plate(row), assessment.supply.feeder(row)
        if plate is None or plate.phase.value != 3 or feeder is None or row.stock_kind != "Transformer":
            continue
        offered = assessment.delivered(feeder)
        if offered and all(system.phases == 1 for system in offered):
            yield rule.problem(
                plate,
                plate.phase,
                f"{row.called} is a three-phase transformer but is fed from {feeder.called}, which is single-phase "
                f"({either([system.description for system in offered])}).",
                phrase=f"three-phase transformer recorded on a single-phase source, {feeder.called}",
            )


def neutral_not_supplied(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the neutral with that of the source."""
    yield from _standing_in_the_way(
        NEUTRAL_NOT_SUPPLIED, assessment, "neutral", Equipment.wires, of_transformers=True
    )


def pv_disconnect_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for an inverter in a survey without a PV disconnect; said once."""
    kinds = {row.stock_kind for row in assessment.survey.equipment}
    inverters = [row for row in assessment.survey.equipment if row.stock_kind == "PV inverter"]
    if inverters and "PV disconnect" not in kinds:
        yield PV_DISCONNECT_NOT_RECORDED.problem(
            inverters[0],
            inverters[0].kind,
            f"{listed([row.called for row in inverters])} {'is' if len(inverters) == 1 else 'are'} recorded, "
            "but no PV disconnect is.",
            phrase="no photovoltaic disconnect found",
        )


_SWITCHES_OVER = ("Transfer switch", "Control panel", "PV inverter", "Battery system")
"""Kinds that can choose between two sources."""

_KEPT_APART = re.compile(r"transfer|interlock|kirk|parallel|synchroni[sz]", re.IGNORECASE)


def sources_not_kept_apart(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for boards that a generator and another source feed, with no transfer switch between."""
    for row in assessment.survey.equipment:
        sources = assessment.supply.sources(row)
        generators = [
            one.name for one in sources if one.row is not None and one.row.stock_kind == "Generator"
        ]
        others = [one.name for one in sources if one.name not in generators]
        if not generators or row.stock_kind in _SWITCHES_OVER or _KEPT_APART.search(row.remarks.typed):
            continue
        if others:
            yield SOURCES_NOT_KEPT_APART.problem(
                row,
                row.fed_from,
                f"{row.called} is fed from {listed(others)} and from the generator {listed(generators)}, and no transfer switch "
                "stands between. What keeps the two apart was not recorded: a transfer switch, an interlock, or equipment that "
                "runs them in parallel.",
                phrase=f"fed from {listed(others)} and from a generator; what keeps the two apart was not recorded",
                expected="a transfer switch in the list, or in Remarks what keeps them apart",
            )


def transfer_switch_one_source(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transfer switches with fewer than two sources."""
    for row in assessment.survey.equipment:
        sources = assessment.supply.sources(row)
        if row.stock_kind == "Transfer switch" and len(sources) == 1:
            yield TRANSFER_SWITCH_ONE_SOURCE.problem(
                row,
                row.fed_from,
                f"{row.called} is a transfer switch, but only one source is named: {sources[0].name}.",
            )


FED_FROM_UNKNOWN = Rule(
    slug="fed-from-unknown",
    class_="correct",
    subject="Equipment",
    what="The source named is no tag of the survey nor one of the outside sources (Utility, PV array, ...).",
    why="The supply tree breaks here, and nothing that hangs on it can be compared.",
    mend="Correct the name, or add what feeds it to Equipment.",
    source="common practice",
    client=Paperwork(),
    check=fed_from_unknown,
    fires=as_typed(equipment=[{"tag": "RP-2"}, {"tag": "RP-4", "fed_from": "RP-22"}]),
    passes=as_typed(
        equipment=[{"tag": "RP-2", "fed_from": "Utility 2"}, {"tag": "RP-4", "fed_from": "rp -2"}]
    ),
)

SUPPLY_LOOP = Rule(
    slug="supply-loop",
    class_="correct",
    subject="Equipment",
    what="Following Fed from comes back to the same tag; the loop is printed.",
    why="Nothing feeds itself: one of the sources is written the wrong way round.",
    mend="Correct the Fed from that is wrong; the order in the loop is load <- source.",
    source="common practice",
    client=Paperwork(),
    check=supply_loop,
    fires=as_typed(equipment=[{"tag": "DP-1", "fed_from": "RP-1"}, {"tag": "RP-1", "fed_from": "DP-1"}]),
    passes=as_typed(equipment=[{"tag": "DP-1", "fed_from": "Utility"}, {"tag": "RP-1", "fed_from": "DP-1"}]),
)

SUPPLY_BOTH_WAYS = Rule(
    slug="supply-both-ways",
    class_="confirm",
    subject="Equipment",
    what="Following Fed from comes back to the same tag, and one of the boards has a source outside the loop.",
    why="Two boards joined by a tie feed each other; a Fed from that is written the wrong way round looks the same.",
    mend="Answer No issue where it is a tie, or correct the Fed from that is wrong; the order in the loop is load <- source.",
    source="common practice",
    client=Paperwork(),
    check=supply_both_ways,
    fires=as_typed(
        equipment=[{"tag": "DP-1", "fed_from": "Utility; RP-1"}, {"tag": "RP-1", "fed_from": "DP-1"}]
    ),
    passes=as_typed(
        equipment=[{"tag": "DP-1", "fed_from": "Utility; BAT-1"},
                   {"tag": "BAT-1", "kind": "Battery system", "fed_from": "DP-1"}],
    ),
)  # fmt: skip

_WYE_480 = {"voltage": "480Y/277", "phase": "3", "wires": "4"}
_WYE_208 = {"voltage": "208Y/120", "phase": "3", "wires": "4"}

VOLTAGE_DIFFERS_FROM_SOURCE = Rule(
    slug="voltage-differs-from-source",
    class_="confirm",
    subject="Equipment",
    what="The voltage system cannot be taken from the source's without a transformer.",
    why="A voltage or a source is written wrong, or a transformer is missing from the list.",
    mend="Read both placards again; add the transformer that stands between, if there is one.",
    source="ANSI C84.1",
    needs=(Equipment.voltage,),
    client=Condition(work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE), why=DIFFERS),
    compares="Voltage beside that of the source",
    check=voltage_differs_from_source,
    fires=as_typed(equipment=[{"tag": "DP-1", **_WYE_480}, {"tag": "RP-1", "fed_from": "DP-1", **_WYE_208}]),
    passes=as_typed(
        equipment=[{"tag": "DP-1", **_WYE_480},
                   {"tag": "MCC-1", "fed_from": "DP-1", "voltage": "460", "phase": "3", "wires": "3"}],
    ),
)  # fmt: skip

PHASE_EXCEEDS_SOURCE = Rule(
    slug="phase-exceeds-source",
    class_="confirm",
    subject="Equipment",
    what="Three-phase equipment on a single-phase source.",
    why="A single-phase source has no third phase to give.",
    mend="Count the poles of the main on a photo; correct the phase, the voltage or the source.",
    source="physics",
    needs=(Equipment.voltage, Transformer.secondary_v),
    client=Condition(work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE), why=DIFFERS),
    compares="Phases beside those of the source",
    check=phase_exceeds_source,
    fires=as_typed(
        equipment=[{"tag": "LP-1", "voltage": "240", "phase": "1", "wires": "2"},
                   {"tag": "LP-2", "fed_from": "LP-1", "voltage": "240", "phase": "3", "wires": "3"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "LP-1", "voltage": "240", "phase": "3", "wires": "3"},
                   {"tag": "LP-2", "fed_from": "LP-1", "voltage": "240", "phase": "1", "wires": "2"}],
    ),
)  # fmt: skip

NEUTRAL_NOT_SUPPLIED = Rule(
    slug="neutral-not-supplied",
    class_="confirm",
    subject="Equipment",
    what="Equipment with a neutral on a source without one.",
    why="The neutral must come from somewhere: wires or source are written wrong, or a transformer is missing.",
    mend="Look for the neutral at the source; correct the wires, the voltage or the source.",
    source="physics",
    needs=(Equipment.voltage, Transformer.secondary_v),
    client=Condition(work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE), why=DIFFERS),
    compares="Neutral beside that of the source",
    check=neutral_not_supplied,
    fires=as_typed(
        equipment=[{"tag": "MCC-1", "voltage": "480", "phase": "3", "wires": "3"},
                   {"tag": "DP-1", "fed_from": "MCC-1", **_WYE_480}],
    ),
    passes=as_typed(
        equipment=[{"tag": "DP-1", **_WYE_480},
                   {"tag": "MCC-1", "fed_from": "DP-1", "voltage": "480", "phase": "3", "wires": "3"}],
    ),
)  # fmt: skip

PV_DISCONNECT_NOT_RECORDED = Rule(
    slug="pv-disconnect-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="An inverter is recorded and no PV disconnect is.",
    why="Whoever must shut the building down needs to know where the PV system is isolated.",
    mend="Add the PV disconnect, or say in Remarks of the inverter that it has one built in, and answer No issue.",
    source="NFPA 70 690.13",
    client=Condition(
        work=Work(Trade.PHOTOVOLTAIC, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Ask the photovoltaic installer where the supply is cut off from the building, and have it marked.",
        why="Whoever shuts the building down must know where the photovoltaic supply is cut off.",
    ),
    check=pv_disconnect_not_recorded,
    fires=as_typed(equipment=[{"tag": "INV-1", "kind": "PV inverter"}]),
    passes=as_typed(
        equipment=[{"tag": "INV-1", "kind": "PV inverter"}, {"tag": "PVD-1", "kind": "PV disconnect"}]
    ),
)

SOURCES_NOT_KEPT_APART = Rule(
    slug="sources-not-kept-apart",
    class_="confirm",
    subject="Equipment",
    what="A generator and another source feed the same board, and no transfer switch is recorded between.",
    why="A generator that meets the utility unsynchronized is destroyed, and can make the utility's lines live for whoever "
    "works on them.",
    mend="Add the transfer switch, or say in Remarks what keeps the two apart (an interlock, parallel operation).",
    source="NFPA 70 702.5",
    client=Condition(work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE), do="Have a licensed electrician say what keeps generator and utility apart.",
        why="A generator that feeds back can make lines live that others take for dead.",),
    compares="What keeps a generator apart from the utility",
    check=sources_not_kept_apart,
    fires=as_typed(
        equipment=[{"tag": "GEN-1", "kind": "Generator"},
                   {"tag": "MSB", "kind": "Switchboard", "fed_from": "Utility; GEN-1"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "GEN-1", "kind": "Generator"},
                   {"tag": "ATS-1", "kind": "Transfer switch", "fed_from": "Utility; GEN-1"}],
    ),
)  # fmt: skip

TRANSFER_SWITCH_ONE_SOURCE = Rule(
    slug="transfer-switch-one-source",
    class_="confirm",
    subject="Equipment",
    what="A transfer switch is fed from one source only.",
    why="It switches between two; the other is missing from the list or from Fed from.",
    mend="Name both sources: MSB; GEN-1.",
    source="common practice",
    client=Limit(
        one="A second source of this transfer switch was not recorded.",
        many="A second source of these transfer switches was not recorded.",
    ),
    check=transfer_switch_one_source,
    fires=as_typed(equipment=[{"tag": "MSB"}, {"tag": "ATS-1", "kind": "Transfer switch", "fed_from": "MSB"}]),
    passes=as_typed(
        equipment=[{"tag": "MSB"}, {"tag": "GEN-1", "kind": "Generator"},
                   {"tag": "ATS-1", "kind": "Transfer switch", "fed_from": "MSB; GEN-1"}],
    ),
)  # fmt: skip

RULES = (
    FED_FROM_UNKNOWN,
    SUPPLY_LOOP,
    SUPPLY_BOTH_WAYS,
    VOLTAGE_DIFFERS_FROM_SOURCE,
    PHASE_EXCEEDS_SOURCE,
    NEUTRAL_NOT_SUPPLIED,
    PV_DISCONNECT_NOT_RECORDED,
    SOURCES_NOT_KEPT_APART,
    TRANSFER_SWITCH_ONE_SOURCE,
)

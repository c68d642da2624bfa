"""Rules about what feeds a transformer and what it feeds.

    transformer-primary-mismatch      the primary voltage is not the source's
    transformer-secondary-mismatch    a load has another voltage than the secondary
    serves-disagrees                  Serves names equipment whose Fed from names something else
    secondary-protection-check        the first main is above the limit for the secondary current
    short-circuit-rating-low          the highest fault current exceeds the marked rating

A row whose tag is no transformer is not-a-transformer's, and is left alone here; what a label
plate says by itself is in label_plates.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment, TransformerFacts
from workbook_tools.electrical import can_feed, protection_limits
from workbook_tools.rules.client import DIFFERS, Condition, Paperwork, Trade
from workbook_tools.rules.in_words import edition, either
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Transformers"


def _plates(assessment: Assessment) -> Iterator[tuple[Equipment, Transformer, TransformerFacts]]:
    """Each transformer that has a label plate, with it and its facts."""
    for row in assessment.survey.equipment:
        plate = assessment.plate(row)
        if row.stock_kind == "Transformer" and plate is not None:
            yield row, plate, assessment.transformer(plate)


def primary_mismatch(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the primary with what feeds the transformer."""
    rule = TRANSFORMER_PRIMARY_MISMATCH
    for row, plate, facts in _plates(assessment):
        if assessment.supply.feeds_itself(row):
            continue
        for source in (named.row for named in assessment.supply.sources(row)):
            if source is None:
                continue
            offered = assessment.delivered(source)
            wanted = facts.primary.reading.candidates if facts.primary is not None else ()
            if not wanted or (facts.primary is not None and facts.primary.reading.outcome == "conflict"):
                yield from rule.unanswered(plate, plate.primary_v)
            elif not offered:
                of = assessment.plate(source) if source.stock_kind == "Transformer" else None
                yield (
                    rule.not_checked(plate, of.secondary_v, of)
                    if of is not None
                    else rule.not_checked(plate, source.voltage, source)
                )
            elif all("voltage" in can_feed(there, here).reasons for there in offered for here in wanted):
                others = facts.secondary.reading.candidates if facts.secondary is not None else ()
                turned = any(can_feed(there, here) for there in offered for here in others)
                hint = " The secondary agrees with it: are the two sides swapped?" if turned else ""
                yield rule.problem(
                    plate,
                    plate.primary_v,
                    f"{plate.called} has a primary of {plate.primary_v.said} but is fed from "
                    f"{source.called}, which gives {either([system.name for system in offered])}.{hint}",
                    phrase=f"primary of {plate.primary_v.said} V on a source with another voltage",
                )


def secondary_mismatch(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare each secondary with what it feeds; one problem for each transformer."""
    apart: dict[Transformer, list[str]] = {}
    for pair in assessment.supplied:
        plate = assessment.plate(pair.source) if pair.source.stock_kind == "Transformer" else None
        if plate is None:
            continue
        if pair.missing is not None:
            yield TRANSFORMER_SECONDARY_MISMATCH.not_checked(plate, pair.missing, pair.of)
        elif pair.feeding is not None and pair.feeding.reason == "voltage":
            apart.setdefault(plate, []).append(f"{pair.row.called} reads {pair.row.voltage.said}")
    for plate, loads in apart.items():
        yield TRANSFORMER_SECONDARY_MISMATCH.problem(
            plate,
            plate.secondary_v,
            f"{plate.called} has a secondary of {plate.secondary_v.said}, but what it feeds reads otherwise: "
            f"{listed(loads)}.",
            phrase=f"secondary of {plate.secondary_v.said} V where what it feeds is recorded with another voltage",
        )


def serves_disagrees(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare Serves with the Fed from of what it names."""
    for row, plate, _facts in _plates(assessment):
        fed = set(assessment.supply.fed_by(row))
        for name in plate.serves.value or ():
            named = assessment.survey.tagged(name)
            if len(named) != 1 or named[0] in fed:
                continue
            (load,) = named
            sources = assessment.supply.sources(load)
            known = all(source.rows or source.outside for source in sources)
            if load.fed_from.outcome is Outcome.VALUE and known:
                yield SERVES_DISAGREES.problem(
                    plate,
                    plate.serves,
                    f"{plate.called} is said to serve {load.called}, but {load.fed_from.place} says that "
                    f"{load.called} is fed from {load.fed_from.said}.",
                )


def secondary_protection_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the first main on the secondary with the limit for the full-load current."""
    rule, up_to = SECONDARY_PROTECTION_CHECK, assessment.profile.transformer_protection_up_to_volts
    for row, plate, facts in _plates(assessment):
        for load in assessment.supply.fed_by(row):
            device, amps = load.main_device.value, load.rating_a.value
            if device not in ("Main breaker", "Fused switch") or assessment.supply.feeds_itself(load):
                continue
            if amps is None or facts.secondary_amps is None:
                yield from rule.ask(plate, load if amps is None else plate)
                continue
            if up_to is not None and max(facts.primary_volts or 0, facts.secondary_volts or 0) > up_to.number:
                continue  # Table 450.3(A), which depends on who supervises the installation
            limit = protection_limits(
                facts.secondary_amps, "secondary", assessment.profile, fuse=device == "Fused switch"
            )
            most = limit.largest_device if limit.largest_device is not None else limit.amps
            if amps > most:
                at_most = f"{round(most, 1):g} A"
                up = ", rounded up to the next standard rating," if limit.next_size_up else ""
                table = limit.section.removeprefix("NFPA 70 ")
                yield rule.problem(
                    plate,
                    plate.kva,
                    f"{load.called}, the first main on the secondary of {plate.called}, is {amps:g} A. The secondary "
                    f"carries {facts.secondary_amps:.1f} A at full load; {limit.percent} % of that{up} is {at_most}, "
                    f"the limit there ({edition(assessment)} {table}).",
                    phrase=f"first main on the secondary is {amps:g} A where the table gives at most {at_most}",
                    read=f"{amps:g} A",
                    expected=f"at most {at_most}",
                )


def short_circuit_rating_low(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the highest fault current at the secondary with the marked short-circuit rating."""
    rule = SHORT_CIRCUIT_RATING_LOW
    for row, plate, facts in _plates(assessment):
        for load in assessment.supply.fed_by(row):
            marked, highest = load.short_circuit_rating_ka.value, facts.highest_fault_ka
            if assessment.supply.feeds_itself(load):
                continue
            if marked is None:
                if load.stock_kind != "Transformer":
                    yield from rule.unanswered(load, load.short_circuit_rating_ka)
            elif highest is None:
                yield from rule.ask(load, plate)
            elif highest > marked:
                yield rule.problem(
                    load,
                    load.short_circuit_rating_ka,
                    f"{load.called} is marked {marked:g} kA; up to {highest:.1f} kA can flow at the "
                    f"secondary of {plate.called} ({facts.kva:g} kVA, {facts.secondary_volts:g} V, "
                    f"{plate.impedance_percent.value:g} % impedance less its tolerance, nothing ahead of it counted).",
                    phrase=f"short-circuit rating of {marked:g} kA where up to {highest:.1f} kA (an upper bound) can flow from "
                    f"{row.called}",
                    expected=f"at least {highest:.1f} kA, or a study that shows less",
                )


_T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
_PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
_DP1 = {"tag": "DP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"}
_RP1 = {"tag": "RP-1", "fed_from": "T-1", "voltage": "208Y/120", "phase": "3", "wires": "4"}

TRANSFORMER_PRIMARY_MISMATCH = Rule(
    slug="transformer-primary-mismatch",
    class_="confirm",
    subject="Transformers",
    what="The primary voltage is not the source's.",
    why="The source, the primary or the order of the two sides is written wrong; or the unit is fed from its secondary.",
    mend="Read the label plate and the source's placard again. If the unit is fed from its marked secondary, the maker's "
    "instructions must allow it: record a finding.",
    source="nameplate",
    needs=(Transformer.primary_v, Equipment.voltage),
    client=Condition(
        do="Have a licensed electrician compare nameplate, taps and supply.",
        why="A transformer on another voltage than its own gives wrong voltages or overheats.",
    ),
    compares="Primary voltage beside that of the source",
    check=primary_mismatch,
    fires=as_typed(equipment=[_DP1, _T1], transformers=[{**_PLATE, "primary_v": "600"}]),
    passes=as_typed(equipment=[_DP1, _T1], transformers=[_PLATE]),
)

TRANSFORMER_SECONDARY_MISMATCH = Rule(
    slug="transformer-secondary-mismatch",
    class_="confirm",
    subject="Transformers",
    what="Equipment fed by the transformer has another voltage than the secondary.",
    why="The secondary, the equipment's voltage or its source is written wrong.",
    mend="Read the label plate and the placard of the equipment again.",
    source="nameplate",
    needs=(Transformer.secondary_v, Equipment.voltage),
    client=Condition(
        do="Have a licensed electrician compare nameplate, taps and loads.",
        why=DIFFERS,
    ),
    compares="Secondary voltage beside that of the loads",
    check=secondary_mismatch,
    fires=as_typed(equipment=[_T1, _RP1], transformers=[{**_PLATE, "secondary_v": "480Y/277"}]),
    passes=as_typed(equipment=[_T1, _RP1], transformers=[_PLATE]),
)

SERVES_DISAGREES = Rule(
    slug="serves-disagrees",
    class_="confirm",
    subject="Transformers",
    what="Serves names equipment whose Fed from names something else.",
    why="One of the two is wrong, and the supply tree follows Fed from.",
    mend="Correct Serves here, or Fed from in Equipment.",
    source="common practice",
    client=Paperwork(),
    check=serves_disagrees,
    fires=as_typed(
        equipment=[_DP1, _T1, {"tag": "RP-1", "fed_from": "DP-1"}],
        transformers=[{**_PLATE, "serves": "RP-1"}],
    ),
    passes=as_typed(equipment=[_DP1, _T1, _RP1], transformers=[{**_PLATE, "serves": "RP-1"}]),
)

SECONDARY_PROTECTION_CHECK = Rule(
    slug="secondary-protection-check",
    class_="confirm",
    subject="Transformers",
    what="The first main on the secondary is above the limit for that full-load current.",
    why="The transformer can be overloaded without anything opening.",
    mend="Read the main's rating and the label plate again. If both stand, refer it to a licensed electrician; the limit "
    "holds for the transformer, the conductors have their own.",
    source="NFPA 70 450.3(B)",
    needs=(Equipment.rating_a, Transformer.kva, Transformer.secondary_v, Transformer.phase),
    client=Condition(
        do="Have a licensed electrician compare the protection with the transformer's nameplate.",
        why="The transformer can be overloaded without anything switching it off.",
    ),
    compares="Protection on the secondary of transformers",
    check=secondary_protection_check,
    fires=as_typed(
        equipment=[_T1, {**_RP1, "main_device": "Main breaker", "rating_a": "350"}], transformers=[_PLATE]
    ),
    passes=as_typed(
        equipment=[_T1, {**_RP1, "main_device": "Main breaker", "rating_a": "300"}], transformers=[_PLATE]
    ),
)

SHORT_CIRCUIT_RATING_LOW = Rule(
    slug="short-circuit-rating-low",
    class_="report",
    priority="Act now",
    subject="Equipment",
    what="The upper-bound fault current at the transformer's secondary exceeds the marked short-circuit rating.",
    why="Equipment that must interrupt more than it is marked for can burst.",
    mend="Read the marking and the impedance again. If both stand, leave them: it goes to the client, to be referred to a "
    "licensed engineer. The figure is an upper bound; a study may show less.",
    source="NFPA 70 110.9",
    needs=(
        Equipment.short_circuit_rating_ka,
        Transformer.kva,
        Transformer.secondary_v,
        Transformer.phase,
        Transformer.impedance_percent,
    ),
    client=Condition(
        do="Keep the covers closed and people away; have a licensed electrical engineer study the fault current and the rating.",
        trade=Trade.ENGINEER,
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

RULES = (
    TRANSFORMER_PRIMARY_MISMATCH,
    TRANSFORMER_SECONDARY_MISMATCH,
    SERVES_DISAGREES,
    SECONDARY_PROTECTION_CHECK,
    SHORT_CIRCUIT_RATING_LOW,
)

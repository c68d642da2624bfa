"""Rules about what feeds a transformer and what it feeds.

    transformer-primary-mismatch      the primary voltage is not the source's
    transformer-secondary-mismatch    a load has another voltage than the secondary
    serves-disagrees                  Serves names equipment whose Fed from names something else
    plates(assessment)                each transformer with its label plate and what that gives
    sides_in_doubt(...)               whether the direction or a voltage of one is asked about

A row whose tag is no transformer is not-a-transformer's, and is left alone here; what a label
plate says by itself is in label_plates, protection in transformer_protection, fault currents in
fault_currents.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from workbook_tools.assessment import Assessment, Supplied, TransformerFacts
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import VoltageSystem, can_feed, nominal_class
from workbook_tools.rules.client import DIFFERS, Condition, Paperwork
from workbook_tools.rules.in_words import either
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome, Transformer

__all__ = ["RULES", "SUBJECT", "plates", "sides_in_doubt"]

SUBJECT = "Transformers"


def plates(assessment: Assessment) -> Iterator[tuple[Equipment, Transformer, TransformerFacts]]:
    """Each transformer that has a label plate, with it and its facts."""
    seen: set[Transformer] = set()
    for row in assessment.survey.equipment:
        plate = assessment.plate(row)
        if row.stock_kind == "Transformer" and plate is not None and plate not in seen:
            seen.add(plate)  # a doubled tag is duplicate-tag's
            yield row, plate, assessment.transformer(plate)


def _apart(offered: Sequence[VoltageSystem], wanted: Sequence[VoltageSystem]) -> bool:
    """Whether none of the systems offered has the voltage of one that is wanted."""
    return all("voltage" in can_feed(there, here).reasons for there in offered for here in wanted)


def _connected_otherwise(offered: Sequence[VoltageSystem], facts: TransformerFacts) -> bool:
    """Whether a plate names a connection for the source: 240x480 on 480; or a buck-boost unit, whose plate names none."""
    volts = facts.primary.reading.volts if facts.primary is not None else ()
    lines = {nominal_class(system.line_volts) for system in offered}
    return facts.low_secondary or (len(volts) > 1 and not lines.isdisjoint(map(nominal_class, volts)))


def _loads_apart(assessment: Assessment, pair: Supplied) -> bool:
    """Whether a load has another voltage than the secondary; three units in wye give their own times the root of three."""
    if pair.feeding is None or pair.feeding.reason != "voltage":
        return False
    system = assessment.equipment(pair.row).system
    units = {one.line_volts for one in assessment.delivered(pair.source)}
    in_wye = system is not None and system.neutral_volts in units and assessment.in_a_bank(pair.row)
    return not in_wye


def sides_in_doubt(
    assessment: Assessment, row: Equipment, plate: Transformer, facts: TransformerFacts
) -> bool:
    """Whether direction, primary or secondary of a transformer are asked about: what follows from them waits."""
    marked = plate.marked_direction.value
    if (
        marked not in (None, "Not marked")
        and facts.direction
        and facts.direction.casefold() != marked.casefold()
    ):
        return True
    wanted = facts.primary.reading.candidates if facts.primary is not None else ()
    sources = [source.row for source in assessment.supply.sources(row) if source.row is not None]
    offers = [assessment.delivered(source) for source in sources]
    if wanted and any(
        offered and _apart(offered, wanted) and not _connected_otherwise(offered, facts) for offered in offers
    ):
        return True
    return any(
        pair.source is row and _loads_apart(assessment, pair)
        for load in assessment.supply.fed_by(row)
        for pair in assessment.beside_sources(load)
    )


def primary_mismatch(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the primary with what feeds the transformer."""
    rule = TRANSFORMER_PRIMARY_MISMATCH
    for row, plate, facts in plates(assessment):
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
            elif _apart(offered, wanted) and not _connected_otherwise(offered, facts):
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
        elif _loads_apart(assessment, pair):
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
    for row, plate, _facts in plates(assessment):
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
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

RULES = (
    TRANSFORMER_PRIMARY_MISMATCH,
    TRANSFORMER_SECONDARY_MISMATCH,
    SERVES_DISAGREES,
)

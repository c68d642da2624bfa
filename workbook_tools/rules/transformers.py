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

from workbook_tools.assessment import Assessment
from workbook_tools.assessment.supply_paths import feeder
from workbook_tools.electrical import can_feed, protection_limits
from workbook_tools.rules.causes import edition, either, feeds_itself
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed, missing_of
from workbook_tools.rules.supply import supplied
from workbook_tools.survey.model import Outcome, Row

__all__ = ["RULES"]


def _plates(assessment: Assessment) -> Iterator[tuple[Row, Row]]:
    """Each transformer that has a label plate, with it."""
    for row in assessment.survey.equipment:
        plate = assessment.plate(row)
        if row.kind == "Transformer" and plate is not None:
            yield row, plate


def primary_mismatch(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the primary with what feeds the transformer."""
    rule = TRANSFORMER_PRIMARY_MISMATCH
    for row, plate in _plates(assessment):
        if feeds_itself(assessment, row):
            continue
        facts = assessment.transformer(plate)
        for name in assessment.sources(row):
            source = feeder(name)
            if source is None:
                continue
            offered = assessment.delivered(source)
            wanted = facts.primary.reading.candidates if facts.primary is not None else ()
            if not wanted or (facts.primary is not None and facts.primary.reading.outcome == "conflict"):
                missing = missing_of(plate, "primary_v")
                if missing:
                    yield rule.not_checked(assessment, plate, missing)
            elif not offered:
                holder = assessment.plate(source) if source.kind == "Transformer" else source
                field = "secondary_v" if source.kind == "Transformer" else "voltage"
                yield rule.not_checked(assessment, plate, field, holder or source)
            else:
                ways = [can_feed(there, here) for there in offered for here in wanted]
                if all("voltage" in way.reasons for way in ways):
                    turned = any(
                        can_feed(there, here)
                        for there in offered
                        for here in (
                            facts.secondary.reading.candidates if facts.secondary is not None else ()
                        )
                    )
                    hint = " The secondary agrees with it: are the two sides swapped?" if turned else ""
                    yield rule.problem(
                        assessment,
                        plate,
                        "primary_v",
                        f"{plate.subject} has a primary of {plate['primary_v'].typed.strip()} but is fed from "
                        f"{source.subject}, which gives {either([system.name for system in offered])}.{hint}",
                    )


def secondary_mismatch(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare each secondary with what it feeds; one problem for each transformer."""
    apart: dict[int, list[str]] = {}
    plates: dict[int, Row] = {}
    for pair in supplied(assessment):
        plate = assessment.plate(pair.source) if pair.source.kind == "Transformer" else None
        if plate is None:
            continue
        if pair.feeding is None:
            if pair.missing:
                yield TRANSFORMER_SECONDARY_MISMATCH.not_checked(assessment, plate, pair.missing, pair.of)
        elif pair.feeding.reason == "voltage":
            plates[id(plate)] = plate
            apart.setdefault(id(plate), []).append(
                f"{pair.row.subject} reads {pair.row['voltage'].typed.strip()}"
            )
    for key, loads in apart.items():
        plate = plates[key]
        yield TRANSFORMER_SECONDARY_MISMATCH.problem(
            assessment,
            plate,
            "secondary_v",
            f"{plate.subject} has a secondary of {plate['secondary_v'].typed.strip()}, but what it feeds reads otherwise: "
            f"{either(loads, 'and')}.",
        )


def serves_disagrees(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare Serves with the Fed from of what it names."""
    for row, plate in _plates(assessment):
        fed = {id(load) for load in assessment.fed_by(row)}
        for name in plate.get("serves") or ():
            named = assessment.survey.tagged(name)
            if len(named) != 1 or id(named[0]) in fed:
                continue
            load = named[0]
            source = load["fed_from"]
            known = [name for name in assessment.sources(load) if name.rows or name.outside]
            if source.outcome is Outcome.VALUE and len(known) == len(assessment.sources(load)):
                yield SERVES_DISAGREES.problem(
                    assessment,
                    plate,
                    "serves",
                    f"{plate.subject} is said to serve {load.subject}, but {source.sheet}!{source.cell} says that "
                    f"{load.subject} is fed from {source.typed.strip()}.",
                )


def secondary_protection_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the first main on the secondary with the limit for the full-load current."""
    rule = SECONDARY_PROTECTION_CHECK
    for row, plate in _plates(assessment):
        facts = assessment.transformer(plate)
        for load in assessment.fed_by(row):
            device, amps = load.get("main_device"), load.get("rating_a")
            if device not in ("Main breaker", "Fused switch") or feeds_itself(assessment, load):
                continue
            if amps is None or facts.secondary_amps is None:
                missing = (
                    missing_of(load, "rating_a")
                    if amps is None
                    else missing_of(plate, "kva", "secondary_v", "phase")
                )
                if missing:
                    yield rule.not_checked(assessment, plate, missing, load if amps is None else plate)
                continue
            if max(facts.primary_volts or 0, facts.secondary_volts or 0) > 1000:
                continue  # Table 450.3(A), which depends on who supervises the installation
            limit = protection_limits(
                facts.secondary_amps, "secondary", assessment.profile, fuse=device == "Fused switch"
            )
            most = limit.largest_device if limit.largest_device is not None else limit.amps
            if amps > most:
                up = ", rounded up to the next standard rating," if limit.next_size_up else ""
                table = limit.section.removeprefix("NFPA 70 ")
                yield rule.problem(
                    assessment,
                    plate,
                    "kva",
                    f"{load.subject}, the first main on the secondary of {plate.subject}, is {amps:g} A. The secondary "
                    f"carries {facts.secondary_amps:.1f} A at full load; {limit.percent} % of that{up} is {most:g} A, "
                    f"the limit there ({edition(assessment)} {table}).",
                    read=f"{amps:g} A",
                    expected=f"at most {most:g} A",
                )


def short_circuit_rating_low(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the highest fault current at the secondary with the marked short-circuit rating."""
    rule = SHORT_CIRCUIT_RATING_LOW
    for row, plate in _plates(assessment):
        facts = assessment.transformer(plate)
        for load in assessment.fed_by(row):
            marked = load.get("short_circuit_rating_ka")
            if feeds_itself(assessment, load):
                continue
            if marked is None:
                missing = missing_of(load, "short_circuit_rating_ka")
                if missing and load.kind != "Transformer":
                    yield rule.not_checked(assessment, load, missing)
            elif facts.highest_fault_ka is None:
                missing = missing_of(plate, "kva", "secondary_v", "phase", "impedance_percent")
                if missing:
                    yield rule.not_checked(assessment, load, missing, plate)
            elif facts.highest_fault_ka > marked:
                yield rule.problem(
                    assessment,
                    load,
                    "short_circuit_rating_ka",
                    f"{load.subject} is marked {marked:g} kA; up to {facts.highest_fault_ka:.1f} kA can flow at the "
                    f"secondary of {plate.subject} ({facts.kva:g} kVA, {facts.secondary_volts:g} V, "
                    f"{plate.get('impedance_percent'):g} % impedance less its tolerance, nothing ahead of it counted).",
                    expected=f"at least {facts.highest_fault_ka:.1f} kA, or a study that shows less",
                )


_T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
_PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
_DP1 = {"tag": "DP-1", "voltage": "480Y/277", "phase": "3", "wires": "4"}
_RP1 = {"tag": "RP-1", "fed_from": "T-1", "voltage": "208Y/120", "phase": "3", "wires": "4"}

TRANSFORMER_PRIMARY_MISMATCH = Rule(
    slug="transformer-primary-mismatch",
    class_="confirm",
    subject="Transformers",
    needs=("primary_v", "fed_from"),
    what="The primary voltage is not the source's.",
    why="The source, the primary or the order of the two sides is written wrong; or the unit is fed from its secondary.",
    mend="Read the label plate and the source's placard again. If the unit is fed from its marked secondary, the maker's "
    "instructions must allow it: record a finding.",
    source="nameplate",
    check=primary_mismatch,
    fires=as_typed(equipment=[_DP1, _T1], transformers=[{**_PLATE, "primary_v": "600"}]),
    passes=as_typed(equipment=[_DP1, _T1], transformers=[_PLATE]),
)

TRANSFORMER_SECONDARY_MISMATCH = Rule(
    slug="transformer-secondary-mismatch",
    class_="confirm",
    subject="Transformers",
    needs=("secondary_v", "voltage"),
    what="Equipment fed by the transformer has another voltage than the secondary.",
    why="The secondary, the equipment's voltage or its source is written wrong.",
    mend="Read the label plate and the placard of the equipment again.",
    source="nameplate",
    check=secondary_mismatch,
    fires=as_typed(equipment=[_T1, _RP1], transformers=[{**_PLATE, "secondary_v": "480Y/277"}]),
    passes=as_typed(equipment=[_T1, _RP1], transformers=[_PLATE]),
)

SERVES_DISAGREES = Rule(
    slug="serves-disagrees",
    class_="confirm",
    subject="Transformers",
    needs=("serves", "fed_from"),
    what="Serves names equipment whose Fed from names something else.",
    why="One of the two is wrong, and the supply tree follows Fed from.",
    mend="Correct Serves here, or Fed from in Equipment.",
    source="common practice",
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
    needs=("kva", "secondary_v", "phase", "rating_a"),
    what="The first main on the secondary is above the limit for that full-load current.",
    why="The transformer can be overloaded without anything opening.",
    mend="Read the main's rating and the label plate again. If both stand, refer it to a licensed electrician; the limit "
    "holds for the transformer, the conductors have their own.",
    source="NFPA 70 450.3(B)",
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
    needs=("short_circuit_rating_ka", "kva", "secondary_v", "impedance_percent"),
    what="The upper-bound fault current at the transformer's secondary exceeds the marked short-circuit rating.",
    why="Equipment that must interrupt more than it is marked for can burst.",
    mend="Read the marking and the impedance again. If both stand, leave them: it goes to the client, to be referred to a "
    "licensed engineer. The figure is an upper bound; a study may show less.",
    source="NFPA 70 110.9",
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

"""Rules about what protects a panelboard.

    panel-without-protection     main lugs on a transformer secondary or a busway, and no device between
    panel-rating-below-source    the bus is rated less than the device that protects it

A panelboard may be protected in itself or anywhere ahead. What feeds it is compared only where it
is a single device: the branch breaker of a board is not recorded, and its board's rating is not
the branch's. Not here: the protection of the transformer itself (transformer_protection), devices
in an enclosure too small for them (mains).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import answer_in, found_already
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Protection of panelboards"

_SINGLE_DEVICES = (
    "Disconnect switch",
    "Enclosed circuit breaker",
    "PV disconnect",
    "Transfer switch",
    "CT cabinet",
)
"""Kinds through which one circuit passes. A board, a meter center and a busway have branches."""
_USUALLY_WITHOUT = ("Transfer switch", "CT cabinet")
"""Those of them that usually hold no overcurrent device."""


def _is_single(assessment: Assessment, row: Equipment) -> bool:
    """Whether all that passes through a row passes through one device."""
    if row.stock_kind != "Service disconnect":
        return row.stock_kind in _SINGLE_DEVICES
    # A panel that shuts off a service is of this kind too: with one motion and one load it is as good as a switch.
    return row.hand_motions.value in (None, 1) and len(assessment.supply.fed_by(row)) == 1


def _ahead(assessment: Assessment, row: Equipment) -> tuple[list[Equipment], Equipment | None]:
    """Return the single devices ahead of a row, and the board or transformer that they hang on; None for neither."""
    devices: list[Equipment] = []
    feeder = assessment.supply.feeder(row)
    while (
        feeder is not None and _is_single(assessment, feeder) and not assessment.supply.feeds_itself(feeder)
    ):
        devices.append(feeder)
        feeder = assessment.supply.feeder(feeder)
    return devices, feeder


def _panelboards(assessment: Assessment) -> Iterator[Equipment]:
    for row in assessment.survey.equipment:
        if row.stock_kind == "Panelboard" and not assessment.supply.feeds_itself(row):
            yield row


def panel_without_protection(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for panelboards behind a transformer that no device on the secondary protects."""
    rule = PANEL_WITHOUT_PROTECTION
    for row in _panelboards(assessment):
        devices, source = _ahead(assessment, row)
        if source is None or source.stock_kind not in ("Transformer", "Busway"):
            continue
        path = [row, *devices]
        if any(assessment.protective_rating(one) is not None for one in path):
            continue
        # Amperes of a main that stand beside "Main lugs" are those of a device somewhere on the secondary.
        if any(one.main_or_fuse_a.value is not None for one in path):
            continue
        if _is_protected_by(assessment, source, row) or found_already(assessment, rule.slug, row):
            continue
        unsaid = next((one for one in path if _may_hold_a_device(one)), None)
        if unsaid is not None:
            yield rule.not_checked(row, unsaid.main_device, unsaid)
            continue
        if source.stock_kind == "Transformer":
            asks = (
                "A panelboard fed through a transformer is protected on the secondary side "
                f"({edition(assessment)} 408.36(B))."
            )
        else:
            bus, way = row.rating_a, source.rating_a
            if bus.value is None or way.value is None:
                yield from rule.unanswered(row, *((bus, row) if bus.value is None else (way, source)))
                continue
            asks = (
                f"Its bus is rated {bus.value:g} A, the busway {way.value:g} A. A panelboard is protected at no more than its own "
                f"rating ({edition(assessment)} 408.36)."
            )
        between = source.called if source.stock_kind == "Busway" else f"transformer {source.called}"
        yield rule.problem(
            row,
            row.main_device,
            f"{row.called} has no breaker or fuses of its own and is fed from {source.called}; no overcurrent device is "
            f"recorded between the two: is there one that is not in the list? {asks}",
            phrase=f"no breaker or fuses recorded between it and {between}, and no main of its own",
            expected="Main breaker or Fused switch, or a device between",
        )


_PLUGGED_IN = re.compile(r"\bbus[\s-]*plug|\bplug[\s-]*in (?:unit|switch|fuse)|\btap[\s-]*off", re.IGNORECASE)


def _is_protected_by(assessment: Assessment, source: Equipment, row: Equipment) -> bool:
    """Whether what is ahead of a transformer protects the panelboard too.

    Of a busway: whether a unit on it is written about, or the panel's bus is as large as the busway's.
    """
    if source.stock_kind == "Transformer":
        return _protected_by_the_primary(assessment, row, source)
    if answer_in(_PLUGGED_IN, row.remarks.typed).there:
        return True
    bus, way = row.rating_a, source.rating_a
    plausible = all(assessment.is_plausible(one) for one in (bus, way) if one.value is not None)
    return not plausible or (bus.value is not None and way.value is not None and way.value <= bus.value)


def _may_hold_a_device(row: Equipment) -> bool:
    """Whether nobody recorded if a row holds an overcurrent device, and it may."""
    said = row.main_device
    return (
        said.outcome not in (Outcome.VALUE, Outcome.NOT_APPLICABLE) and row.stock_kind not in _USUALLY_WITHOUT
    )


def _protected_by_the_primary(assessment: Assessment, row: Equipment, transformer: Equipment) -> bool:
    """Whether the device ahead of the primary protects the secondary side too.

    So it does where the secondary is single-phase with two wires, or three-phase with three wires
    behind a delta primary: NFPA 70 240.21(C)(1), which 408.36(B) excepts (240.21(C)(1) from memory).
    """
    systems = assessment.delivered(transformer)
    system = systems[0] if len(systems) == 1 else assessment.own_system(row)
    if system is None:
        return False
    above = assessment.system_taken(transformer)
    two_wire = (system.phases, system.wires) == (1, 2)
    delta = (system.phases, system.wires) == (3, 3) and "delta" in system.connection
    if not (two_wire or (delta and (above is None or above.connection != "wye"))):
        return False
    return not _primary_too_large(assessment, row, transformer)


def _primary_too_large(assessment: Assessment, row: Equipment, transformer: Equipment) -> bool:
    """Whether the primary device is known, and by the ratio of the voltages too large for the panelboard."""
    plate, source = assessment.plate(transformer), assessment.supply.feeder(transformer)
    ratio = assessment.transformer(plate).turns_ratio if plate is not None else None
    if source is None or ratio is None or not _is_single(assessment, source):
        return False
    device, bus = assessment.protective_rating(source), row.rating_a.value
    amps = device.value if device is not None else None
    return amps is not None and bus is not None and amps * ratio > bus * _ROUNDING


_ROUNDING = 1.001  # what nominal voltages leave in a ratio: 480 to 277 is 1.7329, not 1.7321


def panel_rating_below_source(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the bus of each panelboard with the device that protects it: its own main, else one ahead."""
    rule = PANEL_RATING_BELOW_SOURCE
    for row in _panelboards(assessment):
        own = assessment.protective_rating(row)
        if own is row.rating_a:
            continue  # the main's own rating is not known apart from the bus
        devices = [row] if own is not None else _ahead(assessment, row)[0]
        ratings = [(one, cell) for one in devices if (cell := assessment.protective_rating(one)) is not None]
        if not ratings or found_already(assessment, rule.slug, row):
            continue
        known = [(cell.value, one, cell) for one, cell in ratings if cell.value is not None]
        bus = row.rating_a.value
        smallest = min(known, key=lambda found: found[0], default=None)
        if bus is None:
            yield from rule.ask(row)
        elif not all(
            assessment.is_plausible(cell) for cell in (row.rating_a, *(cell for _, _, cell in known))
        ) or (smallest is not None and smallest[0] <= bus):
            continue
        elif len(known) < len(ratings):
            one, cell = next((one, cell) for one, cell in ratings if cell.value is None)
            yield from rule.unanswered(row, cell, one)
        elif smallest is not None:
            amps, one, cell = smallest
            whose = "its own main" if one is row else f"{one.called}, which feeds it,"
            frame = (
                f" Of {one.called} the switch is rated so; its fuses may be smaller."
                if one.main_device.value == "Fused switch" and cell is one.rating_a
                else ""
            )
            yield rule.problem(
                row,
                row.rating_a,
                f"The bus of {row.called} is rated {bus:g} A; {whose} is {amps:g} A. A panelboard is protected at no more "
                f"than its own rating ({edition(assessment)} 408.36).{frame}",
                phrase=f"bus rated {bus:g} A, and {amps:g} A at {'its main' if one is row else one.called}",
                expected=f"at least {amps:g} A, or a smaller device",
            )


_T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DP-1"}
_PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
_RP1 = {
    "tag": "RP-1", "kind": "Panelboard", "fed_from": "T-1", "rating_a": "225", "voltage": "208Y/120", "phase": "3", "wires": "4",
}  # fmt: skip

PANEL_WITHOUT_PROTECTION = Rule(
    slug="panel-without-protection",
    class_="confirm",
    subject="Equipment",
    what="A panelboard with main lugs is fed from a transformer, or from a busway larger than its bus, and no breaker or fuses are "
    "recorded between.",
    why="The device ahead of a transformer or a busway does not protect a smaller bus behind it: it can be overloaded without "
    "anything opening.",
    mend="Look for a breaker or fuses between the two: add the enclosure to Equipment, or write its amperes in Main or fuse "
    "rating, and in Remarks where it is. Where there is none, say so in Remarks and answer Tell the client.",
    source="NFPA 70 408.36(B), 240.21(C)",
    needs=(Equipment.main_device,),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician find out what protects the panel.",
        why="Without protection between the source and the panel its bus can be overloaded.",
    ),
    compares="Protection of panels behind transformers and busways",
    check=panel_without_protection,
    fires=as_typed(equipment=[_T1, {**_RP1, "main_device": "Main lugs"}], transformers=[_PLATE]),
    passes=as_typed(equipment=[_T1, {**_RP1, "main_device": "Main breaker"}], transformers=[_PLATE]),
)

_DS1 = {"tag": "DS-1", "kind": "Enclosed circuit breaker", "rating_a": "400"}
_LP1 = {"tag": "LP-1", "kind": "Panelboard", "fed_from": "DS-1", "main_device": "Main lugs"}

PANEL_RATING_BELOW_SOURCE = Rule(
    slug="panel-rating-below-source",
    class_="confirm",
    subject="Equipment",
    what="The bus of a panelboard is rated less than the device that protects it: its own main, or the switch or breaker "
    "that feeds it.",
    why="The bus can carry more than it is made for without anything opening.",
    mend="Read both ratings again, and the fuses inside a switch: write them in Main or fuse rating. Add a main that the "
    "panel has. Where both stand, answer Tell the client.",
    source="NFPA 70 408.36",
    needs=(Equipment.rating_a,),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician compare the panel's rating with what protects it.",
        why="The panel can carry more current than it is made for without anything switching it off.",
    ),
    compares="Rating of panels beside the device that feeds them",
    check=panel_rating_below_source,
    fires=as_typed(equipment=[_DS1, {**_LP1, "rating_a": "225"}]),
    passes=as_typed(equipment=[_DS1, {**_LP1, "rating_a": "400"}]),
)

RULES = (PANEL_WITHOUT_PROTECTION, PANEL_RATING_BELOW_SOURCE)

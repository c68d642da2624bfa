"""Rules about the overcurrent protection of transformers.

    secondary-protection-check    the mains on the secondary are above the limit for its current
    primary-protection-check      the device ahead of the primary is above the limit for its current

The limits are those of Table 450.3(B), for the transformer alone; conductors have their own. Where
direction or voltages are in doubt, the limits follow from what is asked there, and nothing is said here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from workbook_tools.assessment import Assessment, TransformerFacts
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import ProtectionLimit, protection_limits
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import edition
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.transformers import plates, sides_in_doubt
from workbook_tools.survey import Equipment, Transformer, Value

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Protection of transformers"

_MOST_MAINS = 6
"""Mains that may stand for one, grouped in one place and adding up to no more than it (Table 450.3(B) note 2)."""

_ONE_DEVICE = ("Disconnect switch", "Enclosed circuit breaker", "Service disconnect")
"""Kinds that hold one overcurrent device: what they feed is protected by it."""


class _Device(NamedTuple):
    """An overcurrent device: the row that holds it and the cell of its amperes."""

    row: Equipment
    rated: Value[float]

    @property
    def amps(self) -> float:
        return self.rated.value or 0

    @property
    def is_frame(self) -> bool:
        """Whether only the bus or the frame is known, which may be larger than the breaker or fuses in it."""
        return self.rated is self.row.rating_a and self.row.stock_kind != "Enclosed circuit breaker"

    @property
    def is_fuse(self) -> bool:
        return self.row.main_device.value == "Fused switch"


def _judged(
    assessment: Assessment,
) -> Iterator[tuple[Equipment, Transformer, TransformerFacts]]:
    """Each transformer whose protection Table 450.3(B) limits, its voltages not in doubt."""
    up_to = assessment.profile.transformer_protection_up_to_volts
    for row, plate, facts in plates(assessment):
        highest = max(facts.primary_volts or 0, facts.secondary_volts or 0)
        beyond = up_to is not None and highest > up_to.number  # Table 450.3(A) depends on who supervises
        if not beyond and not facts.low_secondary and not sides_in_doubt(assessment, row, plate, facts):
            yield row, plate, facts


def _mains(assessment: Assessment, transformer: Equipment) -> list[_Device]:
    """Return the first devices on the secondary; a switch without fuses is looked through."""
    found: list[_Device] = []
    seen: set[Equipment] = set()
    front = list(assessment.supply.fed_by(transformer))
    while front:
        load = front.pop(0)
        if load in seen or load.stock_kind == "Transformer" or assessment.supply.feeds_itself(load):
            continue
        seen.add(load)
        rated = assessment.protective_rating(load)
        if rated is not None and not assessment.in_a_bank(load):
            found.append(_Device(load, rated))
        elif load.main_device.value == "Switch without fuses":
            front = [*assessment.supply.fed_by(load), *front]
    return found


def _names(transformers: list[Equipment]) -> str:
    return listed([one.called for one in transformers])


def _side(transformers: list[Equipment]) -> str:
    return "secondary" if len(transformers) == 1 else "secondary of all together"


def _limit(assessment: Assessment, amps: float, case: str, *, fuse: bool) -> tuple[ProtectionLimit, float]:
    limit = protection_limits(amps, case, assessment.profile, fuse=fuse)
    return limit, limit.largest_device if limit.largest_device is not None else limit.amps


def _how_far(assessment: Assessment, side: str, amps: float, limit: ProtectionLimit, most: float) -> str:
    up = ", rounded up to the next standard rating," if limit.next_size_up else ""
    table = limit.section.removeprefix("NFPA 70 ")
    return (
        f"The {side} carries {amps:.1f} A at full load; {limit.percent} % of that{up} is {round(most, 1):g} A, the limit "
        f"there ({edition(assessment)} {table})."
    )


def _if_frames(devices: list[_Device]) -> str:
    frames = [device.row.called for device in devices if device.is_frame]
    if not frames:
        return ""
    column = devices[0].row.main_or_fuse_a.heading
    return f" That is the rating of {listed(frames)}; whether the breaker or the fuses in it are smaller was not recorded ({column})."


def secondary_protection_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the mains on the secondary with the limit for the full-load current."""
    rule = SECONDARY_PROTECTION_CHECK
    judged = {row: (plate, facts) for row, plate, facts in _judged(assessment)}
    mains = {row: _mains(assessment, row) for row, _plate, _facts in plates(assessment)}
    behind: dict[Equipment, list[Equipment]] = {}
    for row, found in mains.items():
        for device in found:
            behind.setdefault(device.row, []).append(row)
    taken: set[Equipment] = set()
    for row, (plate, _facts) in judged.items():
        if row in taken:
            continue
        devices = mains[row]
        # Transformers that share a main are protected as one of their sum.
        together_with = list(dict.fromkeys((row, *(one for device in devices for one in behind[device.row]))))
        taken.update(together_with)
        plates_there = [judged[one] for one in together_with if one in judged]
        if len(plates_there) < len(together_with):
            continue  # one of them is in doubt, or has no plate
        amps = [facts.secondary_amps for _plate, facts in plates_there]
        for device in devices:
            if device.rated.value is None:
                if device.rated is device.row.rating_a:
                    yield from rule.ask(plate, device.row)
                else:
                    yield from rule.unanswered(plate, device.rated, device.row)
        known = [device for device in devices if device.rated.value is not None]
        if known and None in amps:
            lacking = next(of for of, facts in plates_there if facts.secondary_amps is None)
            yield from rule.ask(lacking, lacking)
        if not known or None in amps:
            continue
        full_load = sum(one for one in amps if one is not None)
        fuse = all(device.is_fuse for device in known)
        limit, most = _limit(assessment, full_load, "secondary", fuse=fuse)
        together = sum(device.amps for device in known)
        if together <= most and len(devices) <= _MOST_MAINS:
            continue
        names = listed([f"{device.row.called} {device.amps:g} A" for device in known])
        if len(devices) == 1:
            said = f"{known[0].row.called}, the first main on the secondary of {_names(together_with)}, is {together:g} A"
            phrase = f"first main on the secondary is {together:g} A where the table gives at most {round(most, 1):g} A"
        elif together > most:
            said = (
                f"The mains on the secondary of {_names(together_with)} add up to {together:g} A ({names}); up to {_MOST_MAINS} in one "
                "place may stand for one"
            )
            phrase = f"mains on the secondary add up to {together:g} A where the table gives at most {round(most, 1):g} A"
        else:
            said = f"{len(devices)} mains stand on the secondary of {_names(together_with)} ({names}); up to {_MOST_MAINS} may stand for one"
            phrase = f"{len(devices)} mains on the secondary where {_MOST_MAINS} is the most"
        yield rule.problem(
            plate,
            plate.kva,
            f"{said}. {_how_far(assessment, _side(together_with), full_load, limit, most)}{_if_frames(known)}",
            phrase=phrase,
            read=f"{together:g} A",
            expected=f"at most {round(most, 1):g} A",
        )


def _ahead(assessment: Assessment, transformer: Equipment) -> _Device | None:
    """Return the device ahead of a transformer: its own, or the one of the switch or breaker that feeds it."""
    own = transformer.main_or_fuse_a
    if own.value is not None:
        return _Device(transformer, own)
    row, seen = assessment.supply.feeder(transformer), {transformer}
    while row is not None and row not in seen and row.stock_kind in _ONE_DEVICE:
        rated = assessment.protective_rating(row)
        if rated is not None:
            return _Device(row, rated)
        if row.main_device.value != "Switch without fuses":
            return None
        seen.add(row)
        row = assessment.supply.feeder(row)
    return None  # a board holds many devices, and which one it is was not recorded


def _secondary_is_protected(assessment: Assessment, row: Equipment, facts: TransformerFacts) -> bool | None:
    """Whether mains within the limit protect the secondary; None where that is not known."""
    loads, mains = assessment.supply.fed_by(row), _mains(assessment, row)
    if facts.secondary_amps is None or any(device.rated.value is None for device in mains):
        return None
    if not mains:
        bare = loads and all(load.main_device.value == "Main lugs" for load in loads)
        return False if bare else None
    limit = _limit(assessment, facts.secondary_amps, "secondary", fuse=all(one.is_fuse for one in mains))[1]
    # A frame that is larger says nothing of the breaker or the fuses in it.
    within = sum(device.amps for device in mains) <= limit
    return True if within else None if any(device.is_frame for device in mains) else False


def primary_protection_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the device ahead of the primary with the limit for the full-load current."""
    rule = PRIMARY_PROTECTION_CHECK
    for row, plate, facts in _judged(assessment):
        device = _ahead(assessment, row)
        if device is None or assessment.supply.feeds_itself(row):
            continue
        if device.rated.value is None:
            yield from rule.unanswered(plate, device.rated, device.row)
            continue
        if facts.primary_amps is None:
            yield from rule.ask(plate, plate)
            continue
        protected = _secondary_is_protected(assessment, row, facts)
        # The higher limit where nobody knows: what is above it is above both.
        case = "primary only" if protected is False else "primary with secondary"
        limit, most = _limit(assessment, facts.primary_amps, case, fuse=device.is_fuse)
        if device.amps <= most:
            continue
        where = (
            f"The device of {plate.called}"
            if device.row is row
            else f"{device.row.called}, ahead of {plate.called},"
        )
        on_the_secondary = {
            True: "With a main on the secondary",
            False: "Without a main on the secondary",
            None: "Even with a main on the secondary, and none was recorded",
        }[protected]
        yield rule.problem(
            plate,
            plate.kva,
            f"{where} is {device.amps:g} A. {on_the_secondary}: "
            f"{_lower(_how_far(assessment, 'primary', facts.primary_amps, limit, most))}{_if_frames([device])}",
            phrase=f"the device ahead of the primary is {device.amps:g} A where the table gives at most {round(most, 1):g} A",
            read=f"{device.amps:g} A",
            expected=f"at most {round(most, 1):g} A",
        )


def _lower(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:]


_T1 = {"tag": "T-1", "kind": "Transformer", "fed_from": "DS-1"}
_PLATE = {"tag": "T-1", "kva": "75", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}
_DS1 = {
    "tag": "DS-1",
    "kind": "Disconnect switch",
    "main_device": "Fused switch",
    "voltage": "480",
    "phase": "3",
    "wires": "3",
}
_RP1 = {
    "tag": "RP-1",
    "fed_from": "T-1",
    "main_device": "Main breaker",
    "voltage": "208Y/120",
    "phase": "3",
    "wires": "4",
}

SECONDARY_PROTECTION_CHECK = Rule(
    slug="secondary-protection-check",
    class_="confirm",
    subject="Transformers",
    what="The first main on the secondary, or the mains that stand there together, are above the limit for that full-load "
    "current.",
    why="The transformer can be overloaded without anything opening.",
    mend="Read the main's rating and the label plate again; a main smaller than its bus or frame goes into Main or fuse "
    "rating. If all stand, refer it to a licensed electrician; the limit holds for the transformer, the conductors have "
    "their own.",
    source="NFPA 70 450.3(B)",
    needs=(Equipment.rating_a, Transformer.kva, Transformer.secondary_v, Transformer.phase),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician compare the protection with the transformer's nameplate.",
        why="The transformer can be overloaded without anything switching it off.",
    ),
    compares="Protection on the secondary of transformers",
    check=secondary_protection_check,
    fires=as_typed(equipment=[_T1, {**_RP1, "rating_a": "350"}], transformers=[_PLATE]),
    passes=as_typed(equipment=[_T1, {**_RP1, "rating_a": "300"}], transformers=[_PLATE]),
)

PRIMARY_PROTECTION_CHECK = Rule(
    slug="primary-protection-check",
    class_="confirm",
    subject="Transformers",
    what="The fuses or the breaker ahead of the primary are above the limit for that full-load current.",
    why="The transformer can be overloaded without anything opening.",
    mend="Read the rating of the fuses or the breaker and the label plate again; fuses smaller than their switch go into Main "
    "or fuse rating. If all stand, refer it to a licensed electrician.",
    source="NFPA 70 450.3(B)",
    needs=(Transformer.kva, Transformer.primary_v, Transformer.phase),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician compare the protection with the transformer's nameplate.",
        why="The transformer can be overloaded without anything switching it off.",
    ),
    compares="Protection ahead of transformers",
    check=primary_protection_check,
    fires=as_typed(equipment=[{**_DS1, "rating_a": "400"}, _T1], transformers=[_PLATE]),
    passes=as_typed(
        equipment=[{**_DS1, "rating_a": "400", "main_or_fuse_a": "200"}, _T1], transformers=[_PLATE]
    ),
)

RULES = (SECONDARY_PROTECTION_CHECK, PRIMARY_PROTECTION_CHECK)

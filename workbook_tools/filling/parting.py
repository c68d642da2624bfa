"""Which columns of the survey the quantities of one cell fill.

    with_parts(plan, template)       a plan whose columns name every target that their cells fill
    parted(target, text)             each target with its part, and whether the cell was changed for it
    one_source(text, tags)           the tag of "DP-1, ckt 12"; several as "MSB; GEN-1"

A cell that says more than its column asks is parted, and the whole of it is kept in a column of its own.

Not here: how a cell is taken apart (compound).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from functools import lru_cache
from typing import NamedTuple

from workbook_tools.definitions import Template, plain
from workbook_tools.filling.column_values import said_in
from workbook_tools.filling.compound import Parts, counts_of, parts_of, several_tags
from workbook_tools.filling.model import Target
from workbook_tools.filling.plans import (
    DEVICE,
    FAULT,
    KVA,
    MAIN,
    PHASE,
    PRIMARY,
    RATING,
    SECONDARY,
    VOLTAGE,
    WIRES,
    Plan,
)

__all__ = ["PARTS", "Parted", "one_source", "parted", "with_parts"]


_PARTED = {
    RATING: None, VOLTAGE: None, MAIN: None, DEVICE: None, KVA: None,
    PHASE: (PHASE, WIRES), WIRES: (PHASE, WIRES), PRIMARY: (PRIMARY, SECONDARY), SECONDARY: (SECONDARY,),
}  # fmt: skip
"""The columns whose cells are parted, and what may be taken out of them (None: everything)."""

_SYSTEM = frozenset((VOLTAGE, PHASE, WIRES))
PARTS = frozenset((RATING, MAIN, DEVICE, VOLTAGE, PHASE, WIRES, FAULT, KVA, PRIMARY, SECONDARY))
"""The columns that take a part of a cell, and never the whole of one that says something else."""

_LUGS = "Main lugs"
_CIRCUIT = re.compile(
    r"(.+?)[\s,;:(/-]+(?:ckts?|cct|cir|circuits?|cb|bkr|breakers?|spaces?|poles?|#)[\s.:#]*[\w ,.&/-]*\)?",
    re.IGNORECASE,
)


class Parted(NamedTuple):
    """The texts for each target, and whether the cell itself has to be kept beside them."""

    texts: Mapping[Target, str]
    keep: bool


def with_parts(plan: Plan, template: Template) -> Plan:
    """Name for each column every target that its cells fill; those that have a column of their own are left."""
    taken = {target for one in plan.columns.values() for target in one.targets}
    for column, one in plan.columns.items():
        if not one.targets or one.targets[0] not in _PARTED or column in plan.forced:
            continue
        more: dict[Target, None] = {}
        for text in said_in(plan.table.texts(column)):
            more |= dict.fromkeys(
                target for target in parted(one.targets[0], text).texts if _is_there(target, template)
            )
        fresh = [target for target in more if target not in taken]
        one.targets = (*one.targets, *fresh)
        if fresh:
            one.why += "; its cells say more than one thing, and are kept whole beside it"
    return plan


def _is_there(target: Target, template: Template) -> bool:
    sheet = template.by_key.get(target.key)
    return sheet is not None and target.field in sheet.by_field


@lru_cache(maxsize=16384)
def parted(base: Target, text: str) -> Parted:
    """Part a cell of a column that goes to `base`.

    Examples
    --------
    >>> from workbook_tools.filling.plans import PHASE, RATING, VOLTAGE, WIRES
    >>> said = parted(RATING, "225A 208Y/120 3PH 4W")
    >>> said.texts[RATING], said.texts[VOLTAGE], said.texts[WIRES], said.keep
    ('225A', '208Y/120', '4', True)
    >>> parted(RATING, "400 A").keep, parted(VOLTAGE, "240/120V delta high leg 3PH 4W").texts[VOLTAGE]
    (False, '240/120V delta high leg 3PH 4W')
    >>> parted(WIRES, "3/4").texts == parted(WIRES, "3ph/4w").texts == {PHASE: "3", WIRES: "4"}
    True
    >>> parted(VOLTAGE, "208Y/120V, 600A").texts[VOLTAGE], parted(VOLTAGE, "208Y/120 3PH 4W").keep
    ('208Y/120V', False)
    """
    counts = counts_of(text) if base in (PHASE, WIRES) else None
    if counts is not None:
        return Parted(dict(zip((PHASE, WIRES), counts, strict=True)), True)
    allowed = _PARTED.get(base, ())
    parts = parts_of(text)
    found = _by_target(base, parts) if base in _PARTED else {}
    if allowed is not None:
        found = {target: part for target, part in found.items() if target in allowed}
    if not found or set(found) == {base}:
        return Parted({base: text}, False)
    if base in found and (
        any(c.isalpha() for c in parts.rest) or (base == VOLTAGE and found.keys() <= _SYSTEM)
    ):
        # A voltage may stand with its phases and wires; and what was not understood may change what is meant.
        return Parted({**found, base: text}, False)
    return Parted(found, True)


def _by_target(base: Target, parts: Parts) -> dict[Target, str]:
    mains = base in (DEVICE, MAIN) and parts.main_device != _LUGS
    volts = base if base in (PRIMARY, SECONDARY) else VOLTAGE
    found = {
        MAIN if mains else RATING: parts.amperes, VOLTAGE if volts is VOLTAGE else volts: parts.voltage, PHASE: parts.phase,
        WIRES: parts.wires, DEVICE: parts.main_device, FAULT: parts.kiloamperes, KVA: parts.kva, PRIMARY: parts.primary,
        SECONDARY: parts.secondary,
    }  # fmt: skip
    if volts is not VOLTAGE and parts.voltage:
        found[volts] = parts.voltage
    if parts.trip:
        found[MAIN] = parts.trip
    return {target: text for target, text in found.items() if text}


def one_source(text: str, tags: Collection[str]) -> str:
    """Return what feeds a piece as tags alone, "" where the cell is to stay as it is.

    Parameters
    ----------
    text : str
        "DP-1, ckt 12", "MSB / GEN-1".
    tags : collection of str
        The tags of the list, as `plain` makes them.

    Examples
    --------
    >>> one_source("DP-1, ckt 12", {"dp-1"}), one_source("MSB / GEN-1", set()), one_source("DP-9 (2)", {"dp-1"})
    ('DP-1', 'MSB; GEN-1', '')
    """
    if plain(text) in tags:
        return ""
    circuit = _CIRCUIT.fullmatch(text.strip())
    if circuit is not None and plain(circuit[1]) in tags:
        return circuit[1].strip()
    several = several_tags(text) if "/" in text else ()
    return "; ".join(several)

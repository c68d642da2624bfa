"""What is planned for a table, and the columns of the survey that lists have most to say of.

    Plan, ColumnPlan                  the sheet of a table's rows, and where each of its columns goes
    named_elsewhere(plan, template)   the plan, with the sheets that its tags name rows of too
    RATING, VOLTAGE, KVA, ...         those columns, as targets

Not here: how a plan comes about (placing).
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, field

from workbook_tools.definitions import Template
from workbook_tools.filling.model import SERVED, Target
from workbook_tools.filling.tables import Table
from workbook_tools.survey import Clearance, Equipment, Room, Transformer
from workbook_tools.survey.found_headings import identity_of

__all__ = [
    "DEVICE",
    "FAULT",
    "FED_FROM",
    "FEEDS_THEM",
    "KIND",
    "KVA",
    "LEVEL",
    "MAIN",
    "OF_TAGS",
    "PHASE",
    "PRIMARY",
    "RATING",
    "ROOM",
    "SECONDARY",
    "SERVES",
    "VOLTAGE",
    "VOLTAGE_RATING",
    "WIRES",
    "ColumnPlan",
    "Forced",
    "Plan",
    "named_elsewhere",
]


def _of_equipment(name: str) -> Target:
    return Target(Equipment.key, name)


KIND, ROOM, FED_FROM = map(_of_equipment, (Equipment.kind.name, Equipment.room.name, Equipment.fed_from.name))
RATING, MAIN, DEVICE = map(
    _of_equipment, (Equipment.rating_a.name, Equipment.main_or_fuse_a.name, Equipment.main_device.name)
)
VOLTAGE, PHASE, WIRES = map(
    _of_equipment, (Equipment.voltage.name, Equipment.phase.name, Equipment.wires.name)
)
VOLTAGE_RATING, FAULT = map(
    _of_equipment, (Equipment.voltage_rating.name, Equipment.short_circuit_rating_ka.name)
)
FEEDS_THEM = _of_equipment(SERVED)
KVA, SERVES = Target(Transformer.key, Transformer.kva.name), Target(Transformer.key, Transformer.serves.name)
PRIMARY = Target(Transformer.key, Transformer.primary_v.name)
SECONDARY = Target(Transformer.key, Transformer.secondary_v.name)
LEVEL = Target(Room.key, Room.level.name)

OF_TAGS = (Equipment.key, Transformer.key, Clearance.key)
"""The sheets whose rows are of one tag."""

Forced = Callable[[Table, int], tuple[Target, ...] | None]
"""What a placement file says of a column of a table: its targets, none for an extra, None for nothing."""


@dataclass
class ColumnPlan:
    """Where one column goes, and why; `unit` is what its heading states."""

    column: int
    heading: str
    samples: tuple[str, ...]
    targets: tuple[Target, ...] = ()
    why: str = ""
    sure: float = 1.0
    doubt: bool = False
    unit: str = ""


@dataclass
class Plan:
    """Where a table goes: `key` is the sheet of its rows, "" where it is set aside; `forced` columns were corrected by hand."""

    table: Table
    key: str
    columns: dict[int, ColumnPlan] = field(default_factory=dict)
    forced: Collection[int] = ()

    def column_of(self, target: Target) -> int:
        """Return the column that fills a target, 0 for none."""
        return next((c for c, plan in self.columns.items() if target in plan.targets), 0)


def named_elsewhere(plan: Plan, template: Template) -> Plan:
    """Say of the column of tags that it names the rows of the other sheets too that the table fills."""
    tags = (
        plan.column_of(Target(plan.key, identity_of(template.by_key[plan.key]))) if plan.key in OF_TAGS else 0
    )
    if tags and tags not in plan.forced:
        filled = {target.key for one in plan.columns.values() for target in one.targets}
        more = (
            Target(key, identity_of(template.by_key[key])) for key in OF_TAGS if key in filled - {plan.key}
        )
        plan.columns[tags].targets += tuple(
            target for target in more if target not in plan.columns[tags].targets
        )
    return plan

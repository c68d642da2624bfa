"""What an assessment answers with.

    Source             one name of a Fed from cell
    EquipmentFacts     system, volts to ground, sources
    TransformerFacts   direction, ratio, amperes, highest fault current
    ClearanceFacts     needed and measured, compared
    Comparison         a measured length beside what is needed
    Supplied           a piece of equipment beside one of its sources

A fact that cannot be known is None. Not here: how they come about (assessing, supply).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from workbook_tools.electrical import Feeding, Length, Limit, TransformerSide, VoltageReading, VoltageSystem
from workbook_tools.survey import Clearance, Equipment, Field, Row, Value

__all__ = ["ClearanceFacts", "Comparison", "EquipmentFacts", "Source", "Supplied", "TransformerFacts"]


class Source(NamedTuple):
    """One name of a Fed from cell: the rows it names, or an outside source, or neither."""

    name: str
    rows: tuple[Equipment, ...]
    outside: bool

    @property
    def row(self) -> Equipment | None:
        """The one row that is meant; None for an outside source, an unknown or a doubled tag."""
        return self.rows[0] if len(self.rows) == 1 else None


class EquipmentFacts(NamedTuple):
    """What one row of Equipment says electrically."""

    reading: VoltageReading | None
    system: VoltageSystem | None
    volts_to_ground: float | None
    sources: tuple[Source, ...]


class TransformerFacts(NamedTuple):
    """What one label plate gives. Volts are line-to-line, amperes not rounded."""

    kva: float | None = None
    phases: int | None = None
    primary: TransformerSide | None = None
    secondary: TransformerSide | None = None
    primary_volts: float | None = None
    secondary_volts: float | None = None
    direction: str | None = None
    turns_ratio: float | None = None
    primary_amps: float | None = None
    secondary_amps: float | None = None
    highest_fault_ka: float | None = None


class Comparison(NamedTuple):
    """A measured length beside what is needed."""

    measured: Length
    needed: Limit
    enough: bool


class ClearanceFacts(NamedTuple):
    """What one row of Clearances comes to; a comparison is None where something is missing."""

    equipment: Equipment | None
    volts_to_ground: float | None
    needed_depth: Limit | None
    needed_width: Limit
    needed_height: Limit
    depth: Comparison | None
    width: Comparison | None
    height: Comparison | None
    projection: Comparison | None

    def comparison(self, length: Field[Length]) -> Comparison | None:
        """Return the comparison of a length of Clearances."""
        compared = _COMPARED.get(length)
        return compared(self) if compared is not None else None

    def needed(self, length: Field[Length]) -> Limit | None:
        """Return what is needed of depth, width or height; None where it is not known."""
        needed = _NEEDED.get(length)
        return needed(self) if needed is not None else None


_COMPARED: Mapping[Field[Length], Callable[[ClearanceFacts], Comparison | None]] = {
    Clearance.depth: lambda facts: facts.depth,
    Clearance.width: lambda facts: facts.width,
    Clearance.height: lambda facts: facts.height,
    Clearance.front_projection: lambda facts: facts.projection,
}
_NEEDED: Mapping[Field[Length], Callable[[ClearanceFacts], Limit | None]] = {
    Clearance.depth: lambda facts: facts.needed_depth,
    Clearance.width: lambda facts: facts.needed_width,
    Clearance.height: lambda facts: facts.needed_height,
}


class Supplied(NamedTuple):
    """A piece of equipment beside one of its sources.

    `feeding` is None where something is missing: then `missing` is the cell, and `of` the row
    that it belongs to. `fed_otherwise` says that another of its sources can feed it: a panel
    takes its neutral from the utility although a PV system without one feeds it too.
    """

    row: Equipment
    source: Equipment
    feeding: Feeding | None
    missing: Value[Any] | None
    of: Row
    fed_otherwise: bool = False

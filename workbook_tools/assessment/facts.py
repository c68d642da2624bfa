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

from collections.abc import Mapping
from typing import Any, NamedTuple

from workbook_tools.electrical import Feeding, Length, Limit, TransformerSide, VoltageReading, VoltageSystem
from workbook_tools.survey import Equipment, Field, Row, Value

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
    """What one label plate gives. Volts are line-to-line, amperes not rounded.

    `low_secondary` marks a secondary of 60 V and less: a control transformer, or a buck-boost
    unit that is connected as an autotransformer, whose plate does not tell what it gives.
    """

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
    centre_tapped: bool = False
    low_secondary: bool = False


class Comparison(NamedTuple):
    """A measured length beside what is needed."""

    measured: Length
    needed: Limit
    enough: bool


class ClearanceFacts(NamedTuple):
    """What one row of Clearances comes to.

    `worked_on_live` is whether the kind is one that is likely examined or serviced while energized,
    which is when the working space applies; a kind that is not known counts as one. `needed_lengths`
    holds what is needed where everything that decides it is known, `compared` what was measured
    beside it; and where something is not known, what falls short under every reading of it.
    """

    equipment: Equipment | None
    volts_to_ground: float | None
    worked_on_live: bool
    needed_lengths: Mapping[Field[Length], Limit]
    compared: Mapping[Field[Length], Comparison]

    def comparison(self, length: Field[Length]) -> Comparison | None:
        """Return the comparison of a length of Clearances; None where something is missing."""
        return self.compared.get(length)

    def needed(self, length: Field[Length]) -> Limit | None:
        """Return what is needed of a length; None where it is not known."""
        return self.needed_lengths.get(length)


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

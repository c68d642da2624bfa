"""How much fault current transformers can send to each piece of equipment.

    FaultCurrents(survey, supply, facts_of)
        .transformers(row)    those whose secondary reaches a row with no other transformer between
        .highest_ka(row)      what they give together at their terminals

An unlimited supply ahead of the transformers, no conductors behind them, no motors: the conductors
bring it down and running motors add, so it is what a rating can be held against, and no posted figure.
Transformers in parallel add, and through a closed tie each reaches both boards.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cached_property

from workbook_tools.assessment.facts import TransformerFacts
from workbook_tools.assessment.supply import Supply
from workbook_tools.survey import Equipment, Survey

__all__ = ["FaultCurrents"]


class FaultCurrents:
    """The fault currents of one survey; `facts_of` gives those of a transformer's row of Equipment."""

    def __init__(
        self, survey: Survey, supply: Supply, facts_of: Callable[[Equipment], TransformerFacts | None]
    ) -> None:
        self._survey = survey
        self._supply = supply
        self._facts_of = facts_of

    def transformers(self, row: Equipment) -> tuple[Equipment, ...]:
        """Return the transformers that feed a row, in the order of the sheet."""
        return tuple(self._reached_by.get(row, ()))

    def highest_ka(self, row: Equipment) -> float | None:
        """Return what the transformers of a row give together [kA]; None where one of them is not known."""
        known = [facts.highest_fault_ka for facts in map(self._facts_of, self.transformers(row)) if facts]
        if not known or len(known) < len(self.transformers(row)) or None in known:
            return None
        return sum(current for current in known if current is not None)

    @cached_property
    def _reached_by(self) -> Mapping[Equipment, list[Equipment]]:
        reached: dict[Equipment, list[Equipment]] = {}
        for transformer in self._survey.equipment:
            if transformer.stock_kind != "Transformer":
                continue
            seen: set[Equipment] = set()
            front = list(self._supply.fed_by(transformer))
            while front:
                row = front.pop()
                if row in seen or row.stock_kind == "Transformer":
                    continue
                seen.add(row)
                reached.setdefault(row, []).append(transformer)
                front.extend(self._supply.fed_by(row))
        return reached

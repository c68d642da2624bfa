"""What each row of Clearances comes to: needed and measured, compared.

    Spaces(survey, profile)
        .facts(row, equipment, volts, possible)    ClearanceFacts

The limits are few, the rows many: each limit is made once. Not here: the voltages (assessing),
and whether a shortfall is a problem (rules).
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment.facts import ClearanceFacts, Comparison
from workbook_tools.electrical import (
    CONDITIONS,
    KINDS,
    CodeProfile,
    Length,
    Limit,
    least_depth,
    meets,
    needed_depth,
    needed_height,
    needed_width,
    needs_working_space,
    projection_limit,
)
from workbook_tools.survey import Clearance, Equipment, Field, Survey, Value

__all__ = ["Spaces"]


class Spaces:
    """The limits of one survey's clearances."""

    def __init__(self, survey: Survey, profile: CodeProfile) -> None:
        self.profile = profile
        self._year_built = survey.job.year_built.value
        self._depths: dict[tuple[float, str], Limit] = {}
        self._least: dict[tuple[tuple[float, ...], str | None], Limit] = {}
        self._widths: dict[tuple[Length | None, bool], Limit] = {}
        self._heights: dict[Length | None, Limit] = {}
        self._projection = projection_limit(profile)

    def facts(
        self, row: Clearance, equipment: Equipment | None, volts: float | None, possible: tuple[float, ...]
    ) -> ClearanceFacts:
        """Compare a row; `possible` are the volts to ground of a system that can be several."""
        opposite = row.opposite_side.value
        depth = self._depth(volts, opposite) if volts is not None and opposite in CONDITIONS else None
        width = self._width(row.equipment_width.value, volts)
        height = self._height(row.equipment_height.value)
        needed = {Clearance.width: width, Clearance.height: height}
        if depth is not None:
            needed[Clearance.depth] = depth
        kind = equipment.stock_kind if equipment is not None else None
        compared = dict(self._compare(row, needed))
        if depth is None:
            volts_left = (volts,) if volts is not None else possible
            least = self.least_depth(volts_left, opposite if opposite in CONDITIONS else None)
            _keep_shortfall(compared, Clearance.depth, self._beside(row.depth, least))
        return ClearanceFacts(
            equipment=equipment,
            volts_to_ground=volts,
            worked_on_live=kind not in KINDS or needs_working_space(kind),
            needed_lengths=needed,
            compared=compared,
        )

    def _compare(
        self, row: Clearance, needed: dict[Field[Length], Limit]
    ) -> Iterator[tuple[Field[Length], Comparison]]:
        for length, limit in (*needed.items(), (Clearance.front_projection, self._projection)):
            found = self._beside(row[length], limit)
            # Without the equipment's own width only a shortfall is certain, not a pass.
            certain = length is not Clearance.width or row.equipment_width.value is not None
            if found is not None and (certain or not found.enough):
                yield length, found

    def _beside(self, length: Value[Length], limit: Limit) -> Comparison | None:
        if length.value is None:
            return None
        return Comparison(length.value, limit, meets(limit, length.value, self.profile))

    def _depth(self, volts: float, opposite: str) -> Limit:
        limit = self._depths.get((volts, opposite))
        if limit is None:
            limit = self._depths[volts, opposite] = needed_depth(
                self.profile, volts, opposite, self._year_built
            )
        return limit

    def least_depth(self, volts: tuple[float, ...], opposite: str | None) -> Limit:
        """Return what is needed whatever was not seen; no volts: any voltage is possible."""
        limit = self._least.get((volts, opposite))
        if limit is None:
            limit = self._least[volts, opposite] = least_depth(
                self.profile, volts, opposite, self._year_built
            )
        return limit

    def _width(self, own: Length | None, volts: float | None) -> Limit:
        high = self.profile.high_voltage_at(volts) is not None
        limit = self._widths.get((own, high))
        if limit is None:
            limit = self._widths[own, high] = needed_width(self.profile, own, volts)
        return limit

    def _height(self, own: Length | None) -> Limit:
        limit = self._heights.get(own)
        if limit is None:
            limit = self._heights[own] = needed_height(self.profile, own, self._year_built)
        return limit


def _keep_shortfall(
    compared: dict[Field[Length], Comparison], length: Field[Length], found: Comparison | None
) -> None:
    if found is not None and not found.enough:
        compared[length] = found

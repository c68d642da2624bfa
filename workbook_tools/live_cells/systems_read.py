"""Which voltage systems the sheet can read: the question before every live cell that depends on one.

    SystemsRead(assessment, readable)
        .own_read(row)            whether a row's own voltage, phase and wires are read
        .side_read(plate, side)   whether one side of a label plate is
        .sources_read(row, steps) whether all systems above are, as far as the volts to ground need them
        .taken(row), .given(row)  the system that feeds a row, and the one that it gives, where the sheet knows both
        .against_source(row)      why what feeds a row cannot: "voltage", "phase", "neutral"; blank where it can

Not here: what a system means (assessment, electrical), how texts are compared (readable).
"""

from __future__ import annotations

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import VoltageSystem, can_feed, shows_its_rating
from workbook_tools.live_cells.readable import Readable
from workbook_tools.live_cells.voltage_table import plate_counts
from workbook_tools.survey import Equipment, Transformer, Value

__all__ = ["SystemsRead"]


class SystemsRead:
    """The voltage systems of one survey, as far as its sheets can read them."""

    def __init__(self, assessment: Assessment, readable: Readable) -> None:
        self.assessment = assessment
        self.readable = readable

    def own_read(self, row: Equipment) -> bool:
        """Whether the sheet can read the row's own system; a row without a voltage has none to read."""
        voltage = self.readable.voltage(row.voltage.typed)
        counts = self.readable.choice(row.phase) and self.readable.choice(row.wires)
        return voltage == "none" or (voltage == "known" and counts)

    def side_read(self, row: Transformer, side: Value[str]) -> bool:
        """Whether the sheet can read one side of a label plate; a blank side has nothing to read."""
        known = self.readable.voltage(side.typed)
        if known == "none":
            return True
        phase, said = row.phase.value, self.readable.phases_said(side.typed)
        agree = phase != 2 and not (said and phase and said != phase)
        return known == "known" and self.readable.choice(row.phase) and agree

    def sources_read(self, row: Equipment, steps: int) -> bool:
        """Whether the sheet can read each system above that the volts to ground depend on."""
        feeder, system = self.assessment.supply.feeder(row), self.assessment.system_taken(row)
        if not steps or feeder is None or system is None or not self.readable.depends_on_source(system):
            return True
        if not self.given_read(feeder):
            return False
        above = self.assessment.delivered(feeder)
        if (
            feeder.stock_kind == "Transformer"
            or len(above) != 1
            or not self.readable.follows(above[0], system)
        ):
            return True
        return self.sources_read(feeder, steps - 1)

    def connection_read(self, row: Equipment) -> bool:
        """Whether the sheet can read what the feeder gives, where the row's placard may show a mere rating."""
        own, feeder = self.assessment.own_system(row), self.assessment.supply.feeder(row)
        counts = plate_counts(own) if own is not None else 0
        if counts == 1 and not self.readable.choice(row.kind):
            return False
        depends = counts == 2 or (counts == 1 and shows_its_rating(row.stock_kind))
        return feeder is None or not depends or self.placard_read(feeder)

    def given_read(self, row: Equipment) -> bool:
        """Whether the sheet can read the system at the load side of a row."""
        return self.placard_read(row) and (row.stock_kind == "Transformer" or self.connection_read(row))

    def placard_read(self, row: Equipment) -> bool:
        """Whether the sheet can read what a row's placard or plate says of its load side."""
        if not self.readable.kind(row.kind):
            return False
        if row.stock_kind != "Transformer":
            return self.own_read(row)
        plate = self.assessment.plate(row)
        return plate is None or self.side_read(plate, plate.secondary_v)

    def taken(self, row: Equipment) -> VoltageSystem | None:
        """Return the system that feeds a row: a transformer's primary side, else its own; None where the sheet has none."""
        if not self.readable.kind(row.kind):
            return None
        if row.stock_kind == "Transformer":
            plate = self.assessment.plate(row)
            return self.primary(plate) if plate is not None else None
        return self.assessment.system_taken(row) if self.given_read(row) else None

    def primary(self, plate: Transformer) -> VoltageSystem | None:
        """Return the one system that a label plate's primary side names, where the sheet reads it."""
        side = self.assessment.transformer(plate).primary
        return side.reading.system if side is not None and self.side_read(plate, plate.primary_v) else None

    def secondary(self, plate: Transformer) -> VoltageSystem | None:
        """Return the one system that a label plate's secondary side names, where the sheet reads it."""
        side = self.assessment.transformer(plate).secondary
        return side.reading.system if side is not None and self.side_read(plate, plate.secondary_v) else None

    def given(self, row: Equipment) -> VoltageSystem | None:
        """Return the one system that a row gives at its load side; None where the sheet has none."""
        given = self.assessment.delivered(row) if self.given_read(row) else ()
        return given[0] if len(given) == 1 else None

    def against_source(self, row: Equipment) -> str:
        """Say why the one row that feeds this one cannot: "voltage", "phase" or "neutral"; blank where it can or nobody knows."""
        feeder = self.assessment.supply.feeder(row)
        above, taken = self.given(feeder) if feeder is not None else None, self.taken(row)
        return can_feed(above, taken).reason or "" if above is not None and taken is not None else ""

"""The voltages that live cells know: what each written form means, for every phase and wires beside it.

    voltage_rows()          {form: VoltageRow}: the table that the sheet Lists holds
    said_beside(text)       a voltage's form without the "3ph" and "4w" at its end, and these
    source_dependent()      {(source, load): FromSource} where the source changes the volts to ground
    on_their_plates()       {(source, placard): connected} where a placard shows a rating above the source
    against(system)         what stands against feeding each system from this one
    plate_counts(system)    whether a placard can be such a rating: of a switch, or of any kind
    PHASES, WIRES           the entries that a row has a column for; 0 is "not said"

Every entry of the table is what `electrical.read_voltage` makes of one spelling, so that the
sheet and the tool cannot read a voltage differently. A form that is not in the table is left
to the check.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from workbook_tools.electrical import (
    SYSTEMS,
    VoltageSystem,
    can_feed,
    read_transformer_side,
    read_voltage,
    taken_on_its_plate,
    volts_to_ground,
)
from workbook_tools.live_cells.typed_forms import VOLTAGE, VOLTS

__all__ = [
    "PHASES",
    "SEVERAL",
    "WIRES",
    "FromSource",
    "VoltageRow",
    "against",
    "on_their_plates",
    "plate_counts",
    "said_beside",
    "source_dependent",
    "system_numbers",
    "voltage_rows",
]

PHASES = (0, 1, 3)
WIRES = (0, 2, 3, 4)
SEVERAL = "several"
"""What stands for the line voltage of a side that names more than one."""

# Nameplate and older voltages that are no spelling of a nominal system; common practice.
_OTHER_NUMBERS = (
    "110",
    "115",
    "200",
    "220",
    "230",
    "380",
    "400",
    "415",
    "440",
    "460",
    "550",
    "575",
    "2300",
    "4000",
)
_OTHER_PAIRS = (
    "110/220",
    "220/110",
    "115/230",
    "230/115",
    "220/127",
    "380/220",
    "400/230",
    "230/400",
    "220/380",
    "460/265",
)


class VoltageRow(NamedTuple):
    """What one form means: 12 entries each, phase by phase and in each wires by wires.

    `systems` holds the number of a system (see `system_numbers`) or the outcome in a word;
    `lines` the line voltage of a transformer side so labelled, SEVERAL, or None; `grounds` the
    highest voltage to ground that such a side can have, or None.
    """

    systems: tuple[int | str, ...]
    lines: tuple[float | str | None, ...]
    grounds: tuple[float | None, ...]


@cache
def system_numbers() -> dict[str, int]:
    """Return the number of each system of the table, from 1."""
    return {key: number for number, key in enumerate(SYSTEMS, 1)}


def said_beside(form: str) -> tuple[str, int, int]:
    """Part a voltage's form into volts, phases and wires; 0 where the end does not say.

    Examples
    --------
    >>> said_beside("208y/120v 3ph 4w"), said_beside("480")
    (('208y/120', 3, 4), ('480', 0, 0))
    """
    phases = wires = 0
    if len(form) > 3 and form[-1] == "w" and form[-3] == " " and form[-2] in "234":
        form, wires = form[:-3].strip(" "), int(form[-2])
    if len(form) > 4 and form[-2:] == "ph" and form[-4] == " " and form[-3] in "13":
        form, phases = form[:-4].strip(" "), int(form[-3])
    return VOLTS.of(form), phases, wires


@cache
def voltage_rows() -> dict[str, VoltageRow]:
    """Return the table, by form. The forms are those of every spelling of a nominal system."""
    rows: dict[str, VoltageRow] = {}
    for spelling in _spellings():
        form, phases, wires = said_beside(VOLTAGE.of(spelling))
        if not form or form in rows or phases or wires:
            continue
        said = read_voltage(spelling)
        if said.outcome != "not a voltage" and said.phases is None and said.wires is None:
            rows[form] = _row(spelling)
    return rows


def _spellings() -> list[str]:
    found: list[str] = []
    for system in SYSTEMS.values():
        found += [system.name, *system.spellings, str(system.line_volts)]
        if system.line_volts >= 1000:
            found.append(f"{system.line_volts / 1000:g}kV")
        if system.neutral_volts and system.neutral_volts != system.line_volts:
            high, low = system.line_volts, system.neutral_volts
            found += [f"{high}Y/{low}", f"{high}/{low}", f"{low}/{high}", f"{low}/{high}Y"][
                : 4 if high < 1000 else 2
            ]
        if system.connection == "delta" and not system.only_if:
            found.append(f"{system.line_volts} delta")
    found += [
        f"{volts} delta {words}"
        for volts in ("240/120", "120/240", "240")
        for words in ("high leg", "highleg")
    ]
    found += [
        f"{volts} {words}" for volts in ("240/120", "120/240") for words in ("high leg", "wild leg", "delta")
    ]
    found += [f"{volts} corner grounded delta" for volts in (240, 480, 600)]
    found += [f"{volts} wye" for volts in ("208", "480", "208Y/120", "480Y/277")]
    return [*found, *_OTHER_NUMBERS, *_OTHER_PAIRS]


def _row(spelling: str) -> VoltageRow:
    numbers = system_numbers()
    systems: list[int | str] = []
    lines: list[float | str | None] = []
    grounds: list[float | None] = []
    for phases in PHASES:
        for wires in WIRES:
            read = read_voltage(spelling, phases or None, wires or None)
            systems.append(numbers[read.system.key] if read.system is not None else read.outcome)
            # A side has no entry for wires of its own: they count where the text says them.
            text = f"{spelling} {wires}W" if wires else spelling
            side = read_transformer_side(text, phases or None)
            lines.append(side.line_volts if side.line_volts is not None else SEVERAL)
            candidates = side.reading.candidates
            grounds.append(max(map(volts_to_ground, candidates)) if candidates else None)
    return VoltageRow(tuple(systems), tuple(lines), tuple(grounds))


class FromSource(NamedTuple):
    """What a load takes from the system above it.

    `volts` counts where nothing is known further up; `follows` is whether the load has the
    source's own volts to ground, and those can depend on what feeds the source.
    """

    volts: float
    follows: bool


@cache
def source_dependent() -> dict[tuple[int, int], FromSource]:
    """Return where the system above can change the voltage to ground, by the numbers of source and load."""
    loads = [s for s in SYSTEMS.values() if not s.has_neutral and "one corner" not in s.grounding]
    numbers = system_numbers()
    pairs = {
        (source.key, load.key): volts_to_ground(load, source) for load in loads for source in SYSTEMS.values()
    }
    changed = {load for (_, load), volts in pairs.items() if volts != SYSTEMS[load].volts_to_ground}
    found = {}
    for (source, load), volts in pairs.items():
        # A figure that no system has comes through only where the source's own is taken over.
        taken_over = volts_to_ground(SYSTEMS[load], SYSTEMS[source], 0.5) == 0.5
        follows = source in changed and taken_over
        if follows or volts != SYSTEMS[load].volts_to_ground:
            found[numbers[source], numbers[load]] = FromSource(volts, follows)
    return found


@cache
def on_their_plates() -> dict[tuple[int, int], int]:
    """Return the system that a placard's rating is connected to, by the numbers of source and placard."""
    numbers = system_numbers()
    found = {}
    for source in SYSTEMS.values():
        for plate in SYSTEMS.values():
            taken = taken_on_its_plate(source, plate)
            if taken is not None:
                found[numbers[source.key], numbers[plate.key]] = numbers[taken.key]
    return found


@cache
def against(source: VoltageSystem) -> str:
    """Return a letter for each system, by its number: what stands against feeding it from this one, "0" for nothing.

    The letters are the first of "voltage", "phase" and "neutral".
    """
    return "".join((can_feed(source, load).reason or "0")[0] for load in SYSTEMS.values())


def plate_counts(system: VoltageSystem) -> int:
    """Return 0 where a placard is never a mere rating, 1 where that of a switch can be one, 2 where any can."""
    number = system_numbers()[system.key]
    if not any(plate == number for _, plate in on_their_plates()):
        return 0
    return 2 if system.has_neutral else 1

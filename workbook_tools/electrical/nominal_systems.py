"""The table of nominal voltage systems and what follows from it.

    SYSTEMS              every system of the table, by its key
    VoltageSystem        one system: lines, neutral, phases, wires, highest voltage to ground
    line_to_neutral      the arithmetic of a wye
    high_leg_to_ground   the arithmetic of a delta with one winding centre-tapped
    nominal_class        460 belongs to 480: nameplate voltages by their class

The rows are in voltage_systems.csv beside this module, each with its source and how sure it
is. Not here: reading what somebody wrote (voltage_systems), who may feed whom and what
voltage to ground follows (supply).
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

__all__ = [
    "SYSTEMS",
    "VoltageSystem",
    "high_leg_to_ground",
    "line_to_neutral",
    "nominal_class",
]


@dataclass(frozen=True, slots=True)
class VoltageSystem:
    """One nominal system of the table.

    ``line_volts`` is line-to-line, or the only voltage where there is no line-to-line one
    (120 and 277 single-phase two-wire). ``neutral_volts`` is line-to-neutral, also where the
    neutral is not brought along (``has_neutral`` is False then). ``only_if`` says what a text
    must name before it is read as this system; blank for the usual systems.
    """

    key: str
    name: str
    phases: int
    wires: int
    line_volts: int
    neutral_volts: int | None
    connection: str
    grounding: str
    volts_to_ground: int
    has_neutral: bool
    high_leg: bool
    only_if: str
    spellings: tuple[str, ...]
    source: str
    status: str
    note: str

    @property
    def centre_tapped(self) -> bool:
        """Whether it is single-phase with the neutral at the middle of the winding."""
        return self.has_neutral and "centre tap" in self.connection

    @property
    def description(self) -> str:
        """Name, phases and wires in words: "480Y/277, 3-phase 4-wire"."""
        return f"{self.name}, {self.phases}-phase {self.wires}-wire"


def _read_table() -> dict[str, VoltageSystem]:
    with open(Path(__file__).with_name("voltage_systems.csv"), encoding="utf-8", newline="") as table:
        return {
            row["key"]: VoltageSystem(
                key=row["key"],
                name=row["canonical"],
                phases=int(row["phases"]),
                wires=int(row["wires"]),
                line_volts=int(row["line_volts"]),
                neutral_volts=int(row["neutral_volts"]) if row["neutral_volts"] else None,
                connection=row["connection"],
                grounding=row["grounding"],
                volts_to_ground=int(row["volts_to_ground"]),
                has_neutral=row["has_neutral"] == "yes",
                high_leg="centre-tapped" in row["connection"],
                only_if=row["only_if"],
                spellings=tuple(row["spellings"].split("|")) if row["spellings"] else (),
                source=row["source"],
                status=row["status"],
                note=row["note"],
            )
            for row in csv.DictReader(table)
        }


WITHOUT_ITS_NEUTRAL = "second voltage and wires"
"""What a text must say before it names a system with the neutral left behind: 480Y/277, 3 wires."""


def _without_its_neutral(system: VoltageSystem) -> VoltageSystem:
    """Return a system as equipment takes it that needs no neutral: "480Y/277, 3-phase 3-wire"."""
    wires = system.wires - 1
    return replace(
        system,
        key=f"{system.key.rpartition('-')[0]}-{system.phases}P{wires}W-of-{system.wires}",
        name=f"{system.name} without its neutral",
        wires=wires,
        has_neutral=False,
        only_if=WITHOUT_ITS_NEUTRAL,
        spellings=(),
        source="TRADE",
        status="common practice",
        note="a neutral that is not brought along: motors, two-pole loads, transformer primaries",
    )


def _all_systems() -> dict[str, VoltageSystem]:
    table = _read_table()
    three_of_four = (
        _without_its_neutral(system)
        for system in table.values()
        if system.has_neutral and system.wires > 2 and system.neutral_volts != system.line_volts
    )
    return {**table, **{system.key: system for system in three_of_four}}


SYSTEMS: Mapping[str, VoltageSystem] = _all_systems()


# Nameplate (utilization) voltages and older names, each under the nominal voltage of its class.
# 115, 200, 230, 460 and 575: ANSI C84.1, from memory. 550: NCUC-R8-17 notes that 600 covers 550 to 600.
# 110, 220, 440: older names of the same classes; 416 and 415 name one level; common practice. 2300, 4000, 6600: motor nameplates, from memory.
_CLASS: dict[float, int] = {
    110: 120, 115: 120, 200: 208, 220: 240, 230: 240, 265: 277, 416: 415, 440: 480, 460: 480, 550: 600, 575: 600,
    2300: 2400, 4000: 4160, 6600: 6900,
}  # fmt: skip
_ROOT_3 = 3**0.5


def nominal_class(volts: float) -> float:
    """Return the nominal voltage that a nameplate voltage belongs to.

    Parameters
    ----------
    volts : float
        A voltage as it stands on a nameplate or a sheet. [V]

    Returns
    -------
    nominal : float
        The nominal voltage of its class; the same number when it is none of the known
        nameplate voltages. [V]

    References
    ----------
    .. [1] ANSI C84.1 (C84.1-2020 in sources.csv), nameplate voltages: from memory.

    Examples
    --------
    >>> nominal_class(460), nominal_class(480), nominal_class(12470)
    (480, 480, 12470)
    """
    return _CLASS.get(volts, volts)


def line_to_neutral(line_volts: float) -> float:
    """Voltage from a line to the neutral of a wye: V / sqrt(3).

    Parameters
    ----------
    line_volts : float
        Line-to-line voltage, above 0. [V]

    Returns
    -------
    volts : float
        Not rounded; the printed nominal is (208 V gives 120.09, printed 120). [V]

    Raises
    ------
    ValueError
        A voltage that is not above 0.

    Examples
    --------
    >>> round(line_to_neutral(480), 2)
    277.13
    """
    if not line_volts > 0:
        raise ValueError(f"line_volts must be above 0, not {line_volts!r}")
    return line_volts / _ROOT_3


def high_leg_to_ground(line_volts: float) -> float:
    """Voltage to ground of the high leg of a delta with one winding centre-tapped: sqrt(3)/2 V.

    Parameters
    ----------
    line_volts : float
        Line-to-line voltage, above 0. [V]

    Returns
    -------
    volts : float
        Not rounded; the nominal is printed rounded (240 V gives 207.85, printed 208). [V]

    Raises
    ------
    ValueError
        A voltage that is not above 0.

    Examples
    --------
    >>> round(high_leg_to_ground(240), 2)
    207.85
    """
    return line_to_neutral(line_volts) * 1.5

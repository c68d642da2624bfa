"""The table of nominal voltage systems and what follows from it.

    SYSTEMS              every system of the table, by its key
    VoltageSystem        one system: lines, neutral, phases, wires, highest voltage to ground
    volts_to_ground      the highest voltage to ground, with the source taken into account
    line_to_neutral      the arithmetic of a wye
    high_leg_to_ground   the arithmetic of a delta with one winding centre-tapped
    nominal_class        460 belongs to 480: nameplate voltages by their class

The rows are in voltage_systems.csv beside this module, each with its source and how sure it
is. Not here: reading what somebody wrote (voltage_systems), who may feed whom (supply).
"""

from __future__ import annotations

import os.path
from functools import lru_cache

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NamedTuple
else:
    from .named_tuples import NamedTuple

__all__ = [
    "SYSTEMS",
    "VoltageSystem",
    "high_leg_to_ground",
    "line_to_neutral",
    "nominal_class",
    "volts_to_ground",
]


class VoltageSystem(NamedTuple):
    """One nominal system of the table.

    ``line_volts`` is line-to-line, or the only voltage where there is no line-to-line one
    (120 and 277 single-phase two-wire). ``only_if`` says what a text must name before it is
    read as this system; blank for the usual systems.
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
    def description(self) -> str:
        """Name, phases and wires in words: "480Y/277, 3-phase 4-wire"."""
        return f"{self.name}, {self.phases}-phase {self.wires}-wire"


if TYPE_CHECKING:
    SYSTEMS: dict[str, VoltageSystem]


def __getattr__(name: str) -> object:
    """Give the table under its name, read when it is first asked for."""
    if name != "SYSTEMS":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return all_systems()


@lru_cache(maxsize=1)
def all_systems() -> dict[str, VoltageSystem]:
    """Return the table, read once; SYSTEMS is the same object."""
    import csv

    path = os.path.join(os.path.dirname(__file__), "voltage_systems.csv")
    with open(path, encoding="utf-8", newline="") as table:
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


def volts_to_ground(
    system: VoltageSystem, source: VoltageSystem | None = None, source_to_ground: float | None = None
) -> float:
    """Highest voltage to ground of a system, by the definition in NFPA 70 Article 100.

    A grounded circuit counts from the conductor to the grounded point, an ungrounded one
    counts the highest voltage to any other conductor. Equipment without a neutral takes
    the grounding of what feeds it: 480 three-wire is 277 V to ground behind a 480Y/277
    board and 480 V behind an ungrounded delta.

    Parameters
    ----------
    system : VoltageSystem
        The system of the equipment.
    source : VoltageSystem, optional
        The system that feeds it, with no transformer between. Unknown, or one that cannot
        feed it: the system is taken alone.
    source_to_ground : float, optional
        The source's own voltage to ground, when its own source is known too. [V]

    Returns
    -------
    volts : float
        Nominal voltage to ground, the one that picks the row of the depth table. [V]

    References
    ----------
    .. [1] NFPA70-2023 in sources.csv, Article 100, voltage to ground.

    Examples
    --------
    >>> from workbook_tools.electrical import SYSTEMS
    >>> volts_to_ground(SYSTEMS["480-3P3W"]), volts_to_ground(SYSTEMS["480-3P3W"], SYSTEMS["480Y/277-3P4W"])
    (480, 277)
    >>> volts_to_ground(SYSTEMS["240/120-3P4W"])
    208
    """
    if source is None or system.has_neutral or "one corner" in system.grounding:
        return system.volts_to_ground
    from .supply import can_feed

    if not can_feed(source, system):
        return system.volts_to_ground
    line = nominal_class(system.line_volts)
    if source.neutral_volts is not None and nominal_class(source.line_volts) != line:
        return source.neutral_volts  # one leg and the neutral: 240 V single-phase on 415Y/240
    return source.volts_to_ground if source_to_ground is None else source_to_ground

"""The numbers of one edition of a code, as data.

    load_profile(name_or_path, amendments)   a CodeProfile
    PROFILE_NAMES                            the profiles that come with the package
    CodeProfile                              depth rows, width, height, projection, entrances …
    Figure                                   one length: its two printed figures, section, status
    CodeNumber                               one number that is no length, with the same
    Requirement                              what an edition asks for, and since which edition

The numbers stand in profiles/*.toml, each table with its section and how sure it is ("seen",
"from memory", "common practice"). A profile is one file; it may extend another (profile_files
has the form), and nothing else lists it. A firm's amendment file overrides single numbers and
names its basis (profile_amendments). Not here: which number applies to which equipment
(clearances).
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from workbook_tools.electrical.profile_amendments import amend
from workbook_tools.electrical.profile_files import (
    PROFILE_FOLDER,
    PROFILE_NAMES,
    read_profile_file,
    read_toml,
    tables_of,
)

__all__ = ["CodeNumber", "CodeProfile", "Figure", "HighVoltage", "Requirement", "load_profile"]


class Figure(NamedTuple):
    """One limit with its two printed figures, which are not conversions of each other.

    ``millimetres`` is None where nothing metric is printed. ``basis`` is "printed", or what
    a local amendment names.
    """

    inches: float
    millimetres: float | None
    section: str
    basis: str
    status: str


@dataclass(frozen=True, slots=True)
class CodeNumber:
    """One limit that is no length: amperes, volts, kVA. ``basis`` is as in Figure."""

    number: float
    section: str
    basis: str
    status: str


@dataclass(frozen=True, slots=True)
class Requirement:
    """Something that an edition asks for: since the edition of which year, and from how many amperes [A].

    ``amperes`` is 0 where it holds for every rating.
    """

    since: int
    amperes: float
    section: str
    basis: str
    status: str

    def may_hold(self, year_built: int | None) -> bool:
        """Whether it may have held when a building was built; a year that is not known may be any."""
        return year_built is None or year_built >= self.since


@dataclass(frozen=True, slots=True)
class DepthRow:
    """One row of the depth table: it holds up to ``volts_max`` volts to ground."""

    volts_max: float
    clear: Figure
    grounded: Figure
    live_parts: Figure


@dataclass(frozen=True, slots=True)
class OlderAllowance:
    """A smaller figure for what was built before a date; ``cells`` are (opposite, volts_max)."""

    what: str
    before: date
    figure: Figure
    cells: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class HighVoltage:
    """What differs above ``above`` volts to ground [V]: the width, and when each end needs an entrance.

    Amperes do not count there: equipment wider than ``wider_than`` has an entrance at each end.
    """

    above: CodeNumber
    width: Figure
    wider_than: Figure
    entrances_section: str


@dataclass(frozen=True, slots=True)
class CodeProfile:
    """The thresholds of one edition of a code, with any local amendments applied.

    ``tolerance_in`` and ``tolerance_mm`` are the measuring tolerance; ``large_*`` are the
    limits above which both ends need an entrance, ``panic_*`` those of a door with panic
    hardware (None where the rule has none), ``high_voltage`` what differs above the voltage of
    110.26 (None likewise). ``dedicated_space_kinds`` have a space of their own by their kind,
    ``dedicated_space_perhaps`` may have one: their kind does not tell. ``ground_fault_*`` say which services need
    ground-fault protection: solidly grounded wye from so many amperes [A], over so many volts
    to ground [V] and up to so many volts between phases [V]. From
    ``impedance_marked_from_kva`` up [kVA] the plate of a transformer shows its impedance, and
    up to ``transformer_protection_up_to_volts`` [V] Table 450.3(B) limits its protection. These
    five are None in a profile that has no such table, and so are the ``Requirement`` fields where
    the edition does not ask for them. ``handle_height`` is how high the grip of a handle may
    stand. ``hand_motions`` is the most that
    may shut off one service. The ``*_section`` are those of numbers that stand alone, and of
    the rule that keeps the working space clear of storage; "" where none is given.
    ``amended`` holds a sentence for each number that a local amendment changed.
    """

    name: str
    title: str
    source: str
    year: int
    scope: str
    how_seen: str
    depth: tuple[DepthRow, ...]
    width: Figure
    height: Figure
    projection: Figure
    rear_access: Figure
    door_opening_degrees: float
    large_amperes: float
    large_wider_than: Figure
    large_entrances: int
    entrance_width: Figure
    entrance_height: Figure
    panic_amperes: float | None
    panic_nearer_than: Figure | None
    high_voltage: HighVoltage | None
    dedicated_space_kinds: tuple[str, ...]
    dedicated_space_perhaps: tuple[str, ...]
    dedicated_space_above: Figure
    hand_motions: int
    ratings_list: int
    tolerance_in: float
    tolerance_mm: float
    older: tuple[OlderAllowance, ...]
    amended: tuple[str, ...]
    ground_fault_amperes: CodeNumber | None
    ground_fault_above_volts_to_ground: CodeNumber | None
    ground_fault_up_to_line_volts: CodeNumber | None
    impedance_marked_from_kva: CodeNumber | None
    transformer_protection_up_to_volts: CodeNumber | None
    handle_height: Figure | None
    fault_current_posted: Requirement | None
    separate_service_mains: Requirement | None
    combined_service_entrances: Requirement | None
    feeder_ground_fault: Requirement | None
    arc_energy_breakers: Requirement | None
    arc_energy_fuses: Requirement | None
    any_bathroom: Requirement | None
    transformer_disconnect: Requirement | None
    hand_motions_section: str
    door_opening_section: str
    clear_space_section: str

    def high_voltage_at(self, volts_to_ground: float | None) -> HighVoltage | None:
        """Return what differs at a voltage to ground [V]; None where nothing does, or it is not known."""
        high = self.high_voltage
        if high is None or volts_to_ground is None or volts_to_ground <= high.above.number:
            return None
        return high

    @property
    def depth_rows(self) -> list[tuple[float, dict[str, tuple[float, float | None]]]]:
        """The depth table as plain data: (volts_max, {opposite side: (inches, millimetres)})."""
        return [
            (
                row.volts_max,
                {
                    "Clear": row.clear[:2],
                    "Grounded": row.grounded[:2],
                    "Live parts": row.live_parts[:2],
                },
            )
            for row in self.depth
        ]


def load_profile(
    name_or_path: str | os.PathLike[str], amendments: str | os.PathLike[str] | None = None
) -> CodeProfile:
    """Read a code profile, with a firm's local amendments laid over it.

    Parameters
    ----------
    name_or_path : str or path
        One of PROFILE_NAMES ("NEC 2023" is understood), or a profile file.
    amendments : str or path, optional
        A TOML file with tables named as in the profile, holding only the numbers that
        differ, and a ``basis`` in each table (or one at the top for all).

    Returns
    -------
    profile : CodeProfile
        An amended inch figure drops the printed metric one unless that is amended too.

    Raises
    ------
    ValueError
        A file that cannot be read; a table or key that the profile does not have; an
        amended number without a basis. The text names file, table and key.

    References
    ----------
    .. [1] The ``source`` and ``how_seen`` of each profile; keys in sources.csv.

    Examples
    --------
    >>> load_profile("nec-2023").depth_rows[1]
    (600, {'Clear': (36, 900), 'Grounded': (42, 1000), 'Live parts': (48, 1200)})
    """
    text = os.fspath(name_or_path)
    known = "-".join(text.strip().lower().replace("_", " ").replace("-", " ").split())
    if known in PROFILE_NAMES:
        path = PROFILE_FOLDER / f"{known}.toml"
    elif os.path.isfile(text):
        path = Path(text)
    else:
        raise ValueError(
            f"{text!r} is no code profile; known are {', '.join(PROFILE_NAMES)}, or the path of a file"
        )
    if amendments is not None:
        document = read_profile_file(path)
        bases = amend(document, read_toml(Path(amendments)), os.fspath(amendments))
        return _Reader(document, bases, path).profile()
    return _load_own(path) if path.parent == PROFILE_FOLDER else _load(path)


def profile_of(profile: CodeProfile | str) -> CodeProfile:
    """Return the profile, loaded where only its name is given."""
    return load_profile(profile) if isinstance(profile, str) else profile


def _load(path: Path) -> CodeProfile:
    return _Reader(read_profile_file(path), {}, path).profile()


# A file of the package does not change while we run; anybody else's may.
_load_own = lru_cache(maxsize=64)(_load)
_ABOUT = ("section", "status", "basis", "note")


class _Reader:
    """Takes the numbers out of a document, and says which is missing and which is unknown."""

    def __init__(self, document: dict[str, Any], bases: dict[tuple[str, str], str], path: Path) -> None:
        self.document = document
        self.tables = tables_of(document)
        self.bases = bases
        self.path = path
        self.taken: set[tuple[str, str]] = set()

    def value(self, table: str, key: str) -> Any:
        self.taken.add((table, key))
        try:
            return self.tables[table][key]
        except KeyError:
            raise ValueError(f"{self.path}: [{table}] {key} is missing") from None

    def optional(self, table: str, key: str, otherwise: Any) -> Any:
        self.taken.add((table, key))
        return self.tables.get(table, {}).get(key, otherwise)

    def _about(self, table: str, key: str) -> tuple[str, str, str]:
        """Return section, basis and status of a number."""
        basis = self.bases.get((table, key))
        status = "local amendment" if basis else self.value(table, "status")
        return self.value(table, "section"), basis or "printed", status

    def figure(self, table: str, name: str) -> Figure:
        self.taken.add((table, f"{name}_mm"))
        inches = self.value(table, f"{name}_in")
        return Figure(inches, self.tables[table].get(f"{name}_mm"), *self._about(table, f"{name}_in"))

    def number(self, table: str, key: str) -> CodeNumber | None:
        if table not in self.tables:
            return None
        return CodeNumber(self.value(table, key), *self._about(table, key))

    def requirement(self, table: str) -> Requirement | None:
        if table not in self.tables:
            return None
        self.taken.add((table, "amperes"))
        amperes = self.tables[table].get("amperes", 0)
        return Requirement(self.value(table, "since"), amperes, *self._about(table, "amperes"))

    def section(self, table: str) -> str:
        return str(self.tables.get(table, {}).get("section", ""))

    def _depth(self) -> tuple[DepthRow, ...]:
        rows = [
            DepthRow(
                self.value(table, "volts_max"),
                self.figure(table, "clear"),
                self.figure(table, "grounded"),
                self.figure(table, "live_parts"),
            )
            for table in self.tables
            if table.startswith("depth.")
        ]
        if not rows:
            raise ValueError(f"{self.path}: no [depth.…] table")
        return tuple(sorted(rows, key=lambda row: row.volts_max))

    def _older(self, table: str) -> OlderAllowance:
        return OlderAllowance(
            self.value(table, "what"),
            self.value(table, "before"),
            self.figure(table, "value"),
            tuple((opposite, volts) for opposite, volts in self.optional(table, "cells", ())),
        )

    def _high_voltage(self) -> HighVoltage | None:
        above = self.number("high_voltage", "above_volts_to_ground")
        if above is None:
            return None
        return HighVoltage(
            above,
            self.figure("high_voltage", "width"),
            self.figure("high_voltage", "wider_than"),
            self.value("high_voltage", "entrances_section"),
        )

    def profile(self) -> CodeProfile:
        value, figure, number = self.value, self.figure, self.number
        for key in ("name", "title", "source", "year", "scope", "how_seen"):
            if key not in self.document:
                raise ValueError(f"{self.path}: {key} is missing at the top")
        depth = self._depth()
        panic = "panic_hardware" in self.tables
        profile = CodeProfile(
            name=self.document["name"],
            title=self.document["title"],
            source=self.document["source"],
            year=self.document["year"],
            scope=self.document["scope"],
            how_seen=self.document["how_seen"],
            depth=depth,
            width=figure("width", "minimum"),
            height=figure("height", "minimum"),
            projection=figure("projection", "maximum"),
            rear_access=figure("rear_access", "minimum"),
            door_opening_degrees=value("door_opening", "minimum_degrees"),
            large_amperes=value("large_equipment", "amperes"),
            large_wider_than=figure("large_equipment", "wider_than"),
            large_entrances=value("large_equipment", "entrances"),
            entrance_width=figure("large_equipment", "entrance_width"),
            entrance_height=figure("large_equipment", "entrance_height"),
            panic_amperes=value("panic_hardware", "amperes") if panic else None,
            panic_nearer_than=figure("panic_hardware", "nearer_than") if panic else None,
            high_voltage=self._high_voltage(),
            dedicated_space_kinds=tuple(value("dedicated_space", "kinds")),
            dedicated_space_perhaps=tuple(self.optional("dedicated_space", "perhaps", ())),
            dedicated_space_above=figure("dedicated_space", "above"),
            hand_motions=value("service_disconnects", "hand_motions"),
            ratings_list=value("ratings", "list"),
            tolerance_in=value("tolerance", "inches"),
            tolerance_mm=value("tolerance", "millimetres"),
            older=tuple(self._older(table) for table in self.tables if table.startswith("older.")),
            amended=tuple(
                f"[{table}] {key} = {self.tables[table][key]}: {basis}"
                for (table, key), basis in self.bases.items()
            ),
            ground_fault_amperes=number("ground_fault_protection", "amperes"),
            ground_fault_above_volts_to_ground=number("ground_fault_protection", "above_volts_to_ground"),
            ground_fault_up_to_line_volts=number("ground_fault_protection", "up_to_line_volts"),
            impedance_marked_from_kva=number("transformer_plate", "impedance_from_kva"),
            transformer_protection_up_to_volts=number("transformer_protection", "up_to_volts"),
            handle_height=figure("handle_height", "maximum") if "handle_height" in self.tables else None,
            fault_current_posted=self.requirement("fault_current_posted"),
            separate_service_mains=self.requirement("separate_service_mains"),
            combined_service_entrances=self.requirement("combined_service_entrances"),
            feeder_ground_fault=self.requirement("feeder_ground_fault"),
            arc_energy_breakers=self.requirement("arc_energy_breakers"),
            arc_energy_fuses=self.requirement("arc_energy_fuses"),
            any_bathroom=self.requirement("any_bathroom"),
            transformer_disconnect=self.requirement("transformer_disconnect"),
            hand_motions_section=self.section("service_disconnects"),
            door_opening_section=self.section("door_opening"),
            clear_space_section=self.section("clear_space"),
        )
        self._refuse_unknown()
        return profile

    def _refuse_unknown(self) -> None:
        """Refuse a key that nothing reads: in a file that extends another, a misspelled one changes nothing."""
        for table, entries in self.tables.items():
            for key in entries:
                if (table, key) not in self.taken and key not in _ABOUT:
                    raise ValueError(f"{self.path}: [{table}] {key} is no number of a code profile")

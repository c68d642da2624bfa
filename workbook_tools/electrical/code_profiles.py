"""The numbers of one edition of a code, as data.

    load_profile(name_or_path, amendments)   a CodeProfile
    PROFILE_NAMES                            the profiles that come with the package
    CodeProfile                              depth rows, width, height, projection, entrances …
    Figure                                   one limit: its two printed figures, section, status

The numbers stand in profiles/*.toml, each table with its section and how sure it is ("seen",
"from memory", "common practice"). A firm's amendment file overrides single numbers and names
its basis. Not here: which number applies to which equipment (clearances).
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any, NamedTuple

__all__ = ["PROFILE_NAMES", "CodeProfile", "Figure", "load_profile"]

PROFILE_NAMES = ("nec-2023", "nec-2020", "nec-2017", "nec-2014", "osha-1910")


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
class CodeProfile:
    """The thresholds of one edition of a code, with any local amendments applied.

    ``tolerance_in`` and ``tolerance_mm`` are the measuring tolerance; ``large_*`` are the
    limits above which both ends need an entrance, ``panic_*`` those of a door with panic
    hardware (None where the rule has none). ``amended`` holds a sentence for each number
    that a local amendment changed.
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
    dedicated_space_kinds: tuple[str, ...]
    dedicated_space_above: Figure
    hand_motions: int
    ratings_list: int
    tolerance_in: float
    tolerance_mm: float
    older: tuple[OlderAllowance, ...]
    amended: tuple[str, ...]

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
        path = os.path.join(os.path.dirname(__file__), "profiles", known + ".toml")
    elif os.path.isfile(text):
        path = text
    else:
        raise ValueError(
            f"{text!r} is no code profile; known are {', '.join(PROFILE_NAMES)}, or the path of a file"
        )
    return _load(path, None if amendments is None else os.fspath(amendments))


def profile_of(profile: CodeProfile | str) -> CodeProfile:
    """Return the profile, loaded where only its name is given."""
    return load_profile(profile) if isinstance(profile, str) else profile


def _read_toml(path: str) -> dict[str, Any]:
    try:
        with open(path, "rb") as file:
            return tomllib.load(file)
    except OSError as error:
        raise ValueError(f"{path}: the file cannot be read: {error.strerror}") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise ValueError(f"{path}: not a readable TOML file: {error}") from error


def _load(path: str, amendments: str | None) -> CodeProfile:
    # A file of the package does not change while we run; anybody else's may.
    if amendments is None and path.startswith(os.path.dirname(__file__)):
        return _load_own(path)
    document = _read_toml(path)
    bases: dict[tuple[str, str], str] = {}
    if amendments is not None:
        bases = _amend(document, _read_toml(amendments), amendments)
    return _build(document, bases, path)


@lru_cache(maxsize=len(PROFILE_NAMES))
def _load_own(path: str) -> CodeProfile:
    return _build(_read_toml(path), {}, path)


_ABOUT = ("basis", "section", "note")


def _amend(document: dict[str, Any], changes: dict[str, Any], file: str) -> dict[tuple[str, str], str]:
    """Lay the changes over the document; return the basis of each changed number."""
    bases: dict[tuple[str, str], str] = {}
    general = changes.get("basis")
    for table, entries in _tables(changes):
        target = dict(_tables(document)).get(table)
        if target is None:
            raise ValueError(f"{file}: [{table}] is no table of the profile {document.get('name')}")
        basis = entries.get("basis", general)
        for key, value in entries.items():
            if key in _ABOUT:
                continue
            where = f"{file}: [{table}] {key}"
            if key not in target or key in ("status", "volts_max", "what"):
                raise ValueError(f"{where} is no number of the profile that can be amended")
            if not isinstance(basis, str) or not basis.strip():
                raise ValueError(f'{where} has no basis; add basis = "…" to the table')
            number = isinstance(target[key], (int, float))
            if (number and (isinstance(value, bool) or not isinstance(value, (int, float)) or value < 0)) or (
                not number and type(value) is not type(target[key])
            ):
                raise ValueError(f"{where} must be like {target[key]!r}, not {value!r}")
            if key.endswith("_mm") and key[:-3] + "_in" not in entries:
                raise ValueError(f"{where} is amended without {key[:-3]}_in; give both figures")
            bases[table, key] = basis.strip()
        for key, value in entries.items():
            if key in _ABOUT:
                continue
            target[key] = value
            if key.endswith("_in") and key[:-3] + "_mm" not in entries:
                target.pop(key[:-3] + "_mm", None)
    for key, value in changes.items():
        if key not in ("basis", "amends", "title", "note") and not isinstance(value, dict):
            raise ValueError(f"{file}: {key} stands outside every table")
    amends = changes.get("amends")
    if amends is not None and amends != document.get("name"):
        raise ValueError(f"{file}: amends {amends!r}, but the profile is {document.get('name')!r}")
    return bases


def _tables(document: Mapping[str, Any], prefix: str = "") -> list[tuple[str, dict[str, Any]]]:
    """Every innermost table of a document under its dotted name."""
    found: list[tuple[str, dict[str, Any]]] = []
    for key, value in document.items():
        if isinstance(value, dict):
            inner = _tables(value, f"{prefix}{key}.")
            found.extend(inner or [(prefix + key, value)])
    return found


def _build(document: dict[str, Any], bases: dict[tuple[str, str], str], path: str) -> CodeProfile:
    tables = dict(_tables(document))

    def value(table: str, key: str) -> Any:
        try:
            return tables[table][key]
        except KeyError:
            raise ValueError(f"{path}: [{table}] {key} is missing") from None

    def figure(table: str, name: str) -> Figure:
        basis = bases.get((table, f"{name}_in"))
        return Figure(
            value(table, f"{name}_in"),
            tables[table].get(f"{name}_mm"),
            value(table, "section"),
            basis or "printed",
            "local amendment" if basis else value(table, "status"),
        )

    rows = [
        DepthRow(
            value(table, "volts_max"),
            figure(table, "clear"),
            figure(table, "grounded"),
            figure(table, "live_parts"),
        )
        for table in tables
        if table.startswith("depth.")
    ]
    if not rows:
        raise ValueError(f"{path}: no [depth.…] table")
    older = [
        OlderAllowance(
            value(table, "what"),
            value(table, "before"),
            figure(table, "value"),
            tuple((opposite, volts) for opposite, volts in tables[table].get("cells", ())),
        )
        for table in tables
        if table.startswith("older.")
    ]
    panic = "panic_hardware" in tables
    for key in ("name", "title", "source", "year", "scope", "how_seen"):
        if key not in document:
            raise ValueError(f"{path}: {key} is missing at the top")
    return CodeProfile(
        name=document["name"],
        title=document["title"],
        source=document["source"],
        year=document["year"],
        scope=document["scope"],
        how_seen=document["how_seen"],
        depth=tuple(sorted(rows, key=lambda row: row.volts_max)),
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
        dedicated_space_kinds=tuple(value("dedicated_space", "kinds")),
        dedicated_space_above=figure("dedicated_space", "above"),
        hand_motions=value("service_disconnects", "hand_motions"),
        ratings_list=value("ratings", "list"),
        tolerance_in=value("tolerance", "inches"),
        tolerance_mm=value("tolerance", "millimetres"),
        older=tuple(older),
        amended=tuple(
            f"[{table}] {key} = {tables[table][key]}: {basis}" for (table, key), basis in bases.items()
        ),
    )

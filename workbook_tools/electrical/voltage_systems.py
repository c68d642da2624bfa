"""What a written voltage means.

    read_voltage(text, phases, wires)   the system that a text names, or why it names none
    read_phases(text), read_wires(text) the number in "3 ph", "3Ø", "single phase", "4W"
    write_voltage(system)               a text that reads back as the system

Nothing here raises for what a person typed, and nothing is guessed: a text that fits two
systems names both. The table itself is in nominal_systems; its names can be imported from
here too.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from .nominal_systems import SYSTEMS, VoltageSystem, line_to_neutral, nominal_class, volts_to_ground

__all__ = [
    "SYSTEMS",
    "VoltageReading",
    "VoltageSystem",
    "line_to_neutral",
    "nominal_class",
    "read_phases",
    "read_voltage",
    "read_wires",
    "volts_to_ground",
    "write_voltage",
]


class VoltageReading(NamedTuple):
    """What a voltage text says.

    ``outcome`` is "one system", "ambiguous", "conflict" (text, phases and wires cannot all
    be true), "not nominal" (a voltage, but no system of the table) or "not a voltage".
    ``phases`` and ``wires`` are what the text itself said; ``says`` explains in a sentence.
    """

    text: str
    system: VoltageSystem | None
    candidates: tuple[VoltageSystem, ...]
    phases: int | None
    wires: int | None
    volts: tuple[float, ...]
    outcome: str
    says: str


def read_voltage(
    text: str, phases: str | int | None = None, wires: str | int | None = None
) -> VoltageReading:
    """Read a voltage as people write it, with phase and wires beside it or inside it.

    Parameters
    ----------
    text : str
        "208Y/120V 3PH 4W", "277/480", "240/120 delta high leg", "12.47kV", "480".
    phases, wires : str or int, optional
        The entries of separate columns, as typed ("3", "3 ph", "4W"); what cannot be read
        as a count is left out of account.

    Returns
    -------
    reading : VoltageReading
        Never raises for a text. "120/240" alone is ambiguous: only phase and wires decide
        between the single-phase system and the high-leg delta.

    References
    ----------
    .. [1] Notation: ANSI C84.1 (C84.1-2020 in sources.csv). Spellings: common practice.

    Examples
    --------
    >>> read_voltage("277/480V 3PH 4W").system.name
    '480Y/277'
    >>> read_voltage("120/240", "3", "4").system.name
    '240/120 delta (high leg)'
    >>> read_voltage("480Y/277", "1", "2").outcome
    'conflict'
    """
    as_number = [
        entry if isinstance(entry, int) or entry is None else str(entry) for entry in (phases, wires)
    ]
    said_phases = as_number[0] if isinstance(as_number[0], int) else read_phases(as_number[0])
    said_wires = as_number[1] if isinstance(as_number[1], int) else read_wires(as_number[1])
    return _read(str(text), said_phases, said_wires)


def read_phases(text: str | None) -> int | None:
    """Return the number of phases that a text names, None when it names none.

    Parameters
    ----------
    text : str or None
        "3", "3 ph", "3Ø", "single phase", "three-phase".

    Returns
    -------
    phases : int or None
        1 or 3; another number when one is written ("2 phase"). [-]

    Examples
    --------
    >>> read_phases("3Ø"), read_phases("single phase"), read_phases("1"), read_phases("N/V")
    (3, 1, 1, None)
    """
    plain = _plain(text or "")
    bare = re.fullmatch(r"([1-9])(?:\.0)?\s*p?", plain)
    return int(bare[1]) if bare else _take_counts(plain)[1]


def read_wires(text: str | None) -> int | None:
    """Return the number of wires that a text names, None when it names none.

    Parameters
    ----------
    text : str or None
        "4", "4W", "4-wire", "three wire", "4W+G" (a ground is not counted as a wire).

    Returns
    -------
    wires : int or None
        The number written. [-]

    Examples
    --------
    >>> read_wires("4W+G"), read_wires("3-wire"), read_wires("2"), read_wires("")
    (4, 3, 2, None)
    """
    plain = _plain(text or "")
    bare = re.fullmatch(r"([1-9])(?:\.0)?(?:\s*(?:\+|&|plus|and)\s*(?:g|gnd|ground))?", plain)
    return int(bare[1]) if bare else _take_counts(plain)[2]


def write_voltage(system: VoltageSystem) -> str:
    """Write a system so that it reads back as itself.

    Parameters
    ----------
    system : VoltageSystem
        A system of the table.

    Returns
    -------
    text : str
        "480Y/277 V 3PH 4W".

    Examples
    --------
    >>> write_voltage(SYSTEMS["480Y/277-3P4W"])
    '480Y/277 V 3PH 4W'
    """
    name, _, rest = system.name.partition(" ")
    return f"{name} V {rest + ' ' if rest else ''}{system.phases}PH {system.wires}W"


_LOOKALIKES = str.maketrans(
    {"Ø": "ph", "ø": "ph", "∅": "ph", "⌀": "ph", "φ": "ph", "Φ": "ph", "ϕ": "ph", "Δ": " delta ", "∆": " delta ",
     "δ": " delta ", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "×": "x", "⁄": "/", "∕": "/",
     "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u200b": "", "\ufeff": "",
     **dict.fromkeys("'\"’‘“”′″`´", "")}
)  # fmt: skip
_COUNT_WORDS = {"one": "1", "single": "1", "two": "2", "three": "3", "four": "4"}
_HIGH_LEG = r"(?:high|hi|wild|stinger|red|crazy)[\s-]*leg"
_OTHER_UNITS = (
    r"[0-9][0-9.,]*\s*-?\s*(?:hz|hertz|cycles?|ka|kaic|aic|amps?|amperes?|a|kva|mva|va|kw|hp)(?![a-z])"
)


def _plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.translate(_LOOKALIKES).lower()).strip()


def _take_counts(plain: str) -> tuple[str, int | None, int | None]:
    """Take phases and wires out of a text; what is left holds the volts."""
    plain = re.sub(
        r"\b(one|single|two|three|four)(?=[\s-]*(?:ph|wire|w\b))", lambda word: _COUNT_WORDS[word[1]], plain
    )
    phases = wires = None
    short_form = re.search(r"/\s*([13])\s*(?:ph)?\s*/\s*(?:50|60)\b(?:\s*hz)?", plain)  # volts/phases/hertz
    if short_form:
        phases = int(short_form[1])
        plain = plain[: short_form.start()] + " " + plain[short_form.end() :]
    bare_pair = re.search(r"(?<=[0-9vy])[\s,;/-]+([13])[\s,;/-]+([234])$", plain)  # 480Y/277 3 4
    if bare_pair:
        phases, wires = int(bare_pair[1]), int(bare_pair[2])
        plain = plain[: bare_pair.start()]
    found = re.search(
        r"(?<![0-9.])([1-9])\s*-?\s*(?:wires?|w)(?![a-z])(?:\s*(?:\+|&|plus|and)\s*(?:1\s*)?(?:gnd|ground|g)\b)?",
        plain,
    )
    if found:
        wires = int(found[1])
        plain = plain[: found.start()] + " " + plain[found.end() :]
        poles = re.search(r"(?<![0-9.])([13])\s*p(?![a-z])", plain)  # "3P 4W": beside wires a P is a phase
    else:
        poles = None
    named = re.search(r"(?<![0-9.])([1-9])\s*-?\s*(?:phases?|phs?)(?![a-z])\.?", plain) or poles
    if named:
        phases = int(named[1])
        plain = plain[: named.start()] + " " + plain[named.end() :]
    return plain, phases, wires


def _take_volts(plain: str) -> tuple[float, ...]:
    plain = re.sub(r"(?<![0-9])[1-4]\s*-?\s*(?:poles?|p)(?![a-z])", " ", plain)
    plain = re.sub(_OTHER_UNITS, " ", plain)
    plain = re.sub(r"(?<![0-9.])([0-9]{2}) ([0-9]{3})(?![0-9])", r"\1\2", plain)  # 12 470Y/7200
    numbers = re.findall(r"([0-9]{1,3}(?:,[0-9]{3})+(?![0-9])|[0-9]+)(\.[0-9]+)?", plain)
    volts = [float(whole.replace(",", "") + fraction) for whole, fraction in numbers]
    if re.search(r"[0-9]\s*k(?:v|\b)", plain):
        volts = [round(value * 1000, 6) if value < 1000 else value for value in volts]
    return tuple(int(value) if value == int(value) else value for value in volts)


class _Said(NamedTuple):
    """What a text says beside its numbers."""

    phases: int | None
    wires: int | None
    delta: bool
    wye: bool
    corner: bool
    high_leg: bool
    numbers: int

    def allows(self, system: VoltageSystem) -> bool:
        """Whether phases, wires and connection as said can be true of the system."""
        return (
            (self.phases is None or system.phases == self.phases)
            and (self.wires is None or system.wires == self.wires)
            and (not self.delta or "delta" in system.connection)
            and (not self.wye or "wye" in system.connection)
            and (not self.corner or "one corner" in system.grounding)
            and (not self.high_leg or system.high_leg)
        )

    def names(self, system: VoltageSystem) -> bool:
        """Whether the text says what must be said before it can mean an unusual system."""
        return {
            "": True,
            "corner": self.corner,
            "phase or wires": self.phases is not None or self.wires is not None,
            "second voltage": self.numbers > 1 or self.high_leg,
            "second voltage and phase": self.numbers > 1 and self.phases is not None,
            "three wires": self.wires == 3 or self.delta,
        }[system.only_if]


@lru_cache(maxsize=4096)
def _read(text: str, phases: int | None, wires: int | None) -> VoltageReading:
    rest, phases_in_text, wires_in_text = _take_counts(_plain(text))
    volts = _take_volts(rest)

    def reading(
        outcome: str,
        says: str,
        candidates: list[VoltageSystem] | None = None,
        one: VoltageSystem | None = None,
    ) -> VoltageReading:
        fits = tuple(candidates or ([one] if one else []))
        return VoltageReading(text, one, fits, phases_in_text, wires_in_text, volts, outcome, says)

    said = _Said(
        phases=phases if phases is not None else phases_in_text,
        wires=wires if wires is not None else wires_in_text,
        delta=bool(re.search(r"delta|(?<=[0-9v])\s?d\b", rest)),
        wye=bool(re.search(r"\bwye\b|\bstar\b|(?<=[0-9v])\s?(?:y|wye)(?![a-z])", rest)),
        corner=bool(
            re.search(
                r"corner|\bcg\b|(?<!un)grounded[\s-]*(?:delta|b\b)|b[\s-]*(?:phase|ph)[\s-]*ground", rest
            )
        ),
        high_leg=bool(re.search(_HIGH_LEG, rest)),
        numbers=len(set(volts)),
    )
    if not volts and not said.high_leg:
        return reading(
            "not a voltage",
            f"{text.strip()!r} holds no voltage." if text.strip() else "No voltage is entered.",
        )
    if re.search(r"dc\b", rest):
        return reading(
            "not nominal", f"{text.strip()} is direct current; the table holds alternating-current systems."
        )
    for column, inside, beside in (("phases", phases_in_text, phases), ("wires", wires_in_text, wires)):
        if inside is not None and beside is not None and inside != beside:
            return reading(
                "conflict", f"{text.strip()!r} says {inside} {column}, the entry beside it says {beside}."
            )

    by_volts, remark = _systems_of(volts, said)
    if not by_volts:
        return reading(*_no_system(volts, text))
    fits = [system for system in by_volts if said.allows(system)]
    usual = [system for system in fits if said.names(system)]
    fits = _without_unsaid_neutral(usual, said) if usual else []
    if not fits:
        known = usual_or_all = [system for system in by_volts if said.names(system)] or by_volts
        known = [
            system for system in known if system.phases == said.phases and not system.only_if
        ] or usual_or_all
        listed = "; ".join(system.description for system in known)
        return reading(
            "conflict", f"{_as_said(text, said)} cannot all be true: the table has {listed}.", known
        )
    if len(fits) > 1:
        listed = " or ".join(system.description for system in fits)
        return reading("ambiguous", f"{_as_said(text, said)} can be {listed}.", fits)
    system = fits[0]
    return reading("one system", f"{system.description}.{remark}", one=system)


def _systems_of(volts: tuple[float, ...], said: _Said) -> tuple[list[VoltageSystem], str]:
    """Systems with these voltages, exactly or by the class of a nameplate voltage."""
    found = frozenset(volts)
    if said.high_leg or found == {120, 208, 240}:
        legs = [
            system
            for system in SYSTEMS.values()
            if system.high_leg and found <= {system.line_volts, system.neutral_volts, system.volts_to_ground}
        ]
        by_line = [system for system in legs if system.line_volts in found]
        return (by_line or legs if found else legs[:1]), ""
    exact = _match(found, said)
    if exact:
        return exact, ""
    by_class = frozenset(_LEG_CLASS.get(value, nominal_class(value)) for value in found)
    near = _match(by_class, said) if _one_class(found) else []
    if near:
        written = "/".join(f"{value:g}" for value in volts)
        return near, f" {written} V is a nameplate voltage of the {near[0].line_volts} V class."
    dual = len(found) == 2 and {nominal_class(value) for value in found} in ({208, 240}, {240, 480})
    either = (
        [*_match(frozenset({min(by_class)}), said), *_match(frozenset({max(by_class)}), said)] if dual else []
    )
    return [system for system in either if not system.has_neutral], ""


def _match(volts: frozenset[float], said: _Said) -> list[VoltageSystem]:
    one = len(volts) == 1
    found = [
        system
        for system in SYSTEMS.values()
        if (volts == {system.line_volts} if one else volts == {system.line_volts, system.neutral_volts})
    ]
    if one and not any(said.names(system) for system in found):
        # A lone 460 is the nameplate voltage of the 480 class, not the obsolete 460Y/265 system.
        found = [system for system in found if not system.only_if.startswith("second")]
    return found


# Other roundings of a line-to-neutral voltage, each under the printed nominal one; common practice.
_LEG_CLASS: dict[float, int] = {110: 120, 115: 120, 138: 139, 254: 277, 332: 347, 346: 347, 2402: 2400}


def _one_class(volts: frozenset[float]) -> bool:
    """Whether two numbers are line and leg of one class (115/230), not a dual rating (230/460)."""
    return len(volts) == 1 or min(volts) in _LEG_CLASS


def _without_unsaid_neutral(systems: list[VoltageSystem], said: _Said) -> list[VoltageSystem]:
    """Read a plain number without a neutral unless wires say so; a wye mark with one unless wires deny it."""
    if said.numbers > 1 or said.wires is not None or said.high_leg:
        return systems
    kept = [system for system in systems if (system.wires > 2 and system.has_neutral) == said.wye]
    return kept or systems


def _as_said(text: str, said: _Said) -> str:
    parts = [text.strip()]
    if said.phases is not None:
        parts.append(f"{said.phases} phase{'s' if said.phases > 1 else ''}")
    if said.wires is not None:
        parts.append(f"{said.wires} wire{'s' if said.wires > 1 else ''}")
    return ", ".join(parts)


def _no_system(volts: tuple[float, ...], text: str) -> tuple[str, str]:
    nominal = sorted({system.line_volts for system in SYSTEMS.values() if not system.only_if})
    highest = max(volts)
    nearest = min(nominal, key=lambda value: abs(value - highest))
    return (
        "not nominal",
        f"{text.strip()} is no nominal system of the table; the nearest nominal voltage is {nearest} V.",
    )

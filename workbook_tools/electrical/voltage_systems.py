"""What a written voltage means.

    read_voltage(text, phases, wires)   the system that a text names, or why it names none

Nothing here raises for what a person typed, and nothing is guessed: a text that fits two
systems names both. Not here: the table itself (nominal_systems), the reading of phases, wires
and volts (voltage_texts).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from workbook_tools.electrical.nominal_systems import (
    SYSTEMS,
    WITHOUT_ITS_NEUTRAL,
    VoltageSystem,
    nominal_class,
)
from workbook_tools.electrical.voltage_texts import (
    connection_words,
    plain_text,
    read_phases,
    read_wires,
    take_counts,
    take_volts,
)

__all__ = ["VoltageReading", "read_voltage"]


LONGEST_TEXT = 500  # characters; no placard says more, and a longer text costs more than it can tell


@dataclass(frozen=True, slots=True)
class VoltageReading:
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
    >>> read_voltage("480Y/277", "3", "3").system.name
    '480Y/277 without its neutral'
    >>> read_voltage("480Y/277", "1", "4").outcome
    'conflict'
    """
    return _read(str(text), phases, wires)


@dataclass(frozen=True, slots=True)
class _Said:
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
            WITHOUT_ITS_NEUTRAL: (self.numbers > 1 or self.high_leg) and self.wires is not None,
        }[system.only_if]


@lru_cache(maxsize=4096, typed=True)  # a campus has thousands of boards and a handful of systems
def _read(text: str, phases: str | int | None, wires: str | int | None) -> VoltageReading:
    as_number = [
        entry if isinstance(entry, int) or entry is None else str(entry) for entry in (phases, wires)
    ]
    said_phases = as_number[0] if isinstance(as_number[0], int) else read_phases(as_number[0])
    said_wires = as_number[1] if isinstance(as_number[1], int) else read_wires(as_number[1])
    if len(text) > LONGEST_TEXT:
        says = f"A text of {len(text)} characters is no voltage."
        return VoltageReading(text, None, (), said_phases, said_wires, (), "not a voltage", says)
    return _read_beside(text, said_phases, said_wires)


def _read_beside(text: str, phases: int | None, wires: int | None) -> VoltageReading:
    rest, phases_in_text, wires_in_text = take_counts(plain_text(text))
    volts = take_volts(rest)

    def reading(
        outcome: str,
        says: str,
        candidates: list[VoltageSystem] | None = None,
        one: VoltageSystem | None = None,
    ) -> VoltageReading:
        fits = tuple(candidates or ([one] if one else []))
        return VoltageReading(text, one, fits, phases_in_text, wires_in_text, volts, outcome, says)

    said = _Said(
        phases if phases is not None else phases_in_text,
        wires if wires is not None else wires_in_text,
        *connection_words(rest),
        len(set(volts)),
    )
    if not volts and not said.high_leg:
        return reading(
            "not a voltage",
            f"{text.strip()!r} holds no voltage." if text.strip() else "No voltage is entered.",
        )
    if "dc" in rest:
        return reading(
            "not nominal", f"{text.strip()} is direct current; the table holds alternating-current systems."
        )
    for column, inside, beside in (("phases", phases_in_text, phases), ("wires", wires_in_text, wires)):
        if inside is not None and beside is not None and inside != beside:
            noun = column.removesuffix("s") if inside == 1 else column
            return reading(
                "conflict", f"{text.strip()!r} says {inside} {noun}, the entry beside it says {beside}."
            )
    if said.phases == 2 or said.wires == 5:
        return reading(
            "not nominal",
            f"{_as_said(text, said)} is a two-phase system: some are still in service, and the table holds none; "
            "two poles of a three-phase board are one phase.",
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
        known = [system for system in known if system.only_if != WITHOUT_ITS_NEUTRAL]
        listed = " or ".join(system.description for system in known)
        return reading(
            "conflict", f"{_as_said(text, said)} cannot all be true; possible would be {listed}.", known
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
    if len(set(volts)) > 1:
        named = " and ".join(f"{value:g}" for value in volts)
        return "not nominal", f"{text.strip()} names {named} V, which do not belong to one nominal system."
    nominal = sorted({system.line_volts for system in SYSTEMS.values() if not system.only_if})
    nearest = min(nominal, key=lambda value: abs(value - volts[0]))
    return "not nominal", f"{text.strip()} is not a nominal system voltage; the nearest is {nearest} V."

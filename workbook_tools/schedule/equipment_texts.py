"""How the values of one piece of equipment read on paper.

    rating(row, assessment)        "400 A", "400 A, main 225 A", "75 kVA", "not visible"
    voltage(row, assessment)       "480Y/277 V", "480 to 208Y/120 V"
    phase_wires(row, assessment)   "3-phase, 4-wire"
    system_text(row, assessment)   "480Y/277 V, 3-phase, 4-wire"; "" where it is not known
    maker(row), main_device(row), short_circuit(row), fed_from(row)
    room_of(row), level_of(row, survey), with_level(room, level), in_the_room(row, assessment)
    answer(value)                  any cell: the value as typed, "not visible", "-"

Not here: figures (assessment).
"""

from __future__ import annotations

from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical.voltage_texts import connection_words, plain_text
from workbook_tools.rules.plain_english import listed
from workbook_tools.survey import Equipment, Outcome, Survey, Value

__all__ = [
    "NONE",
    "NOT_RECORDED",
    "NOT_VISIBLE",
    "answer",
    "fed_from",
    "in_the_room",
    "kind_of",
    "level_of",
    "main_device",
    "maker",
    "phase_wires",
    "place",
    "rating",
    "room_of",
    "short_circuit",
    "system_text",
    "voltage",
    "with_level",
]

NOT_VISIBLE = "not visible"
NONE = "-"
NOT_RECORDED = "not recorded"


def answer(value: Value[Any], text: str | None = None) -> str:
    """Return a cell as it reads on paper; `text` is how its value is written."""
    if value.outcome is Outcome.VALUE:
        return text if text is not None else value.said
    if value.outcome is Outcome.NOT_VISIBLE:
        return NOT_VISIBLE
    if value.outcome is Outcome.NOT_APPLICABLE:
        return NONE
    if value.outcome is Outcome.UNREADABLE:
        return f"{value.said} (not readable)"
    return NOT_RECORDED


def room_of(row: Equipment) -> str:
    """Return the room as typed, or "" where none is."""
    return row.room.said if row.room.outcome is Outcome.VALUE else ""


def kind_of(row: Equipment) -> str:
    """Return the kind, as typed where it is none of the list."""
    return row.kind.value or row.kind.said


def in_the_room(row: Equipment, assessment: Assessment) -> str:
    """Return where a piece stands, inside a sentence: "in the Main electrical room (Ground)"."""
    name = room_of(row)
    if not name:
        return "in a room that was not recorded"
    the = "" if any(c.isdigit() for c in name) or name.casefold().startswith("the ") else "the "
    return f"in {the}{with_level(name, level_of(row, assessment.survey))}"


def level_of(row: Equipment, survey: Survey) -> str:
    """Return the level of the room that a piece stands in: "Level 2"; "" where it was not recorded."""
    room = survey.room(room_of(row)) if room_of(row) else None
    return room.storey if room is not None else ""


def with_level(room: str, level: str) -> str:
    """Return a room with its level, as it stands in every list: "Boiler room (Basement)"."""
    return f"{room} ({level})" if room and level and plain(room) != plain(level) else room or level


def place(row: Equipment, survey: Survey) -> str:
    """Return a tag with its kind, room and level: "DP-1, panelboard, Main electrical room (Ground)"."""
    kind = kind_of(row)
    small = kind if kind[:2].isupper() else kind[:1].lower() + kind[1:]
    return ", ".join(
        text for text in (row.called, small, with_level(room_of(row), level_of(row, survey))) if text
    )


def rating(row: Equipment, assessment: Assessment) -> str:
    """Return the rating: amperes, or kVA for a transformer."""
    if row.stock_kind == "Transformer":
        plate = assessment.plate(row)
        if plate is None:
            return NOT_RECORDED
        kva = plate.kva.value
        return answer(plate.kva, f"{kva:g} kVA" if kva is not None else None)
    amps, device = row.rating_a.value, row.main_or_fuse_a.value
    said = answer(row.rating_a, f"{amps:g} A" if amps is not None else None)
    if device is None or device == amps:
        return said
    named = "fuses" if row.main_device.value == "Fused switch" else "main"
    return f"{said}, {named} {device:g} A"


def voltage(row: Equipment, assessment: Assessment) -> str:
    """Return the voltage: the system's name where it is known, else as typed."""
    if row.stock_kind == "Transformer":
        plate = assessment.plate(row)
        if plate is None:
            return NOT_RECORDED
        sides = [answer(side) for side in (plate.primary_v, plate.secondary_v)]
        return (
            f"{sides[0]} to {sides[1]} V" if all(side[:1].isdigit() for side in sides) else " to ".join(sides)
        )
    system = assessment.equipment(row).system
    text = _system(system.name, row.voltage.typed) if system is not None else None
    said = answer(row.voltage, text)
    return f"{said} V" if said[-1:].isdigit() and row.voltage.outcome is Outcome.VALUE else said


def _system(name: str, typed: str) -> str:
    """Return a system's name with its unit; three wires from a wye are no delta, so that is said only where it was typed.

    Examples
    --------
    >>> _system("480 delta", "480"), _system("480 delta", "480V delta"), _system("240/120 delta (high leg)", "240/120")
    ('480 V', '480 V delta', '240/120 V delta (high leg)')
    """
    volts, _, rest = name.partition(" ")
    if rest == "delta" and not connection_words(plain_text(typed))[0]:
        rest = ""
    return f"{volts} V {rest}".strip()


def phase_wires(row: Equipment, assessment: Assessment) -> str:
    """Return phase and wires, from the system where it is known."""
    if row.stock_kind == "Transformer":
        plate = assessment.plate(row)
        phases = plate.phase.value if plate is not None else row.phase.value
        return f"{phases}-phase" if phases else NOT_RECORDED
    system = assessment.equipment(row).system
    phases = system.phases if system is not None else row.phase.value
    wires = system.wires if system is not None else row.wires.value
    if phases is None and wires is None:
        return answer(row.phase)
    return ", ".join(
        text for text in (f"{phases}-phase" if phases else "", f"{wires}-wire" if wires else "") if text
    )


def system_text(row: Equipment, assessment: Assessment) -> str:
    """Return voltage, phase and wires in one phrase, or "" where the voltage is not known."""
    if row.voltage.outcome is not Outcome.VALUE:
        return ""
    return f"{voltage(row, assessment)}, {phase_wires(row, assessment)}"


def maker(row: Equipment) -> str:
    """Return the maker as typed."""
    return answer(row.maker)


def main_device(row: Equipment) -> str:
    """Return what switches a piece off: "Main breaker"; "" where nobody is to have one."""
    return answer(row.main_device) if row.main_device.answered else ""


def short_circuit(row: Equipment) -> str:
    """Return the short-circuit rating: "22 kA"; "" where the cell was left blank."""
    value = row.short_circuit_rating_ka
    return answer(value, f"{value.value:g} kA" if value.value is not None else None) if value.answered else ""


def fed_from(row: Equipment) -> str:
    """Return the sources as typed, as one would say them."""
    names = row.fed_from.value
    return listed(names) if names else answer(row.fed_from)

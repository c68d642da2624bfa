"""Where the building is switched off, in one plain sentence for each service.

    service_sentences(assessment)   "Switch off at SD-1, the fused switch in the main electrical room, ..."
    other_sources(assessment)       what may stay live when the service is off
    doubts(found, questions, assessment)   what makes it uncertain or dangerous to switch off there

What was not recorded is said to be so; nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Iterable

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import PRIORITIES, plain
from workbook_tools.rules import client_reads
from workbook_tools.rules.plain_english import capital, in_words, inside, listed, plural, sentence
from workbook_tools.rules.problems import Problem
from workbook_tools.schedule.conditions import Found
from workbook_tools.schedule.equipment_texts import in_the_room, rating, room_of, system_text
from workbook_tools.survey import Equipment

__all__ = ["doubts", "other_sources", "service_sentences"]

_STILL_LIVE = "With the service off, parts of the building may still be live."

_DEVICES = {
    "Main breaker": "main breaker",
    "Fused switch": "fused switch",
    "Switch without fuses": "switch without fuses",
}


def service_sentences(assessment: Assessment) -> tuple[str, ...]:
    """Return one sentence for each service of the building."""
    found = assessment.supply.services
    sentences = []
    for name, rows in found.items():
        which = (
            ""
            if len(found) == 1
            else (f"Service from {_source(name)}: " if name else "Service from a source that is not known: ")
        )
        sentences.append(
            capital(which + (_one(rows[0], assessment) if len(rows) == 1 else _several(rows, assessment)))
        )
    return tuple(sentences) or (
        "No service disconnect was found: ask the utility or a licensed electrician where the building is switched off.",
    )


def doubts(found: Iterable[Found], questions: Iterable[Problem], assessment: Assessment) -> tuple[str, ...]:
    """Return what an issue or an open question says against switching off where the sentences say.

    Parameters
    ----------
    found : iterable of Found
        The conditions.
    questions : iterable of Problem
        What nobody has answered.
    assessment : Assessment
        Says which rows switch the building off.
    """
    disconnects = {row for rows in assessment.supply.services.values() for row in rows}
    rooms = {room_of(row) for row in disconnects}
    said = []
    for one in found:
        condition = one.condition
        if disconnects.intersection(one.rows) and (one.may_be_live or condition.priority == PRIORITIES[0]):
            said.append(
                f"Keep your hands off {condition.subject}: {inside(condition.phrase)} [{condition.id}]."
            )
        elif condition.priority == PRIORITIES[0] and condition.room and condition.room in rooms:
            said.append(
                f"On the way to the switch, keep away from {condition.subject} in the same room: {inside(condition.phrase)} "
                f"[{condition.id}]."
            )
        elif one.switching_off:
            said.append(f"Not certain: {inside(condition.phrase)} [{condition.id}].")
    for problem in questions:
        if client_reads.condition_of(problem).switching_off:
            said.append(f"Not certain, the question is open: {sentence(inside(problem.message))}")
    return tuple(dict.fromkeys(said))


def _source(name: str) -> str:
    return "the utility" if plain(name) == "utility" else name


def _one(row: Equipment, assessment: Assessment) -> str:
    device = _DEVICES.get(row.main_device.value or "", "service disconnect")
    return f"switch off at {row.called}, the {device} {in_the_room(row, assessment)}{_motions([row])}. {capital(_ratings([row], assessment))}."


def _several(rows: list[Equipment], assessment: Assessment) -> str:
    rooms: dict[str, list[str]] = {}
    for row in rows:
        rooms.setdefault(in_the_room(row, assessment), []).append(row.called)
    where = listed([f"{listed(tags)} {room}" for room, tags in rooms.items()])
    return f"switch off at {in_words(len(rows))} service disconnects, {where}{_motions(rows)}. {capital(_ratings(rows, assessment))}."


def _motions(rows: list[Equipment]) -> str:
    known = [count for row in rows if isinstance(count := row.hand_motions.value, int)]
    count = sum(known)
    motions = plural(count, "motion of the hand", "motions of the hand")
    verb = "switches" if count == 1 else "switch"
    if len(known) == len(rows):
        return f": {motions} {verb} {'it' if len(rows) == 1 else 'all of them'} off"
    if known:
        return f": at least {motions} (not counted at every one)"
    return "; how many motions of the hand it takes was not recorded"


def _ratings(rows: list[Equipment], assessment: Assessment) -> str:
    """Return what the service is, and which of rating and voltage nobody recorded or could see."""
    amps = [rating(row, assessment) for row in rows if row.rating_a.value is not None]
    systems = [text for row in rows if (text := system_text(row, assessment))]
    missing = [name for name, texts in (("rating", amps), ("voltage", systems)) if len(texts) < len(rows)]
    one = len(rows) == 1
    shown = [
        listed(texts if name == "rating" and len(set(texts)) > 1 else list(dict.fromkeys(texts)))
        for name, texts in (("rating", amps), ("voltage", systems))
        if texts
    ]
    each = "" if one or len(set(amps)) != 1 or len(amps) < len(rows) else " each"
    known = f"{'the service is' if one else 'they are'} {', '.join(shown)}{each}" if shown else ""
    whose = "its" if one else "their" if not shown else "not every"
    unknown = f"{whose} {listed(missing)} {'was' if len(missing) == 1 else 'were'} {'known' if whose == 'not every' else 'not recorded'}"
    return "; ".join(filter(None, (known, unknown if missing else "")))


def other_sources(assessment: Assessment) -> str:
    """Return what may keep parts of the building live, or "" where none was seen."""
    parts = [*_generators(assessment), *_photovoltaic(assessment), *_batteries(assessment)]
    return " ".join((_STILL_LIVE, *parts)) if parts else ""


def _generators(assessment: Assessment) -> list[str]:
    rows = _of_kind(assessment, "Generator")
    if not rows:
        return []
    itself, stop = (
        ("itself", "its own stop was") if len(rows) == 1 else ("themselves", "their own stops were")
    )
    said = f"The {_named(rows, 'generator', 'generators')} may start by {itself} when the service goes off; {stop} neither "
    return [f"{said}looked for nor operated in this survey."]


def _photovoltaic(assessment: Assessment) -> list[str]:
    """Return where photovoltaic power is cut off from the building, and what daylight keeps live all the same."""
    inverters, disconnects = _of_kind(assessment, "PV inverter"), _of_kind(assessment, "PV disconnect")
    if not inverters and not disconnects:
        return []
    whole = "The photovoltaic array"
    if inverters:
        whole += f" and the array side of the {_named(inverters, 'inverter', 'inverters')}"
    cut_off = [row for row in disconnects if not any(s.outside for s in assessment.supply.sources(row))]
    said = [
        f"{listed([f'{row.called} {in_the_room(row, assessment)}' for row in cut_off])} "
        f"{'cuts' if len(cut_off) == 1 else 'cut'} the photovoltaic supply off from the building."
        if cut_off
        else "",
        f"{whole} {'stay' if inverters else 'stays'} live by daylight{', whatever is switched off' if cut_off else ''}.",
    ]
    return [text for text in said if text]


def _batteries(assessment: Assessment) -> list[str]:
    rows = _of_kind(assessment, "Battery system")
    if not rows:
        return []
    holds = "holds" if len(rows) == 1 else "hold"
    return [
        f"The battery {_named(rows, 'system', 'systems')} may go on feeding and {holds} a charge that no switch takes away."
    ]


def _of_kind(assessment: Assessment, kind: str) -> list[Equipment]:
    return [row for row in assessment.survey.equipment if row.stock_kind == kind]


def _named(rows: list[Equipment], one: str, many: str) -> str:
    """Return pieces of one kind with where they stand: "inverters INV-1 and INV-2 (Roof)"."""
    rooms = list(dict.fromkeys(room_of(row) for row in rows if room_of(row)))
    where = f" ({listed(rooms)})" if rooms else ""
    return f"{one if len(rows) == 1 else many} {listed([row.called for row in rows])}{where}"

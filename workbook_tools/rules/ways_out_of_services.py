"""Rules about the ways out beside several service disconnects.

combined-entrance-check    the disconnects of one service, each small, are large together

Not here: equipment that is large by itself (ways_out).
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import Length, entrances_needed
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import section
from workbook_tools.rules.plain_english import listed, plural
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment, Room

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Ways out beside a service"

Measured = tuple[Equipment, Clearance]


def combined_entrance_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for services whose disconnects are large together, in a room with fewer entrances than that needs."""
    asked = assessment.profile.combined_service_entrances
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for name, rows in assessment.supply.services.items():
        room = assessment.survey.room(rows[0].room.value)
        measured = _in_one_room(assessment, rows, room)
        if room is None or len(measured) < 2:
            continue
        amps = [row.rating_a.value if assessment.is_plausible(row.rating_a) else None for row, _ in measured]
        widths = [_inches(assessment, clearance) for _, clearance in measured]
        known = [
            (one, width)
            for one, width in zip(amps, widths, strict=True)
            if one is not None and width is not None
        ]
        if len(known) < len(measured):
            yield from _ask_for_size(assessment, measured, amps, widths)
            continue
        yield from _judged(assessment, name, room, measured, known)


def _in_one_room(assessment: Assessment, rows: list[Equipment], room: Room | None) -> list[Measured]:
    """Return the disconnects beside what was measured of them; none where they do not stand in one room."""
    if any(assessment.survey.room(row.room.value) is not room for row in rows):
        return []
    found = [(row, assessment.survey.clearances_of(row.tag.value)) for row in rows]
    return (
        [(row, clearances[0]) for row, clearances in found if clearances] if all(c for _, c in found) else []
    )


def _inches(assessment: Assessment, row: Clearance) -> float | None:
    width = row.equipment_width.value
    return width.inches if width is not None and assessment.is_reliable(row.equipment_width) else None


def _ask_for_size(
    assessment: Assessment, measured: list[Measured], amps: list[float | None], widths: list[float | None]
) -> Iterator[NotChecked]:
    """Say what is missing, unless all ratings or all widths tell that the disconnects are small."""
    profile, rule = assessment.profile, COMBINED_ENTRANCE_CHECK
    if None not in amps and sum(one for one in amps if one is not None) < profile.large_amperes:
        return
    together = Length(sum(width for width in widths if width is not None), "in")
    if None not in widths and entrances_needed(profile, profile.large_amperes, together) < 2:
        return
    for row, clearance in measured:
        lacking = rule.lacking(row, clearance)
        if lacking is not None:
            yield rule.not_checked(measured[0][1], *lacking)
            return


def _judged(
    assessment: Assessment, name: str, room: Room, measured: list[Measured], known: list[tuple[float, float]]
) -> Iterator[Problem | NotChecked]:
    profile, rule, asked = (
        assessment.profile,
        COMBINED_ENTRANCE_CHECK,
        assessment.profile.combined_service_entrances,
    )
    amps, inches = sum(one for one, _ in known), sum(width for _, width in known)
    needed = entrances_needed(profile, amps, Length(inches, "in"))
    if (
        asked is None
        or needed < 2
        or any(entrances_needed(profile, one, Length(width, "in")) > 1 for one, width in known)
    ):
        return  # what is large by itself is second-entrance-check's
    counted = room.entrances.value
    first = next((row for _, row in measured if row.is_as_of), measured[0][1])
    if counted is None:
        yield from rule.ask(first, room)
    elif counted < needed:
        tags = listed([row.called for row, _ in measured])
        yield rule.problem(
            first,
            first.equipment_width,
            f"{tags}, the disconnects of {name or 'one service'}, are {amps:g} A and {inches:g} in wide together. Since the "
            f"{asked.since} edition they count as one: {profile.large_amperes:g} A or more and over "
            f"{profile.large_wider_than.inches:g} in wide asks for an entrance at each end of the working space; "
            f"{room.called} has {plural(counted, 'entrance')} ({section(assessment, asked.section, asked.basis)}).",
            phrase=f"{'only one way' if counted == 1 else 'no way'} out recorded from a room whose service disconnects are "
            "large together",
            expected=f"{room.entrances.heading} {needed}, or one of the two exceptions",
        )


_SIDE_BY_SIDE = {"kind": "Service disconnect", "fed_from": "Utility", "room": "Main electrical room"}
_PAIR = [
    {"tag": "SD-1", **_SIDE_BY_SIDE, "rating_a": "800"},
    {"tag": "SD-2", **_SIDE_BY_SIDE, "rating_a": "800"},
]
_WIDE = [{"tag": "SD-1", "equipment_width": "40"}, {"tag": "SD-2", "equipment_width": "40"}]

COMBINED_ENTRANCE_CHECK = Rule(
    slug="combined-entrance-check",
    class_="confirm",
    subject="Clearances",
    what="The service disconnects of one room are together 1200 A or more and over 6 ft wide, and it has fewer than two "
    "entrances.",
    why="A flash can cut off the only way out.",
    mend="Count the ways out again. One is enough where the way out is unobstructed, or where the depth is doubled and the "
    "door is far enough from the equipment: answer No issue with which. If neither holds, Tell the client.",
    source="NFPA 70 110.26(C)(2)",
    needs=(Room.entrances, Equipment.rating_a, Clearance.equipment_width),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.ON, Effort.ENGINEER, Danger.ACCESS),
        do="Have a licensed electrical engineer and the local authority look at the ways out.",
        why="A flash at the equipment can cut off the only way out.",
        in_short="too few ways out recorded",
    ),
    compares="Ways out of rooms with several service disconnects",
    check=combined_entrance_check,
    fires=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "1"}], equipment=_PAIR, clearances=_WIDE
    ),
    passes=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "2"}], equipment=_PAIR, clearances=_WIDE
    ),
)

RULES = (COMBINED_ENTRANCE_CHECK,)

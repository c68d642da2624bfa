"""Rules about the measured clearances.

    working-depth-short, working-width-short, working-height-short
    door-swing-limited
    front-projection-over
    second-entrance-check

What is needed comes from the assessment, for the code profile of the Job sheet; a length that
was likely meant in another unit is compared with nothing (unit-suspect asks about it). Rows
of unknown tags, and of kinds that are recorded but not inspected, are left alone. What stands
in the spaces is in clear_spaces.
"""

from __future__ import annotations

from collections.abc import Iterator
from weakref import WeakKeyDictionary

from workbook_tools.assessment import Assessment, ClearanceFacts
from workbook_tools.electrical import Length, entrances_needed
from workbook_tools.rules.causes import (
    is_in_scope,
    is_reliable,
    length_as_read,
    needed_figure,
    section,
    suspect_unit,
)
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed, heading_of, missing_of
from workbook_tools.survey.model import Outcome, Row

__all__ = ["RULES", "measured_rows"]


Measured = tuple[Row, Row, ClearanceFacts]
_MEASURED: WeakKeyDictionary[Assessment, list[Measured]] = WeakKeyDictionary()


def measured_rows(assessment: Assessment) -> list[Measured]:
    """Return each row of Clearances with its equipment and its facts, where the equipment is inspected."""
    if assessment not in _MEASURED:
        facts_of = ((row, assessment.clearance(row)) for row in assessment.survey.clearances)
        _MEASURED[assessment] = [
            (row, facts.equipment, facts)
            for row, facts in facts_of
            if facts.equipment is not None and is_in_scope(assessment, facts.equipment)
        ]
    return _MEASURED[assessment]


def _compared(
    rule: Rule, assessment: Assessment, field: str, needs: tuple[str, ...]
) -> Iterator[tuple[Row, ClearanceFacts] | NotChecked]:
    """Yield the rows where a comparison could be made, and a NotChecked where something for it is missing."""
    for row, equipment, facts in measured_rows(assessment):
        if getattr(facts, field) is not None:
            # What was likely meant in another unit is unit-suspect's.
            if not any(suspect_unit(assessment, row, name) for name in (field, *needs)):
                yield row, facts
            continue
        missing = missing_of(row, field, *needs)
        if missing is not None:
            yield rule.not_checked(assessment, row, missing)
        elif field == "depth" and facts.volts_to_ground is None and row["depth"].outcome is Outcome.VALUE:
            yield _voltage_missing(rule, assessment, row, equipment)


def _voltage_missing(rule: Rule, assessment: Assessment, row: Row, equipment: Row) -> NotChecked:
    if equipment.kind != "Transformer":
        return rule.not_checked(assessment, row, "voltage", equipment)
    plate = assessment.plate(equipment)
    if plate is None:
        return rule.not_checked(assessment, row, "tag", equipment)
    return rule.not_checked(
        assessment, row, missing_of(plate, "primary_v", "secondary_v") or "secondary_v", plate
    )


def depth_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the depth with the table's, for the volts to ground and the opposite side."""
    for found in _compared(WORKING_DEPTH_SHORT, assessment, "depth", ("opposite_side",)):
        if isinstance(found, NotChecked):
            yield found
            continue
        row, facts = found
        if facts.depth is not None and not facts.depth.enough:
            needed = needed_figure(facts.depth.needed, facts.depth.measured)
            limit = facts.depth.needed
            yield WORKING_DEPTH_SHORT.problem(
                assessment,
                row,
                "depth",
                f"Depth reads {length_as_read(row, 'depth')}; {needed} is needed at {limit.why} "
                f"({section(assessment, limit.section, limit.basis)}).",
                expected=f"at least {needed}",
            )


def width_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the width with the least width and the equipment's own."""
    rule = WORKING_WIDTH_SHORT
    for found in _compared(rule, assessment, "width", ("equipment_width",)):
        if isinstance(found, NotChecked):
            yield found
            continue
        row, facts = found
        if facts.width is None or facts.width.enough:
            continue
        limit, measured = facts.width.needed, facts.width.measured
        if limit.own and not is_reliable(assessment, row, "equipment_width"):
            continue  # implausible-value asks about the equipment's own width first
        needed = needed_figure(limit, measured)
        because = (
            f"needed, since the equipment is {length_as_read(row, 'equipment_width')} wide"
            if limit.own
            else limit.why
        )
        yield rule.problem(
            assessment,
            row,
            "width",
            f"Width reads {length_as_read(row, 'width')}; {needed} is {because} "
            f"({section(assessment, limit.section, limit.basis)}).",
            expected=f"at least {needed}",
        )


def height_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the height with the least height."""
    for found in _compared(WORKING_HEIGHT_SHORT, assessment, "height", ()):
        if isinstance(found, NotChecked):
            yield found
            continue
        row, facts = found
        if facts.height is not None and not facts.height.enough:
            limit = facts.height.needed
            needed = needed_figure(limit, facts.height.measured)
            yield WORKING_HEIGHT_SHORT.problem(
                assessment,
                row,
                "height",
                f"Height reads {length_as_read(row, 'height')}; {needed} is {limit.why} "
                f"({section(assessment, limit.section, limit.basis)}).",
                expected=f"at least {needed}",
            )


def door_swing_limited(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for doors that do not open 90 degrees."""
    for row, _equipment, _facts in measured_rows(assessment):
        yield from DOOR_SWING_LIMITED.unanswered(assessment, row, "door_opens_90")
        if row.get("door_opens_90") == "No":
            yield DOOR_SWING_LIMITED.problem(
                assessment,
                row,
                "door_opens_90",
                f"A door or hinged panel of {row.subject} does not open {assessment.profile.door_opening_degrees:g} "
                f"degrees ({section(assessment, assessment.profile.width.section)}).",
                expected=f"{assessment.profile.door_opening_degrees:g} degrees at least",
            )


def front_projection_over(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what stands out past the front with the most that may."""
    for row, _equipment, facts in measured_rows(assessment):
        over = facts.projection
        yield from FRONT_PROJECTION_OVER.unanswered(assessment, row, "front_projection")
        if over is None or over.enough or suspect_unit(assessment, row, "front_projection"):
            continue
        if not is_reliable(assessment, row, "front_projection"):
            continue  # implausible-value asks first
        most = needed_figure(over.needed, over.measured)
        yield FRONT_PROJECTION_OVER.problem(
            assessment,
            row,
            "front_projection",
            f"Something above or below {row.subject} stands {length_as_read(row, 'front_projection')} out past the front; "
            f"at most {most} is allowed ({section(assessment, over.needed.section, over.needed.basis)}).",
            expected=f"at most {most}",
        )


def _size_unknown(assessment: Assessment, row: Row, equipment: Row) -> Iterator[NotChecked]:
    """Yield a NotChecked where the width or the rating is missing and the other does not settle the question."""
    profile = assessment.profile
    width, amps = row.get("equipment_width"), equipment.get("rating_a")
    if isinstance(width, Length) and entrances_needed(profile, profile.large_amperes, width) < 2:
        return
    if amps is not None and amps < profile.large_amperes:
        return
    answers = (row["equipment_width"].outcome, equipment["rating_a"].outcome)
    if Outcome.NOT_APPLICABLE in answers:
        return
    if not isinstance(width, Length):
        yield from SECOND_ENTRANCE_CHECK.unanswered(assessment, row, "equipment_width")
    else:
        yield from SECOND_ENTRANCE_CHECK.unanswered(assessment, row, "rating_a", equipment)


def second_entrance_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large equipment in a room with fewer entrances than it needs."""
    rule, profile = SECOND_ENTRANCE_CHECK, assessment.profile
    seen: set[int] = set()
    for row, equipment, _facts in measured_rows(assessment):
        width, amps = row.get("equipment_width"), equipment.get("rating_a")
        if id(equipment) in seen or equipment.kind == "Transformer":
            continue  # a transformer holds no overcurrent, switching or control device
        if not isinstance(width, Length) or amps is None:
            yield from _size_unknown(assessment, row, equipment)
            continue
        if amps < 0:
            continue
        if not is_reliable(assessment, row, "equipment_width"):
            continue
        needed = entrances_needed(profile, amps, width)
        if needed < 2:
            continue
        seen.add(id(equipment))
        room = assessment.survey.room(equipment.get("room") or "")
        entrances = room.get("entrances") if room is not None else None
        if room is None or entrances is None:
            missing = missing_of(room, "entrances") if room is not None else "room"
            if missing is not None:
                yield rule.not_checked(assessment, row, missing, room if room is not None else equipment)
        elif entrances < needed:
            counted = "one entrance" if entrances == 1 else f"{entrances} entrances"
            yield rule.problem(
                assessment,
                row,
                "equipment_width",
                f"{row.subject} is {amps:g} A and {length_as_read(row, 'equipment_width')} wide. Equipment of "
                f"{profile.large_amperes:g} A or more and over {profile.large_wider_than.inches:g} in wide needs an entrance "
                f"at each end of the working space; {room.subject} has {counted} "
                f"({section(assessment, profile.large_wider_than.section)}).",
                expected=f"{heading_of(assessment, 'rooms', 'entrances')} {needed}, or one of the two exceptions",
            )


_DP1 = {"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4"}
_MSB = {"tag": "MSB", "kind": "Switchboard", "room": "Main electrical room", "rating_a": "1600"}

WORKING_DEPTH_SHORT = Rule(
    slug="working-depth-short",
    class_="report",
    measured=True,
    priority="Correct soon",
    subject="Clearances",
    needs=("volts_to_ground", "opposite_side", "depth"),
    what="Clear depth in front of the equipment is below the table's for the voltage to ground and the opposite side.",
    why="Whoever works on it live has no room to step back.",
    mend="Measure again from the enclosure front. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303 Table S-1; NFPA 70 Table 110.26(A)(1)",
    check=depth_short,
    fires=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "41 in"}]
    ),
    passes=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "opposite_side": "Grounded", "depth": "42 in"}]
    ),
)

WORKING_WIDTH_SHORT = Rule(
    slug="working-width-short",
    class_="report",
    measured=True,
    priority="Correct soon",
    subject="Clearances",
    needs=("width", "equipment_width"),
    what="Clear width in front of the equipment is below 30 in or the equipment's own width.",
    why="Whoever works on it stands at an angle, with an arm near live parts.",
    mend="Measure again. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303(g)(1); NFPA 70 110.26(A)(2)",
    check=width_short,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "width": "2 m", "equipment_width": "80"}]),
    passes=as_typed(
        equipment=[_DP1], clearances=[{"tag": "DP-1", "width": "762 mm", "equipment_width": "20"}]
    ),
)

WORKING_HEIGHT_SHORT = Rule(
    slug="working-height-short",
    class_="report",
    measured=True,
    priority="Correct soon",
    subject="Clearances",
    needs=("height",),
    what="Clear height in front of the equipment is below 78 in or the equipment's own height.",
    why="Whoever works on it strikes their head or stands bent beside live parts.",
    mend="Measure again from the floor. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303(g)(1); NFPA 70 110.26(A)(3)",
    check=height_short,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "height": "76"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "height": "1981 mm"}]),
)

DOOR_SWING_LIMITED = Rule(
    slug="door-swing-limited",
    class_="report",
    priority="Correct soon",
    subject="Clearances",
    needs=("door_opens_90",),
    what="A door or hinged panel does not open 90 degrees.",
    why="A door half open stands in the way of work and of escape.",
    mend="Look again. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(A)(2)",
    check=door_swing_limited,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "door_opens_90": "No"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "door_opens_90": "N/A"}]),
)

FRONT_PROJECTION_OVER = Rule(
    slug="front-projection-over",
    class_="report",
    measured=True,
    priority="Correct soon",
    subject="Clearances",
    needs=("front_projection",),
    what="Something above or below stands more than 6 in beyond the front.",
    why="It keeps whoever works there at arm's length from the equipment, and trips people.",
    mend="Measure again from the front of the equipment. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(A)(3)",
    check=front_projection_over,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "front_projection": "9"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "front_projection": "6"}]),
)

SECOND_ENTRANCE_CHECK = Rule(
    slug="second-entrance-check",
    class_="confirm",
    subject="Clearances",
    needs=("equipment_width", "rating_a", "entrances"),
    what="Equipment of 1200 A or more and over 6 ft wide stands in a room with fewer than two entrances.",
    why="A flash can cut off the only way out.",
    mend="Count the ways out again. One is enough where the way out is unobstructed, or where the depth is doubled and the "
    "door is far enough from the equipment: confirm which. If neither holds, record a finding.",
    source="NFPA 70 110.26(C)(2)",
    check=second_entrance_check,
    fires=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "1"}],
        equipment=[_MSB],
        clearances=[{"tag": "MSB", "equipment_width": "90"}],
    ),
    passes=as_typed(
        rooms=[{"room": "Main electrical room", "entrances": "1"}],
        equipment=[_MSB],
        clearances=[{"tag": "MSB", "equipment_width": "72"}],
    ),
)

RULES = (
    WORKING_DEPTH_SHORT,
    WORKING_WIDTH_SHORT,
    WORKING_HEIGHT_SHORT,
    DOOR_SWING_LIMITED,
    FRONT_PROJECTION_OVER,
    SECOND_ENTRANCE_CHECK,
)

"""Rules about the measured clearances.

    working-depth-short, working-width-short, working-height-short
    front-projection-over
    door-swing-limited

What is needed comes from the assessment, for the code profile of the Job sheet; a length that
was likely meant in another unit is compared with nothing (unit-suspect asks about it). Rows
of unknown tags, and of kinds that are recorded but not inspected, are left alone. What stands
in the spaces is in clear_spaces, the ways out are in ways_out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import Length, Limit
from workbook_tools.rules.client import Condition
from workbook_tools.rules.contradictions import answered, enough
from workbook_tools.rules.in_words import length_as_read, needed_figure, section
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment, Field, Outcome, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Clearances"

InWords = Callable[[Clearance, Limit, str, str], tuple[str, str]]
"""Says a row, its limit, what was measured and what is needed: to the inspector without the section, to the client."""


def _too_short(
    rule: Rule, assessment: Assessment, length: Field[Length], in_words: InWords
) -> Iterator[Problem | NotChecked]:
    """Yield a problem where a length is short, and a NotChecked where something for it is missing."""
    lengths = [needed for needed in rule.needs if needed.owner is Clearance]
    for row, equipment, facts in assessment.measured:
        compared = facts.comparison(length)
        if compared is not None:
            # What was likely meant in another unit is unit-suspect's.
            if not compared.enough and not any(assessment.suspect_unit(row[needed]) for needed in lengths):
                limit = compared.needed
                if limit.own and not assessment.is_reliable(row.equipment_width):
                    continue  # implausible-value asks about the equipment's own width first
                needed = needed_figure(limit, compared.measured)
                said, phrase = in_words(row, limit, length_as_read(row[length]), needed)
                yield rule.problem(
                    row,
                    row[length],
                    f"{said} ({section(assessment, limit.section, limit.basis)}).",
                    phrase=phrase,
                    expected=f"at least {needed}",
                )
            continue
        missing = list(rule.ask(row))
        yield from missing
        if missing or length is not Clearance.depth or row.depth.outcome is not Outcome.VALUE:
            continue
        if facts.volts_to_ground is None:
            yield _voltage_missing(rule, assessment, row, equipment)


def _voltage_missing(rule: Rule, assessment: Assessment, row: Clearance, equipment: Equipment) -> NotChecked:
    if equipment.stock_kind != "Transformer":
        return rule.not_checked(row, equipment.voltage, equipment)
    plate = assessment.plate(equipment)
    if plate is None:
        return rule.not_checked(row, equipment.tag, equipment)
    lacking = rule.lacking(plate)
    return rule.not_checked(row, *(lacking or (plate.secondary_v, plate)))


def depth_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the depth with the table's, for the volts to ground and the opposite side."""

    def in_words(_row: Clearance, limit: Limit, measured: str, needed: str) -> tuple[str, str]:
        said = f"Depth reads {measured}; {needed} is needed at {limit.why}"
        return said, f"depth in front {measured} where {needed} is needed"

    yield from _too_short(WORKING_DEPTH_SHORT, assessment, Clearance.depth, in_words)


def width_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the width with the least width and the equipment's own."""

    def in_words(row: Clearance, limit: Limit, measured: str, needed: str) -> tuple[str, str]:
        own = length_as_read(row.equipment_width)
        because = f"needed, since the equipment is {own} wide" if limit.own else limit.why
        instead = f"the equipment itself is {own} wide" if limit.own else f"{needed} is needed"
        return f"Width reads {measured}; {needed} is {because}", f"width in front {measured} where {instead}"

    yield from _too_short(WORKING_WIDTH_SHORT, assessment, Clearance.width, in_words)


def height_short(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the height with the least height."""

    def in_words(_row: Clearance, limit: Limit, measured: str, needed: str) -> tuple[str, str]:
        return (
            f"Height reads {measured}; {needed} is {limit.why}",
            f"headroom {measured} where {needed} is needed",
        )

    yield from _too_short(WORKING_HEIGHT_SHORT, assessment, Clearance.height, in_words)


def front_projection_over(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what stands out past the front with the most that may."""
    for row, _equipment, facts in assessment.measured:
        over = facts.projection
        yield from FRONT_PROJECTION_OVER.ask(row)
        if over is None or over.enough or assessment.suspect_unit(row.front_projection):
            continue
        if not assessment.is_reliable(row.front_projection):
            continue  # implausible-value asks first
        most, measured = needed_figure(over.needed, over.measured), length_as_read(row.front_projection)
        yield FRONT_PROJECTION_OVER.problem(
            row,
            row.front_projection,
            f"Something above or below {row.called} stands {measured} out past the front; "
            f"the figure is at most {most} ({section(assessment, over.needed.section, over.needed.basis)}).",
            phrase=f"something above or below sticks out {measured} past the front, beside a figure of at most {most}",
            expected=f"at most {most}",
        )


def door_swing_limited(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for doors that do not open 90 degrees."""
    degrees = f"{assessment.profile.door_opening_degrees:g} degrees"
    for row, _equipment, _facts in assessment.measured:
        yield from DOOR_SWING_LIMITED.ask(row)
        if row.door_opens_90.value == "No":
            yield DOOR_SWING_LIMITED.problem(
                row,
                row.door_opens_90,
                f"A door or hinged panel of {row.called} does not open {degrees} "
                f"({section(assessment, assessment.profile.door_opening_section)}).",
                phrase=f"door does not open {degrees}",
                expected=f"{degrees} at least",
            )


_DP1 = {"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4"}

WORKING_DEPTH_SHORT = Rule(
    slug="working-depth-short",
    class_="report",
    measured=True,
    priority="Correct soon",
    subject="Clearances",
    what="Clear depth in front of the equipment is below the table's for the voltage to ground and the opposite side.",
    why="Whoever works on it live has no room to step back.",
    mend="Measure again from the enclosure front. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303 Table S-1; NFPA 70 Table 110.26(A)(1)",
    needs=(
        Clearance.depth,
        Clearance.opposite_side,
        Equipment.voltage,
        Transformer.primary_v,
        Transformer.secondary_v,
    ),
    client=Condition(
        do="Have a licensed electrician look at how the space in front can be made deep enough.",
        why="Somebody who has to work on it while it is live has no room to step back.",
        measures=(Clearance.depth,),
    ),
    compares="Depth of the working space",
    fine=enough(Clearance.depth),
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
    what="Clear width in front of the equipment is below 30 in or the equipment's own width.",
    why="Whoever works on it stands at an angle, with an arm near live parts.",
    mend="Measure again. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303(g)(1); NFPA 70 110.26(A)(2)",
    needs=(Clearance.width, Clearance.equipment_width),
    client=Condition(
        do="Have a licensed electrician look at how the space in front can be made wide enough.",
        measures=(Clearance.width,),
    ),
    compares="Width of the working space",
    fine=enough(Clearance.width),
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
    what="Clear height in front of the equipment is below 78 in or the equipment's own height.",
    why="Whoever works on it strikes their head or stands bent beside live parts.",
    mend="Measure again from the floor. If it stands, leave the cell: it goes to the client.",
    source="29 CFR 1910.303(g)(1); NFPA 70 110.26(A)(3)",
    needs=(Clearance.height,),
    client=Condition(
        do="Have a licensed electrician look at how the headroom in front can be made high enough.",
        why="Whoever works on it bumps their head, or stands bent beside live parts.",
        measures=(Clearance.height,),
    ),
    compares="Headroom of the working space",
    fine=enough(Clearance.height),
    check=height_short,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "height": "76"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "height": "1981 mm"}]),
)

DOOR_SWING_LIMITED = Rule(
    slug="door-swing-limited",
    class_="report",
    priority="Correct soon",
    subject="Clearances",
    what="A door or hinged panel does not open 90 degrees.",
    why="A door half open stands in the way of work and of escape.",
    mend="Look again. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(A)(2)",
    needs=(Clearance.door_opens_90,),
    client=Condition(
        do="Take away what the door strikes, or have a licensed electrician look at it.",
        why="A half-open door is in the way of the work and of escape.",
    ),
    compares="Opening of the doors of the equipment",
    fine=answered(Clearance.door_opens_90, "Yes"),
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
    what="Something above or below stands more than 6 in beyond the front.",
    why="It keeps whoever works there at arm's length from the equipment, and trips people.",
    mend="Measure again from the front of the equipment. If it stands, leave the cell: it goes to the client.",
    source="NFPA 70 110.26(A)(3)",
    needs=(Clearance.front_projection,),
    client=Condition(
        do="Have what sticks out moved back or away; an electrician says how far it may.",
        why="It keeps whoever works there at arm's length from the equipment, and people can trip over it.",
        measures=(Clearance.front_projection,),
        too="too large",
    ),
    compares="Things that stand out past the front",
    fine=enough(Clearance.front_projection),
    check=front_projection_over,
    fires=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "front_projection": "9"}]),
    passes=as_typed(equipment=[_DP1], clearances=[{"tag": "DP-1", "front_projection": "6"}]),
)

RULES = (
    WORKING_DEPTH_SHORT,
    WORKING_WIDTH_SHORT,
    WORKING_HEIGHT_SHORT,
    DOOR_SWING_LIMITED,
    FRONT_PROJECTION_OVER,
)

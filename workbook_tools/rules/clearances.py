"""Rules about the measured clearances.

    working-depth-short, working-width-short, working-height-short
    front-projection-over, front-projection-check
    door-swing-limited
    older-allowance-check  enough where an older figure holds, and the year built does not tell
    working-space-check    little room around what is seldom worked on while live

What is needed comes from the assessment, for the code profile of the Job sheet; a length that
was likely meant in another unit is compared with nothing (unit-suspect asks about it). Rows
of unknown tags, and of kinds that are recorded but not inspected, are left alone. What stands
in the spaces is in clear_spaces, the ways out are in ways_out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from workbook_tools.assessment import Assessment, ClearanceFacts, Comparison
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import Length, Limit, meets
from workbook_tools.rules.client import Condition
from workbook_tools.rules.contradictions import answered, enough
from workbook_tools.rules.in_words import length_as_read, needed_figure, section
from workbook_tools.rules.plain_english import as_of, listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment, Field, Outcome, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Clearances"

InWords = Callable[[Clearance, Limit, str, str], tuple[str, str]]
"""Says a row, its limit, what was measured and what is needed: to the inspector without the section, to the client."""

_SHORT_OF = (Clearance.depth, Clearance.width, Clearance.height)
_OWN: dict[Field[Length], Field[Length]] = {
    Clearance.width: Clearance.equipment_width,
    Clearance.height: Clearance.equipment_height,
}
"""The length of the equipment itself that a length must not be below."""


def _too_short(
    rule: Rule, assessment: Assessment, length: Field[Length], in_words: InWords
) -> Iterator[Problem | NotChecked]:
    """Yield a problem where a length is short, and a NotChecked where something for it is missing.

    Around what is seldom worked on while live the working space is a question (working-space-check).
    """
    for row, equipment, facts in assessment.measured:
        if not facts.worked_on_live:
            continue
        compared = _judged(assessment, row, facts, length)
        if compared is not None and not compared.enough:
            limit, needed = compared.needed, needed_figure(compared.needed, compared.measured)
            said, phrase = in_words(row, limit, length_as_read(row[length]), needed)
            yield rule.problem(
                row,
                row[length],
                f"{said} ({section(assessment, limit.section, limit.basis)}).",
                phrase=phrase,
                expected=f"at least {needed}",
            )
        yield from _not_compared(rule, assessment, row, equipment, length)


def _not_compared(
    rule: Rule, assessment: Assessment, row: Clearance, equipment: Equipment, length: Field[Length]
) -> Iterator[NotChecked]:
    """Yield what is missing where a length could not be compared."""
    facts = assessment.clearance(row)
    if facts.comparison(length) is not None or length in facts.may_be_older:
        return
    missing = list(rule.ask(row))
    yield from missing
    if missing or length is not Clearance.depth or row.depth.outcome is not Outcome.VALUE:
        return
    if facts.volts_to_ground is None:
        yield _voltage_missing(rule, assessment, row, equipment)


def _judged(
    assessment: Assessment, row: Clearance, facts: ClearanceFacts, length: Field[Length]
) -> Comparison | None:
    """Return a comparison that can be relied on; None where there is none.

    What was likely meant in another unit is unit-suspect's, an implausible length of the equipment
    itself implausible-value's.
    """
    compared, own = facts.comparison(length), _OWN.get(length)
    lengths = (length,) if own is None else (length, own)
    if compared is None or any(assessment.suspect_unit(row[one]) for one in lengths):
        return None
    if compared.needed.own and own is not None and not assessment.is_reliable(row[own]):
        return None
    return None if not compared.enough and _in_the_units_of_its_row(assessment, row, compared) else compared


def _in_the_units_of_its_row(assessment: Assessment, row: Clearance, compared: Comparison) -> bool:
    """Whether a bare number is enough in the unit that another number of the row was likely meant in.

    Who writes one length in inches on a sheet in centimetres writes the others so too.
    """
    measured = compared.measured
    if measured.unit_said:
        return False
    units = (assessment.suspect_unit(row[one]) for one in (*_SHORT_OF, *_OWN.values()))
    others = (Length(measured.number, unit) for unit in units if unit is not None)
    return any(
        other.metric != measured.metric and meets(compared.needed, other, assessment.profile)
        for other in others
    )


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

    def in_words(row: Clearance, limit: Limit, measured: str, needed: str) -> tuple[str, str]:
        own = length_as_read(row.equipment_height)
        because = f"needed, since the equipment is {own} high" if limit.own else limit.why
        instead = f"the equipment itself is {own} high" if limit.own else f"{needed} is needed"
        return f"Height reads {measured}; {needed} is {because}", f"headroom {measured} where {instead}"

    yield from _too_short(WORKING_HEIGHT_SHORT, assessment, Clearance.height, in_words)


def working_space_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask about little room around what is seldom worked on while live; one question for each row."""
    for row, equipment, facts in assessment.measured:
        if facts.worked_on_live:
            continue
        found = ((length, _judged(assessment, row, facts, length)) for length in _SHORT_OF)
        short = {length: one for length, one in found if one is not None and not one.enough}
        if not short:
            yield from _not_compared(WORKING_SPACE_CHECK, assessment, row, equipment, Clearance.depth)
            continue
        said = [
            f"{row[length].heading} reads {length_as_read(row[length])} where {needed_figure(one.needed, one.measured)} "
            "would be needed"
            for length, one in short.items()
        ]
        first = next(iter(short.values())).needed
        kind = (equipment.stock_kind or "equipment").lower()
        yield WORKING_SPACE_CHECK.problem(
            row,
            row[next(iter(short))],
            f"{listed(said)} if {row.called} is examined or serviced while live, which a {kind} seldom is: only then does the "
            f"working space apply ({section(assessment, first.section, first.basis)}). The clearance marked on it, for "
            "cooling, holds in any case.",
            phrase=f"little room around it ({listed([length.name for length in short])}), if it is ever worked on while live",
            expected="seldom worked on while live, or worked on live",
        )


def older_allowance_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask for the year built where it decides whether lengths are short; one question for the survey."""
    said = [
        as_of(
            row.is_as_of,
            f"{row.called}, {row[length].heading.lower()} {length_as_read(row[length])} where "
            f"{needed_figure(one.needed, one.measured)} is {one.needed.why}",
        )
        for row, _equipment, facts in assessment.measured
        if facts.worked_on_live
        for length, one in facts.may_be_older.items()
        if not assessment.suspect_unit(row[length])
    ]
    if said:
        job = assessment.survey.job
        more = f"; and {len(said) - _MOST_SAID} more" if len(said) > _MOST_SAID else ""
        yield OLDER_ALLOWANCE_CHECK.problem(
            job,
            job.year_built,
            f"{job.year_built.heading} decides whether these are enough, and {_what_the_year_says(assessment)}: "
            f"{'; '.join(said[:_MOST_SAID])}{more}. Later installations need more ({assessment.profile.title}).",
            phrase="whether the working space of some equipment is enough depends on when it was built, which was not recorded",
            expected="the year, or from which side of the date the installation is",
        )


_MOST_SAID = 8


def _what_the_year_says(assessment: Assessment) -> str:
    year = assessment.year_built
    return (
        "it was not recorded"
        if year is None
        else f"{year} alone does not tell on which side of the date it lies"
    )


def _projections(assessment: Assessment) -> Iterator[tuple[Clearance, Comparison, bool]]:
    """Yield each row with something that stands out too far, and whether it may be a meter in its socket."""
    for row, equipment, facts in assessment.measured:
        over = facts.comparison(Clearance.front_projection)
        if over is None or over.enough or assessment.suspect_unit(row.front_projection):
            continue
        if facts.worked_on_live and assessment.is_reliable(row.front_projection):
            meter = equipment.stock_kind == "Meter center" or _METER.search(
                f"{row.remarks.typed} {equipment.remarks.typed}"
            )
            yield row, over, bool(meter)


_METER = re.compile(r"\bmeter", re.IGNORECASE)


def front_projection_over(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what stands out past the front with the most that may."""
    for row, _equipment, _facts in assessment.measured:
        yield from FRONT_PROJECTION_OVER.ask(row)
    for row, over, meter in _projections(assessment):
        if meter:
            continue
        most, measured = needed_figure(over.needed, over.measured), length_as_read(row.front_projection)
        yield FRONT_PROJECTION_OVER.problem(
            row,
            row.front_projection,
            f"Something above or below {row.called} stands {measured} out past the front; "
            f"the code's figure is at most {most} ({section(assessment, over.needed.section, over.needed.basis)}).",
            phrase=f"something above or below sticks out {measured} past the front, where the code's figure is at most {most}",
            expected=f"at most {most}",
        )


def front_projection_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask what stands out where it may be a meter in its socket."""
    for row, over, meter in _projections(assessment):
        if meter:
            most, measured = needed_figure(over.needed, over.measured), length_as_read(row.front_projection)
            yield FRONT_PROJECTION_CHECK.problem(
                row,
                row.front_projection,
                f"Something at {row.called} stands {measured} out past the front. A meter in its socket may stand out further "
                f"than {most}, nothing else may ({section(assessment, over.needed.section, over.needed.basis)}); which of the "
                "two it is was not recorded.",
                phrase=f"something sticks out {measured} past the front; whether it is a meter in its socket was not recorded",
                expected=f"a meter in its socket, or at most {most}",
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS),
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS),
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS, ladder=True),
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS),
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
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS),
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

OLDER_ALLOWANCE_CHECK = Rule(
    slug="older-allowance-check",
    class_="confirm",
    measured=True,
    subject="Job",
    what="A depth or a height is short for a new installation and enough for an older one, and the year built does not tell.",
    why="Older installations have smaller figures; which hold only the date of the installation decides.",
    mend="Find out when it was built and write the year; where it was built in that very year, answer No issue if it was before the "
    "date, else Tell the client.",
    source="29 CFR 1910.303(g)(1)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Find out when the electrical installation was built, and have a licensed electrician compare the figures.",
        why="Whoever works there may have too little room.",
    ),
    check=older_allowance_check,
    fires=as_typed(
        job={"code_profile": "osha-1910"},
        equipment=[_DP1],
        clearances=[{"tag": "DP-1", "opposite_side": "Clear", "depth": "32"}],
    ),
    passes=as_typed(
        job={"code_profile": "osha-1910", "year_built": "1975"},
        equipment=[_DP1],
        clearances=[{"tag": "DP-1", "opposite_side": "Clear", "depth": "32"}],
    ),
)

WORKING_SPACE_CHECK = Rule(
    slug="working-space-check",
    class_="confirm",
    measured=True,
    subject="Clearances",
    what="Little room around equipment that is seldom worked on while live: a transformer.",
    why="The working space is asked for where equipment is likely to be examined, adjusted, serviced or maintained while "
    "energized; a dry-type transformer seldom is, and only whoever runs the building knows.",
    mend="Answer No issue where it is switched off for any work, else Tell the client.",
    source="NFPA 70 110.26(A)",
    needs=(Clearance.depth, Clearance.opposite_side, Transformer.primary_v, Transformer.secondary_v),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Have it switched off for any work; a licensed electrician says whether it needs more room.",
        why="Somebody who has to work on it while it is live has little room.",
    ),
    compares="Room around transformers",
    check=working_space_check,
    fires=as_typed(
        equipment=[{"tag": "T-1", "kind": "Transformer"}],
        transformers=[{"tag": "T-1", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}],
        clearances=[{"tag": "T-1", "opposite_side": "Grounded", "depth": "40"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "T-1", "kind": "Transformer"}],
        transformers=[{"tag": "T-1", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}],
        clearances=[{"tag": "T-1", "opposite_side": "Grounded", "depth": "42"}],
    ),
)

FRONT_PROJECTION_CHECK = Rule(
    slug="front-projection-check",
    class_="confirm",
    measured=True,
    subject="Clearances",
    what="Something that may be a meter stands more than 6 in beyond the front.",
    why="A meter in its socket may stand out further than other equipment; the socket itself may not.",
    mend="Look at the photo: answer No issue for a meter in its socket; what else it is, tell the client.",
    source="NFPA 70 110.26(A)(3) Exception 3",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Have a licensed electrician say what sticks out, and how far it may.",
        why="It keeps whoever works there at arm's length from the equipment, and people can trip over it.",
    ),
    check=front_projection_check,
    fires=as_typed(
        equipment=[{"tag": "MC-1", "kind": "Meter center"}],
        clearances=[{"tag": "MC-1", "front_projection": "9"}],
    ),
    passes=as_typed(
        equipment=[{"tag": "MC-1", "kind": "Meter center"}],
        clearances=[{"tag": "MC-1", "front_projection": "6"}],
    ),
)

RULES = (
    WORKING_DEPTH_SHORT,
    WORKING_WIDTH_SHORT,
    WORKING_HEIGHT_SHORT,
    DOOR_SWING_LIMITED,
    FRONT_PROJECTION_OVER,
    OLDER_ALLOWANCE_CHECK,
    WORKING_SPACE_CHECK,
    FRONT_PROJECTION_CHECK,
)

"""Rules about what is posted, marked and arranged at the service.

    available-fault-current-not-posted    none is recorded at the service, or not its date
    posted-fault-current-over-rating      the posted fault current exceeds the marked rating
    mains-in-one-enclosure                two to six mains of a service in one enclosure
    combined-entrance-check               the disconnects of one service, together large
    source-sign-not-recorded              a generator or photovoltaics, and no word of a sign

Not here: hand motions and ground-fault protection (service).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import Length, entrances_needed
from workbook_tools.rules.client import Condition, Limit, Trade
from workbook_tools.rules.in_words import edition, section
from workbook_tools.rules.plain_english import in_words, listed, plural
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import found_already, says
from workbook_tools.survey import Clearance, Equipment, Outcome, Room, Row, Value

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Details of the service"

_FAULT_CURRENT = re.compile(r"fault[\s-]*current|short[\s-]*circuit[\s-]*current|\bAFC\b", re.IGNORECASE)
_SERIES = re.compile(r"series", re.IGNORECASE)
_APART = re.compile(r"separate|barrier|compartment|own (?:enclosure|section|cubicle)|each in", re.IGNORECASE)
_SIGN = re.compile(
    r"\bsigns?\b|\bsignage\b|\bplaque|(?:placard|directory|label)\w*\b.*(?:generator|standby|solar|photovoltaic|\bPV\b|source)"
    r"|(?:generator|standby|solar|photovoltaic|\bPV\b|source)\b.*(?:placard|directory|label)",
    re.IGNORECASE,
)


def available_fault_current_not_posted(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for services at which no available fault current is recorded, or not its date; once for each service."""
    rule, asked = AVAILABLE_FAULT_CURRENT_NOT_POSTED, assessment.profile.fault_current_posted
    for rows in assessment.supply.services.values() if asked is not None else ():
        if asked is None or assessment.is_entered(rows[0]) is False:
            continue
        # The label may have been read at the board behind the disconnect.
        posted = [*rows, *(fed for row in rows for fed in assessment.supply.fed_by(row))]
        read = next((row for row in posted if row.available_fault_ka.value is not None), None)
        first, by = rows[0], section(assessment, asked.section, asked.basis)
        if read is not None:
            if read.fault_current_date.outcome in (Outcome.BLANK, Outcome.NOT_APPLICABLE):
                yield rule.problem(
                    read,
                    read.fault_current_date,
                    f"{read.available_fault_ka.value:g} kA is posted at {read.called}; the date beside it was not recorded "
                    f"({by} asks for both).",
                )
            continue
        unread = (Outcome.NOT_VISIBLE, Outcome.UNREADABLE)
        if any(row.available_fault_ka.outcome in unread for row in posted) or says(
            assessment, _FAULT_CURRENT, *posted
        ):
            continue
        none = first.available_fault_ka.outcome is Outcome.NOT_APPLICABLE
        yield rule.problem(
            first,
            first.available_fault_ka,
            f"{'No available fault current is posted' if none else 'Whether an available fault current is posted was not recorded'} "
            f"at {first.called}; {by} asks for it at the service equipment, with its date, since the {asked.since} edition.",
        )


def posted_fault_current_over_rating(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the posted fault current with the marked rating of the same equipment."""
    rule = POSTED_FAULT_CURRENT_OVER_RATING
    for row in assessment.survey.equipment:
        posted, marked = row.available_fault_ka.value, row.short_circuit_rating_ka.value
        if posted is None:
            continue
        if marked is None:
            yield from rule.ask(row)
        elif not all(map(assessment.is_plausible, (row.available_fault_ka, row.short_circuit_rating_ka))):
            continue
        elif posted > marked and not says(assessment, _SERIES, row):
            yield rule.problem(
                row,
                row.short_circuit_rating_ka,
                f"{row.called} is marked {marked:g} kA, and the fault current posted there is {posted:g} kA "
                f"({edition(assessment)} 110.9, 110.10).",
                phrase=f"marked for {marked:g} kA, beside a posted fault current of {posted:g} kA",
                expected=f"at least {posted:g} kA, or a series rating in Remarks",
            )


def mains_in_one_enclosure(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for service disconnects that take two to six motions, in an edition that wants them apart."""
    asked, most = assessment.profile.separate_service_mains, assessment.profile.hand_motions
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for name, rows in assessment.supply.services.items():
        if not plain(name).startswith("utility"):
            continue  # a building that another one feeds may have six in one enclosure: 225.33
        for row in rows:
            count = row.hand_motions.value
            if count is None or not 2 <= count <= most or says(assessment, _APART, row):
                continue
            if found_already(assessment, MAINS_IN_ONE_ENCLOSURE.slug, row):
                continue
            yield MAINS_IN_ONE_ENCLOSURE.problem(
                row,
                row.hand_motions,
                f"{row.called} takes {in_words(count)} motions of the hand. Are these {in_words(count)} mains in one enclosure? "
                f"Since the {asked.since} edition each service disconnect stands in an enclosure, section or compartment of "
                f"its own ({section(assessment, asked.section, asked.basis)}); what was there before may stay.",
                phrase=f"{in_words(count)} motions of the hand at one disconnect; whether the mains stand apart was not recorded",
                expected="1, or in Remarks how they are kept apart",
            )


def combined_entrance_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for services whose disconnects are large together, in a room with fewer entrances than that needs."""
    rule, profile, asked = (
        COMBINED_ENTRANCE_CHECK,
        assessment.profile,
        assessment.profile.combined_service_entrances,
    )
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for name, rows in assessment.supply.services.items():
        room = assessment.survey.room(rows[0].room.value)
        together = len(rows) > 1 and all(assessment.survey.room(row.room.value) is room for row in rows)
        measured = [
            (row, found[0]) for row in rows if (found := assessment.survey.clearances_of(row.tag.value))
        ]
        if room is None or not together or len(measured) < len(rows):
            continue
        amps = [row.rating_a.value for row, _clearance in measured if assessment.is_plausible(row.rating_a)]
        widths = [_inches(assessment, clearance) for _row, clearance in measured]
        known_amps, known_widths = (
            [one for one in amps if one is not None],
            [one for one in widths if one is not None],
        )
        counted, first = room.entrances.value, measured[0][1]
        all_amps, all_widths = sum(known_amps), Length(sum(known_widths), "in")
        unknown = _unknown(measured, widths) if len(known_amps) + len(known_widths) < 2 * len(rows) else None
        if unknown is not None:
            small = len(known_amps) == len(rows) and all_amps < profile.large_amperes
            narrow = (
                len(known_widths) == len(rows)
                and entrances_needed(profile, profile.large_amperes, all_widths) < 2
            )
            if not small and not narrow:
                yield rule.not_checked(first, *unknown)
            continue
        each = [
            entrances_needed(profile, one, Length(width, "in"))
            for one, width in zip(known_amps, known_widths, strict=True)
        ]
        needed = entrances_needed(profile, all_amps, all_widths)
        if needed < 2 or max(each) >= 2:
            continue  # what is large by itself is second-entrance-check's
        if counted is None:
            yield from rule.ask(first, room)
        elif counted < needed:
            tags = listed([row.called for row in rows])
            yield rule.problem(
                first,
                first.equipment_width,
                f"{tags}, the disconnects of {name or 'one service'}, are {all_amps:g} A and {all_widths.inches:g} in wide "
                f"together. Since the {asked.since} edition they count as one: {profile.large_amperes:g} A or more and over "
                f"{profile.large_wider_than.inches:g} in wide asks for an entrance at each end of the working space; "
                f"{room.called} has {plural(counted, 'entrance')} ({section(assessment, asked.section, asked.basis)}).",
                phrase=f"{'only one way' if counted == 1 else 'no way'} out recorded from a room whose service disconnects are large together",
                expected=f"{room.entrances.heading} {needed}, or one of the two exceptions",
            )


def _inches(assessment: Assessment, row: Clearance) -> float | None:
    width = row.equipment_width.value
    return width.inches if width is not None and assessment.is_reliable(row.equipment_width) else None


def _unknown(
    measured: list[tuple[Equipment, Clearance]], widths: list[float | None]
) -> tuple[Value[Any], Row] | None:
    """Return the first rating or width that is not known, with its row."""
    for (row, clearance), width in zip(measured, widths, strict=True):
        if row.rating_a.value is None:
            return row.rating_a, row
        if width is None:
            return clearance.equipment_width, clearance
    return None


def source_sign_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for on-site sources without a word of a sign at the service; said once."""
    sources = [
        row
        for row in assessment.survey.equipment
        if row.stock_kind in ("Generator", "PV inverter", "PV disconnect")
    ]
    disconnects = [row for rows in assessment.supply.services.values() for row in rows]
    if not sources or not disconnects or says(assessment, _SIGN, *disconnects, *sources):
        return
    cited = []
    if any(row.stock_kind == "Generator" for row in sources):
        cited.append("700.7, 701.7 or 702.7")
    if any(row.stock_kind != "Generator" for row in sources):
        cited.append("705.10")
    first = disconnects[0]
    yield SOURCE_SIGN_NOT_RECORDED.problem(
        first,
        first.remarks,
        f"{listed([row.called for row in sources])} can feed the building beside the utility; whether a sign at the service "
        f"names the source and where it stands was not recorded ({edition(assessment)} {listed(cited)}).",
        expected="Sign for the second source seen, or not seen",
    )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

AVAILABLE_FAULT_CURRENT_NOT_POSTED = Rule(
    slug="available-fault-current-not-posted",
    class_="note",
    subject="Equipment",
    what="The edition asks for a posted available fault current with its date at the service, and none is recorded.",
    why="Whoever replaces a part must know what it has to interrupt.",
    mend="Write the posted figure and its date, N/A where none is posted, N/V where it could not be seen.",
    source="NFPA 70 110.24",
    client=Limit(
        one="An available fault current posted at the service, with its date, was not recorded.",
        many="An available fault current posted at the service, with its date, was not recorded.",
    ),
    check=available_fault_current_not_posted,
    fires=as_typed(equipment=[_SD1]),
    passes=as_typed(equipment=[{**_SD1, "available_fault_ka": "22.4", "fault_current_date": "2021-03-08"}]),
)

POSTED_FAULT_CURRENT_OVER_RATING = Rule(
    slug="posted-fault-current-over-rating",
    class_="report",
    priority="Correct soon",
    subject="Equipment",
    what="The fault current posted at the equipment exceeds its marked short-circuit rating.",
    why="In a fault, equipment that has to withstand more than it is marked for can burst.",
    mend="Read both marks again. Say in Remarks where the equipment is marked with a series rating. If both stand, leave "
    "them: it goes to the client, to be referred to a licensed engineer.",
    source="NFPA 70 110.9, 110.24",
    needs=(Equipment.short_circuit_rating_ka,),
    client=Condition(
        do="Have a licensed electrical engineer compare the fault current with the ratings.",
        trade=Trade.ENGINEER,
    ),
    compares="Short-circuit rating beside the posted fault current",
    check=posted_fault_current_over_rating,
    fires=as_typed(equipment=[{**_SD1, "available_fault_ka": "42", "short_circuit_rating_ka": "22"}]),
    passes=as_typed(equipment=[{**_SD1, "available_fault_ka": "42", "short_circuit_rating_ka": "65"}]),
)

MAINS_IN_ONE_ENCLOSURE = Rule(
    slug="mains-in-one-enclosure",
    class_="confirm",
    subject="Equipment",
    what="Two to six mains of a service seem to stand in one enclosure, in an edition that keeps them apart.",
    why="Whoever works on one main stands before the live parts of the others.",
    mend="Say in Remarks how they are kept apart (separate sections, barriers), or give each a row of its own. Confirm where "
    "the equipment is older than the edition, or where they do share one enclosure.",
    source="NFPA 70 230.71(B)",
    client=Condition(
        do="Have a licensed electrician say when the service equipment was installed and how its mains are kept apart.",
        why="Whoever works on one main would stand before the live parts of the others.",
    ),
    compares="Service mains standing apart",
    check=mains_in_one_enclosure,
    fires=as_typed(equipment=[{**_SD1, "hand_motions": "4"}]),
    passes=as_typed(job={"code_profile": "nec-2017"}, equipment=[{**_SD1, "hand_motions": "4"}]),
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
    "door is far enough from the equipment: confirm which. If neither holds, record a finding.",
    source="NFPA 70 110.26(C)(2)",
    needs=(Room.entrances, Equipment.rating_a, Clearance.equipment_width),
    client=Condition(
        do="Have a licensed electrical engineer and the local authority look at the ways out.",
        trade=Trade.ENGINEER,
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

SOURCE_SIGN_NOT_RECORDED = Rule(
    slug="source-sign-not-recorded",
    class_="note",
    subject="Service",
    what="A generator or photovoltaics are listed, and nothing is written about a sign at the service that names them.",
    why="With the service off, whoever works on the building must know what may still feed it.",
    mend="Write in Remarks of the service disconnect whether a sign names the second source; where there is none, record the "
    "finding.",
    source="NFPA 70 702.7; NFPA 70 705.10",
    client=Limit(
        one="Whether a sign at the service names the second source was not recorded.",
        many="Whether a sign at the service names the second source was not recorded.",
    ),
    check=source_sign_not_recorded,
    fires=as_typed(equipment=[_SD1, {"tag": "GEN-1", "kind": "Generator"}]),
    passes=as_typed(
        equipment=[{**_SD1, "remarks": "Sign for the generator seen"}, {"tag": "GEN-1", "kind": "Generator"}]
    ),
)

RULES = (
    AVAILABLE_FAULT_CURRENT_NOT_POSTED,
    POSTED_FAULT_CURRENT_OVER_RATING,
    MAINS_IN_ONE_ENCLOSURE,
    COMBINED_ENTRANCE_CHECK,
    SOURCE_SIGN_NOT_RECORDED,
)

"""Rules about the fault current that is posted at the service and elsewhere.

    available-fault-current-not-posted    none is recorded at the service, or not its date
    posted-fault-current-over-rating      the posted fault current exceeds the marked rating
    rating-far-below-the-service          a piece directly behind a service is marked for far less than is posted

Not here: what a transformer sends (fault_currents).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.electrical import holds_devices
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.in_words import edition, section
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Said, answer, answer_in
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Posted fault currents"

_FAULT_CURRENT = re.compile(
    r"(?:fault[\s-]*current|short[\s-]*circuit[\s-]*current|\bAFC\b)(?:\s+(?:labels?|placards?|markings?|posting))?",
    re.IGNORECASE,
)
_SERIES = re.compile(
    r"\bseries[\s-]*(?:(?:connected|combination)[\s-]*)?(?:rat(?:ed|ings?)|combination|label|marked|connected)|"
    r"\brat(?:ed|ings?)\b[^.;\n]{0,20}\bin series\b",
    re.IGNORECASE,
)
_KILOAMPERES = re.compile(
    r"(?P<ka>\d+(?:\.\d+)?(?:\s*/\s*\d+(?:\.\d+)?)*)\s*k(?:\s*A(?:IC)?)?\b|"
    r"(?P<amps>\b(?:\d{1,3},\d{3}|\d{5,6})\b|\b\d{4}(?=\s*(?:A(?:IC)?|amps?)\b))",
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
                none = read.fault_current_date.outcome is Outcome.NOT_APPLICABLE
                yield rule.problem(
                    read,
                    read.fault_current_date,
                    f"{read.available_fault_ka.value:g} kA is posted at {read.called}, "
                    f"{'without a date as recorded' if none else 'and the date beside it was not recorded'} ({by} asks for both).",
                )
            continue
        unread = (Outcome.NOT_VISIBLE, Outcome.UNREADABLE)
        said = answer(assessment, _FAULT_CURRENT, *posted)
        if any(row.available_fault_ka.outcome in unread for row in posted):
            continue
        if (
            said.settled or said.said is Said.UNSEEN
        ):  # a label that could not be read is a limit of another kind
            continue
        none = first.available_fault_ka.outcome is Outcome.NOT_APPLICABLE or said.denied
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
        elif posted > marked and (series := _series_rating(row)) < posted:
            beside = f", with a series rating of {series:g} kA" if series else ""
            yield rule.problem(
                row,
                row.short_circuit_rating_ka,
                f"{row.called} is marked {marked:g} kA{beside}, and the fault current posted there is {posted:g} kA "
                f"({edition(assessment)} 110.9, {'240.86' if series else '110.10'}).",
                phrase=f"marked for {marked:g} kA, beside a posted fault current of {posted:g} kA",
                expected=f"at least {posted:g} kA, or a series rating in Remarks",
            )


def _series_rating(row: Equipment) -> float:
    """Return the series rating that Remarks say is marked [kA]: infinite where no figure is given, 0 where none is marked."""
    said = answer_in(_SERIES, row.remarks.typed)
    if not said.there:
        return 0
    figures = [
        float(figure) if found["ka"] else float(figure.replace(",", "")) / 1000
        for found in _KILOAMPERES.finditer(said.words)
        for figure in (found["ka"] or found["amps"]).split("/")
    ]
    return max(figures, default=float("inf"))


_FAR_BELOW = 0.5
"""A marked rating under this part of the posted fault current is asked about: no code figure, a few metres of conductor
do not take half of it away (common practice)."""


def rating_far_below_the_service(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare what is posted at a service with the marks of the pieces directly behind it; asked once for each service."""
    rule = RATING_FAR_BELOW_THE_SERVICE
    for rows in assessment.supply.services.values():
        at = max(
            (row for row in rows if assessment.is_plausible(row.available_fault_ka)),
            key=lambda row: row.available_fault_ka.value or 0,
            default=None,
        )
        posted = at.available_fault_ka.value if at is not None else None
        if at is None or posted is None:
            continue
        behind = [
            fed
            for fed in dict.fromkeys(fed for row in rows for fed in assessment.supply.fed_by(row))
            if holds_devices(fed.stock_kind) and fed not in rows and fed.available_fault_ka.value is None
        ]
        for fed in behind:
            yield from rule.ask(fed)
        low = [
            fed
            for fed in behind
            if (marked := fed.short_circuit_rating_ka.value) is not None
            and assessment.is_plausible(fed.short_circuit_rating_ka)
            and marked < posted * _FAR_BELOW
            and _series_rating(fed) < posted
        ]
        if low:
            named = listed([f"{fed.called} {fed.short_circuit_rating_ka.value:g} kA" for fed in low[:12]])
            more = f" and {len(low) - 12} more" if len(low) > 12 else ""
            yield rule.problem(
                low[0],
                low[0].short_circuit_rating_ka,
                f"{posted:g} kA is posted at {at.called}; directly behind it far less is marked: {named}{more}. How much of the "
                f"fault current reaches that far depends on the length of the conductors and on fuses ahead, which are not "
                f"recorded ({edition(assessment)} 110.9).",
                phrase=f"marked for far less than the {posted:g} kA posted at {at.called}, directly ahead",
                expected="a rating nearer to the posted current, a series rating in Remarks, or the distance",
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
        one="No available fault current posted at the service, with its date, was recorded.",
        many="No available fault current posted at the services, with its date, was recorded.",
    ),
    check=available_fault_current_not_posted,
    fires=as_typed(equipment=[_SD1]),
    passes=as_typed(equipment=[{**_SD1, "available_fault_ka": "22.4", "fault_current_date": "2021-03-08"}]),
)

POSTED_FAULT_CURRENT_OVER_RATING = Rule(
    slug="posted-fault-current-over-rating",
    class_="report",
    # As urgent as the finding of the same cause: what bursts in a fault hurts whoever stands before it, and a fault comes
    # unannounced.
    priority="Act now",
    subject="Equipment",
    what="The fault current posted at the equipment exceeds its marked short-circuit rating.",
    why="In a fault, equipment that has to withstand more than it is marked for can burst.",
    mend="Read both marks again. Say in Remarks where the equipment is marked with a series rating, with its figure. If both stand, leave "
    "them: it goes to the client, to be referred to a licensed engineer.",
    source="NFPA 70 110.9, 110.24, 240.86",
    needs=(Equipment.short_circuit_rating_ka,),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.OFF, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer compare the fault current with the ratings.",
    ),
    compares="Short-circuit rating beside the posted fault current",
    check=posted_fault_current_over_rating,
    fires=as_typed(equipment=[{**_SD1, "available_fault_ka": "42", "short_circuit_rating_ka": "22"}]),
    passes=as_typed(equipment=[{**_SD1, "available_fault_ka": "42", "short_circuit_rating_ka": "65"}]),
)

RATING_FAR_BELOW_THE_SERVICE = Rule(
    slug="rating-far-below-the-service",
    class_="confirm",
    subject="Equipment",
    what="A piece directly behind a service disconnect is marked for less than half of the fault current posted there.",
    why="In a fault, equipment that has to withstand more than it is marked for can burst.",
    mend="Read both marks again. Say in Remarks where it is marked with a series rating, or how far it stands from the service; "
    "answer No issue where it is far, Tell the client where it is close.",
    source="NFPA 70 110.9, 240.86",
    needs=(Equipment.short_circuit_rating_ka,),
    client=Condition(
        work=Work(Trade.ENGINEER, Power.ON, Effort.ENGINEER, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrical engineer work out the fault current there and compare it with the ratings.",
    ),
    compares="Short-circuit rating behind a service beside the fault current posted there",
    check=rating_far_below_the_service,
    fires=as_typed(
        equipment=[
            {**_SD1, "available_fault_ka": "50"},
            {"tag": "DP-1", "kind": "Panelboard", "fed_from": "SD-1", "short_circuit_rating_ka": "14"},
        ]
    ),
    passes=as_typed(
        equipment=[
            {**_SD1, "available_fault_ka": "50"},
            {"tag": "DP-1", "kind": "Panelboard", "fed_from": "SD-1", "short_circuit_rating_ka": "42"},
        ]
    ),
)

RULES = (
    AVAILABLE_FAULT_CURRENT_NOT_POSTED,
    POSTED_FAULT_CURRENT_OVER_RATING,
    RATING_FAR_BELOW_THE_SERVICE,
)

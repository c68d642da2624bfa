"""Rules about the service: how the whole building is shut off.

no-service-disconnect    no row is a service disconnect
hand-motions-over-six    more than six motions of the hand shut off one service
service-motions-check    the same where several occupants may each have a group of their own

Not here: ground-fault protection (ground_fault), what is posted and marked at the service (service_details).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import SERVICE_DISCONNECT, Assessment
from workbook_tools.definitions import plain
from workbook_tools.rules.client import Condition, Trade
from workbook_tools.rules.in_words import section
from workbook_tools.rules.plain_english import in_words, listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Service"


def no_service_disconnect(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for a service disconnect; a kind that could not be read may be one."""
    equipment = assessment.survey.equipment
    kinds = [row.stock_kind for row in equipment]
    if not equipment or SERVICE_DISCONNECT in kinds:
        return
    unread = next(
        (
            row
            for row in equipment
            if row.stock_kind is None and row.kind.outcome is not Outcome.NOT_APPLICABLE
        ),
        None,
    )
    if unread is not None:
        yield from NO_SERVICE_DISCONNECT.ask(unread)
        return
    yield NO_SERVICE_DISCONNECT.problem(
        equipment[0],
        equipment[0].kind,
        "No row of Equipment is a service disconnect.",
        phrase="no service disconnect found in the building",
        subject="Service",
        read="",
        expected="a row of the kind Service disconnect",
    )


def _motions(rows: list[Equipment]) -> tuple[int, bool]:
    """Return the motions of the hand at the disconnects of a service, and whether each of them was counted."""
    counts = [row.hand_motions.value for row in rows]
    return sum(count for count in counts if count is not None), None not in counts


def _motions_counted(assessment: Assessment, subject: str) -> str:
    """Say where the motions of a service, named by its source or one of its disconnects, are few enough."""
    rows = set(assessment.survey.tagged(subject))
    for name, disconnects in assessment.supply.services.items():
        total, counted = _motions(_counted_together(disconnects))
        named = plain(name) == plain(subject) or not rows.isdisjoint(disconnects)
        if named and counted and total <= assessment.profile.hand_motions:
            return f"the hand motions of {name or 'its service'} sum to {total}"
    return ""


_APART = re.compile(r"fire[\s-]*pump|\bemergency\b|\bstand-?by\b|\blegally required\b", re.IGNORECASE)
"""Disconnects that stand apart from the others of the service and are not counted with them (NFPA 70 230.72(B))."""

_TENANTS = re.compile(
    r"\b(?:ten-?[0-9]+|tenants?|lessees?|occupants?|suites?|units?|shops?|stores?|apartments?|apt|condos?|condominiums?|flats?)\b|"
    r"multi-?tenant|multiple[\s-]occupancy|shopping|strip (?:mall|center|centre)|\bmall\b|mixed use",
    re.IGNORECASE,
)
"""Words that tell of several occupancies, each of which may have disconnects of its own (NFPA 70 230.40, 230.71)."""


def _counted_together(rows: list[Equipment]) -> list[Equipment]:
    """Return the disconnects of a service that are counted as one group."""
    return [
        row for row in rows if not _APART.search(f"{row.tag.typed} {row.kind.typed} {row.remarks.typed}")
    ] or rows


def _several_occupants(assessment: Assessment, rows: list[Equipment]) -> bool:
    """Whether the record speaks of several occupancies at the disconnects of a service: in words, or by their meters."""
    job = assessment.survey.job
    said = [job.building_use.typed, job.scope_notes.typed, job.property.typed]
    said += [text for row in rows for text in (row.tag.typed, row.remarks.typed, row.room.typed)]
    metered = any(
        source.stock_kind == "Meter center" for row in rows for source in assessment.supply.feeders(row)
    )
    return len(rows) > 1 and (metered or any(_TENANTS.search(text) for text in said))


def _too_many_motions(assessment: Assessment) -> Iterator[tuple[str, list[Equipment], int, bool]]:
    """Yield each service that takes too many motions: its name, rows, motions, and whether that is certain.

    It is not where several occupants may each have a group of their own, none of them too large.
    """
    most = assessment.profile.hand_motions
    for name, entries in assessment.supply.services.items():
        rows = _counted_together(entries)
        total, _counted = _motions(rows)
        if total > most:
            one_alone = any((row.hand_motions.value or 0) > most for row in rows)
            yield name, rows, total, one_alone or not _several_occupants(assessment, rows)


def _one_by_one(rows: list[Equipment]) -> str:
    named = listed([f"{row.hand_motions.said or '?'} at {row.called}" for row in rows[:12]])
    return named + (f" and {len(rows) - 12} more" if len(rows) > 12 else "")


def hand_motions_over_six(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Sum the motions of the hand for each service."""
    most = assessment.profile.hand_motions
    for name, rows, total, certain in _too_many_motions(assessment):
        if certain:
            yield HAND_MOTIONS_OVER_SIX.problem(
                rows[0],
                rows[0].hand_motions,
                f"Shutting off {name or 'the service'} takes {total} motions of the hand ({_one_by_one(rows)}); "
                f"the code's figure is at most {most} ({section(assessment, assessment.profile.hand_motions_section)}).",
                phrase=f"{in_words(total)} motions of the hand shut off the service, where the code's figure is at most {in_words(most)}",
                subject=name or rows[0].called,
                read=str(total),
                expected=f"at most {most} for one service",
            )
    for entries in assessment.supply.services.values():
        rows = _counted_together(entries)
        total, counted = _motions(rows)
        if not counted and total <= most:
            yield from HAND_MOTIONS_OVER_SIX.ask(next(row for row in rows if row.hand_motions.value is None))


def service_motions_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask about services of several occupants that together take too many motions."""
    most = assessment.profile.hand_motions
    for name, rows, total, certain in _too_many_motions(assessment):
        if not certain:
            yield SERVICE_MOTIONS_CHECK.problem(
                rows[0],
                rows[0].hand_motions,
                f"Shutting off all of {name or 'the service'} takes {total} motions of the hand ({_one_by_one(rows)}). Several "
                f"occupants are recorded: each may have disconnects of its own, up to {most} to a group "
                f"({section(assessment, assessment.profile.hand_motions_section)}). Whether these are such groups was not "
                "recorded.",
                phrase=f"{in_words(total)} motions of the hand shut off everything; whether each occupant has disconnects of "
                "its own was not recorded",
                subject=name or rows[0].called,
                read=str(total),
                expected=f"groups of their own, or at most {most} in all",
            )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

NO_SERVICE_DISCONNECT = Rule(
    slug="no-service-disconnect",
    class_="confirm",
    subject="Service",
    what="No row is a service disconnect.",
    why="Where the building is shut off is the first thing that the client's list must tell.",
    mend="Add it, or give the board that shuts off the service the kind Service disconnect; confirm where it stands outside "
    "the survey.",
    source="NFPA 70 230.70",
    needs=(Equipment.kind,),
    client=Condition(
        do="Ask the utility or a licensed electrician where the building is switched off, and have it marked.",
        trade=Trade.UTILITY,
        why="In an emergency somebody must know where the building is shut off.",
    ),
    check=no_service_disconnect,
    fires=as_typed(equipment=[{"tag": "MSB", "kind": "Switchboard"}]),
    passes=as_typed(equipment=[_SD1, {"tag": "MSB", "kind": "Switchboard"}]),
)

HAND_MOTIONS_OVER_SIX = Rule(
    slug="hand-motions-over-six",
    class_="report",
    priority="Correct soon",
    subject="Service",
    what="The motions of the hand to shut off one service sum to more than six.",
    why="In an emergency the building is not shut off in time, or not wholly.",
    mend="Count again: every disconnect of the same service, the same Utility number in Fed from. If it stands, leave it: it "
    "goes to the client.",
    source="NFPA 70 230.71",
    needs=(Equipment.hand_motions,),
    client=Condition(
        do="Have a licensed electrician look at how the service can be shut off with fewer motions of the hand.",
        why="In an emergency the building may not be shut off in time, or not completely.",
    ),
    compares="Number of hand motions to shut off the service",
    fine=_motions_counted,
    check=hand_motions_over_six,
    fires=as_typed(
        equipment=[{**_SD1, "hand_motions": "4"}, {**_SD1, "tag": "SD-2", "hand_motions": "3"}],
    ),
    passes=as_typed(
        equipment=[{**_SD1, "hand_motions": "4"},
                   {**_SD1, "tag": "SD-2", "fed_from": "Utility 2", "hand_motions": "3"}],
    ),
)  # fmt: skip

SERVICE_MOTIONS_CHECK = Rule(
    slug="service-motions-check",
    class_="confirm",
    subject="Service",
    what="The motions of the hand for one service sum to more than six, and several occupants are recorded.",
    why="Six is the most for one group; in a building of several occupants each may have a group of its own.",
    mend="Confirm that each occupant has disconnects of its own, grouped; if all serve one occupant, let it go to the client.",
    source="NFPA 70 230.71",
    client=Condition(
        do="Have a licensed electrician say which disconnects belong together, and have them marked.",
        why="In an emergency the building may not be shut off in time, or not completely.",
    ),
    check=service_motions_check,
    fires=as_typed(
        equipment=[{**_SD1, "tag": f"SD-{n}", "hand_motions": "1", "remarks": f"Tenant {n}"} for n in range(1, 9)],
    ),
    passes=as_typed(
        equipment=[{**_SD1, "tag": f"SD-{n}", "hand_motions": "1", "remarks": f"Tenant {n}"} for n in range(1, 7)],
    ),
)  # fmt: skip

RULES = (
    NO_SERVICE_DISCONNECT,
    HAND_MOTIONS_OVER_SIX,
    SERVICE_MOTIONS_CHECK,
)

"""Rules about the motions of the hand that shut off a service.

    hand-motions-over-six    more than six shut off one service
    service-motions-check    the same, where they may belong to several groups or services

A disconnect whose motions were not counted takes one at least. What stands apart from the others of
the service (a fire pump, emergency and standby equipment, photovoltaics ahead of it) is not counted
with them. Whether there is a disconnect at all is in service.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
from workbook_tools.rules.in_words import section
from workbook_tools.rules.plain_english import in_words, listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Motions of the hand"

_APART = re.compile(
    r"fire[\s-]*pump|\bemergency\b|\bstand-?by\b|\blegally required\b|\bPV\b|photovoltaic|\bsolar\b|supply[\s-]side",
    re.IGNORECASE,
)
"""Disconnects that are not counted with the others of the service (NFPA 70 230.72(B), 230.2(A); from memory)."""

_OCCUPANT = re.compile(
    r"\b(?:(?:tenants?|lessees?|occupants?|suites?|units?|shops?|stores?|apartments?|apt\.?|condos?|flats?)(?:\s*(?:no\.?|#)?\s*"
    r"([0-9]+[a-z]?|[a-z])\b)?|ten-?([0-9]+)\b)",
    re.IGNORECASE,
)
_SEVERAL = re.compile(
    r"multi-?tenant|\btenants\b|multiple[\s-]occupancy|shopping|strip (?:mall|center|centre)|\bmall\b|mixed use|condominiums?\b|"
    r"\bapartments\b",
    re.IGNORECASE,
)
"""Words that tell of several occupants, each of which may have disconnects of its own (NFPA 70 230.40, 230.71)."""


class _Group(NamedTuple):
    """The disconnects of one service that are counted together."""

    name: str
    rows: list[Equipment]

    @property
    def motions(self) -> int:
        """The motions at least: one where they were not counted."""
        return sum(map(_at_least, self.rows))

    @property
    def uncounted(self) -> Equipment | None:
        """The first disconnect whose motions were not counted."""
        return next((row for row in self.rows if row.hand_motions.value is None), None)

    @property
    def one_by_one(self) -> str:
        """Each with its motions: "4 at SD-1 and 3 at SD-2"."""
        named = listed([f"{row.hand_motions.said or '?'} at {row.called}" for row in self.rows[:12]])
        return named + (f" and {len(self.rows) - 12} more" if len(self.rows) > 12 else "")

    @property
    def said(self) -> str:
        """The motions as a sentence says them."""
        return f"at least {self.motions}" if self.uncounted is not None else str(self.motions)


def _at_least(row: Equipment) -> int:
    if row.hand_motions.value is not None:
        return row.hand_motions.value
    return 0 if row.hand_motions.outcome is Outcome.NOT_APPLICABLE else 1


def _groups(assessment: Assessment) -> Iterator[_Group]:
    for name, rows in assessment.supply.services.items():
        counted = [
            row for row in rows if not _APART.search(f"{row.tag.typed} {row.kind.typed} {row.remarks.typed}")
        ]
        yield _Group(name, counted or rows)


def _why_uncertain(assessment: Assessment, group: _Group) -> str:
    """Return why the disconnects may belong to several groups, none of them too large; "" where they cannot."""
    most = assessment.profile.hand_motions
    if len(group.rows) < 2 or any(_at_least(row) > most for row in group.rows):
        return ""
    by_volts: dict[float | None, int] = {}
    for row in group.rows:
        system = assessment.own_system(row)
        volts = system.line_volts if system is not None else None
        by_volts[volts] = by_volts.get(volts, 0) + _at_least(row)
    if len(by_volts) > 1 and max(by_volts.values()) <= most:
        return (
            "They have different voltages, which one service has not: give each service its number in Fed from (Utility, "
            "Utility 2)"
        )
    if _several_occupants(assessment, group.rows):
        return (
            f"Several occupants are recorded: each may have disconnects of its own, up to {most} to a group; whether these are "
            "such groups was not recorded"
        )
    return ""


def _several_occupants(assessment: Assessment, rows: list[Equipment]) -> bool:
    """Whether the record speaks of several occupants at the disconnects of a service: in words, or by their meters."""
    job = assessment.survey.job
    at_rows = [f"{row.tag.typed} {row.remarks.typed} {row.room.typed}" for row in rows]
    named = [{(one[1] or one[2] or "").casefold() for one in _OCCUPANT.finditer(text)} for text in at_rows]
    same = set.intersection(*named) - {""}
    if same and all(names == same for names in named):
        return False  # all of one occupant
    metered = any(
        source.stock_kind == "Meter center" for row in rows for source in assessment.supply.feeders(row)
    )
    told = (job.building_use.typed, job.scope_notes.typed, job.property.typed)
    return metered or any(named) or any(map(_SEVERAL.search, told))


def _motions_counted(assessment: Assessment, subject: str) -> str:
    """Say where the motions of a service, named by its source or one of its disconnects, are few enough."""
    rows = set(assessment.survey.tagged(subject))
    for group in _groups(assessment):
        named = plain(group.name) == plain(subject) or not rows.isdisjoint(group.rows)
        if named and group.uncounted is None and group.motions <= assessment.profile.hand_motions:
            return f"the hand motions of {group.name or 'its service'} sum to {group.motions}"
    return ""


def hand_motions_over_six(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Sum the motions of the hand for each service."""
    most = assessment.profile.hand_motions
    for group in _groups(assessment):
        if group.motions <= most:
            if group.uncounted is not None:
                yield from HAND_MOTIONS_OVER_SIX.ask(group.uncounted)
        elif not _why_uncertain(assessment, group):
            yield HAND_MOTIONS_OVER_SIX.problem(
                group.rows[0],
                group.rows[0].hand_motions,
                f"Shutting off {_called(group)} takes {group.said} motions of the hand ({group.one_by_one}); "
                f"the code's figure is at most {most} ({section(assessment, assessment.profile.hand_motions_section)}).",
                phrase=f"{'at least ' if group.uncounted else ''}{in_words(group.motions)} motions of the hand shut off the "
                f"service, where the code's figure is at most {in_words(most)}",
                subject=group.name or group.rows[0].called,
                read=str(group.motions),
                expected=f"at most {most} for one service; a further service has a number of its own (Utility 2)",
            )


def service_motions_check(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Ask about services whose disconnects together take too many motions, and may belong to several groups."""
    most = assessment.profile.hand_motions
    for group in _groups(assessment):
        why = _why_uncertain(assessment, group) if group.motions > most else ""
        if why:
            yield SERVICE_MOTIONS_CHECK.problem(
                group.rows[0],
                group.rows[0].hand_motions,
                f"Shutting off all of {_called(group)} takes {group.said} motions of the hand ({group.one_by_one}), where the "
                f"code's figure is at most {most} ({section(assessment, assessment.profile.hand_motions_section)}). {why}.",
                phrase=f"{in_words(group.motions)} motions of the hand shut off everything; whether they belong to one group "
                "was not recorded",
                subject=group.name or group.rows[0].called,
                read=str(group.motions),
                expected=f"groups or services of their own, or at most {most} in all",
            )


def _called(group: _Group) -> str:
    return f"the service ({group.name})" if group.name else "the service"


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

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
    client=Condition(switching_off=True, work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS), do="Have a licensed electrician look at how the service can be shut off with fewer motions of the hand.",
        why="In an emergency the building may not be shut off in time, or not completely.",),
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
    what="The motions of the hand for one service sum to more than six, and several occupants or different voltages are "
    "recorded.",
    why="Six is the most for one group: in a building of several occupants each may have a group of its own, and two "
    "voltages are two services.",
    mend="Number the services in Fed from; answer No issue where each occupant has disconnects of its own, grouped; if all serve "
    "one occupant from one service, answer Tell the client.",
    source="NFPA 70 230.71",
    client=Condition(switching_off=True, work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS), do="Have a licensed electrician say which disconnects belong together, and have them marked.",
        why="In an emergency the building may not be shut off in time, or not completely.",),
    check=service_motions_check,
    fires=as_typed(
        equipment=[{**_SD1, "tag": f"SD-{n}", "hand_motions": "1", "remarks": f"Tenant {n}"} for n in range(1, 9)],
    ),
    passes=as_typed(
        equipment=[{**_SD1, "tag": f"SD-{n}", "hand_motions": "1", "remarks": f"Tenant {n}"} for n in range(1, 7)],
    ),
)  # fmt: skip

RULES = (HAND_MOTIONS_OVER_SIX, SERVICE_MOTIONS_CHECK)

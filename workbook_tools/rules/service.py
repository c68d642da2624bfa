"""Rules about the service: how the whole building is shut off.

no-service-disconnect                    no row is a service disconnect
hand-motions-over-six                    more than six motions of the hand shut off one service
ground-fault-protection-not-recorded     a large wye service, and nothing is written about it
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.assessment.supply_paths import SERVICE_DISCONNECT, services
from workbook_tools.rules.causes import edition, either, findings_about
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed, missing_of
from workbook_tools.survey.model import Outcome

__all__ = ["RULES", "hand_motions"]

# NFPA 70 230.95 (NFPA70-2023): solidly grounded wye over 150 V to ground, not over 1000 V between phases, from 1000 A.
_GROUND_FAULT_AMPS = 1000
_GROUND_FAULT_NAMED = re.compile(r"ground[\s-]*fault|\bGFP(?:E)?\b|\bGFR\b", re.IGNORECASE)


def no_service_disconnect(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for a service disconnect; a kind that could not be read may be one."""
    equipment = assessment.survey.equipment
    kinds = [row.kind for row in equipment]
    if not equipment or SERVICE_DISCONNECT in kinds:
        return
    unread = next(
        (row for row in equipment if row.kind is None and row["kind"].outcome is not Outcome.NOT_APPLICABLE),
        None,
    )
    if unread is not None:
        yield NO_SERVICE_DISCONNECT.not_checked(assessment, unread, "kind")
        return
    yield NO_SERVICE_DISCONNECT.problem(
        assessment, equipment[0], "kind", "No row of Equipment is a service disconnect.",
        subject="Service", read="", expected="a row of the kind Service disconnect",
    )  # fmt: skip


def hand_motions(assessment: Assessment) -> Iterator[tuple[str, int, bool]]:
    """Yield each service with the sum of its hand motions, and whether every disconnect of it has a count."""
    for name, rows in services(assessment).items():
        counts = [row.get("hand_motions") for row in rows]
        yield name, sum(count for count in counts if count is not None), None not in counts


def hand_motions_over_six(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Sum the motions of the hand for each service."""
    most = assessment.profile.hand_motions
    by_service = services(assessment)
    for name, total, counted in hand_motions(assessment):
        rows = by_service[name]
        if total > most:
            listed = either(
                [f"{row['hand_motions'].typed.strip() or '?'} at {row.subject}" for row in rows[:12]], "and"
            )
            listed += f" and {len(rows) - 12} more" if len(rows) > 12 else ""
            yield HAND_MOTIONS_OVER_SIX.problem(
                assessment,
                rows[0],
                "hand_motions",
                f"Shutting off {name or 'the service'} takes {total} motions of the hand ({listed}); "
                f"at most {most} are allowed ({edition(assessment)} 230.71).",
                subject=name or rows[0].subject,
                read=str(total),
                expected=f"at most {most} for one service",
            )
        elif not counted:
            row = next(row for row in rows if row.get("hand_motions") is None)
            missing = missing_of(row, "hand_motions")
            if missing is not None:
                yield HAND_MOTIONS_OVER_SIX.not_checked(assessment, row, missing)


def ground_fault_protection_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for large wye services about whose ground-fault protection nothing is written."""
    for rows in services(assessment).values():
        for row in rows:
            system, amps = assessment.equipment(row).system, row.get("rating_a")
            if system is None or amps is None or amps < _GROUND_FAULT_AMPS:
                continue
            if system.connection != "wye" or system.volts_to_ground <= 150 or system.line_volts > 1000:
                continue
            written = [row["remarks"].typed]
            written += [
                finding[field].typed
                for finding in findings_about(assessment, row.get("tag") or "")
                for field in ("finding", "seen")
            ]
            if not any(_GROUND_FAULT_NAMED.search(text) for text in written):
                yield GROUND_FAULT_PROTECTION_NOT_RECORDED.problem(
                    assessment,
                    row,
                    "remarks",
                    f"{row.subject} is a {system.name} service disconnect of {amps:g} A; whether it has ground-fault "
                    f"protection was not recorded ({edition(assessment)} 230.95 asks for it from "
                    f"{_GROUND_FAULT_AMPS} A).",
                    expected="Ground-fault protection seen, or not seen",
                )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}
_LARGE = {**_SD1, "rating_a": "1600", "voltage": "480Y/277", "phase": "3", "wires": "4"}

NO_SERVICE_DISCONNECT = Rule(
    slug="no-service-disconnect",
    class_="confirm",
    subject="Service",
    needs=("kind",),
    what="No row is a service disconnect.",
    why="Where the building is shut off is the first thing that the client's list must tell.",
    mend="Add it, or give the board that shuts off the service the kind Service disconnect; confirm where it stands outside "
    "the survey.",
    source="NFPA 70 230.70",
    check=no_service_disconnect,
    fires=as_typed(equipment=[{"tag": "MSB", "kind": "Switchboard"}]),
    passes=as_typed(equipment=[_SD1, {"tag": "MSB", "kind": "Switchboard"}]),
)

HAND_MOTIONS_OVER_SIX = Rule(
    slug="hand-motions-over-six",
    class_="report",
    priority="Correct soon",
    subject="Service",
    needs=("hand_motions",),
    what="The motions of the hand to shut off one service sum to more than six.",
    why="In an emergency the building is not shut off in time, or not wholly.",
    mend="Count again: every disconnect of the same service, the same Utility number in Fed from. If it stands, leave it: it "
    "goes to the client.",
    source="NFPA 70 230.71",
    check=hand_motions_over_six,
    fires=as_typed(
        equipment=[{**_SD1, "hand_motions": "4"}, {**_SD1, "tag": "SD-2", "hand_motions": "3"}],
    ),
    passes=as_typed(
        equipment=[{**_SD1, "hand_motions": "4"},
                   {**_SD1, "tag": "SD-2", "fed_from": "Utility 2", "hand_motions": "3"}],
    ),
)  # fmt: skip

GROUND_FAULT_PROTECTION_NOT_RECORDED = Rule(
    slug="ground-fault-protection-not-recorded",
    class_="note",
    subject="Service",
    needs=("rating_a", "voltage", "phase", "wires"),
    what="A wye service disconnect of 1000 A or more, over 150 V to ground, and nothing is written about its ground-fault "
    "protection.",
    why="An arcing fault to ground can burn such a board down without opening the main.",
    mend="Write in Remarks whether a ground-fault relay was seen; where there is none, record the finding.",
    source="NFPA 70 230.95",
    check=ground_fault_protection_not_recorded,
    fires=as_typed(equipment=[_LARGE]),
    passes=as_typed(equipment=[{**_LARGE, "remarks": "Ground-fault relay on the door"}]),
)

RULES = (NO_SERVICE_DISCONNECT, HAND_MOTIONS_OVER_SIX, GROUND_FAULT_PROTECTION_NOT_RECORDED)

"""Rules about the service: whether there is a place where the whole building is shut off.

    no-service-disconnect    no row is a service disconnect

Not here: the motions of the hand (hand_motions), what stands first behind the utility (service_entries),
ground-fault protection (ground_fault), what is posted and marked at the service (service_details).
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import SERVICE_DISCONNECT, Assessment
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
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


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

NO_SERVICE_DISCONNECT = Rule(
    slug="no-service-disconnect",
    class_="confirm",
    subject="Service",
    what="No row is a service disconnect.",
    why="Where the building is shut off is the first thing that the client's list must tell.",
    mend="Add it, or give the board that shuts off the service the kind Service disconnect; answer No issue where it stands outside "
    "the survey.",
    source="NFPA 70 230.70",
    needs=(Equipment.kind,),
    client=Condition(
        switching_off=True,
        work=Work(Trade.UTILITY, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Ask the utility or a licensed electrician where the building is switched off, and have it marked.",
        why="In an emergency somebody must know where the building is shut off.",
    ),
    check=no_service_disconnect,
    fires=as_typed(equipment=[{"tag": "MSB", "kind": "Switchboard"}]),
    passes=as_typed(equipment=[_SD1, {"tag": "MSB", "kind": "Switchboard"}]),
)

RULES = (NO_SERVICE_DISCONNECT,)

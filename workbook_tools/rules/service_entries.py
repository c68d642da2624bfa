"""Rules about what stands first behind the utility.

    service-without-disconnect       a supply from the utility behind which no service disconnect stands
    service-disconnect-cannot-open   a service disconnect of main lugs

Where no row at all is a service disconnect, no-service-disconnect says it.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import SERVICE_DISCONNECT, Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "What stands first behind the utility"

_AHEAD_OF_IT = (
    "Transformer",
    "Meter center",
    "CT cabinet",
    "Busway",
    "Lift controller",
    "Low-voltage system",
)
"""Kinds that may stand ahead of the service disconnect, or outside the survey."""


def service_without_disconnect(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look behind each supply from the utility for a service disconnect."""
    equipment = assessment.survey.equipment
    if all(row.stock_kind != SERVICE_DISCONNECT for row in equipment):
        return
    for row in equipment:
        source = next(
            (one for one in assessment.supply.sources(row) if _is_utility(one.name, one.outside)), None
        )
        if source is None or row.stock_kind is None or row.stock_kind in _AHEAD_OF_IT:
            continue
        if row.stock_kind != SERVICE_DISCONNECT and not _opens_below(assessment, row):
            yield SERVICE_WITHOUT_DISCONNECT.problem(
                row,
                row.kind,
                f"{row.called} is fed from {source.name}, and neither it nor anything behind it is a service disconnect. Does it "
                "shut off its own supply? Then its kind is Service disconnect, and its hand motions count.",
                phrase=f"fed straight from {source.name} with no service disconnect recorded",
                expected="Service disconnect, or what feeds it",
            )


def _is_utility(name: str, outside: bool) -> bool:
    return outside and not plain(name).startswith("pv")


def _opens_below(assessment: Assessment, row: Equipment) -> bool:
    seen, front = {row}, list(assessment.supply.fed_by(row))
    while front:
        load = front.pop()
        if load.stock_kind == SERVICE_DISCONNECT:
            return True
        if load not in seen:
            seen.add(load)
            front.extend(assessment.supply.fed_by(load))
    return False


def service_disconnect_cannot_open(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for service disconnects whose main device opens nothing."""
    for row in assessment.survey.equipment:
        if row.stock_kind == SERVICE_DISCONNECT and row.main_device.value == "Main lugs":
            motions = row.hand_motions.value
            if motions is not None and motions > 1:
                continue  # several mains on one bus shut it off together
            yield SERVICE_DISCONNECT_CANNOT_OPEN.problem(
                row,
                row.main_device,
                f"{row.called} is a service disconnect with main lugs, which open nothing. Either its main was read wrongly, or "
                "what shuts off the service is something else.",
                phrase="recorded as what shuts off the service, with main lugs that open nothing",
                expected="Main breaker or Fused switch; or another kind",
            )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

SERVICE_WITHOUT_DISCONNECT = Rule(
    slug="service-without-disconnect",
    class_="confirm",
    subject="Equipment",
    what="Equipment is fed from the utility, and no service disconnect stands there or behind it, though the survey has some.",
    why="A supply that nobody lists as a service is not shut off with the others.",
    mend="Give it the kind Service disconnect if it shuts off its own supply; else correct Fed from.",
    source="NFPA 70 230.70",
    client=Condition(
        switching_off=True,
        work=Work(Trade.UTILITY, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Ask the utility or a licensed electrician where this supply is switched off, and have it marked.",
        why="In an emergency somebody must know where each supply is shut off.",
    ),
    compares="A disconnect for each supply from the utility",
    check=service_without_disconnect,
    fires=as_typed(equipment=[_SD1, {"tag": "P-1", "kind": "Panelboard", "fed_from": "Utility"}]),
    passes=as_typed(equipment=[_SD1, {"tag": "P-1", "kind": "Panelboard", "fed_from": "SD-1"}]),
)

SERVICE_DISCONNECT_CANNOT_OPEN = Rule(
    slug="service-disconnect-cannot-open",
    class_="confirm",
    subject="Equipment",
    what="A service disconnect is recorded with main lugs and one motion of the hand.",
    why="Lugs open nothing: whoever must shut the building off would look in the wrong place.",
    mend="Look at the photo: write the main that is there, or give the row the kind that it has.",
    source="NFPA 70 230.70",
    client=Condition(
        switching_off=True,
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.ACCESS),
        do="Have a licensed electrician say where the service is switched off, and have it marked.",
        why="In an emergency somebody must know where the building is shut off.",
    ),
    check=service_disconnect_cannot_open,
    fires=as_typed(equipment=[{**_SD1, "main_device": "Main lugs", "hand_motions": "1"}]),
    passes=as_typed(equipment=[{**_SD1, "main_device": "Main breaker", "hand_motions": "1"}]),
)

RULES = (SERVICE_WITHOUT_DISCONNECT, SERVICE_DISCONNECT_CANNOT_OPEN)

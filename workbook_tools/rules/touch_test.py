"""Rules about the non-contact voltage test.

touch-test-not-recorded            nothing is recorded about it
touch-test-alerted                 the detector alerted on the enclosure
touch-test-blind-to-direct-current no alert where direct current may be, which says nothing of it
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.contradictions import recorded
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import answer
from workbook_tools.survey import Equipment, Outcome

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Touch test"


def touch_test_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for inspected equipment without an answer; where nobody entered nobody touched."""
    for row in assessment.survey.equipment:
        if row.touch_test.outcome is not Outcome.BLANK or not assessment.is_in_scope(row):
            continue
        if assessment.is_entered(row) is not False:
            yield TOUCH_TEST_NOT_RECORDED.problem(
                row,
                row.touch_test,
                f"Nothing is recorded about the non-contact voltage test of {row.called}.",
            )


def touch_test_alerted(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for enclosures on which the detector alerted."""
    for row in assessment.survey.equipment:
        if assessment.is_in_scope(row):
            yield from TOUCH_TEST_ALERTED.ask(row)
        if row.touch_test.value == "ALERTED":
            yield TOUCH_TEST_ALERTED.problem(
                row,
                row.touch_test,
                f"The non-contact detector alerted on the enclosure of {row.called}: its metal may be live.",
                phrase="a non-contact voltage tester alerted at the enclosure, so its metal may be live",
                expected="No alert",
            )


def _quiet(assessment: Assessment, tag: str) -> str:
    """Say where no alert was recorded, on equipment whose silence says something."""
    rows = assessment.survey.tagged(tag)
    blind = any(_may_hold_direct_current(assessment, row) for row in rows)
    return "" if blind else recorded(Equipment.touch_test, "No alert")(assessment, tag)


def _may_hold_direct_current(assessment: Assessment, row: Equipment) -> bool:
    return row.stock_kind in DIRECT_CURRENT or any(
        source.outside and plain(source.name).startswith("pv") for source in assessment.supply.sources(row)
    )


DIRECT_CURRENT = ("PV inverter", "PV disconnect", "Battery system")
"""Kinds in which direct current may stand; an alternating-current detector stays silent on it."""

_ALTERNATING_ONLY = re.compile(r"\bAC\b|alternating", re.IGNORECASE)


def touch_test_blind_to_direct_current(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for No alert on equipment that may hold direct current."""
    for row in assessment.survey.equipment:
        if row.touch_test.value != "No alert" or not _may_hold_direct_current(assessment, row):
            continue
        # An alternating-current disconnect of a PV system says so in its voltage: 480 with phases and wires does not.
        if row.stock_kind == "PV disconnect" and answer(assessment, _ALTERNATING_ONLY, row).settled:
            continue
        yield TOUCH_TEST_BLIND_TO_DIRECT_CURRENT.problem(
            row,
            row.touch_test,
            f"No alert is recorded at {row.called}. A non-contact detector does not respond to direct current, so this says "
            "nothing about any direct-current parts of it.",
        )


TOUCH_TEST_NOT_RECORDED = Rule(
    slug="touch-test-not-recorded",
    class_="confirm",
    subject="Equipment",
    what="Nothing is recorded about the non-contact voltage test.",
    why="Whoever goes there next should know whether the metal was found quiet.",
    mend="Fill it in: No alert, ALERTED, or Not touched.",
    source="common practice; NFPA 70E",
    client=Limit(
        one="Whether the enclosure was tested with a non-contact voltage tester was not recorded.",
        many="Whether the enclosures were tested with a non-contact voltage tester was not recorded.",
    ),
    check=touch_test_not_recorded,
    fires=as_typed(equipment=[{"tag": "OV-1", "kind": "Disconnect switch"}]),
    passes=as_typed(equipment=[{"tag": "OV-1", "kind": "Disconnect switch", "touch_test": "Not touched"}]),
)

TOUCH_TEST_ALERTED = Rule(
    slug="touch-test-alerted",
    class_="report",
    priority="Act now",
    subject="Equipment",
    what="The detector alerted on the enclosure.",
    why="Live metal can kill whoever touches it.",
    mend="Tell the site at once, if that was not done. Leave the cell: it goes to the client, first of all.",
    source="common practice",
    needs=(Equipment.touch_test,),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.OFF, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician test it at once, and the fault found and mended.",
        may_be_live=True,
    ),
    fine=_quiet,
    check=touch_test_alerted,
    fires=as_typed(equipment=[{"tag": "RP-4", "touch_test": "alert"}]),
    passes=as_typed(equipment=[{"tag": "RP-4", "touch_test": "No alert"}]),
)

TOUCH_TEST_BLIND_TO_DIRECT_CURRENT = Rule(
    slug="touch-test-blind-to-direct-current",
    class_="note",
    subject="Equipment",
    what="No alert is recorded on an inverter, a PV disconnect or a battery, which may hold direct current.",
    why="A non-contact detector finds alternating voltage alone: its silence there proves nothing.",
    mend="Nothing to do: the client reads it among the limits. Where only alternating current reaches the disconnect, say AC "
    "in Remarks.",
    source="common practice",
    client=Limit(
        one="The tester that gave no alert does not detect direct current: of direct-current parts it says nothing.",
        many="The tester that gave no alert does not detect direct current: of direct-current parts it says nothing.",
    ),
    check=touch_test_blind_to_direct_current,
    fires=as_typed(equipment=[{"tag": "INV-1", "kind": "PV inverter", "touch_test": "No alert"}]),
    passes=as_typed(equipment=[{"tag": "INV-1", "kind": "PV inverter", "touch_test": "Not touched"}]),
)

RULES = (TOUCH_TEST_NOT_RECORDED, TOUCH_TEST_ALERTED, TOUCH_TEST_BLIND_TO_DIRECT_CURRENT)

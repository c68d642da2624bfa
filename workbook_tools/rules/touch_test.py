"""Rules about the non-contact voltage test.

touch-test-not-recorded    nothing is recorded about it
touch-test-alerted         the detector alerted on the enclosure
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.contradictions import recorded
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
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
        do="Keep people away from it and have a licensed electrician look at it at once.",
        may_be_live=True,
    ),
    fine=recorded(Equipment.touch_test, "No alert"),
    check=touch_test_alerted,
    fires=as_typed(equipment=[{"tag": "RP-4", "touch_test": "alert"}]),
    passes=as_typed(equipment=[{"tag": "RP-4", "touch_test": "No alert"}]),
)

RULES = (TOUCH_TEST_NOT_RECORDED, TOUCH_TEST_ALERTED)

"""Rules about the non-contact voltage test.

touch-test-not-recorded    nothing is recorded about it
touch-test-alerted         the detector alerted on the enclosure
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.causes import is_entered, is_in_scope
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey.model import Outcome

__all__ = ["RULES"]


def touch_test_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for inspected equipment without an answer; where nobody entered nobody touched."""
    for row in assessment.survey.equipment:
        if row["touch_test"].outcome is not Outcome.BLANK or not is_in_scope(assessment, row):
            continue
        if is_entered(assessment, row) is not False:
            yield TOUCH_TEST_NOT_RECORDED.problem(
                assessment,
                row,
                "touch_test",
                f"Nothing is recorded about the non-contact voltage test of {row.subject}.",
            )


def touch_test_alerted(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for enclosures on which the detector alerted."""
    for row in assessment.survey.equipment:
        if is_in_scope(assessment, row):
            yield from TOUCH_TEST_ALERTED.unanswered(assessment, row, "touch_test")
        if row.get("touch_test") == "ALERTED":
            yield TOUCH_TEST_ALERTED.problem(
                assessment,
                row,
                "touch_test",
                f"The non-contact detector alerted on the enclosure of {row.subject}: its metal may be live.",
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
    check=touch_test_not_recorded,
    fires=as_typed(equipment=[{"tag": "OV-1", "kind": "Disconnect switch"}]),
    passes=as_typed(equipment=[{"tag": "OV-1", "kind": "Disconnect switch", "touch_test": "Not touched"}]),
)

TOUCH_TEST_ALERTED = Rule(
    slug="touch-test-alerted",
    class_="report",
    priority="Act now",
    subject="Equipment",
    needs=("touch_test",),
    what="The detector alerted on the enclosure.",
    why="Live metal can kill whoever touches it.",
    mend="Tell the site at once, if that was not done. Leave the cell: it goes to the client, first of all.",
    source="common practice",
    check=touch_test_alerted,
    fires=as_typed(equipment=[{"tag": "RP-4", "touch_test": "alert"}]),
    passes=as_typed(equipment=[{"tag": "RP-4", "touch_test": "No alert"}]),
)

RULES = (TOUCH_TEST_NOT_RECORDED, TOUCH_TEST_ALERTED)

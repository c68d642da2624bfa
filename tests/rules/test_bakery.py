"""The field notes of an invented bakery beside an expert's answers.

Source: tests/data/bakery; expected.csv was written by hand, before the rules. Notes come on top of it (every
N/V is one); of the three other classes there may be no more and no fewer than the expert's.
"""

from tests.rules.notes import BAKERY, expected_problems, typed_notes
from workbook_tools.checking import check_survey
from workbook_tools.rules.typed import survey_of


def found() -> list[tuple[str, str, str]]:
    checked = check_survey(survey_of(typed_notes(BAKERY)))
    assert checked.crashed == []
    return [(problem.rule, problem.subject, problem.class_) for problem in checked.problems]


def test_exactly_the_experts_problems_are_found():
    expected = [(row["rule"], row["subject"], row["class"]) for row in expected_problems(BAKERY)]
    assert sorted(p for p in found() if p[2] != "note") == sorted(p for p in expected if p[2] != "note")


def test_every_note_of_the_expert_is_found():
    expected = {(row["rule"], row["subject"], row["class"]) for row in expected_problems(BAKERY)}
    assert {p for p in expected if p[2] == "note"} <= set(found())


def test_the_notes_on_top_are_few_and_named():
    expected = {(row["rule"], row["subject"], row["class"]) for row in expected_problems(BAKERY)}
    more = sorted(p[:2] for p in found() if p not in expected)
    assert more == [
        ("available-fault-current-not-posted", "SD-1"),
        ("ground-fault-protection-not-recorded", "SD-1"),
        ("high-leg-present", "RP-3"),
        *(("not-visible", tag) for tag in ("EVC-1", "GEN-1", "INV-2", "OV-1", "PVD-1")),
        ("profile-newer-than-building", "Edition of the code"),
        ("source-sign-not-recorded", "SD-1"),
        *(("touch-test-blind-to-direct-current", tag) for tag in ("INV-1", "INV-2", "PVD-1")),
    ]

"""One fault in a clean survey is found once, at its cell, and nothing else is called wrong."""

import pytest

from tests.rules.clean_survey import FAULTS, Fault, clean_survey
from workbook_tools.checking import Checked, check_survey
from workbook_tools.rules import catalogue
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import assessment_of

# photo-missing and photo-unused are two ends of the same mistake: the file that was meant is named nowhere now.
COMES_WITH = {
    "photo-missing": {"photo-unused"},
    "finding-without-photo": {"photo-unused"},
    "nameplate-photo-missing": {"photo-unused"},
    "no-transformer-details": {"photo-unused"},
}


def checked(typed: Typed) -> Checked:
    assessment = assessment_of(typed)
    return check_survey(assessment.survey, assessment.photos)


def test_the_clean_survey_yields_nothing():
    result = checked(clean_survey())
    assert result.problems == []
    assert result.crashed == []


def test_there_is_a_fault_for_every_rule():
    assert sorted(fault.rule for fault in FAULTS) == sorted(catalogue())


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.rule)
def test_a_seeded_fault_is_found_at_its_cell_and_nothing_else(fault: Fault):
    result = checked(fault.survey())
    assert result.crashed == []
    survey = result.survey
    mine = [problem for problem in result.problems if problem.rule == fault.rule]
    assert len(mine) == 1, [p.message for p in result.problems]
    if fault.table == "job":
        place = survey.job.values[fault.field]
    elif fault.row < 0:
        place = None
    else:
        place = survey.tables[fault.table][fault.row].places[fault.field]
        place = f"{place}{survey.tables[fault.table][fault.row].number}"
    if place is not None:
        assert mine[0].cell == (place if isinstance(place, str) else place.cell)
    others = {problem.rule for problem in result.problems} - {fault.rule} - COMES_WITH.get(fault.rule, set())
    assert not {rule for rule in others if catalogue()[rule].class_ in ("correct", "report")}, others
    assert others <= CONSEQUENCES.get(fault.rule, set()), others


# Questions and notes that the same edit raises beside the fault; each is another fact of the sheet.
CONSEQUENCES: dict[str, set[str]] = {
    # The system behind the transformer is large enough where it is the one ahead of it.
    "feeder-ground-fault-protection-not-recorded": {"isolation-transformer"},
    # Four handles stand in one enclosure.
    "service-motions-check": {"mains-in-one-enclosure"},
}

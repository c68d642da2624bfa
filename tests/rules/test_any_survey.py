"""Whatever somebody typed: no rule raises, none changes the survey, and the work grows with the rows."""

import copy
import cProfile
import random

from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.rules.clean_survey import JOB, TABLES
from tests.rules.notes import BAKERY, typed_notes
from tests.sampling import sampled_property
from workbook_tools.checking import check_survey
from workbook_tools.definitions import load_template
from workbook_tools.rules.rule import Typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.survey import Survey, fingerprint

TEMPLATE = load_template("office")
WORDS = (
    "N/V", "N/A", "#REF!", "?", "-", "None", "Utility", "PV array", "MSB", "msb", "DP-1", "T-1; MSB", "0", "1", "3", "4",
    "42", "3'-6\"", "914", "1e9", "-5", "99999999999", "480Y/277", "120/240", "208", "480", "13.2 kV", "75", "Transformer",
    "Service disconnect", "Panelboard", "Lift controller", "Entered", "Locked", "Clear", "Grounded", "Pipe; Duct", "Yes",
    "No", "ALERTED", "Open knockout", "Working depth too small", "2026-09-16", "QS.jpg", "nec-2014", "osha-1910", "Main",
    "Main lugs", "Main breaker", "Fused switch", "480 corner grounded", "480 delta", "240", "600", "1600", "Lever or knob", "Switchboard",
    "Enclosed circuit breaker", "Battery system", "No alert", "Men's restroom", "Stair 2", "handle at 84 in", "40 in", "22400", "1965",
)  # fmt: skip
TEXTS = st.one_of(st.sampled_from(WORDS), st.text(max_size=12))


def rows_of(key: str) -> st.SearchStrategy[list[dict[str, str]]]:
    fields = [column.field for column in TEMPLATE.by_key[key].columns]
    return st.lists(st.dictionaries(st.sampled_from(fields), TEXTS, max_size=len(fields)), max_size=4)


SURVEYS = st.builds(
    Typed,
    st.dictionaries(st.sampled_from([column.field for column in TEMPLATE.by_key["job"].columns]), TEXTS),
    st.fixed_dictionaries(
        {sheet.key: rows_of(sheet.key) for sheet in TEMPLATE.sheets if sheet.layout == "table"}
    ),
)


def contents(survey: Survey) -> object:
    return copy.deepcopy([(row.key, row.number, row.values, row.extra, row.live) for row in survey.rows()])


@sampled_property(max_examples=300, suppress_health_check=list(HealthCheck))
@given(SURVEYS)
def test_no_rule_raises_or_changes_the_survey(typed: Typed):
    survey = survey_of(Typed({**typed.job, "dimension_unit": "in"}, typed.tables))
    before = contents(survey)
    checked = check_survey(survey)
    assert checked.crashed == []
    assert contents(survey) == before
    assert all(problem.message and problem.sheet for problem in checked.problems)


@sampled_property(max_examples=60, suppress_health_check=list(HealthCheck))
@given(st.randoms(use_true_random=False))
def test_the_order_of_the_rows_changes_no_problem_but_its_cell(dice: random.Random):
    typed = typed_notes(BAKERY)
    shuffled = {key: dice.sample(list(rows), len(rows)) for key, rows in typed.tables.items()}
    one, other = check_survey(survey_of(typed)), check_survey(survey_of(Typed(typed.job, shuffled)))
    # Of two rows that are alike the later one is reported; the pairs are the same.
    assert sorted((p.rule, p.subject) for p in one.problems) == sorted(
        (p.rule, p.subject) for p in other.problems
    )
    assert fingerprint(one.survey) == fingerprint(other.survey)


def campus(times: int) -> Typed:
    tables: dict[str, list[dict[str, str]]] = {key: [] for key in TABLES}
    names = ("tag", "fed_from", "room", "subject", "serves")
    outside = ("Utility", "PV array", "N/A")
    for number in range(times):
        for key, rows in TABLES.items():
            for row in rows:
                renamed = {
                    field: "; ".join(
                        part if part in outside else f"{part}-{number}" for part in text.split("; ")
                    )
                    for field, text in row.items()
                    if field in names and text
                }
                tables[key].append({**row, **renamed})
    return Typed(JOB, tables)


def calls(typed: Typed) -> int:
    """Return how many functions a check calls: work that no other program on the machine changes."""
    survey = survey_of(typed)
    profile = cProfile.Profile()
    profile.runcall(check_survey, survey)
    return sum(entry.callcount for entry in profile.getstats())


def test_ten_times_the_rows_take_about_ten_times_the_work():
    calls(campus(5))
    assert calls(campus(200)) < 11 * calls(campus(20))


def mistyped(times: int) -> Typed:
    typed = campus(times)
    rows = [{"subject": f"{row['tag']}9", "finding": "Open knockout"} for row in typed.tables["equipment"]]
    return Typed(typed.job, {**typed.tables, "findings": rows})


def test_a_thousand_mistyped_tags_cost_no_more_than_ten_times_a_hundred():
    calls(mistyped(5))
    assert calls(mistyped(100)) < 11 * calls(mistyped(10))

"""Every live cell, recalculated by programs we did not write, shows what Python says.

Programs: LibreOffice Calc, gnumeric and IronCalc. The Python side takes its figures from the
assessment that the check uses, so sheet and tool cannot disagree unseen. For each code
profile more than 400 generated rows; units and years change with the profile.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.office.programs import Office
from tests.sampling import drawn, so_many
from tests.survey_workbook.generated_rows import generated
from workbook_tools.assessment import STEPS_UP
from workbook_tools.definitions import PRIORITIES, Template, load_template
from workbook_tools.electrical import PROFILE_NAMES
from workbook_tools.live_cells.guide_lines import GuideLines, lines_of
from workbook_tools.live_cells.results import LiveResults
from workbook_tools.live_cells.wording import READ_AT_CHECK
from workbook_tools.rules.assess import assess
from workbook_tools.spreadsheet import position, read_workbook
from workbook_tools.survey import Survey, survey_of_texts
from workbook_tools.survey_workbook.layout import FIRST_ROW, Layout, letters
from workbook_tools.survey_workbook.writing import write_survey_workbook

pytestmark = [pytest.mark.office, pytest.mark.slow, pytest.mark.timeout(600)]

Values = Callable[[str, str], Any]
"""Value of a cell by sheet name and cell name."""

JOBS = {
    "nec-2023": {"dimension_unit": "in"},
    "nec-2020": {"dimension_unit": "mm"},
    "nec-2017": {"dimension_unit": "ft", "year_built": "Mar 1998"},
    "nec-2014": {"dimension_unit": "m"},
    "osha-1910": {"dimension_unit": "in", "year_built": "1975"},
}
OTHER_JOBS = [
    {"code_profile": "OSHA", "dimension_unit": "cm", "year_built": "2006"},
    {"code_profile": "osha-1910", "dimension_unit": "inches", "year_built": "about 1970"},
    {"code_profile": "nec 2023", "dimension_unit": "hands", "year_built": "1998"},
    {"code_profile": "house rules", "dimension_unit": "N/A", "year_built": "N/V"},
]


def libreoffice(path: Path, office: Office) -> Values:
    return _read(office.recalculate(path))


def gnumeric(path: Path, office: Office) -> Values:
    return _read(office.gnumeric(path))


def ironcalc(path: Path, office: Office) -> Values:
    model = office.package("ironcalc").load_from_xlsx(str(path), "en", "UTC", "en")
    model.evaluate()
    sheets = {sheet["name"]: number for number, sheet in enumerate(model.get_worksheets_properties())}
    return lambda sheet, cell: model.get_cell_value(sheets[sheet], *position(cell))


def _read(path: Path) -> Values:
    sheets = {sheet.name: sheet.cells for sheet in read_workbook(path).sheets}

    def value(sheet: str, cell: str) -> Any:
        found = sheets[sheet].get(position(cell))
        if found is None:
            return ""
        return found.text if found.kind in ("text", "error") else found.value

    return value


def disagreements(values: Values, results: LiveResults) -> Iterator[str]:
    survey = results.survey
    template = as_written(survey)
    layout = Layout(template, {}, {sheet.key: 1 for sheet in template.sheets})
    for key, rows in survey.tables.items():
        table = layout.tables[key]
        for row in rows:
            for field, wanted in results.row(row).items():
                cell = f"{table.letters[field]}{row.number}"
                shown = values(table.sheet.name, cell)
                if not _same(shown, wanted):
                    typed = {name: value.typed for name, value in row.values.items()}
                    yield f"{table.sheet.name}!{cell} {field}: the program shows {shown!r}, Python says {wanted!r}; typed {typed}"


def as_written(survey: Survey) -> Template:
    """Return the template with the columns that the workbook of a survey has."""
    texts = {
        key: [{f: v.typed for f, v in row.values.items()} for row in rows]
        for key, rows in survey.tables.items()
    }
    return survey.template.as_written(texts)


def _same(shown: Any, wanted: Any) -> bool:
    if isinstance(wanted, float) and isinstance(shown, int | float) and not isinstance(shown, bool):
        return abs(shown - wanted) <= 1e-9 * max(1.0, abs(wanted))
    return ("" if shown is None else shown) == wanted


def progress_disagreements(values: Values, results: LiveResults) -> Iterator[str]:
    guide = results.template.by_key["start"].name
    shown = {str(values(guide, f"B{row}")) for row in range(1, 80)}
    lines = GuideLines(results)
    wanted = [
        *map(lines.progress, ["job", *results.survey.tables, *PRIORITIES]),
        *map(lines.left, lines_of(as_written(results.survey))),
    ]
    yield from (line for line in wanted if line not in shown)


ROWS = so_many("rows of a workbook of live cells", 130, 400)


def results_of(seed: int, job: dict[str, str], part: int = 1) -> LiveResults:
    tables, answers = generated(seed, part, **job)
    survey = survey_of_texts(load_template("office"), tables, answers, first_row=FIRST_ROW)
    return LiveResults(assess(survey))


@pytest.fixture(scope="module")
def written(
    tmp_path_factory: pytest.TempPathFactory,
) -> Callable[[int, dict[str, str]], tuple[Path, LiveResults]]:
    made: dict[int, tuple[Path, LiveResults]] = {}
    folder = tmp_path_factory.mktemp("generated")

    def write(seed: int, job: dict[str, str]) -> tuple[Path, LiveResults]:
        if seed not in made:
            part = 400 // ROWS
            tables, answers = generated(seed, part, **job)
            path = folder / f"generated-{seed}.xlsx"
            write_survey_workbook(path, load_template("office"), tables, answers, rows=1)
            made[seed] = path, results_of(seed, job, part)
        return made[seed]

    return write


ENGINES = [libreoffice, gnumeric, ironcalc]
CASES = [*({"code_profile": name, **JOBS[name]} for name in PROFILE_NAMES), *OTHER_JOBS]


GRID = [(seed, engine) for seed in range(len(CASES)) for engine in ENGINES]


def kind(case: tuple[int, Callable[[Path, Office], Values]]) -> bool:
    """Return what a sample holds one of: a workbook by an office program, one by the engine that comes from PyPI."""
    return case[1] is ironcalc


@pytest.mark.sampled
@pytest.mark.parametrize(
    ("seed", "engine"),
    drawn("workbooks of live cells", GRID, kind),
    ids=lambda value: value.__name__ if callable(value) else CASES[value]["code_profile"].replace(" ", "_"),
)
def test_every_live_cell_shows_what_python_says(
    seed: int, engine: Callable[[Path, Office], Values], office: Office, written: Any
) -> None:
    path, results = written(seed, CASES[seed])
    values = engine(path, office)
    assert sum(map(len, results.survey.tables.values())) >= ROWS
    found = list(disagreements(values, results))
    assert not found, f"{len(found)} cells, the first: " + "\n".join(found[:5])
    assert list(progress_disagreements(values, results)) == []


def test_the_cells_are_not_left_to_the_check_for_convenience() -> None:
    results = results_of(0, CASES[0])
    shown = [
        value
        for rows in results.survey.tables.values()
        for row in rows
        for value in results.row(row).values()
    ]
    figures = [value for value in shown if isinstance(value, float) or str(value)[:1].isdigit()]
    left = [value for value in shown if READ_AT_CHECK in str(value)]
    assert len(figures) > 500
    assert len(left) < len(shown) / 4


def test_cached_results_are_the_recalculated_ones_and_a_changed_one_is_noticed(written: Any) -> None:
    path, results = written(0, CASES[0])
    assert list(disagreements(_read(path), results)) == []
    assert min(row.number for row in results.survey.equipment) == FIRST_ROW
    # The comparison itself must be able to fail: one result altered is one disagreement.
    row = next(row for row in results.survey.clearances if results.row(row)["needed_height"] == "78 in")
    results.row(row)["needed_height"] = "79 in"  # type: ignore[index]
    try:
        found = list(disagreements(_read(path), results))
    finally:
        results.row(row)["needed_height"] = "78 in"  # type: ignore[index]
    assert len(found) == 1
    place = letters(1 + [column.field for column in row.definition.columns].index("needed_height"))
    assert f"!{place}{row.number} needed_height" in found[0]


def test_some_rows_depend_on_what_is_further_up_than_their_source() -> None:
    deeper = set()
    for seed, job in enumerate(CASES):
        results = results_of(seed, job)
        taken = results.assessment.taken_to_ground
        deeper |= {
            (row.stock_kind == "Transformer", steps)
            for row in results.survey.equipment
            for steps in range(1, STEPS_UP)
            if taken(row, steps) != taken(row) and isinstance(results.volts_to_ground(row), float)
        }
    assert deeper >= {(False, 1), (False, 2), (False, 3), (True, 1)}

"""The workbooks that the tool itself makes read back as what was put into them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.survey.surveys import BAKERY
from workbook_tools.commands import new as new_workbook
from workbook_tools.definitions import stock_templates
from workbook_tools.survey import read_survey


@pytest.mark.parametrize("template", sorted(stock_templates()))
def test_a_blank_workbook_is_a_survey_without_rows(template: str, tmp_path: Path) -> None:
    made = new_workbook(tmp_path / "blank.xlsx", template=template, rows=10)
    survey = read_survey(made.path)
    assert survey.template.name == template == made.template
    assert survey.job.dimension_unit.value == survey.template.dimension_unit
    assert {key: rows for key, rows in survey.tables.items() if rows} == {}
    assert (survey.notes, survey.stray, survey.damage, survey.missing_sheets) == ([], [], [], [])
    typed = {column.field for sheet in survey.template.as_written({}).sheets for column in sheet.typed}
    assert {heading.field for heading in survey.headings if heading.exact} >= typed
    assert all(heading.field is not None for heading in survey.headings)


def test_a_prefilled_workbook_reads_back_as_its_notes(tmp_path: Path) -> None:
    notes = tmp_path / "notes"
    notes.mkdir()
    for path in BAKERY.glob("*.csv"):
        if path.stem != "expected":
            (notes / path.name).write_bytes(path.read_bytes())
    survey = read_survey(new_workbook(tmp_path / "filled.xlsx", fill=notes, rows=30).path)
    sizes = {
        path.stem: len(path.read_text(encoding="utf-8").splitlines()) - 1 for path in notes.glob("*.csv")
    }
    del sizes["job"]
    assert {key: len(rows) for key, rows in survey.tables.items()} == sizes
    assert survey.job.property.value == "Quarry Street Bakery and Cold Store"
    assert (survey.notes, survey.stray) == ([], [])

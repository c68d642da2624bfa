"""What the tests of reading can ask for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.survey.surveys import sheets_of_notes, write_workbook
from workbook_tools.survey import Survey, read_survey


@pytest.fixture
def clean(tmp_path: Path) -> Survey:
    """Return the survey of the field notes, typed in good order."""
    return read_survey(write_workbook(tmp_path / "clean.xlsx", sheets_of_notes()), "office")

"""What every test can ask for.

office   spreadsheet programs to open, recalculate, convert and fill in workbooks with
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

# The tests' own modules are found from the top folder, after everything that is installed:
# where the package is installed from a wheel, the wheel is what is tested.
sys.path.append(str(Path(__file__).resolve().parents[1]))

from tests.office.programs import Office

# Run by LibreOffice's own Python, never imported by the tests.
collect_ignore = ["office/type_survey.py"]


@pytest.fixture(scope="session")
def office(tmp_path_factory: pytest.TempPathFactory) -> Office:
    """Return the spreadsheet programs; a method whose program is missing fails or skips, loudly."""
    return Office(tmp_path_factory.mktemp("office"))

"""The demonstration, put together once and printed once for all tests of the room.

schedule    the demonstration's ClientSchedule, with its photos
printed     its PDF, read
small       the same without photos: quick to print
"""

from __future__ import annotations

import datetime
import os
import pickle
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.office.programs import once_at_a_time
from workbook_tools.checking import check_survey
from workbook_tools.commands.demo import MENDED, PHOTOS
from workbook_tools.demonstration import firm_template
from workbook_tools.photos.folder import list_photos
from workbook_tools.photos.numbered import gather_photos
from workbook_tools.schedule import ClientSchedule, SignedBy, build_schedule
from workbook_tools.survey.reading import read_survey
from workbook_tools.typesetting import print_schedule

DEMONSTRATION = Path(__file__).resolve().parents[2] / "demo_workbooks"
DAY = datetime.date(2026, 10, 8)


@pytest.fixture(scope="session")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder with both; workers share what one of them made."""
    folder = tmp_path_factory.getbasetemp()
    folder = folder.parent if "PYTEST_XDIST_WORKER" in os.environ else folder
    done = folder / "typeset demonstration"
    with once_at_a_time(folder / "typeset.lock"):
        if not done.exists():
            done.mkdir()
            survey = read_survey(DEMONSTRATION / MENDED, firm_template())
            photos = list_photos(DEMONSTRATION / PHOTOS)
            schedule = build_schedule(
                check_survey(survey, photos),
                photos=gather_photos(survey, photos),
                sign_off=SignedBy("R. Reviewer (invented)", DAY.isoformat()),
            )
            (done / "schedule.pickle").write_bytes(pickle.dumps(schedule))
            assert print_schedule(schedule, done / "schedule.pdf", DAY) == ()
    return done


@pytest.fixture(scope="session")
def schedule(made: Path) -> ClientSchedule:
    found: ClientSchedule = pickle.loads((made / "schedule.pickle").read_bytes())
    return found


@pytest.fixture(scope="session")
def printed(made: Path) -> PdfReader:
    return PdfReader(made / "schedule.pdf")


@pytest.fixture(scope="session")
def small(schedule: ClientSchedule) -> ClientSchedule:
    return replace(
        schedule,
        photos=(),
        rows=tuple(replace(row, photos=()) for row in schedule.rows[:12]),
        conditions=tuple(replace(c, photos=(), rows=()) for c in schedule.conditions[:8]),
        first=schedule.conditions[:2],
        work=schedule.work[:8],
        clearances=schedule.clearances[:4],
        transformers=(),
        tree=(),
        limits=schedule.limits[:3],
    )

"""A delivery that is killed half-way: the client's folder stands there whole, or not at all."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.delivery.made_surveys import picture, review_and_sign, write_survey
from tests.delivery.test_deliver import FILES, READY, names_in
from tests.sampling import drawn, in_groups_of
from workbook_tools.files import whole_folder
from workbook_tools.files.contents import LIST

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills a process the POSIX way")

# Each step of the delivery, at which the process says so and then waits to be killed.
STEPS = {
    "while the workbook is proved": "workbook_tools.delivery.folder.prove",
    "while the tables are written": "workbook_tools.delivery.folder.write_data",
    "while the record is written": "workbook_tools.delivery.folder.write_record",
    "before the folder is put in place": "workbook_tools.files.whole._put_in_place",
}
PROGRAM = """
import sys, time
from importlib import import_module
from workbook_tools.commands import deliver
step, survey, review, photos, output = sys.argv[1:]
module, _, name = step.rpartition(".")
def wait(*args, **more):
    print("here", flush=True)
    time.sleep(60)
setattr(import_module(module), name, wait)
deliver(survey, output=output, review=review, photos=photos, force=True)
"""


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> tuple[Path, Path, Path]:
    folder = tmp_path_factory.mktemp("job")
    photos = folder / "photos"
    photos.mkdir()
    for name in ("QS_0104.jpg", "QS_0107.jpg", "QS_0108.jpg", "QS_0109.jpg", "QS_0110.jpg"):
        (photos / name).write_bytes(picture() + name.encode())
    survey = write_survey(folder / "survey.xlsx", READY)
    return survey, review_and_sign(survey, folder / "review.xlsx", photos=photos), photos


NOTHING, OLD = "nothing stands there", "an old delivery stands there"
KILLED = [(step, standing) for step in STEPS for standing in (NOTHING, OLD)]


def first_or_last(case: tuple[str, str]) -> str | None:
    """Return what a sample holds one of: killed at a step within, at the last over something, at the last."""
    return case[1] if case[0] == [*STEPS][-1] else None


@pytest.mark.sampled
@pytest.mark.parametrize(("step", "standing"), drawn("killed deliveries", KILLED, first_or_last))
def test_killed_at_a_step_nothing_has_changed(tmp_path, job, step, standing):
    target = tmp_path / "delivery"
    if standing is OLD:
        with whole_folder(target) as filling:
            (filling.folder / "schedule.xlsx").write_text("the old one")
    with subprocess.Popen(
        [sys.executable, "-c", PROGRAM, STEPS[step], *map(str, job), str(target)],
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "here\n"
        process.send_signal(signal.SIGKILL)
    if standing is OLD:
        assert names_in(target) == {"schedule.xlsx", LIST}
        assert (target / "schedule.xlsx").read_text() == "the old one"
    else:
        assert not target.exists()
    assert job[0].is_file()


EIGHTHS = range(8)
MOMENTS = drawn("moments of being killed", EIGHTHS, in_groups_of(2, EIGHTHS))


@pytest.mark.slow
@pytest.mark.sampled
def test_killed_at_any_moment_the_folder_is_whole_or_not_there(tmp_path, job):
    survey, review, photos = job
    program = "import sys; from workbook_tools.commands import deliver; s, r, p, o = sys.argv[1:]; deliver(s, output=o, review=r, photos=p)"
    begun = time.monotonic()
    subprocess.run(
        [sys.executable, "-c", program, *map(str, (survey, review, photos)), str(tmp_path / "whole")],
        check=True,
    )
    whole = time.monotonic() - begun
    expected = names_in(tmp_path / "whole")
    assert expected >= {*FILES, "photos/photo-001.jpg"}
    outcomes = set()
    for n in MOMENTS:
        target = tmp_path / f"killed {n}"
        with subprocess.Popen(
            [sys.executable, "-c", program, *map(str, (survey, review, photos)), str(target)]
        ) as process:
            time.sleep(whole * n / 8)  # the first before it has begun
            process.send_signal(signal.SIGKILL)
        outcomes.add(target.exists())
        if target.exists():
            assert names_in(target) == expected
    assert False in outcomes

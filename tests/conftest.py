"""What every test can ask for, and how much of the long runs is done.

office         spreadsheet programs to open, recalculate, convert and fill in workbooks with
typed_bakery   function(ending) -> the field notes of the bakery, typed into a workbook by LibreOffice, once

--whole and --sample-seed are explained in tests/sampling.py. They become environment variables,
which worker processes inherit and which test modules ask while they are imported.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

# The tests' own modules are found from the top folder, after everything that is installed:
# where the package is installed from a wheel, the wheel is what is tested.
sys.path.append(str(Path(__file__).resolve().parents[1]))

from tests import sampling
from tests.office.programs import Office, once_at_a_time
from workbook_tools.commands import new as new_workbook

# No property is judged by the clock, and none remembers what an earlier run drew.
settings.register_profile(
    "seeded", deadline=None, derandomize=False, database=None, print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip
settings.load_profile("seeded")

# Run by LibreOffice's own Python, never imported by the tests.
collect_ignore = ["office/by_hand.py", "office/type_survey.py"]


@pytest.fixture(scope="session")
def office(tmp_path_factory: pytest.TempPathFactory) -> Office:
    """Return the spreadsheet programs; a method whose program is missing fails or skips, loudly."""
    return Office(tmp_path_factory.mktemp("office"))


@pytest.fixture(scope="session")
def typed_bakery(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    folder = tmp_path_factory.getbasetemp()
    # Workers share what one of them had typed: it takes longer than most tests.
    folder = folder.parent if "PYTEST_XDIST_WORKER" in os.environ else folder

    def typed(ending: str) -> Path:
        made = folder / f"bakery.{ending}"
        with once_at_a_time(folder / f"{made.name}.lock"):
            if not made.exists():
                blank = new_workbook(folder / f"blank for {made.name}.xlsx", rows=60).path
                notes = Path(__file__).resolve().parent / "data" / "bakery"
                office.type_survey(blank, notes, folder / f"typing.{ending}").rename(made)
        return made

    return typed


def pytest_addoption(parser: pytest.Parser) -> None:
    group = parser.getgroup("sampling", "how much of the long runs is done")
    group.addoption("--whole", action="store_true", help="run what is otherwise sampled in full")
    group.addoption("--sample-seed", type=int, metavar="N", help="draw another sample (default: 1)")


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    if config.option.whole:
        os.environ[sampling.WHOLE] = "1"
    if config.option.sample_seed is not None:
        os.environ[sampling.SEED] = str(config.option.sample_seed)
    # Properties are drawn with the same seed, unless one is given for them alone.
    if config.option.hypothesis_seed is None:
        config.option.hypothesis_seed = str(sampling.seed())


def pytest_report_header() -> str:
    if sampling.whole():
        return f"nothing is sampled; properties are drawn with seed {sampling.seed()}"
    return (
        f"long runs are sampled with seed {sampling.seed()}; --sample-seed N draws others, --whole runs all"
    )


def pytest_sessionfinish(session: pytest.Session) -> None:
    # Only worker processes import the test modules where there are workers: they report what they drew.
    output = getattr(session.config, "workeroutput", None)
    if output is not None:
        output["sampled"] = sampling.COUNTS


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node: Any) -> None:
    sampling.COUNTS.update(getattr(node, "workeroutput", {}).get("sampled", {}))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    said = sampling.summary(sampling.COUNTS)
    if said:
        terminalreporter.write_line(said)

"""What must be quick, and how quick it is: bounds that the clock alone can tell.

    python tests/benchmarks/time_limits.py

Measures, and prints with what was asked:

    lengths     20,000 different lengths read, at most one second
    mistyped    a check of ten times the findings on mistyped tags, at most 15 times the processor time
    a loop      a check of a supply loop of ten thousand, at most 20 seconds
    parts       reading parts of a workbook that were made to eat time, at most 30 seconds each
    files       a check of each malicious workbook, start-up included, at most 10 seconds each

Ends with 1 where a bound is missed. What the files hold, and that each ends as it must, is tested
in tests/fuzz and tests/spreadsheet without a clock.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT))

from tests.fuzz.hostile_files import HOSTILE
from tests.fuzz.running import in_a_process, verdict
from tests.rules.test_any_survey import mistyped
from tests.spreadsheet.raw_files import sheet_xml, xlsx_file
from tests.spreadsheet.test_hostile_parts import ENDLESS, FIRST
from workbook_tools.checking import check_survey
from workbook_tools.electrical import read_length
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.spreadsheet import read_workbook

Clock = Callable[[], float]


def best(work: Callable[[], object], times: int = 1, clock: Clock = time.perf_counter) -> float:
    """Return the least seconds of a few attempts: another program on the machine may take some of one."""
    spent = []
    for _ in range(times):
        started = clock()
        work()
        spent.append(clock() - started)
    return min(spent)


def lengths() -> None:
    """Read lengths for the first time: what was read once is remembered."""
    for number in range(20_000):
        assert read_length(f"{number} ft {number % 12} 1/2 in").millimetres > 0


def ten_times_the_mistyped_tags() -> float:
    few, many = survey_of(mistyped(10)), survey_of(mistyped(100))
    check_survey(few)
    return best(lambda: check_survey(many), 5, time.process_time) / best(
        lambda: check_survey(few), 5, time.process_time
    )


def a_loop() -> float:
    tags = [f"P-{number}" for number in range(10_000)]
    rows = [{"tag": tag, "fed_from": tags[place - 1]} for place, tag in enumerate(tags)]
    survey = survey_of(as_typed(equipment=rows))
    return best(lambda: check_survey(survey))


def part(folder: Path, kind: str) -> float:
    path = folder / "survey.xlsx"
    path.write_bytes(xlsx_file({"Rooms": sheet_xml(FIRST + ENDLESS[kind])}))
    return best(lambda: read_workbook(path))


def file(folder: Path, name: str) -> float:
    path = HOSTILE[name](Path(tempfile.mkdtemp(dir=folder)))
    outcomes: list[str | None] = []
    seconds = best(lambda: outcomes.append(verdict(in_a_process(path))))
    if outcomes != [None]:
        raise SystemExit(f"{name}: {outcomes[0]}")
    return seconds


def said(what: str, measured: float, most: float, unit: str) -> bool:
    """Print a measure, what was asked, and whether it holds."""
    holds = measured <= most
    print(f"{what}: {measured:.2f}{unit}; asked: at most {most}: {'holds' if holds else 'DOES NOT HOLD'}")
    return holds


def main(folder: Path) -> int:
    held = [
        said("20,000 different lengths", best(lengths), 1, " s"),
        said("ten times the mistyped tags", ten_times_the_mistyped_tags(), 15, " times the processor time"),
        said("a supply loop of ten thousand", a_loop(), 20, " s"),
        *(said(f"a part with {kind} that never ends", part(folder, kind), 30, " s") for kind in ENDLESS),
        *(said(name, file(folder, name), 10, " s") for name in HOSTILE),
    ]
    return 0 if all(held) else 1


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as temporary:
        raise SystemExit(main(Path(temporary)))

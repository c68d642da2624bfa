"""How many surveys at once scale: with the cores, with the number of sites, and in memory.

    python tests/benchmarks/many_sites.py [SITES]

Makes folders of surveys of 60 pieces of equipment (tags and makers are invented), a tenth of SITES and SITES of them
(300 where left out; 1000 is what is promised), and runs in turn, each as a process of its own:

    check FOLDER --json           every survey checked, all of it printed
    overview FOLDER -o ...        checked and rolled up into a workbook with charts, and data

once in one process at a time and once in two. Prints with what was asked: at least 1.8 times faster in two processes
than in one; at most 11 times the processor time for 10 times the sites; memory that does not grow with the sites for
`check`, and by how much for each site it does for `overview`, which holds a line for each issue. Ends with 1 where one
is missed by more than the noise between runs.

Two figures are given for the two processes. The one by the clock holds only on a machine that does nothing else. The
one by processor time does not depend on that: what the first process does when all is read (the roll-up) is not
shared, of `check` nothing that it does at all, and the rest can be halved at best.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path
from typing import Any, NamedTuple

sys.path.append(str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.check_campus import GROUP, JOB, group

PIECES, FINDINGS = 60, 12
SITES, TEN = 300, 10
LEAST_FASTER, MOST_OF_TEN, MOST_GROWTH = 1.8, 11, 1.2
NOISE = 1.1


def write_site(path: Path, number: int) -> None:
    """Write one site's survey as typed cells."""
    import xlsxwriter

    from workbook_tools.definitions import load_template

    template = load_template("office")
    job = JOB | {"Property": f"Site {number} (invented)", "Inspection date": f"{2024 + number % 3}-09-16"}
    tables = {"job": [{"Item": item, "Value": value} for item, value in job.items()]}
    for place in range(PIECES // GROUP):
        for key, rows in group(place + number).items():
            tables.setdefault(key, []).extend(rows)
    tables["findings"] = tables["findings"][:FINDINGS]
    with xlsxwriter.Workbook(str(path)) as book:
        for key, rows in tables.items():
            sheet = book.add_worksheet(template.by_key[key].name)
            headings = list(dict.fromkeys(heading for row in rows for heading in row))
            if key != "job":
                sheet.write_row(0, 0, headings)
            for line, row in enumerate(rows, 1):
                for column, heading in enumerate(headings):
                    if heading in row:
                        sheet.write_string(line, column, row[heading])


def make_folder(folder: Path, sites: int) -> Path:
    """Write so many sites."""
    folder.mkdir()
    for number in range(sites):
        write_site(folder / f"site {number}.xlsx", number)
    return folder


class Measured(NamedTuple):
    """One run: seconds by the clock, processor seconds of all and those when all was read, peak memory in MB."""

    wall: float
    after: float
    processor: float
    peak: float

    @property
    def at_best(self) -> float:
        """How much faster two processes can be than one: what follows the reading is not shared."""
        return self.processor / (self.after + (self.processor - self.after) / 2)

    def __str__(self) -> str:
        return f"{self.wall:.1f} s by the clock, {self.processor:.1f} s of processor time, {self.peak:.0f} MB"


def run(what: str, folder: Path, workers: int) -> Measured:
    """Run one command in a process of its own, and measure that process and those that it began."""
    with tempfile.TemporaryDirectory() as scratch:
        started = time.perf_counter()
        pid = os.spawnv(
            os.P_NOWAIT,
            sys.executable,
            [sys.executable, __file__, "--run", what, str(folder), str(workers), scratch],
        )
        _pid, status, usage = os.wait4(pid, 0)
        wall = time.perf_counter() - started
        if status:
            raise SystemExit(f"{what} ended with {os.waitstatus_to_exitcode(status)}")
        after, peak = map(float, (Path(scratch) / "measured").read_text().split())
    return Measured(wall, after, usage.ru_utime + usage.ru_stime, peak)


def one_run(what: str, folder: Path, workers: int, scratch: Path) -> None:
    """Do what is measured, in this process and its workers; leave behind what this process itself took."""
    import resource

    import workbook_tools.portfolio
    from workbook_tools import check_sites, overview
    from workbook_tools.sites.tally import one_as_json

    read = 0.0
    if what == "check":
        with (scratch / "printed").open("w") as out:
            tally, _ = check_sites(
                [folder], each=lambda one: print(one_as_json(one), file=out), whole=True, workers=workers
            )
        assert tally.surveys == len(list(folder.iterdir()))
        assert tally.not_read == 0
    else:
        gather = workbook_tools.portfolio.gather

        def all_read(made: Any) -> Any:
            nonlocal read
            gathered = gather(made)
            read = time.process_time()
            return gathered

        workbook_tools.portfolio.gather = all_read
        made = overview([folder], output=scratch / "sites.xlsx", data=scratch / "data", workers=workers)
        assert made.status == 0
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (
        1024 if sys.platform != "darwin" else 1024 * 1024
    )
    (scratch / "measured").write_text(f"{time.process_time() - read} {peak}")


def main(sites: int) -> int:
    """Measure, print, and say whether the claims hold."""
    held = True
    with tempfile.TemporaryDirectory() as temporary:
        few = make_folder(Path(temporary) / "few", sites // TEN)
        many = make_folder(Path(temporary) / "many", sites)
        load, cores = os.getloadavg()[0], os.cpu_count() or 1
        print(
            f"{sites // TEN} and {sites} sites of {PIECES} pieces; {cores} cores, load {load:.1f} before the first run"
        )
        quiet = load < cores / 2 and cores > 1
        for what in ("check", "overview"):
            run(what, few, 1)  # compiles
            small, alone, together = run(what, few, 1), run(what, many, 1), run(what, many, 2)
            print(
                f"{what}\n  {sites // TEN} sites, one process   {small}\n  {sites} sites, one process   {alone}"
            )
            print(f"  {sites} sites, two processes {together}")
            clock = alone.wall / together.wall
            held &= said(
                f"{alone.at_best:.2f} times faster in two processes, by processor time",
                alone.at_best,
                least=LEAST_FASTER,
            )
            if quiet:
                held &= said(
                    f"{clock:.2f} times faster in two processes, by the clock", clock, least=LEAST_FASTER
                )
            else:
                print(
                    f"  {clock:.2f} times faster by the clock, which says little here: the machine does other things"
                )
            times = alone.processor / small.processor
            held &= said(
                f"{times:.1f} times the processor time for {TEN} times the sites", times, most=MOST_OF_TEN
            )
            growth = alone.peak / small.peak
            each = (alone.peak - small.peak) * 1000 / (sites - sites // TEN)
            if what == "check":
                held &= said(
                    f"{growth:.2f} times the memory for {TEN} times the sites", growth, most=MOST_GROWTH
                )
            else:
                print(f"  {each:.0f} kB of memory for each further site")
    return 0 if held else 1


def said(what: str, ratio: float, *, least: float = 0.0, most: float = float("inf")) -> bool:
    """Print a ratio, what was asked, and whether it holds."""
    asked = f"at least {least}" if least else f"at most {most}"
    holds = least <= ratio <= most
    print(f"  {what}; asked: {asked}: {'holds' if holds else 'DOES NOT HOLD'}", flush=True)
    return least / NOISE <= ratio <= most * NOISE


if __name__ == "__main__":
    if sys.argv[1:2] == ["--run"]:
        one_run(sys.argv[2], Path(sys.argv[3]), int(sys.argv[4]), Path(sys.argv[5]))
    else:
        raise SystemExit(main(int(sys.argv[1]) if len(sys.argv) > 1 else SITES))

"""Thousands of damaged workbooks and a handful of malicious ones: each ends in a result or one sentence."""

from __future__ import annotations

import multiprocessing
import tempfile
from pathlib import Path
from random import Random

import pytest

from tests.fuzz.hostile_files import HOSTILE
from tests.fuzz.mutations import mutate
from tests.fuzz.running import checked, in_a_process, verdict

ROOT = Path(__file__).resolve().parents[2]
SEEDS = sorted((ROOT / "tests" / "data" / "saved_surveys").iterdir())
MUTANTS = 3_050


def test_there_are_seeds_saved_by_several_programs():
    assert len(SEEDS) >= 4
    assert {path.suffix for path in SEEDS} == {".xlsx", ".ods"}


@pytest.mark.parametrize("seed", SEEDS, ids=lambda path: path.name)
def test_an_undamaged_seed_is_read(seed):
    outcome = checked(seed)
    assert verdict(outcome) is None
    assert outcome.status in (0, 1)


def _try_mutants(job: tuple[Path, int, int]) -> list[str]:
    """Check mutants first..last of one seed; return what went wrong, with the number that makes it again."""
    seed, first, last = job
    original = seed.read_bytes()
    wrong = []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"survey{seed.suffix}"
        for number in range(first, last):
            path.write_bytes(mutate(original, Random(number)))
            says = verdict(checked(path))
            if says:
                wrong.append(f"{seed.name}, mutant {number}: {says}")
    return wrong


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_every_mutant_ends_in_a_result_or_one_sentence():
    each = MUTANTS // len(SEEDS) + 1
    jobs = [(seed, first, min(first + 100, each)) for seed in SEEDS for first in range(0, each, 100)]
    with multiprocessing.get_context("spawn").Pool(2) as pool:
        wrong = [line for lines in pool.imap_unordered(_try_mutants, jobs) for line in lines]
    assert sum(last - first for _, first, last in jobs) >= 3_000
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", HOSTILE)
def test_a_malicious_workbook_ends_in_a_result_or_one_sentence(name, tmp_path):
    assert verdict(in_a_process(HOSTILE[name](tmp_path))) is None

"""Thousands of damaged workbooks and a handful of malicious ones: each ends in a result or one sentence."""

from __future__ import annotations

import multiprocessing
from pathlib import Path

import pytest

from tests.fuzz.hostile_files import HOSTILE
from tests.fuzz.mutations import MUTATIONS, way_of
from tests.fuzz.running import in_a_process, verdict, wrong_mutants
from tests.sampling import drawn, in_groups_of

ROOT = Path(__file__).resolve().parents[2]
SEEDS = sorted((ROOT / "tests" / "data" / "saved_surveys").iterdir())
MUTANTS = 3_050
EACH = MUTANTS // len(SEEDS) + 1
AT_ONCE = 80

# A sample holds a mutant by each way.
ALL = [(seed, number) for seed in SEEDS for number in range(EACH)]
CHOSEN = drawn("mutants", ALL, lambda case: way_of(case[1]))
JOBS = [
    (seed, numbers[first : first + AT_ONCE])
    for seed in SEEDS
    for numbers in [[number for of, number in CHOSEN if of == seed]]
    for first in range(0, len(numbers), AT_ONCE)
]


def test_there_are_seeds_saved_by_several_programs():
    assert len(SEEDS) >= 4
    assert {path.suffix for path in SEEDS} == {".xlsx", ".ods"}


@pytest.mark.parametrize("seed", SEEDS, ids=lambda path: path.name)
def test_an_undamaged_seed_is_read(seed):
    outcome = in_a_process(seed)
    assert verdict(outcome) is None
    assert outcome.status in (0, 1)


def test_every_way_of_damage_is_done_and_in_the_whole_to_every_seed():
    assert len(ALL) >= 3_000
    assert {(seed, way_of(number)) for seed, number in ALL} == {
        (seed, way) for seed in SEEDS for way in MUTATIONS
    }
    assert {way_of(number) for _, numbers in JOBS for number in numbers} == set(MUTATIONS)


@pytest.mark.slow
@pytest.mark.sampled
@pytest.mark.timeout(900)
@pytest.mark.parametrize("job", JOBS, ids=lambda job: f"{job[0].name}-{job[1][0]}-to-{job[1][-1]}")
def test_every_mutant_ends_in_a_result_or_one_sentence(job):
    # A process of its own: its peak of memory is that of the mutants alone.
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        wrong = pool.apply(wrong_mutants, (job,))
    assert not wrong, "\n".join(wrong)


@pytest.mark.sampled
@pytest.mark.parametrize("name", drawn("malicious workbooks", HOSTILE, in_groups_of(6, HOSTILE)))
def test_a_malicious_workbook_ends_in_a_result_or_one_sentence(name, tmp_path):
    assert verdict(in_a_process(HOSTILE[name](tmp_path))) is None

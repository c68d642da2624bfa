"""How much of the long runs is done: a sample drawn with a seed, or the whole.

    @sampled_property(max_examples=300)     hypothesis settings: a tenth of the examples, 20 at least
    drawn(what, cases, kind)                the cases to run: one of each kind
    in_groups_of(size, cases)               a kind where all are alike: one of so many neighbours
    so_many(what, some, all_of)             how large a case is made: so many, or all of it
    whole()                                 everything was asked for: `--whole` or WORKBOOK_TOOLS_WHOLE=1
    seed()                                  what is drawn: `--sample-seed N` or WORKBOOK_TOOLS_SAMPLE_SEED=N
    summary(counts)                         the line at the end of a run that says what was left out

The same seed draws the same cases and the same examples; what a sample leaves out is never left
out in silence. Tests that are sampled carry the mark `sampled`, so that
`pytest --whole -m sampled` runs the whole of them and nothing else.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Hashable, Iterable, Mapping
from random import Random
from typing import Any, TypeVar

import pytest
from hypothesis import settings

__all__ = [
    "COUNTS",
    "SEED",
    "WHOLE",
    "drawn",
    "in_groups_of",
    "sampled_property",
    "seed",
    "so_many",
    "summary",
    "whole",
]

WHOLE, SEED = "WORKBOOK_TOOLS_WHOLE", "WORKBOOK_TOOLS_SAMPLE_SEED"
COUNTS: dict[str, tuple[int, int]] = {}
"""What the modules that were collected draw: how many, of how many."""

Case = TypeVar("Case")
Test = TypeVar("Test", bound=Callable[..., Any])


def whole() -> bool:
    return os.environ.get(WHOLE, "") not in ("", "0")


def seed() -> int:
    return int(os.environ.get(SEED) or 1)


def drawn(what: str, cases: Iterable[Case], kind: Callable[[Case], Hashable]) -> list[Case]:
    """Return all cases, or in a sample one of every kind, in the order that they have."""
    everything = list(cases)
    chosen = set(range(len(everything)))
    if not whole():
        dice = Random(f"{what} {seed()}")
        kinds: dict[Hashable, list[int]] = {}
        for place, case in enumerate(everything):
            kinds.setdefault(kind(case), []).append(place)
        chosen = {place for places in kinds.values() for place in dice.sample(places, 1)}
    _count(what, len(chosen), len(everything))
    return [case for place, case in enumerate(everything) if place in chosen]


def in_groups_of(size: int, cases: Iterable[Case]) -> Callable[[Case], int]:
    """Return a kind for cases that are all alike: so many neighbours are of one kind."""
    groups = {case: place // size for place, case in enumerate(cases)}
    return groups.__getitem__


def so_many(what: str, some: int, all_of: int) -> int:
    """Return how many of something a case holds: `some` in a sample."""
    number = all_of if whole() else some
    _count(what, number, all_of)
    return number


def sampled_property(*, max_examples: int, fewest: int = 20, **more: Any) -> Callable[[Test], Test]:
    """Give a property its hypothesis settings and the mark: all examples, or a tenth but `fewest` at least."""
    some = max_examples if whole() else min(max_examples, max(fewest, max_examples // 10))
    _count("property examples", some, max_examples)

    def decorated(test: Test) -> Test:
        return pytest.mark.sampled(settings(max_examples=some, deadline=None, **more)(test))

    return decorated


def summary(counts: Mapping[str, tuple[int, int]]) -> str:
    """Say in one line what was sampled; empty where nothing was left out."""
    left_out = [f"{some:,} of {all_of:,} {what}" for what, (some, all_of) in counts.items() if some < all_of]
    if not left_out:
        return ""
    return f"SAMPLED with seed {seed()}: {', '.join(left_out)}. All of it: pytest --whole, or {WHOLE}=1"


def _count(what: str, some: int, all_of: int) -> None:
    before = COUNTS.get(what, (0, 0))
    COUNTS[what] = before[0] + some, before[1] + all_of

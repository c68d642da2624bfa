"""Several reviews of one survey as one, where they agree.

    combined(reviews)    one Review, and a sentence for each thing on which they disagree

Where one reviewer answered and another did not, the answer counts; two different answers to one
problem are a disagreement, which people settle. Not here: whether each is signed (delivery).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from workbook_tools.review.model import Entry, Review, identity, state
from workbook_tools.rules.problems import Problem

__all__ = ["combined"]


def combined(reviews: Sequence[Review]) -> tuple[Review, list[str]]:
    """Return the reviews as one, and what keeps them from being one.

    Parameters
    ----------
    reviews : sequence of Review
        At least one, all of the same survey.
    """
    first, *others = reviews
    if not others:
        return first, []
    said: list[str] = []
    entries: dict[object, Entry] = {}
    for review in reviews:
        met: dict[object, int] = {}
        for entry in review.entries:
            alike = identity(entry.problem), state(entry.problem), entry.problem.sheet, entry.problem.cell
            met[alike] = met.get(alike, 0) + 1
            key = alike, met[alike]
            before = entries.get(key)
            if before is not None and any(before.answer) and any(entry.answer):
                if before.answer != entry.answer:
                    said.append(
                        f"{before.place} and {entry.place} of {review.name} answer {_about(entry.problem)} "
                        f"differently ({_words(before)}; {_words(entry)}): settle it in both."
                    )
                continue
            if before is None or any(entry.answer):
                entries[key] = replace(entry, place=f"{entry.place} of {review.name}")
    own = {
        replace(issue, place=""): replace(issue, place=f"{review.name}, {issue.place}")
        for review in reviews
        for issue in review.own
    }
    whole = replace(
        first, entries=list(entries.values()), own=list(own.values()),
        said=list(dict.fromkeys(line for review in reviews for line in review.said)), _alike=None,
    )  # fmt: skip
    return whole, said


def _about(problem: Problem) -> str:
    return f"{problem.place} ({problem.subject}, {problem.rule})" if problem.subject else problem.place


def _words(entry: Entry) -> str:
    return ", ".join(filter(None, entry.answer))

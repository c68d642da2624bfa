"""What a new check keeps of the review before: the answers that still hold, and what is closed by now.

    carried_over(problems, earlier, today)    the entries of the new review, and the closed ones
    NEW                                       how a problem is marked that was not there the last time

Not here: the signature (writing), how a problem is known again (model).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Iterable
from dataclasses import replace

from workbook_tools.review.model import Closed, Entry, Review, identity, state
from workbook_tools.rules.problems import Problem

__all__ = ["NEW", "carried_over"]

NEW = "New"


def carried_over(
    problems: list[Problem], earlier: Review | None, today: str
) -> tuple[list[Entry], list[Closed]]:
    """Return the entries of a new review, and what is closed by now.

    Answers go to the problems that still stand as they were; one that reads differently is open
    again, and its remark says what it was. So is one of several that are alike and were answered
    differently, where their rows have moved: which answer was whose is not known. What was not there
    the last time is marked as new, and stays so for the day. What no longer stands is closed today.
    """
    before = list(earlier.entries) if earlier is not None else []
    closed_before = list(earlier.closed) if earlier is not None else []
    found: dict[int, Entry] = {}
    left = dict(enumerate(before))
    mixed = _mixed_up(before, problems)
    # First what stands unchanged at its own cell, then elsewhere, then what reads differently.
    for key in (_own_cell, _unchanged, identity):
        waiting: dict[Hashable, deque[int]] = {}
        for number, entry in left.items():
            waiting.setdefault(key(entry.problem), deque()).append(number)
        for place, problem in enumerate(problems):
            alike = waiting.get(key(problem)) if place not in found else None
            if alike:
                entry = left.pop(alike.popleft())
                found[place] = _again(entry, problem, today, mixed_up=_unchanged(entry.problem) in mixed)
    known = {identity(closed.entry.problem): closed for closed in closed_before}
    entries = [
        found.get(place)
        or _first_time(problem, known.get(identity(problem)), today, again=earlier is not None)
        for place, problem in enumerate(problems)
    ]
    return entries, [*closed_before, *(Closed(entry, today) for entry in left.values())]


def _unchanged(problem: Problem) -> Hashable:
    return identity(problem), state(problem)


def _own_cell(problem: Problem) -> Hashable:
    return identity(problem), state(problem), problem.sheet, problem.cell


def _mixed_up(before: Iterable[Entry], problems: Iterable[Problem]) -> set[Hashable]:
    """Return what is alike of problems that were answered differently and no longer stand at the same cells."""
    answers: dict[Hashable, set[tuple[str, ...]]] = {}
    stood: dict[Hashable, set[tuple[str, str]]] = {}
    stand: dict[Hashable, set[tuple[str, str]]] = {}
    for entry in before:
        alike = _unchanged(entry.problem)
        answers.setdefault(alike, set()).add(entry.answer)
        stood.setdefault(alike, set()).add((entry.problem.sheet, entry.problem.cell))
    for problem in problems:
        stand.setdefault(_unchanged(problem), set()).add((problem.sheet, problem.cell))
    return {
        alike
        for alike, given in answers.items()
        if len(given) > 1 and stood[alike] != stand.get(alike, stood[alike])
    }


def _again(before: Entry, problem: Problem, today: str, *, mixed_up: bool) -> Entry:
    if state(before.problem) == state(problem) and not mixed_up:
        seen = before.remark == NEW and before.first_seen != today
        return replace(before, problem=problem, remark="" if seen else before.remark)
    was = f"was: {before.problem.read.strip() or before.problem.message}"
    if before.disposition:
        was += f", answered {before.disposition}" + (f" ({before.reason})" if before.reason else "")
    was += f", your priority {before.priority}" if before.priority else ""
    was += f", your words: {before.words}" if before.words else ""
    return Entry(problem, first_seen=before.first_seen, remark=was, own=before.own)


def _first_time(problem: Problem, closed: Closed | None, today: str, *, again: bool) -> Entry:
    if closed is None:
        return Entry(problem, first_seen=today, remark=NEW if again else "")
    return Entry(
        problem,
        first_seen=closed.entry.first_seen or today,
        remark=f"was closed on {closed.closed_on} and is back",
        own=closed.entry.own,
    )

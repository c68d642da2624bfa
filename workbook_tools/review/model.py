"""What a review holds: each problem with its answer, what was closed, and the sign-off.

    DISPOSITIONS            the answers a reviewer can give
    Entry                   one problem of the review, with its answer
    Closed                  one that no longer stands, with the day it went
    SignOff                 who answers for it, when, and for which state of the survey
    Review                  all of it; answer_to(problem) finds the answer to a problem
    template_as_said(template)   a template by its name, one of a firm's own with its file
    identity, state         how a problem is known again, and what its answer holds for
    disposition_of(text)    the answer that a text spells, or None

A problem is known again by its rule, subject and field, wherever its row has moved to. Its
answer holds as long as what was read, and the figures in the message, are the same.
"""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from pathlib import Path

from workbook_tools.definitions import Template, plain, spelling
from workbook_tools.definitions.stock import stock_path
from workbook_tools.review.kept import Stray
from workbook_tools.rules.problems import Problem

__all__ = ["DISPOSITIONS", "Closed", "Entry", "Review", "SignOff", "disposition_of", "identity", "state",
           "template_as_said"]  # fmt: skip

DISPOSITIONS = ("Mended", "Include", "Leave out", "Confirmed")
"""Mended: the survey was corrected. Include: it goes to the client. Leave out: it does not, for the
reason given. Confirmed: what was recorded is right."""

_SPELLED = {
    "Mended": "mended mend fixed fix corrected done repaired",
    "Include": "include included inc report reported keep yes",
    "Leave out": "leaveout leftout leave omit omitted exclude excluded drop no",
    "Confirmed": "confirmed confirm ok okay right asrecorded stands checked",
}
_BY_SPELLING = {word: name for name, words in _SPELLED.items() for word in words.split()}
# A place in another sheet moves with its row: Equipment!A8, 'Panel list'!B12.
_PLACE = re.compile(r"(?:'[^']+'|\w+)!\$?[A-Z]{1,3}\$?[0-9]+")


def disposition_of(text: str) -> str | None:
    """Return the answer that a text spells; "" for a blank, None for a text that spells none.

    Examples
    --------
    >>> disposition_of(" leave-out"), disposition_of("OK"), disposition_of(""), disposition_of("later")
    ('Leave out', 'Confirmed', '', None)
    """
    return _BY_SPELLING.get(spelling(text)) if text.strip() else ""


def identity(problem: Problem) -> tuple[str, str, str]:
    """Return how a problem is known again: its rule, subject and field."""
    return problem.rule, plain(problem.subject), spelling(problem.field)


def state(problem: Problem) -> tuple[str, ...]:
    """Return what an answer holds for: the text read, and the figures of the message."""
    figures = re.findall(r"[0-9]+(?:\.[0-9]+)?", _PLACE.sub("", problem.message))
    return ("".join(problem.read.split()).casefold(), *figures)


def template_as_said(template: Template) -> str:
    """Return how a template is named in a review: its name, and its file where it is a firm's own.

    Examples
    --------
    >>> from workbook_tools.definitions import load_template
    >>> template_as_said(load_template("school"))
    'school'
    """
    file = Path(template.path)
    own = bool(template.path) and stock_path(template.name) != file
    return f"{template.name} ({file.name})" if own else template.name


@dataclass(frozen=True, slots=True)
class Entry:
    """One problem of the review. A disposition that is none of DISPOSITIONS is kept as typed.

    `own` has what the reviewer wrote in columns of their own: (heading, text).
    """

    problem: Problem
    disposition: str = ""
    reason: str = ""
    first_seen: str = ""
    remark: str = ""
    own: tuple[tuple[str, str], ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether it waits for an answer: to correct or to confirm, and nothing chosen."""
        return self.problem.class_ in ("correct", "confirm") and self.disposition not in DISPOSITIONS


@dataclass(frozen=True, slots=True)
class Closed:
    """An entry that no longer stands, and the day on which that was first seen."""

    entry: Entry
    closed_on: str


@dataclass(frozen=True, slots=True)
class SignOff:
    """Who answers for the review, when, and the fingerprint of the survey that was reviewed."""

    reviewer: str = ""
    date: str = ""
    statement: str = ""
    fingerprint: str = ""

    @property
    def is_signed(self) -> bool:
        """Whether a name and a date stand there."""
        return bool(self.reviewer.strip() and self.date.strip())


@dataclass
class Review:
    """A review: its entries in the order of the sheet, what was closed, the sign-off.

    `template` is the template that the survey was read with, as `template_as_said` names it; ""
    where the workbook does not say. `strays` are texts that belong to no entry. `said` are sentences about what could not be understood in it.
    """

    path: Path | None = None
    entries: list[Entry] = field(default_factory=list)
    closed: list[Closed] = field(default_factory=list)
    sign_off: SignOff = field(default_factory=SignOff)
    template: str = ""
    strays: list[Stray] = field(default_factory=list)
    said: list[str] = field(default_factory=list)

    def answer_to(self, problem: Problem) -> Entry | None:
        """Return the entry whose answer holds for a problem; None where there is none.

        Of several entries that are alike the one at the same cell counts.
        """
        if self._alike is None:
            self._alike = {}
            for entry in self.entries:
                self._alike.setdefault((identity(entry.problem), state(entry.problem)), []).append(entry)
        alike = self._alike.get((identity(problem), state(problem)), [])
        at_cell = [e for e in alike if (e.problem.sheet, e.problem.cell) == (problem.sheet, problem.cell)]
        return next(iter(at_cell or alike), None)

    _alike: dict[Hashable, list[Entry]] | None = field(default=None, repr=False, compare=False)


def carried_over(
    problems: list[Problem], earlier: Review | None, today: str
) -> tuple[list[Entry], list[Closed]]:
    """Return the entries of a new review, and what is closed by now.

    Answers go to the problems that still stand as they were; one that reads differently is open
    again, and its remark says what it was. What no longer stands is closed today.
    """
    before = list(earlier.entries) if earlier is not None else []
    closed_before = list(earlier.closed) if earlier is not None else []
    found: dict[int, Entry] = {}
    left = dict(enumerate(before))
    # First what stands unchanged at its own cell, then elsewhere, then what reads differently.
    for key in (_own_cell, _unchanged, identity):
        waiting: dict[Hashable, deque[int]] = {}
        for number, entry in left.items():
            waiting.setdefault(key(entry.problem), deque()).append(number)
        for place, problem in enumerate(problems):
            alike = waiting.get(key(problem)) if place not in found else None
            if alike:
                found[place] = _again(left.pop(alike.popleft()), problem)
    known = {identity(closed.entry.problem): closed for closed in closed_before}
    entries = [
        found.get(place) or _first_time(problem, known.get(identity(problem)), today)
        for place, problem in enumerate(problems)
    ]
    return entries, [*closed_before, *(Closed(entry, today) for entry in left.values())]


def _unchanged(problem: Problem) -> Hashable:
    return identity(problem), state(problem)


def _own_cell(problem: Problem) -> Hashable:
    return identity(problem), state(problem), problem.sheet, problem.cell


def _again(before: Entry, problem: Problem) -> Entry:
    if state(before.problem) == state(problem):
        return replace(before, problem=problem)
    was = f"was: {before.problem.read.strip() or before.problem.message}"
    if before.disposition:
        was += f", answered {before.disposition}" + (f" ({before.reason})" if before.reason else "")
    return Entry(problem, first_seen=before.first_seen, remark=was, own=before.own)


def _first_time(problem: Problem, closed: Closed | None, today: str) -> Entry:
    if closed is None:
        return Entry(problem, first_seen=today)
    return Entry(
        problem,
        first_seen=closed.entry.first_seen or today,
        remark=f"was closed on {closed.closed_on} and is back",
        own=closed.entry.own,
    )

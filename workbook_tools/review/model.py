"""What a review holds: each problem with its answer, the reviewer's own issues, what was closed, the sign-off.

    Entry                   one problem or finding of the review, with its answer
    OwnIssue                what the reviewer adds
    Closed                  one that no longer stands, with the day it went
    SignOff                 who answers for it, and when
    Review                  all of it; answer_to(problem) finds the answer to a problem
    template_as_said(template)   a template by its name, one of a firm's own with its file
    identity, state         how a problem is known again, and what its answer holds for

A problem is known again by its rule, subject and field, wherever its row has moved to. Its
answer holds as long as what was read, and the figures in the message, are the same.

Not here: the answers (answers), what the signature covers (seal), re-checks (carrying).
"""

from __future__ import annotations

import re
from collections.abc import Hashable
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from workbook_tools.definitions import Template, plain, spelling
from workbook_tools.definitions.stock import stock_path
from workbook_tools.review.answers import DISPOSITIONS
from workbook_tools.review.kept import Stray
from workbook_tools.review.seal import Seal
from workbook_tools.review.which_survey import WhichSurvey
from workbook_tools.rules.problems import Problem

__all__ = ["Closed", "Entry", "OwnIssue", "Review", "SignOff", "identity", "state", "template_as_said"]

# A place in another sheet moves with its row: Equipment!A8, 'Panel list'!B12.
_PLACE = re.compile(r"(?:'[^']+'|\w+)!\$?[A-Z]{1,3}\$?[0-9]+")


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
    """One problem or finding of the review. A disposition that is none of DISPOSITIONS is kept as typed.

    `priority` and `words` are the reviewer's, where they differ from what was found; `second` is
    who agrees that it stays out. `own` has what the reviewer wrote in columns of their own:
    (heading, text). `place` is where the answer stands in the review: "Problems!C12".
    """

    problem: Problem
    disposition: str = ""
    reason: str = ""
    first_seen: str = ""
    remark: str = ""
    own: tuple[tuple[str, str], ...] = ()
    second: str = ""
    priority: str = ""
    words: str = ""
    place: str = ""

    @property
    def is_open(self) -> bool:
        """Whether it waits for an answer: to correct or to confirm, and nothing chosen."""
        return self.problem.class_ in ("correct", "confirm") and self.disposition not in DISPOSITIONS

    @property
    def answer(self) -> tuple[str, ...]:
        """Everything that the reviewer said about it; all blank where nothing was said."""
        return self.disposition, self.reason, self.second, self.priority, self.words


@dataclass(frozen=True, slots=True)
class OwnIssue:
    """An issue that the reviewer adds; `place` is its row in the review."""

    subject: str
    message: str
    action: str = ""
    priority: str = ""
    place: str = ""


@dataclass(frozen=True, slots=True)
class Closed:
    """An entry that no longer stands, and the day on which that was first seen."""

    entry: Entry
    closed_on: str


@dataclass(frozen=True, slots=True)
class SignOff:
    """Who answers for the review, when, and under which statement."""

    reviewer: str = ""
    date: str = ""
    statement: str = ""

    @property
    def is_signed(self) -> bool:
        """Whether a name and a date stand there."""
        return bool(self.reviewer.strip() and self.date.strip())


@dataclass
class Review:
    """A review: its entries in the order of the sheet, own issues, what was closed, the sign-off and its seal.

    `which` says which survey it is of, `made` when its seal was made, `template` the template that
    the survey was read with, as `template_as_said` names it; "" where the workbook does not say.
    `saved` is the day on which the file was last saved, None where it does not say.
    `strays` are texts that belong to no entry. `said` are sentences about what could not be
    understood in it, `lapsed` those about a signature that a new check took off.
    """

    path: Path | None = None
    entries: list[Entry] = field(default_factory=list)
    own: list[OwnIssue] = field(default_factory=list)
    closed: list[Closed] = field(default_factory=list)
    sign_off: SignOff = field(default_factory=SignOff)
    seal: Seal = field(default_factory=Seal)
    which: WhichSurvey = field(default_factory=WhichSurvey)
    made: str = ""
    saved: date | None = None
    template: str = ""
    strays: list[Stray] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    lapsed: list[str] = field(default_factory=list)

    @property
    def name(self) -> str:
        """The name of its file, or words where it has none."""
        return self.path.name if self.path is not None else "the review workbook"

    def answers_to(self, problem: Problem) -> list[Entry]:
        """Return the entries that can answer a problem; those at its own cell, where there are any."""
        if self._alike is None:
            self._alike = {}
            for entry in self.entries:
                self._alike.setdefault((identity(entry.problem), state(entry.problem)), []).append(entry)
        alike = self._alike.get((identity(problem), state(problem)), [])
        at_cell = [e for e in alike if (e.problem.sheet, e.problem.cell) == (problem.sheet, problem.cell)]
        return at_cell or alike

    def answer_to(self, problem: Problem) -> Entry | None:
        """Return the entry whose answer holds for a problem; None where there is none."""
        return next(iter(self.answers_to(problem)), None)

    _alike: dict[Hashable, list[Entry]] | None = field(default=None, repr=False, compare=False)

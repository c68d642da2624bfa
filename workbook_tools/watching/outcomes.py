"""What is known of a file in a watched folder, small enough to keep.

Outcome                what the check of a survey came to, or why it cannot be read
outcome_of(one, ...)   the same from what a check of one among many gives
line_of_outcome(...)   its line on a terminal
SomethingElse          a workbook that is whole and no survey
review_beside(survey)  where its review lies
open_elsewhere(path)   the lock file of a program that has a workbook open
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from workbook_tools.sites import NotRead, SiteChecked
from workbook_tools.sites.tally import not_read_line, site_line

__all__ = ["Outcome", "SomethingElse", "line_of_outcome", "open_elsewhere", "outcome_of", "review_beside"]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What is known of one survey.

    `called` is its property. `not_read` is the sentence of a file that cannot be read, `no_review` the one that says why its review was not
    written; `said` are sentences about how it was read and what became of a signature.
    """

    called: str = ""
    counts: str = ""
    state: str = ""
    needs_attention: bool = False
    not_read: str = ""
    no_review: str = ""
    said: tuple[str, ...] = ()

    @property
    def status(self) -> int:
        """Return the exit status of this one alone."""
        return 2 if self.not_read or self.no_review else 1 if self.needs_attention else 0


@dataclass(frozen=True, slots=True)
class SomethingElse:
    """A workbook that is whole and no survey."""

    path: Path
    what: str


def outcome_of(one: SiteChecked | NotRead, no_review: str = "", said: tuple[str, ...] = ()) -> Outcome:
    """Return what is kept of a check; `no_review` says why its review was not written."""
    if isinstance(one, NotRead):
        return Outcome(not_read=one.sentence)
    return Outcome(one.property, one.counts, one.state, one.needs_attention, "", no_review, said)


def line_of_outcome(path: Path, one: Outcome) -> str:
    """Return the line of a survey on a terminal, as a check of many prints it."""
    if one.not_read:
        return not_read_line(path, one.not_read)
    line = site_line(path, one.called, one.counts, one.state)
    return f"{line}. NO NEW REVIEW. {one.no_review}" if one.no_review else line


def review_beside(survey: Path) -> Path:
    """Return where the review of a survey lies: beside it, and another for each ending.

    Examples
    --------
    >>> review_beside(Path("jobs/Harbour House.xlsx")).name, review_beside(Path("Harbour House.ods")).name
    ('Harbour House - review.xlsx', 'Harbour House.ods - review.xlsx')
    """
    called = survey.stem if survey.suffix.casefold() == ".xlsx" else survey.name
    return survey.with_name(f"{called} - review.xlsx")


def open_elsewhere(path: Path) -> Path | None:
    """Return the lock file that a spreadsheet program puts beside a workbook while it is open; None without one."""
    locks = path.with_name(f".~lock.{path.name}#"), path.with_name(f"~${path.name}")
    return next((lock for lock in locks if lock.exists()), None)

"""What many surveys come to, as far as a terminal shows it: little is kept, however many there are.

Tally             .add(one) for each survey, then .lines()
line_of(one)      the one line of a survey, or of a file that cannot be read
site_line(...), not_read_line(...)   the same from what is kept of it
one_as_json(one)  its object in the list that --json prints
"""

from __future__ import annotations

import heapq
import json
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from workbook_tools.checking.report import CLASS_WORDS, problem_lines
from workbook_tools.rules.problems import CLASSES
from workbook_tools.sites.checked import SiteChecked
from workbook_tools.sites.in_words import how_many
from workbook_tools.sites.reading import NotRead

__all__ = ["Tally", "line_of", "not_read_line", "one_as_json", "site_line"]

_MOST_SITES = 20
"""Sites whose problems the terminal shows; --json has those of all."""

_MOST_NOTED = 5


def line_of(one: SiteChecked | NotRead) -> str:
    """Return the one line of a survey."""
    if isinstance(one, NotRead):
        return not_read_line(one.path, one.sentence)
    return site_line(one.path, one.property, one.counts, one.state)


def site_line(path: Path, called: str, counts: str, state: str) -> str:
    """Return the line of a survey that was read."""
    return f"{called or '(no property)'}  {path}  {counts}  {state}"


def not_read_line(path: Path, sentence: str) -> str:
    """Return the line of a file that cannot be read."""
    return f"{path}: NOT READ. {sentence}"


def one_as_json(one: SiteChecked | NotRead) -> str:
    """Return the object of a survey in the list of --json: as of one file, with its name; or the name and why not."""
    if isinstance(one, SiteChecked):
        return one.json
    return json.dumps({"file": str(one.path), "error": one.sentence}, ensure_ascii=False, indent=1)


@dataclass
class Tally:
    """What is remembered of many surveys: counts, and the most urgent of them."""

    surveys: int = 0
    not_read: int = 0
    to_attend: int = 0
    by_class: Counter[str] = field(default_factory=Counter)
    noted: Counter[str] = field(default_factory=Counter)
    _urgent: list[SiteChecked] = field(default_factory=list)

    def add(self, one: SiteChecked | NotRead) -> None:
        """Count one more."""
        if isinstance(one, NotRead):
            self.not_read += 1
            return
        self.surveys += 1
        self.to_attend += one.needs_attention
        self.by_class.update(dict(zip(CLASSES, one.by_class, strict=True)))
        self.noted.update(set(one.notes))
        if one.shown:
            self._urgent = heapq.nsmallest(_MOST_SITES, [*self._urgent, one], key=_urgency)

    @property
    def status(self) -> int:
        """The exit status: the worst of all."""
        return 2 if self.not_read else 1 if self.to_attend else 0

    def lines(self, passed_over: str, emphasise: Callable[[str], str] = str) -> list[str]:
        """Return what stands below the lines of the surveys."""
        lines = []
        for site in sorted(self._urgent, key=_urgency):
            lines += ["", emphasise(f"{site.property or '(no property)'}  {site.path}")]
            for problem in site.shown:
                lines += [f"  {line}" for line in problem_lines(problem, emphasise)]
            if site.more:
                lines.append(f"  ... and {site.more:,} more: workbook-tools check {site.path}")
        with_problems = sum(self.by_class[name] for name in CLASSES if name != "note")
        if with_problems:
            lines[:0] = ["", emphasise("The most urgent, by site:")]
        lines += ["", emphasise(self._total())]
        lines += [
            f"{note} ({how_many(often, 'survey')})" for note, often in self.noted.most_common(_MOST_NOTED)
        ]
        return [*lines, *filter(None, [passed_over])]

    def _total(self) -> str:
        counts = ", ".join(f"{self.by_class[name]:,} {CLASS_WORDS[name]}" for name in CLASSES)
        unread = f", {how_many(self.not_read, 'file')} not read" if self.not_read else ""
        return f"{how_many(self.surveys, 'survey')}{unread}: {counts}"


def _urgency(site: SiteChecked) -> tuple[tuple[int, ...], str]:
    return site.urgency, str(site.path)

"""One look at a watched folder: what is new is checked, its review written, and the page of the folder.

    Round(folder, work, ...).look()   a Looked: the exit status so far, and which files are still arriving
    Reviewed                          what the work gives for a survey

A round that finds nothing new writes nothing, so what we write ourselves leads to one more look at most.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import NamedTuple

from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file
from workbook_tools.files.contents import hash_of
from workbook_tools.sites import Candidate, NotRead, Search, each_survey, look_for
from workbook_tools.sites.reading import Work
from workbook_tools.watching.arriving import Mark, mark_of, settled
from workbook_tools.watching.memory import Known, Memory
from workbook_tools.watching.outcomes import Outcome, SomethingElse, open_elsewhere, outcome_of, review_beside
from workbook_tools.watching.page import OURS, PAGE, Line, page

__all__ = ["Looked", "Reviewed", "Round"]

_KEEP_EVERY = 5.0
"""Seconds after which what was found is written down, within a long round."""

_TRY_AGAIN = 300.0
"""Seconds after which a review that could not be written is tried again, where nothing about it has changed."""

_REVIEW = "review workbook"
_OUT_OF_REACH = (
    "It is a link that leads nowhere, or lies where you may not read: see what it is, or delete it."
)


@dataclass(frozen=True, slots=True)
class Reviewed:
    """A survey that was checked, with what is kept of it."""

    path: Path
    outcome: Outcome


class Looked(NamedTuple):
    """What a round came to: the worst exit status, and the files that are still arriving, by name."""

    status: int
    arriving: tuple[str, ...] = ()


class _Due(NamedTuple):
    """A file that is to be checked: what it was when that was decided."""

    mark: Mark
    hash: str


class Round:
    """Looks at a folder again and again, and remembers what it saw.

    Parameters
    ----------
    folder : path
        Looked through with all the folders in it.
    work : function of a module
        Checks one survey in a process of its own, and writes its review.
    template : str or path, optional
        As `each_survey` takes it.
    made_with : str
        Version and template: what was found with others is not known any more.
    each : function
        Told of every survey that was checked.
    warn : function
        Told in a sentence what keeps the page, or what is remembered, from being written; once.
    is_ours : function
        Whether this process still is the one that watches; asked before anything is written.
    workers : int, optional
        How many processes at most.
    """

    def __init__(
        self,
        folder: Path,
        work: Work[Reviewed | SomethingElse],
        *,
        template: str | Path | None,
        made_with: str,
        each: Callable[[Path, Outcome], None],
        warn: Callable[[str], None],
        is_ours: Callable[[], bool],
        workers: int | None = None,
    ) -> None:
        self.folder = folder
        self._work, self._template, self._workers = work, template, workers
        self._each, self._warn, self._is_ours = each, warn, is_ours
        self._memory = Memory.read(folder, made_with)
        self._marks: dict[Path, Mark] = {}
        self._tried: dict[Path, tuple[float, object]] = {}
        self._warned: set[str] = set()
        self._kept = time.monotonic()
        self._done: set[Path] = set()

    def look(self) -> Looked:
        """Look at the folder once."""
        warned, self._warned = self._warned, set[str]()
        if not self.folder.is_dir():
            self._say(
                f"The folder {self.folder} is not there: see that its disk or share is connected.", warned
            )
            return Looked(2)
        search = look_for([self.folder])
        if not search.unlisted:  # what lies in a folder that cannot be listed just now is not forgotten
            here = {self._name(candidate.path) for candidate in search.files}
            self._memory.files = {name: one for name, one in self._memory.files.items() if name in here}
        search.unlisted += [(path, _OUT_OF_REACH) for path, _ in search.files if _is_out_of_reach(path)]
        due = {candidate.path: one for candidate in search.files if (one := self._due(candidate.path))}
        whole = settled({path: one.mark for path, one in due.items()})
        self._done.clear()
        self._check([candidate for candidate in search.files if candidate.path in whole], due)
        arriving = {path for path in due if path not in self._done and mark_of(path)}
        if self._is_ours():
            self._try(lambda: self._memory.keep(self.folder), warned)
            self._try(lambda: self._write_page(search, arriving), warned)
        status = max(
            (known.outcome.status for known in self._memory.files.values() if known.outcome), default=0
        )
        names = tuple(sorted(map(self._name, arriving)))
        return Looked(2 if search.unlisted or self._warned else status, names)

    def _try(self, write: Callable[[], None], said_before: set[str]) -> None:
        try:
            write()
        except Unusable as error:
            self._say(str(error), said_before)

    def _say(self, sentence: str, said_before: set[str]) -> None:
        self._warned.add(sentence)
        if sentence not in said_before:
            self._warn(sentence)

    def _name(self, path: Path) -> str:
        return path.relative_to(self.folder).as_posix()

    def _due(self, path: Path) -> _Due | None:
        """Return what a file is where it is to be checked; None where it is gone, or known with this content."""
        mark = mark_of(path)
        if mark is None:
            return None
        known = self._memory.files.get(self._name(path))
        if known is None or self._marks.get(path) != mark:
            digest = _hash(path)
            known = self._memory.known(self._name(path), digest)
            if known is None:
                return _Due(mark, digest)
            self._marks[path] = mark
        return _Due(mark, known.hash) if self._wants_a_review(path, known) else None

    def _wants_a_review(self, path: Path, known: Known) -> bool:
        if known.outcome is None or known.outcome.not_read:
            return False
        review = review_beside(path)
        if not known.outcome.no_review:
            return not review.exists()
        tried, found = self._tried.get(path, (-_TRY_AGAIN, None))
        return time.monotonic() - tried >= _TRY_AGAIN or found != _about(review)

    def _check(self, candidates: list[Candidate], due: dict[Path, _Due]) -> None:
        found: Iterator[Reviewed | SomethingElse | NotRead] = each_survey(
            Search(files=candidates), self._work, template=self._template, workers=self._workers
        )
        for one in found:
            if not self._is_ours():
                return
            self._remember(one, due[one.path])
            if time.monotonic() - self._kept > _KEEP_EVERY:
                self._keep_meanwhile()

    def _keep_meanwhile(self) -> None:
        self._kept = time.monotonic()
        with suppress(Unusable):  # told at the end of the round, where it still holds
            self._memory.keep(self.folder)

    def _remember(self, one: Reviewed | SomethingElse | NotRead, was: _Due) -> None:
        """Remember what was found, unless the file was written to meanwhile."""
        if mark_of(one.path) != was.mark:
            return
        self._marks[one.path] = was.mark
        self._done.add(one.path)
        name = self._name(one.path)
        if isinstance(one, SomethingElse):
            self._memory.files[name] = Known(was.hash, instead=one.what)
            return
        outcome = outcome_of(one) if isinstance(one, NotRead) else one.outcome
        before = self._memory.files.get(name)
        now = datetime.now().astimezone().isoformat(timespec="seconds")
        self._memory.files[name] = Known(was.hash, now, outcome)
        review = review_beside(one.path)
        if outcome.no_review:
            self._tried[one.path] = time.monotonic(), _about(review)
        elif not outcome.not_read and (mark := mark_of(review)):
            self._marks[review] = mark
            self._done.add(review)
            self._memory.files[self._name(review)] = Known(_hash(review), instead=_REVIEW)
        is_old_news = before is not None and (before.hash, before.outcome) == (was.hash, outcome)
        if not (is_old_news and outcome.no_review):
            self._each(one.path, outcome)

    def _write_page(self, search: Search, arriving: set[Path]) -> None:
        lines = [Line(self._name(path), None) for path in arriving]
        for candidate in search.files:
            name = self._name(candidate.path)
            known = self._memory.files.get(name)
            if known is not None and known.outcome is not None and candidate.path not in arriving:
                review = review_beside(candidate.path)
                there = self._name(review) if review.exists() else ""
                lines.append(Line(name, known.outcome, there, known.checked))
        lines += [Line(self._name(where), Outcome(not_read=why)) for where, why in search.unlisted]
        search.passed += Counter(known.instead for known in self._memory.files.values() if known.instead)
        text = page(lines, search.said).encode("utf-8", "replace")
        path = self.folder / PAGE
        standing = _bytes(path)
        if standing == text:
            return
        if standing is not None and OURS.encode() not in standing:
            raise Unusable(
                f"{path} stands there already and was not written by this command: give it another name."
            )
        with whole_file(path, force=True) as aside:
            aside.write_bytes(text)


def _about(review: Path) -> tuple[Mark | None, bool]:
    """Return what has to change before a review that could not be written is worth another try."""
    return mark_of(review), open_elsewhere(review) is not None


def _is_out_of_reach(path: Path) -> bool:
    """Return whether a file is listed and cannot be looked at."""
    if mark_of(path) is not None:
        return False
    try:
        path.lstat()
    except FileNotFoundError:  # gone since
        return False
    except OSError:
        return True
    return True


def _hash(path: Path) -> str:
    """Return the hash of a file; "" for one that cannot be read, which is known as such until it can."""
    try:
        return hash_of(path)
    except OSError:
        return ""


def _bytes(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None

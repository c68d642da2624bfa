"""Which issue, line of the schedule and photo leads to which: ids by position, and runs that lead there.

    Places(schedule)        knows every id of the document
        .issues, .photo, .photos, .row, ...

Not here: the chapters themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from workbook_tools.definitions import plain
from workbook_tools.schedule.model import ClientSchedule, Condition, PhotoEntry
from workbook_tools.typesetting.model import Run, Words

__all__ = ["BESIDE", "Places", "joined"]

BESIDE = 2
"""Photos that stand beside one issue; the others are named there and stand in the appendix."""


def joined(runs: Iterable[Run]) -> Words:
    """Return the runs with commas between them."""
    said: list[Run] = []
    for run in runs:
        said += [Run(", "), run] if said else [run]
    return tuple(said)


class Places:
    """The ids of a schedule's issues, lines and photos, and what belongs to what."""

    def __init__(self, schedule: ClientSchedule) -> None:
        self.photo_of: dict[int, PhotoEntry] = {photo.number: photo for photo in schedule.photos}
        self._row_of: dict[str, int] = {}
        for at, row in enumerate(schedule.rows):
            self._row_of.setdefault(plain(row.tag), at)
        self._issues_of: dict[int, list[int]] = {}
        self._conditions = schedule.conditions
        for at, condition in enumerate(schedule.conditions):
            for row_at in self.rows_of(condition):
                self._issues_of.setdefault(row_at, []).append(at)
        self.beside: dict[int, int] = {}
        for at, condition in enumerate(schedule.conditions):
            for number in self.shown_beside(condition):
                self.beside.setdefault(number, at)

    def number(self, at: int) -> str:
        """Return the number of an issue, as it is printed everywhere."""
        return str(at + 1)

    def issue(self, at: int, text: str = "") -> Run:
        """Return a run that leads to an issue: its number, or the text."""
        return Run(text or self.number(at), f"issue-{at}")

    def row(self, at: int, text: str) -> Run:
        """Return a run that leads to a line of the schedule."""
        return Run(text, f"row-{at}")

    def rows_of(self, condition: Condition) -> tuple[int, ...]:
        """Return the positions of the lines of the schedule that an issue is about."""
        at = self._row_of.get(plain(condition.subject))
        return () if at is None else (at,)

    def row_named(self, tag: str) -> int | None:
        """Return the position of the line with a tag."""
        return self._row_of.get(plain(tag))

    def issues_of(self, row_at: int) -> Sequence[int]:
        """Return the issues of a line of the schedule."""
        return self._issues_of.get(row_at, ())

    def shown_beside(self, condition: Condition) -> list[int]:
        """Return the numbers of the photos that stand beside an issue."""
        return [number for number in condition.photos if number in self.photo_of][:BESIDE]

    def photo(self, number: int) -> Run:
        """Return a run that leads to a photo."""
        return Run(str(number), f"photo-{number}" if number in self.photo_of else "")

    def photos(self, numbers: Iterable[int]) -> Words:
        """Return photo numbers, each leading to its photo."""
        return joined(self.photo(number) for number in sorted(set(numbers)))

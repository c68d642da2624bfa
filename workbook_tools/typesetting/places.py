"""Which issue, line of the schedule and photo leads to which: ids by position, and runs that lead there.

    Places(schedule)        knows every id of the document
        .issue, .row, .photo                  a run that leads to one
        .beside                               photo number -> position of the issue that it stands at
    joined(runs)            runs with commas between them

Not here: the chapters themselves.
"""

from __future__ import annotations

from collections.abc import Iterable

from workbook_tools.definitions import plain
from workbook_tools.schedule.model import ClientSchedule, Condition, PhotoEntry
from workbook_tools.typesetting.model import Run, Words

__all__ = ["BESIDE", "Places", "joined"]

BESIDE = 2
"""Photos that stand beside one issue; the others are named there and stand in the appendix."""


def joined(runs: Iterable[Run]) -> Words:
    """Return the runs with commas between them.

    Examples
    --------
    >>> "".join(run.text for run in joined([Run("1"), Run("4")]))
    '1, 4'
    """
    said: list[Run] = []
    for run in runs:
        said += [Run(", "), run] if said else [run]
    return tuple(said)


class Places:
    """The ids of a schedule's issues, lines and photos."""

    def __init__(self, schedule: ClientSchedule) -> None:
        self.photo_of: dict[int, PhotoEntry] = {photo.number: photo for photo in schedule.photos}
        self._rows = schedule.rows
        self._issue_at = {condition.id: at for at, condition in enumerate(schedule.conditions)}
        self._row_at: dict[str, int] = {}
        for at, row in enumerate(schedule.rows):
            self._row_at.setdefault(plain(row.tag), at)
        self.beside: dict[int, int] = {}
        for at, condition in enumerate(schedule.conditions):
            for number in self.shown_beside(condition):
                self.beside.setdefault(number, at)

    def issue(self, number: str, text: str = "", mark: str = "", strong: bool = False) -> Run:
        """Return a run that leads to an issue: its number, or the text."""
        at = self._issue_at.get(number)
        return Run(text or number, "" if at is None else f"issue-{at}", strong, mark)

    def row(self, at: int | None, text: str = "", strong: bool = False) -> Run:
        """Return a run that leads to a line of the schedule: its tag, or the text."""
        if at is None:
            return Run(text, strong=strong)
        return Run(text or self._rows[at].tag, f"row-{at}", strong)

    def tagged(self, tag: str) -> Run:
        """Return a run that leads to the line of the schedule with a tag."""
        return self.row(self._row_at.get(plain(tag)), tag, strong=True)

    def shown_beside(self, condition: Condition) -> list[int]:
        """Return the numbers of the photos that stand beside an issue."""
        return [number for number in condition.photos if number in self.photo_of][:BESIDE]

    def photo(self, number: int) -> Run:
        """Return a run that leads to a photo."""
        return Run(str(number), f"photo-{number}" if number in self.photo_of else "")

    def photos(self, numbers: Iterable[int]) -> Words:
        """Return photo numbers, each leading to its photo."""
        return joined(self.photo(number) for number in sorted(set(numbers)))

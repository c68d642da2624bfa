"""Who feeds whom, followed through the whole survey.

    Supply(survey)
        .sources(row)        what Fed from names, in the order typed
        .feeder(row)         the one row that feeds it, or None; .feeders(row) all rows that do
        .fed_by(row)         the rows that name it in Fed from
        .loops               groups of rows that feed themselves, each as the loop a person would walk
        .both_ways           loops that something outside feeds too: ties, batteries, or a mistake
        .feeds_itself(row)   whether a row stands in one that cannot be
        .services            the service disconnects of each service, by the name of its source

All of it is iterative and linear in the rows: a chain of ten thousand is followed as easily
as one of three. A tag that two rows carry leads nowhere, since nobody can say which is meant.

Not here: voltages (assessing), and whether anything of it is wrong (rules).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property

from workbook_tools.assessment.facts import Source
from workbook_tools.definitions import plain
from workbook_tools.survey import Equipment, Survey

__all__ = ["SERVICE_DISCONNECT", "Supply"]

SERVICE_DISCONNECT = "Service disconnect"
GIVES_BACK = ("Battery system", "PV inverter", "EV charging equipment", "Generator")
"""Kinds that can take from a board and feed it (common practice)."""


class Supply:
    """The supply of one survey, as Fed from tells it."""

    def __init__(self, survey: Survey) -> None:
        self.survey = survey
        self._sources: dict[Equipment, tuple[Source, ...]] = {}

    def sources(self, row: Equipment) -> tuple[Source, ...]:
        """Return what Fed from names, in the order typed."""
        named = self._sources.get(row)
        if named is None:
            named = self._sources[row] = tuple(
                Source(name, tuple(self.survey.tagged(name)), self.survey.is_outside_source(name))
                for name in row.fed_from.value or ()
            )
        return named

    @cached_property
    def _fed(self) -> Mapping[Equipment, list[Equipment]]:
        fed: dict[Equipment, list[Equipment]] = {}
        for row in self.survey.equipment:
            for source in self.sources(row):
                for feeder in source.rows[:1]:
                    fed.setdefault(feeder, []).append(row)
        return fed

    def fed_by(self, row: Equipment) -> list[Equipment]:
        """Return the rows of Equipment that name this one in Fed from."""
        return self._fed.get(row, [])

    def feeder(self, row: Equipment) -> Equipment | None:
        """Return the one row that Fed from names; None for none, several, an outside source, or itself."""
        sources = self.sources(row)
        only = sources[0].row if len(sources) == 1 else None
        return None if only is row else only

    def feeders(self, row: Equipment) -> list[Equipment]:
        """Return the rows that Fed from names, one for each name that means one row."""
        return [source.row for source in self.sources(row) if source.row is not None]

    # -- loops

    @cached_property
    def _circles(self) -> list[tuple[list[Equipment], set[Equipment]]]:
        """Each circle of Fed from: the way round it, and all rows that can reach each other on it."""
        circles = []
        for group in self._groups():
            first = min(group, key=lambda row: row.number)
            if len(group) > 1:
                circles.append((self._loop_from(first, set(group)), set(group)))
            elif first in self.feeders(first):
                circles.append(([first], {first}))
        return sorted(circles, key=lambda circle: circle[0][0].number)

    @cached_property
    def loops(self) -> list[list[Equipment]]:
        """The loops of Fed from that nothing feeds from outside, each beginning with its first row in the sheet.

        One loop for each group of rows that can reach each other; a row that names itself is a
        loop of one, whatever else feeds it. The next row of a loop is what feeds the one before it.
        """
        return [way for way, group in self._circles if self._sort_of(group) == "loop"]

    @cached_property
    def both_ways(self) -> list[list[Equipment]]:
        """The circles that have one source outside and nothing among them that gives back: a tie, or a mistake.

        Boards with a source of their own each, joined by a tie, and a battery that charges from
        the board that it feeds are ordinary, and stand nowhere here.
        """
        return [way for way, group in self._circles if self._sort_of(group) == "both ways"]

    def _sort_of(self, group: set[Equipment]) -> str:
        if len(group) == 1 or any(row in self.feeders(row) for row in group):
            return "loop"
        fed = [row for row in group if self._fed_from_outside(row, group)]
        if not fed:
            return "loop"
        gives_back = any(row.stock_kind in GIVES_BACK for row in group)
        return "ordinary" if gives_back or len(fed) > 1 else "both ways"

    def _fed_from_outside(self, row: Equipment, group: set[Equipment]) -> bool:
        return any(
            source.outside or (source.row is not None and source.row not in group)
            for source in self.sources(row)
        )

    @cached_property
    def _in_loops(self) -> frozenset[Equipment]:
        return frozenset(
            row for _way, group in self._circles if self._sort_of(group) == "loop" for row in group
        )

    def feeds_itself(self, row: Equipment) -> bool:
        """Whether a row stands in a loop of Fed from that nothing feeds from outside."""
        return row in self._in_loops

    def _groups(self) -> Iterator[list[Equipment]]:
        """Rows that can reach each other: Tarjan's strongly connected components, without recursion."""
        index: dict[Equipment, int] = {}
        low: dict[Equipment, int] = {}
        waiting: list[Equipment] = []
        on_stack: set[Equipment] = set()
        for start in self.survey.equipment:
            if start in index:
                continue
            index[start] = low[start] = len(index)
            waiting.append(start)
            on_stack.add(start)
            work = [(start, iter(self.feeders(start)))]
            while work:
                row, feeders = work[-1]
                for found in feeders:
                    if found not in index:
                        index[found] = low[found] = len(index)
                        waiting.append(found)
                        on_stack.add(found)
                        work.append((found, iter(self.feeders(found))))
                        break
                    if found in on_stack:
                        low[row] = min(low[row], index[found])
                else:
                    work.pop()
                    if work:
                        above = work[-1][0]
                        low[above] = min(low[above], low[row])
                    if low[row] == index[row]:
                        group = []
                        while True:
                            member = waiting.pop()
                            on_stack.discard(member)
                            group.append(member)
                            if member is row:
                                break
                        yield group

    def _loop_from(self, first: Equipment, group: set[Equipment]) -> list[Equipment]:
        """Return the shortest way from a row back to itself, inside its group."""
        came_from: dict[Equipment, Equipment] = {}
        met = {first}
        front = [first]
        while front:
            ahead: list[Equipment] = []
            for row in front:
                for found in self.feeders(row):
                    if found is first:
                        way = [row]
                        while way[-1] is not first:
                            way.append(came_from[way[-1]])
                        return way[::-1]
                    if found in group and found not in met:
                        met.add(found)
                        came_from[found] = row
                        ahead.append(found)
            front = ahead
        return [first]

    # -- services

    @cached_property
    def services(self) -> Mapping[str, list[Equipment]]:
        """The service disconnects of each service: the first ones behind its source.

        A service is named by its outside source ("Utility", "Utility 2"); PV arrays are none.
        Disconnects whose source cannot be followed stand under "".
        """
        entries: dict[str, list[Equipment]] = {}
        names: dict[str, str] = {}
        for row in self.survey.equipment:
            for source in self.sources(row):
                if source.outside and not plain(source.name).startswith("pv"):
                    key = _service_key(source.name)
                    names.setdefault(key, source.name)
                    entries.setdefault(key, []).append(row)
        found = {names[key]: self._first_disconnects(rows) for key, rows in entries.items()}
        reached = set(self._below(row for rows in found.values() for row in rows))
        astray = [
            row
            for row in self.survey.equipment
            if row.stock_kind == SERVICE_DISCONNECT and row not in reached
        ]
        # Those that hang on one another count once, as they do on a service.
        behind = set(self._below(fed for row in astray for fed in self.fed_by(row)))
        astray = [row for row in astray if row not in behind] or astray[:1]
        return {name: rows for name, rows in (*found.items(), ("", astray)) if rows}

    def _first_disconnects(self, rows: list[Equipment]) -> list[Equipment]:
        found: set[Equipment] = set()
        seen: set[Equipment] = set()
        front = list(rows)
        while front:
            row = front.pop()
            if row in seen:
                continue
            seen.add(row)
            if row.stock_kind == SERVICE_DISCONNECT:
                found.add(row)
            else:
                front.extend(self.fed_by(row))
        return sorted(found, key=lambda row: row.number)

    def _below(self, rows: Iterable[Equipment]) -> list[Equipment]:
        """Return the rows and everything fed from them, however far down."""
        seen: dict[Equipment, None] = {}
        front = list(rows)
        while front:
            row = front.pop()
            if row not in seen:
                seen[row] = None
                front.extend(self.fed_by(row))
        return list(seen)


def _service_key(name: str) -> str:
    key = plain(name)
    # "No number means the only one": Utility and Utility 1 are the same service.
    short = key.removesuffix("1")
    return key if short[-1:].isdigit() else short.rstrip("-")

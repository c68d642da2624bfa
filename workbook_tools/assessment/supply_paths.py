"""Who feeds whom, followed through the whole survey.

    feeder(assessment, source)    the one row that a name in Fed from means, or None
    supply_loops(assessment)      groups of rows that feed themselves, each as the loop a person would walk
    services(assessment)          the service disconnects of each service, by the name of its source

All of it is iterative and linear in the rows: a chain of ten thousand is followed as easily
as one of three. A tag that two rows carry leads nowhere, since nobody can say which is meant.

Not here: voltages (assessment), and whether anything of it is wrong (rules).
"""

from __future__ import annotations

from collections.abc import Iterator
from weakref import WeakKeyDictionary

from workbook_tools.assessment import Assessment, Source
from workbook_tools.definitions import plain
from workbook_tools.survey.model import Row

__all__ = ["feeder", "services", "supply_loops"]

SERVICE_DISCONNECT = "Service disconnect"

_LOOPS: WeakKeyDictionary[Assessment, list[list[Row]]] = WeakKeyDictionary()
_SERVICES: WeakKeyDictionary[Assessment, dict[str, list[Row]]] = WeakKeyDictionary()


def feeder(source: Source) -> Row | None:
    """Return the row that a name in Fed from means; None for an outside source, an unknown or a doubled tag."""
    return source.rows[0] if len(source.rows) == 1 else None


def _feeders(assessment: Assessment, row: Row) -> list[Row]:
    return [found for source in assessment.sources(row) if (found := feeder(source)) is not None]


def supply_loops(assessment: Assessment) -> list[list[Row]]:
    """Return the loops of Fed from, each beginning with its first row in the order of the sheet.

    One loop for each group of rows that can reach each other; a row that feeds itself is a
    loop of one. The next row of a loop is what feeds the one before it.
    """
    if assessment not in _LOOPS:
        _LOOPS[assessment] = _supply_loops(assessment)
    return _LOOPS[assessment]


def _supply_loops(assessment: Assessment) -> list[list[Row]]:
    loops = []
    for group in _groups(assessment):
        first = min(group, key=lambda row: row.number)
        if len(group) > 1:
            loops.append(_loop_from(assessment, first, {id(row) for row in group}))
        elif any(found is first for found in _feeders(assessment, first)):
            loops.append([first])
    return sorted(loops, key=lambda loop: loop[0].number)


def _groups(assessment: Assessment) -> Iterator[list[Row]]:
    """Rows that can reach each other: Tarjan's strongly connected components, without recursion."""
    index: dict[int, int] = {}
    low: dict[int, int] = {}
    waiting: list[Row] = []
    on_stack: set[int] = set()
    for start in assessment.survey.equipment:
        if id(start) in index:
            continue
        index[id(start)] = low[id(start)] = len(index)
        waiting.append(start)
        on_stack.add(id(start))
        work = [(start, iter(_feeders(assessment, start)))]
        while work:
            row, feeders = work[-1]
            for found in feeders:
                if id(found) not in index:
                    index[id(found)] = low[id(found)] = len(index)
                    waiting.append(found)
                    on_stack.add(id(found))
                    work.append((found, iter(_feeders(assessment, found))))
                    break
                if id(found) in on_stack:
                    low[id(row)] = min(low[id(row)], index[id(found)])
            else:
                work.pop()
                if work:
                    above = work[-1][0]
                    low[id(above)] = min(low[id(above)], low[id(row)])
                if low[id(row)] == index[id(row)]:
                    group = []
                    while True:
                        member = waiting.pop()
                        on_stack.discard(id(member))
                        group.append(member)
                        if member is row:
                            break
                    yield group


def _loop_from(assessment: Assessment, first: Row, group: set[int]) -> list[Row]:
    """Return the shortest way from a row back to itself, inside its group."""
    came_from: dict[int, Row] = {}
    row_of = {id(first): first}
    front = [first]
    while front:
        ahead: list[Row] = []
        for row in front:
            for found in _feeders(assessment, row):
                if found is first:
                    way = [row]
                    while way[-1] is not first:
                        way.append(came_from[id(way[-1])])
                    return way[::-1]
                if id(found) in group and id(found) not in row_of:
                    row_of[id(found)] = found
                    came_from[id(found)] = row
                    ahead.append(found)
        front = ahead
    return [first]


def services(assessment: Assessment) -> dict[str, list[Row]]:
    """Return the service disconnects of each service: the first ones behind its source.

    A service is named by its outside source ("Utility", "Utility 2"); PV arrays are none.
    Disconnects whose source cannot be followed stand under "".
    """
    if assessment not in _SERVICES:
        _SERVICES[assessment] = _services(assessment)
    return _SERVICES[assessment]


def _services(assessment: Assessment) -> dict[str, list[Row]]:
    entries: dict[str, list[Row]] = {}
    names: dict[str, str] = {}
    for row in assessment.survey.equipment:
        for source in assessment.sources(row):
            if source.outside and not plain(source.name).startswith("pv"):
                key = _service_key(source.name)
                names.setdefault(key, source.name)
                entries.setdefault(key, []).append(row)
    found = {names[key]: _first_disconnects(assessment, rows) for key, rows in entries.items()}
    counted = [row for rows in found.values() for row in rows]
    reached = {id(row) for row in _below(assessment, counted)}
    astray = [
        row
        for row in assessment.survey.equipment
        if row.kind == SERVICE_DISCONNECT and id(row) not in reached
    ]
    # Those that hang on one another count once, as they do on a service.
    behind = {id(row) for row in _below(assessment, astray, without_start=True)}
    astray = [row for row in astray if id(row) not in behind] or astray[:1]
    return {name: rows for name, rows in (*found.items(), ("", astray)) if rows}


def _service_key(name: str) -> str:
    key = plain(name)
    # "No number means the only one": Utility and Utility 1 are the same service.
    short = key.removesuffix("1")
    return key if short[-1:].isdigit() else short.rstrip("-")


def _first_disconnects(assessment: Assessment, rows: list[Row]) -> list[Row]:
    found: dict[int, Row] = {}
    seen: set[int] = set()
    front = list(rows)
    while front:
        row = front.pop()
        if id(row) in seen:
            continue
        seen.add(id(row))
        if row.kind == SERVICE_DISCONNECT:
            found[id(row)] = row
        else:
            front.extend(assessment.fed_by(row))
    return sorted(found.values(), key=lambda row: row.number)


def _below(assessment: Assessment, rows: list[Row], *, without_start: bool = False) -> list[Row]:
    """Return the rows and everything fed from them, however far down."""
    seen: dict[int, Row] = {}
    front = [fed for row in rows for fed in assessment.fed_by(row)] if without_start else list(rows)
    while front:
        row = front.pop()
        if id(row) not in seen:
            seen[id(row)] = row
            front.extend(assessment.fed_by(row))
    return list(seen.values())

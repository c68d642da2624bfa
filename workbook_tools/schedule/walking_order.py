"""One list of everything, in the order in which the power flows: service first, then what it feeds.

    walk(assessment)                  the steps: each row of Equipment once, with its depth and what feeds it
    fed_by(assessment)                what each piece feeds
    sources_first(steps, assessment)  the same steps for a list: a second source stands before what it feeds

Roots are, in this order: what a service feeds, what another outside source feeds or what has
no source (a generator), what hangs on a source that is not known, and what only feeds itself.
Nothing is left out, however the sheet was filled in; a chain of ten thousand is no trouble.

Not here: how a line reads (tree), voltages (assessment).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.survey import Equipment

__all__ = ["NO_SOURCE", "UNKNOWN", "Step", "fed_by", "sources_first", "walk"]

UNKNOWN = "Source not known"
NO_SOURCE = "No source recorded"


@dataclass(frozen=True, slots=True)
class Step:
    """One row of Equipment on the way.

    `root` is what the chain begins with: an outside source ("Utility"), the row's own tag
    where it needs none, or UNKNOWN. `parent` is the position of the step that feeds it.
    `also` are further sources; `strays` are names in Fed from that mean nothing; `loop` marks
    a row that is reached only through itself.
    """

    row: Equipment
    depth: int
    parent: int | None
    root: str
    also: tuple[str, ...] = ()
    strays: tuple[str, ...] = ()
    loop: bool = False


def fed_by(assessment: Assessment) -> dict[Equipment, list[Equipment]]:
    """Return what each piece feeds, in the order of the sheet."""
    fed: dict[Equipment, list[Equipment]] = {}
    for row in assessment.survey.equipment:
        for feeder in _feeders(assessment, row):
            fed.setdefault(feeder, []).append(row)
    return fed


def walk(assessment: Assessment) -> list[Step]:
    """Return every row of Equipment once, depth first."""
    fed = fed_by(assessment)
    steps: list[Step] = []
    placed: dict[Equipment, int] = {}
    for row, root, loop in _roots(assessment, fed, placed):
        waiting: list[tuple[Equipment, int, int | None]] = [(row, 0, None)]
        while waiting:
            here, depth, parent = waiting.pop()
            if here in placed:
                continue
            placed[here] = len(steps)
            steps.append(_step(assessment, here, depth, parent, root, steps, loop and parent is None))
            below = [(child, depth + 1, placed[here]) for child in fed.get(here, ()) if child not in placed]
            waiting.extend(reversed(below))
    return steps


def sources_first(steps: Sequence[Step], assessment: Assessment) -> list[Step]:
    """Return the steps with each lone source (a generator, a further inverter) before the first row it feeds.

    In the tree such a source stands by itself, since what it feeds hangs on another one; only
    sources that nothing hangs on are moved.

    Parameters
    ----------
    steps : sequence of Step
        The walking order.
    assessment : Assessment
        Says what feeds what.
    """
    first_fed: dict[Equipment, int] = {}
    for at, step in enumerate(steps):
        for source in assessment.supply.sources(step.row):
            for row in source.rows[:1]:
                first_fed.setdefault(row, at)
    feeding = {step.parent for step in steps}
    before: dict[int, list[Step]] = {}
    kept: dict[int, Step] = {}
    for at, step in enumerate(steps):
        to = first_fed.get(step.row, at)
        if step.parent is None and at not in feeding and to in kept and not step.loop:
            before.setdefault(to, []).append(step)
        else:
            kept[at] = step
    return [one for at, step in kept.items() for one in (*before.get(at, ()), step)]


def _roots(
    assessment: Assessment, fed: dict[Equipment, list[Equipment]], placed: dict[Equipment, int]
) -> Iterator[tuple[Equipment, str, bool]]:
    """Yield what a chain begins with; by the last groups most of the rows are placed already."""
    rows = assessment.survey.equipment
    for name, disconnects in assessment.supply.services.items():
        if name:
            key = plain(name)
            yield from ((row, name, False) for row in rows if _outside(assessment, row, key))
        else:
            yield from ((row, UNKNOWN, False) for row in disconnects if not _feeders(assessment, row))
    for row in rows:
        outside = [source.name for source in assessment.supply.sources(row) if source.outside]
        if outside and not _feeders(assessment, row):
            yield row, outside[0], False
    for row in rows:
        if not assessment.supply.sources(row):
            yield row, NO_SOURCE, False
    for row in rows:
        if not _feeders(assessment, row):
            yield (
                row,
                UNKNOWN,
                any(found is row for source in assessment.supply.sources(row) for found in source.rows),
            )
    for row in rows:
        if row not in placed:
            yield row, UNKNOWN, True


def _outside(assessment: Assessment, row: Equipment, key: str) -> bool:
    sources = assessment.supply.sources(row)
    return bool(sources) and sources[0].outside and plain(sources[0].name) == key


def _feeders(assessment: Assessment, row: Equipment) -> list[Equipment]:
    return [
        source.rows[0]
        for source in assessment.supply.sources(row)
        if source.rows and source.rows[0] is not row
    ]


def _step(
    assessment: Assessment,
    row: Equipment,
    depth: int,
    parent: int | None,
    root: str,
    steps: list[Step],
    loop: bool,
) -> Step:
    sources = assessment.supply.sources(row)
    feeding = steps[parent].row if parent is not None else None
    used: object = None
    for source in sources:
        known = source.rows[:1]
        if (known and known[0] is feeding) or (feeding is None and source.outside):
            used = source
            break
    also = tuple(s.name for s in sources if s is not used and (s.outside or s.rows) and not loop)
    strays = tuple(s.name for s in sources if not s.outside and not s.rows)
    return Step(row, depth, parent, root, also, strays, loop)

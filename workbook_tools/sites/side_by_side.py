"""Work done side by side in processes of their own, so that a piece that crashes or hangs stops no other.

    side_by_side(work, items, lost=...)   the result of each item, in the order of the items

Each process does one item at a time. One that ends half-way or takes too long is ended, its item is named,
and a new process takes its place.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import threading
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from typing import Generic, TypeVar

from workbook_tools.errors import say_nothing_of_closing

__all__ = ["LONGEST", "cores", "side_by_side"]

LONGEST = 600.0
"""Seconds that one item may take: far more than the largest survey needs on a slow machine."""

_AHEAD = 200
"""Results that wait at most for one before them: what is held does not grow with the number of items."""

_KILL = getattr(signal, "SIGKILL", signal.SIGTERM)  # where there is none, the other ends a process at once
_LOOK_AGAIN = 1.0

Item = TypeVar("Item")
Result = TypeVar("Result")


def cores() -> int:
    """Return how many processes can work at the same time."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def side_by_side(
    work: Callable[[Item], Result],
    items: Iterable[Item],
    *,
    lost: Callable[[Item, str], Result],
    workers: int | None = None,
    longest: float = LONGEST,
) -> Iterator[Result]:
    """Do a piece of work for each item, and yield the results in their order.

    Parameters
    ----------
    work : function
        A function of a module, so that a new process finds it.
    items : iterable
        What it is done for; each is sent to a process.
    lost : function
        What stands in the place of a result that never came: given the item and why, as the end of a sentence.
    workers : int, optional
        How many processes at most; left out, one for each core.
    longest : float, optional
        Seconds after which an item is given up.
    """
    todo = enumerate(items)
    lanes: list[_Lane[Item, Result]] = []
    at_most = workers or cores()
    done: dict[int, Result] = {}
    order: deque[int] = deque()

    def give(lane: _Lane[Item, Result]) -> bool:
        following = next(todo, None) if len(order) < _AHEAD + at_most else None
        if following is not None:
            order.append(following[0])
            lane.begin(work, *following)
        return following is not None

    try:
        while True:
            while len(lanes) < at_most:
                lane: _Lane[Item, Result] = _Lane()
                if not give(lane):
                    break
                lanes.append(lane)
            busy = [lane for lane in lanes if lane.future is not None or give(lane)]
            if not busy and not order:
                return
            if busy:
                wait([lane.future for lane in busy if lane.future], _LOOK_AGAIN, FIRST_COMPLETED)
            for lane in busy:
                if (ended := lane.ended(lost, longest)) is not None:
                    done[ended[0]] = ended[1]
            while order and order[0] in done:
                yield done.pop(order.popleft())
    finally:
        for lane in lanes:
            lane.close()


class _Lane(Generic[Item, Result]):
    """One process after another, each with one item at a time."""

    def __init__(self) -> None:
        self.future: Future[Result] | None = None
        self._pool: ProcessPoolExecutor | None = None
        self._process: Future[int] | None = None
        self._item: Item
        self._place = 0
        self._since = 0.0

    def begin(self, work: Callable[[Item], Result], place: int, item: Item) -> None:
        """Give the process an item; start a process where there is none."""
        if self._pool is None:
            # Not forked: the same on every system, and no copy of what this process holds.
            context = multiprocessing.get_context("spawn")
            self._pool = ProcessPoolExecutor(1, context, initializer=_make_ready)
            self._process = self._pool.submit(os.getpid)
        self._item, self._place, self._since = item, place, time.monotonic()
        self.future = self._pool.submit(work, item)

    def ended(self, lost: Callable[[Item, str], Result], longest: float) -> tuple[int, Result] | None:
        """Return the place of the item and its result once there is one; None while it is being worked on."""
        future = self.future
        if future is None:
            return None
        if not future.done():
            if self._process is not None and not self._process.done():
                self._since = time.monotonic()  # a process that is still starting
            if time.monotonic() - self._since < longest:
                return None
            self.close()
            return self._place, lost(self._item, f"took more than {longest:,.0f} seconds and was given up")
        self.future = None
        try:
            return self._place, future.result()
        except BrokenProcessPool:
            self._process = None  # it has ended: its number may be another's by now
            self.close()
            return self._place, lost(self._item, "ended the process that read it, without a word")

    def close(self) -> None:
        """End the process, whatever it is doing."""
        pool, process = self._pool, self._process
        self.future = self._pool = self._process = None
        if pool is None:
            return
        if process is not None:
            process.add_done_callback(_kill)  # now, or as soon as one that is still starting says its number
        pool.shutdown(wait=False, cancel_futures=True)


def _kill(process: Future[int]) -> None:
    if not process.cancelled() and process.exception() is None:
        with contextlib.suppress(OSError):
            os.kill(process.result(), _KILL)


def _make_ready() -> None:
    """Let a process end with the one that began it, and leave interruptions to that one."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    say_nothing_of_closing()
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: multiprocessing.process.BaseProcess) -> None:
    parent.join()
    os._exit(1)

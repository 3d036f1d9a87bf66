"""Work in many independent pieces, shared with forked processes: one of the standard library's pools.

The others begin at once; whoever asked for the work joins in when it is free. Nothing depends on them: what one does not bring to an end
is done here, and what a piece raises is raised here.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator
from multiprocessing.connection import wait
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast

from rangebook.store.packing import packed, unpacked

if TYPE_CHECKING:
    from concurrent.futures import Future
    from concurrent.futures.process import ProcessPoolExecutor

_Result = TypeVar("_Result")


def can_fork() -> bool:
    """Whether there is a fork here, and no thread that it would leave half done."""
    return "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class Crew(Generic[_Result]):
    """``count`` pieces, shared by so many ``processes``, this one among them. ``do`` is given the place of a piece, gives what can be
    pickled, and must do the same whoever runs it. Each piece is taken by whoever comes to it first."""

    def __init__(self, count: int, do: Callable[[int], _Result], processes: int) -> None:
        self._count, self._do = count, do
        self._next: Any = None
        self._pool: ProcessPoolExecutor | None = None
        self._begun: list[Future[bytes]] = []
        others = min(processes, count) - 1
        if others > 0 and can_fork():
            try:
                self._set_off(others)
            except (ImportError, NotImplementedError, OSError):
                # No semaphores, as in some containers, or no more processes: all is done here.
                self._next = None

    def _set_off(self, others: int) -> None:
        from concurrent.futures.process import ProcessPoolExecutor

        fork = multiprocessing.get_context("fork")
        self._next = fork.Value("q", 0)
        self._pool = ProcessPoolExecutor(others, fork, _set_out, (self._taken,))
        self._begun = [self._pool.submit(_take_part) for _ in range(others)]

    def results(self) -> Iterator[_Result]:
        """What each piece gives, in their order, once all are done. To be asked once."""
        try:
            done = self._taken()
            for other in self._begun:
                done |= _sent(other)
            for at in range(self._count):
                yield done.pop(at) if at in done else self._do(at)
        finally:
            self.stop()

    def stop(self) -> None:
        """Nothing more is to be done: wait for what the others are at."""
        if self._pool is not None:
            if self._next is not None:
                with self._next.get_lock():
                    self._next.value = self._count
            self._pool.shutdown(cancel_futures=True)
            self._pool, self._begun = None, []

    def _taken(self) -> dict[int, _Result]:
        """Pieces that this process does, as long as there are any that nobody has begun."""
        if self._next is None:
            return {}
        done: dict[int, _Result] = {}
        while True:
            with self._next.get_lock():
                at = self._next.value
                self._next.value = at + 1
            if at >= self._count:
                return done
            done[at] = self._do(at)


_part: Callable[[], object]


def _set_out(part: Callable[[], object]) -> None:
    """The beginning of another process."""
    global _part  # noqa: PLW0603 - one process, one kind of work
    _part = part
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process is told as well, and ends the others
    threading.Thread(target=_end_with_the_first, daemon=True).start()


def _end_with_the_first() -> None:
    """A pool's process waits for work for ever, even when the one that gives it was killed."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        wait([parent.sentinel])
        os._exit(1)


def _take_part() -> bytes:
    return packed(_part())


def _sent(other: Future[bytes]) -> dict[int, Any]:
    """What another process has done; nothing where it did not come to an end: then it is done here."""
    try:
        data = other.result()
    except Exception:  # noqa: BLE001 - whatever came over it
        return {}
    return cast("dict[int, Any]", unpacked(data))

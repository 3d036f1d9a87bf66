"""Work in many independent pieces, shared with a forked process while this one does something else first.

The other process begins at once; this one joins in when it is free. Each piece is taken once, by whoever comes to it first. Nothing
depends on the other process: should it come to harm, all pieces are done here.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable
from typing import Any

from rangebook.reading.second_process import SecondProcess, can_fork, processors


class Shares:
    """``count`` pieces; ``do`` is given the place of one, and must do the same whoever runs it. One process alone where there is no
    fork, or no second processor."""

    def __init__(self, count: int, do: Callable[[int], None]) -> None:
        self._count, self._do = count, do
        self._home, self._over = os.getpid(), False
        self._next: Any = None
        self._aside: SecondProcess[bool] | None = None
        if count > 1 and can_fork() and processors() > 1:
            self._next = multiprocessing.get_context("fork").Value("q", 0)
            self._aside = SecondProcess(self._beside)

    def finish(self) -> None:
        """Do what is left, and wait for the other. Raises what a piece raises; then nothing is being written any more."""
        if self._aside is None:
            self._all()
            return
        try:
            self._take()
        except BaseException:
            self.stop()
            raise
        aside, self._aside = self._aside, None
        aside.result()

    def stop(self) -> None:
        """Nothing more is to be done: wait for the piece that the other is at."""
        self._over = True
        if self._aside is not None:
            with self._next.get_lock():
                self._next.value = self._count
            aside, self._aside = self._aside, None
            aside.result()

    def _beside(self) -> bool:
        if os.getpid() != self._home:
            self._take()
        elif not self._over:
            self._all()  # the other process came to harm
        return True

    def _take(self) -> None:
        while os.getpid() == self._home or os.getppid() == self._home:  # whoever asked for the work is still there
            with self._next.get_lock():
                at = self._next.value
                self._next.value = at + 1
            if at >= self._count:
                return
            self._do(at)

    def _all(self) -> None:
        for at in range(self._count):
            self._do(at)

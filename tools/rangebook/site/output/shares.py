"""Work in many independent pieces, shared with other processes while this one does something else first."""

from __future__ import annotations

from collections.abc import Callable

from rangebook.reading.crew import Crew, processors


class Shares:
    """``count`` pieces; ``do`` is given the place of one, and must do the same whoever runs it. One process alone where there is no
    fork, or no second processor."""

    def __init__(self, count: int, do: Callable[[int], None]) -> None:
        self._crew = Crew(count, do, processors())

    def finish(self) -> None:
        """Do what is left, and wait for the others. Raises what a piece raises; then nothing is being written any more."""
        for _ in self._crew.results():
            pass

    def stop(self) -> None:
        """Nothing more is to be done: wait for the pieces that the others are at."""
        self._crew.stop()

"""A function run in a forked process beside this one, its result sent back.

Nothing depends on the other process: should it come to harm, the function is run here.
"""

from __future__ import annotations

import copyreg
import io
import multiprocessing
import os
import pickle
import threading
from collections.abc import Callable
from multiprocessing.connection import Connection
from types import MappingProxyType
from typing import Any, Generic, TypeVar

_Result = TypeVar("_Result")


def can_fork() -> bool:
    """Whether there is a fork here, and no thread that it would leave half done."""
    return "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1


def processors() -> int:
    """How many processors this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class SecondProcess(Generic[_Result]):
    """Begins at once. ``function`` takes nothing and gives what can be pickled."""

    def __init__(self, function: Callable[[], _Result]) -> None:
        self._function = function
        self._pipe, theirs = multiprocessing.Pipe(duplex=False)
        self._process = multiprocessing.get_context("fork").Process(target=_send, args=(function, theirs), daemon=True)
        self._process.start()
        theirs.close()

    def result(self) -> _Result:
        """Wait for it. Raises what the function raises."""
        try:
            data = self._pipe.recv_bytes()
        except (EOFError, OSError):
            data = None
        finally:
            self._pipe.close()
            self._process.join()
        return self._function() if data is None else pickle.loads(data)  # noqa: S301 - what our own other process sent


def _send(function: Callable[[], object], pipe: Connection) -> None:
    try:
        pipe.send_bytes(_pickled(function()))
    except BaseException:  # noqa: BLE001 - it is run again by the one who waits, and told about there
        os._exit(1)


def _pickled(value: object) -> memoryview:
    buffer = io.BytesIO()
    pickler = pickle.Pickler(buffer, protocol=pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = {**copyreg.dispatch_table, MappingProxyType: _apart}
    pickler.dump(value)
    return buffer.getbuffer()


def _apart(view: MappingProxyType[Any, Any]) -> tuple[Callable[[dict[Any, Any]], object], tuple[dict[Any, Any]]]:
    return _as_view, (dict(view),)


def _as_view(mapping: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(mapping)

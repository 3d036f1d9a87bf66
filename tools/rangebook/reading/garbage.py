"""Garbage collection, put off while a book is made.

What a book consists of lives as long as the book does; walking it again and again looking for garbage that is not there
doubles the time.
"""

from __future__ import annotations

import atexit
import gc
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache


@contextmanager
def put_off() -> Iterator[None]:
    """No garbage is looked for inside; afterwards what is there then is looked at no more."""
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if enabled:
            gc.freeze()
            gc.enable()


def keep() -> None:
    """What there is now stays: it is looked at no more."""
    gc.freeze()


def let_go(rooms: tuple[str, ...]) -> None:
    """Let go of what was made since the last time and is in no more use; what functions of some rooms remember of their calls is
    forgotten."""
    for name, module in list(sys.modules.items()):
        if name.startswith(rooms):
            for one in vars(module).values():
                if isinstance(one, _Remembering):
                    one.cache_clear()
    gc.collect(0)


_Remembering = type(lru_cache(put_off))


def none_at_exit() -> None:
    """When the process ends, let it end: Python would look through the whole book once more, and the system takes it all back anyway."""
    atexit.unregister(gc.freeze)
    atexit.register(gc.freeze)

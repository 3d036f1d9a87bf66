"""Garbage collection, put off while a book is made.

What a book consists of lives as long as the book does; walking it again and again looking for garbage that is not there
doubles the time.
"""

from __future__ import annotations

import atexit
import gc
from collections.abc import Iterator
from contextlib import contextmanager


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


def none_at_exit() -> None:
    """When the process ends, let it end: Python would look through the whole book once more, and the system takes it all back anyway."""
    atexit.unregister(gc.freeze)
    atexit.register(gc.freeze)

"""Garbage collection, put off while a book is made.

What a book consists of lives as long as the book does; walking it again and again looking for garbage that is not there
doubles the time.
"""

from __future__ import annotations

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

"""What can be wrong with what is kept."""

from __future__ import annotations

import sqlite3


class DamagedError(sqlite3.DatabaseError):
    """What is kept cannot be what was put there."""

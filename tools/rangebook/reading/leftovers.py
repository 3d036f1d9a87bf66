"""What a process that was killed left behind: files and folders whose names end with its number."""

from __future__ import annotations

import os


def runs(pid: int) -> bool:
    """Whether a process of this number is at work on this machine."""
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True

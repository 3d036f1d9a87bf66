"""Git for tests that need a repository: as nobody in particular, and whatever this machine's own settings say."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

_WHO = ("-c", "user.name=bench", "-c", "user.email=bench@example.org", "-c", "commit.gpgsign=false")
_ALONE = {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_NOSYSTEM": "1"}


def git(folder: Path, *command: str, given: str = "", when: str | None = None) -> str:
    """What git writes, without white space around it; ``given`` is its input, ``when`` the time of what it commits.

    Raises ``subprocess.CalledProcessError`` where git says no.
    """
    dates = {"GIT_COMMITTER_DATE": when, "GIT_AUTHOR_DATE": when} if when else {}
    ran = subprocess.run(
        ("git", *_WHO, *command), cwd=folder, input=given, check=True, capture_output=True, text=True, env={**os.environ, **_ALONE, **dates}
    )
    return ran.stdout.strip()

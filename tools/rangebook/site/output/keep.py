"""What no build wrote is taken along into the folder that takes a site's place."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable
from pathlib import Path


def keep(files: Iterable[Path], old: Path, new: Path) -> None:
    """Have files and links of ``old``, by their paths below it, in ``new`` too: the very same file where the disk can, so that what is
    written into it meanwhile is not lost, else a copy. Nothing is written through a link. Raises ``OSError``."""
    for path in files:
        there, here = old / path, new / path
        here.parent.mkdir(parents=True, exist_ok=True)
        for one in path.parents[:-1]:
            shutil.copystat(old / one, new / one, follow_symlinks=False)
        try:
            os.link(there, here, follow_symlinks=False)
        except (OSError, NotImplementedError):
            if there.is_symlink():
                here.symlink_to(there.readlink(), there.is_dir())
            else:
                shutil.copy2(there, here)

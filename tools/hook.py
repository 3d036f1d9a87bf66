#!/usr/bin/env python3
"""What pre-commit starts (.pre-commit-hooks.yaml): `rangebook` with the words of the hook, in the folder of who commits.

Left to itself pre-commit would install the newest of every package that pyproject.toml names; so its copy of this repository gets an
environment from the lock, each package with its hash, by start.py. Nothing of the folder that is committed is run.
"""

import os
import sys

import start


def main(words: list) -> int:
    """Run `rangebook` in place of this program; returns 2 where something is missing on this machine."""
    try:
        start.check_python(sys.version_info)
        start.prepare("run")
    except start.CannotError as error:
        start.say(str(error))
        return 2
    # Not `python -m`, which would look for modules in the folder that is committed first.
    program = str(start.python().with_name("rangebook.exe" if os.name == "nt" else "rangebook"))
    if os.name == "nt":
        return start.subprocess.call([program, *words], env=start.environment())
    return os.execve(program, [program, *words], start.environment())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

"""The browser's pure functions, run by Node: a module of ``site/client/`` is loaded as it is, and answers as JSON."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

import rangebook.site

CLIENT = Path(rangebook.site.__file__).parent / "client"

needs_node = pytest.mark.skipif(
    shutil.which("node") is None, reason="needs Node, which only those who change the browser's code have to have"
)


def evaluate(modules: dict[str, str], expression: str, given: Any = None) -> Any:
    """What an expression comes to, as JSON carries it. ``modules`` are name -> path below ``client/``, known in it by those names; what
    is ``given`` is known as ``given``. An error in it is one here."""
    imports = [f"import * as {name} from {json.dumps((CLIENT / path).as_uri())};" for name, path in modules.items()]
    code = [*imports, 'import fs from "node:fs";', "const given = JSON.parse(fs.readFileSync(0, 'utf8'));"]
    code += [f"process.stdout.write(JSON.stringify(await (async () => {expression})()));"]
    done = subprocess.run(
        ["node", "--input-type=module", "-e", "\n".join(code)],
        input=json.dumps(given),
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)

"""The whole lint of a book beside what general checkers of YAML take on the same front matter, turn about, in one run.

    python3 -m venv /some/folder && /some/folder/bin/pip install check-jsonschema ruamel.yaml.clib yamllint
    .venv/bin/python benchmarks/against_check_jsonschema.py --tools /some/folder/bin --families 100 1000 5000 --bare 100

check-jsonschema checks the schema alone, yamllint the form alone. Neither is in the lock. Without ruamel.yaml.clib the first is three times
slower and the comparison unfair, so this stops if that is missing. It gets the front matter of every file as YAML and one schema for all
kinds. As its reader makes numbers of what looks like one, "text" is loosened to any scalar there and the patterns left out: it checks less,
not more. yamllint goes by its relaxed settings without a bound to lines. Seconds are those of the processor, of whole processes, start
included; the ratios are formed pair by pair. ``--bare`` builds such books beside a bare Material site in the same run (``building.py``).
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from building import measured
from generate import generate, write

SCHEMA = Path(__file__).resolve().parents[1] / "schema"
KINDS = ("switch", "connector", "kit")


def loosened(node: Any) -> Any:
    """A schema in which text may be any scalar, for a reader that guesses types; references made local."""
    if isinstance(node, list):
        return [loosened(one) for one in node]
    if not isinstance(node, dict):
        return node
    left_out = ("$id", "$schema", "x-expected", "propertyNames", "pattern", "minLength", "maxLength", "enum")
    found = {key: loosened(value) for key, value in node.items() if key not in left_out}
    if found.get("type") in ("string", "boolean"):
        found["type"] = ["string", "number", "boolean", "null"]
    if "$ref" in found:
        found["$ref"] = found["$ref"].replace("common.json#/", "#/").replace("switch.json#/", "#/$defs/switch/")
    return found


def one_schema() -> dict[str, Any]:
    """One schema for all kinds, told apart by ``kind``."""
    files = {name: json.loads((SCHEMA / f"{name}.json").read_text("utf-8")) for name in (*KINDS, "common")}
    branches = [{"if": {"properties": {"kind": {"const": kind}}}, "then": {"$ref": f"#/$defs/{kind}"}} for kind in KINDS]
    shared = {name: loosened(node) for file in files.values() for name, node in file.get("$defs", {}).items()}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "allOf": branches,
        "$defs": {**shared, **{kind: loosened(files[kind]) for kind in KINDS}},
    }


def timed(command: list[str]) -> tuple[float, float, float]:
    """Wall seconds, processor seconds and peak MiB of one process. It must end with status 0."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
    output = process.stdout.read() if process.stdout else b""
    _, status, used = os.wait4(process.pid, 0)
    took = time.perf_counter() - start
    if os.waitstatus_to_exitcode(status):
        raise SystemExit(f"{command[0]} failed:\n{output.decode()[-2000:]}")
    return took, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def turns(families: int, tools: Path, repeat: int) -> str:
    """One line of the table."""
    with tempfile.TemporaryDirectory() as folder:
        root, plain = Path(folder) / "book", Path(folder) / "plain"
        write(generate(families), root)
        plain.mkdir()
        files = sorted((root / "entries").rglob("*.md"))
        for path in files:
            (plain / f"{path.parent.name}-{path.stem}.yaml").write_text(path.read_text("utf-8").split("---\n")[1], "utf-8")
        schema = Path(folder) / "schema.json"
        schema.write_text(json.dumps(one_schema()), "utf-8")
        # More names than a command line takes are handed over by a shell's xargs, as a user would.
        listed = " ".join(["cd", str(plain), "&&", "ls", "|", "xargs", "-n", "100000", "-s", "2000000"])
        ours = [str(Path(sys.executable).parent / "rangebook"), "lint", "--root", str(root)]
        commands = {
            "schema": ["sh", "-c", f"{listed} {tools / 'check-jsonschema'} --schemafile {schema}"],
            "form": [str(tools / "yamllint"), "-d", "{extends: relaxed, rules: {line-length: disable}}", "--no-warnings", str(plain)],
            "one": [*ours, "--afresh", "--processes", "1"],
            "two": [*ours, "--afresh", "--processes", "2"],
            "again": ours,
        }
        runs = [{name: timed(command) for name, command in commands.items()} for _ in range(repeat)]
    cells = [f"{statistics.median(run[name][1] for run in runs):.2f}" for name in commands]
    for other in ("schema", "form"):
        ratios = [run["one"][1] / run[other][1] for run in runs]
        cells.append(f"{statistics.median(ratios):.3f} ({min(ratios):.3f} to {max(ratios):.3f})")
    cells.append(f"{statistics.median(run['two'][0] / run['one'][0] for run in runs):.2f}")
    cells += [f"{max(run[name][2] for run in runs):.0f}" for name in ("one", "two")]
    return f"| {families:,} | {len(files):,} | {' | '.join(cells)} |"


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[100, 1000])
    parser.add_argument("--repeat", type=int, default=3)
    parser.add_argument("--tools", type=Path, default=Path(sys.executable).parent, help="the folder that the other programs are in")
    parser.add_argument("--bare", type=int, nargs="*", default=[], help="sizes of books that are built, and as a bare site too (none)")
    args = parser.parse_args()
    if subprocess.run([args.tools / "python", "-c", "import _ruamel_yaml"], capture_output=True, check=False).returncode:
        raise SystemExit("ruamel.yaml.clib is missing: the comparison would be unfair. See the first lines of this file.")
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(8192, resource.getrlimit(resource.RLIMIT_NOFILE)[1]),) * 2)
    print(
        "| families | files | check-jsonschema | yamllint | whole lint | by two processes | again unchanged | lint / check-jsonschema "
        "| lint / yamllint | wall, two / one | peak MiB | by two, each |"
    )
    print("|---|" + "---:|" * 11)
    for families in args.families:
        print(turns(families, args.tools, args.repeat), flush=True)
    if args.bare:
        print()
        for line in measured(args.bare, args.bare, 1):
            print(line, flush=True)


if __name__ == "__main__":
    main()

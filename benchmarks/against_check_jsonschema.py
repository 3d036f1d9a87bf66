"""The whole lint of a book beside what check-jsonschema takes for the schema alone, on the same front matter, turn about.

    .venv/bin/pip install check-jsonschema ruamel.yaml.clib
    .venv/bin/python benchmarks/against_check_jsonschema.py --families 100 1000 5000

check-jsonschema is not in the lock; without ruamel.yaml.clib it is three times slower and the comparison unfair, so this
stops if that is missing. It gets the front matter of every file as YAML and one schema for all kinds. As its reader makes
numbers of what looks like one, "text" is loosened to any scalar there and the patterns left out: it checks less, not more.
Seconds are wall time and processor time of whole processes, start included; the ratio is that of wall times, pair by pair.
"""

from __future__ import annotations

import argparse
import importlib.util
import json
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

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


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--families", type=int, nargs="+", default=[100, 1000])
    parser.add_argument("--repeat", type=int, default=3)
    args = parser.parse_args()
    if importlib.util.find_spec("_ruamel_yaml") is None:
        raise SystemExit("ruamel.yaml.clib is missing: the comparison would be unfair. See the first lines of this file.")
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(8192, resource.getrlimit(resource.RLIMIT_NOFILE)[1]),) * 2)
    here = Path(sys.executable).parent
    print(
        "| families | files | check-jsonschema, s (CPU) | whole lint, s (CPU) | ratio, median (least to most) "
        "| by two processes, s | ratio | again unchanged, s | peak MiB |"
    )
    print("|---|---|---|---|---|---|---|---|---|")
    for families in args.families:
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
            theirs = ["sh", "-c", f"{listed} {here / 'check-jsonschema'} --schemafile {schema}"]
            ours = [str(here / "rangebook"), "lint", "--root", str(root)]
            one, two = [*ours, "--afresh", "--processes", "1"], [*ours, "--afresh", "--processes", "2"]
            turns = [(timed(theirs), timed(one), timed(two)) for _ in range(args.repeat)]
            again = min(timed(ours)[0] for _ in range(args.repeat))
            pairs = [(other, mine) for other, mine, _ in turns]
            ratios = [mine[0] / other[0] for other, mine in pairs]
            by_two = [mine[0] / other[0] for other, _, mine in turns]
            middle = [statistics.median(column) for column in zip(*(other[:2] + mine[:2] for other, mine in pairs), strict=True)]
            print(
                f"| {families:,} | {len(files):,} | {middle[0]:.2f} ({middle[1]:.2f}) | {middle[2]:.2f} ({middle[3]:.2f}) "
                f"| {statistics.median(ratios):.3f} ({min(ratios):.3f} to {max(ratios):.3f}) "
                f"| {statistics.median(mine[0] for *_, mine in turns):.2f} "
                f"| {statistics.median(by_two):.3f} ({min(by_two):.3f} to {max(by_two):.3f}) | {again:.2f} "
                f"| {max(mine[2] for _, mine in pairs):.0f} |",
                flush=True,
            )
            shutil.rmtree(root)


if __name__ == "__main__":
    main()

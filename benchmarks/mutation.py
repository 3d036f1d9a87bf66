"""Plant bugs in the engine, one at a time, and see whether its tests notice. On demand; a sample by default.

    .venv/bin/python benchmarks/mutation.py --sample 120 --seed 1

Every bug is a small change of the kind that is easily made: a comparison turned, ``and`` for ``or``, plus for minus, a
bound off by one, a condition the other way round, a number a little larger, a result left out. The work is done in a copy;
a bug counts as caught when some test fails. What survives is listed with its place, to be read by a person: some are no
bugs at all (another order of equal things, a limit that nothing reaches).
"""

from __future__ import annotations

import argparse
import ast
import copy
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
ENGINE = ("electrics", "mounting", "fitting")
TESTS = (
    "tests/fitting/test_verdict.py",
    "tests/fitting/test_parcel.py",
    "tests/fitting/test_supersession.py",
    "tests/fitting/test_fitter.py",
    "tests/mounting/test_fit.py",
    "tests/electrics/test_ladder.py",
    "tests/electrics/test_codes.py",
    "tests/electrics/test_proof.py",
    "tests/electrics/test_network.py",
    "tests/desk/test_fit.py",
    "tests/demo/test_situations.py",
)
TURNED = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
SWAPPED = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr}


def changes(node: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    """Every bug that can be planted at one node: in words, and the node that takes its place."""
    new = copy.deepcopy(node)
    if isinstance(node, ast.Compare) and len(node.ops) == 1 and type(node.ops[0]) in TURNED:
        new.ops = [TURNED[type(node.ops[0])]()]
        yield "comparison turned", new
    elif isinstance(node, ast.BoolOp):
        new.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        yield "and for or", new
        for index in range(len(node.values)):
            shorter = copy.deepcopy(node)
            del shorter.values[index]
            yield f"condition {index + 1} left out", shorter if len(shorter.values) > 1 else shorter.values[0]
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "not left out", new.operand
    elif isinstance(node, ast.BinOp) and type(node.op) in SWAPPED and not isinstance(node.left, ast.JoinedStr):
        new.op = SWAPPED[type(node.op)]()
        yield "operator swapped", new
    elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
        new.value = node.value + 1
        yield "number one larger", new
    elif isinstance(node, ast.Constant) and isinstance(node.value, bool):
        new.value = not node.value
        yield "truth turned", new
    elif isinstance(node, ast.IfExp):
        new.body, new.orelse = new.orelse, new.body
        yield "branches swapped", new
    elif isinstance(node, ast.Continue):
        yield "break for continue", ast.copy_location(ast.Break(), node)


def planted(source: str) -> Iterator[tuple[int, str, str]]:
    """Every bug of one file: its line, what was done, and the file's text with it."""
    tree = ast.parse(source)
    parents = [(parent, field, value) for parent in ast.walk(tree) for field, value in ast.iter_fields(parent)]
    for parent, field, value in parents:
        if field in ("annotation", "returns", "decorator_list", "keywords") or isinstance(parent, ast.FormattedValue):
            continue
        nodes = list(enumerate(value)) if isinstance(value, list) else [(None, value)]
        for index, node in nodes:
            if not isinstance(node, ast.AST):
                continue
            for words, new in changes(node):
                if index is None:
                    setattr(parent, field, new)
                else:
                    value[index] = new
                yield getattr(node, "lineno", 0), words, ast.unparse(ast.fix_missing_locations(tree))
                if index is None:
                    setattr(parent, field, node)
                else:
                    value[index] = node


def caught(copy_of: Path) -> str | None:
    """The first test that fails in a copy of the project, ``None`` if none does."""
    environment = {**os.environ, "PYTHONPATH": str(copy_of / "tools"), "PYTHONDONTWRITEBYTECODE": "1"}
    command = [sys.executable, "-m", "pytest", "-x", "-q", "--no-header", "-p", "no:cacheprovider", "-k", "not step_by_step", *TESTS]
    try:
        ran = subprocess.run(command, cwd=copy_of, env=environment, capture_output=True, text=True, timeout=300, check=False)
    except subprocess.TimeoutExpired:
        return "(did not come to an end)"
    if ran.returncode == 0:
        return None
    failed = [line for line in ran.stdout.splitlines() if line.startswith(("FAILED", "ERROR"))]
    return failed[0].split(" - ")[0].split(" ", 1)[1] if failed else "(the tests could not run)"


def main() -> None:
    """Plant a sample of bugs and print a table of what survived."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--sample", type=int, default=60, help="how many bugs (60); 0 for all of them")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    bugs = []
    for folder in ENGINE:
        for path in sorted((ROOT / "tools/rangebook" / folder).glob("*.py")):
            bugs += [(path, *bug) for bug in planted(path.read_text("utf-8"))]
    total = len(bugs)
    if args.sample:
        bugs = random.Random(args.seed).sample(bugs, min(args.sample, total))
    survived, by_test = [], {}
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        for name in ("tools", "tests", "schema", "entries"):
            shutil.copytree(ROOT / name, place / name, ignore=shutil.ignore_patterns("__pycache__"))
        shutil.copy(ROOT / "pyproject.toml", place)
        if (first := caught(place)) is not None:
            raise SystemExit(f"the tests fail without any bug: {first}")
        for number, (path, line, words, text) in enumerate(bugs, 1):
            target = place / path.relative_to(ROOT)
            good = target.read_text("utf-8")
            target.write_text(text, "utf-8")
            found = caught(place)
            target.write_text(good, "utf-8")
            where = f"{path.relative_to(ROOT / 'tools/rangebook')}:{line}"
            if found is None:
                survived.append((where, words, path.read_text("utf-8").splitlines()[line - 1].strip()))
            else:
                by_test[found.split("::")[0]] = by_test.get(found.split("::")[0], 0) + 1
            print(f"{number}/{len(bugs)} {where} {words}: {found or 'SURVIVED'}", file=sys.stderr, flush=True)
    print(f"{len(bugs)} of {total} bugs planted, {len(bugs) - len(survived)} caught, {len(survived)} survived.\n")
    for test, count in sorted(by_test.items(), key=lambda item: -item[1]):
        print(f"- {count} first by {test}")
    if survived:
        print("\n| place | bug | line |\n|---|---|---|")
        for where, words, line in survived:
            print(f"| {where} | {words} | `{line.replace('|', '/')}` |")


if __name__ == "__main__":
    main()

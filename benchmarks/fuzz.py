"""Feed the reader, the schema and the rules with inputs that a coverage-guided fuzzer makes. On demand; needs atheris.

    python3 -m venv /some/where && /some/where/bin/pip install atheris
    PYTHONPATH=/some/where/lib/python3.11/site-packages .venv/bin/python benchmarks/fuzz.py --runs 60000 entry
    ... benchmarks/fuzz.py --runs 60000 mutant

``entry`` takes the fuzzer's bytes as a file, in a small book beside entries that are fine. ``mutant`` takes them as a list of what to do to
an entry of the demo book: characters, words, lines and whole values moved, doubled, swapped, blown up. After each input it holds:

- nothing is raised, and neither reading nor linting takes longer or more memory than ``LIMIT``;
- the entries beside it are read as before, and what was found in them before is found still, or another entry has come or gone;
- every finding lies in a file of the book, on a line that there is, and can be written in every format;
- ``--fix`` leaves what the entry says as it is and finds nothing more to do a second time.

What breaks any of it is written to ``tests/lint/fuzz/found/`` and replayed by the tests from then on.
"""

from __future__ import annotations

import argparse
import importlib
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

FOUND = ROOT / "tests" / "lint" / "fuzz" / "found"


def main() -> int:
    """0 where nothing broke."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("target", choices=("entry", "mutant"))
    arguments.add_argument("--runs", type=int, default=60_000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--corpus", type=Path, default=None, help="a folder in which inputs that reach new code are kept")
    args = arguments.parse_args()
    try:
        atheris = importlib.import_module("atheris")
    except ImportError:
        print("atheris is not here: see the top of this file", file=sys.stderr)
        return 2
    with atheris.instrument_imports(include=["rangebook"]):
        trial = importlib.import_module("tests.lint.fuzz.trial")
    run = {"entry": trial.try_entry, "mutant": trial.try_mutant}[args.target]
    corpus = args.corpus or ROOT / "build" / "fuzz" / args.target
    corpus.mkdir(parents=True, exist_ok=True)
    if args.target == "entry":
        for path in (ROOT / "entries").glob("*/*.md"):
            (corpus / path.name).write_bytes(path.read_bytes()[:4000])
    state = {"runs": 0, "broken": 0, "slowest": 0.0, "begun": time.monotonic()}

    def one(data: bytes) -> None:
        state["runs"] += 1
        started = time.perf_counter()
        try:
            run(data)
        except Exception as error:
            state["broken"] += 1
            broken = getattr(error, "data", data)
            name = trial.keep(FOUND, broken)
            print(f"BROKEN {name}: {type(error).__name__}: {str(error)[:300]}", file=sys.stderr, flush=True)
            if state["broken"] >= 20:
                raise
        state["slowest"] = max(state["slowest"], time.perf_counter() - started)
        if state["runs"] % 2000 == 0 or state["runs"] == args.runs:
            print(
                f"{state['runs']} inputs, {state['broken']} broken, slowest {state['slowest'] * 1000:.0f} ms, "
                f"{time.monotonic() - state['begun']:.0f} s",
                file=sys.stderr,
                flush=True,
            )

    dictionary = ROOT / "tests" / "lint" / "fuzz" / "words.dict"
    limits = ["-max_len=8000", "-timeout=60", "-rss_limit_mb=3000", "-verbosity=0"]
    atheris.Setup([sys.argv[0], str(corpus), f"-runs={args.runs}", f"-seed={args.seed}", f"-dict={dictionary}", *limits], one)
    atheris.Fuzz()
    return 1 if state["broken"] else 0


if __name__ == "__main__":
    sys.exit(main())

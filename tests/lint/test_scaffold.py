"""A new rule's files: they run as they are, break nothing, and their tests fail until they are filled in."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from rangebook.cli import main
from rangebook.lint.registry import all_rules
from rangebook.lint.scaffold import SCOPES, BadNameError, files

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of what the command and the linter's tests need, with one new rule of each scope."""
    top = tmp_path_factory.mktemp("checkout")
    leave = shutil.ignore_patterns("__pycache__", "lock")
    for folder in ("tools", "schema", "entries"):
        shutil.copytree(ROOT / folder, top / folder, ignore=leave)
    shutil.copytree(ROOT / "tests" / "lint", top / "tests" / "lint", ignore=leave)
    (top / "tests" / "__init__.py").touch()
    shutil.copy(ROOT / "pyproject.toml", top)
    for scope in SCOPES:
        done = _rangebook(top, "rules", "--new", f"new-{scope}-rule", "--scope", scope)
        assert done.returncode == 0, done.stderr
        assert f"tests/lint/rules/test_new_{scope}_rule.py" in done.stdout
    return top


def _rangebook(top: Path, *words: str) -> subprocess.CompletedProcess:
    return _python(top, "-m", "rangebook", *words)


def _python(top: Path, *words: str) -> subprocess.CompletedProcess:
    environment = {"PATH": "/usr/bin:/bin", "PYTHONPATH": str(top / "tools"), "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run([sys.executable, *words], cwd=top, env=environment, capture_output=True, text=True, timeout=300)


def test_the_linter_runs_with_them(checkout: Path) -> None:
    done = _rangebook(checkout, "lint", "--afresh")
    count = len(list((ROOT / "entries").glob("*/*.md")))
    assert (done.returncode, done.stdout) == (0, f"{count} entries: nothing found\n"), done.stderr
    assert "new-family-rule" in _rangebook(checkout, "rules").stdout


def test_what_is_not_filled_in_fails(checkout: Path) -> None:
    names = " or ".join(f"new_{scope}_rule or new-{scope}-rule" for scope in SCOPES)
    paths = ["tests/lint/test_examples.py", "tests/lint/rules", "tests/lint/seeding"]
    done = _python(checkout, "-m", "pytest", "-p", "no:cacheprovider", *paths, "-k", names)
    failed = {line.split(" ")[1] for line in done.stdout.splitlines() if line.startswith("FAILED")}
    for scope in SCOPES:
        module = f"tests/lint/rules/test_new_{scope}_rule.py"
        assert {f"{module}::test_it_is_found_where_it_is_to_be_mended", f"{module}::test_what_only_looks_like_it_is_let_pass"} <= failed
        assert f"tests/lint/test_examples.py::test_the_failing_example_fails_for_its_own_rule_alone[new-{scope}-rule]" in failed
        assert f"[FILL IN: a slip that new-{scope}-rule is there for]" in done.stdout, "nothing is sown for it"


def test_the_house_style_has_nothing_against_them(checkout: Path) -> None:
    made = [str(path) for path in checkout.rglob("*new_*_rule.py")]
    assert len(made) == 2 * len(SCOPES)
    for words in (["check"], ["format", "--check"]):
        done = _python(checkout, "-m", "ruff", *words, "--no-cache", *made)
        assert done.returncode == 0, done.stdout


def test_nothing_is_written_over(checkout: Path) -> None:
    file = checkout / "tools/rangebook/lint/rules/new_kit_rule.py"
    before = file.read_bytes()
    done = _rangebook(checkout, "rules", "--new", "new-kit-rule")
    assert done.returncode == 2 and "already" in done.stderr and file.read_bytes() == before


@pytest.mark.parametrize("name", ["", "Hole", "hole_too_small", "-hole", "hole--small", "../hole", "hole/small", "1-hole"])
def test_a_name_that_no_rule_can_have(name: str, capsys: pytest.CaptureFixture) -> None:
    with pytest.raises(BadNameError):
        files(name, "kit", all_rules())
    assert main(["rules", f"--new={name}"]) == 2 and "cannot be a rule's name" in capsys.readouterr().err

"""A book is changed only where its linter has no more against it afterwards."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from rangebook.lint.examples import base_book
from rangebook.lint.patch import patch

KIT, SWITCH, CONNECTOR = "entries/kits/oval-9-renewal.md", "entries/switches/tamblin-gate.md", "entries/connectors/oval-13.md"


def book(file: str, good: str, bad: str) -> dict[str, str]:
    text = base_book()[file]
    assert good in text
    return {file: text.replace(good, bad, 1)}


def test_a_clean_book_is_left_alone(plan_for) -> None:
    made = plan_for({})
    assert made.changed == [] and made.left == [] and made.after == made.before


def test_files_are_mended_each_for_itself(plan_for) -> None:
    made = plan_for({**book(KIT, "from: oval-9", "from: Oval-9"), **book(SWITCH, "set_in: N", "set_in: n")})
    assert [one.file for one in made.changed] == [KIT, SWITCH]
    assert [one.after.decode() for one in made.changed] == [base_book()[one.file] for one in made.changed]
    assert made.before[1] and made.after[1] == []


def test_only_the_files_asked_for(plan_for) -> None:
    changed = {**book(KIT, "from: oval-9", "from: Oval-9"), **book(SWITCH, "set_in: N", "set_in: n")}
    assert [one.file for one in plan_for(changed, only={KIT}).changed] == [KIT]


def test_what_would_bring_up_more_than_it_mends_is_not_written_but_the_rest_is(plan_for) -> None:
    text = base_book()[KIT].replace("from: oval-9", "from: Oval-9").replace("seals: [4, 6]", "seals: [14, 14, 14]")
    made = plan_for({KIT: text.replace("number: TW-7706", "number: TW-7706  "), CONNECTOR: base_book()[CONNECTOR] + "\n"})
    assert {one.file for one in made.changed} == {KIT, CONNECTOR}
    assert next(one.after.decode() for one in made.changed if one.file == KIT) == text  # only the spaces
    (left,) = made.left
    assert left.file == KIT and "`Oval-9` is written `oval-9`" in left.why and "kit-seals" in left.why


def test_as_many_errors_as_before_are_not_worse(plan_for) -> None:
    text = base_book()[KIT].replace("from: oval-9", "from: Oval-9").replace("seals: [4, 6]", "seals: [14]")
    made = plan_for({KIT: text})
    assert [one.rule for one in made.before[1]] == ["schema"] and [one.rule for one in made.after[1]] == ["kit-seals"]


def test_what_is_no_text_is_left_alone(plan_for) -> None:
    made = plan_for({KIT: b"---\xff\n \n", "entries/kits/other.md": b"---\nkind: kit \x07\n---\n\n\n"})
    assert made.changed == []


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_the_patch_is_one_that_git_applies(tmp_path: Path, plan_for, ends: str) -> None:
    """Git itself is the judge of the form."""
    texts = {**book(KIT, "from: oval-9", "from: Oval-9"), SWITCH: base_book()[SWITCH].rstrip("\n")}
    files = {name: text.replace("\n", ends).encode() for name, text in texts.items()}
    made = plan_for(files)
    for name, data in files.items():
        (tmp_path / name).parent.mkdir(parents=True)
        (tmp_path / name).write_bytes(data)
    (tmp_path / "a.patch").write_bytes("".join(map(patch, made.changed)).encode())
    subprocess.run(["git", "init", "-q", "."], cwd=tmp_path, check=True)
    subprocess.run(["git", "apply", "a.patch"], cwd=tmp_path, check=True)
    assert {one.file: (tmp_path / one.file).read_bytes() for one in made.changed} == {one.file: one.after for one in made.changed}
    assert len(made.changed) == 2

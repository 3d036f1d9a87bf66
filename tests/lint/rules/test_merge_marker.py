"""merge-marker. The forms are those of git-merge(1), "HOW CONFLICTS ARE PRESENTED", in both of its styles, made by git itself."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from rangebook.lint.examples import base_book

KIT = "entries/kits/oval-9-renewal.md"


def _book(prose: str) -> dict[str, str]:
    return {**base_book(), KIT: base_book()[KIT].rstrip("\n") + f"\n{prose}\n"}


@pytest.mark.parametrize("style", ["merge", "diff3", "zdiff3"])
def test_every_line_that_git_writes_is_found(look, tmp_path: Path, style: str) -> None:
    for name, line in (("base", "Crimp."), ("ours", "Crimp, do not solder."), ("theirs", "Solder.")):
        (tmp_path / name).write_text(_book(line)[KIT], "utf-8")
    command = ["git", "merge-file", "-p", f"--{style}" if style != "merge" else "--ours", "ours", "base", "theirs"]
    command = [word for word in command if word != "--ours"]
    text = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False).stdout
    found = look("merge-marker", {**base_book(), KIT: text})
    signs = ["<<<<<<< ours", *([] if style == "merge" else ["||||||| base"]), "=======", ">>>>>>> theirs"]
    assert [one.at for one in found] == signs


def test_in_the_front_matter_it_is_found_beside_what_cannot_be_read(look) -> None:
    text = base_book()[KIT].replace("kind: kit\n", "kind: kit\n<<<<<<< HEAD\n", 1)
    assert [one.at for one in look("merge-marker", {KIT: text})] == ["<<<<<<< HEAD"]
    assert look("merge-marker", {KIT: "<<<<<<< HEAD\n" + base_book()[KIT]}), "nothing of this file can be read"


@pytest.mark.parametrize("prose", [">>>>>>> seals", "<<<<<<<", "<<<<<<< HEAD", "||||||| 1a2b3c4"])
def test_what_is_left_of_one_is_found(look, prose: str) -> None:
    assert [one.at for one in look("merge-marker", _book(prose))] == [prose]


@pytest.mark.parametrize(
    "prose",
    [
        "Setting\n=======\n\nWords.",
        "=======",
        "|a|b|\n|-|-|\n|||||||",
        "<<<<<<<<< nine",
        "a <<<<<<< b",
        "    <<<<<<< in a drawing",
        ">>>>>>>> eight",
    ],
)
def test_what_is_none_is_let_be(look, prose: str) -> None:
    assert look("merge-marker", _book(prose)) == []


def test_a_heading_behind_a_merge_is_none(look) -> None:
    assert len(look("merge-marker", _book("<<<<<<< a\nx\n=======\ny\n>>>>>>> b\n\nSetting\n=======\n"))) == 3

"""``rangebook impact``: what a change in the working tree does to the answers, against the answers of both states themselves."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.committing import git

from rangebook.cli import main

ROOT = Path(__file__).parents[2]

UNSAFE = ("switches/tamblin-lever.md", "closed: [P, N]", "closed: [P, N, D]")
"""The first part of the family, TB-10263, closes the start contact in D too."""


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """The demo book in a folder of a repository, committed."""
    root = tmp_path / "repository" / "our book"
    root.mkdir(parents=True)
    shutil.copytree(ROOT / "entries", root / "entries")
    git(root.parent, "init", "-q", "-b", "main")
    git(root.parent, "add", "-A")
    git(root.parent, "commit", "-q", "-m", "one")
    return root


def edit(book: Path, file: str, old: str, new: str, count: int = 1) -> None:
    path = book / "entries" / file
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, count), "utf-8")


def impact(book: Path, capsys: pytest.CaptureFixture, *words: str) -> str:
    capsys.readouterr()
    assert main(["impact", *words, "--root", str(book)]) == 0
    return capsys.readouterr().out


def data(book: Path, capsys: pytest.CaptureFixture, *words: str) -> dict:
    return json.loads(impact(book, capsys, *words, "--format", "json"))


def answers(book: Path, capsys: pytest.CaptureFixture, removed: str) -> dict[tuple[str, str, str], dict]:
    """What ``rangebook fit`` says: family, plug and candidate -> its answer, for the seats that the part came with."""
    capsys.readouterr()
    assert main(["fit", removed, "--json", "--root", str(book)]) == 0
    seats = json.loads(capsys.readouterr().out)["seats"]
    return {
        (seat["family"], seat["plug"], one["number"]): one for seat in seats if seat["how"] == "came_with" for one in seat["candidates"]
    }


def test_nothing_differs(book: Path, capsys: pytest.CaptureFixture) -> None:
    assert "Nothing in the book differs." in impact(book, capsys)
    assert "Nothing in the book differs." in impact(book, capsys, "--format", "markdown")
    found = data(book, capsys)
    assert [found[key] for key in ("files", "verdicts", "chains", "pages")] == [[], [], [], []]
    assert found["commit"] == git(book, "rev-parse", "HEAD").strip()


def test_it_says_what_fit_says_before_and_after(book: Path, capsys: pytest.CaptureFixture) -> None:
    before = answers(book, capsys, "TB-10263")
    edit(book, *UNSAFE)
    after = answers(book, capsys, "TB-10263")
    differing = {key for key in {**before, **after} if before.get(key) != after.get(key)}
    told = {}
    for one in data(book, capsys)["verdicts"]:
        if one["came_with"] == "TB-10263":
            told[one["family"], one["plug"], one["number"]] = one
    assert set(told) == differing and differing
    for key, one in told.items():
        for side, said in (("old", before.get(key)), ("new", after.get(key))):
            assert one[side]["verdict"] == (said["verdict"] if said else "no")
            if said:
                assert {name: one[side][name] for name in ("moves", "unused_pins", "reasons")} == {
                    name: said[name] for name in ("moves", "unused_pins", "reasons")
                }
                # What there is to order beside the bag is told in impact as well.
                assert [{**need, "to_order": need.get("to_order")} for need in said["needs"]] == [
                    {**need, "to_order": None} for need in one[side]["needs"]
                ]


def test_a_safe_answer_made_unsafe_comes_first(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, *UNSAFE)
    found = data(book, capsys)
    first = found["verdicts"][0]
    assert (first["number"], first["old"]["verdict"], first["new"]["verdict"]) == ("TB-10263", "straight", "no")
    assert "the safety check says something else" in first["safety"]
    assert any("could turn in gear" in text for text in first["new"]["safety"]) and first["old"]["safety"] == []
    flags = [bool(one["safety"]) for one in found["verdicts"]]
    assert flags == sorted(flags, reverse=True) and found["safety"] == sum(flags) > 0
    (circuit,) = found["circuits"]
    assert circuit["name"] == "TB-10263" and "closed in P and N;" in circuit["old"] and "closed in P, N and D;" in circuit["new"]
    assert [one["rule"] for one in found["findings"]["came"]] == ["start-path"] and found["findings"]["went"] == []
    assert {"kind": "switch", "id": "tamblin-lever", "url": "switches/tamblin-lever/"}.items() <= found["pages"][0].items()


@pytest.mark.parametrize("how", [(), ("--format", "markdown")])
def test_reports_for_people_have_the_reasons_and_safety_first(book: Path, capsys: pytest.CaptureFixture, how: tuple[str, ...]) -> None:
    edit(book, *UNSAFE)
    said = impact(book, capsys, *how).replace("\\", "")
    places = [
        said.index(text) for text in ("Look at these first: safety", "Start and backup circuits", "Findings that came", "Pages touched")
    ]
    assert places == sorted(places)
    assert "was: behaviour: it is the part that it came with" in said
    assert "now: safety: the starter could turn in gear" in said
    assert "fits as it is" in said and "does not fit" in said and "Corran Sallow 1.6 1991-1998" in said
    assert "the tip of main" in said


def test_what_becomes_fitting_is_for_safety_to_look_at(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "a part that is not safe")
    edit(book, UNSAFE[0], UNSAFE[2], UNSAFE[1])
    first = data(book, capsys)["verdicts"][0]
    assert (first["old"]["verdict"], first["new"]["verdict"]) == ("no", "straight")
    assert first["safety"][0] == "what was not to be fitted now is"


def test_the_same_mistake_in_both_parts_changes_no_verdict_between_them_and_is_told(book: Path, capsys: pytest.CaptureFixture) -> None:
    """Every contact of the backup lamps closes in N too: all parts of the family still do the same."""
    edit(book, "switches/penvose-ladder.md", "closed: [R]", "closed: [R, N]", 99)
    found = data(book, capsys)
    names = {one["name"] for one in found["circuits"]}
    changed = (book / "entries/switches/penvose-ladder.md").read_text("utf-8").count("closed: [R, N]")
    assert len(names) >= 2 and changed >= 2
    assert all("closed in" in one["new"] for one in found["circuits"])


def test_an_entry_that_is_broken_now(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, "switches/tamblin-drum.md", "kind: switch", "kind: [switch")
    found = data(book, capsys)
    (file,) = found["files"]
    assert (file["file"], file["how"], file["broken"]) == ("entries/switches/tamblin-drum.md", "changed", True)
    assert file["problems"][0]["line"] == 2
    own = [one for one in found["verdicts"] if one["family"] == "tamblin-drum"]
    assert own and {one["new"]["state"] for one in own} == {"broken"} and all(one["new"]["verdict"] is None for one in own)
    assert {one["number"] for one in found["chains"] if one["broken"]} == {"TB-2270"}
    for how in ((), ("--format", "markdown")):
        said = impact(book, capsys, *how).replace("\\", "")
        assert "no longer known" in said and "tamblin-drum.md" in said and "cannot be read as it is" in said
    git(book, "commit", "-qam", "broken")
    git(book, "checkout", "-q", "HEAD~1", "--", ".")
    found = data(book, capsys, "HEAD")
    assert found["files"][0]["was_broken"] and {one["old"]["state"] for one in found["verdicts"]} == {"broken"}


def test_entries_that_came_and_went(book: Path, capsys: pytest.CaptureFixture) -> None:
    text = (book / "entries/switches/tamblin-drum.md").read_text("utf-8")
    (book / "entries/switches/tamblin-drum.md").unlink()
    copy = re.sub(r"\b(TB-2\d+)", r"\1-X", text).replace("id: tamblin-drum", "id: tamblin-drumx")
    (book / "entries/switches/tamblin-drumx.md").write_text(copy, "utf-8")  # not added to git
    found = data(book, capsys)
    assert {(one["file"], one["how"]) for one in found["files"]} == {
        ("entries/switches/tamblin-drum.md", "removed"),
        ("entries/switches/tamblin-drumx.md", "added"),
    }
    came = {one["number"] for one in found["verdicts"] if one["old"]["state"] == "not_in_book"}
    went = {one["number"] for one in found["verdicts"] if one["new"]["state"] == "not_in_book"}
    assert {f"{number}-X" for number in went} == came == {"TB-2270-X", "TB-2276-X", "TB-2319-X"}
    said = impact(book, capsys)
    assert "New answers" in said and "Answers that are gone" in said


NO_NEED = dict.fromkeys(("kit", "seal", "blanks", "part", "item", "count", "once", "work", "with", "note"))


def test_chain_ends(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, "switches/tamblin-drum.md", "status: current", "status: discontinued")
    (chain,) = data(book, capsys)["chains"]
    assert chain["number"] == "TB-2270" and chain["old"][0]["status"] == "current" and chain["new"][0]["status"] == "discontinued"
    assert chain["new"][0]["needs"] == [{**NO_NEED, "kit": "round-5-to-oval-13", "seal": 4}]
    said = impact(book, capsys)
    assert "was: TB-2319 (current, with kit round-5-to-oval-13, seal for 4)" in said and "now: TB-2319 (discontinued" in said


def test_a_finding_that_only_moved_did_not_come(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "with a finding")
    edit(book, "switches/tamblin-lever.md", "title:", "# a line more\ntitle:")
    found = data(book, capsys)
    assert found["findings"] == {"came": [], "went": []} and found["verdicts"] == []
    assert [one["file"] for one in found["files"]] == ["entries/switches/tamblin-lever.md"]


@pytest.mark.slow
def test_a_schema_of_the_book_s_own_that_changed(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "schema").mkdir()
    circuits = json.loads((ROOT / "schema/circuits.json").read_text("utf-8"))
    del circuits["circuits"]["start_out"]
    (book / "schema/circuits.json").write_text(json.dumps(circuits), "utf-8")
    found = data(book, capsys)
    assert found["schema_changed"] and {one["rule"] for one in found["findings"]["came"]} >= {"unknown-circuit"}
    assert "The schema changed" in impact(book, capsys) and "The schema changed" in impact(book, capsys, "--format", "markdown")
    git(book, "add", "-A")
    git(book, "commit", "-qm", "schema")
    assert "Nothing in the book differs." in impact(book, capsys)
    (book / "schema/circuits.json").write_text("{", "utf-8")
    git(book, "commit", "-qam", "broken schema")
    (book / "schema/circuits.json").unlink()
    assert main(["impact", "HEAD", "--root", str(book)]) == 2
    assert "schema/circuits.json is not JSON" in capsys.readouterr().err


@pytest.mark.slow
def test_against_a_commit_that_had_no_book(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    git(tmp_path, "init", "-q", "-b", "main")
    git(tmp_path, "commit", "-q", "--allow-empty", "-m", "nothing")
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    found = data(tmp_path, capsys)
    assert {one["how"] for one in found["files"]} == {"added"} and len(found["files"]) == len(list(tmp_path.glob("entries/*/*.md")))
    assert {one["old"]["state"] for one in found["verdicts"]} == {"not_in_book"}
    assert "no" not in {one["new"]["verdict"] for one in found["verdicts"]}
    said = impact(tmp_path, capsys, "--format", "markdown")
    assert len(said) <= 65_536 and "left out here" in said  # what a comment on GitHub holds (from memory)
    assert said.count("<details>") == said.count("</details>")


def test_a_base_that_does_not_exist(book: Path, capsys: pytest.CaptureFixture) -> None:
    for base in ("nowhere", "", "main:entries", "HEAD~7"):
        assert main(["impact", base, "--root", str(book)]) == 2
        said = capsys.readouterr()
        assert f"there is no commit `{base}` here" in said.err and "git fetch" in said.err and said.out == ""


def test_where_there_is_no_git(tmp_path: Path, book: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    loose = tmp_path / "loose"
    shutil.copytree(book / "entries", loose / "entries")
    assert main(["impact", "--root", str(loose)]) == 2
    assert "is not in a git repository" in capsys.readouterr().err
    monkeypatch.setenv("PATH", "")
    assert main(["impact", "--root", str(book)]) == 2
    assert "git is not installed" in capsys.readouterr().err
    assert main(["impact", "--root", str(tmp_path / "nowhere")]) == 2


def test_a_branch_is_compared_with_where_it_left(book: Path, capsys: pytest.CaptureFixture) -> None:
    git(book, "checkout", "-qb", "mine")
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "mine")
    git(book, "checkout", "-q", "main")
    edit(book, "switches/tamblin-drum.md", "status: current", "status: discontinued")
    git(book, "commit", "-qam", "meanwhile")
    git(book, "checkout", "-q", "mine")
    found = data(book, capsys)
    assert [one["file"] for one in found["files"]] == ["entries/switches/tamblin-lever.md"] and found["chains"] == []
    assert "where this branch left main" in found["base"]
    assert len(data(book, capsys, "main")["files"]) == 2


def test_windows_line_ends_of_a_checkout_are_no_change(book: Path, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/switches/tamblin-lever.md"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert "Nothing in the book differs." in impact(book, capsys)


def test_published_numbers_that_are_gone_are_named(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "entries" / "kits" / "oval-13-renewal.md").unlink()
    assert data(book, capsys)["gone"] == [
        {"number": "TW-9018", "kind": "kit", "entry": "oval-13-renewal", "file": "entries/kits/oval-13-renewal.md"}
    ]
    text = impact(book, capsys)
    assert "1 published number gone" in text and "Published numbers that are gone" in text
    assert "**TW-9018** (oval-13-renewal)" in impact(book, capsys, "--format", "markdown").replace("\\", "")


HALF = [
    (lambda data: data[:700], "half written"),
    (lambda data: b"", "empty"),
    (lambda data: data.replace(b"title: ", b"title: Gr\xf6\xdfe ", 1) + "Größe".encode(), "two encodings"),
    (lambda data: data.replace(b"parts:\n", b"<<<<<<< HEAD\nparts:\n", 1), "a merge that is not done"),
]


@pytest.mark.parametrize("spoil", [spoil for spoil, _ in HALF], ids=[name for _, name in HALF])
def test_an_entry_that_somebody_is_in_the_middle_of(book: Path, capsys: pytest.CaptureFixture, spoil: Callable[[bytes], bytes]) -> None:
    """It is named with what is wrong, none of its answers is called gone for good, and nothing on the disk or in git is another."""
    path = book / "entries/switches/tamblin-lever.md"
    spoilt = spoil(path.read_bytes())
    path.write_bytes(spoilt)
    git(book, "add", "-A")
    before = git(book, "status", "--porcelain")
    found = data(book, capsys)
    assert [(one["file"], one["broken"]) for one in found["files"]] == [("entries/switches/tamblin-lever.md", True)]
    (problem,) = found["files"][0]["problems"][:1]
    assert problem["line"] >= 1 and problem["message"] and problem["fix"]
    assert found["gone"] == [], "what cannot be read is not gone"
    assert {one["new"]["state"] for one in found["verdicts"] if one["family"] == "tamblin-lever"} == {"broken"}
    assert path.read_bytes() == spoilt and git(book, "status", "--porcelain") == before


def test_a_folder_where_an_entry_should_be(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "entries/switches/folder.md").mkdir()
    assert "Nothing in the book differs." in impact(book, capsys)


DELVER = "Corran Delver 2.4, years: 2003-2007, gearbox: Tamblin Short, plug: "


def test_a_vehicle_that_is_moved_to_another_plug_is_told_of(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, "switches/tamblin-lever.md", DELVER + "nine-wire, came_with: TB-11568", DELVER + "six-wire, came_with: TB-11527")
    found = data(book, capsys)
    (one,) = found["applications"]
    assert (one["vehicle"], one["years"], one["change"], one["safety"]) == ("Corran Delver 2.4", "2003-2007", "changed", True)
    # What fit says of the two seats: the first that may be offered, and the seal of the kit for so many wires.
    for side, removed, plug, seal in (("old", "TB-11568", "nine-wire", 9), ("new", "TB-11527", "six-wire", 6)):
        first = next(one for key, one in answers(book, capsys, removed).items() if key[1] == plug)
        assert (one[side]["plug"], one[side]["came_with"], one[side]["first"]) == (plug, removed, first["number"])
        assert [(need["kit"], need["seal"]) for need in one[side]["needs"]] == [("oval-13-renewal", seal)]
    said = impact(book, capsys)
    assert "Corran Delver 2.4 2003-2007 (tamblin-lever): was plug nine-wire, came with TB-11568: TB-12415 fits with other parts" in said
    assert said.index("Look at these first: safety") < said.index("Corran Delver 2.4 2003-2007")


def test_vehicles_that_come_and_go(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, "switches/tamblin-lever.md", "Corran Pintle 3.2, years: 2013-2019", "Corran Pintle 3.6, years: 2020-2024")
    found = data(book, capsys)
    assert {(one["vehicle"], one["change"], one["safety"]) for one in found["applications"]} == {
        ("Corran Pintle 3.2", "gone", False),
        ("Corran Pintle 3.6", "added", False),
    }
    assert next(one["new"]["first"] for one in found["applications"] if one["change"] == "added") == "TB-12433"


def test_a_seat_that_no_vehicle_has_is_called_so(book: Path, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/switches/tamblin-lever.md"
    path.write_text(re.sub(r"  - \{vehicle: Corran Pintle.*\n", "", path.read_text("utf-8")), "utf-8")
    own = [one for one in data(book, capsys)["verdicts"] if one["plug"] == "late-fourteen"]
    assert own and {one["new"]["state"] for one in own} == {"no_vehicle"}
    said = impact(book, capsys)
    assert "No vehicle has this seat any more" in said and "not in the book\n" not in said


def test_two_commits_of_a_bare_repository(
    book: Path, capsys: pytest.CaptureFixture, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing but git's objects: the book stands in a folder of the repository, which has no working tree."""
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "two")
    expected = data(book, capsys, "main~1")
    bare = tmp_path / "bare.git"
    git(tmp_path, "clone", "-q", "--bare", str(book.parent), str(bare))
    capsys.readouterr()
    assert main(["impact", "main~1", "main", "--root", str(bare), "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {**found, "base": ""} == {**expected, "base": ""} and found["first"] > 0
    monkeypatch.chdir(bare)
    monkeypatch.setenv("GIT_DIR", ".")  # as a hook has it
    assert main(["impact", "main", "main~1"]) == 0
    assert "Look at these first: safety" in capsys.readouterr().out
    assert main(["impact", "main", "nowhere"]) == 2


def test_new_is_read_from_git_and_not_from_the_folder(book: Path, capsys: pytest.CaptureFixture) -> None:
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "two")
    shutil.rmtree(book / "entries/switches")
    assert data(book, capsys, "main~1", "main")["first"] > 0


def test_fit_at_an_edition_is_what_fit_said_then(book: Path, capsys: pytest.CaptureFixture, tmp_path: Path) -> None:
    then = answers(book, capsys, "TB-10263")
    git(book, "tag", "edition-1")
    edit(book, *UNSAFE)
    git(book, "commit", "-qam", "two")
    now = answers(book, capsys, "TB-10263")
    bare = tmp_path / "bare.git"
    git(tmp_path, "clone", "-q", "--bare", str(book.parent), str(bare))
    for root in (book, bare):
        capsys.readouterr()
        assert main(["fit", "TB-10263", "--json", "--at", "edition-1", "--root", str(root)]) == 0
        found = json.loads(capsys.readouterr().out)
        told = {(seat["family"], seat["plug"], one["number"]): one for seat in found["seats"] for one in seat["candidates"]}
        assert {key: told[key] for key in then} == then != now
        assert found["at"] == {"commit": git(book, "rev-parse", "edition-1"), "words": f"edition-1 ({found['at']['commit'][:10]})"}
    assert main(["fit", "TB-10263", "--at", "edition-1", "--root", str(book)]) == 0
    assert capsys.readouterr().out.startswith("As the book was at edition-1")
    assert main(["fit", "TB-10263", "--at", "nowhere", "--root", str(book)]) == 2


def test_a_record_of_the_bay_that_says_otherwise_now(book: Path, capsys: pytest.CaptureFixture) -> None:
    """It is told as a fact, with the finding where it speaks against the answer; no verdict goes by it."""
    edit(
        book,
        "switches/halvik-line.md",
        "fitted: [{on: 2024-06-11, by: bay 1, outcome: works",
        "fitted: [{on: 2024-06-11, by: bay 1, outcome: fails",
    )
    found = data(book, capsys)
    (fact,) = found["facts"]
    assert fact["at"].endswith("fitted.1.outcome") and (fact["old"], fact["new"]) == ("works", "fails")
    assert found["verdicts"] == [] and [one["rule"] for one in found["findings"]["came"]] == ["tried-otherwise"]

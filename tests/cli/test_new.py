"""``rangebook new``: what it writes lints but for what it marks, and it never writes over anything."""

from __future__ import annotations

import json
import os
import select
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from rangebook.cli import main

ROOT = Path(__file__).parents[2]

CONNECTOR = ("connector", "--title", "Nine-way oval", "--outline", "oval", "--rows", "1 2 3 4 5 / 6 7 8 9")
KIT = ("kit", "--title", "Plug renewal, test", "--number", "TW-9100", "--from", "oval-13", "--to", "wedge-14", "--moves", "1=1, 2=2")
SWITCH = ("switch", "--title", "Tamblin test", "--number", "TB-77001", "--positions", "P R N D 2 1", "--connector", "oval-13")
FOUR = ("start_feed", "start_out", "backup_feed", "backup_out")
SOURCE = ("--sources", 'kind: seen, detail: "measured on the bench", by: bench, on: 2026-02-11')


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A copy of the demo book."""
    shutil.copytree(ROOT / "entries", tmp_path / "entries")
    return tmp_path


def new(book: Path, *words: str) -> int:
    return main(["new", *words, "--root", str(book)])


def findings(book: Path, capsys: pytest.CaptureFixture) -> list[dict]:
    capsys.readouterr()
    main(["lint", "--root", str(book), "--format", "json"])
    return json.loads(capsys.readouterr().out)


def files(book: Path) -> dict[str, bytes]:
    return {str(path.relative_to(book)): path.read_bytes() for path in sorted(book.rglob("*")) if path.is_file()}


@pytest.mark.parametrize(
    ("words", "file"),
    [
        ((*CONNECTOR, "--sealed", "yes"), "entries/connectors/nine-way-oval.md"),
        (KIT, "entries/kits/plug-renewal-test.md"),
        ((*SWITCH, "--id", "tamblin-test-4"), "entries/switches/tamblin-test-4.md"),
    ],
)
def test_what_is_known_is_written_and_lints(book: Path, capsys: pytest.CaptureFixture, words: tuple[str, ...], file: str) -> None:
    before = files(book)
    assert new(book, *words) == 0
    said = capsys.readouterr().out
    assert str(book / file) in said and "rangebook lint" in said
    after = files(book)
    assert set(after) - set(before) == {file} and all(after[name] == data for name, data in before.items())
    found = findings(book, capsys)
    assert not [one for one in found if one["severity"] == "error"]
    marked = [one for one in found if one["rule"] == "left-to-do"]
    assert len(marked) == after[file].decode().count("# TODO") > 0
    assert {one["file"] for one in found} == {file}


OPEN = [("connector", ["outline", "rows"]), ("kit", ["from", "to", "moves"]), ("switch", ["positions"])]


@pytest.mark.parametrize(("kind", "open_keys"), OPEN)
def test_what_is_needed_and_not_known_is_where_the_linter_stops(
    book: Path, capsys: pytest.CaptureFixture, kind: str, open_keys: list[str]
) -> None:
    number = () if kind == "connector" else ("--number", "ZZ-1")
    assert new(book, kind, "--title", "Not much known", *number) == 0
    (path,) = book.glob("entries/*/not-much-known.md")
    lines = path.read_text("utf-8").split("\n")
    assert [line for line in lines if line.endswith(": TODO")] == [f"{key}: TODO" for key in open_keys]
    errors = [one for one in findings(book, capsys) if one["severity"] == "error"]
    assert [lines[one["line"] - 1] for one in errors] == [f"{key}: TODO" for key in open_keys]
    assert {one["rule"] for one in errors} == {"schema"}


def test_filled_in_nothing_is_open(book: Path, capsys: pytest.CaptureFixture) -> None:
    words = (*CONNECTOR, "--sealed", "yes", "--terminal", "style: blade, width_mm: 2.8, on_switch: male", *SOURCE)
    assert new(book, *words) == 0
    assert "TODO" not in capsys.readouterr().out
    text = (book / "entries/connectors/nine-way-oval.md").read_text("utf-8")
    assert text == (
        "---\nkind: connector\nid: nine-way-oval\ntitle: Nine-way oval\noutline: oval\nrows:\n  - [1, 2, 3, 4, 5]\n  - [6, 7, 8, 9]\n"
        "terminal: {style: blade, width_mm: 2.8, on_switch: male}\nsealed: yes\nsources:\n"
        "  - {kind: seen, detail: measured on the bench, by: bench, on: 2026-02-11}\n---\n"
    )
    assert [one["rule"] for one in findings(book, capsys)] == ["unused-entry"]  # so far


def test_a_whole_switch_with_its_vehicle_is_answered_for(book: Path, capsys: pytest.CaptureFixture) -> None:
    wires = ", ".join(f"{cavity}: {{circuit: {name}}}" for cavity, name in enumerate(FOUR, 1))
    words = (
        *SWITCH,
        *("--gearboxes", "Tamblin Nook", "--mount", "boss", "--status", "current"),
        *("--mounts", "boss: {shaft: {shape: double-flat, across_mm: 9.5}, bolts: [{at_mm: 38, at_deg: 0, bolt_mm: 6, hole_mm: 6.6}]}"),
        *("--pins", "1: start_feed, 2: start_out", "--pins", "3: backup_feed, 4: backup_out"),
        *("--contacts", "pins: [1, 2], closed: [P, N]", "--contacts", "pins: [3, 4], closed: [R]"),
        *("--plugs", f"four: {{connector: oval-13, wires: {{{wires}}}}}"),
        *("--applications", "vehicle: Corran Nova 2.0, years: 2001-2003, gearbox: Tamblin Nook, plug: four, came_with: TB-77001"),
        *("--fitting", "set_in: N, torque_nm: 9"),
        *SOURCE,
    )
    assert new(book, *words) == 0
    assert [one for one in findings(book, capsys) if one["severity"] == "error"] == []
    assert main(["fit", "tb77001", "--root", str(book), "--json"]) == 0
    seats = json.loads(capsys.readouterr().out)["seats"]
    assert [one["verdict"] for one in seats[0]["candidates"] if one["number"] == "TB-77001"] == ["straight"]


BAD = [
    (("connector", "--title", "x", "--outline", "ovall"), "did you mean `oval`"),
    (("connector", "--title", "x", "--outline", "oval", "--rows", "1 2 / 1!"), "cavity label"),
    (("connector", "--title", "x", "--sealed", "maybe"), "`yes` or `no`"),
    (("connector", "--title", "x", "--id", "Not An Id"), "small letters"),
    (("connector", "--title", "x", "--terminal", "style: [blade"), "cannot be read"),
    (("connector", "--title", "x", "--terminal", "width_mm: wide"), "width in millimetres"),
    (("connector", "--title", "???"), "no name for a file can be made of it; state one with --id"),
    (("kit", "--title", "x", "--number", "TW-9100", "--to", "oval-99"), "no connector oval-99"),
    (("kit", "--title", "x", "--number", "TW-9100", "--seals", "six"), "a number of wire holes"),
    (("kit", "--title", "x", "--number", "tw 9018"), "is in the book already"),
    (("switch", "--title", "x", "--number", "tb50726"), "is in the book already"),
    (("switch", "--title", "x", "--number", "TB-77001", "--pins", "1: start_fed"), "start_feed"),
    (("switch", "--title", "x", "--number", "TB-77001", "--contacts", ""), "nothing was given"),
    (("switch", "--title", "x", "--number", "TB-77001", "--positions", "P R N D", "--contacts", "pins: [1]"), "two pins"),
    (("switch", "--title", "x", "--number", "TB-77001", "--from-number", "TB-5072"), "TB-50726"),
    (("switch", "--title", "x", "--number", "TB-77001", "--same", "pins"), "--from-number"),
    (("switch", "--title", "x", "--number", "TB-77001", "--from-number", "TB-50726", "--same", "signals"), "does not say"),
    (("connector", "--title", "x", "--id", "wedge-14"), "already"),
]


@pytest.mark.parametrize(("words", "said"), BAD, ids=[" ".join(words)[:60] for words, _ in BAD])
def test_what_will_not_do_is_refused_and_nothing_is_written(
    book: Path, capsys: pytest.CaptureFixture, words: tuple[str, ...], said: str
) -> None:
    before = files(book)
    assert new(book, *words) == 1
    assert said in capsys.readouterr().err
    assert files(book) == before


def test_an_unsafe_contact_is_refused(book: Path, capsys: pytest.CaptureFixture) -> None:
    words = (*SWITCH, "--pins", "1: start_feed, 2: start_out", "--contacts", "pins: [1, 2], closed: [P, N, D]")
    assert new(book, *words) == 1
    said = capsys.readouterr()
    assert "starter could turn in gear" in said.err and "closed: [P, N, D]" in said.out  # what was typed is not lost


MISSING = [(("connector",), "--title"), (("kit",), "--title, --number"), (("switch", "--number", "a"), "--title")]


@pytest.mark.parametrize(("words", "missing"), MISSING)
def test_in_a_pipe_it_says_what_is_missing(book: Path, capsys: pytest.CaptureFixture, words: tuple[str, ...], missing: str) -> None:
    assert new(book, *words) == 2
    assert f"missing: {missing};" in capsys.readouterr().err


def test_a_file_that_the_book_cannot_read_is_not_written_over(book: Path, capsys: pytest.CaptureFixture) -> None:
    path = book / "entries/connectors/nine-way-oval.md"
    path.write_bytes(b"half written")
    assert new(book, *CONNECTOR) == 1
    assert path.read_bytes() == b"half written"
    said = capsys.readouterr()
    assert "already" in said.err and "title: Nine-way oval" in said.out


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="permissions do not bind the superuser")
def test_a_folder_that_must_not_be_written_to(book: Path, capsys: pytest.CaptureFixture) -> None:
    (book / "entries/connectors").chmod(0o500)
    assert new(book, *CONNECTOR) == 1
    assert "Permission denied" in capsys.readouterr().err


def test_the_file_is_readable_by_others(book: Path) -> None:
    assert new(book, *CONNECTOR) == 0
    path = book / "entries/connectors/nine-way-oval.md"
    other = book / "other"
    other.touch()
    assert path.stat().st_mode == other.stat().st_mode
    assert [one.name for one in path.parent.iterdir() if one.name.startswith(".")] == []


def test_beginning_from_another_part_states_nothing_that_was_not_seen(book: Path, capsys: pytest.CaptureFixture) -> None:
    like = ("--from-number", "tb 50726", "--same", "connector", "--same", "positions")
    assert new(book, "switch", "--title", "Like it", "--number", "TB-77001", *like) == 0
    text = (book / "entries/switches/like-it.md").read_text("utf-8")
    stated = [line.strip() for line in text.split("\n") if not line.strip().startswith("#")]
    assert stated == [
        *("---", "kind: switch", "id: like-it", "title: Like it", "positions: [P, R, N, D, 3, 2]", "parts:"),
        *("- number: TB-77001", "connector: square-16", "---", ""),
    ]
    assert "    # contacts:\n    #   - {pins: [1, 5], closed: [P, N]}\n" in text
    assert not [one for one in findings(book, capsys) if one["severity"] == "error"]


def test_uncommented_it_is_the_other_part(book: Path, capsys: pytest.CaptureFixture) -> None:
    same = [word for key in ("connector", "positions", "gearboxes", "mounts", "mount", "pins", "contacts") for word in ("--same", key)]
    assert new(book, "switch", "--title", "All alike", "--number", "TB-77001", "--from-number", "TB-50726", *same) == 0
    assert main(["fit", "TB-50726", "TB-77001", "--root", str(book), "--json"]) == 0
    out = capsys.readouterr().out
    seats = json.loads(out[out.index("{") :])["seats"]
    assert seats and {one["verdict"] for seat in seats for one in seat["candidates"]} == {"straight"}


def test_no_book(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    assert new(tmp_path, *CONNECTOR) == 2
    assert "entries" in capsys.readouterr().err


def _own_terminal() -> None:
    """So that Ctrl-C is a signal to the command, whatever this process does with it."""
    import fcntl
    import termios

    fcntl.ioctl(0, termios.TIOCSCTTY, 0)
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def on_a_terminal(book: Path, words: tuple[str, ...], answers: list[tuple[str, str]]) -> tuple[int, str]:
    """Run the command on a terminal of its own. Each answer is typed once its prompt is there; gives the status and all that was shown."""
    pty = pytest.importorskip("pty")
    ours, theirs = pty.openpty()
    command = (sys.executable, "-m", "rangebook", "new", *words, "--root", str(book))
    environment = {**os.environ, "NO_COLOR": "1"}
    process = subprocess.Popen(
        command,
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=environment,
        start_new_session=True,
        preexec_fn=_own_terminal,  # noqa: PLW1509 - the test has one thread
    )
    os.close(theirs)
    shown, at, end = "", 0, time.monotonic() + 60
    try:
        while True:
            while answers and answers[0][0] in shown[at:]:
                prompt, text = answers.pop(0)
                at = shown.index(prompt, at) + len(prompt)
                if text == "\x03":
                    time.sleep(0.5)  # between showing a prompt and reading an answer nobody is listening for a moment
                os.write(ours, text.encode())
            waited, _, _ = select.select([ours], [], [], max(0, end - time.monotonic()))
            assert waited, f"{answers[:1]} never came: {shown[at:]!r}"
            try:
                more = os.read(ours, 4096)
            except OSError:  # the other end is closed
                break
            if not more:
                break
            shown += more.decode()
        assert not answers, shown
        return process.wait(60), shown
    finally:
        process.kill()
        process.wait()
        os.close(ours)


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_on_a_terminal_it_asks_again_until_the_answer_will_do(book: Path, capsys: pytest.CaptureFixture) -> None:
    answers = [
        ("title: ", "\n"),
        ("this one is needed\r\n  > ", "Nine-way oval\n"),
        ("[nine-way-oval]: ", "Oval 9\n"),
        ("small letters", ""),
        ("[nine-way-oval]: ", "oval-9-late\n"),
        ("outline: ", ""),
        ("  > ", "ovall\n"),
        ("did you mean `oval`", ""),
        ("  > ", "oval\n"),
        ("latch up, count from the top left", ""),
        ("  > ", "1 2 3 4 5 / 6 7 8 9\n"),
        ("terminal: ", ""),
        ("  > ", "\n"),
        ("sources: ", ""),
        ("  > ", "kind: seen, by: bench\n"),
        ("one more, or nothing> ", "kind: hearsey\n"),
        ("did you mean `hearsay`", ""),
        ("one more, or nothing> ", "kind: hearsay\n"),
        ("one more, or nothing> ", "\n"),
    ]
    status, shown = on_a_terminal(book, ("connector", "--sealed", "yes"), answers)
    assert status == 0, shown
    text = (book / "entries/connectors/oval-9-late.md").read_text("utf-8")
    assert "outline: oval\nrows:\n  - [1, 2, 3, 4, 5]\n  - [6, 7, 8, 9]\n# TODO terminal" in text
    assert "sealed: yes\nsources:\n  - {kind: seen, by: bench}\n  - {kind: hearsay}\n---\n" in text
    assert not [one for one in findings(book, capsys) if one["severity"] == "error"]


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_on_a_terminal_only_what_was_seen_is_taken_over(book: Path) -> None:
    answers = [
        ("title: ", ""),
        ("  > ", "Like it\n"),
        ("[like-it]: ", "\n"),
        ("TB-50726 has [Tamblin Stage, Tamblin Stage Cross]", ""),
        ("[y/N]: ", "n\n"),
        ("  > ", "Tamblin Keel\n"),
        ("TB-50726 has [P, R, N, D, 3, 2]", ""),
        ("[y/N]: ", "y\n"),
    ]
    answers += [("[y/N]: ", "n\n"), ("> ", "\n")]  # mounts
    answers += [("[y/N]: ", "yes\n")]  # connector
    answers += [("[y/N]: ", "\n"), ("> ", "\n")]  # mount
    answers += [("status: ", ""), ("> ", "current\n")]
    answers += [("[y/N]: ", "n\n"), ("> ", "1: start_fed\n"), ("start_feed", ""), ("> ", "1: start_feed\n")]  # pins
    answers += [("[y/N]: ", "n\n"), ("> ", "\n")]  # contacts
    answers += [("sources: ", ""), ("> ", "\n"), ("plugs: ", ""), ("> ", "\n"), ("applications: ", ""), ("> ", "\n")]
    answers += [("fitting: ", ""), ("> ", "\n")]
    status, shown = on_a_terminal(book, ("switch", "--number", "TB-77001", "--from-number", "TB-50726"), answers)
    assert status == 0, shown
    stated = [line.strip() for line in (book / "entries/switches/like-it.md").read_text("utf-8").split("\n") if "#" not in line]
    assert stated == [
        *("---", "kind: switch", "id: like-it", "title: Like it", "gearboxes: [Tamblin Keel]", "positions: [P, R, N, D, 3, 2]"),
        *("parts:", "- number: TB-77001", "connector: square-16", "status: current", "pins: {1: start_feed}", "---", ""),
    ]


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
@pytest.mark.parametrize("key", ["\x03", "\x04"], ids=["interrupted", "end of input"])
def test_stopped_half_way_nothing_is_written(book: Path, key: str) -> None:
    before = files(book)
    status, shown = on_a_terminal(book, ("connector",), [("title: ", ""), ("  > ", "Nine\n"), ("[nine]: ", key)])
    assert status == 1 and "nothing was written" in shown
    # What was answered is kept for the next time, in a folder that git does not see.
    kept = {name for name in files(book) if name not in before}
    assert kept == {".rangebook/new-connector.json", ".rangebook/.gitignore"} and before.items() <= files(book).items()


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_no_ask_on_a_terminal(book: Path) -> None:
    status, shown = on_a_terminal(book, ("connector", "--no-ask"), [])
    assert status == 2 and "missing: --title" in shown


PART = ("switch", "--in", "tamblin-lever", "--number", "TB-77001", "--connector", "wedge-14")


def test_a_part_goes_into_its_family_and_touches_nothing_else(book: Path, capsys: pytest.CaptureFixture) -> None:
    were, before = findings(book, capsys), files(book)
    contacts = ("--pins", "1: start_feed, 2: start_out", "--contacts", "pins: [1, 2], closed: [P, N]")
    assert new(book, *PART, *contacts, *SOURCE) == 0
    said = capsys.readouterr().out
    after = files(book)
    changed = [file for file in after if after[file] != before.get(file)]
    assert changed == ["entries/switches/tamblin-lever.md"] and f"Added to {book / changed[0]}" in said
    at, _, rest = after[changed[0]].partition(b"  - number: TB-77001\n")
    assert before[changed[0]].startswith(at) and rest.endswith(before[changed[0]][len(at) :])
    kept = {(one["rule"], one["message"]) for one in were}
    new_ones = {one["rule"] for one in findings(book, capsys) if (one["rule"], one["message"]) not in kept}
    assert new_ones == {"left-to-do"}, "what is not known yet is marked, and nothing else is wrong"
    assert main(["fit", "TB-77001", "--root", str(book), "--json"]) == 0
    assert [seat["family"] for seat in json.loads(capsys.readouterr().out)["seats"]] == []


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (
            ("switch", "--in", "tamblin-levers", "--number", "TB-7"),
            "there is no family tamblin-levers in the book; the nearest: tamblin-lever",
        ),
        ((*PART, "--title", "Other"), "--title is of the whole family: with --in, change it in entries/switches/tamblin-lever.md by hand"),
        ((*PART, "--mount", "no-boss"), "no-boss, which is not described under `mounts`"),
        ((*PART, "--contacts", "pins: [1, 2], closed: [X]"), "X"),
        (("switch", "--in", "tamblin-lever", "--number", "tb 10263"), "TB-10263 is in the book already"),
    ],
)
def test_a_part_that_its_family_cannot_have(book: Path, capsys: pytest.CaptureFixture, words: tuple[str, ...], why: str) -> None:
    before = files(book)
    assert new(book, *words) == 1
    assert why in capsys.readouterr().err
    assert files(book) == before


def test_a_family_whose_file_is_half_written_is_left_alone(book: Path, capsys: pytest.CaptureFixture) -> None:
    """A family that cannot be read is not in the book; its file is not touched."""
    home = book / "entries/switches/tamblin-lever.md"
    home.write_bytes(home.read_bytes()[:900])
    before = files(book)
    assert new(book, *PART) == 1
    assert "the file of tamblin-lever cannot be read as it is" in capsys.readouterr().err
    assert files(book) == before


def test_a_family_whose_file_must_not_be_written(book: Path, capsys: pytest.CaptureFixture, monkeypatch: pytest.MonkeyPatch) -> None:
    """Root may write everything; for the test nobody may."""
    monkeypatch.setattr(os, "access", lambda *_: False)
    before = files(book)
    assert new(book, *PART) == 1
    assert "it is write-protected" in capsys.readouterr().err
    assert files(book) == before


def test_like_another_part_in_the_same_family(book: Path, capsys: pytest.CaptureFixture) -> None:
    """What the other one has stands there as comments; nothing of it is stated."""
    assert new(book, *PART, "--from-number", "TB-10263") == 0
    text = (book / "entries/switches/tamblin-lever.md").read_text("utf-8").split("  - number: TB-77001\n")[1].split("\nplugs:")[0]
    stated = [line.strip().split(":")[0] for line in text.split("\n") if line.startswith("    ") and not line.strip().startswith("#")]
    assert stated == ["connector"] and "TB-10263 has this" in text


def test_a_part_with_several_connectors_is_not_asked_for_the_one(book: Path, capsys: pytest.CaptureFixture) -> None:
    said = ("--connectors", "main: square-9, lamp: round-5", "--pins", "main.B=start_feed, main.C: start_out, lamp.2: backup_feed")
    assert new(book, "switch", "--in", "harnby-pair", "--number", "PW 671.099", *said, *SOURCE) == 0
    text = (book / "entries/switches/harnby-pair.md").read_text("utf-8").partition("PW 671.099")[2].partition("\nplugs:")[0]
    assert "connectors: {main: square-9, lamp: round-5}" in text and "TODO connector" not in text
    assert "pins: {main.B: start_feed, main.C: start_out, lamp.2: backup_feed}" in text
    capsys.readouterr()
    assert {one["rule"] for one in findings(book, capsys)} == {"left-to-do"}


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_choices_have_numbers_and_a_sign_goes_back(book: Path) -> None:
    answers = [
        ("title: ", ""),
        ("  > ", "Nine-way oval\n"),
        ("[nine-way-oval]: ", "\n"),
        ("1  oval", ""),
        ("2  rectangular", ""),
        ("  > ", "<\n"),
        ("[nine-way-oval]: ", "oval-9-late\n"),
        ("outline: ", ""),
        ("  > ", "2\n"),
        ("rows: ", ""),
        ("  > ", "<\n"),
        ("outline: ", ""),
        ("  > ", "1\n"),
        ("rows: ", ""),
        ("  > ", "1 2 3\n"),
        *((prompt, answer) for key in ("terminal", "sealed", "sources") for prompt, answer in ((f"{key}: ", ""), ("> ", "\n"))),
    ]
    status, shown = on_a_terminal(book, ("connector",), answers)
    assert status == 0, shown
    assert "outline: oval\nrows:\n  - [1, 2, 3]\n" in (book / "entries/connectors/oval-9-late.md").read_text("utf-8")


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_what_was_answered_is_kept_and_offered(book: Path) -> None:
    before = files(book)
    answers = [("title: ", ""), ("  > ", "Nine-way oval\n"), ("[nine-way-oval]: ", "oval-9-late\n"), ("outline: ", ""), ("  > ", "\x03")]
    status, shown = on_a_terminal(book, ("connector",), answers)
    assert status == 1 and "What was answered is kept" in shown
    assert {name: data for name, data in files(book).items() if not name.startswith(".rangebook")} == before
    answers = [("Go on with it? [Y/n]: ", "\n"), ("outline: ", ""), ("  > ", "oval\n"), ("rows: ", ""), ("  > ", "1 2 3\n")]
    answers += [pair for key in ("terminal", "sealed", "sources") for pair in ((f"{key}: ", ""), ("> ", "\n"))]
    status, shown = on_a_terminal(book, ("connector",), answers)
    assert status == 0 and (book / "entries/connectors/oval-9-late.md").is_file(), shown
    assert not list(book.glob(".rangebook/new-*")), "it is offered once"


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_an_answer_that_the_linter_refuses_is_told_at_once(book: Path) -> None:
    answers = [
        ("title: ", ""),
        ("  > ", "Kit\n"),
        ("number: ", ""),
        ("  > ", "TW-9018\n"),  # a kit of the book
        ("is in the book already", ""),
        ("  > ", "\x03"),
    ]
    status, _ = on_a_terminal(book, ("kit",), answers)
    assert status == 1
    flags = ("--number", "ZZ-1", "--positions", "P R N D", "--connector", "oval-13", "--pins", "1: start_feed, 2: start_out")
    skipped = [("mounts: ", ""), ("> ", "\n"), ("mount: ", ""), ("> ", "\n"), ("status: ", ""), ("> ", "\n")]
    answers = [("title: ", ""), ("> ", "Z\n"), ("[z]: ", "\n"), ("gearboxes: ", ""), ("> ", "\n"), *skipped, ("contacts: ", "")]
    answers += [("> ", "pins: [1, 2], closed: [P, N, D]\n"), ("could turn in gear", ""), ("> ", "\x03")]
    status, _ = on_a_terminal(book, ("switch", *flags), answers)
    assert status == 1


@pytest.mark.skipif(os.name == "nt", reason="no such terminals")
def test_a_part_of_a_family_is_checked_answer_by_answer(book: Path) -> None:
    """Its mounts are the choices, the linter looks at the family with the part in it, and what was answered is kept for this family."""
    before = files(book)
    answers = [
        ("mount: ", ""),
        ("1  short-boss", ""),
        ("> ", "2\n"),
        ("    long-boss", ""),
        ("status: ", ""),
        ("> ", "\n"),
        ("pins: ", ""),
        ("> ", "1: start_feed, 2: start_out\n"),
        ("contacts: ", ""),
        ("> ", "pins: [1, 2], closed: [P, N, D]\n"),
        ("could turn in gear", ""),
        ("> ", "pins: [1, 2], closed: [P, N]\n"),
        ("> ", "\x03"),
    ]
    status, shown = on_a_terminal(book, PART, answers)
    assert status == 1 and "`rangebook new switch --in tamblin-lever` offers it" in shown
    assert {name: data for name, data in files(book).items() if not name.startswith(".rangebook")} == before
    status, shown = on_a_terminal(book, PART, [("Go on with it? [Y/n]: ", "y\n"), ("> ", "\x03")])
    assert "mount" in shown and status == 1

"""A bundle: what is in it, that it is the same bytes again, and that no change of it goes unnoticed.

Outside: `sha256sum --check` (GNU coreutils) reads the list, sqlite3 the database, ssh-keygen (OpenSSH) makes and checks signatures.
The form of the descriptor is that of Data Package 1 (https://specs.frictionlessdata.io/tabular-data-package/), from memory.
"""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import sqlite3
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from rangebook.cli import main
from rangebook.site.bundle.archive import below, pack


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("bundle") / "ours"
    assert main(["init", str(folder), "--name", "Hill Road"]) == 0
    return folder


@pytest.fixture(scope="module")
def bundle(book: Path) -> Path:
    assert main(["bundle", "--root", str(book), "--out", str(book.parent / "book.zip")]) == 0
    return book.parent / "book.zip"


@pytest.fixture
def unpacked(bundle: Path, tmp_path: Path) -> Path:
    with zipfile.ZipFile(bundle) as archive:
        archive.extractall(tmp_path / "there")
    return tmp_path / "there"


def verified(path: Path, *words: str) -> int:
    return main(["verify", str(path), *words])


def test_it_holds_the_site_the_data_and_every_hash(bundle: Path, unpacked: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert verified(bundle) == 0 and verified(unpacked) == 0
    assert "nobody's signature was asked for" in capsys.readouterr().out
    subprocess.run(["sha256sum", "--check", "--strict", "--quiet", "SHA256SUMS"], cwd=unpacked, check=True)
    assert (unpacked / "site" / "index.html").is_file() and (unpacked / "open.py").is_file()


def test_the_tables_agree_with_each_other_and_with_the_answers(book: Path, unpacked: Path, capsys: pytest.CaptureFixture[str]) -> None:
    described = json.loads((unpacked / "data" / "datapackage.json").read_text("utf-8"))
    assert described["title"] == "Hill Road"
    database = sqlite3.connect(unpacked / "data" / "book.sqlite")
    for one in described["resources"]:
        rows = list(csv.reader(io.StringIO((unpacked / "data" / one["path"]).read_text("utf-8"))))
        assert rows[0] == [field["name"] for field in one["schema"]["fields"]] and len(rows) > 1
        stored = database.execute(f'SELECT * FROM "{one["name"]}"').fetchall()
        assert [["" if cell is None else str(cell).removesuffix(".0") for cell in row] for row in stored] == rows[1:]
    assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    capsys.readouterr()
    main(["fit", "EX-1001", "--json", "--root", str(book)])
    seat = json.loads(capsys.readouterr().out)["seats"][0]
    answers = dict(database.execute("SELECT candidate, verdict FROM answers"))
    assert answers == {one["number"]: one["verdict"] for one in seat["candidates"]}
    assert database.execute("SELECT kits FROM answers WHERE candidate = 'EX-1002'").fetchone() == ("EX-9001",)


@pytest.mark.slow
def test_it_is_the_same_bytes_from_elsewhere(book: Path, bundle: Path, tmp_path: Path) -> None:
    """Another folder, order of sets, mask, zone and language."""
    copy = tmp_path / "a folder of another name"
    shutil.copytree(book, copy)
    command = [sys.executable, "-m", "rangebook", "bundle", "--root", str(copy), "--out", str(tmp_path / "again.zip")]
    env = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    subprocess.run(command, env=env, check=True, capture_output=True, umask=0o077)
    assert (tmp_path / "again.zip").read_bytes() == bundle.read_bytes()


@pytest.mark.parametrize("change", ["edited", "gone", "added", "renamed", "no list", "list of another"])
def test_no_change_goes_unnoticed(unpacked: Path, tmp_path: Path, change: str, capsys: pytest.CaptureFixture[str]) -> None:
    file, sums = unpacked / "data" / "answers.csv", unpacked / "SHA256SUMS"
    if change == "edited":
        file.write_text(file.read_text("utf-8").replace("with_parts", "straight"), "utf-8")
    elif change == "gone":
        file.unlink()
    elif change == "added":
        (unpacked / "site" / "more.html").write_text("", "utf-8")
    elif change == "renamed":
        file.rename(file.with_name("others.csv"))
    elif change == "no list":
        sums.unlink()
    else:
        sums.write_text("no list of hashes\n", "utf-8")
    pack(below(unpacked), tmp_path / "changed.zip")
    for one in (unpacked, tmp_path / "changed.zip"):
        assert verified(one) == 1
        said = capsys.readouterr().err
        assert ("SHA256SUMS" if "list" in change else "more.html" if change == "added" else "answers.csv") in said


def test_a_zip_that_is_none_and_one_with_a_name_twice(bundle: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "short.zip").write_bytes(bundle.read_bytes()[:-30])
    assert verified(tmp_path / "short.zip") == 1
    shutil.copy(bundle, tmp_path / "twice.zip")
    with zipfile.ZipFile(tmp_path / "twice.zip", "a") as archive, pytest.warns(UserWarning, match="Duplicate name"):
        archive.writestr("site/index.html", "another")
    assert verified(tmp_path / "twice.zip") == 1
    assert "twice" in capsys.readouterr().err
    assert verified(tmp_path / "nowhere.zip") == 2


@pytest.mark.skipif(shutil.which("ssh-keygen") is None, reason="needs Debian's openssh-client")
def test_who_signed_it_is_told_by_a_list_of_keys_from_elsewhere(book: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("bench", "other"):
        subprocess.run(["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", name, "-f", str(tmp_path / name)], check=True)
    signers = tmp_path / "signers"
    signers.write_text(f"bench@example.org {(tmp_path / 'bench.pub').read_text('utf-8')}", "utf-8")
    assert main(["bundle", "--root", str(book), "--out", str(tmp_path / "book.zip"), "--sign", str(tmp_path / "bench")]) == 0
    by = ("--signers", str(signers), "--by", "bench@example.org")
    assert verified(tmp_path / "book.zip", *by) == 0
    assert "signed by bench@example.org" in capsys.readouterr().out
    signers.write_text(f"bench@example.org {(tmp_path / 'other.pub').read_text('utf-8')}", "utf-8")
    assert verified(tmp_path / "book.zip", *by) == 1
    assert "is not that of bench@example.org" in capsys.readouterr().err


def test_one_without_a_signature_is_not_taken_for_signed(bundle: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert verified(bundle, "--signers", str(tmp_path), "--by", "bench") == 1
    assert "it is not signed" in capsys.readouterr().err
    assert verified(bundle, "--by", "bench") == 2


def test_nothing_that_is_there_is_written_over(book: Path, bundle: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = bundle.read_bytes()
    assert main(["bundle", "--root", str(book), "--out", str(bundle)]) == 2
    assert "it was left as it is" in capsys.readouterr().err
    assert bundle.read_bytes() == before
    assert [path.name for path in bundle.parent.iterdir() if path.name.startswith(".")] == []


def test_it_shows_itself(unpacked: Path) -> None:
    """The launcher serves the site to this machine; the page is the one in the bundle."""
    import urllib.request

    env = {**os.environ, "BROWSER": "true", "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen([sys.executable, str(unpacked / "open.py")], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=env) as shown:
        try:
            assert shown.stdout is not None
            address = shown.stdout.readline().decode().strip()
            with urllib.request.urlopen(address) as answer:
                assert answer.read() == (unpacked / "site" / "index.html").read_bytes()
        finally:
            shown.kill()

"""Books laid over each other, by the command line: two folders, or what `book.yml` names, by git too."""

from __future__ import annotations

import csv
import io
import json
import shutil
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from tests.committing import git
from tests.site.together import read

from rangebook.cli import main
from rangebook.lint.examples import base_book
from rangebook.reading import fetched

FAMILY = "entries/switches/tamblin-gate.md"
SEEN = "sources: [{kind: seen, by: us, on: 2026-03-02}]"
OWN_PART = f"""  - number: OU-1
    connector: oval-9
    mount: short-boss
    status: current
    pins: {{1: start_feed, 2: start_out, 3: backup_feed, 4: backup_out, 5: range_signal, 6: range_return}}
    contacts:
      - {{pins: [1, 2], closed: [P, N]}}
      - {{pins: [3, 4], closed: [R]}}
      - {{pins: [5, 6], ohms: {{P: 9100, R: 3900, N: 1800, D: 910, 2: 430, 1: 200}}, tolerance_percent: 5}}
    {SEEN}
"""

Run = Callable[..., tuple[int, str]]


def write(root: Path, files: dict[str, str]) -> Path:
    for file, text in files.items():
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_text(text, "utf-8")
    return root


def over(lines: str, prose: str = "") -> dict[str, str]:
    """The family as an upper layer has it."""
    return {FAMILY: f"---\nkind: switch\nid: tamblin-gate\n{lines}---\n{prose}"}


@pytest.fixture
def shared(tmp_path: Path) -> Path:
    return write(tmp_path / "shared", base_book())


@pytest.fixture
def ours(tmp_path: Path) -> Path:
    return write(tmp_path / "ours", over(f"parts:\n{OWN_PART}"))


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Run:
    def call(*words: str | Path) -> tuple[int, str]:
        status = main([str(one) for one in words])
        told = capsys.readouterr()
        return status, told.out + told.err

    return call


@pytest.fixture
def found(run: Run) -> Callable[..., Any]:
    """What a command says as JSON."""

    def call(*words: str | Path) -> Any:
        text = run(*words)[1]
        return json.loads(text[min(at for at in (text.find("["), text.find("{")) if at >= 0) :])

    return call


def roots(*folders: Path) -> list[str]:
    return [word for folder in folders for word in ("--root", str(folder))]


def verdicts(answer: dict[str, Any]) -> dict[str, str]:
    return {one["number"]: one["verdict"] for seat in answer["seats"] for one in seat["candidates"]}


def test_an_own_part_in_a_shared_family(shared: Path, ours: Path, found: Callable[..., Any], run: Run) -> None:
    assert run("lint", *roots(shared, ours))[0] == 0
    answer = found("fit", "TB-20417", "--json", *roots(shared, ours))
    told = {one["number"]: (one["verdict"], one["layer"], one["layers"]) for one in answer["seats"][0]["candidates"]}
    assert told["OU-1"] == ("straight", "ours", ["shared", "ours"])
    assert told["TB-20417"] == ("straight", "shared", ["shared"])
    assert answer["layer"] == answer["seats"][0]["layer"] == "shared"
    assert "from the layer ours" in run("fit", "TB-20417", "OU-1", *roots(shared, ours))[1]
    assert "tamblin-gate.md, ours" in run("look", "OU-1", *roots(shared, ours))[1]
    assert found("prove", "OU-1", "--json", *roots(shared, ours))["layer"] == "ours"
    assert {"ours", "shared"} == {one["layer"] for one in found("identify", "--json", *roots(shared, ours))["parts"]}


def test_one_layer_says_nothing_of_layers(shared: Path, found: Callable[..., Any], run: Run) -> None:
    assert "layer" not in json.dumps(found("fit", "TB-20417", "--json", *roots(shared)))
    assert "layer" not in run("fit", "TB-20417", *roots(shared))[1]


def test_what_contradicts_is_told_and_nothing_is_built_on_it(shared: Path, ours: Path, found: Callable[..., Any], run: Run) -> None:
    write(ours, over("parts:\n  - number: TB-20455\n    status: current\n    pins: {2: range_signal}\n"))
    (one,) = found("lint", "--format", "json", *roots(shared, ours))
    assert (one["rule"], one["severity"], one["layer"], one["file"], one["line"]) == ("layers-contradict", "error", "ours", FAMILY, 7)
    answer = found("fit", "TB-20417", "--json", *roots(shared, ours))
    assert verdicts(answer) == {"TB-20417": "straight", "TB-20455": "unknown"}
    status, told = run("build", "--site-dir", ours / "site", *roots(shared, ours))
    assert status == 1 and "layers-contradict" in told and not (ours / "site").exists()


@pytest.mark.parametrize(("source", "status"), [("", "withdrawn"), ("sources: [{kind: hearsay}]", "withdrawn"), (SEEN, "current")])
def test_what_is_withdrawn_becomes_current_by_a_source_alone(
    shared: Path, ours: Path, found: Callable[..., Any], source: str, status: str
) -> None:
    text = (shared / FAMILY).read_text("utf-8").replace("status: current", "status: withdrawn")
    (shared / FAMILY).write_text(text, "utf-8")
    write(ours, over(f"parts:\n  - number: TB-20455\n    status: current\n    {source}\n"))
    answer = found("fit", "TB-20417", "TB-20455", "--json", *roots(shared, ours))
    (candidate,) = answer["seats"][0]["candidates"]
    assert candidate["status"] == status
    assert (candidate["verdict"] == "unknown") == (status == "withdrawn")
    assert bool(answer["seats"][0]["offered"]) == (status == "current")
    if status == "current":
        assert candidate["overridden"] == [
            {"at": "parts.TB-20455.status", "upper": "current", "above": "ours", "lower": "withdrawn", "below": "shared"}
        ]


def test_an_upper_layer_allows_nothing_of_a_lower_one(shared: Path, ours: Path, found: Callable[..., Any]) -> None:
    text = (shared / FAMILY).read_text("utf-8").replace("closed: [P, N]", "closed: [P, N, D]", 1)
    (shared / FAMILY).write_text(text, "utf-8")
    at = "parts.TB-20417.contacts.1.closed"
    write(ours, over(f'allow: [{{rule: start-path, at: {at}, reason: "we know better than they do"}}]\n'))
    rules = {(one["rule"], one["layer"]) for one in found("lint", "--format", "json", *roots(shared, ours))}
    assert ("start-path", "shared") in rules and ("allowance", "ours") in rules


def test_one_number_in_two_families_of_two_layers(shared: Path, ours: Path, found: Callable[..., Any]) -> None:
    other = (shared / FAMILY).read_text("utf-8").replace("id: tamblin-gate", "id: our-gate").replace("TB-20417", "OU-2")
    (ours / FAMILY).unlink()
    write(ours, {"entries/switches/our-gate.md": other})
    rules = {(one["rule"], one["layer"]) for one in found("lint", "--format", "json", *roots(shared, ours))}
    assert {rule for rule, _ in rules} >= {"duplicate-number"}
    assert verdicts(found("fit", "TB-20417", "TB-20455", "--json", *roots(shared, ours)))["TB-20455"] == "unknown"


def circuits(**listed: dict[str, Any]) -> dict[str, str]:
    return {"schema/circuits.json": json.dumps({"circuits": listed})}


def test_circuits_are_added_and_none_is_changed(shared: Path, ours: Path, run: Run) -> None:
    write(ours, over(f"parts:\n{OWN_PART.replace('6: range_return}', '6: range_return, 7: tow_lamp}')}"))
    assert "unknown-circuit" in run("lint", *roots(shared, ours))[1]
    write(ours, circuits(tow_lamp={"role": "lamp", "name": "tow bar lamp"}))
    assert run("lint", *roots(shared, ours)) == (0, run("lint", *roots(shared, ours))[1])
    write(ours, circuits(start_out={"role": "output", "name": "start", "safety": False}))
    status, told = run("lint", *roots(shared, ours))
    assert status == 2 and "start_out" in told and "ours" in told


def test_notes_are_added_under_the_layers_name(shared: Path, ours: Path) -> None:
    from rangebook.book.load import load
    from rangebook.reading.layers import lay

    write(ours, over("parts: [{number: TB-20417, note: ours is grey}]\n", "\nWe glue the clip, see [nothing](../kits/no-such-kit.md).\n"))
    top = lay([shared, ours])
    prose = load(top).book.families["tamblin-gate"].entry.prose
    assert prose.index("Set it in N.") < prose.index("## ours") < prose.index("We glue the clip")


def test_a_finding_in_prose_stands_on_its_own_line(shared: Path, ours: Path, found: Callable[..., Any]) -> None:
    write(ours, over("", "\nWe glue the clip, see [nothing](../kits/no-such-kit.md).\n"))
    (one,) = found("lint", "--format", "json", *roots(shared, ours))
    assert (one["rule"], one["layer"], one["line"], one["column"]) == ("dead-link", "ours", 6, 33)


def test_after_a_change_in_either_layer_the_linter_says_what_the_whole_says(shared: Path, ours: Path, found: Callable[..., Any]) -> None:
    words = ("lint", "--format", "json", *roots(shared, ours))
    assert found(*words) == []
    (shared / FAMILY).write_text((shared / FAMILY).read_text("utf-8").replace("tolerance_percent: 5", "tolerance_percent: 60"), "utf-8")
    once = found(*words)
    assert once and once == found(*words, "--afresh")
    write(ours, over("parts:\n  - number: TB-20455\n    status: withdrawn\n"))
    twice = found(*words)
    assert twice == found(*words, "--afresh") and "layers-contradict" in {one["rule"] for one in twice}
    assert found("lint", "--format", "json", *roots(shared)) != twice


# What book.yml names


def settings(*layers: str, name: str = "Our shop") -> dict[str, str]:
    return {"book.yml": f"format: 2\nname: {name}\nlayers: [{', '.join(layers)}]\n"}


def committed(folder: Path) -> str:
    if not (folder / ".git").exists():
        git(folder, "init", "-q", "-b", "main")
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", "as it is")
    return git(folder, "rev-parse", "HEAD")


def test_layers_of_the_settings_by_path(shared: Path, ours: Path, found: Callable[..., Any], run: Run) -> None:
    write(ours, settings("{path: ../shared, name: The common book}"))
    status, told = run("lint", *roots(ours))
    assert status == 0, told
    assert {one["layer"] for one in found("fit", "TB-20417", "--json", *roots(ours))["seats"][0]["candidates"]} == {
        "The common book",
        "Our shop",
    }


def test_a_layer_by_git_stays_as_its_commit_has_it(shared: Path, ours: Path, found: Callable[..., Any], run: Run) -> None:
    first = committed(shared)
    text = (shared / FAMILY).read_text("utf-8")
    (shared / FAMILY).write_text(text.replace("status: current", "status: withdrawn").replace("torque_nm: 9", "torque_nm: 12"), "utf-8")
    second = committed(shared)
    write(ours, settings(f"{{git: ../shared, commit: {first}}}"))
    committed(ours)
    assert run("lint", *roots(ours))[0] == 0
    assert verdicts(found("fit", "TB-20417", "--json", *roots(ours)))["TB-20455"] == "with_parts"
    shutil.move(shared, shared.with_name("away"))  # offline: what was fetched is kept
    assert run("lint", *roots(ours))[0] == 0
    write(ours, settings(f"{{git: ../shared, commit: {second}}}"))
    status, told = run("lint", *roots(ours))
    assert status == 2 and "could not be fetched" in told and "run this once where" in told
    shutil.move(shared.with_name("away"), shared)
    report = found("impact", "--format", "json", "HEAD", *roots(ours))
    facts = {one["at"]: (one["old"], one["new"]) for one in report["facts"]}
    assert facts == {"parts.TB-20455.status": ("current", "withdrawn"), "fitting.torque_nm": (9, 12)}
    committed(ours)
    assert found("impact", "--format", "json", "HEAD~1", "HEAD", *roots(ours))["facts"] == report["facts"]
    assert "from the layer shared" in run("fit", "TB-20417", "--at", "HEAD~1", *roots(ours))[1]


def test_of_what_was_fetched_so_much_is_kept(shared: Path, ours: Path, run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What was not used for longest goes first, and is fetched again when it is asked for."""
    monkeypatch.setenv("RANGEBOOK_STORE", str(tmp_path / "store"))
    monkeypatch.setattr(fetched, "_MOST_KEPT", 2)
    commits = []
    for at in range(3):
        (shared / FAMILY).write_text((shared / FAMILY).read_text("utf-8") + f"\nLine {at}.\n", "utf-8")
        commits.append(committed(shared))

    def kept() -> set[Path]:
        return {one for one in (tmp_path / "store" / "layers").iterdir() if one.suffix != ".git"}

    before: set[Path] = set()
    came = []
    for at in (0, 1, 0, 2, 1):
        write(ours, settings(f"{{git: ../shared, commit: {commits[at]}}}"))
        assert run("lint", *roots(ours))[0] == 0
        came.append(kept() - before)
        before = kept()
    assert [len(one) for one in came] == [1, 1, 0, 1, 1], "the second went for the third, for the first was used since, and came again"
    assert len(before) == 2 and not [one for one in before if one.name.startswith(".")]


@pytest.mark.parametrize(
    ("layer", "why"),
    [
        ("{path: ../ours}", "circle"),
        ("{path: ../nowhere}", "no folder entries/"),
        ("{path: ../linked}", "by a link"),
        ("{git: ../shared}", "commit"),
        ("{git: ../shared, commit: main}", "full id"),
        ("{git: '--upload-pack=touch x', commit: " + "a" * 40 + "}", "no address"),
        ("{git: 'ext::sh -c touch% x', commit: " + "a" * 40 + "}", "no address"),
        ("{git: 'http://127.0.0.1:9/x', commit: " + "a" * 40 + "}", "https://"),
        ("{path: ../shared, git: x, commit: " + "a" * 40 + "}", "either"),
        ("{paht: ../shared}", "a layer is"),
    ],
)
def test_what_is_no_layer_is_refused_in_a_sentence(shared: Path, ours: Path, run: Run, layer: str, why: str) -> None:
    (shared.parent / "linked").symlink_to(shared)
    write(ours, settings(layer))
    status, told = run("lint", *roots(ours))
    assert status == 2 and why in told and "Traceback" not in told


def test_a_circle_over_two_books_is_refused(shared: Path, ours: Path, run: Run) -> None:
    write(ours, settings("{path: ../shared}"))
    write(shared, settings("{path: ../ours}"))
    status, told = run("fit", "TB-20417", *roots(ours))
    assert status == 2 and "circle" in told


# What writes


def test_a_part_goes_into_a_shared_family_in_the_own_folder(shared: Path, ours: Path, run: Run, found: Callable[..., Any]) -> None:
    (ours / FAMILY).unlink()
    before = (shared / FAMILY).read_bytes()
    words = ["new", "switch", "--in", "tamblin-gate", "--number", "OU-9", "--from-number", "TB-20417", "--no-ask"]
    words += ["--same", "connector", "--same", "mount", "--same", "pins", "--same", "contacts", "--status", "current"]
    status, told = run(*words, "--sources", "{kind: seen, by: us, on: 2026-03-02}", *roots(shared, ours))
    assert status == 0, told
    assert (shared / FAMILY).read_bytes() == before and "number: OU-9" in (ours / FAMILY).read_text("utf-8")
    assert verdicts(found("fit", "TB-20417", "OU-9", "--json", *roots(shared, ours))) == {"OU-9": "straight"}
    status, told = run(*[word.replace("OU-9", "OU-10") for word in words], *roots(shared, ours))
    assert status == 0 and (ours / FAMILY).read_text("utf-8").count("- number:") == 2, told


def test_only_the_own_folder_is_mended(shared: Path, ours: Path, run: Run) -> None:
    for root in (shared, ours):
        (root / FAMILY).write_text((root / FAMILY).read_text("utf-8").replace("status: current", "status: current "), "utf-8")
    before = (shared / FAMILY).read_bytes()
    run("lint", "--fix", *roots(shared, ours))
    assert (shared / FAMILY).read_bytes() == before and "status: current \n" not in (ours / FAMILY).read_text("utf-8")


def test_pages_and_files_for_programs_say_the_layer(shared: Path, ours: Path, run: Run, tmp_path: Path) -> None:
    write(ours, settings("{path: ../shared, name: The common book}"))
    write(ours, over(f"parts:\n{OWN_PART}", "\nWe glue the clip.\n"))
    status, told = run("build", "--site-dir", tmp_path / "site", *roots(ours))
    assert status == 0, told
    site = tmp_path / "site"
    pages = {path.relative_to(site).as_posix(): path.read_text("utf-8") for path in site.rglob("*.html")}
    family = pages["switches/tamblin-gate/index.html"]
    assert "From the layers The common book and Our shop" in family and "We glue the clip" in family
    assert "this answer goes by facts of The common book and Our shop" in family
    assert "From the layer The common book" in pages["connectors/oval-13/index.html"]
    assert "From the layer The common book" in pages["kits/oval-9-renewal/index.html"]
    proof = read(site / "data/proof/tamblin-gate.json")["parts"]
    assert {key: one["layers"] for key, one in proof.items()} == {
        "TB20417": ["from the layer The common book"],
        "TB20455": ["from the layer The common book"],
        "OU1": ["from the layer Our shop"],
    }
    lever = read(site / "data/lever/tamblin-gate.json")["parts"]
    assert "From the layer Our shop" in lever["OU1"]["says"] and "From the layer The common book" in lever["TB20417"]["says"]
    seat = next(iter(read(site / "data/compare/tamblin-gate.json")["seats"].values()))
    assert {"From the layer The common book", "OU-1: from the layer Our shop"} <= {*seat["says"]}
    (written,) = site.glob("api/*/families/tamblin-gate.json")
    assert {number: part["layer"] for number, part in read(written)["parts"].items()} == {
        "TB-20417": "The common book",
        "TB-20455": "The common book",
        "OU-1": "Our shop",
    }


def test_a_layer_in_the_same_repository_is_read_as_it_was_then(tmp_path: Path, shared: Path, ours: Path, found: Callable[..., Any]) -> None:
    for say in (lambda: roots(shared, ours), lambda: (write(ours, settings("{path: ../shared}")), roots(ours))[1]):
        words = say()
        committed(tmp_path)
        text = (shared / FAMILY).read_text("utf-8")
        torque = 12 if "torque_nm: 9" in text else 9
        (shared / FAMILY).write_text(text.replace(f"torque_nm: {21 - torque}", f"torque_nm: {torque}"), "utf-8")
        report = found("impact", "--format", "json", "HEAD", *words)
        assert [(one["at"], one["new"], one["layer"]) for one in report["facts"]] == [("fitting.torque_nm", torque, "shared")]


def test_a_folder_of_a_repository_and_what_it_names_beside_itself(tmp_path: Path, shared: Path, ours: Path, run: Run) -> None:
    all_of_it = tmp_path / "all"
    for folder in (shared, ours):
        shutil.copytree(folder, all_of_it / folder.name)
    write(all_of_it / "ours", settings("{path: ../shared}", name="Their shop"))
    commit = committed(all_of_it)
    (tmp_path / "third" / "entries").mkdir(parents=True)
    write(tmp_path / "third", settings(f"{{git: ../all, commit: {commit}, in: ours}}", name="Third"))
    status, told = run("look", "OU-1", *roots(tmp_path / "third"))
    assert status == 0 and "Their shop" in told
    assert "shared" in run("look", "TB-20455", *roots(tmp_path / "third"))[1]
    write(all_of_it / "ours", settings("{path: ../../shared}", name="Their shop"))
    write(tmp_path / "third", settings(f"{{git: ../all, commit: {committed(all_of_it)}, in: ours}}", name="Third"))
    status, told = run("look", "OU-1", *roots(tmp_path / "third"))
    assert status == 2 and "leads out of the repository" in told


def test_too_many_in_a_row_are_refused(tmp_path: Path, run: Run) -> None:
    for at in range(12):
        (tmp_path / f"b{at}" / "entries").mkdir(parents=True)
        write(tmp_path / f"b{at}", settings(f"{{path: ../b{at + 1}}}", name=f"Book {at}") if at < 11 else {})
    status, told = run("lint", *roots(tmp_path / "b0"))
    assert status == 2 and "in a row" in told


def test_an_import_begins_a_file_of_the_own_folder(tmp_path: Path, shared: Path, ours: Path, run: Run, found: Callable[..., Any]) -> None:
    (ours / FAMILY).unlink()
    before = (shared / FAMILY).read_bytes()
    table = "number,family,vehicle,years,plug,came_with\nOU-7,tamblin-gate,Corran Delver van,2009-2012,six-wire,OU-7\n"
    columns = "{number: number, family: family, vehicle: vehicle, years: years, plug: plug, came_with: came_with}"
    write(tmp_path, {"list.csv": table, "map.yml": f"columns: {columns}\n"})
    status, told = run("import", tmp_path / "list.csv", "--map", tmp_path / "map.yml", *roots(shared, ours))
    assert status == 0, told
    assert (shared / FAMILY).read_bytes() == before and "OU-7" in (ours / FAMILY).read_text("utf-8")
    assert found("fit", "OU-7", "--json", *roots(shared, ours))["seats"][0]["layer"] == "shared"


def test_what_is_handed_on_says_the_layer(shared: Path, ours: Path, run: Run, tmp_path: Path) -> None:
    """The printed book and each table of a bundle."""
    write(ours, settings("{path: ../shared, name: The common book}"))
    write(ours, over(f"parts:\n{OWN_PART}"))
    status, told = run("bundle", "--out", tmp_path / "book.zip", *roots(ours))
    assert status == 0, told
    with zipfile.ZipFile(tmp_path / "book.zip") as made:
        held = {name.rsplit("/", maxsplit=1)[-1]: made.read(name) for name in made.namelist()}
    rows = {
        name: list(csv.DictReader(io.StringIO(held[f"{name}.csv"].decode("utf-8")))) for name in ("parts", "vehicles", "kits", "answers")
    }
    assert {row["number"]: row["layers"] for row in rows["parts"]}["OU-1"] == "Our shop"
    assert {row["layers"] for row in rows["vehicles"]} == {row["layers"] for row in rows["kits"]} == {"The common book"}
    assert {row["layers"] for row in rows["answers"] if row["candidate"] == "OU-1"} == {"The common book; Our shop"}
    sheets = " ".join("".join(page.extract_text() for page in PdfReader(io.BytesIO(held["book.pdf"])).pages).split())
    assert "from the layers The common book and Our shop" in sheets and "from the layer Our shop" in sheets

"""An entry that was renamed: its old address leads to the new one, and impact knows it for the same."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urljoin

import lxml.html
from tests import making

from rangebook.book.load import load_texts
from rangebook.cli.impact import URLS
from rangebook.desk.impact.data import as_data
from rangebook.lint.examples import example_book
from rangebook.lint.plan import plan
from rangebook.revisions.report import impact
from rangebook.revisions.states import two_states
from rangebook.schema.store import load_schemas
from rangebook.site.api.data import Api
from rangebook.site.facts.computed import Computed
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import checked
from rangebook.site.pages.every import every_page

LOOKS = {"method": "as it is", "torque_nm": 9, "cautions": ["Chock the wheels."]}


def book(name: str, **more: object) -> dict[str, bytes]:
    pins = {"1": "start_feed", "2": "start_out"}
    part = making.part("TB-1", pins=pins, contacts=[{"pins": ["1", "2"], "closed": ["P", "N"]}])
    return making.texts(making.connector("c", 2, former_ids=["old-c"]), making.family(name, [part], fitting=LOOKS, **more))


def test_each_old_address_leads_to_the_entry() -> None:
    pages = {page.source: page for page in every_page(Computed(load_texts(book("new-one", former_ids=["old-one", "older", "new-one"]))))}
    for old in ("switches/old-one.md", "switches/older.md"):
        assert "(new-one.md)" in pages[old].markdown
    assert "(c.md)" in pages["connectors/old-c.md"].markdown
    assert not pages["switches/new-one.md"].markdown, "an id that an entry has now is that entry's"


def test_impact_takes_it_for_the_same() -> None:
    schemas = load_schemas()
    states = two_states(Path(), book("old-one").items(), book("new-one", former_ids=["old-one"]).items(), schemas, schemas)
    found = as_data(impact(states, "base", "0", (), ()), URLS)
    assert {one["at"] for one in found["facts"]} == {"id", "title", "former_ids"}
    assert not any(one["safety"] for one in found["facts"])


def test_other_programs_find_it_by_its_old_id() -> None:
    """By each that no other has now: one that an entry has is that entry's."""
    texts = {**book("new-one", former_ids=["old-one", "c-one", "new-one"]), **making.texts(making.family("c-one", [making.part("TB-2")]))}
    lists = Api(Computed(load_texts(texts))).listings()
    assert lists["families"]["families"]["new-one"]["former_ids"] == ["old-one"]
    assert lists["connectors"]["connectors"]["c"]["former_ids"] == ["old-c"]


def renamed() -> dict[str, bytes]:
    """The linter's example book in which a connector and a kit have other ids, and what names them has not."""
    files = example_book("kind: switch\ntitle: Tamblin gate switch\n")
    for folder, old, new in (("connectors", "oval-13", "thirteen"), ("kits", "oval-9-renewal", "renewal")):
        text = files.pop(f"entries/{folder}/{old}.md").decode().replace(f"id: {old}\n", f"id: {new}\nformer_ids: [{old}]\n")
        files[f"entries/{folder}/{new}.md"] = text.encode()
    return files


def test_what_names_it_by_its_old_id_is_told_and_mended(tmp_path: Path) -> None:
    made = plan(tmp_path, renamed(), load_schemas())
    told = [one for one in made.before[1] if one.rule in ("unknown-connector", "unknown-kit")]
    assert {one.fix for one in told} == {
        f"write {name}, as it is called now; `rangebook lint --fix` does it" for name in ("thirteen", "renewal")
    }
    assert not [one for one in made.after[1] if one.rule in ("unknown-connector", "unknown-kit")]


def test_a_printed_label_still_leads_there(small_book: Path, tmp_path: Path) -> None:
    """On the built site: the page at the old address links to the one of today."""
    old = small_book / "entries/switches/tamblin-gate.md"
    text = old.read_text("utf-8").replace("id: tamblin-gate\n", "id: gate\nformer_ids: [tamblin-gate]\n", 1)
    old.unlink()
    (small_book / "entries/switches/gate.md").write_text(text, "utf-8")
    build_site(checked(small_book), tmp_path / "site")
    page = lxml.html.fromstring((tmp_path / "site/switches/tamblin-gate/index.html").read_bytes())
    links = [urljoin("/switches/tamblin-gate/", link) for link in page.xpath("//main//a/@href")]
    assert "/switches/gate/" in links and (tmp_path / "site/switches/gate/index.html").is_file()

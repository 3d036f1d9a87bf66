"""Text that tries to run: each payload through every text field that the schema lets be free, and through the prose, in Chromium.

The linter, which refuses some of it, is left out, and so is the Content-Security-Policy: each wall has to hold alone. Sources for the
payloads: the kinds of the OWASP cheat sheet on filter evasion (from memory), and what Markdown, YAML, JSON, SVG and URLs make possible
by themselves. A payload that ran would call ``rb()``, which the page is given beforehand, or open a dialog, or ask another host.
"""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlsplit

import pytest
from PIL import Image
from playwright.sync_api import Page, Route
from tests.site.conftest import Tab, built_once

from rangebook.book.load import load
from rangebook.schema.store import load_schemas
from rangebook.site.generator.build import build_site
from rangebook.site.generator.gate import Checked
from rangebook.site.live.serve import listen
from rangebook.site.shared.policy import CONTENT_SECURITY_POLICY

TEXTS = [
    "<script>rb()</script>",
    "<ScRiPt >rb()</sCrIpT>",
    "<script src=//elsewhere.example/x.js></script>",
    "</script><script>rb()</script>",
    "<scr<script>ipt>rb()</scr</script>ipt>",
    "<script\x0b>rb()</script>".replace("\x0b", " "),
    "<script/x>rb()</script>",
    "<script>rb()//",
    "<img src=x onerror=rb()>",
    '"><img src=x onerror=rb()>',
    "'><img src=x onerror=rb()>",
    "`><img src=x onerror=rb()>",
    "<img src=x onerror=rb()//",
    "<img/src=x/onerror=rb()>",
    '<img """><script>rb()</script>">',
    "<img src='https://elsewhere.example/p.png'>",
    "<image href=x onerror=rb()>",
    "<svg onload=rb()>",
    "<svg><script>rb()</script></svg>",
    "<svg><animate onbegin=rb() attributeName=x dur=1s>",
    '<svg><a href="javascript:rb()"><text y=20>x</text></a></svg>',
    '<svg><use href="data:image/svg+xml,<svg id=x xmlns=http://www.w3.org/2000/svg onload=rb() />#x"></svg>',
    "</svg><img src=x onerror=rb()>",
    "</title><script>rb()</script>",
    "</textarea><script>rb()</script>",
    "</style><script>rb()</script>",
    "</noscript><script>rb()</script>",
    "--><script>rb()</script>",
    "]]><script>rb()</script>",
    "<body onload=rb()>",
    "<details open ontoggle=rb()>x",
    "<input autofocus onfocus=rb()>",
    "<select autofocus onfocus=rb()>",
    "<video><source onerror=rb()>",
    "<audio src=x onerror=rb()>",
    "<marquee onstart=rb()>",
    "<iframe src=javascript:parent.rb()></iframe>",
    "<iframe srcdoc='<script>parent.rb()</script>'></iframe>",
    "<iframe src=https://elsewhere.example></iframe>",
    "<object data=javascript:rb()></object>",
    "<embed src=javascript:rb()>",
    "<math><mtext></mtext><script>rb()</script></math>",
    "<template><script>rb()</script></template>",
    "<link rel=stylesheet href=//elsewhere.example/x.css>",
    "<style>@import '//elsewhere.example/x.css'; * { display: none }</style>",
    "<base href=https://elsewhere.example/>",
    "<meta http-equiv=refresh content='0;url=https://elsewhere.example/'>",
    "<form action=https://elsewhere.example><button autofocus>x</button></form>",
    "<a href=javascript:rb()>x</a>",
    "[x](javascript:rb())",
    "[x](JaVaScRiPt:rb())",
    "[x](java&#115;cript:rb())",
    "[x](data:text/html,<script>parent.rb()</script>)",
    "![x](https://elsewhere.example/p.png)",
    '![x](x" onerror="rb())',
    "<javascript:rb()>",
    "[x]: javascript:rb() 'x'",
    "{{ rb() }} {% raw %}<script>rb()</script>{% endraw %} ${rb()}",
    "{% include '/etc/passwd' %}{{ config }}{{ ''.__class__ }}",
    '" onmouseover="rb()" x="',
    "' onfocus='rb()' autofocus x='",
    '" style="position:fixed;inset:0" onclick="rb()" x="',
    "&lt;script&gt;rb()&lt;/script&gt;",
    "&#60;script&#62;rb()&#60;/script&#62;",
    "\\u003cscript\\u003erb()\\u003c/script\\u003e",
    "%3Cscript%3Erb()%3C/script%3E",
    "\uff1cscript\uff1erb()\uff1c/script\uff1e",
    '=HYPERLINK("https://elsewhere.example","x")',
    "__proto__",
    "constructor",
]

NUMBERS = [
    "<svg onload=rb()>",
    '"><img src=x onerror=rb()>',
    "'onfocus='rb()'autofocus x='",
    "</script><script>rb()//",
    "javascript:rb()//",
    "{{rb()}}",
]
"""Short enough for a part number."""


def mark(at: int) -> str:
    """What stands before each payload, so that it is seen whether the field is shown."""
    return f"Pay{at}load "


def entries(at: int, text: str) -> dict[str, tuple[dict[str, Any], str]]:
    """A switch family, two connectors and a kit in which every free text is the payload: file name -> front matter and prose."""
    bad = mark(at) + text
    name = bad[:100]  # a name of one's own may not be longer
    number = f"{NUMBERS[at % len(NUMBERS)]}{at}"
    source = [{"kind": "seen", "detail": bad, "by": bad, "on": "2026-02-11"}]
    allow = [{"rule": bad, "at": bad, "reason": bad}]
    fitted = [{"outcome": "works", "by": bad, "vehicle": bad, "note": bad}]
    photos = [{"file": "a.png", "view": bad, "shows": bad}]
    pins = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out"}
    old, new, kit, family = f"old-{at}", f"new-{at}", f"kit-{at}", f"family-{at}"
    contacts = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]
    part = {
        "mount": name,
        "stamped": [bad],
        "pins": pins,
        "contacts": contacts,
        "method": bad,
        "cautions": [bad],
        "fitted": fitted,
        "note": bad,
        "photos": photos,
        "sources": source,
    }
    when = {"marked": bad, "built_for": bad, "stamped_at": bad}
    needs = [{"item": bad, "note": bad}, {"work": bad, "with": bad}]
    signals = [{"pin": "1", "supply": "3", "ground": "4", "kind": "serial", "values": {"P": 1}, "protocol": name}]
    odd = {
        "number": f"{number}D",
        "counterfeit_marks": [bad],
        "needs": needs,
        "signals": signals,
        "superseded_by": [{"number": f"{number}C", "needs": needs, "when": when, "sources": source}],
        "revisions": [
            {"when": when, "mount": name, "note": bad, "connector": new, "tail": {"leaves": bad}, "signals": signals},
            {"when": {**when, "marked": f"{bad}2"}, "connectors": {"main": {"connector": new, "tail": {"leaves": bad}}}},
        ],
    }
    cranks = {"by": "module", "sources": source}
    terminal = {"family": name}
    found: dict[str, tuple[dict[str, Any], str]] = {
        f"switches/{family}": (
            {
                "kind": "switch",
                "id": family,
                "title": bad,
                "also_called": [bad],
                "gearboxes": [bad],
                "positions": ["P", "R", "N", "D"],
                "mounts": {
                    name: {
                        "shaft": {"shape": "square", "across_mm": 9},
                        "bolts": [{"at_mm": 38, "at_deg": 0}],
                        "method": bad,
                        "cautions": [bad],
                        "note": bad,
                    }
                },
                "parts": [
                    {
                        "number": f"{number}A",
                        "also_numbered": [{"number": f"{number}O", "by": bad}],
                        "connector": old,
                        "status": "superseded",
                        "superseded_by": [
                            {"number": f"{number}B", "needs": [{"kit": kit, "seal": 4, "note": bad}], "note": bad, "sources": source}
                        ],
                        **part,
                    },
                    {"number": f"{number}B", "connector": new, "status": "current", **part, "tail": {"leaves": bad}},
                    {"number": f"{number}C", "connectors": {"main": {"connector": new, "tail": {"leaves": bad}}}, "note": bad},
                    odd,
                ],
                "plugs": {
                    "other": {"connector": old, "wires": {"1": [{"colour": bad, "note": bad}, {"note": bad}]}, "cranks": cranks},
                    name: {
                        "connector": old,
                        "wires": {cavity: {"circuit": name, "colour": bad, "note": bad} for cavity, name in pins.items()},
                        "note": bad,
                    },
                },
                "applications": [
                    {
                        "vehicle": bad,
                        "years": "2003-2008",
                        "gearbox": bad,
                        "engine": bad,
                        "drive": bad,
                        "plug": name,
                        "fitted": fitted,
                        "cranks": cranks,
                        "came_with": f"{number}A",
                        "note": bad,
                    },
                    {"vehicle": bad, "plug": "other", "when": when},
                ],
                "fitting": {"set_in": "N", "method": bad, "torque_nm": 9, "cautions": [bad]},
                "trouble_codes": ["P0705"],
                "note": bad,
                "photos": photos,
                "sources": source,
                "allow": allow,
            },
            text,
        ),
        f"kits/{kit}": (
            {
                "kind": "kit",
                "id": kit,
                "number": f"{number}K",
                "title": bad,
                "from": old,
                "to": new,
                "moves": {cavity: cavity for cavity in pins},
                "seals": [4],
                "blanks": 0,
                "cautions": [bad],
                "terminal": terminal,
                "terminals": {"1": terminal},
                "wire_seals": [{"count": 4, "colour": bad[:40]}],
                "note": bad,
                "photos": photos,
                "sources": source,
                "allow": allow,
            },
            text,
        ),
    }
    for connector, outline in ((old, "oval"), (new, "round")):
        found[f"connectors/{connector}"] = (
            {
                "kind": "connector",
                "id": connector,
                "title": f"{bad} {connector}",
                "outline": outline,
                "rows": [["1", "2"], ["3", "4"]],
                "sealed": True,
                "terminal": terminal,
                "terminals": {"1": terminal},
                "note": bad,
                "photos": photos,
                "sources": source,
                "allow": allow,
            },
            text,
        )
    return found


def written(front: Mapping[str, Any], prose: str) -> str:
    """An entry's file: JSON is YAML of the strictest kind."""

    def plain(value: Any) -> str:
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, Mapping):
            return "{" + ", ".join(f"{json.dumps(key, ensure_ascii=False)}: {plain(one)}" for key, one in value.items()) + "}"
        if isinstance(value, list):
            return "[" + ", ".join(map(plain, value)) + "]"
        return json.dumps(value, ensure_ascii=False)

    return "---\n" + "".join(f"{key}: {plain(value)}\n" for key, value in front.items()) + f"---\n\n{prose}\n"


def free_texts(schema: Any, files: Mapping[str, Any], at: tuple[str, ...] = (), home: str = "common.json") -> Iterator[tuple[str, ...]]:
    """Every place where a schema lets any text stand, names of one's own included, as the way to it: ``*`` any name, ``[]`` any item."""
    if not isinstance(schema, dict):
        return
    if "$ref" in schema:
        file, _, pointer = schema["$ref"].partition("#/")
        target: Any = files[file or home]
        for step in pointer.split("/"):
            target = target[step]
        yield from free_texts(target, files, at, file or home)
        return
    if schema.get("type") == "string" and not schema.get("pattern", "").startswith("^"):
        yield at
    for name, inside in schema.get("properties", {}).items():
        yield from free_texts(inside, files, (*at, name), home)
    if isinstance(schema.get("additionalProperties"), dict):
        if "propertyNames" not in schema:
            yield (*at, "* name")
        yield from free_texts(schema["additionalProperties"], files, (*at, "*"), home)
    yield from free_texts(schema.get("items"), files, (*at, "[]"), home)
    for one in schema.get("anyOf", ()):
        yield from free_texts(one, files, at, home)


def filled(value: Any, bad: tuple[str, ...], schema_ways: set[tuple[str, ...]], at: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The ways of :func:`free_texts` at which an entry has one of the payloads."""
    if isinstance(value, Mapping):
        for key, inside in value.items():
            if any(one in key for one in bad):
                yield (*at, "* name")
            step = key if any(way[: len(at) + 1] == (*at, key) for way in schema_ways) else "*"
            yield from filled(inside, bad, schema_ways, (*at, step))
    elif isinstance(value, list):
        for one in value:
            yield from filled(one, bad, schema_ways, (*at, "[]"))
    elif isinstance(value, str) and any(one in value for one in bad):
        yield at


def test_every_text_field_of_the_schema_carries_the_payload(root: Path) -> None:
    """A field that is added to the format and left out here is noticed."""
    files = {name if name.endswith(".json") else f"{name}.json": data for name, data in load_schemas(root).files.items()}
    payload = "<script>rb()</script>"
    made = entries(0, payload)
    for kind, key in (("switch", "switches/family-0"), ("kit", "kits/kit-0"), ("connector", "connectors/old-0")):
        wanted = set(free_texts(files[f"{kind}.json"], files, home=f"{kind}.json"))
        there = set(filled(made[key][0], (payload, NUMBERS[0]), wanted))
        assert wanted - there == set(), kind
        assert len(wanted) >= 8


@dataclass
class Bad:
    url: str
    book: Any


def bad_site(home: Path, target: Path) -> None:
    """One book with every payload in it, in ``home``, as a site in ``target``."""
    picture = Image.new("RGB", (40, 30), "grey")
    for at, text in enumerate(TEXTS):
        for name, (front, prose) in entries(at, text).items():
            path = home / "entries" / f"{name}.md"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(written(front, prose), "utf-8")
            photos = path.parent / "photos" / path.stem
            photos.mkdir(parents=True)
            picture.save(photos / "a.png")
    loaded = load(home)
    assert not loaded.book.lost, [entry.problems for entry in loaded.entries if entry.problems][:3]
    assert len(loaded.book.families) == len(TEXTS) >= 50
    # Links of the payloads' own that lead nowhere would keep it from being built, which is another wall; here it is built all the same.
    (home / "mkdocs.yml").write_text(
        (Path(__file__).resolve().parents[2] / "mkdocs.yml")
        .read_text("utf-8")
        .replace("  custom_dir: site_overrides\n", "")
        .replace("links: {not_found: warn, anchors: warn, absolute_links: warn, unrecognized_links: warn}", "links: {not_found: ignore}"),
        "utf-8",
    )
    build_site(Checked(loaded, []), target, whole=True)


@pytest.fixture(scope="session")
def bad_book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bad]:
    """That book, served."""
    site = built_once(tmp_path_factory, "bad", lambda target: bad_site(target.with_suffix(".book"), target))
    server = listen(site, 0, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield Bad(f"http://127.0.0.1:{server.server_port}/", load(site.with_suffix(".book")).book)
    server.shutdown()
    server.server_close()


class Watch:
    """A tab in which anything that runs, asks elsewhere or slips into the page as markup is noticed."""

    def __init__(self, tab: Tab) -> None:
        self.page: Page = tab.page
        self.seen = tab.seen
        self.dialogs: list[str] = []
        self.page.on("dialog", lambda dialog: (self.dialogs.append(dialog.message), dialog.dismiss()))
        self.page.add_init_script("window.ran = 0; window.rb = () => { window.ran += 1; };")

    def harmless(self, where: str) -> None:
        self.page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
        found = self.page.evaluate(
            """() => {
                const all = [...document.querySelectorAll("*")];
                const cut = (some) => some.map((one) => one.outerHTML.slice(0, 200));
                const url = (text) => { try { return new URL(text, location.href); } catch { return { protocol: "?", host: "?" }; } };
                // What the pages themselves have of such elements stands in their head, at the end of the handbook's body, or is a form.
                const foreign = "script, iframe, object, embed, base, link, style, meta, marquee, video, audio, math, template, noscript";
                const linked = [...document.querySelectorAll("[href], [src]")];
                const addresses = linked.map((one) => one.getAttribute("href") ?? one.getAttribute("src"));
                const forms = [...document.forms].filter((one) => url(one.action).host !== location.host);
                return {
                    ran: window.ran,
                    handlers: cut(all.filter((one) => [...one.attributes].some((at) => at.name.startsWith("on")))),
                    tags: cut([...document.querySelectorAll(foreign)].filter((one) => one.closest("main, header, .foot, .md-search"))),
                    forms: cut(forms),
                    schemes: addresses.filter((one) => !["http:", "https:", "mailto:", "tel:", "data:"].includes(url(one).protocol)),
                    data: document.querySelectorAll("a[href^='data:' i]").length,
                    images: [...document.images].map((one) => one.src).filter((one) => one && url(one).host !== location.host),
                    frames: window.frames.length,
                };
            }"""
        )
        assert found == {"ran": 0, "handlers": [], "tags": [], "forms": [], "schemes": [], "data": 0, "images": [], "frames": 0}, where
        assert not self.dialogs, where


@pytest.fixture
def watch(open_tab: Callable[..., Tab]) -> Watch:
    """With the policy off: escaping has to hold alone."""
    return Watch(open_tab(bypass_csp=True))


PLACES = {
    "?q=": "[data-find-answer] > *",
    "prove/?": "[data-prove-place] > *",
    "label/?": "[data-label-place] > *",
    "lever/?": "[data-lever-place] > *",
}
"""Beginning of an address -> what stands on the page once its script has shown what the address asks for."""


def settled(page: Page, address: str) -> None:
    page.goto(address)
    for beginning, place in PLACES.items():
        if f"/{beginning}" in address:
            page.locator(place).first.wait_for(state="attached")


def test_the_watch_notices_what_runs(watch: Watch, bad_book: Bad) -> None:
    """Each kind of thing that is watched for, put into a page by hand, is noticed: without this the rest would prove nothing."""
    for html in (
        "<img src=x onerror=rb()>",
        "<p onclick=rb()>x</p>",
        "<iframe></iframe>",
        "<style>p{}</style>",
        "<a href='javascript:rb()'>x</a>",
        "<a href='data:text/html,x'>x</a>",
        "<img src='https://elsewhere.example/p.png'>",
    ):
        settled(watch.page, f"{bad_book.url}cautions/")
        watch.harmless("before")
        watch.page.evaluate("html => document.querySelector('main article').insertAdjacentHTML('beforeend', html)", html)
        watch.page.wait_for_timeout(100)
        with pytest.raises(AssertionError):
            watch.harmless(html)
        watch.dialogs.clear()


@pytest.mark.parametrize("share", range(4))
def test_no_payload_runs_on_any_page_of_its_entries(watch: Watch, bad_book: Bad, share: int) -> None:
    """The family's page, both connectors', the kit's; the payload is to be read there as it was typed."""
    for at in range(share, len(TEXTS), 4):
        for address in (f"switches/family-{at}/", f"connectors/old-{at}/", f"kits/kit-{at}/"):
            settled(watch.page, bad_book.url + address)
            watch.harmless(f"{address}: {TEXTS[at]}")
            assert TEXTS[at].strip() in watch.page.locator("h1").first.text_content(), f"{address}: not as it was typed"
    assert watch.seen.hosts == {urlsplit(bad_book.url).netloc}


@pytest.mark.parametrize("share", range(4))
def test_no_payload_runs_where_javascript_shows_it(watch: Watch, bad_book: Bad, share: int) -> None:
    """Answers by number and by vehicle, proof sheet, schematic, label: built from the data in the browser."""
    for at in range(share, len(TEXTS), 4):
        family = bad_book.book.families[f"family-{at}"]
        number = quote(family.parts[0].number, safe="")
        for address in (
            f"?q={number}",
            f"?q={quote(mark(at).strip())}",
            f"prove/?part={number}",
            f"label/?part={number}",
            f"lever/?part={number}",
        ):
            settled(watch.page, bad_book.url + address)
            watch.harmless(f"{address}: {TEXTS[at]}")
    assert watch.seen.hosts == {urlsplit(bad_book.url).netloc}


def test_no_payload_runs_on_the_lists(watch: Watch, bad_book: Bad) -> None:
    """Pages that hold something of every entry, and those of the handbook whose search holds the prose."""
    for address in ("", "vehicles/", "gearboxes/", "numbers/", "identify/", "worklists/", "several/", "handbook/"):
        settled(watch.page, bad_book.url + address)
        watch.harmless(address)
    watch.page.set_viewport_size({"width": 1280, "height": 900})
    watch.page.locator(".md-search__input").click()
    for word in ("script", "javascript", "onerror"):
        watch.page.locator(".md-search__input").fill(word)
        watch.page.wait_for_timeout(400)
        watch.harmless(f"searched for {word}")
    assert watch.seen.hosts == {urlsplit(bad_book.url).netloc}


def test_a_job_sheet_and_a_list_of_numbers(watch: Watch, bad_book: Bad) -> None:
    for at in range(0, len(TEXTS), 6):
        settled(watch.page, f"{bad_book.url}?q={quote(bad_book.book.families[f'family-{at}'].parts[0].number, safe='')}")
        job = watch.page.locator("a[href*='job/']").first
        if job.count():
            settled(watch.page, watch.page.evaluate("one => one.href", job.element_handle()))
            watch.harmless(f"job sheet: {TEXTS[at]}")
    settled(watch.page, f"{bad_book.url}several/")
    watch.page.locator("textarea").fill("\n".join(part.number for part in bad_book.book.parts))
    watch.page.locator("form button, .button").first.click()
    watch.page.wait_for_timeout(500)
    watch.harmless("several at once")


def test_what_a_reader_types_or_a_link_brings_does_not_run(watch: Watch, bad_book: Bad) -> None:
    """The same payloads in the address and in the box, where no entry has them."""
    for at, text in enumerate(TEXTS):
        address = ("?q=", "prove/?part=", "label/?part=", "job/?seat=x/y&fit=", "identify/?outline=", "lever/?part=")[at % 6]
        settled(watch.page, f"{bad_book.url}{address}{quote(text, safe='')}#{quote(text, safe='')}")
        watch.harmless(f"{address}: {text}")
    settled(watch.page, bad_book.url)
    for text in TEXTS[::3]:
        watch.page.locator("#q").fill(text)
        watch.page.wait_for_timeout(60)
        watch.harmless(text)
    assert watch.seen.hosts == {urlsplit(bad_book.url).netloc}


def put_in(page: Page, text: str) -> None:
    """Markup at the end of each document that comes from the server, as if escaping had failed there."""

    def answer(route: Route) -> None:
        if route.request.resource_type != "document":
            route.continue_()
            return
        came = route.fetch()
        route.fulfill(response=came, body=came.text().replace("</body>", f"{text}</body>"))

    page.unroute("**/*")
    page.route("**/*", answer)


def test_the_policy_is_a_second_wall(open_tab: Callable[..., Tab], bad_book: Bad) -> None:
    """Markup in a page as it comes from the server, as if escaping had failed: nothing of it runs under the policy; without it some does,
    so the test can fail."""
    forced = [text for text in TEXTS if text.startswith("<") and "rb()" in text]

    def ran(**words: Any) -> int:
        watch = Watch(open_tab(**words))
        many = 0
        for at, text in enumerate(forced):
            put_in(watch.page, text)
            watch.page.goto(f"{bad_book.url}cautions/?{at}")
            watch.page.wait_for_timeout(30)
            many += watch.page.evaluate("window.ran || 0")
        return many + len(watch.dialogs)

    assert ran(bypass_csp=True) > 5
    assert ran() == 0
    assert "unsafe" not in CONTENT_SECURITY_POLICY


def test_the_policy_holds_on_a_server_without_headers(open_tab: Callable[..., Tab], site_dir: Path) -> None:
    """As from ``python3 -m http.server``: each page, of the bay and of the handbook, carries it in its head."""
    import http.server
    from functools import partial

    class Plain(http.server.SimpleHTTPRequestHandler):
        def log_message(self, *_: object) -> None:
            pass

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), partial(Plain, directory=str(site_dir)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    watch = Watch(open_tab())
    for address in ("", "cautions/", "handbook/", "handbook/rules/", "404.html"):
        put_in(watch.page, "<img src=x onerror=rb()>")
        settled(watch.page, f"http://127.0.0.1:{server.server_port}/{address}")
        watch.page.wait_for_timeout(50)
        assert "onerror" in watch.page.content() and watch.page.evaluate("window.ran") == 0, address
    server.shutdown()
    server.server_close()

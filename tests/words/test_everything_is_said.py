"""What people read on pages is in the catalogue: no template and no module of pages has text of its own, each message is said somewhere,
and whoever says it gives what it has places for. So another language is a folder, and one is tried here."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from jinja2 import nodes
from lxml import html
from tests.words.speaking import NONSENSE, nonsense, spoken, written

from rangebook.book import trouble_codes
from rangebook.book.load import load
from rangebook.desk.impact.groups import Heading
from rangebook.desk.worklists import Work
from rangebook.fitting.fitter import Fitter
from rangebook.fitting.standing import Group
from rangebook.fitting.verdict import VerdictKind
from rangebook.reasons.reason import CODES, Outcome
from rangebook.site.drawings.wire_colours import NAMES
from rangebook.site.facts.computed import Computed
from rangebook.site.pages.every import every_page
from rangebook.site.pages.handbook import TEXTS
from rangebook.site.shared import render
from rangebook.words.catalogue import catalogue, places_of

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "tools" / "rangebook"
TEMPLATES = sorted((PACKAGE / "site" / "templates").glob("*.html"))
MODULES = sorted([*(PACKAGE / "site" / "pages").glob("*.py"), *(PACKAGE / "site" / "model").glob("*.py")])

SHOWN = ("alt", "aria-label", "aria-description", "aria-roledescription", "content", "data-label", "label", "placeholder", "title")
"""Attributes whose values people read or hear."""
WORD = re.compile(r"[^\W\d_]{2,}")
SEVERAL = re.compile(r"[^\W\d_]{2,}\W*\s\W*[^\W\d_]{2,}")
FILLED = "\ue000"
"""Stands for what a template fills in."""
COMMANDS = {"rangebook serve", "rangebook lint", "rangebook rules NAME"}
"""What is typed into a command line is the same in every language."""


def codes_of_problems() -> set[str]:
    """What the rooms that read say that is wrong: each code stands there as a text of its own."""
    files = [*(PACKAGE / "reading").glob("*.py"), *(PACKAGE / "schema").glob("*.py")]
    texts = {
        node.value
        for file in files
        for node in ast.walk(ast.parse(file.read_text("utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    in_schema = re.findall(r'\bproblem\("(\w+)"', (PACKAGE / "schema" / "problems.py").read_text("utf-8"))
    return {text for text in texts if re.fullmatch(r"(file|front|yaml|schema|settings)\.\w+", text)} | {
        f"schema.{code}" for code in in_schema
    }


BY_DATA = {
    **{section: codes_of_problems() for section in ("problem", "problem_fix")},
    "reasons": set(CODES),
    "brief": {code for code, one in CODES.items() if one.outcome is Outcome.AGAINST},
    **{section: set(map(str, VerdictKind)) for section in ("verdict", "verdict_short", "verdict_means")},
    "group": set(map(str, Group)),
    "outcome": set(map(str, Outcome)),
    "work": set(map(str, Work)),
    "how_to": {code for code, one in CODES.items() if one.outcome is Outcome.MISSING},
    "impact_heading": set(map(str, Heading)),
    "handbook_title": set(TEXTS),
}
"""Sections whose keys are named by data: which they have to have, all of them and no other."""
BY_ENTRIES = re.compile(r"status|status_short|fact|source|signal_kind|impact_alarm|impact_page|identify_\w+")
"""Sections whose keys are words of the schema or of a question; tests of what says them go through these."""


def shown_in(source: str) -> Iterator[str]:
    """Every text and every attribute for people in a template, with a sign for each thing that is filled in."""
    found: list[str] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.extend(value for name, value in attrs if value and name in SHOWN)

        def handle_data(self, data: str) -> None:
            found.append(data)

    tokens = render.environment().lex(source)
    Reader(convert_charrefs=True).feed("".join(value if kind == "data" else FILLED for _, kind, value in tokens))
    yield from found


def literals(source: str) -> Iterator[str]:
    """Every text that stands in a template's code."""
    yield from (one.value for one in render.environment().parse(source).find_all(nodes.Const) if isinstance(one.value, str))


@pytest.mark.parametrize("file", TEMPLATES, ids=lambda file: file.stem)
def test_a_template_has_no_words_of_its_own(file: Path) -> None:
    source = file.read_text("utf-8")
    assert [text.strip() for text in shown_in(source) if WORD.search(text)] == []
    assert [text for text in literals(source) if SEVERAL.search(text) and text not in COMMANDS] == []


def test_the_look_at_a_template_sees_what_it_looks_for() -> None:
    source = '<p title="A title" class="no text">{{ x }} wires{% if y %}<b>of</b>{% endif %}</p>{# no text #}<i>{{ f("two words") }}</i>'
    assert [one.strip(FILLED) for one in shown_in(source) if WORD.search(one)] == ["A title", " wires", "of"]
    assert [one for one in literals(source) if SEVERAL.search(one)] == ["two words"]


def own_words(tree: ast.Module) -> Iterator[str]:
    """Texts of several words in a module, and texts with words between what is put in; docstrings and errors are none."""
    skipped = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    skipped |= {id(inner) for node in ast.walk(tree) if isinstance(node, ast.Raise) for inner in ast.walk(node)}
    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.JoinedStr):
            pieces = [one.value for one in node.values if isinstance(one, ast.Constant) and isinstance(one.value, str)]
            yield from (one for one in pieces if WORD.search(one) and re.search(r"\s", one))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and SEVERAL.search(node.value):
            yield node.value


@pytest.mark.parametrize("file", MODULES, ids=lambda file: f"{file.parent.name}-{file.stem}")
def test_a_module_of_pages_has_no_sentence_of_its_own(file: Path) -> None:
    assert list(own_words(ast.parse(file.read_text("utf-8")))) == []


def test_the_look_at_a_module_sees_what_it_looks_for() -> None:
    code = '"""A docstring here."""\nx = "two words"\ny = f"{x} across"\nz = f"kits/{x}"\nraise ValueError("no such thing")\n'
    assert sorted(own_words(ast.parse(code))) == [" across", "two words"]


# Messages and who says them ------------------------------------------------------------------------------------------------


class Said(NamedTuple):
    """A message that is said with its section and key written down, and the names of what is given to it."""

    where: str
    message: str
    given: frozenset[str]


def said_in_templates() -> Iterator[Said]:
    for file in TEMPLATES:
        for call in render.environment().parse(file.read_text("utf-8")).find_all(nodes.Call):
            if isinstance(call.node, nodes.Name) and call.node.name == "say":
                assert isinstance(call.args[0], nodes.Const), f"{file.name}: a message is named, not computed"
                yield Said(file.name, call.args[0].value, frozenset(one.key for one in call.kwargs))


def said_in_code() -> Iterator[Said]:
    for file in sorted(PACKAGE.rglob("*.py")):
        tree = ast.parse(file.read_text("utf-8"))
        imported = {(one.module, name.name) for one in ast.walk(tree) if isinstance(one, ast.ImportFrom) for name in one.names}
        for call in ast.walk(tree) if ("rangebook.words.catalogue", "say") in imported else ():
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "say":
                assert isinstance(call.args[0], ast.Constant), f"{file.name}: a message is named, not computed"
                yield Said(file.name, call.args[0].value, frozenset(one.arg or "**" for one in call.keywords))


def every_said() -> list[Said]:
    return [*said_in_templates(), *said_in_code()]


def messages() -> dict[str, Any]:
    """All messages that are no piece of others, by section and key."""
    data = catalogue().data
    sections = [one for one in data if one not in ("plurals", "decimal", "lists", "names", "shared")]
    return {f"{section}.{key}": message for section in sections for key, message in data[section].items()}


def test_what_is_said_is_there_and_is_given_all_that_it_has_places_for_and_no_more() -> None:
    known, names = messages(), set(catalogue().data["names"])
    for one in every_said():
        assert one.message in known, f"{one.where} says {one.message}, which is no message"
        places = {place.split(".")[0] for place in places_of(known[one.message])} - names
        assert one.given == places, f"{one.where}: {one.message}"


def test_every_message_is_said() -> None:
    said = {one.message for one in every_said()}
    for name in messages():
        section, _, key = name.partition(".")
        if section in BY_DATA:
            assert key in BY_DATA[section], f"nothing says {name}"
        elif not BY_ENTRIES.fullmatch(section):
            assert name in said, f"nothing says {name}"
    for section, keys in BY_DATA.items():
        assert keys <= set(catalogue().data[section]), section


def test_every_shared_piece_and_every_style_of_a_list_is_used() -> None:
    own = sorted((PACKAGE / "lint").rglob("*.py"))  # messages that stand with a rule
    text = "\n".join(file.read_text("utf-8") for file in (*sorted((PACKAGE / "words" / "catalogue" / "en").glob("*.json")), *own))
    used = {step for place in re.findall(r"\{([^{}\"\n]*\|[^{}\"\n]*)\}", text) for step in place.split("|")[1:]}
    code = "\n".join(file.read_text("utf-8") for file in sorted(PACKAGE.rglob("*.py")))
    for name in (*catalogue().data["shared"], *catalogue().data["lists"]):
        assert name in used or f'"{name}"' in code, name


# Another language ------------------------------------------------------------------------------------------------------------


NOT_YET = (*NAMES.values(), *trouble_codes.TEXTS.values(), "with a stripe", "in, mm, lbf, ft")
"""Names of colours stand with the drawings that show them, trouble codes are quoted from their standard, units are the same everywhere."""


def page(computed: Computed, source: str) -> Any:
    """A page's part of the site, without its drawings, which have no messages yet."""
    found = next(one for one in every_page(computed) if one.source == source)
    root = html.fromstring(render.render(found.template, "..", "", {**found.data()}))
    for drawing in [one for one in root.iter() if isinstance(one.tag, str) and "rb-" in (one.get("class") or "")]:
        drawing.drop_tree()
    return root, f"{found.title} {found.about}"


@pytest.mark.parametrize(
    "source", ["switches/kestow-ear.md", "kits/oval-9-to-13.md", "connectors/oval-13.md", "worklists.md", "cautions.md"]
)
@pytest.mark.slow
def test_another_language_is_a_folder(source: str, tmp_path: Path) -> None:
    """In a language whose only word is nonsense a page has no word but that one and those of the book's entries."""
    english = catalogue().data
    loaded = load(ROOT)
    files = [*(ROOT / "entries").rglob("*.md"), *(ROOT / "schema").glob("*.json")]
    entries = [f"{file.relative_to(ROOT)} {file.read_text('utf-8')}" for file in files]
    of_entries = {word.casefold() for text in (*entries, *NOT_YET) for word in WORD.findall(text)}
    with spoken(written(tmp_path / "nonsense", english, nonsense)):
        root, head = page(Computed(loaded, Fitter(loaded.book)), source)
    text = " ".join([head, *root.itertext(), *(one.get(name, "") for one in root.iter() for name in SHOWN)])
    words = {word.casefold() for word in WORD.findall(text)}
    assert NONSENSE in words
    assert sorted(words - of_entries - {NONSENSE}) == []
    in_english, _ = page(Computed(loaded, Fitter(loaded.book)), source)
    assert [one.tag for one in in_english.iter()] == [one.tag for one in root.iter()]


def test_what_a_page_says_is_escaped_but_for_elements_of_its_own() -> None:
    template = render.environment().from_string('{{ say("page.to_last", last=last) }}|{{ say("page.to_last", last=element) }}')
    assert template.render(last="<b>&", element=render.Markup("<b>x</b>")) == "to &lt;b&gt;&amp;|to <b>x</b>"
    with pytest.raises(TypeError):
        render.said("page.to_last", last=object())

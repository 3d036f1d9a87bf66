"""unsafe-prose. The ways of hiding a scheme: a browser leaves out tabs and line ends within one, and entities are resolved before
the address is read (WHATWG URL and HTML standards, from memory)."""

import pytest

from rangebook.lint.examples import example_book

KIT = "entries/kits/oval-9-renewal.md"


def _book(prose):
    head, front, _ = example_book("")[KIT].decode().split("---\n", 2)
    return {KIT: f"{head}---\n{front}---\n{prose}"}


@pytest.mark.parametrize(
    "code",
    [
        "<b>bold</b>",
        "<script>alert(1)</script>",
        "<IMG src=x onerror=alert(1)>",
        "<img/src=x onerror=alert(1) ",
        "<svg/onload=alert(1)>",
        "</p>",
        "<!-- hidden -->",
        "<!doctype html>",
        "<?php ?>",
        "<![CDATA[x]]>",
        "<a\nhref=javascript:alert(1)>x</a>",
        "<https://example.org/ onmouseover=alert(1)>",
    ],
)
def test_tags_are_found_where_they_begin(look, code):
    found = look("unsafe-prose", _book(f"First line.\n\nR before N {code}\n"))
    assert found[0].at == f"{code} ".split("\n")[0].rstrip() or found[0].at.startswith(code.split("\n")[0])
    assert "HTML" in found[0].message


@pytest.mark.parametrize(
    "target",
    [
        "javascript:alert(1)",
        "JavaScript:alert(1)",
        "java\tscript:alert(1)",
        "javascript&#58;alert(1)",
        "javascript&colon;alert(1)",
        "&#106;avascript:alert(1)",
        "  vbscript:x",
        "<javascript:alert(1)>",
        "data:text/html,x",
        "blob:x",
    ],
)
def test_links_that_run_code_are_found_at_their_target(look, target):
    for prose in (f"See [this]({target}).\n", f"See [this].\n\n[this]: {target}\n", f"![picture]({target})\n"):
        found = look("unsafe-prose", _book(prose))
        assert len([one for one in found if "run code" in one.message]) == 1, prose
        assert found[0].at.startswith(target.strip(" <")[:4]) or found[0].at.startswith(target[:4])


def test_an_event_handler_in_an_attribute_list_is_found(look):
    (found,) = look("unsafe-prose", _book("[the kit](oval-9-renewal.md){: onclick=alert(1) }\n"))
    assert found.at.startswith("{: onclick")


@pytest.mark.parametrize(
    "prose",
    [
        "Under < 1 ohm, or <1 ohm; R<2000; P > R; 5 <-> 6.",
        "if a<b and c",
        "<https://example.org/a?b=c&d=e> and <bench@example.org>",
        "See [the kit](oval-9-renewal.md), [there](#setting), [out](https://example.org/data:x), [mail](mailto:bench@example.org).",
        "The javascript: of it; data: see sheet 14.",
        "Pins {1, 2} and `{on}`.",
        "Wires [5](5.md) and [6]: six.",
    ],
)
def test_what_a_technician_writes_is_let_be(look, prose):
    assert look("unsafe-prose", _book(prose + "\n")) == []


@pytest.mark.parametrize(
    ("value", "at"),
    [
        ('"see <b>here</b>"', '"see'),
        (r'"see \x3cscript>"', '"see'),
        ('"[x](javascript:alert(1))"', '"[x]'),
        ('"data:text/html,x"', '"data'),
    ],
)
def test_text_in_the_front_matter_is_looked_at(look, value, at):
    (found,) = look("unsafe-prose", f"    kind: kit\n    note: {value}\n")
    assert found.at.startswith(at)


def test_names_that_one_gives_oneself_are_looked_at(look):
    (found,) = look("unsafe-prose", '    kind: switch\n    mounts: {"<img src=x>": {}}\n')
    assert found.at.startswith('"<img')


@pytest.mark.parametrize("value", ['"under <1 ohm"', '"data: sheet 14"', '"P < R"', r'"a \\ b"', '"Tovell & Wick"'])
def test_plain_text_in_the_front_matter_is_let_be(look, value):
    assert look("unsafe-prose", f"    kind: kit\n    note: {value}\n") == []


def test_an_entry_that_the_schema_refuses_is_looked_at_all_the_same(look):
    assert len(look("unsafe-prose", "    kind: kit\n    blanks: <b>\n")) == 1
    assert len(look("unsafe-prose", '    kind: kit\n    note: "<b>"\n    blanks: many\n')) == 1


def test_of_very_many_the_first_are_told(look):
    found = look("unsafe-prose", _book("<b>" * 60_000))
    assert len(found) == 50 and found[0].at.startswith("<b>")


def test_what_is_no_tag_however_long_is_gone_through_once(look):
    """Each would keep a pattern that tries every way of dividing it busy for hours."""
    for prose in ("<a" + "/" * 300_000, "{" + "on " * 100_000, "](" * 200_000, "[a](" + "(" * 300_000, "`" * 300_001, "<a " * 100_000):
        assert look("unsafe-prose", _book(prose)) == [], prose[:10]

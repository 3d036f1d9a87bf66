"""The questions of ``rangebook new`` on a terminal: one key after the other, each answer checked at once, ``<`` back to the one before."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

from rangebook.book.book import Book
from rangebook.cli.terminal import complain, paint
from rangebook.desk.new.checking import id_from, problems_of, taken, unknown_names
from rangebook.desk.new.compose import Draft, compose
from rangebook.desk.new.values import ValueTextError, merged, value_from
from rangebook.desk.writing.yaml_text import flow
from rangebook.reading.links import LinkError, refuse_links
from rangebook.schema.check import Checker
from rangebook.schema.fields import Field, named_in
from rangebook.schema.store import Schemas
from rangebook.words.problems import problem_fix, problem_words
from rangebook.words.shown import shown

NEEDED = ("title", "number")
"""What nobody else can make up later: the file is called by the one, and the part or kit goes by the other."""

BACK = "<"
MOST_CHOICES = 60
"""More are not listed: nobody counts them through."""


class _Back(Exception):
    """The question before is to be asked again."""


class Asking:
    """Asks for what a draft does not have yet. ``against`` is what the linter has against the entry as it would be, in words; ``choices``
    are the answers that there are to a key, where the schema does not say them."""

    def __init__(
        self,
        draft: Draft,
        book: Book,
        schemas: Schemas,
        against: Callable[[Draft], Iterable[str]],
        choices: Mapping[str, Sequence[str]],
    ) -> None:
        self.draft, self.book, self.schemas, self.against, self.choices = draft, book, schemas, against, choices
        self.checker = Checker(schemas)

    def ask_all(self, asked: Sequence[Field]) -> None:
        """Every question in its turn. Raises ``EOFError`` and ``KeyboardInterrupt`` as the terminal does."""
        print(paint(f"A new {self.draft.kind}. An empty answer means that it is not known; nothing is written before the end.", "head"))
        print(paint(f"`{BACK}` goes back to the question before, Ctrl-C stops and keeps what was answered.", "why"))
        order = sorted(asked, key=lambda one: (one.key not in NEEDED, one.key != "title"))
        left = [one for one in order if one.key not in self.draft.values and (one.asked or one.key in self.draft.like)]
        been: list[tuple[int, dict[str, Any]]] = []
        at = 0
        while at < len(left):
            one = left[at]
            if any(other in self.draft.values for other in one.instead):
                at += 1
                continue
            like = dict(self.draft.like)
            try:
                self._ask(one)
            except _Back:
                if been:
                    at, self.draft.like = been.pop()
                    self.draft.values.pop(left[at].key, None)
                else:
                    complain("this is the first question")
                continue
            been.append((at, like))
            at += 1

    def _ask(self, one: Field) -> None:
        if one.key == "id":
            self.draft.values["id"] = self._ask_id()
        elif one.key in self.draft.like and self._ask_same(one):
            self.draft.values[one.key] = self.draft.like.pop(one.key)
        else:
            self._ask_value(one)

    def _ask_id(self) -> str:
        proposed = id_from(self.draft.values["title"])
        while True:
            typed = _typed(f"\n{paint('id', 'head')}: its file's name [{proposed}]: ") or proposed
            wrong = [*self._wrong("id", typed), *taken(self.draft.kind, {"id": typed}, self.book)]
            if typed and not wrong:
                return typed
            complain(wrong[0] if wrong else "an id is needed")

    def _ask_same(self, one: Field) -> bool:
        print(f"\n{paint(one.key, 'head')}: {shown(one.description)}")
        print(shown(f"  {self.draft.like_number} has {flow(self.draft.like[one.key])}"))
        return _typed("  Have you seen the same on this one? [y/N]: ").lower() in ("y", "yes")

    def _ask_value(self, one: Field) -> None:
        """Ask until there is an answer that will do, or none; lists and mappings of several things one after the other."""
        print(f"\n{paint(one.key, 'head')}: {shown(one.description)}")
        choices = self._choices(one)
        for words in (one.expected if not choices else "", one.how):
            if words:
                print(f"  {paint(words, 'why')}")
        for number, choice in enumerate(choices, start=1):
            print(shown(f"  {number:>3}  {choice}"))
        several = one.node.get("type") in ("array", "object") and one.inner.get("type") == "object"
        values = self.draft.values
        while True:
            more = "one more, or nothing" if one.key in values else ""
            text = _typed(f"  {more}> ")
            if text.isdigit() and text not in choices and 0 < int(text) <= len(choices):
                text = choices[int(text) - 1]
                print(shown(f"    {text}"))
            if not text:
                if one.key in NEEDED and one.key not in values:
                    complain("this one is needed")
                    continue
                return
            try:
                value: Any = value_from(text, one, self.schemas)
            except ValueTextError as error:
                complain(str(error))
                continue
            whole = merged(values[one.key], value) if one.key in values else value
            wrong = self._against(one, value, whole)
            if wrong:
                complain(wrong)
                continue
            values[one.key] = whole
            self.draft.like.pop(one.key, None)
            if not several:
                return

    def _choices(self, one: Field) -> list[str]:
        """What can be answered, where that is one of a few: the values of the schema, or the book's connectors and kits by their ids."""
        found = [*self.choices.get(one.key, ()), *(str(value) for value in one.node.get("enum", ()))]
        if not found:
            kinds = {"connector": self.book.connectors, "kit": self.book.kits}
            named = next((what for what, _ in named_in(self.schemas, one.node, one.home, "x")), None)
            found = sorted(kinds[named]) if named in kinds else []
        return found if len(found) <= MOST_CHOICES else []

    def _against(self, one: Field, value: Any, whole: Any) -> str | None:
        """The first thing that the lists, the schema, the book or the linter has against an answer."""
        wrong = [*unknown_names(one, value, self.book, self.schemas), *self._wrong(one.key, whole)]
        if not wrong and one.key == "number":
            wrong = list(taken(self.draft.kind, {"number": whole}, self.book))
        if not wrong and one.feeds_a_verdict and one.key not in NEEDED:
            wrong = list(self.against(self._tried(one.key, whole)))
        return wrong[0] if wrong else None

    def _wrong(self, key: str, value: Any) -> list[str]:
        """What the schema has against the draft with this value."""
        text = compose(self._tried(key, value), self.schemas)
        return [f"{problem_words(one)}; {problem_fix(one)}" for one in problems_of(text, "entries/x.md", self.checker)]

    def _tried(self, key: str, value: Any) -> Draft:
        return Draft(self.draft.kind, {"id": "x", "title": "x", "number": "x1", **self.draft.values, key: value})


def _typed(prompt: str) -> str:
    text = input(prompt).strip()
    if text == BACK:
        raise _Back
    return text


def keep(root: Path, draft: Draft, name: str) -> bool:
    """Keep what was answered for the next time under a name; whether that could be done."""
    if not draft.values:
        return False
    with suppress(OSError, LinkError):
        path = _place(root, name)
        path.parent.mkdir(exist_ok=True)
        unseen = path.parent / ".gitignore"
        refuse_links(root, unseen)
        if not unseen.exists():
            unseen.write_text("*\n", "utf-8")
        path.write_text(json.dumps(draft.values, indent=1), "utf-8")
        return True
    return False


def forget(root: Path, name: str) -> None:
    """Let go of what was kept."""
    with suppress(OSError, LinkError):
        _place(root, name).unlink(missing_ok=True)


def offer(root: Path, draft: Draft, name: str) -> None:
    """Ask whether to go on with what was kept under a name, and put it into the draft; what is in there already stays."""
    try:
        kept = json.loads(_place(root, name).read_text("utf-8"))
    except (OSError, ValueError, LinkError):
        return
    if not isinstance(kept, dict) or not kept:
        return
    print(paint(f"What was answered last time was kept: {', '.join(map(str, kept))}.", "head"))
    if input("  Go on with it? [Y/n]: ").strip().lower() in ("", "y", "yes"):
        draft.values = {**kept, **draft.values}
    else:
        forget(root, name)


def _place(root: Path, name: str) -> Path:
    path = root / ".rangebook" / f"new-{name}.json"
    refuse_links(root, path)
    return path

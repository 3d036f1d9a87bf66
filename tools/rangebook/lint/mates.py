"""Each mate that an entry of a connector states, with what it comes to: for the rules that look at mates."""

from __future__ import annotations

from collections.abc import Iterator

from rangebook.book.model import Connector, Mate
from rangebook.fitting.mating import on_housing
from rangebook.lint.context import Housings
from rangebook.reasons.reason import Reason


def mates_of(connector: Connector, context: Housings) -> Iterator[tuple[Mate, Connector, tuple[Reason, ...]]]:
    """Each other connector of the book that is listed, once, with the first mate that lists it and what is against it or missing."""
    listed = {connector.id}
    for mate in connector.mates:
        plug = context.connectors.get(mate.connector)
        if plug is not None and plug.id not in listed:
            listed.add(plug.id)
            yield mate, plug, on_housing(plug, connector).reasons

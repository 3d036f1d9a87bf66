"""Objects as bytes."""

from __future__ import annotations

import copyreg
import io
import pickle
from collections.abc import Callable, Collection, Mapping
from dataclasses import fields, is_dataclass
from functools import cache, partial
from types import MappingProxyType
from typing import Any

from rangebook.store.errors import DamagedError

Made = Mapping[type, Callable[[Any], tuple[Callable[..., object], tuple[Any, ...]]]]
"""Of what class -> what something is made of again: what is called, and with what."""


def packed(value: object, aside: Callable[[object], str | None] | None = None, made: Made = MappingProxyType({})) -> bytes:
    """What can be sent to another process of ours, or kept. ``aside`` names what is not packed along; ``made`` is for classes that do not
    say so themselves."""
    buffer = io.BytesIO()
    pickler = _Pickler(buffer, aside) if aside else pickle.Pickler(buffer, protocol=pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = {**copyreg.dispatch_table, MappingProxyType: _apart, **made}
    pickler.dump(value)
    return buffer.getvalue()


def unpacked(data: bytes) -> Any:
    """What was packed by this process or by one that it has forked."""
    return pickle.loads(data)  # noqa: S301 - see above


def unpacked_facts(data: bytes, modules: Collection[str], given: Callable[[str], object]) -> Any:
    """What was packed and kept, if it is made of nothing but plain values and of classes of some modules: nothing else in it is called, so
    that no byte of a file can be code. ``given`` has what was put aside. Raises :class:`DamagedError`."""
    try:
        return _Facts(io.BytesIO(data), modules, given).load()
    except DamagedError:
        raise
    except Exception as error:  # whatever comes of bytes that nobody has packed
        raise DamagedError("packed") from error


class _Pickler(pickle.Pickler):
    def __init__(self, buffer: io.BytesIO, aside: Callable[[object], str | None]) -> None:
        super().__init__(buffer, protocol=pickle.HIGHEST_PROTOCOL)
        self._aside = aside

    def persistent_id(self, value: object) -> str | None:
        return self._aside(value)

    def reducer_override(self, value: object) -> Any:
        """Of a dataclass no more than its values: they are put into a new one as they are, which is a third of the time."""
        kind = type(value)
        if not is_dataclass(kind) or isinstance(value, type):
            return NotImplemented
        return _filled, (kind, *(getattr(value, name) for name in _names(kind)))


@cache
def _names(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind))


@cache
def _setters(kind: type) -> tuple[Callable[[object, object], None], ...]:
    """What puts a value into each slot of a class; into its dictionary where it has none."""
    return tuple(getattr(kind.__dict__.get(name), "__set__", None) or partial(_set, name) for name in _names(kind))


def _set(name: str, one: object, value: object) -> None:
    object.__setattr__(one, name, value)


def _filled(kind: type, *values: object) -> object:
    one: object = object.__new__(kind)
    for put, value in zip(_setters(kind), values, strict=True):
        put(one, value)
    return one


class _Facts(pickle.Unpickler):
    def __init__(self, buffer: io.BytesIO, modules: Collection[str], given: Callable[[str], object]) -> None:
        super().__init__(buffer)
        self._modules, self._given = modules, given

    def find_class(self, module: str, name: str) -> Any:
        if module == __name__ and name in (_as_view.__name__, _filled.__name__):
            return _as_view if name == _as_view.__name__ else _filled
        found = super().find_class(module, name) if module in self._modules else None
        if not isinstance(found, type):
            raise DamagedError(f"{module}.{name}")
        return found

    def persistent_load(self, name: Any) -> object:
        return self._given(str(name))


def _apart(view: MappingProxyType[Any, Any]) -> tuple[Callable[[dict[Any, Any]], object], tuple[dict[Any, Any]]]:
    return _as_view, (dict(view),)


def _as_view(mapping: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(mapping)

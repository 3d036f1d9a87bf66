"""Objects as bytes."""

from __future__ import annotations

import copyreg
import io
import pickle
from collections.abc import Callable, Collection
from types import MappingProxyType
from typing import Any

from rangebook.store.errors import DamagedError


def packed(value: object, aside: Callable[[object], str | None] | None = None) -> bytes:
    """What can be sent to another process of ours, or kept. ``aside`` names what is not packed along."""
    buffer = io.BytesIO()
    pickler = _Pickler(buffer, aside) if aside else pickle.Pickler(buffer, protocol=pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = {**copyreg.dispatch_table, MappingProxyType: _apart}
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


class _Facts(pickle.Unpickler):
    def __init__(self, buffer: io.BytesIO, modules: Collection[str], given: Callable[[str], object]) -> None:
        super().__init__(buffer)
        self._modules, self._given = modules, given

    def find_class(self, module: str, name: str) -> Any:
        if (module, name) == (__name__, _as_view.__name__):
            return _as_view
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

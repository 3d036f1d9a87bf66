"""The files of a book with those of the layers below it, as :mod:`rangebook.reading.files` has those of one folder."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from rangebook.reading import files, git, photos, shelf
from rangebook.reading.errors import LayersError
from rangebook.reading.fetched import inside
from rangebook.reading.layers import (
    FILE,
    Layer,
    Stated,
    apart,
    gathered,
    layers_of,
    named_below,
    refuse_round,
    resolved,
    stated,
    title_of,
)
from rangebook.reading.links import refuse_links
from rangebook.reading.listing import Listing
from rangebook.reading.listing import listing as listed
from rangebook.reading.stacked import Stacked

Source = tuple[str, bytes | OSError]


def read_all(root: Path) -> Iterator[Source]:
    """Each entry's path and its bytes, or the error that reading it gave, in the order of :func:`rangebook.reading.files.read_all`. What a
    layer above the lowest says something of is :class:`Stacked`."""
    layers = layers_of(root)
    if len(layers) == 1:
        yield from files.read_all(root)
    else:
        yield from put_together((one.name, dict(files.read_all(one.root))) for one in layers)


def put_together(layers: Iterable[tuple[str, Mapping[str, bytes | OSError]]]) -> list[Source]:
    """The files of several layers, the name and the files of each, the lowest first."""
    found: dict[str, list[tuple[int, str, bytes | OSError]]] = {}
    for layer, (name, own) in enumerate(layers):
        for file, data in own.items():
            found.setdefault(file, []).append((layer, name, data))
    return [(file, laid(found[file])) for file in sorted(found, key=lambda file: file.split("/"))]


def laid(pieces: Sequence[tuple[int, str, bytes | OSError]]) -> bytes | OSError:
    """The bytes of one file: those of the lowest layer where no other has it."""
    return pieces[0][2] if len(pieces) == 1 and pieces[0][0] == 0 else Stacked.of(pieces)


def read_one(root: Path, file: str, layers: Sequence[Layer] | None = None) -> bytes | OSError:
    """The bytes of one file by its path, or the error that reading it gave, as :func:`read_all` has them. Who reads many names the book's
    ``layers``, which then are found once."""
    layers = layers_of(root) if layers is None else layers
    if len(layers) == 1:
        return files.read_one(root, file)
    pieces = [
        (layer, one.name, files.read_one(one.root, file))
        for layer, one in enumerate(layers)
        if file.endswith("/") or _is_there(one.root / file)
    ]
    return laid(pieces) if pieces else files.read_one(root, file)


def _is_there(path: Path) -> bool:
    return path.is_symlink() or path.exists()


def listing(root: Path) -> Listing:
    """Which files there are, as :func:`rangebook.reading.listing.listing` has those of one folder: of what several layers have the stamp is
    that of all."""
    layers = layers_of(root)
    if len(layers) == 1:
        return listed(root)
    own = [listed(one.root) for one in layers]
    return Listing(_stamps([one.entries for one in own]), _stamps([one.pictures for one in own]), find_strays(root))


def _stamps(layers: Sequence[Mapping[str, str | None]]) -> dict[str, str | None]:
    found: dict[str, list[str | None]] = {}
    for layer, own in enumerate(layers):
        for file, stamp in own.items():
            found.setdefault(file, []).append(stamp and f"{layer} {stamp}")
    return {
        file: None if None in found[file] else " ".join(map(str, found[file])) for file in sorted(found, key=lambda file: file.split("/"))
    }


def with_own(root: Path, files_: Mapping[str, bytes | OSError]) -> dict[str, bytes | OSError]:
    """Files of the book's own folder as it would have them, each with what the layers below say of it."""
    *below, own = layers_of(root)
    if not below:
        return dict(files_)
    found: dict[str, bytes | OSError] = {}
    for file, data in files_.items():
        pieces = [(layer, one.name, files.read_one(one.root, file)) for layer, one in enumerate(below) if _is_there(one.root / file)]
        found[file] = laid([*pieces, (len(below), own.name, data)])
    return found


def own_of(files_: Mapping[str, bytes | OSError], layer: int) -> dict[str, bytes | OSError]:
    """Of the files of a book those of its own folder, as they are there; ``layer`` is the number of that, below 1 where it has no other."""
    if layer < 1:
        return dict(files_)
    own = ((file, data.pieces[-1]) for file, data in files_.items() if isinstance(data, Stacked))
    return {file: data for file, (at, _, data) in own if at == layer}


def home_of(root: Path, file: str) -> Path:
    """The folder of the layer that a file of the book stands in, the lowest that has it; the book's own where none has."""
    layers = layers_of(root)
    return next((one.root for one in layers if _is_there(one.root / file)), root) if len(layers) > 1 else root


def find_strays(root: Path) -> tuple[str, ...]:
    """Files below ``entries/`` that nothing reads: of the book's own folder. A picture is read where any layer has its entry."""
    layers = layers_of(root)
    if len(layers) == 1:
        return files.find_strays(root)
    known = {file for file, _ in read_all(root)}
    return tuple(one for one in files.find_strays(root) if not _is_picture_of(one, known))


def _is_picture_of(file: str, known: Iterable[str]) -> bool:
    parts = file.split("/")
    return len(parts) == 5 and parts[2] == photos.FOLDER and f"{parts[0]}/{parts[1]}/{parts[3]}.md" in known


def look(root: Path, paths: Iterable[str]) -> Mapping[str, photos.PhotoFile]:
    """What is at each of these paths in the lowest layer that has it, as :func:`rangebook.reading.photos.look` gives it."""
    layers = layers_of(root)
    if len(layers) == 1:
        return photos.look(root, paths)
    wanted = list(paths)
    found: dict[str, photos.PhotoFile] = {}
    for one in layers:
        found |= photos.look(one.root, [path for path in wanted if path not in found])
    return {path: found[path] for path in wanted if path in found}


def read_shelf(root: Path) -> bytes | OSError | None:
    """The stock list of the uppermost layer that has one."""
    for one in reversed(layers_of(root)):
        data = shelf.read_shelf(one.root)
        if data is not None:
            return data
    return None


def shelf_layer(layers: Sequence[Layer]) -> int:
    """The number of the layer whose stock list it is."""
    return next((at for at in range(len(layers) - 1, -1, -1) if _is_there(layers[at].root / shelf.FILE)), len(layers) - 1)


def schema_texts(root: Path) -> dict[str, bytes]:
    """The schema files of one folder, by their names. Raises ``OSError``."""
    folder = root / "schema"
    if not folder.is_dir() and not folder.is_symlink():
        return {}
    refuse_links(root, folder)
    found = {}
    for path in sorted(folder.glob("*.json")):
        refuse_links(root, path)
        found[path.name] = files.read_bytes(path)
    return found


# At a commit


def book_at(repository: git.Repository, commit: str, known: Mapping[str, bytes | OSError]) -> git.BookFiles:
    """The book at a commit with the layers that it named then, as :func:`rangebook.reading.git.book_at` has one folder: a layer of git as
    its commit has it, one that is a folder of the same repository as it was at this one, and any other folder as it lies now. Raises
    :class:`rangebook.reading.git.GitError`."""
    try:
        found: list[tuple[Layer, git.BookFiles]] = []
        _gather_at(repository, commit, known, found, ())
        told = apart([layer for layer, _ in found])
    except LayersError as error:
        raise git.GitError(str(error)) from None
    if len(found) == 1:
        return found[0][1]
    books = [book for _, book in found]
    names = tuple(layer.name for layer in told)
    return git.BookFiles(
        put_together((name, dict(book.entries)) for name, book in zip(names, books, strict=True)),
        books[0].schema,
        next((book.shelf for book in reversed(books) if book.shelf is not None), None),
        names,
        tuple((name, book.schema) for name, book in zip(names[1:], books[1:], strict=True)),
    )


def _gather_at(
    repository: git.Repository,
    commit: str,
    known: Mapping[str, bytes | OSError],
    found: list[tuple[Layer, git.BookFiles]],
    above: tuple[Path, ...],
    called: str = "",
) -> None:
    here = Path("/", commit, repository.prefix)
    refuse_round(here, above)
    data = git.settings_at(repository, commit)
    named = [] if above else [Stated(path=str(one)) for one in named_below(repository.root)]
    for one in [*named, *stated(data, f"{repository.prefix}{FILE} at {commit[:12]}")]:
        same = None if one.address else _in_same(repository, one.path)
        if same is not None and git.has_book(same, commit):
            _gather_at(same, commit, {}, found, (*above, here), one.name)
        else:
            for layer in gathered(resolved(one, Layer("", repository.root))):
                _add(found, layer, partial(_of_folder, layer.root))
    folder = repository.prefix.rstrip("/").rpartition("/")[2]
    _add(found, Layer(called or title_of(data) or folder or repository.root.name, here), lambda: git.book_at(repository, commit, known))


def _add(found: list[tuple[Layer, git.BookFiles]], layer: Layer, read: Callable[[], git.BookFiles]) -> None:
    if not any(other.root == layer.root for other, _ in found):
        found.append((layer, read()))


def _of_folder(root: Path) -> git.BookFiles:
    try:
        return git.BookFiles(list(files.read_all(root)), schema_texts(root), shelf.read_shelf(root))
    except OSError as error:
        raise git.GitError(f"{error.filename or root}: {error.strerror or error}") from error


def _in_same(repository: git.Repository, path: str) -> git.Repository | None:
    """The place of a folder in the same repository; ``None`` where a path leads out of it."""
    if Path(path).is_absolute():
        depth = len(Path(repository.prefix).parts)
        top = repository.root.resolve().parents[depth - 1] if depth else repository.root.resolve()
        if not Path(path).is_relative_to(top):
            return None
        prefix = Path(path).relative_to(top).as_posix().removeprefix(".")
    else:
        try:
            prefix = inside(repository.prefix, path)
        except git.GitError:
            return None
    return git.Repository(repository.root, f"{prefix}/" if prefix else "", repository.hash_name)

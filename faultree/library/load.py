"""Loads a library from a folder, from one of its files, or from texts, with every problem in one run."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

from faultree.base.errors import LibraryError
from faultree.base.problem import Place, Problem
from faultree.library.build import build
from faultree.library.documents import ENDINGS, Content, Document, read_document, too_large
from faultree.library.findings import Guesses
from faultree.library.marked import FAST_LOADER, MAX_BYTES
from faultree.library.model import Library
from faultree.library.names import Index, check_files, check_references, check_unique, index
from faultree.library.whole import (
    bands,
    check_bands,
    check_cycles,
    check_examples,
    check_probabilities,
    check_settings,
)

MOST_PROBLEMS = 500
"""Most problems that are listed of one file."""


class Reading(NamedTuple):
    """What reading gave: the library, or None where something is wrong, and all problems in order."""

    library: Library | None
    problems: tuple[Problem, ...]


def load(path: str | Path) -> Library:
    """The library in a folder, or in the folder of one of its files.

    Raises LibraryError with every problem of every file, ordered by file, line and column. Of one
    file, problems of the files beside it are raised only where the file itself has none.
    """
    reading = read(path)
    if reading.library is None and not reading.problems:
        reading = read(Path(path).parent)
    if reading.library is None:
        raise LibraryError(reading.problems)
    return reading.library


def read(path: str | Path) -> Reading:
    """Like `load`, but hands the problems back.

    Of one file, the files beside it are read too, so that its references lead somewhere, but only
    its own problems are given: without any, there still is no library where another file has some.
    """
    path = Path(path)
    try:
        if path.is_dir():
            return _read_folder(path)
        if path.is_file():
            return _read_file(path)
    except OSError as error:
        return _refused(path, f"cannot be read ({error.strerror})", "check the path and its permissions")
    return _refused(path, "there is no such file or folder", "name a folder of .yaml files")


def read_part(path: str | Path) -> Library | None:
    """The library of those files of a folder that are whole, with all that they refer to; None where there are none.

    Of the path of a file its folder is meant.

    So what is wrong in one file keeps nobody from using the others. What a file that is left out says of
    a part of the others (another cause of an item, say) is missing.
    """
    path = Path(path)
    folder = path if path.is_dir() else path.parent
    try:
        if not path.exists():
            return None
        return part_of({str(one): content(one) for one in tree_files(folder)}, str(folder))
    except OSError:
        return None


def part_of(texts: Mapping[str, Content], folder: str = "") -> Library | None:
    r"""Like `read_part`, of texts by file name.

    >>> library = part_of({"lamps.yaml": "faultree: 1\ntitle: Lamps", "doors.yaml": "faultree: 1"})
    >>> list(library.systems)
    ['lamps']
    """
    kept = [read_document(name, texts[name], Guesses()) for name in sorted(texts)]
    while kept:
        known = index(kept)
        wrong = {problem.place.file for problem in _all_problems(kept, known, Guesses())}
        if not wrong:
            return build(kept, known, folder, _digest({one.file: texts[one.file] for one in kept}))
        # What refers to a file that is left out has a problem of its own in the next round.
        kept = [document for document in kept if document.file not in wrong]
    return None


def load_texts(texts: Mapping[str, str | bytes]) -> Library:
    r"""The library in texts by file name.

    >>> library = load_texts({"lamps.yaml": "faultree: 1\ntitle: Lamps"})
    >>> library.systems["lamps"].title
    'Lamps'

    Raises LibraryError with every problem.
    """
    reading = read_texts(texts)
    if reading.library is None:
        raise LibraryError(reading.problems)
    return reading.library


def read_texts(texts: Mapping[str, Content], folder: str = "", loader: type[Any] = FAST_LOADER) -> Reading:
    """Like `load_texts`, but hands the problems back; names in problems are those given.

    A Problem in place of a text stands for a file that could not be read.
    """
    guesses = Guesses()
    documents = [read_document(name, texts[name], guesses, loader) for name in sorted(texts)]
    known = index(documents)
    problems = _ordered(_all_problems(documents, known, guesses))
    library = None if problems else build(documents, known, folder, _digest(texts))
    return Reading(library, problems)


def _all_problems(documents: Sequence[Document], known: Index, guesses: Guesses) -> Iterator[Problem]:
    yield from check_files(documents)
    for document in documents:
        yield from document.found.problems
        yield from check_unique(document)
        yield from check_references(document, known, guesses)
    yield from check_examples(documents, known)
    yield from check_bands(documents)
    yield from check_probabilities(known, bands(documents))
    circular = list(check_cycles(known))
    yield from circular
    if not circular:
        yield from check_settings(known)


def _ordered(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Each problem once, by file, line and column; of a file with very many only the first ones."""
    listed: list[Problem] = []
    for _, group in groupby(sorted(set(problems), key=_order), key=lambda problem: problem.place.file):
        of_file = list(group)
        listed += of_file[:MOST_PROBLEMS]
        rest = len(of_file) - MOST_PROBLEMS
        if rest > 0:
            last = of_file[MOST_PROBLEMS].place
            listed.append(Problem(last, f"{rest} more problems from here on", "mend those above first"))
    return tuple(listed)


def _order(problem: Problem) -> tuple[str, int, int, str]:
    place = problem.place
    return place.file, place.line, place.column, problem.message


def _digest(texts: Mapping[str, Content]) -> str:
    """A sum over the names and texts, whatever folder they stand in."""
    total = hashlib.sha256()
    for name in sorted(texts):
        content = texts[name]
        data = content if isinstance(content, bytes) else str(content).encode("utf-8", "surrogatepass")
        total.update(f"{Path(name).name}\n{len(data)}\n".encode("utf-8", "surrogateescape"))
        total.update(data)
    return total.hexdigest()


def tree_files(path: Path) -> tuple[Path, ...]:
    """The tree files of a folder in their order, or the file itself if it is one; raises OSError."""
    paths = sorted(path.iterdir()) if path.is_dir() else [path] if path.exists() else []
    return tuple(one for one in paths if _is_tree_file(one))


def _read_folder(folder: Path) -> Reading:
    paths = tree_files(folder)
    if not paths:
        return _refused(folder, "the folder holds no tree file", "put a file with the ending .yaml into it")
    return read_texts({str(path): content(path) for path in paths}, str(folder))


def _read_file(path: Path) -> Reading:
    if not _is_tree_file(path):
        return _refused(path, "this is no tree file", "a tree file has the ending .yaml and no dot before its name")
    library, problems = _read_folder(path.parent)
    own = tuple(problem for problem in problems if Path(problem.place.file) == path)
    return Reading(library, own)


def _is_tree_file(path: Path) -> bool:
    return path.suffix.lower() in ENDINGS and not path.name.startswith(".") and not path.is_dir()


def content(path: Path) -> Content:
    """The bytes of a file, never more than MAX_BYTES and one; a Problem where it cannot be read."""
    try:
        if path.exists() and not path.is_file():
            return Problem(Place(str(path)), "this is no ordinary file", "remove it from the folder", rule="file")
        size = path.stat().st_size
        if size > MAX_BYTES:
            return too_large(str(path), size)
        with path.open("rb") as source:
            return source.read(MAX_BYTES + 1)
    except OSError as error:
        message = f"cannot be read ({error.strerror or error})"
        return Problem(Place(str(path)), message, "check the file and its permissions", rule="file")


def _refused(path: Path, message: str, hint: str) -> Reading:
    return Reading(None, (Problem(Place(str(path)), message, hint, rule="file"),))

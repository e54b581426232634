"""Reads one file's text into a document: its records, its references and what is wrong so far."""

from __future__ import annotations

from pathlib import PurePath
from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.library.findings import ID_FORM, Findings, Guesses
from faultree.library.marked import FAST_LOADER, MAX_BYTES, Scalar, Table, parse
from faultree.library.records import Record, read_record
from faultree.library.shapes import FILE
from faultree.library.values import is_id, shown

ENDINGS = (".yaml", ".yml")
"""The endings of tree files, in any case."""


class Document(NamedTuple):
    """One file as read; `complete` is false where part of it could not be read at all."""

    system: str
    file: str
    head: Record | None
    complete: bool
    found: Findings

    def section(self, name: str) -> tuple[Record, ...]:
        """The records of one section, in the order written."""
        records: tuple[Record, ...] = () if self.head is None else self.head.get(name, ())
        return records


def system_of(name: str) -> str:
    """The id of a file: its name without folder and ending.

    >>> system_of("trees/flaps.yaml"), system_of("a.b.yml")
    ('flaps', 'a.b')
    """
    path = PurePath(name)
    return path.stem if path.suffix.lower() in ENDINGS else path.name


Content = str | bytes | Problem
"""What a file holds, or why it could not be read."""


def read_document(file: str, content: Content, guesses: Guesses, loader: type[Any] = FAST_LOADER) -> Document:
    """The document in a file's content; everything wrong with it is in its findings."""
    system = system_of(file)
    found = Findings(file, system, guesses)
    if not is_id(system):
        place = Place(file)
        message = f"the file name gives the id '{shown(system)}', which is not an id"
        found.problems.append(Problem(place, message, f"rename it; {ID_FORM}", rule="file"))
    text = _decoded(content, found)
    if text is None:
        return Document(system, file, None, False, found)
    marked = parse(text, file, loader)
    found.problems.extend(marked.problems)
    key = Scalar(system, True, 1, 1)
    if isinstance(marked.root, Table):
        head = read_record(FILE, system, key, marked.root, found, marked.complete)
        return Document(system, file, head, marked.complete, found)
    if marked.complete:
        what = "the file is empty" if marked.root is None else "this is no tree file"
        found.problem(key, what, "begin it with the lines 'faultree: 1' and 'title: ...'")
    return Document(system, file, None, False, found)


def _decoded(content: Content, found: Findings) -> str | None:
    """The content as text, or None after a problem is noted."""
    if isinstance(content, Problem):
        found.problems.append(content)
        return None
    if len(content) > MAX_BYTES:
        found.problems.append(too_large(found.file, len(content)))
        return None
    if isinstance(content, str):
        return content
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        found.problems.append(_not_utf8(found.file, content, error.start))
        return None


def too_large(file: str, size: int) -> Problem:
    """The problem of a file that is refused for its size."""
    message = f"the file has {size:,} bytes; at most {MAX_BYTES:,} are read"
    return Problem(Place(file), message, "split it into several systems", rule="file")


def _not_utf8(file: str, content: bytes, start: int) -> Problem:
    line = content.count(b"\n", 0, start) + 1
    begin = content.rfind(b"\n", 0, start) + 1
    column = len(content[begin:start].decode("utf-8", "replace")) + 1
    message = f"the byte 0x{content[start]:02X} is not UTF-8 text"
    return Problem(Place(file, line, column), message, "save the file as UTF-8", rule="file")

"""Turns the text of one file into nodes that keep their raw text and their place, or into problems.

The nodes are built from the parser's events and not by `yaml.compose`: events still show anchors,
tags and second documents, need no recursion, and skip the resolver, which would turn `yes` into a
boolean and costs most of the time.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import yaml

from faultree.base.problem import Place, Problem
from faultree.library.syntax import syntax_problem
from faultree.library.values import shown

MAX_DEPTH = 60
"""Deepest nesting that is read; each gate takes two levels."""
MAX_NODES = 250_000
"""Most values that are read from one file; 20,000 lines hold about 50,000."""
MAX_BYTES = 5_000_000
"""Largest file that is read; 20,000 lines hold about 600,000 bytes."""
MAX_NOTES = 1_000
"""Most problems that are noted of one file before reading stops; a file with more is no tree file."""

SAFE_LOADER: type[Any] = yaml.SafeLoader
FAST_LOADER: type[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The loader whose parser is used: the one in C where it is installed."""

_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")


class Scalar(NamedTuple):
    """A single value as written; `plain` is false where it stood in quotes or in a text block."""

    text: str
    plain: bool
    line: int
    column: int


class Array(NamedTuple):
    """A list of nodes."""

    entries: tuple[Node, ...]
    line: int
    column: int


class Table(NamedTuple):
    """A mapping in the order written; duplicate keys are still in it, and are reported already."""

    pairs: tuple[tuple[Scalar, Node], ...]
    line: int
    column: int


class Refused(NamedTuple):
    """Something that is reported already, and about which nothing more is to be said."""

    line: int
    column: int


Node = Scalar | Array | Table | Refused


class Marked(NamedTuple):
    """The root of one file; `complete` is false where reading stopped at a mistake.

    An incomplete root still holds every entry that was read to its end.
    """

    root: Node | None
    complete: bool
    problems: tuple[Problem, ...]


@dataclass(slots=True)
class _Frame:
    """A list or mapping that is still open; a mapping's children alternate key and value."""

    table: bool
    line: int
    column: int
    children: list[Node] = field(default_factory=list)


class _Stop(Exception):
    """Reading ends here; the problem is noted already."""


def parse(text: str, file: str, loader: type[Any] = FAST_LOADER) -> Marked:
    """The marked nodes of a text; `file` is what problems call it.

    >>> parse("on: yes", "a.yaml").root.pairs[0]
    (Scalar(text='on', plain=True, line=1, column=1), Scalar(text='yes', plain=True, line=1, column=5))
    """
    text = text.removeprefix("\ufeff")
    bad = _UNPRINTABLE.search(text)
    if bad is not None:
        return Marked(None, False, (_unprintable(text, bad.start(), file),))
    return _Builder(text, file).run(loader)


def _unprintable(text: str, position: int, file: str) -> Problem:
    line = text.count("\n", 0, position) + 1
    column = position - (text.rfind("\n", 0, position) + 1) + 1
    what = f"the character U+{ord(text[position]):04X} does not belong in a text file"
    return Problem(Place(file, line, column), what, "remove it, or save the file as plain UTF-8 text", rule="syntax")


class _Builder:
    """Reads the events of one text into nodes."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        self.problems: list[Problem] = []
        self.stack: list[_Frame] = []
        self.root: Node | None = None
        self.count = 0

    def run(self, loader: type[Any]) -> Marked:
        complete = False
        try:
            for event in _events(loader, self.text):
                self.take(event)
            complete = True
        except _Stop:
            pass
        except yaml.YAMLError as error:
            self.problems.append(syntax_problem(error, self.text, self.file))
        except (ValueError, OverflowError):
            # The parser in Python trips over escapes such as \UFFFFFFFF without an error of its own.
            self.note(0, 0, "a quoted text holds an escape that is no character", "correct the escape after '\\'")
        if not complete:
            self.unwind()
        return Marked(self.root, complete, tuple(self.problems))

    def note(self, line: int, column: int, message: str, hint: str) -> None:
        if len(self.problems) < MAX_NOTES:
            self.problems.append(Problem(Place(self.file, line, column), message, hint, rule="syntax"))

    def stop(self, line: int, column: int, message: str, hint: str) -> None:
        self.note(line, column, message, hint)
        raise _Stop

    def take(self, event: Any) -> None:
        if len(self.problems) >= MAX_NOTES:
            raise _Stop
        kind = type(event)
        if kind is yaml.ScalarEvent:
            self.scalar(event)
        elif kind is yaml.MappingStartEvent or kind is yaml.SequenceStartEvent:
            self.open(event, kind is yaml.MappingStartEvent)
        elif kind is yaml.MappingEndEvent or kind is yaml.SequenceEndEvent:
            self.add(self.closed(self.stack.pop()))
        elif kind is yaml.AliasEvent:
            mark = event.start_mark
            self.note(mark.line + 1, mark.column + 1, f"the alias '*{shown(event.anchor)}' is not allowed", _ALIAS)
            self.add(Refused(mark.line + 1, mark.column + 1))
        elif kind is yaml.DocumentStartEvent and self.root is not None:
            mark = event.start_mark
            self.stop(mark.line + 1, mark.column + 1, "a second document starts here", _DOCUMENT)

    def scalar(self, event: Any) -> None:
        mark = event.start_mark
        line, column = mark.line + 1, mark.column + 1
        if event.anchor is not None or event.tag is not None:
            self.decorated(event, line, column)
        self.add(Scalar(event.value, event.implicit[0] and event.tag is None, line, column))

    def open(self, event: Any, table: bool) -> None:
        mark = event.start_mark
        line, column = mark.line + 1, mark.column + 1
        if event.anchor is not None or event.tag is not None:
            self.decorated(event, line, column)
        if len(self.stack) >= MAX_DEPTH:
            self.stop(line, column, f"nested more than {MAX_DEPTH} levels deep", "split it into signals or events")
        self.stack.append(_Frame(table, line, column))

    def decorated(self, event: Any, line: int, column: int) -> None:
        if event.anchor is not None:
            self.note(line, column, f"the anchor '&{shown(event.anchor)}' is not allowed", _ALIAS)
        if event.tag is not None:
            self.note(line, column, f"the tag '{shown(_tag(event.tag))}' is not allowed", "remove it")

    def add(self, node: Node) -> None:
        self.count += 1
        if self.count > MAX_NODES:
            self.stop(node.line, node.column, f"more than {MAX_NODES} values in one file", "split the file")
        if self.stack:
            self.stack[-1].children.append(node)
        else:
            self.root = node

    def closed(self, frame: _Frame) -> Node:
        if not frame.table:
            return Array(tuple(frame.children), frame.line, frame.column)
        children = iter(frame.children)
        return Table(tuple(self.pairs(zip(children, children, strict=False))), frame.line, frame.column)

    def pairs(self, raw: Iterator[tuple[Node, Node]]) -> Iterator[tuple[Scalar, Node]]:
        seen: dict[str, int] = {}
        for key, value in raw:
            if not isinstance(key, Scalar):
                if not isinstance(key, Refused):
                    self.note(key.line, key.column, "a key must be a single word", "write it as 'key: value'")
                continue
            if key.text == "<<" and key.plain:
                self.note(key.line, key.column, "the merge key '<<' is not allowed", _ALIAS)
                continue
            first = seen.get(key.text)
            if first is not None:
                what = f"duplicate key '{shown(key.text)}', which stands on line {first} already"
                self.note(key.line, key.column, what, "keep one of the two")
            seen.setdefault(key.text, key.line)
            yield key, value

    def unwind(self) -> None:
        """Close what is open after a mistake: the file and its sections stay, a half-read entry goes."""
        del self.stack[2:]
        while self.stack:
            node = self.closed(self.stack.pop())
            if self.stack:
                self.stack[-1].children.append(node)
            else:
                self.root = node


def _events(loader: type[Any], text: str) -> Iterator[Any]:
    source = loader(text)
    try:
        while True:
            event = source.get_event()
            if type(event) is yaml.StreamEndEvent:
                return
            yield event
    finally:
        source.dispose()


def _tag(full: str) -> str:
    """A tag as it is written: the parser gives `!!str` in full."""
    standard = "tag:yaml.org,2002:"
    return f"!!{full.removeprefix(standard)}" if full.startswith(standard) else full


_ALIAS = "write the content out where it is needed"
_DOCUMENT = "a tree file holds one: remove the line '---' or split the file"

"""Reads the text of a tree file into parts that keep what its meaning does not need: comments, quotes, style.

A comment behind a value on its line belongs to that value. A comment on lines of its own belongs to
what follows it, or, where it is indented further than that, to the end of what stands before.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from faultree.library.marked import FAST_LOADER

_BREAK = re.compile("[\n\x85\u2028\u2029]")
_EMPTY_END = re.compile(r"(?:\n *)+\Z")


@dataclass(frozen=True, slots=True)
class Leaf:
    """A single value: its text, how it is written (`raw`), and in which style: plain, quoted or a text block."""

    text: str
    raw: str
    style: str = ""


@dataclass(slots=True)
class Entry:
    """One entry of a group: the comment lines above it ("" for an empty line), and the comment beside it.

    `key` is None in a list.
    """

    key: Leaf | None
    value: Part
    above: list[str] = field(default_factory=list)
    beside: str = ""


@dataclass(slots=True)
class Group:
    """A mapping or a list; `flow` says that it is written in brackets, `tail` holds the comments at its end."""

    table: bool
    flow: bool
    column: int = 0
    entries: list[Entry] = field(default_factory=list)
    tail: list[str] = field(default_factory=list)

    def commented(self) -> bool:
        """Whether a comment stands somewhere within."""
        if any(self.tail):
            return True
        return any(
            any(one.above) or one.beside or (isinstance(one.value, Group) and one.value.commented())
            for one in self.entries
        )


Part = Leaf | Group


@dataclass(frozen=True, slots=True)
class Commented:
    """A whole file: the comments before its first key, and its parts."""

    head: list[str]
    root: Group


def read(text: str, loader: type[Any] = FAST_LOADER) -> Commented:
    r"""The parts of a text in which the reader has found nothing wrong; its lines end in a line feed alone.

    >>> file = read("# Head\nfaultree: 1  # the format\ntitle: 'T'\n# End\n")
    >>> file.head, file.root.entries[0].beside, file.root.entries[1].value.raw, file.root.tail
    (['# Head'], '# the format', "'T'", ['# End'])
    """
    return _Builder(text).run(loader)


def comments(file: Commented) -> Iterator[str]:
    """Every comment of a file."""
    yield from filter(None, file.head)
    yield from _of_group(file.root)


def _of_group(group: Group) -> Iterator[str]:
    for entry in group.entries:
        yield from filter(None, (*entry.above, entry.beside))
        if isinstance(entry.value, Group):
            yield from _of_group(entry.value)
    yield from filter(None, group.tail)


@dataclass(slots=True)
class _Open:
    """A group that is still open; in a mapping `key` is a key whose value is still to come."""

    group: Group
    bracket: bool
    key: Entry | None = None


_NOTHING = Leaf("", "")


class _Builder:
    """Goes through the events of a text, and gives each gap between two values to one of its neighbours."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.begins = [0, *(found.end() for found in _BREAK.finditer(text))]  # where each line begins
        self.done = 0  # everything before is taken
        self.same_line = False  # whether what comes next stands on the line of `last`
        self.last: Entry | None = None
        self.pending: list[tuple[int, str]] = []  # comments (column, text) that have no owner yet
        self.head: list[str] = []
        self.stack: list[_Open] = []
        self.root = Group(True, False)

    def run(self, loader: type[Any]) -> Commented:
        source = loader(self.text)
        try:
            while not isinstance(event := source.get_event(), yaml.StreamEndEvent):
                self.take(event)
        finally:
            source.dispose()
        self.gap(len(self.text))
        self.root.tail += self.lines()
        return Commented(self.head, self.root)

    def take(self, event: Any) -> None:
        if isinstance(event, yaml.ScalarEvent):
            self.leaf(event)
        elif isinstance(event, yaml.CollectionStartEvent):
            self.open(event)
        elif isinstance(event, yaml.CollectionEndEvent):
            self.close(event)

    # ---- values

    def leaf(self, event: Any) -> None:
        start, end = event.start_mark.index, event.end_mark.index
        self.gap(start)
        leaf = Leaf(event.value, self.written(event), event.style or "")
        frame = self.stack[-1] if self.stack else None
        if frame is not None and frame.group.table and frame.key is None:
            frame.key = self.add(frame.group, Entry(leaf, _NOTHING))
        else:
            self.put(leaf)
        self.done, self.same_line = end, True
        if leaf.style in ("|", ">"):
            self.block(leaf, start)

    def written(self, event: Any) -> str:
        """A value as it stands; a text block without the empty lines below it, unless it keeps them."""
        raw = self.text[event.start_mark.index : event.end_mark.index]
        # Spaces on a line of their own, further in than the text, belong to it.
        spaces = event.style in ("|", ">") and re.search(r"\n +\Z", event.value.rstrip("\n"))
        if event.style in ("|", ">") and not spaces and "+" not in raw.partition("\n")[0].partition("#")[0]:
            return _EMPTY_END.sub("", raw)
        return raw

    def block(self, leaf: Leaf, start: int) -> None:
        """Go on behind a text block; a comment in its header belongs to it."""
        _, sign, note = leaf.raw.partition("\n")[0].partition("#")
        if sign:
            self.beside(f"#{note.rstrip()}")
        self.done, self.same_line = start + len(leaf.raw), False

    def open(self, event: Any) -> None:
        start = event.start_mark.index
        bracket = bool(event.flow_style) and self.text[start : start + 1] in ("{", "[")
        # A list may stand in the column of its key; a comment in that column belongs to the next key.
        column = max(event.start_mark.column, self.stack[-1].group.column + 1 if self.stack else 0)
        group = Group(isinstance(event, yaml.MappingStartEvent), bool(event.flow_style), column)
        self.gap(start)
        if not self.stack:
            self.root = group
        else:
            self.put(group)
        self.stack.append(_Open(group, bracket))
        if bracket:
            self.done, self.same_line, self.last = start + 1, False, None

    def close(self, event: Any) -> None:
        frame = self.stack.pop()
        start = event.start_mark.index
        self.gap(start)
        if frame.group.flow:
            frame.group.tail += self.lines()
        else:
            self.indented(frame.group)
        if frame.bracket:
            self.done, self.same_line = start + 1, True
            self.last = self.stack[-1].group.entries[-1] if self.stack else None

    def put(self, value: Part) -> None:
        """Give a value to the key that waits for it, or to the list that is open."""
        frame = self.stack[-1]
        if frame.group.table:
            entry, frame.key = frame.key, None
            assert entry is not None
            entry.value = value
            if isinstance(value, Leaf) or value.flow:
                # The comments below a key are those of its first entry, where it has entries on lines of their own.
                entry.above += self.lines()
                self.last = entry
        else:
            self.add(frame.group, Entry(None, value))

    def add(self, group: Group, entry: Entry) -> Entry:
        """Put an entry into a group, below the comments that wait; those of the first key are the file's."""
        if group is self.root and not group.entries:
            self.head += self.lines()
        entry.above += self.lines()
        group.entries.append(entry)
        self.last = entry
        return entry

    # ---- comments

    def gap(self, end: int) -> None:
        """Look for comments in what stands between the last value and the next one."""
        place = self.done
        while place < end:
            found = _BREAK.search(self.text, place, end)
            stop, after = (found.start(), found.end()) if found else (end, end)
            self.line(place, stop, whole=found is not None)
            place = after
            self.same_line = self.same_line and found is None
        self.done = max(self.done, end)

    def line(self, start: int, stop: int, whole: bool) -> None:
        """Take the comment in a part of a line that holds no value; a `whole` one may be an empty line."""
        sign = self.text.find("#", start, stop)
        if sign >= 0 and self.same_line and self.last is not None:
            self.beside(self.text[sign:stop].rstrip())
        elif sign >= 0:
            line = bisect_right(self.begins, sign) - 1
            self.pending.append((sign - self.begins[line], self.text[sign:stop].rstrip()))
        elif whole and self.begins[bisect_right(self.begins, start) - 1] == start and not self.text[start:stop].strip():
            self.pending.append((0, ""))

    def beside(self, note: str) -> None:
        """Put a comment beside the last value; one that stands there already goes above."""
        if self.last is None:
            self.pending.append((0, note))
            return
        if self.last.beside:
            self.last.above.append(self.last.beside)
        self.last.beside = note

    def lines(self) -> list[str]:
        """The comments that wait, which from now on have an owner."""
        found = [note for _, note in self.pending]
        self.pending.clear()
        return found

    def indented(self, group: Group) -> None:
        """Give a group that ends here the comments that are indented as far as its entries."""
        count = 0
        for place, (column, note) in enumerate(self.pending, 1):
            if note and column < group.column:
                break
            count = place if note else count
        group.tail += [note for _, note in self.pending[:count]]
        del self.pending[:count]

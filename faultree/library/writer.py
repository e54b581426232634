"""Writes a tree file in one layout: keys in the order of the format, comments kept, meaning unchanged."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.library import commented
from faultree.library.arrange import arranged
from faultree.library.commented import Commented, Entry, Group, Leaf
from faultree.library.documents import Content, Document, read_document
from faultree.library.findings import Guesses
from faultree.library.leaves import WIDTH, lines, on_one_line
from faultree.library.marked import Scalar
from faultree.library.records import Record
from faultree.library.values import flag, is_id

STEP = 2
"""Columns by which an entry is indented."""


class Written(NamedTuple):
    """A file's text in the layout of the format, or None and the problems for which it is left alone."""

    text: str | None
    problems: tuple[Problem, ...] = ()


def write(content: Content, file: str) -> Written:
    r"""The text of a tree file in the layout of the format; `file` is its name, which gives it its id.

    What does not read is left alone. Names need not lead anywhere: a file is written by itself.

    >>> print(write("title: Lamps # all\nfaultree:   1\nx-own: [a,b]\n", "lamps.yaml").text, end="")
    faultree: 1
    title: Lamps  # all
    x-own: [a, b]
    """
    before = read_document(file, content, Guesses())
    if before.head is None or before.found.problems or isinstance(content, Problem):
        return Written(None, tuple(sorted(set(before.found.problems))))
    text = content if isinstance(content, str) else content.decode("utf-8")
    end = "\r\n" if "\r\n" in text else "\n"
    parts = commented.read(text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"))
    after = _document(parts)
    if not _unchanged(before, parts, after, file):
        message = "it cannot be laid out anew without a change"
        return Written(None, (Problem(Place(file), message, "leave it as it is", rule="file"),))
    return Written(after.replace("\n", end))


def _unchanged(before: Document, parts: Commented, text: str, file: str) -> bool:
    """Whether a text means what the document before meant, and holds the same comments."""
    after = read_document(file, text, Guesses())
    if after.found.problems or _meaning(after.head) != _meaning(before.head):
        return False
    return Counter(commented.comments(parts)) == Counter(commented.comments(commented.read(text)))


def _meaning(value: Any) -> Any:
    """What was read, without the places in which it stood; operands compare without theirs already."""
    if isinstance(value, Record):
        fields = {name: _meaning(inner) for name, inner in value.values.items()}
        return value.id, fields, dict(value.extra)
    if isinstance(value, Scalar):
        return value.text
    return tuple(map(_meaning, value)) if type(value) is tuple else value


# ---- the layout


def _document(file: Commented) -> str:
    root = arranged(file.root)
    found = [*_notes(file.head, 0, first=True)]
    large = False
    for place, entry in enumerate(root.entries):
        before, large = large, isinstance(entry.value, Group) and not _fits(entry.value, len(_key(entry)))
        # A section stands by itself.
        gap = place > 0 and (before or large)
        above = ["", *entry.above] if gap else entry.above
        found += _notes(above, 0, first=place == 0)
        found += _entry(entry, 0)
    return "".join(f"{line}\n" for line in (*found, *_notes(root.tail, 0, last=True)))


def _entries(group: Group, indent: int) -> Iterator[str]:
    """The lines of a group whose entries stand below each other."""
    for place, entry in enumerate(group.entries):
        yield from _notes(entry.above, indent, first=place == 0)
        yield from _entry(entry, indent)
    yield from _notes(group.tail, indent, last=True)


def _notes(notes: list[str], indent: int, *, first: bool = False, last: bool = False) -> list[str]:
    """Comment lines, with one empty line where there are more, and none at the very beginning or end."""
    found: list[str] = []
    for note in notes:
        if note:
            found.append(" " * indent + note)
        elif found[-1:] != [""] and (found or not first):
            found.append("")
    while last and found[-1:] == [""]:
        found.pop()
    return found


def _entry(entry: Entry, indent: int) -> list[str]:
    """The lines of one entry: on one line where that fits and is written so, else on several."""
    start = " " * indent + _key(entry)
    value = entry.value
    if isinstance(value, Leaf):
        first, *rest = lines(value, indent + STEP, len(start) + 1)
        return [*_beside(f"{start} {first}" if first else start, entry.beside), *rest]
    if _fits(value, len(start)):
        return _beside(f"{start} {_flow(value)}", entry.beside)
    inner = list(_entries(value, indent + STEP))
    if not value.entries:
        return [*inner, *_beside(f"{start} {_flow(value)}", entry.beside)]
    if entry.key is not None:
        return [*_beside(start, entry.beside), *inner]
    return _listed(inner, indent, entry.beside)


def _listed(inner: list[str], indent: int, beside: str) -> list[str]:
    """A mapping or list as an entry of a list: its first line begins with a dash, and what is above it stays so."""
    place = next(i for i, line in enumerate(inner) if line and not line.lstrip().startswith("#"))
    above = [" " * indent + line.lstrip() for line in inner[:place] if line]
    note = [" " * indent + beside] if beside else []
    return [*note, *above, f"{' ' * indent}- {inner[place].lstrip()}", *inner[place + 1 :]]


def _key(entry: Entry) -> str:
    if entry.key is None:
        return "-"
    return f"{entry.key.text if _bare(entry.key.text) else on_one_line(entry.key)}:"


def _bare(key: str) -> bool:
    """Whether a key needs no quotes, neither here nor for other readers of YAML."""
    return is_id(key) and flag(key) is None and key.lower() not in ("null", "y", "n")


def _beside(line: str, note: str) -> list[str]:
    return [f"{line}  {note}" if note else line]


def _fits(group: Group, start: int) -> bool:
    """Whether a group is written in brackets and fits on its line with all that is in it."""
    return group.flow and not group.commented() and start + 1 + len(_flow(group)) <= WIDTH


def _flow(group: Group) -> str:
    parts = []
    for entry in group.entries:
        value = on_one_line(entry.value) if isinstance(entry.value, Leaf) else _flow(entry.value)
        parts.append(value if entry.key is None else f"{_key(entry)} {value}")
    return f"{{{', '.join(parts)}}}" if group.table else f"[{', '.join(parts)}]"

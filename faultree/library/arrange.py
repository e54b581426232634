"""Puts the keys of a tree file into the order of the format; ids, lists and an author's own keys keep theirs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from faultree.library.commented import Entry, Group, Part
from faultree.library.kinds import Kind, Many
from faultree.library.operands import GateOf, OperandKind, When
from faultree.library.records import Listed, One, Records, Shape
from faultree.library.shapes import FILE

SECTIONS = tuple(name for name, spec in FILE.fields.items() if isinstance(spec.kind, Records | Listed))
"""The keys of a file whose entries always stand below each other."""

HEAD = tuple(FILE.fields).index("likelihoods")
"""How many keys of a file say what it is; an author's own keys stand behind them."""


def arranged(root: Group) -> Group:
    """A whole file, with its sections and their fields in order.

    An author's own keys stand behind the head of the file, and at the end of an entry.
    """
    found = _shaped(root, FILE, HEAD)
    entries = [
        replace(entry, value=replace(entry.value, flow=False))
        if isinstance(entry.value, Group) and entry.value.entries and entry.key and entry.key.text in SECTIONS
        else entry
        for entry in found.entries
    ]
    return replace(found, flow=False, entries=entries)


def _shaped(part: Part, shape: Shape, own: int = 99) -> Group:
    """A mapping of a shape; an author's own keys come behind its first `own` ones."""
    assert isinstance(part, Group)
    names = list(shape.fields)
    group = _ordered(part, [*names[:own], "", *names[own:]])
    entries = []
    for entry in group.entries:
        assert entry.key is not None
        spec = shape.fields.get(entry.key.text)
        entries.append(entry if spec is None else replace(entry, value=_of_kind(entry.value, spec.kind)))
    return replace(group, entries=entries)


def _of_kind(part: Part, kind: Kind) -> Part:
    if not isinstance(part, Group):
        return part
    if isinstance(kind, One):
        return _shaped(part, kind.shape)
    if isinstance(kind, Records | Listed):
        return replace(part, entries=[replace(one, value=_shaped(one.value, kind.shape)) for one in part.entries])
    if isinstance(kind, GateOf) and kind.gate == "at_least":
        return _operands(_ordered(part, ("count", "of", "")))
    if isinstance(kind, GateOf | OperandKind | When | Many):
        return _operands(part)
    return part


def _operands(group: Group) -> Group:
    """Operands, however deep: below `at_least` the count comes first."""
    entries = []
    for entry in group.entries:
        value = entry.value
        if isinstance(value, Group):
            voted = entry.key is not None and entry.key.text == "at_least"
            value = _operands(_ordered(value, ("count", "of", "")) if voted else value)
        entries.append(replace(entry, value=value))
    return replace(group, entries=entries)


def _ordered(group: Group, names: Sequence[str]) -> Group:
    """A mapping with the keys that are known in their order, and the others in the place of the name ""."""
    order = {name: place for place, name in enumerate(names)}

    def place(entry: Entry) -> int:
        return order.get(entry.key.text if entry.key else "", order[""])

    return replace(group, entries=sorted(group.entries, key=place))

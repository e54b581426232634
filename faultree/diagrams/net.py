"""The success logic behind a symptom as a net: signals as boxes with what can take them away, joined left to right.

A gate that a signal follows stands in the signal's own box; gates within gates are boxes of their own. Conditions
are drawn where they are used, so that no line crosses the sheet for them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from faultree.library.model import Event, Gate, Library, Operand, Ref, Signal, refs
from faultree.logic.graph import operands

NodeKind = Literal["signal", "gate", "condition", "cause", "report"]
Way = Literal["follows", "lost", "forced"]

QUALIFIERS = {"all": "&", "any": "≥1", "none": "&", "one_of": "=1"}
"""`none` is `all` with every input turned, which is how an interlock is taught."""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that takes a signal away or forces it: a cause, another node (full id), or a gate (no name).

    `tail` is the box that a line comes from, empty for a cause that is only named; `turned`: not so is what does it.
    """

    way: Literal["lost", "forced"]
    name: str
    tail: str = ""
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Node:
    """A box: `source` is the full id it stands for (empty for a gate), `sign` the qualifier of its inputs."""

    id: str
    kind: NodeKind
    system: str
    source: str = ""
    sign: str = ""
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class Link:
    """From one box to the next; `turned` where the input must not be so."""

    tail: str
    head: str
    way: Way = "follows"
    turned: bool = False

    @property
    def end(self) -> tuple[str, bool]:
        """The box that it comes from, and whether it is turned: what tells it from the others of its box and way."""
        return self.tail, self.turned

    @property
    def ring(self) -> bool:
        """Whether a ring stands at its end: what must not be so, takes away, or forces by not being so."""
        return self.turned != (self.way == "lost")


@dataclass
class Net:
    """Boxes and links, built node by node and not changed afterwards."""

    library: Library
    nodes: dict[str, Node] = field(default_factory=dict)
    links: list[Link] = field(default_factory=list)
    _count: int = 0

    def systems(self) -> tuple[str, ...]:
        """The files that the boxes come from, that of the report first."""
        return tuple(dict.fromkeys(node.system for node in reversed(list(self.nodes.values()))))

    def _new(self, kind: NodeKind, system: str, source: str = "", sign: str = "") -> Node:
        self._count += 1
        node = Node(f"{kind}-{self._count}", kind, system, source, sign)
        self.nodes[node.id] = node
        return node

    def into(self, head: str) -> tuple[Link, ...]:
        """The links that lead to a box, in the author's order."""
        return tuple(link for link in self.links if link.head == head)

    def says(self, row: Row) -> str:
        """What a row of a box names, in words."""
        gates = {"&": "all of these", "≥1": "one or more of these", "=1": "exactly one of these"}
        sign = self.nodes[row.tail].sign if row.tail and not row.name else ""
        words = self.library.node(row.name).title if row.name else gates.get(sign, f"{sign[1:]} or more of these")
        return f"not: {words}" if row.turned else words

    def gated(self, name: str, entry: Signal | Event) -> None:
        """Add the box of a signal or event."""
        rows: list[Row] = []
        self.nodes[name] = Node(name, "signal", entry.system, name)
        sign = ""
        if isinstance(entry, Event):
            sign = self.inputs(name, entry.gate, entry.system)
        else:
            if entry.follows is not None:
                sign = self.inputs(name, entry.follows, entry.system)
            for way, listed in (("lost", entry.lost_if), ("forced", entry.forced_if)):
                rows += self._rows(name, way, listed, entry.system)  # type: ignore[arg-type]  # the words of `Way`
        self.nodes[name] = Node(name, "signal", entry.system, name, sign, tuple(rows))

    def _rows(
        self, head: str, way: Literal["lost", "forced"], listed: tuple[Operand, ...], system: str
    ) -> Iterator[Row]:
        for operand in listed:
            if isinstance(operand, Ref) and operand.id in self.library.causes:
                yield Row(way, operand.id)
            else:
                link = self.link(head, operand, system, way)
                yield Row(way, self.nodes[link.tail].source if link.tail in self.nodes else link.tail, *link.end)

    def inputs(self, head: str, operand: Operand, system: str) -> str:
        """Link the inputs of a gate to the box that holds it; the qualifier, empty for a single input."""
        if isinstance(operand, Ref) or operand.kind == "not":
            self.link(head, operand, system)
            return ""
        for inner in operand.operands:
            self.link(head, inner, system, turned=operand.kind == "none")
        return f"≥{operand.count}" if operand.kind == "at_least" else QUALIFIERS[operand.kind]

    def link(self, head: str, operand: Operand, system: str, way: Way = "follows", *, turned: bool = False) -> Link:
        """Link what an operand stands for to a box."""
        while isinstance(operand, Gate) and operand.kind == "not":
            operand, turned = operand.operands[0], not turned
        self.links.append(Link(self._tail(operand, system), head, way, turned))
        return self.links[-1]

    def _tail(self, operand: Operand, system: str) -> str:
        if isinstance(operand, Gate):
            node = self._new("gate", system)
            sign = self.inputs(node.id, operand, system)
            self.nodes[node.id] = Node(node.id, "gate", system, "", sign)
            return node.id
        if operand.id in self.library.conditions:
            return self._new("condition", system, operand.id).id
        if operand.id in self.library.causes:
            return self._new("cause", system, operand.id).id
        return operand.id


def net_of(library: Library, symptom: str) -> Net:
    """The net of all that a symptom's reported nodes rest on, the report last."""
    net = Net(library)
    entry = library.symptoms[symptom]
    for name in _needed(library, [node for node, _ in entry.sees]):
        gated = library.signals.get(name) or library.events.get(name)
        if gated is not None:
            net.gated(name, gated)
    net.nodes[symptom] = Node(symptom, "report", entry.system, symptom, "&" if len(entry.sees) > 1 else "")
    for name, value in entry.sees:
        net.link(symptom, Ref(name), entry.system, turned=not value)
    return net


def _needed(library: Library, names: list[str]) -> list[str]:
    """Signals and events below some nodes, inputs first, in the order in which they are written."""
    order: dict[str, None] = {}
    pending = [(name, False) for name in reversed(names)]
    while pending:
        name, done = pending.pop()
        entry = library.signals.get(name) or library.events.get(name)
        if entry is None or name in order:
            continue
        if done:
            order[name] = None
            continue
        pending.append((name, True))
        below = [ref.id for operand in operands(entry) for ref in refs(operand)]
        pending += [(one, False) for one in reversed(below) if one not in order]
    return list(order)

"""The Boolean graph of a library: every signal, event and operand as one shared node.

A literal is an integer, `2 * node + negated`; node 0 is the constant true. Every gate is reduced to
one of three counting nodes over literals: `any` (one or more), `at_least` (`count` or more) and
`one_of` (exactly one). `all` and `none` become negations of `any` by De Morgan's laws. Equal nodes
are shared (hash consing), so that two ways of writing the same thing cost once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from graphlib import TopologicalSorter
from typing import Literal, NamedTuple

from faultree.library.model import Event, Library, Operand, Ref, Signal, refs

NodeKind = Literal["true", "condition", "cause", "any", "at_least", "one_of"]

TRUE = 0
FALSE = 1


def negate(literal: int) -> int:
    """The literal that is true exactly when this one is not.

    >>> negate(TRUE) == FALSE
    True
    """
    return literal ^ 1


class Node(NamedTuple):
    """One node: `name` for conditions and causes, `inputs` (literals) and `count` for gates."""

    kind: NodeKind
    name: str = ""
    inputs: tuple[int, ...] = ()
    count: int = 0  # type: ignore[assignment]  # the format's word hides tuple.count, which nothing needs here


@dataclass
class Graph:
    """Nodes in topological order (inputs before users) and the literal of each named thing.

    The graph grows only through `literal_of`, which adds the nodes of an operand that were not
    there yet; nothing that exists is ever changed.
    """

    nodes: list[Node] = field(default_factory=lambda: [Node("true")])
    literals: dict[str, int] = field(default_factory=dict)
    _shared: dict[Node, int] = field(default_factory=dict, repr=False)

    def literal_of(self, operand: Operand) -> int:
        """The literal of an operand; every node that it names must be in the graph already."""
        if isinstance(operand, Ref):
            return self.literals[operand.id]
        return self.gate(operand.kind, [self.literal_of(inner) for inner in operand.operands], operand.count)

    def gate(self, kind: str, inputs: Iterable[int], count: int = 0) -> int:
        """The literal of a gate over literals, by its name in the tree file."""
        ins = list(inputs)
        if kind == "not":
            return negate(ins[0])
        if kind == "any":
            return self._any(ins)
        if kind == "none":
            return negate(self._any(ins))
        if kind == "all":
            return negate(self._any([negate(one) for one in ins]))
        return self._counting(kind, ins, count)

    def conjunction(self, inputs: Iterable[int]) -> int:
        """The literal that is true when all of these are."""
        return self.gate("all", inputs)

    def _any(self, inputs: list[int]) -> int:
        distinct = sorted(set(inputs) - {FALSE})
        if TRUE in distinct or any(one ^ 1 in distinct for one in distinct):
            return TRUE
        if not distinct:
            return FALSE
        if len(distinct) == 1:
            return distinct[0]
        return self._add(Node("any", inputs=tuple(distinct)))

    def _counting(self, kind: str, inputs: list[int], count: int) -> int:
        if len(inputs) == 1:
            return inputs[0]
        if kind == "one_of":
            return self._add(Node("one_of", inputs=tuple(sorted(inputs)), count=1))
        if count <= 1:
            return self._any(inputs)
        if count == len(inputs):
            return self.gate("all", inputs)
        return self._add(Node("at_least", inputs=tuple(sorted(inputs)), count=count))

    def _add(self, node: Node) -> int:
        index = self._shared.get(node)
        if index is None:
            index = self._shared[node] = len(self.nodes)
            self.nodes.append(node)
        return 2 * index

    def name(self, kind: NodeKind, name: str) -> int:
        """Add a condition or cause, and return its literal."""
        literal = self.literals[name] = self._add(Node(kind, name))
        return literal


def build(library: Library) -> Graph:
    """The graph of all conditions, causes, signals and events of a library.

    >>> from faultree.library.model import Cause, Event, Gate, Library, Ref
    >>> causes = {name: Cause(id=name, title=name, probability=0.1) for name in ("s/a", "s/b")}
    >>> top = Event(id="s/top", title="top", gate=Gate("all", (Ref("s/a"), Ref("s/b"))))
    >>> empty: dict = {}
    >>> library = Library("s", empty, empty, empty, empty, causes, empty, {"s/top": top}, empty, empty, empty, empty)
    >>> graph = build(library)
    >>> graph.nodes[graph.literals["s/top"] // 2]
    Node(kind='any', name='', inputs=(3, 5), count=0)
    """
    graph = Graph()
    for name in library.conditions:
        graph.name("condition", name)
    for name in library.causes:
        graph.name("cause", name)
    for name in definition_order(library):
        entry = library.signals.get(name) or library.events[name]
        graph.literals[name] = _definition(graph, entry)
    return graph


def _definition(graph: Graph, entry: Signal | Event) -> int:
    if isinstance(entry, Event):
        return graph.literal_of(entry.gate)
    follows = TRUE if entry.follows is None else graph.literal_of(entry.follows)
    lost = graph.gate("any", [graph.literal_of(one) for one in entry.lost_if])
    forced = graph.gate("any", [graph.literal_of(one) for one in entry.forced_if])
    return graph.gate("any", [graph.conjunction([follows, negate(lost)]), forced])


def definition_order(library: Library) -> list[str]:
    """Ids of all signals and events, each after those that it uses."""
    uses = {name: [ref.id for operand in operands(signal) for ref in refs(operand)] for name, signal in _gated(library)}
    inner = {name: [one for one in used if one in uses] for name, used in uses.items()}
    return list(TopologicalSorter(inner).static_order())


def operands(entry: Signal | Event) -> tuple[Operand, ...]:
    """Every operand that defines a signal or an event, in the order written."""
    if isinstance(entry, Event):
        return (entry.gate,)
    head = () if entry.follows is None else (entry.follows,)
    return head + entry.lost_if + entry.forced_if


def _gated(library: Library) -> list[tuple[str, Signal | Event]]:
    return [*library.signals.items(), *library.events.items()]

"""What is left of a graph when some conditions and causes are fixed, as literals of a second graph."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from faultree.logic.graph import FALSE, TRUE, Graph, Node, negate
from faultree.logic.simulate import cone


@dataclass(frozen=True, eq=False)
class Restriction:
    """A graph under fixed values; what stays open becomes nodes of `target`, where equal nodes are shared.

    `fixed` gives values to conditions and causes by name. Several restrictions may share one target:
    where they leave the same function in the same form, they give the same literal.

    >>> source = Graph()
    >>> a, b = source.name("cause", "a"), source.name("cause", "b")
    >>> both = source.gate("all", [a, b])
    >>> target = Graph()
    >>> Restriction(source, target, {"a": True}).literal(both) == target.literals["b"]
    True
    >>> Restriction(source, target, {"b": False}).literal(both) == FALSE
    True
    """

    source: Graph
    target: Graph
    fixed: Mapping[str, bool]
    _left: dict[int, int] = field(default_factory=dict, repr=False)

    def literal(self, literal: int) -> int:
        """What is left of a literal of the source."""
        if literal >> 1 not in self._left:
            for index in cone(self.source, [literal]):
                if index not in self._left:
                    self._left[index] = self._node(self.source.nodes[index])
        return self._left[literal >> 1] ^ (literal & 1)

    def _node(self, node: Node) -> int:
        if node.kind == "true":
            return TRUE
        if node.kind in ("condition", "cause"):
            if node.name in self.fixed:
                return TRUE if self.fixed[node.name] else FALSE
            return self.target.name(node.kind, node.name)
        inputs = [self._left[one >> 1] ^ (one & 1) for one in node.inputs]
        if node.kind == "any":
            return self.target.gate("any", inputs)
        return _counted(self.target, node, inputs)


def _counted(target: Graph, node: Node, inputs: Sequence[int]) -> int:
    """A counting gate of which some inputs are settled."""
    still = [one for one in inputs if one not in (TRUE, FALSE)]
    sure = sum(one == TRUE for one in inputs)
    if node.kind == "one_of":
        if sure > 1 or not (sure or still):
            return FALSE
        return target.gate("none", still) if sure else target.gate("one_of", still)
    if sure >= node.count:
        return TRUE
    if sure + len(still) < node.count:
        return FALSE
    return target.gate("at_least", still, node.count - sure)


def extract(graph: Graph, literal: int) -> tuple[Graph, int]:
    """A graph that holds no more than one literal needs, and the literal there."""
    small = Graph()
    return small, Restriction(graph, small, {}).literal(literal)


def differ(graph: Graph, one: int, two: int) -> int:
    """The literal that is true where two literals have different values.

    >>> graph = Graph()
    >>> a = graph.name("cause", "a")
    >>> differ(graph, a, a) == FALSE, differ(graph, a, negate(a)) == TRUE
    (True, True)
    """
    if one == two:
        return FALSE
    if one == negate(two):
        return TRUE
    return graph.gate("one_of", [one, two])

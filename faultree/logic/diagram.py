"""Binary decision diagrams in plain lists: canonical, with complemented edges, within a limit.

An edge is an integer, `2 * node + complemented`; node 0 is the constant true, as in the Boolean graph.
Every node has a variable (its place in the order), what holds where the variable is true, and what holds
where it is false (Bryant 1986; complemented edges by Brace, Rudell and Bryant 1990: the true branch is
never complemented). Nothing is ever freed, so that a result may be kept by its number.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from faultree.logic.graph import FALSE, TRUE, Graph, Node, negate
from faultree.logic.simulate import cone

PLACES = 32
"""Bits for a number within a key: a whole number is a lighter key than a tuple, of which there would be millions."""


class TooLarge(Exception):
    """A diagram or family has grown beyond its limit."""


class Diagram:
    """A diagram over variables 0, 1, 2, ... of which 0 stands on top.

    `most` limits the nodes, and the steps that building them takes.

    >>> diagram = Diagram(2, most=100)
    >>> a, b = diagram.variable(0), diagram.variable(1)
    >>> diagram.both(a, diagram.either(a, b)) == a
    True
    """

    def __init__(self, variables: int, most: int) -> None:
        self.variables = variables
        self.most = most
        self.var = [variables]
        self.high = [TRUE]
        self.low = [TRUE]
        self._shared: dict[int, int] = {}
        self._known: dict[int, int] = {}

    def variable(self, place: int) -> int:
        """The edge that is true where a variable is."""
        return self._make(place, TRUE, FALSE)

    def top(self, edge: int) -> int:
        """The variable on top of an edge; the number of variables for a constant."""
        return self.var[edge >> 1]

    def branches(self, edge: int) -> tuple[int, int]:
        """What is left of an edge where its variable is true, and where it is false."""
        turned = edge & 1
        return self.high[edge >> 1] ^ turned, self.low[edge >> 1] ^ turned

    def _make(self, var: int, high: int, low: int) -> int:
        if high == low:
            return high
        turned = high & 1
        key = ((var << PLACES | high ^ turned) << PLACES) | low ^ turned
        node = self._shared.get(key)
        if node is None:
            node = self._shared[key] = len(self.var)
            self.var.append(var)
            self.high.append(high ^ turned)
            self.low.append(low ^ turned)
        return 2 * node + turned

    def either(self, one: int, two: int) -> int:
        """The edge that is true where one or both are; raises TooLarge."""
        if one == two or two == FALSE:
            return one
        if one == FALSE:
            return two
        if one == TRUE or two == TRUE or one ^ two == 1:
            return TRUE
        key = one << PLACES | two if one < two else two << PLACES | one
        found = self._known.get(key)
        if found is None:
            if len(self._known) >= self.most:
                raise TooLarge
            found = self._known[key] = self._split(one, two)
        return found

    def _split(self, one: int, two: int) -> int:
        first, second = self.var[one >> 1], self.var[two >> 1]
        one_high, one_low = self.branches(one) if first <= second else (one, one)
        two_high, two_low = self.branches(two) if second <= first else (two, two)
        return self._make(min(first, second), self.either(one_high, two_high), self.either(one_low, two_low))

    def both(self, one: int, two: int) -> int:
        """The edge that is true where both are."""
        return negate(self.either(negate(one), negate(two)))

    def choose(self, test: int, so: int, otherwise: int) -> int:
        """The edge that is `so` where a test is true, and `otherwise` elsewhere."""
        return self.either(self.both(test, so), self.both(negate(test), otherwise))

    def any(self, edges: Sequence[int]) -> int:
        """True where one or more are; what lies deepest is joined first, so that little is walked through twice."""
        result = FALSE
        for edge in sorted(edges, key=self.top, reverse=True):
            result = self.either(edge, result)
        return result

    def at_least(self, count: int, edges: Sequence[int]) -> int:
        """True where `count` or more are: not so where enough others are not."""
        few = len(edges) - count + 1
        if few < count:
            return negate(self.at_least(few, [negate(edge) for edge in edges]))
        reached = [TRUE] + [FALSE] * count
        for edge in sorted(edges, key=self.top, reverse=True):
            for level in range(count, 0, -1):
                reached[level] = self.choose(edge, reached[level - 1], reached[level])
        return reached[count]

    def one_of(self, edges: Sequence[int]) -> int:
        """True where exactly one is."""
        none, single = TRUE, FALSE
        for edge in sorted(edges, key=self.top, reverse=True):
            single = self.choose(edge, none, single)
            none = self.both(none, negate(edge))
        return single

    def of(self, graph: Graph, literal: int, place: dict[str, int]) -> int:
        """The edge of a literal of a graph that holds causes alone, each with a place in the order; raises TooLarge."""
        edges: dict[int, int] = {}
        with deep(self.variables):
            for index in cone(graph, [literal]):
                node = graph.nodes[index]
                edges[index] = self._node(node, [edges[one >> 1] ^ (one & 1) for one in node.inputs], place)
        return edges[literal >> 1] ^ (literal & 1)

    def _node(self, node: Node, inputs: list[int], place: dict[str, int]) -> int:
        if node.kind == "any":
            return self.any(inputs)
        if node.kind == "at_least":
            return self.at_least(node.count, inputs)
        if node.kind == "one_of":
            return self.one_of(inputs)
        return TRUE if node.kind == "true" else self.variable(place[node.name])


@contextmanager
def deep(levels: int) -> Iterator[None]:
    """Room for functions that call themselves once or twice for each of so many levels."""
    before = sys.getrecursionlimit()
    sys.setrecursionlimit(max(before, 4 * levels + 1000))
    try:
        yield
    finally:
        sys.setrecursionlimit(before)

"""The order of causes in a decision diagram: depth first from the top, those of one item together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultree.logic.graph import Graph


def order_of(graph: Graph, literal: int, item_of: Mapping[str, str | None]) -> tuple[tuple[str, ...], ...]:
    """Groups of causes that a literal depends on, in the order of a depth-first walk over its inputs.

    A group holds the causes of one item, or one cause without an item. Inputs that are causes come before
    gates, and small gates before large ones.

    >>> graph = Graph()
    >>> a, b, c = (graph.name("cause", name) for name in "abc")
    >>> order_of(graph, graph.gate("any", [graph.gate("all", [a, b]), c]), {"a": "i", "b": None, "c": "i"})
    (('c', 'a'), ('b',))
    """
    members: dict[str, list[str]] = {}
    for cause in walk(graph, literal):
        members.setdefault(item_of.get(cause) or f"\0{cause}", []).append(cause)
    return tuple(map(tuple, members.values()))


def walk(graph: Graph, literal: int) -> Iterator[str]:
    """The causes below a literal, each where a depth-first walk first meets it."""
    sizes = _sizes(graph, literal >> 1)
    seen = {literal >> 1}
    pending = [literal >> 1]
    while pending:
        node = graph.nodes[pending.pop()]
        if node.kind == "cause":
            yield node.name
        fresh = [one for one in dict.fromkeys(inner >> 1 for inner in node.inputs) if one not in seen]
        seen.update(fresh)
        pending.extend(sorted(fresh, key=lambda one: (sizes[one], one), reverse=True))


def _sizes(graph: Graph, top: int) -> list[int]:
    """For each node up to the top, about how many nodes hang below it (shared ones count once for each user)."""
    sizes: list[int] = []
    for node in graph.nodes[: top + 1]:
        sizes.append(min(1 + sum(sizes[one >> 1] for one in node.inputs), 1 << 60))
    return sizes

"""Which causes can only help a literal to be true, and which can only hinder it, by the signs on the way down."""

from __future__ import annotations

from faultree.logic.graph import Graph


def rising(graph: Graph, literal: int) -> frozenset[str]:
    """Causes whose presence may make a literal true; with any other cause it never becomes true by it.

    A cause counts where some way down to it is not turned around, or turned an even number of times. Below
    `one_of` every way counts both ways.

    >>> graph = Graph()
    >>> a, b = graph.name("cause", "a"), graph.name("cause", "b")
    >>> sorted(rising(graph, graph.gate("all", [a, b ^ 1])))
    ['a']
    """
    seen = {literal}
    pending = [literal]
    while pending:
        one = pending.pop()
        node = graph.nodes[one >> 1]
        for inner in node.inputs:
            signed = inner ^ (one & 1)
            for way in (signed, signed ^ 1) if node.kind == "one_of" else (signed,):
                if way not in seen:
                    seen.add(way)
                    pending.append(way)
    nodes = (graph.nodes[one >> 1] for one in seen if not one & 1)
    return frozenset(node.name for node in nodes if node.kind == "cause")

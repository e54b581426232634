"""Cycles in a graph, held against an independent library for graphs."""

from __future__ import annotations

import networkx
from hypothesis import given
from hypothesis import strategies as st

from faultree.library.cycles import MOST, cycles

NAMES = "abcdefg"


@given(st.dictionaries(st.sampled_from(NAMES), st.lists(st.sampled_from(NAMES), max_size=4)))
def test_cycles_are_cycles_and_without_them_there_is_none(graph: dict[str, list[str]]) -> None:
    """What is returned follows edges back to its start; taking its closing edges away leaves no cycle."""
    found = cycles(graph)
    for cycle in found:
        assert all(after in graph[before] for before, after in zip(cycle, (*cycle[1:], cycle[0]), strict=True))
    edges = [(before, after) for before, names in graph.items() for after in names if after in graph]
    whole = networkx.DiGraph(edges)
    assert bool(found) == (not networkx.is_directed_acyclic_graph(whole))
    whole.remove_edges_from([(cycle[-1], cycle[0]) for cycle in found])
    assert networkx.is_directed_acyclic_graph(whole)


def test_a_graph_of_many_cycles_is_not_listed_to_its_end() -> None:
    """A complete graph of 30 nodes has far more back edges than anyone reads."""
    names = [f"n{i}" for i in range(30)]
    assert len(cycles(dict.fromkeys(names, names))) == MOST

"""The graph for one's own analysis: every node, every use, and nothing that runs in a circle."""

from __future__ import annotations

import networkx

from faultree.logic.export import graph_of
from tests.belief.small import library

TEXT = """
conditions:
  armed: {title: Armed}
items:
  part: {title: A part}
causes:
  a: {title: A, item: part, probability: 0.1}
  b: {title: B, probability: 0.2}
signals:
  moves: {title: It moves, follows: armed, lost_if: [a, {all: [a, b]}]}
events:
  top: {title: Top, none: [moves]}
"""


def test_edges_lead_from_what_is_used_to_what_uses_it() -> None:
    graph = graph_of(library(TEXT))
    assert set(graph.edges) == {
        ("s/armed", "s/moves"),
        ("s/a", "s/moves"),
        ("s/b", "s/moves"),
        ("s/moves", "s/top"),
    }
    assert networkx.is_directed_acyclic_graph(graph)
    assert networkx.ancestors(graph, "s/top") == {"s/armed", "s/a", "s/b", "s/moves"}


def test_nodes_say_what_they_are() -> None:
    nodes = graph_of(library(TEXT)).nodes
    assert nodes["s/a"] == {"kind": "cause", "title": "A", "system": "s", "probability": 0.1, "item": "s/part"}
    assert {name: data["kind"] for name, data in nodes.items()} == {
        "s/armed": "condition",
        "s/a": "cause",
        "s/b": "cause",
        "s/moves": "signal",
        "s/top": "event",
    }

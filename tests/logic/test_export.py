"""The graph for one's own analysis: every node, every use, nothing that runs in a circle; and as texts of it."""

from __future__ import annotations

import json

import networkx
import pytest

from faultree.logic.export import cone_of, graph_of, graph_text
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


SEEN = (
    TEXT + "symptoms:\n  reported: {title: Reported, sees: {moves: no, b: yes}}\n  other: {title: Other, event: top}\n"
)


def test_the_cone_of_a_symptom_holds_what_it_rests_on_and_no_more() -> None:
    graph = cone_of(library(SEEN), "s/reported")
    assert set(graph) == {"s/armed", "s/a", "s/b", "s/moves"}
    assert [graph.graph[key] for key in ("symptom", "title", "situation")] == ["s/reported", "Reported", ""]
    seen = {name: graph.nodes[name].get("seen") for name in graph}
    assert {name: value for name, value in seen.items() if value} == {"s/moves": "no", "s/b": "yes"}


@pytest.mark.parametrize("symptom", [None, "s/reported"])
def test_both_texts_give_the_graph_back(symptom: str | None) -> None:
    """Read by the library that wrote them, and by nobody's special reader."""
    held = library(SEEN)
    expected = graph_of(held) if symptom is None else cone_of(held, symptom)
    data = json.loads(graph_text(held, symptom, "json").text)
    assert data["directed"]
    again = networkx.node_link_graph(data, edges="edges")
    assert {name: again.nodes[name] for name in again} == {name: expected.nodes[name] for name in expected}
    assert set(again.edges) == set(expected.edges)
    text = graph_text(held, symptom, "graphml").text
    parsed = networkx.parse_graphml(text)
    assert set(parsed.edges) == set(expected.edges)
    assert parsed.nodes["s/a"]["probability"] == 0.1
    assert "item" not in parsed.nodes["s/b"]

"""The order of causes: all that matter, once, those of one item together, neighbours in the graph close."""

from __future__ import annotations

import random

import pytest

from faultree.logic.decisions import question_of
from faultree.logic.graph import Graph
from faultree.logic.ordering import order_of
from faultree.logic.simulate import cone
from tests.oracles.random_libraries import random_library


@pytest.mark.parametrize("seed", range(40))
def test_every_cause_that_is_used_stands_once_with_those_of_its_item(seed: int) -> None:
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        question = question_of(library, symptom)
        nodes = [question.graph.nodes[index] for index in cone(question.graph, [question.literal])]
        assert sorted(question.names) == sorted(node.name for node in nodes if node.kind == "cause")
        items = [{library.causes[name].item for name in group} for group in question.groups]
        assert all(len(one) == 1 for one in items)
        named = [item for one in items for item in one if item is not None]
        assert len(set(named)) == len(named)


def test_causes_come_before_gates_and_what_belongs_together_stays_together() -> None:
    graph = Graph()
    a, b, c, d, e = (graph.name("cause", name) for name in "abcde")
    top = graph.gate("any", [graph.gate("all", [a, b]), graph.gate("all", [c, graph.gate("any", [d, b])]), e])
    groups = order_of(graph, top, {})
    assert groups == (("e",), ("a",), ("b",), ("c",), ("d",))

"""Diagrams are canonical, equal to the graph they are made from, and stop at their limit."""

from __future__ import annotations

import random
import sys
from itertools import product

import pytest

from faultree.logic.diagram import Diagram, TooLarge, deep
from faultree.logic.graph import FALSE, TRUE, Graph, negate
from faultree.logic.simulate import evaluate, value_of

NAMES = tuple("abcdef")


def value(diagram: Diagram, edge: int, faults: set[str]) -> bool:
    """The value of an edge by walking down."""
    while edge not in (TRUE, FALSE):
        high, low = diagram.branches(edge)
        edge = high if NAMES[diagram.top(edge)] in faults else low
    return edge == TRUE


def random_graph(rng: random.Random) -> tuple[Graph, int]:
    """Some gates of every kind over six causes."""
    graph = Graph()
    literals = [graph.name("cause", name) for name in NAMES]
    for _ in range(8):
        kind = rng.choice(["all", "any", "none", "at_least", "one_of"])
        inputs = [one ^ (rng.random() < 0.3) for one in rng.sample(literals, rng.randint(2, 4))]
        literals.append(graph.gate(kind, inputs, rng.randint(1, len(inputs))))
    return graph, literals[-1]


@pytest.mark.parametrize("seed", range(60))
def test_a_diagram_has_the_values_of_its_graph(seed: int) -> None:
    graph, literal = random_graph(random.Random(seed))
    diagram = Diagram(6, 10_000)
    edge = diagram.of(graph, literal, {name: place for place, name in enumerate(NAMES)})
    for bits in product([False, True], repeat=6):
        faults = {name for name, bit in zip(NAMES, bits, strict=True) if bit}
        expected = value_of(evaluate(graph, {}, faults), literal)
        assert value(diagram, edge, faults) == expected
        assert value(diagram, negate(edge), faults) != expected


@pytest.mark.parametrize("seed", range(60, 90))
def test_a_diagram_is_canonical(seed: int) -> None:
    """Equal functions are one edge: each is rebuilt from its own branches, and from its opposite."""
    graph, literal = random_graph(random.Random(seed))
    diagram = Diagram(6, 10_000)
    edge = diagram.of(graph, literal, {name: place for place, name in enumerate(NAMES)})
    assert diagram.both(edge, TRUE) == edge == diagram.either(edge, FALSE)
    if edge not in (TRUE, FALSE):
        high, low = diagram.branches(edge)
        assert diagram.choose(diagram.variable(diagram.top(edge)), high, low) == edge
    assert diagram.either(edge, negate(edge)) == TRUE
    for node in range(1, len(diagram.var)):
        assert not diagram.high[node] & 1, "the true branch is never complemented"
        assert diagram.high[node] != diagram.low[node]
        assert diagram.var[node] < min(diagram.top(diagram.high[node]), diagram.top(diagram.low[node]))
    triples = list(zip(diagram.var, diagram.high, diagram.low, strict=True))[1:]
    assert len(set(triples)) == len(triples)


def test_it_stops_at_its_limit() -> None:
    graph = Graph()
    names = [f"c{number}" for number in range(40)]
    literal = graph.gate("at_least", [graph.name("cause", name) for name in names], 20)
    place = {name: number for number, name in enumerate(names)}
    with pytest.raises(TooLarge):
        Diagram(40, 50).of(graph, literal, place)
    assert Diagram(40, 10_000).of(graph, literal, place) not in (TRUE, FALSE)


def test_room_for_deep_recursion_is_given_back() -> None:
    before = sys.getrecursionlimit()
    with deep(100_000):
        assert sys.getrecursionlimit() >= 400_000
    assert sys.getrecursionlimit() == before


def test_five_thousand_causes_in_a_row() -> None:
    """Depth is no trouble, in either direction of the order."""
    graph = Graph()
    literals = [graph.name("cause", f"c{number}") for number in range(5000)]
    top = graph.gate("all", [graph.gate("any", literals[:2500]), graph.gate("any", literals[2500:])])
    diagram = Diagram(5000, 100_000)
    edge = diagram.of(graph, top, {f"c{number}": number for number in range(5000)})
    assert edge == diagram.of(graph, top, {f"c{number}": number for number in range(5000)})
    assert diagram.top(edge) == 0

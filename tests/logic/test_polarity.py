"""A cause that is not among the rising ones never makes the literal true."""

from __future__ import annotations

from hypothesis import given, settings

from faultree.logic.graph import Graph, build, negate
from faultree.logic.polarity import rising
from faultree.logic.simulate import evaluate, value_of
from tests.oracles.brute import fault_sets
from tests.oracles.random_libraries import RandomLibrary, libraries


@settings(max_examples=40)
@given(drawn=libraries())
def test_only_rising_causes_make_a_literal_true(drawn: RandomLibrary) -> None:
    """For every fault set without a cause, and the same set with it."""
    library, graph = drawn.library, build(drawn.library)
    facts = library.settings(None)
    values = {faults: evaluate(graph, facts, faults) for faults, _ in fault_sets(library)}
    for name in (*library.signals, *library.events):
        for literal in (graph.literals[name], negate(graph.literals[name])):
            others = set(library.causes) - rising(graph, literal)
            for faults, after in values.items():
                for cause in others & faults:
                    assert value_of(values[faults - {cause}], literal) or not value_of(after, literal)


def test_signs_are_followed() -> None:
    graph = Graph()
    a, b, c, d = (graph.name("cause", name) for name in "abcd")
    top = graph.gate("any", [a, graph.gate("none", [b, graph.gate("not", [c])]), graph.gate("one_of", [d, c])])
    assert rising(graph, top) == {"a", "c", "d"}
    assert rising(graph, negate(top)) == {"b", "c", "d"}

"""A restricted graph has the values of the whole one wherever the fixed values are those of the state."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.logic.graph import FALSE, TRUE, Graph, build, negate
from faultree.logic.restrict import Restriction, differ, extract
from faultree.logic.simulate import evaluate, value_of
from tests.oracles.random_libraries import RandomLibrary, libraries


@settings(max_examples=60)
@given(drawn=libraries(), data=st.data())
def test_a_restriction_keeps_every_value(drawn: RandomLibrary, data: st.DataObject) -> None:
    """Whatever conditions and causes are fixed, and whatever the open causes are."""
    library = drawn.library
    source, target = build(library), Graph()
    facts = library.settings(data.draw(st.sampled_from([None, *library.situations])))
    fixed = data.draw(st.dictionaries(st.sampled_from([*library.causes]), st.booleans()))
    open_causes = [name for name in library.causes if name not in fixed]
    faults = data.draw(st.sets(st.sampled_from(open_causes))) if open_causes else set()
    view = Restriction(source, target, {**facts, **fixed})
    names = [*library.signals, *library.events, *library.causes]
    left = {name: view.literal(source.literals[name]) for name in names}
    whole = evaluate(source, facts, faults | {name for name, value in fixed.items() if value})
    part = evaluate(target, {}, faults)
    for name, literal in left.items():
        assert value_of(part, literal) == value_of(whole, source.literals[name])
        assert view.literal(negate(source.literals[name])) == negate(literal)


@settings(max_examples=40)
@given(drawn=libraries())
def test_an_extract_holds_no_more_than_is_needed(drawn: RandomLibrary) -> None:
    """And has the same value under every single fault."""
    graph = build(drawn.library)
    facts = drawn.library.settings(None)
    for name in (*drawn.library.signals, *drawn.library.events):
        small, literal = extract(graph, graph.literals[name])
        assert len(small.nodes) <= len(graph.nodes)
        for faults in [set[str](), *({one} for one in drawn.library.causes)]:
            inner, outer = evaluate(small, facts, faults), evaluate(graph, facts, faults)
            assert value_of(inner, literal) == value_of(outer, graph.literals[name])


def test_settled_inputs_settle_counting_gates() -> None:
    """Constants never stay among the inputs of a gate."""
    source, target = Graph(), Graph()
    a, b, c = (source.name("cause", name) for name in "abc")
    two = source.gate("at_least", [a, b, c], 2)
    one = source.gate("one_of", [a, b, c])

    def left(literal: int, **fixed: bool) -> int:
        return Restriction(source, target, fixed).literal(literal)

    node = target.name("cause", "c")
    assert left(two, a=True, b=True) == TRUE
    assert left(two, a=False, b=False) == FALSE
    assert left(two, a=True, b=False) == node
    assert left(one, a=True, b=True) == FALSE
    assert left(one, a=False, b=False) == node
    assert left(one, a=True, b=False) == negate(node)
    assert left(one, a=False, b=False, c=False) == FALSE


def test_what_differs_is_found_without_a_gate_where_that_is_plain() -> None:
    graph = Graph()
    a, b = graph.name("cause", "a"), graph.name("cause", "b")
    assert differ(graph, a, a) == FALSE
    assert differ(graph, a, negate(a)) == TRUE
    other = differ(graph, a, b)
    for faults, wanted in ((set(), False), ({"a"}, True), ({"b"}, True), ({"a", "b"}, False)):
        assert value_of(evaluate(graph, {}, faults), other) == wanted

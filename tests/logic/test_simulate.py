"""Simulation: one fault set or many at once, the same values, and no more looked at than is asked for."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.library.model import Library
from faultree.logic.graph import FALSE, TRUE, Graph, build, negate
from faultree.logic.simulate import evaluate, evaluate_many, pack, unpack, value_of
from tests.oracles.brute import World
from tests.oracles.random_libraries import RandomLibrary, libraries


def situation(rng: random.Random, library: Library) -> str | None:
    return rng.choice([None, *library.situations])


def fault_set(rng: random.Random, library: Library) -> frozenset[str]:
    share = rng.random()
    return frozenset(name for name in library.causes if rng.random() < share)


@settings(max_examples=30)
@given(libraries(), st.randoms(use_true_random=False))
def test_every_named_node_has_the_value_of_its_definition(drawn: RandomLibrary, rng: random.Random) -> None:
    """The graph's values are those of the definitions, worked out one by one."""
    library = drawn.library
    graph = build(library)
    for _ in range(4):
        where, faults = situation(rng, library), fault_set(rng, library)
        world = World(library, faults, where)
        values = evaluate(graph, library.settings(where), faults)
        for name, literal in graph.literals.items():
            assert value_of(values, literal) == world.node(name), name


@settings(max_examples=12)
@given(libraries(), st.randoms(use_true_random=False), st.sampled_from([1, 64, 65, 130]))
def test_many_at_once_are_the_single_ones(drawn: RandomLibrary, rng: random.Random, count: int) -> None:
    """Bit i of word w is the value under fault set 64 w + i, for every literal and its opposite."""
    library = drawn.library
    graph = build(library)
    where = situation(rng, library)
    sets = [fault_set(rng, library) for _ in range(count)]
    present = {name: pack(np.array([name in one for one in sets])) for name in library.causes}
    wanted = [literal ^ turn for literal in range(0, 2 * len(graph.nodes), 2) for turn in (0, 1)]
    found = evaluate_many(graph, library.settings(where), present, -(-count // 64), wanted)
    values = [evaluate(graph, library.settings(where), one) for one in sets]
    for literal in wanted:
        assert unpack(found[literal], count).tolist() == [value_of(one, literal) for one in values]


@pytest.mark.parametrize("kind", ["any", "one_of", "at_least"])
@pytest.mark.parametrize("size", [2, 3, 5, 7])
def test_counting_many_sets_at_once_is_counting(kind: str, size: int) -> None:
    """Every set of up to seven inputs, and for a vote every count that it can have."""
    every = np.array(list(product((False, True), repeat=size)))
    present = {f"c{number}": pack(every[:, number]) for number in range(size)}
    for count in range(1, size + 1) if kind == "at_least" else [1]:
        graph = Graph()
        literal = graph.gate(kind, [graph.name("cause", f"c{number}") for number in range(size)], count)
        found = unpack(evaluate_many(graph, {}, present, 2, [literal])[literal], len(every))
        true = every.sum(axis=1)
        assert found.tolist() == (true == 1 if kind == "one_of" else true >= count).tolist()


@pytest.mark.parametrize("count", [9, 16, 17, 31, 60])
def test_a_vote_of_many_counts_in_binary(count: int) -> None:
    """Random sets of up to sixty inputs, and the empty one: true from `count` on and not before."""
    rng = np.random.default_rng(count)
    every = rng.random((200, 60)) < rng.random((200, 1))
    every[0], every[1], every[2] = False, np.arange(60) < count, np.arange(60) < count - 1
    present = {f"c{number}": pack(every[:, number]) for number in range(60)}
    graph = Graph()
    names = [graph.name("cause", name) for name in present]
    literal = graph.gate("at_least", names, count) if count < 60 else graph.gate("all", names)
    found = unpack(evaluate_many(graph, {}, present, 4, [literal])[literal], 200)
    assert found.tolist() == (every.sum(axis=1) >= count).tolist()
    nothing = evaluate_many(graph, {}, {}, 4, [literal])[literal]
    assert not nothing.any()


def two_parts() -> tuple[Graph, int, int]:
    """Two gates with nothing in common: one over causes, one over a condition."""
    graph = Graph()
    a, b, fact = graph.name("cause", "a"), graph.name("cause", "b"), graph.name("condition", "fact")
    return graph, graph.gate("all", [a, b]), graph.gate("any", [a, fact])


def test_only_what_is_asked_for_is_simulated() -> None:
    """A condition outside the cone of the question need not even have a value."""
    graph, both, with_fact = two_parts()
    ones = pack(np.array([True, False, True]))
    found = evaluate_many(graph, {}, {"a": ones, "b": ones}, 1, [both])
    assert unpack(found[both], 3).tolist() == [True, False, True]
    with pytest.raises(KeyError):
        evaluate_many(graph, {}, {"a": ones}, 1, [with_fact])


def test_a_cause_that_is_not_given_is_in_no_set() -> None:
    graph, both, _ = two_parts()
    found = evaluate_many(graph, {}, {"a": pack(np.ones(5, dtype=np.bool_))}, 1, [both, negate(both)])
    assert not unpack(found[both], 5).any()
    assert unpack(found[negate(both)], 5).all()


def test_constants_are_constant() -> None:
    found = evaluate_many(Graph(), {}, {}, 2, [TRUE, FALSE])
    assert unpack(found[TRUE], 100).all()
    assert not unpack(found[FALSE], 100).any()


def test_nothing_asked_nothing_found() -> None:
    assert evaluate_many(Graph(), {}, {}, 1, []) == {}


@given(st.lists(st.booleans(), max_size=300))
def test_unpacking_gives_back_what_was_packed(bits: list[bool]) -> None:
    words = pack(np.array(bits, dtype=np.bool_))
    assert words.dtype == np.uint64
    assert len(words) == -(-len(bits) // 64)
    assert unpack(words, len(bits)).tolist() == bits


@pytest.mark.parametrize("place", [0, 1, 63, 64, 129])
def test_the_first_value_is_the_lowest_bit(place: int) -> None:
    words = pack(np.arange(130) == place)
    assert [int(one) for one in words] == [1 << place % 64 if place // 64 == word else 0 for word in range(3)]

"""The order of elimination: a valid junction forest for any network, and a narrow one where one is known."""

from __future__ import annotations

from math import prod

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.belief.order import Clique, eliminate
from tests.belief.invariants import check_junction_tree
from tests.belief.networks import Net, nets

Scopes = list[tuple[int, ...]]


def widest(cliques: list[Clique]) -> int:
    """How many variables the largest clique joins."""
    return max(len(clique.separator) + len(clique.own) for clique in cliques)


def path(length: int) -> Scopes:
    return [(number, number + 1) for number in range(length - 1)]


def binary_tree(count: int) -> Scopes:
    return [(number, (number - 1) // 2) for number in range(1, count)]


def star(count: int) -> Scopes:
    return [(0, number) for number in range(1, count)]


def ring(length: int) -> Scopes:
    return [(number, (number + 1) % length) for number in range(length)]


def grid(side: int) -> Scopes:
    return [
        pair
        for row in range(side)
        for column in range(side)
        for pair in [(row * side + column, row * side + column + 1)][: side - 1 - column]
        + [(row * side + column, (row + 1) * side + column)][: side - 1 - row]
    ]


def full(count: int) -> Scopes:
    return [(one, other) for one in range(count) for other in range(one)]


def gate_chain(length: int) -> Scopes:
    """Relations of three variables, each handing its output on: 0 and 1 give 2, 2 and 3 give 4, ..."""
    return [(2 * number, 2 * number + 1, 2 * number + 2) for number in range(length)]


KNOWN = {
    "path": (50, path(50), 2),
    "binary tree": (63, binary_tree(63), 2),
    "star": (40, star(40), 2),
    "ring": (30, ring(30), 3),
    "chain of gates": (41, gate_chain(20), 3),
    "complete graph": (7, full(7), 7),
    "grid": (36, grid(6), 7),
    "nothing linked": (9, [], 1),
}
"""Variables, scopes, and the largest clique that an optimal order makes (treewidth plus one)."""


@pytest.mark.parametrize("shape", KNOWN)
def test_a_known_graph_is_eliminated_with_the_cliques_it_needs(shape: str) -> None:
    """Chordal graphs get their own cliques, a ring one more; a grid may cost one variable more than its best."""
    count, scopes, best = KNOWN[shape]
    cliques = eliminate([2] * count, scopes)
    check_junction_tree([2] * count, scopes, cliques)
    slack = 1 if shape == "grid" else 0
    assert best <= widest(cliques) <= best + slack


def scopes_and_sizes() -> st.SearchStrategy[tuple[list[int], list[list[int]]]]:
    """Sizes of up to twelve variables, and relations of one to four of them."""
    sizes = st.lists(st.integers(1, 5), min_size=1, max_size=12)
    return sizes.flatmap(
        lambda some: st.tuples(
            st.just(some),
            st.lists(st.lists(st.integers(0, len(some) - 1), min_size=1, max_size=4, unique=True), max_size=14),
        )
    )


@settings(max_examples=200)
@given(scopes_and_sizes())
def test_any_network_becomes_a_junction_forest(drawn: tuple[list[int], list[list[int]]]) -> None:
    """Whatever is linked with what, and whatever the sizes are."""
    sizes, scopes = drawn
    check_junction_tree(sizes, scopes, eliminate(sizes, scopes))


@settings(max_examples=50)
@given(nets())
def test_every_relation_of_a_network_lies_inside_a_clique(net: Net) -> None:
    check_junction_tree(net.network.sizes, [relation[:3] for relation in net.network.relations], net.cliques)


def test_parts_that_share_nothing_have_a_root_each() -> None:
    scopes = [(0, 1), (1, 2), (4, 5)]
    cliques = eliminate([2] * 6, scopes)
    check_junction_tree([2] * 6, scopes, cliques)
    assert sum(clique.parent < 0 for clique in cliques) == 3


def test_nothing_to_eliminate() -> None:
    assert eliminate([], []) == []


def test_no_clique_lies_within_another() -> None:
    """A table inside another one would be work for nothing."""
    for count, scopes, _ in KNOWN.values():
        cliques = eliminate([2] * count, scopes)
        held = [{*clique.separator, *clique.own} for clique in cliques]
        for clique, scope in zip(cliques, held, strict=True):
            assert clique.parent < 0 or not scope >= held[clique.parent]


def test_between_equal_fill_the_small_table_is_made_first() -> None:
    """In a ring of two large and two small variables the large ones are never joined to each other."""
    sizes = [2, 50, 2, 50]
    cliques = eliminate(sizes, ring(4))
    check_junction_tree(sizes, ring(4), cliques)
    cells = [prod(sizes[variable] for variable in clique.separator + clique.own) for clique in cliques]
    assert max(cells) == 2 * 2 * 50

"""The tables of a junction tree: exactly the configurations that are part of a state of the whole network."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings

from faultree.belief import tables
from faultree.belief.order import Clique, TooWide
from faultree.belief.response import Network, Relation
from faultree.belief.tables import dense_cells, tables_of, top_down
from tests.belief.networks import Net, nets, random_net


def check_tables(net: Net) -> None:
    """Each table holds the states of the whole network seen through its own variables, none twice, in order."""
    states = net.states()
    for clique, table in zip(net.cliques, tables_of(net.network, net.cliques), strict=True):
        assert table.scope == clique.separator + clique.own
        assert table.sizes == tuple(net.network.sizes[variable] for variable in table.scope)
        kept = [tuple(column) for column in table.values.T.tolist()]
        assert sorted(kept) == kept
        assert len(set(kept)) == len(kept)
        assert set(kept) == {tuple(state) for state in states[:, list(table.scope)].tolist()}


@settings(max_examples=120)
@given(nets())
def test_what_is_kept_is_what_the_whole_network_allows(net: Net) -> None:
    """Pairwise consistent along a junction tree means globally consistent: nothing impossible is left in any table."""
    check_tables(net)


@pytest.mark.parametrize("first", [4, 30_000])
@pytest.mark.parametrize("seed", range(12))
def test_the_same_from_lists(seed: int, first: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every clique taken as a wide one; where joins may make little at first, cliques wait for each other."""
    monkeypatch.setattr(tables, "DENSE", 1)
    monkeypatch.setattr(tables, "FIRST", first)
    monkeypatch.setattr(tables, "GROWTH", 2)
    check_tables(random_net(random.Random(seed), roots=7, gates=14))


def test_more_than_allowed_is_too_wide() -> None:
    net = random_net(random.Random(3), roots=8, gates=20)
    total = sum(table.values.shape[1] for table in tables_of(net.network, net.cliques))
    assert len(tables_of(net.network, net.cliques, total)) == len(net.cliques)
    with pytest.raises(TooWide):
        tables_of(net.network, net.cliques, total - 1)


def test_a_list_that_cannot_be_joined_small_is_too_wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tables, "DENSE", 1)
    net = random_net(random.Random(3), roots=8, gates=20)
    with pytest.raises(TooWide):
        tables_of(net.network, net.cliques, 3)


@pytest.mark.parametrize("seed", range(6))
def test_the_same_on_larger_networks(seed: int) -> None:
    check_tables(random_net(random.Random(seed), roots=8, gates=20))


def test_a_value_that_never_occurs_is_in_no_table() -> None:
    """The second gate would be 1 only where the first and its own input disagree, which they never do."""
    network = Network()
    a, b = network.variable(2), network.variable(2)
    both = network.variable(2)
    network.relations.append(Relation(a, b, both, ((0, 0), (0, 1))))
    never = network.variable(2)
    network.relations.append(Relation(a, both, never, ((0, 1), (0, 0))))
    net = Net(network, {a: (0.5, 0.5), b: (0.5, 0.5)})
    check_tables(net)
    for table in tables_of(network, net.cliques):
        if never in table.scope:
            assert set(table.values[table.scope.index(never)].tolist()) == {0}


def test_a_network_of_nothing_has_no_tables() -> None:
    assert tables_of(Network(), []) == []


def test_dense_cells_are_the_product_of_the_sizes() -> None:
    assert dense_cells([2, 3, 5, 7], Clique((1, 3), (0,), 4)) == 3 * 7 * 2


def test_parents_come_before_children_level_by_level() -> None:
    parents = [3, 3, 0, -1, 2, -1, 5]
    cliques = [Clique((), (number,), parent) for number, parent in enumerate(parents)]
    order = top_down(cliques)
    assert sorted(order) == list(range(7))

    def depth(number: int) -> int:
        return 0 if parents[number] < 0 else 1 + depth(parents[number])

    depths = [depth(number) for number in order]
    assert depths == sorted(depths)
    assert np.array(depths).max() == 3

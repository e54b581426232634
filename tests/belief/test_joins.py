"""Joins of listed configurations: the same as every pair that agrees, or nothing at all beyond the budget."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest

from faultree.belief import joins
from faultree.belief.joins import (
    Budget,
    Listed,
    agreeing,
    join,
    join_all,
    listed_domain,
    listed_relation,
    listed_support,
    ordered,
    project,
    ravel,
    unravel,
)
from faultree.belief.response import Relation

SIZES = (2, 3, 2, 4, 3)
State = dict[int, int]


def drawn(rng: random.Random, scope: tuple[int, ...]) -> Listed:
    """About half of all configurations of a scope."""
    cells = [cell for cell in product(*(range(SIZES[variable]) for variable in scope)) if rng.random() < 0.5]
    return Listed(scope, np.array(cells, dtype=np.int32).reshape(len(cells), len(scope)).T)


def states(listed: Listed) -> list[State]:
    """The configurations as plain dictionaries."""
    return [dict(zip(listed.scope, column, strict=True)) for column in listed.values.T.tolist()]


def agree(one: State, two: State) -> bool:
    return all(one[variable] == two[variable] for variable in one.keys() & two.keys())


def same(found: list[State], expected: list[State]) -> bool:
    """Whether both hold the same configurations, none twice."""
    keys = [sorted(state.items()) for state in found]
    return sorted(keys) == sorted(sorted(state.items()) for state in expected)


def plenty() -> Budget:
    return Budget(10_000, 100_000)


SCOPES = [((0, 1), (1, 2)), ((0, 1, 3), (3, 1)), ((0, 1), (2, 3)), ((4, 2, 0), (0, 4, 2)), ((1,), (1,))]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("first", "second"), SCOPES)
def test_a_join_is_every_pair_that_agrees(seed: int, first: tuple[int, ...], second: tuple[int, ...]) -> None:
    rng = random.Random(seed)
    one, two = drawn(rng, first), drawn(rng, second)
    found = join(one, two, SIZES, plenty())
    assert found is not None
    assert same(states(found), [a | b for a in states(one) for b in states(two) if agree(a, b)])


@pytest.mark.parametrize("seed", range(6))
def test_many_lists_join_to_the_states_that_agree_with_all(seed: int) -> None:
    rng = random.Random(seed)
    parts = [drawn(rng, scope) for scope in ((0, 1), (1, 2), (2, 3), (3, 4), (4, 0), (2,))]
    found = join_all(parts, SIZES, plenty())
    assert found is not None
    every = [dict(enumerate(cell)) for cell in product(*map(range, SIZES))]
    expected = [state for state in every if all(any(agree(state, one) for one in states(part)) for part in parts)]
    assert same(states(found), expected)


def test_a_join_over_the_budget_makes_nothing_and_costs_nothing() -> None:
    one, two = listed_domain(1, 3), listed_domain(3, 4)
    for most, left in ((11, 100), (100, 11)):
        budget = Budget(most, left)
        assert join(one, two, SIZES, budget) is None
        assert budget.left == left
    budget = Budget(12, 12)
    assert join(one, two, SIZES, budget) is not None
    assert budget.left == 0
    assert join_all([one, two, listed_domain(0, 2)], SIZES, Budget(23, 1000)) is None


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("marked", [0, 1 << 20])
def test_a_projection_holds_each_combination_once(seed: int, marked: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether combinations are marked or sorted."""
    monkeypatch.setattr(joins, "MARKED", marked)
    listed = drawn(random.Random(seed), (3, 0, 1))
    expected = {(state[1], state[3]) for state in states(listed)}
    found = listed_support((1, 3), project(listed, (1, 3), SIZES), SIZES)
    assert [tuple(column) for column in found.values.T.tolist()] == sorted(expected)


def test_the_projection_of_nothing_is_nothing() -> None:
    nothing = Listed((0, 1), np.zeros((2, 0), dtype=np.int32))
    assert not project(nothing, (1,), SIZES).any()


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("marked", [0, 1 << 20])
def test_what_agrees_with_a_support_is_kept(seed: int, marked: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(joins, "MARKED", marked)
    rng = random.Random(seed)
    listed, support = drawn(rng, (0, 3, 1)), drawn(rng, (1, 3))
    kept = [state for state in states(listed) if any(agree(state, one) for one in states(support))]
    combinations = project(support, (1, 3), SIZES)
    assert same(states(agreeing(listed, (1, 3), combinations, SIZES)), kept)


def test_a_relation_lists_its_table() -> None:
    listed = listed_relation(Relation(4, 1, 3, ((0, 1, 2), (1, 1, 3))))
    assert listed.scope == (4, 1, 3)
    assert {tuple(column) for column in listed.values.T.tolist()} == {
        (0, 0, 0), (0, 1, 1), (0, 2, 2), (1, 0, 1), (1, 1, 1), (1, 2, 3),
    }  # fmt: skip


def test_numbers_go_there_and_back() -> None:
    numbers = np.arange(2 * 3 * 4)
    assert ravel(unravel(numbers, (2, 3, 4)), (2, 3, 4)).tolist() == numbers.tolist()


def test_ordered_is_row_major_in_the_scope_asked_for() -> None:
    listed = Listed((1, 0), np.array([[2, 0, 1], [0, 1, 1]], dtype=np.int32))
    assert ordered(listed, (0, 1), SIZES).T.tolist() == [[0, 2], [1, 0], [1, 1]]

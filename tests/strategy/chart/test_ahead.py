"""Minutes ahead: access is divided among the moves that can share it, and a ladder sums the cheapest steps."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.strategy.chart.ahead import Ahead, Basis
from faultree.strategy.chart.task import Move, Task


def task(outcomes: int = 2) -> Task:
    """Three causes; two checks behind one access of 12 minutes, one of them with several outcomes."""
    right = np.zeros((outcomes + 2, 3), dtype=np.bool_)
    right[0, 0] = right[1, 1:] = True
    for cause in range(3):
        right[2 + min(cause, outcomes - 1), cause] = True
    moves = (Move("two", "check", 3.0, 1, (0, 1)), Move("more", "check", 8.0, 1, tuple(range(2, 2 + outcomes))))
    return Task(np.full(3, 1 / 3), (0, 1, 2), moves, right.astype(float), right, (12.0,))


def ahead(outcomes: int = 2, opened: int = 0) -> Ahead:
    one = task(outcomes)
    return Ahead(Basis(one, one.moves, 7), opened)


def test_access_is_whole_for_one_move_and_divided_among_two() -> None:
    assert ahead().whole.tolist() == [15.0, 20.0]
    assert ahead().shared.tolist() == [9.0, 14.0]


def test_open_access_costs_nothing() -> None:
    assert ahead(opened=1).whole.tolist() == [3.0, 8.0]
    assert ahead().opening(1).shared.tolist() == [3.0, 8.0]


def test_of_two_causes_only_one_move_can_use_an_access() -> None:
    """One check parts two causes, so that no other shares its access."""
    one = task()
    assert Ahead(Basis(one, one.moves, 6), 0).shared.tolist() == [15.0, 20.0]


def test_a_ladder_sums_the_cheapest_steps_first() -> None:
    assert ahead().ladder.sums.tolist() == [0.0, 9.0, 23.0]


def test_a_move_with_three_outcomes_counts_as_two_steps() -> None:
    assert ahead(outcomes=3).ladder.sums.tolist() == [0.0, 7.0, 14.0, 23.0]


def test_a_ladder_goes_on_with_its_last_step() -> None:
    assert ahead().ladder.at(np.array([0.5, 3.0])).tolist() == pytest.approx([4.5, 37.0])


def test_pairs_cost_the_cheapest_move_that_parts_them() -> None:
    pairs = ahead().pairs
    assert pairs[0].tolist() == [0.0, 15.0, 15.0]
    assert pairs[1, 2] == 0.0  # nothing parts them where the second check has two outcomes only

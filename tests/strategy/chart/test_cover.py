"""What parting one hypothesis from all others costs is bounded by prices, never above the least cover."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from faultree.strategy.chart.cover import covering, dearest
from tests.strategy.chart.tasks import of_kind


def least_cover(apart: np.ndarray, minutes: np.ndarray, member: int) -> float:
    """The cheapest set of moves that parts a member from everything that can be parted from it, by trying all."""
    wanted = apart[:, member].any(axis=0)
    costs = [
        sum(minutes[list(some)])
        for size in range(len(minutes) + 1)
        for some in combinations(range(len(minutes)), size)
        if (apart[list(some), member].any(axis=0) >= wanted).all()
    ]
    return float(min(costs))


@pytest.mark.parametrize("seed", range(12))
def test_never_above_the_least_cover(seed: int) -> None:
    task = of_kind("sure", seed)
    found = covering(task.apart, task.minutes, task.minutes).least
    real = [least_cover(task.apart, task.minutes, member) for member in range(len(found))]
    assert (found <= np.array(real) + 1e-9).all()
    assert found.sum() > 0.5 * sum(real)


def test_two_checks_that_each_part_one_other_both_count() -> None:
    """The first of three is parted from the second by 4 minutes and from the third by 6: 10 together."""
    apart = np.zeros((2, 3, 3), dtype=np.bool_)
    apart[0, 0, 1] = apart[0, 1, 0] = True
    apart[1, 0, 2] = apart[1, 2, 0] = True
    minutes = np.array([4.0, 6.0])
    assert covering(apart, minutes, minutes).least.tolist() == [10.0, 4.0, 6.0]


def test_the_dearest_pair_counts_with_all_its_access() -> None:
    """Alone on its path, a move pays all of the access that others might have shared."""
    apart = np.ones((1, 2, 2), dtype=np.bool_) & ~np.eye(2, dtype=np.bool_)
    assert covering(apart, np.array([4.0]), np.array([9.0])).least.tolist() == [9.0, 9.0]


@pytest.mark.parametrize("seed", range(12))
def test_no_move_is_priced_above_its_minutes(seed: int) -> None:
    """And every cover has prices of the total or more."""
    task = of_kind("sure", seed)
    cover = covering(task.apart, task.minutes, task.minutes)
    assert (cover.prices <= task.minutes[:, None] + 1e-9).all()
    for member in range(len(cover.total)):
        assert least_cover(task.apart, cover.prices[:, member], member) >= cover.total[member] - 1e-9


def test_what_nothing_parts_costs_nothing() -> None:
    assert dearest(np.zeros((1, 2, 2), dtype=np.bool_), np.array([5.0])).tolist() == [[0.0, 0.0], [0.0, 0.0]]

"""Repairs one after the other cost what walking through them costs; for single faults no order costs less."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from faultree.strategy.chart.repairs import Repairs
from faultree.strategy.chart.task import Move, Task
from tests.strategy.chart.tasks import of_kind


def walked(task: Task, order: tuple[Move, ...], weights: np.ndarray, opened: int) -> float:
    """Minutes of some repairs in order, each made where no earlier one has cleared the reports."""
    spent, left = 0.0, weights.copy()
    for move in order:
        spent += float(left.sum()) * (move.minutes + task.open_minutes(move.access & ~opened))
        opened |= move.access
        left = np.where(task.right[move.rows[0]], 0.0, left)
    assert not left.any()
    return spent


@pytest.mark.parametrize("seed", range(8))
def test_a_chain_costs_what_walking_it_costs(seed: int) -> None:
    task = of_kind("restoring", seed)
    for opened in (0, 1):
        spent, order = Repairs(task).chain(task.chances, opened)
        assert spent == pytest.approx(walked(task, order, task.chances, opened))


@pytest.mark.parametrize("seed", range(8))
def test_without_access_no_order_costs_less(seed: int) -> None:
    task = of_kind("restoring, erring, cut off", seed)
    repairs = Repairs(task)
    best = min(walked(task, order, task.chances, 0) for order in permutations(repairs.moves))
    assert repairs.chain(task.chances, 0)[0] == pytest.approx(best)


def test_many_rows_at_once_are_the_same_as_one_by_one() -> None:
    task = of_kind("restoring", 1)
    rows = np.array([task.chances, np.where(np.arange(5) < 2, task.chances, 0.0)])
    spent, _ = Repairs(task).chains(rows, [0, 1])
    assert spent.tolist() == pytest.approx(
        [Repairs(task).chain(row, opened)[0] for row, opened in zip(rows, (0, 1), strict=True)]
    )


def test_a_repair_that_clears_nothing_left_is_not_made() -> None:
    task = of_kind("restoring", 2)
    only = np.where(np.arange(5) == 3, 1.0, 0.0)
    assert [move.name for move in Repairs(task).chain(only, 0)[1]] == ["r3"]

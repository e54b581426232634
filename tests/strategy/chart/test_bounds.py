"""No lower bound lies above what the best policy really costs, from any state of any kind of task."""

from __future__ import annotations

import random
from itertools import combinations

import numpy as np
import pytest

from faultree.strategy.chart.bounds import huffman
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.task import Move, Task
from tests.strategy.chart.tasks import KINDS, Truth, of_kind, searched


@pytest.mark.parametrize("kind", KINDS)
def test_no_bound_lies_above_the_truth(kind: str) -> None:
    """Every state that can be reached at all, and every move there."""
    looked = 0
    for seed in range(6):
        space = Space(of_kind(kind, seed))
        truth = Truth(space)
        truth.of(space.root)
        for state in list(space.states.values()):
            real = truth.of(state)
            assert space.bound(state) <= real + 1e-9
            assert space.bound_closely(state) <= real + 1e-9
            if not space.finished(state):
                looked += 1
                for option in space.options(state):
                    assert option.value <= truth.behind(state, option.move.name) + 1e-9
    assert looked > 30


def test_bounds_are_of_use() -> None:
    """At the root of tasks without error the bound is more than a third of the truth, on average."""
    shares = []
    for seed in range(20):
        space = Space(of_kind("sure", seed))
        real = Truth(space).of(space.root)
        shares.append(space.bound_closely(space.root) / real if real else 1.0)
    assert np.mean(shares) > 1 / 3


@pytest.mark.parametrize("seed", range(10))
def test_with_every_subset_as_a_test_the_chart_is_huffmans(seed: int) -> None:
    """With a test of one minute for every way to part the causes in two, the least mean number is Huffman's."""
    rng = random.Random(seed)
    raw = np.array([rng.random() for _ in range(5)])
    sets = [frozenset(some) for size in (1, 2) for some in combinations(range(5), size)]
    said = np.array([[cause in one for cause in range(5)] for one in sets])
    right = np.stack([said, ~said], axis=1).reshape(-1, 5)
    moves = tuple(Move(f"t{n}", "check", 1.0, 0, (2 * n, 2 * n + 1)) for n in range(len(sets)))
    task = Task(raw / raw.sum(), tuple(range(5)), moves, right.astype(float), right, ())
    assert searched(task).space.root.low == pytest.approx(huffman((raw / raw.sum()).tolist()), rel=1e-12)


@pytest.mark.parametrize("seed", range(10))
def test_no_chart_takes_fewer_tests_than_huffmans_tree(seed: int) -> None:
    """With any tests of one minute each the mean number is Huffman's or more."""
    task = of_kind("sure", seed)
    moves = tuple(Move(one.name, one.action, 1.0, 0, one.rows) for one in task.moves)
    plain = Task(task.chances, task.labels, moves, task.shows, task.right, ())
    weights = task.chances @ task.kinds
    assert searched(plain).space.root.low >= huffman(weights.tolist()) - 1e-12


def test_huffman_of_one_label_is_nothing() -> None:
    assert huffman([1.0]) == 0.0
    assert huffman([]) == 0.0

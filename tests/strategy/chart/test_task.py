"""Tasks as numbers: sets are bits, and what moves show is looked up in tables."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from faultree.strategy.chart.task import Move, Task, bits_of, mask_of, members_of
from tests.strategy.chart.tasks import KINDS, of_kind


@pytest.mark.parametrize("mask", [0, 1, 6, 1 << 70 | 3])
def test_sets_go_to_bits_and_back(mask: int) -> None:
    members = members_of(mask)
    assert mask_of([place in members for place in range(80)]) == mask


def test_bits_of_no_sets_keep_their_width() -> None:
    assert bits_of([], 3).shape == (0, 3)
    assert bits_of([0, 0], 0).shape == (2, 0)


@pytest.mark.parametrize("kind", KINDS)
def test_outcomes_of_a_move_share_out_every_hypothesis(kind: str) -> None:
    """Chances of the outcomes add up to 1, and exactly one outcome is right."""
    task = of_kind(kind, 1)
    for move in task.moves:
        rows = list(move.rows)
        assert task.shows[rows].sum(axis=0) == pytest.approx(np.ones(len(task.chances)))
        assert (task.right[rows].sum(axis=0) == 1).all()
        assert move.noisy == bool((task.shows[rows][~task.right[rows]] > 0.0).any())


def test_moves_part_those_that_they_answer_differently() -> None:
    task = of_kind("erring", 2)
    for place, move in enumerate(task.moves):
        first = task.right[move.rows[0]]
        assert (task.apart[place] == (first[:, None] != first[None, :])).all()


def test_minutes_of_some_access() -> None:
    task = of_kind("shared access", 1)
    assert task.open_minutes(0) == 0.0
    assert task.open_minutes(3) == pytest.approx(sum(task.access))


def test_an_outcome_of_a_check_that_is_right_for_nothing_is_strange() -> None:
    """A chart that restores follows it all the same, as every repair is proven there."""
    right = np.array([[True, False], [False, True], [False, False]])
    shows = np.where(right, 0.98, 0.01)
    task = Task(np.array([0.5, 0.5]), (0, 1), (Move("k", "check", 1.0, 0, (0, 1, 2), noisy=True),), shows, right, ())
    assert task.strange == {2}
    assert not replace(task, restore=True).strange

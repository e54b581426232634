"""The search finds what plain recursion finds, and its lower bound is true whenever it is stopped."""

from __future__ import annotations

import random

import pytest

from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Space
from tests.strategy.chart.tasks import KINDS, Truth, of_kind, random_task, searched


@pytest.mark.parametrize("kind", KINDS)
def test_the_least_of_everything(kind: str) -> None:
    for seed in range(10):
        task = of_kind(kind, seed)
        space = Space(task)
        assert searched(task).space.root.low == pytest.approx(Truth(space).of(space.root), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_stopped_at_any_time_the_bound_is_true_and_never_falls(kind: str) -> None:
    space = Space(of_kind(kind, 3))
    real = Truth(Space(of_kind(kind, 3))).of(space.root)
    before = 0.0
    for count in range(1, 400):
        looks = iter(range(count))

        def poll(looks: object = looks) -> None:
            if next(looks, None) is None:  # type: ignore[call-overload]  # an iterator
                raise Stopped

        finished = Search(space, poll).run()
        assert before <= space.root.low + 1e-12
        assert space.root.low <= real + 1e-9
        before = space.root.low
        if finished:
            break
    assert space.root.done


def test_fewer_states_than_there_are() -> None:
    """The bounds save work: together, less than half of the states that plain recursion makes."""
    made = every = 0
    for seed in range(6):
        task = random_task(random.Random(seed), causes=9, checks=9)
        space = Space(task)
        Truth(space).of(space.root)
        made += len(searched(task).space.states)
        every += len(space.states)
    assert made < every / 2

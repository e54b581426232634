"""Policies are costed by the same recursion as the best, and no simple rule beats it."""

from __future__ import annotations

import random

import numpy as np
import pytest

from faultree.strategy.chart.compile import rolled_out
from faultree.strategy.chart.policies import Best, Followed, Policy, Rules
from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.task import Move, Task
from tests.strategy.chart.tasks import KINDS, of_kind, random_task, searched


def rules(task: Task) -> tuple[Space, Rules]:
    space = Space(task)
    return space, Rules(Search(space))


@pytest.mark.parametrize("kind", KINDS)
def test_no_rule_costs_less_than_the_best(kind: str) -> None:
    for seed in range(6):
        task = of_kind(kind, seed)
        best = searched(task).space.root.low
        space, simple = rules(task)
        policies: list[Policy] = [simple.by_bits, simple.by_bits_per_minute, simple.by_likelihood, simple.plain]
        for policy in policies:
            assert Followed(space, policy).value(space.root) >= best - 1e-9


@pytest.mark.parametrize("kind", KINDS)
def test_after_a_search_to_the_end_the_best_policy_costs_its_bound(kind: str) -> None:
    for seed in range(6):
        search = searched(of_kind(kind, seed))
        best = Best(search, Followed(search.space, Rules(search).plain))
        assert Followed(search.space, best).value(search.space.root) == pytest.approx(search.space.root.low, abs=1e-9)


def test_rollouts_of_a_rule_are_no_worse_than_the_rule() -> None:
    """Without any search the best of a few options is better than the rule itself, on average by far."""

    def never() -> None:
        raise Stopped

    gains = []
    for seed in range(12):
        space = Space(random_task(random.Random(seed), causes=9, checks=9))
        search = Search(space, never)
        assert not search.run()
        simple = Followed(space, Rules(search).plain)
        better = Followed(space, Best(search, simple)).value(space.root)
        assert better <= simple.value(space.root) + 1e-9
        gains.append(simple.value(space.root) / better)
    assert np.mean(gains) > 1.0


class Looks:
    """Time that runs out after so many looks, from when that is set."""

    def __init__(self) -> None:
        self.left = 10**9

    def __call__(self) -> bool:
        self.left -= 1
        return self.left < 0


@pytest.mark.parametrize("calls", [0, 1, 3, 10, 100])
def test_rollouts_of_rollouts_are_no_worse_wherever_time_runs_out(calls: int) -> None:
    """What the first ones found is kept where there is no time for the second."""
    for seed in range(6):
        task = random_task(random.Random(seed), causes=6, checks=5, error=0.1, restore=bool(seed % 2), least=0.01)
        space, simple = rules(task)
        looks = Looks()
        first = Followed(space, Best(simple.search, Followed(space, simple.plain), looks))
        value = first.value(space.root)
        looks.left = calls
        second = Followed(space, Best(simple.search, first, looks, simple, 12))
        assert second.value(space.root) <= value + 1e-9


def test_what_is_proven_is_taken_from_the_search_even_where_a_rule_costs_no_more() -> None:
    """The rule depends on the time that is left; of two checks of a minute the same comes first each time."""
    space, simple = rules(three((1.0, 1.0)))
    assert simple.search.run()
    usual = Followed(space, simple.quick)
    best = rolled_out(simple.search, usual, lambda: True, simple)
    assert best.value(space.root) == usual.value(space.root) == space.root.low
    assert isinstance(best.policy, Best)


def three(minutes: tuple[float, float]) -> Task:
    """Three equally likely causes; the first check parts one, the second two of them (one again) from the rest."""
    right = np.array([[True, False, False], [False, True, True], [True, True, False], [False, False, True]])
    moves = (Move("first", "check", minutes[0], 0, (0, 1)), Move("second", "check", minutes[1], 0, (2, 3)))
    return Task(np.array([0.5, 0.3, 0.2]), (0, 1, 2), moves, right.astype(float), right, ())


def test_by_bits_looks_at_bits_alone() -> None:
    space, simple = rules(three((100.0, 1.0)))
    assert simple.by_bits(space.root).move.name == "first"  # 1 bit against .72


def test_by_bits_per_minute_looks_at_minutes_too() -> None:
    space, simple = rules(three((2.0, 1.0)))
    assert simple.by_bits_per_minute(space.root).move.name == "second"


def test_by_likelihood_goes_for_the_likeliest() -> None:
    """The first check parts the likeliest cause from all others, however long it takes."""
    space, simple = rules(three((100.0, 1.0)))
    assert simple.by_likelihood(space.root).move.name == "first"


def test_of_equal_checks_the_first_is_taken() -> None:
    """So that rounding never decides."""
    task = three((1.0, 1.0))
    twin = Move("twin", "check", 1.0, 0, (0, 1))
    space, simple = rules(Task(task.chances, task.labels, (*task.moves, twin), task.shows, task.right, ()))
    assert simple.by_bits(space.root).move.name == "first"


def test_in_a_hurry_the_simple_rule_is_taken() -> None:
    space, simple = rules(three((2.0, 1.0)))
    followed = Followed(space, simple.plain)
    assert Best(simple.search, followed, hurried=lambda: True)(space.root).move.name == "second"

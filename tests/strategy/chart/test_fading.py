"""What errors take from a path is never underestimated: any order of any checks spends at least what is said."""

from __future__ import annotations

import random

import numpy as np
import pytest

from faultree.strategy.chart.fading import Fading


def drawn(rng: random.Random, hypotheses: int = 3) -> Fading:
    count = rng.randint(1, 5)
    minutes = np.array([rng.uniform(1.0, 10.0) for _ in range(count)])
    return Fading(minutes, np.array([[rng.uniform(0.0, 0.5) for _ in range(hypotheses)] for _ in range(count)]))


@pytest.mark.parametrize("seed", range(20))
def test_no_path_spends_less(seed: int) -> None:
    """Checks that err, in any order, among steps that do not; each step is reached where nothing has erred."""
    rng = random.Random(seed)
    fading = drawn(rng)
    for _ in range(20):
        steps = [(float(m), loss) for m, loss in zip(fading.minutes, fading.loss, strict=True) if rng.random() < 0.7]
        steps += [(rng.uniform(1.0, 10.0), np.zeros(3)) for _ in range(rng.randint(0, 2))]
        rng.shuffle(steps)
        total = np.full(3, sum(minutes for minutes, _ in steps))
        spent, chance = np.zeros(3), np.ones(3)
        for minutes, loss in steps:
            spent += chance * minutes
            chance *= np.exp(-loss)
        assert (fading.each(total) <= spent + 1e-9).all()
        assert (fading.worst(total) <= fading.each(total) + 1e-9).all()


@pytest.mark.parametrize("seed", range(20))
def test_no_path_that_holds_what_is_needed_spends_less(seed: int) -> None:
    """Checks with prices, of which enough are on the path, among others that only lose the hypothesis, in any order."""
    rng = random.Random(seed)
    fading = drawn(rng)
    count = len(fading.minutes)
    prices = np.array([[rng.choice((0.0, rng.random())) * m for _ in range(3)] for m in fading.minutes])
    sure = [(rng.uniform(1.0, 10.0), np.zeros(3)) for _ in range(2)]
    for _ in range(30):
        taken = [number for number in range(count) if rng.random() < 0.6]
        steps = [(float(fading.minutes[number]), fading.loss[number], prices[number]) for number in taken]
        steps += [(minutes, loss, np.full(3, minutes)) for minutes, loss in sure if rng.random() < 0.6]
        rng.shuffle(steps)
        total = sum((price for _, _, price in steps), np.zeros(3))
        single = np.full(3, max((minutes for minutes, _, _ in steps), default=0.0))
        spent, chance = np.zeros(3), np.ones(3)
        for minutes, loss, _ in steps:
            spent += chance * minutes
            chance *= np.exp(-loss)
        assert (fading.needing(single, total, prices) <= spent + 1e-9).all()
        assert (fading.before(single) <= spent + 1e-9).all()


def test_needing_a_step_costs_more_than_any_path_of_its_length() -> None:
    """A minute that loses half of the hypothesis does not stand for a needed step of ten."""
    fading = Fading(np.array([1.0]), np.array([[0.7]]))
    ten = np.array([10.0])
    assert fading.needing(ten, np.array([0.0]), np.zeros((1, 1)))[0] > fading.each(ten)[0]


def test_without_error_all_minutes_are_spent() -> None:
    fading = Fading(np.array([5.0]), np.zeros((1, 2)))
    assert fading.each(np.array([3.0, 9.0])).tolist() == pytest.approx([3.0, 9.0])
    assert fading.worst(np.array([9.0])).tolist() == pytest.approx([9.0])


def test_a_hypothesis_too_light_from_the_start_reaches_nowhere() -> None:
    fading = Fading(np.array([5.0]), np.array([[0.7]]))
    assert fading.reach(np.array([0.01, 0.15, 0.5]), 0.1).tolist() == [0.0, 0.0, np.inf]
    assert np.isinf(fading.reach(np.array([0.01]), 0.0)).all()

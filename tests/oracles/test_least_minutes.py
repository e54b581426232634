"""The dynamic programme of least expected minutes is right where it can be checked in another way."""

from __future__ import annotations

import random
from itertools import permutations

import pytest

from tests.oracles.brute import expected_minutes
from tests.oracles.least_minutes import Instance, Look, _erring, _perfect, least_minutes


def drawn(rng: random.Random, causes: int, looks: int, error: float = 0.0) -> Instance:
    """A random instance."""
    raw = [rng.uniform(0.05, 1.0) for _ in range(causes)]
    chances = tuple(one / sum(raw) for one in raw)
    repairs = tuple(rng.uniform(5.0, 60.0) for _ in range(causes))
    drawn_looks = []
    for _ in range(looks):
        shows = frozenset(rng.sample(range(causes), rng.randint(1, causes - 1)))
        drawn_looks.append(Look(rng.uniform(1.0, 15.0), shows, error * rng.random(), error * rng.random()))
    return Instance(chances, repairs, tuple(drawn_looks))


def plain(instance: Instance, weights: tuple[float, ...], open_looks: frozenset[int]) -> float:
    """The same by plain recursion: the least of every action, each followed to its end."""
    alive = [cause for cause, weight in enumerate(weights) if weight > 0.0]
    total = sum(weights)
    if not alive:
        return 0.0
    found = []
    for cause in alive:
        rest = tuple(0.0 if other == cause else weight for other, weight in enumerate(weights))
        found.append(instance.repairs[cause] * total + plain(instance, rest, open_looks))
    for look in open_looks:
        asked = instance.looks[look]
        yes = tuple(weight * asked.yes(cause) for cause, weight in enumerate(weights))
        no = tuple(weight * (1.0 - asked.yes(cause)) for cause, weight in enumerate(weights))
        left = open_looks - {look}
        found.append(asked.minutes * total + plain(instance, yes, left) + plain(instance, no, left))
    return min(found)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("error", [0.0, 0.3])
def test_agrees_with_plain_recursion(seed: int, error: float) -> None:
    instance = drawn(random.Random(seed), 4, 3, error)
    expected = plain(instance, instance.chances, frozenset(range(3)))
    assert least_minutes(instance) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_without_error_both_ways_of_counting_states_agree(seed: int) -> None:
    instance = drawn(random.Random(seed), 6, 4)
    assert _erring(instance) == pytest.approx(_perfect(instance), rel=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_without_checks_the_best_order_of_repairs_is_left(seed: int) -> None:
    """All orders are tried, each costed by the rule for repairs alone."""
    instance = drawn(random.Random(seed), 5, 0)
    pairs = list(zip(instance.chances, instance.repairs, strict=True))
    best = min(expected_minutes(order) for order in permutations(pairs))
    assert least_minutes(instance) == pytest.approx(best, rel=1e-12)


@pytest.mark.parametrize("seed", range(5))
def test_errors_never_help(seed: int) -> None:
    """A check that errs is worth less than the same one without errors, and no check less than that."""
    erring = drawn(random.Random(seed), 5, 4, 0.3)
    perfect = erring._replace(looks=tuple(look._replace(false_yes=0.0, false_no=0.0) for look in erring.looks))
    none = erring._replace(looks=())
    assert least_minutes(perfect) <= least_minutes(erring) + 1e-12 <= least_minutes(none) + 2e-12

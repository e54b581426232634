"""Families of sets: the operations by their definitions on families written out."""

from __future__ import annotations

import random
from itertools import combinations

import pytest

from faultree.logic.diagram import TooLarge
from faultree.logic.families import EMPTY, NOTHING, Families

Sets = set[frozenset[int]]


def written(families: Families, family: int) -> Sets:
    """All sets of a family."""
    if family == NOTHING:
        return set()
    if family == EMPTY:
        return {frozenset()}
    var = families.var[family]
    return {one | {var} for one in written(families, families.high[family])} | written(families, families.low[family])


def random_sets(rng: random.Random) -> Sets:
    """Some sets over six causes, none of which includes another."""
    everything = [frozenset(one) for size in range(5) for one in combinations(range(6), size)]
    drawn = rng.sample(everything, rng.randint(0, 9))
    return {one for one in drawn if not any(other < one for other in drawn)}


def made(families: Families, sets: Sets) -> int:
    return families.of(tuple(sorted(one)) for one in sets)


@pytest.mark.parametrize("seed", range(80))
def test_operations_are_what_their_names_say(seed: int) -> None:
    rng = random.Random(seed)
    families = Families(10_000)
    one, two = random_sets(rng), random_sets(rng)
    first, second = made(families, one), made(families, two)
    assert written(families, first) == one
    pruned = {each for each in one if not any(other <= each for other in two)}
    assert written(families, families.without(first, second)) == pruned
    for order in range(-1, 5):
        within = {each for each in one if len(each) <= order}
        assert written(families, families.limited(first, order)) == within


def test_equal_families_are_one() -> None:
    families = Families(100)
    assert families.of([(0, 1), (2,)]) == families.of([(2,), (0, 1)])


def test_they_stop_at_their_limit() -> None:
    with pytest.raises(TooLarge):
        Families(3).of([(0, 1), (2, 3), (4, 5)])
    families = Families(10_000)
    one, two = families.of([(0, 3), (1, 4), (2, 5)]), families.of([(3, 4), (4, 5), (3, 5)])
    families.most = 0
    with pytest.raises(TooLarge):
        families.without(one, two)

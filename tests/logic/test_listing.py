"""What is in a family: counted, added up, and listed from the heaviest down, as by writing it all out."""

from __future__ import annotations

import random
from collections import Counter
from itertools import islice
from math import fsum, prod

import pytest

from faultree.logic.families import EMPTY, NOTHING, Families
from faultree.logic.listing import Family, Listing
from tests.logic.test_families import Sets, made, random_sets


def family_of(sets: Sets, weights: tuple[float, ...]) -> Family:
    families = Families(10_000)
    return Family(families, made(families, sets), tuple("abcdef"), weights)


@pytest.mark.parametrize("seed", range(60))
def test_figures_are_those_of_the_sets_written_out(seed: int) -> None:
    rng = random.Random(seed)
    sets = random_sets(rng)
    weights = tuple(10.0 ** rng.uniform(-6.0, -0.1) for _ in range(6))
    family = family_of(sets, weights)
    product = {one: prod(weights[cause] for cause in one) for one in sets}
    assert family.orders == dict(sorted(Counter(map(len, sets)).items()))
    assert family.count == len(sets)
    assert family.total == pytest.approx(fsum(product.values()), rel=1e-12, abs=0.0)
    for cause, name in enumerate("abcdef"):
        mine = [one for one in sets if cause in one]
        if not mine:
            assert name not in family.shares
            continue
        share = family.shares[name]
        assert (share.sets, share.order) == (len(mine), min(map(len, mine)))
        assert share.weight == pytest.approx(fsum(product[one] for one in mine), rel=1e-12, abs=0.0)
    listed = list(Listing(family.families, family.root, weights))
    assert [set(causes) for _, causes in listed] == sorted(map(set, sets), key=lambda one: -product[frozenset(one)])
    assert all(weight == pytest.approx(product[frozenset(causes)], rel=1e-12, abs=0.0) for weight, causes in listed)


def test_only_so_many_and_only_so_likely() -> None:
    family = family_of({frozenset([0]), frozenset([1]), frozenset([2, 3])}, (0.1, 0.2, 0.3, 0.4, 0.5, 0.6))
    assert [one for one, _ in family.first(2)] == [frozenset("b"), frozenset("cd")]
    assert [one for one, _ in family.first(9, 0.11)] == [frozenset("b"), frozenset("cd")]
    assert [one for one, _ in family.limited(1).first(9)] == [frozenset("b"), frozenset("a")]


def test_a_family_of_nothing_and_one_of_the_empty_set() -> None:
    families = Families(10)
    assert list(Listing(families, NOTHING, ())) == []
    assert list(Listing(families, EMPTY, ())) == [(1.0, ())]
    assert Family(families, EMPTY, (), ()).orders == {0: 1}


def test_the_heaviest_of_more_sets_than_atoms_in_the_sea() -> None:
    """Ten of 2 ** 300 come at once: nothing is listed that was not asked for."""
    families = Families(10_000)
    family = EMPTY
    for number in range(299, -1, -1):
        either = families.join(2 * number, family, families.join(2 * number + 1, family, NOTHING))
        family = either
    weights = tuple(0.5 if number % 2 else 0.4 for number in range(600))
    found = Family(families, family, tuple(map(str, range(600))), weights)
    assert found.count == 2**300
    first = list(islice(Listing(families, family, weights), 10))
    assert first[0][1] == tuple(range(1, 600, 2))
    assert all(one[0] == pytest.approx(first[1][0]) for one in first[1:]), "one cause of 300 exchanged"

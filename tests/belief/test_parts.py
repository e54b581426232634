"""Both kinds of part find the same configurations and exchange supports with each other."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest

from faultree.belief.joins import Budget
from faultree.belief.parts import Part, SmallPart, WidePart
from faultree.belief.response import Relation

SIZES = (2, 3, 2, 4)
SCOPE = (2, 0, 3, 1)
OTHER = (1, 2)


def relation(rng: random.Random, first: int, second: int, output: int) -> Relation:
    rows = [[rng.randrange(SIZES[output]) for _ in range(SIZES[second])] for _ in range(SIZES[first])]
    return Relation(first, second, output, tuple(map(tuple, rows)))


def built(kind: type[SmallPart] | type[WidePart], scope: tuple[int, ...], relations: list[Relation]) -> Part:
    part: Part = kind(scope, SIZES, relations)
    part.build([], Budget(1000, 10_000))
    assert part.ready
    return part


def cells(part: Part) -> list[tuple[int, ...]]:
    found = [tuple(column) for column in part.values().T.tolist()]
    assert found == sorted(set(found))
    return found


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("kind", [SmallPart, WidePart])
def test_a_part_holds_what_its_relations_allow(seed: int, kind: type[SmallPart] | type[WidePart]) -> None:
    rng = random.Random(seed)
    relations = [relation(rng, 0, 1, 3), relation(rng, 1, 2, 3)]
    expected = []
    for cell in product(*(range(SIZES[variable]) for variable in SCOPE)):
        value = dict(zip(SCOPE, cell, strict=True))
        if all(value[one.output] == one.table[value[one.first]][value[one.second]] for one in relations):
            expected.append(cell)
    assert cells(built(kind, SCOPE, relations)) == expected


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("kind", [SmallPart, WidePart])
@pytest.mark.parametrize("giver", [SmallPart, WidePart])
def test_supports_pass_between_both_kinds(
    seed: int, kind: type[SmallPart] | type[WidePart], giver: type[SmallPart] | type[WidePart]
) -> None:
    rng = random.Random(seed)
    part = built(kind, SCOPE, [relation(rng, 0, 1, 3)])
    near = built(giver, (2, 0, 1), [relation(rng, 0, 1, 2)])
    allowed = {(cell[2], cell[0]) for cell in cells(near)}
    expected = [cell for cell in cells(part) if (cell[3], cell[0]) in allowed]
    part.meet(near.support(OTHER))
    assert cells(part) == expected


def test_a_wide_part_waits_until_the_budget_allows_it() -> None:
    part = WidePart(SCOPE, SIZES, [])
    part.build([], Budget(10, 1000))
    assert [part.ready] == [False]
    part.meet(((0,), np.array([True, False])))  # nothing is there yet that could be dropped
    part.build([((0,), np.array([True, False]))], Budget(100, 1000))
    assert [part.ready] == [True]
    assert {cell[1] for cell in cells(part)} == {0}
    assert len(cells(part)) == 2 * 4 * 3

"""The oracle of charts is right where that can be seen in another way."""

from __future__ import annotations

import random
from itertools import permutations

import pytest

from tests.oracles.brute import expected_minutes
from tests.oracles.least_chart import Asked, Mended, Puzzle, least_to_restore, least_to_tell_apart
from tests.oracles.random_puzzles import Draw, drawn


def every_tree(puzzle: Puzzle, possible: frozenset[int], opened: frozenset[int]) -> list[float]:
    """What every tree that tells all causes apart costs, without keeping or sharing anything."""
    if len(possible) < 2:
        return [0.0]
    share = sum(puzzle.chances[cause] for cause in possible)
    found = []
    for asked in puzzle.checks:
        parts = [frozenset(c for c in possible if asked.answers[c] == answer) for answer in set(asked.answers)]
        parts = [part for part in parts if part]
        if len(parts) == 2:
            cost = share * (asked.minutes + sum(puzzle.access[way] for way in asked.access - opened))
            below = [every_tree(puzzle, part, opened | asked.access) for part in parts]
            found += [cost + one + two for one in below[0] for two in below[1]]
    return found


@pytest.mark.parametrize("seed", range(6))
def test_the_least_of_all_trees(seed: int) -> None:
    """All trees over four causes are listed; where causes cannot all be told apart there is none."""
    puzzle = drawn(random.Random(seed), Draw(causes=4, checks=5, access=2, exact=True))
    trees = every_tree(puzzle, frozenset(range(4)), frozenset())
    if trees:
        assert least_to_tell_apart(puzzle) == pytest.approx(min(trees), rel=1e-12)


def test_causes_that_no_check_parts_are_left_together() -> None:
    """One check parts the third cause from the other two; more cannot be told."""
    assert least_to_tell_apart(Puzzle((0.2, 0.3, 0.5), (0, 1, 2), (Asked(4.0, (0, 0, 1)),))) == 4.0


def test_access_is_paid_once_on_a_branch() -> None:
    """Behind one panel: 10 minutes for it once, 1 for the first check, 1 for the second in half of the cases."""
    checks = (Asked(1.0, (0, 1, 1), frozenset({0})), Asked(1.0, (0, 0, 1), frozenset({0})))
    assert least_to_tell_apart(Puzzle((0.5, 0.25, 0.25), (0, 1, 2), checks, (10.0,))) == 11.5


@pytest.mark.parametrize("seed", range(5))
def test_without_checks_the_best_order_of_repairs_is_left(seed: int) -> None:
    """All orders are tried, each costed by the rule for repairs alone."""
    rng = random.Random(seed)
    pairs = [(rng.uniform(0.1, 1.0), rng.uniform(5.0, 60.0)) for _ in range(5)]
    total = sum(share for share, _ in pairs)
    pairs = [(share / total, minutes) for share, minutes in pairs]
    repairs = tuple(Mended(minutes, frozenset({n})) for n, (_, minutes) in enumerate(pairs))
    puzzle = Puzzle(tuple(share for share, _ in pairs), tuple(range(5)), (), (), repairs)
    best = min(expected_minutes(order) for order in permutations(pairs))
    assert least_to_restore(puzzle) == pytest.approx(best, rel=1e-12)

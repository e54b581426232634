"""Charts with checks that err cost what plain recursion over every answer says is the least."""

from __future__ import annotations

import random
from typing import NamedTuple

import pytest

from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Goal
from tests.oracles.least_erring_chart import Erring, least_with_errors
from tests.oracles.random_puzzles import Draw, drawn, library_of


class Kind(NamedTuple):
    """How puzzles are drawn, what is set aside, and where branches are cut off."""

    draw: Draw
    doubt: float
    least: float


KINDS = {
    "nothing cut off": Kind(Draw(causes=5, checks=5), 0.05, 0.0),
    "cut off at 2 %": Kind(Draw(causes=5, checks=5), 0.05, 0.02),
    "shared access": Kind(Draw(causes=4, checks=5, access=2), 0.05, 0.01),
    "several answers": Kind(Draw(causes=5, checks=4, answers=3), 0.1, 0.01),
    "answers that no cause gives": Kind(Draw(causes=3, checks=5, answers=3, access=1), 0.05, 0.0),
    "causes of one item": Kind(Draw(causes=5, checks=4, items=True), 0.05, 0.0),
    "repairs": Kind(Draw(causes=4, checks=3, access=1, restore=True), 0.05, 0.0),
}


@pytest.mark.parametrize("kind", KINDS)
def test_the_least_with_checks_that_err(kind: str) -> None:
    """40 puzzles of each kind; four in five checks err up to 15 %."""
    draw, doubt, least = KINDS[kind]
    for seed in range(40):
        rng = random.Random(seed)
        puzzle = drawn(rng, draw)
        errors = tuple(rng.choice((0.0, 0.02, 0.05, 0.15)) if rng.random() < 0.8 else 0.0 for _ in puzzle.checks)
        goal: Goal = "restore" if draw.restore else "item"
        chart = compile_chart(library_of(puzzle, errors), ["reported"], goal=goal, least=least, doubt=doubt)
        best = least_with_errors(Erring(puzzle, errors, doubt, least))
        assert chart.optimal, f"{kind} {seed} is not proven"
        assert chart.expected_minutes == pytest.approx(best, rel=1e-8, abs=1e-9), f"{kind} {seed}"

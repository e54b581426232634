"""Charts that claim to be optimal cost what dynamic programming says is the least, on random dependency matrices."""

from __future__ import annotations

import random

import pytest

from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Chart, Goal, Step
from tests.oracles.least_chart import Asked, Mended, Puzzle, least_to_restore, least_to_tell_apart
from tests.oracles.random_puzzles import Draw, drawn, library_of

TELLING = {
    "yes and no": Draw(),
    "shared access": Draw(access=3),
    "several answers": Draw(answers=4),
    "causes of one item, shared access": Draw(items=True, access=2),
    "causes of one item, several answers": Draw(items=True, answers=3),
}

RESTORING = {
    "repairs": Draw(causes=7, checks=5, restore=True),
    "repairs and shared access": Draw(causes=6, checks=5, access=2, restore=True),
    "causes of one item": Draw(causes=7, checks=4, answers=3, items=True, restore=True),
}


def charted(puzzle: Puzzle, goal: Goal) -> Chart:
    """The chart of a puzzle."""
    return compile_chart(library_of(puzzle), ["reported"], goal=goal)


@pytest.mark.parametrize("kind", TELLING)
def test_the_least_to_tell_items_apart(kind: str) -> None:
    """100 puzzles of up to 10 causes and 10 checks of each of five kinds: 500 random matrices."""
    for seed in range(100):
        puzzle = drawn(random.Random(seed), TELLING[kind])
        chart = charted(puzzle, "item")
        assert chart.optimal, f"{kind} {seed} is not proven"
        assert chart.expected_minutes == pytest.approx(least_to_tell_apart(puzzle), rel=1e-9, abs=1e-9), (
            f"{kind} {seed}"
        )


@pytest.mark.parametrize("kind", RESTORING)
def test_the_least_to_restore(kind: str) -> None:
    for seed in range(40):
        puzzle = drawn(random.Random(seed), RESTORING[kind])
        chart = charted(puzzle, "restore")
        assert chart.optimal, f"{kind} {seed} is not proven"
        assert chart.expected_minutes == pytest.approx(least_to_restore(puzzle), rel=1e-9), f"{kind} {seed}"


@pytest.mark.parametrize("seed", range(10))
def test_causes_of_one_item_are_told_apart_for_the_goal_cause(seed: int) -> None:
    """For the goal `cause` every cause calls for something of its own."""
    puzzle = drawn(random.Random(seed), Draw(items=True, access=1))
    apart = puzzle._replace(calls=tuple(range(len(puzzle.calls))))
    assert charted(puzzle, "cause").expected_minutes == pytest.approx(least_to_tell_apart(apart), rel=1e-9, abs=1e-9)


def test_replacing_before_checking_where_that_is_right() -> None:
    """One part is at fault in nine of ten cases and replaced in 6 minutes; the only check takes 20.

    Replacing it first costs 6 + .1 x 40 = 10. Checking first costs 20 + .9 x 6 + .1 x 40 = 29.4, and the other part
    first 40 + .9 x 6 = 45.4 (by hand).
    """
    repairs = (Mended(6.0, frozenset({0})), Mended(40.0, frozenset({1})))
    puzzle = Puzzle((0.9, 0.1), (0, 1), (Asked(20.0, (0, 1)),), (), repairs)
    chart = charted(puzzle, "restore")
    assert isinstance(chart.root, Step)
    assert (chart.root.action, chart.root.target) == ("replace", "s/i0")
    assert chart.optimal
    assert chart.expected_minutes == pytest.approx(10.0, rel=1e-8)
    assert least_to_restore(puzzle) == pytest.approx(10.0)


def test_shared_access_changes_the_order() -> None:
    """Parts 1 and 2 lie behind one panel (30 minutes) and take 10 each, part 3 takes 30; chances .35 .35 .3.

    The panel once: 1, 2, 3 takes 40 + .65 x 10 + .3 x 30 = 55.5 and 3, 1, 2 takes 30 + .7 x 40 + .35 x 10 = 61.5.
    The panel each time: 1, 2, 3 takes 40 + .65 x 40 + .3 x 30 = 75 and 3, 1, 2 takes 30 + .7 x 40 + .35 x 40 = 72.
    """
    panel = frozenset({0})
    shared = (Mended(10.0, frozenset({0}), panel), Mended(10.0, frozenset({1}), panel), Mended(30.0, frozenset({2})))
    alone = (Mended(40.0, frozenset({0})), Mended(40.0, frozenset({1})), Mended(30.0, frozenset({2})))
    chances = (0.35, 0.35, 0.3)
    with_panel = charted(Puzzle(chances, (0, 1, 2), (), (30.0,), shared), "restore")
    each_time = charted(Puzzle(chances, (0, 1, 2), (), (), alone), "restore")
    assert first_of(with_panel) in {"s/i0", "s/i1"}
    assert first_of(each_time) == "s/i2"
    assert with_panel.expected_minutes == pytest.approx(55.5, rel=1e-7)
    assert each_time.expected_minutes == pytest.approx(72.0, rel=1e-7)


def first_of(chart: Chart) -> str:
    """What the chart does first."""
    assert isinstance(chart.root, Step)
    return chart.root.target

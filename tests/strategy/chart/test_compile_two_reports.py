"""Charts that restore where two reports have faults of their own: every repair is made, and what it changes counts."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.library.load import load_texts
from faultree.strategy.chart.compile import compile_chart, posed_chart
from faultree.strategy.chart.repairs import Repairs
from faultree.strategy.chart.space import Space, State
from faultree.strategy.chart.value import End
from tests.strategy.chart.by_hand import TWO


def went(space: Space, state: State, name: str, row: int) -> State:
    """The state behind an outcome of a move."""
    (option,) = (one for one in space.options(state) if one.move.name == name)
    after = space.after(state, option)[row]
    assert after is not None
    return after


def test_a_repair_that_clears_nothing_alone_is_made_where_it_leaves_less() -> None:
    """By hand, without the check: c first (10), else a (10) and b (10), else d (10).

    Weights: {a, b} .1 x .1 x .99 x .95, {c} .01 x .9 x .9 x .95, {a, d} .1 x .05 x .99 x .9, scaled to 1.
    """
    lib = load_texts({"s.yaml": TWO.replace("minutes: 2}", "minutes: 900}")})
    chart = compile_chart(lib, ["s1", "s2"], "restore", least=0.0, doubt=0.0)
    assert chart.optimal
    ab, c, ad = 0.1 * 0.1 * 0.99 * 0.95, 0.01 * 0.9 * 0.9 * 0.95, 0.1 * 0.05 * 0.99 * 0.9
    assert chart.expected_minutes == pytest.approx((30 * ab + 10 * c + 40 * ad) / (ab + c + ad))
    assert all(one.ending == "restored" for one in chart if isinstance(one, End))


def test_an_answer_before_a_repair_is_not_the_answer_after_it() -> None:
    """What the check shows changes with the repair, so the two states weigh their hypotheses differently."""
    lib = load_texts({"s.yaml": TWO})
    task = posed_chart(lib, ["s1", "s2"], "restore", None, 0.0, 0.0).task
    space = Space(task)
    checked_first = went(space, went(space, space.root, "s/look", 0), "s/a", 1)
    repaired_first = went(space, went(space, space.root, "s/a", 1), "s/look", 0)
    assert checked_first.key != repaired_first.key
    assert abs(checked_first.weights - repaired_first.weights).max() > 0.1


def test_two_ways_to_the_same_chances_are_one_state() -> None:
    """Of {a, b}, {c} and {a, d}, to put d right or to put c right first leaves the same, {a, b} and {a}."""
    space = Space(posed_chart(load_texts({"s.yaml": TWO}), ["s1", "s2"], "restore", None, 0.0, 0.0).task)
    one = went(space, went(space, space.root, "s/d", 1), "s/c", 1)
    two = went(space, went(space, space.root, "s/c", 1), "s/d", 1)
    assert one is two


@pytest.mark.parametrize("seed", range(8))
def test_repairs_one_after_the_other_cost_what_walking_through_them_costs(seed: int) -> None:
    """By sets of causes: what is left after each repair, and whether some report is still there."""
    posed = posed_chart(load_texts({"s.yaml": TWO}), ["s1", "s2"], "restore", None, 0.0, 0.0)
    weights = np.random.default_rng(seed).random(len(posed.sets)) * (posed.task.chances > 0.0)
    minutes, made = Repairs(posed.task).chain(weights, 0)
    walked = 0.0
    for causes, weight in zip(posed.sets, weights.tolist(), strict=True):
        left = {one.removeprefix("s/") for one in causes}
        for move in made:
            if not left & {"a", "c"} and not left & {"b", "c", "d"}:
                break
            walked += weight * move.minutes
            left.discard(move.name.removeprefix("s/"))
            if not (left & {"a", "c"} or left & {"b", "c", "d"}):
                left.clear()
    assert minutes == pytest.approx(walked)

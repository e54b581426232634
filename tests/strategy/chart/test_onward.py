"""Where a chart for some people ends, the others go on with what they would begin with themselves."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.onward import best_check
from faultree.strategy.chart.task import Move, Task
from faultree.strategy.chart.value import End, Step
from tests.trees.demonstration import library


@pytest.mark.parametrize("symptom", ["flaps/relief-silent", "hydraulics/transfer-unit-in-cruise"])
def test_where_the_crew_can_tell_nothing_the_line_goes_on_with_its_own_first_step(symptom: str) -> None:
    end = compile_chart(library(), [symptom], by=["crew"]).root
    step = compile_chart(library(), [symptom]).root
    assert isinstance(end, End)
    assert isinstance(step, Step)
    assert end.say.endswith(f"with: {step.title}.")


def two_checks() -> Task:
    """Two that tell the same: the dear one takes a minute, and 30 for access."""
    shows = np.array([[1.0, 0.0], [0.0, 1.0]] * 2)
    moves = (Move("dear", "check", 1.0, 1, (0, 1)), Move("cheap", "check", 5.0, 0, (2, 3)))
    return Task(np.array([0.5, 0.5]), (0, 1), moves, shows, shows > 0.0, (30.0,))


@pytest.mark.parametrize("looks", [0, 60])
def test_access_that_is_open_costs_nothing_more(looks: int) -> None:
    """Also where the search is over before it has begun."""
    assert best_check(two_checks(), np.array([0.1, 0.1]), 0, looks) == "cheap"
    assert best_check(two_checks(), np.array([0.1, 0.1]), 1, looks) == "dear"


def test_nothing_is_left_where_one_thing_is() -> None:
    assert best_check(two_checks(), np.array([0.2, 0.0]), 0) is None

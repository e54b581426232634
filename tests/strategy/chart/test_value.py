"""A chart knows where it begins, whether it is proven best, and goes to plain data and back."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

import faultree
from faultree.strategy.chart.value import Chart
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import small


def test_a_chart_begins_at_one_and_is_read_in_printing_order() -> None:
    """Number 1 is the root."""
    assert chart().root.number == 1
    assert [node.number for node in chart()] == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("expected", "bound", "optimal"), [(18.8, 18.8, True), (18.8, 18.8 - 1e-9, True), (18.8, 18.7, False), (0, 0, True)]
)
def test_a_chart_is_optimal_where_nothing_can_cost_less(expected: float, bound: float, optimal: bool) -> None:
    """Rounding does not count."""
    assert replace(chart(), expected_minutes=expected, lower_bound=bound).optimal is optimal


def test_a_chart_of_the_public_face_goes_to_plain_data_and_back() -> None:
    """`faultree.Chart` reads what `to_dict` wrote, and refuses the rest with `faultree.ChartError`."""
    data = json.loads(json.dumps(repairs().to_dict()))
    assert faultree.Chart is Chart
    assert dict(faultree.Chart.from_dict(small(), data).nodes) == dict(repairs().nodes)
    with pytest.raises(faultree.ChartError, match="no saved chart"):
        faultree.Chart.from_dict(small(), {})

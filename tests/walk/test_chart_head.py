"""The head of a chart's page: it never claims more than is proven, and says minutes in one form."""

from __future__ import annotations

from dataclasses import replace

from faultree.strategy.chart.value import End
from faultree.walk.chart_head import proof
from faultree.walk.chart_page import page_of
from tests.strategy.chart.by_hand import chart
from tests.walk.small import small


def test_the_proof_never_claims_more_than_is_proven() -> None:
    """The bound is rounded down; where the chart is optimal it says so in as many words."""
    one = chart()
    assert proof(replace(one, expected_minutes=31.44, lower_bound=30.29)) == (
        "Expected 31.4 min; no chart can be below 30.2."
    )
    assert proof(replace(one, lower_bound=one.expected_minutes)) == "Expected 18.8 min; no chart can be below that."


def test_mean_minutes_are_in_hours_where_the_worst_is() -> None:
    """Whoever compares the two should not have to reckon; what no chart can be below is still rounded down."""
    one = replace(chart(), expected_minutes=94.7, worst_minutes=579.0, lower_bound=93.9)
    assert proof(one) == "Expected 1 h 35 min; no chart can be below 1 h 33 min."
    assert proof(replace(one, lower_bound=42.37)) == "Expected 1 h 35 min; no chart can be below 42 min."
    assert (
        proof(replace(one, expected_minutes=42.4, lower_bound=42.37))
        == "Expected 42.4 min; no chart can be below 42.3."
    )


def test_a_chart_without_a_step_says_that_nothing_can_be_told() -> None:
    """That no chart takes less than 0 minutes proves nothing."""
    one = chart()
    node = one.nodes[6]
    assert isinstance(node, End)
    empty = replace(one, by=("crew",), nodes={1: replace(node, number=1, ending="continue")})
    assert proof(empty) == "No check of the crew tells the suspects apart: others have to go on at once."
    assert "At worst" not in dict(page_of(small(), empty).facts)
    alone = replace(empty, by=("crew", "line", "shop"), nodes={1: replace(node, number=1, ending="open")})
    assert proof(alone) == "No check tells the suspects apart."

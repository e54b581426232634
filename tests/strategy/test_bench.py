"""What repairs cost and how likely each ends the search; the best order of repairs."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.strategy.bench import Bench, repair_minutes, unit_probabilities
from tests.belief.small import library
from tests.oracles.brute import expected_minutes

shares_and_costs = st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(1.0, 100.0)), min_size=1, max_size=5)


@given(shares_and_costs)
def test_the_order_of_repairs_is_the_best_there_is(pairs: list[tuple[float, float]]) -> None:
    """Share over cost: no other order takes fewer minutes (all orders tried)."""
    total = sum(share for share, _ in pairs)
    shares = np.array([[share / total] for share, _ in pairs])
    costs = np.array([[cost] for _, cost in pairs])
    best = min(expected_minutes(order) for order in permutations(zip(shares[:, 0], costs[:, 0], strict=True)))
    assert repair_minutes(shares, costs).tolist() == pytest.approx([best], rel=1e-9)


def test_every_column_has_an_order_of_its_own() -> None:
    shares = np.array([[0.5, 1.0, 0.0], [0.5, 0.0, 1.0]])
    costs = np.array([[10.0, 10.0, 10.0], [40.0, 40.0, 5.0]])
    assert repair_minutes(shares, costs).tolist() == pytest.approx([10.0 + 0.5 * 40.0, 10.0, 5.0])


def test_the_time_left_counts_only_what_may_have_to_be_repaired() -> None:
    shares, costs = np.array([[0.2], [0.1]]), np.array([[10.0], [10.0]])
    assert repair_minutes(shares, costs, np.array([0.3])).tolist() == pytest.approx([10.0 * 0.3 + 10.0 * 0.1])


def bench(clearing: list[float], prior: float = 0.0, *, certain: bool = False) -> Bench:
    access: tuple[dict[str, float], ...] = ({"bay": 15.0}, {"bay": 15.0, "door": 4.0}, {})
    minutes, ones = np.array([10.0, 20.0, 30.0]), np.full(3, prior)
    return Bench(("p", "q", "r"), np.arange(3), minutes, access, np.array(clearing), ones, certain)


def test_costs_count_what_is_still_closed() -> None:
    made = bench([1.0, 1.0, 1.0])
    assert made.costs([]).tolist() == [25.0, 39.0, 30.0]
    assert made.costs(["bay"]).tolist() == [10.0, 24.0, 30.0]
    assert made.costs(["bay", "door", "other"]).tolist() == [10.0, 20.0, 30.0]


def test_shares_are_what_each_repair_ends() -> None:
    """Probability times how far it clears, never more than one: each of two needed faults ends it all alone."""
    assert bench([1.0, 1.0, 1.0]).shares(np.array([0.5, 0.3, 0.1])).tolist() == pytest.approx([0.5, 0.3, 0.1])
    assert bench([0.5, 1.0, 1.0]).shares(np.array([0.5, 0.3, 0.1])).tolist() == pytest.approx([0.25, 0.3, 0.1])
    assert bench([1.0, 1.0, 1.0]).shares(np.array([1.0, 0.6, 0.4])).tolist() == pytest.approx([1.0, 0.6, 0.4])
    columns = bench([1.0, 0.5, 1.0]).shares(np.array([[0.4, 1.0], [0.4, 1.0], [0.0, 0.5]]))
    assert columns.T.tolist() == [pytest.approx([0.4, 0.2, 0.0]), pytest.approx([1.0, 0.5, 0.5])]


def test_a_report_that_may_be_wrong_or_gone_is_there_as_far_as_the_units_account_for_it() -> None:
    shares = np.array([[0.2, 0.8], [0.1, 0.9], [0.0, 0.0]])
    assert bench([1.0, 1.0, 1.0]).open_share(shares).tolist() == pytest.approx([0.3, 1.0])
    assert bench([1.0, 1.0, 1.0], certain=True).open_share(shares).tolist() == [1.0, 1.0]


def test_with_a_certain_report_the_shares_sum_to_one_at_least() -> None:
    """Several independent faults at once are a case like any other, not one in which every repair is in vain."""
    made = bench([1.0, 1.0, 1.0], certain=True)
    assert made.shares(np.array([0.4, 0.3, 0.1])).tolist() == pytest.approx([0.5, 0.375, 0.125])
    assert made.shares(np.array([1.0, 0.6, 0.4])).tolist() == pytest.approx([1.0, 0.6, 0.4])
    columns = made.shares(np.array([[0.4, 1.0], [0.3, 0.0], [0.1, 0.0]]))
    assert columns.T.tolist() == [pytest.approx([0.5, 0.375, 0.125]), [1.0, 0.0, 0.0]]
    assert made.shares(np.zeros(3)).tolist() == [0.0, 0.0, 0.0]


def test_a_coincidence_ends_no_search() -> None:
    """A unit as likely as ever has no part in the report; one that is certain has all of it."""
    found = bench([1.0, 1.0, 1.0], prior=0.2).shares(np.array([0.2, 1.0, 0.6]))
    assert found.tolist() == pytest.approx([0.0, 1.0, 0.5])


def test_a_unit_is_as_likely_as_its_causes_together() -> None:
    text = """
items:
  x: {title: X}
causes:
  a: {title: A, item: x, probability: 0.1}
  lone: {title: Alone, probability: 0.3}
  b: {title: B, item: x, probability: 0.2}
"""
    frame = frame_of(library(text))
    made = Bench(("s/lone", "s/x"), np.array([1, 0]), np.ones(2), ({}, {}), np.ones(2), np.zeros(2))
    posterior = Posterior(frame, (), ())
    assert unit_probabilities(posterior, made, np.array([0.1, 0.2, 0.3])).tolist() == pytest.approx([0.3, 0.3])
    columns = unit_probabilities(posterior, made, np.array([[0.1, 0.5], [0.2, 0.5], [0.3, 0.0]]))
    assert columns.tolist() == [pytest.approx([0.3, 0.0]), pytest.approx([0.3, 1.0])]

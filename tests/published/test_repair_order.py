"""The order of repairs that costs least until the fault is met: by probability over cost.

Source: the classical p/c rule for a single fault found by repairing (from memory), with the example
p = .5 .3 .2 and costs 12 5 4: order 2, 3, 1 costs 13.8 on average, by probability 15.3, cheapest first
14.0 (by hand: 5 + .7 x 4 + .5 x 12, 12 + .5 x 5 + .2 x 4, 4 + .8 x 5 + .5 x 12).
"""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from tests.published.small import opened

# The report says that one of three parts is at fault; priors are in the given ratio and so small that
# two faults together do not matter (relative weight below 1e-7). A retest takes no time.
LIBRARY = """
items:
  part-1: {title: Part 1, minutes: 12}
  part-2: {title: Part 2, minutes: 5}
  part-3: {title: Part 3, minutes: 4}
causes:
  fault-1: {title: Part 1 has failed, item: part-1, probability: 5.0e-8}
  fault-2: {title: Part 2 has failed, item: part-2, probability: 3.0e-8}
  fault-3: {title: Part 3 has failed, item: part-3, probability: 2.0e-8}
events:
  failed: {title: Something has failed, any: [fault-1, fault-2, fault-3]}
symptoms:
  reported: {title: Something has failed, event: failed, retest: 0}
"""


@pytest.fixture
def case() -> Case:
    return opened(LIBRARY)


def replacing(case: Case) -> dict[str, float]:
    """Expected minutes to restoration by the item replaced next, best first."""
    return {str(one.item): one.expected_minutes for one in case.advice() if one.action == "replace"}


def test_least_expected_cost(case: Case) -> None:
    best = case.advice()[0]
    assert (best.action, best.check, best.item) == ("replace", None, "s/part-2")
    assert best.expected_minutes == pytest.approx(13.8, abs=1e-5)


def test_cost_of_each_first_repair(case: Case) -> None:
    """After the first repair the rest is done in the best order."""
    expected = {"s/part-2": 13.8, "s/part-3": 14.0, "s/part-1": 15.3}
    assert replacing(case) == pytest.approx(expected, abs=1e-5)


def test_whole_order(case: Case) -> None:
    """2, then 3, then 1, each repair leaving the symptom there."""
    order = []
    for _ in range(3):
        best = case.advice()[0]
        assert best.item is not None
        order.append(best.item)
        if len(order) < 3:
            case = case.repair(best.item, gone=False)
    assert order == ["s/part-2", "s/part-3", "s/part-1"]


def test_cost_left_after_a_repair_that_did_not_help(case: Case) -> None:
    """With part 2 good, .5/.7 and .2/.7 are left: 4 + 5/7 x 12."""
    left = case.repair("part-2", gone=False)
    assert left.advice()[0].expected_minutes == pytest.approx(4.0 + 12.0 * 5.0 / 7.0, abs=1e-5)

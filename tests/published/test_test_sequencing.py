"""First-step information of a published test-sequencing example.

Source: Pattipati and Alexandridis, "Application of heuristic search and information theory to
sequential fault diagnosis", IEEE Trans. SMC 20(4), 1990. The data are from memory; they are
confirmed by dynamic programming giving the recalled optimum of 2.18 tests. The bits are computed
from those data.
"""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from tests.published.small import answers, opened

# Exactly one of six states holds: no fault (0.70) or one of five, so the five are the modes of one item.
LIBRARY = """
conditions:
  asked: {title: A routine inspection, usually: yes}
items:
  unit: {title: The unit}
causes:
  s1: {title: State 1, item: unit, probability: 0.01}
  s2: {title: State 2, item: unit, probability: 0.02}
  s3: {title: State 3, item: unit, probability: 0.10}
  s4: {title: State 4, item: unit, probability: 0.05}
  s5: {title: State 5, item: unit, probability: 0.12}
events:
  e1: {title: Test 1 fails, any: [s3, s4, s5]}
  e2: {title: Test 2 fails, any: [s1, s4, s5]}
  e3: {title: Test 3 fails, any: [s2, s5]}
  e4: {title: Test 4 fails, any: [s2, s3, s5]}
  e5: {title: Test 5 fails, any: [s1, s3]}
checks:
  t1: {title: Test 1, ask: Does it fail?, reads: e1}
  t2: {title: Test 2, ask: Does it fail?, reads: e2}
  t3: {title: Test 3, ask: Does it fail?, reads: e3}
  t4: {title: Test 4, ask: Does it fail?, reads: e4}
  t5: {title: Test 5, ask: Does it fail?, reads: e5}
symptoms:
  reported: {title: A routine inspection, event: asked}
"""

BITS = {"s/t1": 0.841465, "s/t2": 0.680077, "s/t3": 0.584239, "s/t4": 0.795040, "s/t5": 0.499916}


@pytest.fixture
def case() -> Case:
    return opened(LIBRARY)


def test_bits_of_the_first_step(case: Case) -> None:
    assert {worth.check: worth.bits for worth in case.checks()} == pytest.approx(BITS, abs=5e-7)


def test_checks_come_with_most_bits_first(case: Case) -> None:
    assert [worth.check for worth in case.checks()] == ["s/t1", "s/t4", "s/t2", "s/t3", "s/t5"]


def test_chance_that_each_test_fails(case: Case) -> None:
    """Sums of the published priors over the published rows."""
    fails = {name: answers(case, name)["yes"] for name in ("t1", "t2", "t3", "t4", "t5")}
    assert fails == pytest.approx({"t1": 0.27, "t2": 0.18, "t3": 0.14, "t4": 0.24, "t5": 0.11}, abs=1e-12)


def test_bits_of_a_whole_sequence_add_up_to_the_entropy_of_the_states(case: Case) -> None:
    """All five tests tell the six states apart, so their expected bits add up to the entropy.

    - sum of p log2 p over the published priors is 1.4548734 (by hand).
    """

    def gained(now: Case, left: list[str]) -> float:
        if not left:
            return 0.0
        check, *rest = left
        (bits,) = [worth.bits for worth in now.checks() if worth.check == f"s/{check}"]
        shares = answers(now, check)
        return bits + sum(p * gained(now.answer(check, name), rest) for name, p in shares.items() if p > 0.0)

    assert gained(case, ["t2", "t5", "t1", "t3", "t4"]) == pytest.approx(1.4548734, abs=5e-8)

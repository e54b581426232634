"""A seal with a redundant one behind it: two failures, of which one is a million times less likely.

Source: NASA, Fault Tree Handbook with Aerospace Applications, 2002, the redundant seal example (result read):
1 - (1 - 1e-6)(1 - 1e-12) = 1.000000999999e-6, which floating-point numbers miss when they subtract from 1.
"""

from __future__ import annotations

import pytest

from faultree.belief.importance import importance
from tests.published.small import library_of

LIBRARY = """
causes:
  common: {title: both seals fail from one cause, probability: 1.0e-6}
  first: {title: first seal fails, probability: 1.0e-6}
  second: {title: second seal fails, probability: 1.0e-6}
events:
  leak: {title: the joint leaks, any: [common, {all: [first, second]}]}
symptoms:
  reported: {title: the joint leaks, event: leak}
"""


def test_the_probability_is_right_to_the_last_digit() -> None:
    """The product 1e-6 x 1e-6 is 1e-12 up to its own rounding; no digit of the sum is lost."""
    assert importance(library_of(LIBRARY), "reported").lower == pytest.approx(1.000000999999e-6, rel=3e-16, abs=0.0)


def test_plain_subtraction_would_miss_them() -> None:
    """The test above can fail: this is the sum that it guards against."""
    naive = 1.0 - (1.0 - 1e-6) * (1.0 - 1e-12)
    assert naive != pytest.approx(1.000000999999e-6, rel=1e-12, abs=0.0)


def test_what_is_left_without_the_common_cause_keeps_its_digits() -> None:
    """P0 = 1e-12, so the reduction worth is 1.000000999999e-6 / 1e-12."""
    (row,) = [row for row in importance(library_of(LIBRARY), "reported") if row.cause == "s/common"]
    assert row.reduction == pytest.approx(1000000.999999, rel=1e-14)

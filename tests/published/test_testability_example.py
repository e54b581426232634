"""A small example of testability figures.

Source: the definitions of IEEE 1522 and MIL-HDBK-2165 (dependency matrix, ambiguity group, fraction detected,
fraction isolated), formulae from memory; the matrix and its figures worked out from them by hand.
Rates in 1e-4: f1 2, f2 1, f3 3, f4 1, f5 3; rows f1 101, f2 101, f3 010, f4 000, f5 110; each fault an item.
"""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.strategy.testability import Testability, assess

LIBRARY = """
faultree: 1
title: Testability
items:
  i1: {title: Item 1}
  i2: {title: Item 2}
  i3: {title: Item 3}
  i4: {title: Item 4}
  i5: {title: Item 5}
causes:
  f1: {title: Fault 1, item: i1, probability: 2.0e-4}
  f2: {title: Fault 2, item: i2, probability: 1.0e-4}
  f3: {title: Fault 3, item: i3, probability: 3.0e-4}
  f4: {title: Fault 4, item: i4, probability: 1.0e-4}
  f5: {title: Fault 5, item: i5, probability: 3.0e-4}
events:
  first: {title: Test 1 fails, any: [f1, f2, f5]}
  second: {title: Test 2 fails, any: [f3, f5]}
  third: {title: Test 3 fails, any: [f1, f2]}
  any-fault: {title: The unit fails, any: [f1, f2, f3, f4, f5]}
checks:
  t1: {title: Test 1, ask: Does it fail?, reads: first}
  t2: {title: Test 2, ask: Does it fail?, reads: second}
  t3: {title: Test 3, ask: Does it fail?, reads: third}
symptoms:
  reported: {title: The unit fails, event: any-fault}
"""


@pytest.fixture
def found() -> Testability:
    return assess(load_texts({"s.yaml": LIBRARY}), "s/reported")


def test_the_dependency_matrix(found: Testability) -> None:
    rows = {
        cause.removeprefix("s/"): "".join("1" if check in shown else "0" for check in ("s/t1", "s/t2", "s/t3"))
        for cause, shown in found.matrix.responding.items()
    }
    assert rows == {"f1": "101", "f2": "101", "f3": "010", "f4": "000", "f5": "110"}


def test_fraction_detected(found: Testability) -> None:
    assert found.detected == pytest.approx(0.9, abs=1e-12)


def test_fractions_isolated(found: Testability) -> None:
    assert found.isolated[1] == pytest.approx(0.666667, abs=5e-7)
    assert found.isolated[2] == pytest.approx(1.0, abs=1e-12)


def test_groups_and_what_no_test_reveals(found: Testability) -> None:
    assert found.groups == (("s/f1", "s/f2"),)
    assert found.item_groups == (("s/i1", "s/i2"),)
    assert found.unrevealed == ("s/f4",)

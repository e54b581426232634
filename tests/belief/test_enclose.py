"""Bounds from known cut sets: the truth lies between them, and where singles are all they are tight."""

from __future__ import annotations

import random
from math import fsum

import pytest

from faultree.belief.enclose import enclose
from faultree.logic.cut_sets import Limits, minimal_sets
from tests.logic.minimal import producing, small
from tests.oracles.random_libraries import random_library


@pytest.mark.parametrize("seed", range(60))
def test_the_probability_lies_between(seed: int) -> None:
    """With all cut sets known, and with singles and pairs alone; logic that is not coherent included."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        top = min(fsum(producing(library, symptom).values()), 1.0)
        for limits in (Limits(), Limits(0, 0)):
            lower, upper = enclose(minimal_sets(library, symptom, limits))
            assert 0.0 <= lower <= top <= upper <= 1.0


def test_singles_alone_leave_no_gap() -> None:
    library = small(
        "causes: {a: {title: A, probability: 1.0e-6}, b: {title: B, probability: 1.0e-12}}\n"
        "events: {e: {title: E, any: [a, b]}}\nsymptoms: {r: {title: R, event: e}}\n"
    )
    lower, upper = enclose(minimal_sets(library, "s/r"))
    assert lower == pytest.approx(1.000000999999e-6, rel=1e-11, abs=0.0)
    assert upper == pytest.approx(1.000000999999e-6, rel=1e-11, abs=0.0)


def test_a_cause_that_hinders_lowers_the_lower_bound() -> None:
    """A is enough where B is good: exactly 0.1 x 0.8; A or C, each enough: the bound leaves B out of both."""
    library = small(
        "causes: {a: {title: A, probability: 0.1}, b: {title: B, probability: 0.2}, c: {title: C, probability: 0.3}}\n"
        "events: {e: {title: E, all: [a, {not: b}]}, f: {title: F, any: [e, c]}}\n"
        "symptoms: {r: {title: R, event: e}, s: {title: S, event: f}}\n"
    )
    assert enclose(minimal_sets(library, "s/r")) == pytest.approx((0.08, 0.1))
    assert enclose(minimal_sets(library, "s/s")) == pytest.approx((0.8 * (1 - 0.9 * 0.7), 1 - 0.9 * 0.7))

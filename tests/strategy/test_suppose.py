"""Suppositions: what answers would leave, by two ways that agree, and how causes are grouped for it."""

from __future__ import annotations

import random

import numpy as np
import pytest

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Reply, reading_of
from faultree.belief.plan import finding
from faultree.strategy.bench import unit_probabilities
from faultree.strategy.case import Case
from faultree.strategy.suppose import by_branch, by_group, groups_of, suppose
from tests.belief.small import library
from tests.oracles.random_libraries import SMALL, random_library

MANY = """
items:
  x: {title: X}
  y: {title: Y}
causes:
  often: {title: A, item: x, probability: 0.01}
  also: {title: B, item: x, probability: 0.004}
  rare: {title: C, item: x, probability: 1.0e-6}
  rarer: {title: D, item: x, probability: 2.0e-6}
  b: {title: E, item: y, probability: 0.01}
  apart: {title: F, probability: 0.5}
events:
  top: {title: Top, any: [often, also, rare, rarer, b]}
symptoms:
  reported: {title: Reported, event: top}
"""


def test_likely_causes_are_supposed_apart_and_the_others_of_their_unit_together() -> None:
    """And what has nothing to do with the report, however likely, is not supposed at all."""
    case = Case.open(library(MANY), ["reported"])
    groups = groups_of(case._posterior, case._bench)
    assert [case._bench.units[group.unit] for group in groups] == ["s/x", "s/x", "s/x", "s/y"]
    assert [group.present.factors for group in groups[:3]] == [
        (0.0, 1.0, 0.0, 0.0, 0.0),
        (0.0, 0.0, 1.0, 0.0, 0.0),
        (0.0, 0.0, 0.0, 1.0, 1.0),
    ]
    ranked = {one.cause: one.probability for one in case.ranking()}
    assert groups[2].chance == pytest.approx(ranked["s/rare"] + ranked["s/rarer"])


def test_some_of_what_was_supposed() -> None:
    case = Case.open(library(MANY), ["reported"])
    supposed = suppose(case._posterior, groups_of(case._posterior, case._bench))
    few = supposed.only([0, 3])
    assert few.groups == (supposed.groups[0], supposed.groups[3])
    assert few.points.tolist() == supposed.points[:, [0, 3]].tolist()


@pytest.mark.parametrize("seed", range(12))
def test_supposing_branches_or_causes_gives_the_same(seed: int) -> None:
    """Bayes' rule: P(unit / branch) from runs with every branch, or with causes present; unsuspected units stay."""
    made = random_library(random.Random(seed), SMALL).library
    for symptom in made.symptoms:
        try:
            case = Case.open(made, [symptom])
        except Contradiction:
            continue
        posterior, units = case._posterior, case._bench
        answers = [(worth.check, name) for worth in case.checks() for name, p in worth.answers.items() if p > 1e-6]
        branches = [finding(reading_of(posterior.frame, Reply(*one), frozenset())) for one in answers]
        if not branches or not units.units:
            continue
        supposed = suppose(posterior, groups_of(posterior, units))
        found = by_group(posterior, units, branches, supposed)
        truly = by_branch(posterior, units, branches)
        known = sorted({group.unit for group in supposed.groups})
        np.testing.assert_allclose(found[known], truly[known], atol=1e-9)
        now = unit_probabilities(posterior, units, posterior.result.causes)
        others = [place for place in range(len(now)) if place not in known]
        np.testing.assert_allclose(found[others], np.repeat(now[others, None], len(branches), axis=1), atol=1e-12)

"""The table of fault sets: exact when it lists them all, otherwise no further off than it says."""

from __future__ import annotations

import random
from itertools import pairwise
from math import exp, inf

import numpy as np
import pytest

from faultree.belief.engine import Limits, On, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from faultree.belief.table import Table, table_of
from tests.belief.listed import Listed
from tests.belief.small import library, node, pump_frame
from tests.oracles.random_libraries import SMALL, random_library

THREE = """
items:
  part: {title: A part}
causes:
  one: {title: One mode, item: part, probability: 0.2}
  other: {title: Another mode, item: part, probability: 0.1}
  b: {title: B, probability: 0.3}
  c: {title: C, probability: 0.05}
  apart: {title: Has nothing to do with it, probability: 0.4}
events:
  top: {title: Top, any: [one, {all: [other, b]}, {all: [b, c]}]}
"""


def table(frame: Frame, points: list[Point], sets: int) -> Table:
    return table_of(frame, wire(frame, points), Limits(sets=sets))


def three(sets: int = 1000) -> Table:
    frame = frame_of(library(THREE))
    return table(frame, [node(frame, "top")], sets)


def test_with_every_set_listed_it_is_exact() -> None:
    """Three units have no set of more than three faults: nothing is left out, and nothing is off."""
    full = three()
    assert full.left_out == pytest.approx(0.0, abs=1e-12)
    found = full.run([On(full.points[0], 0.1, 1.0)])
    causes, points = Listed(full.wiring.frame).probabilities([On(full.points[0], 0.1, 1.0)], full.points)
    assert float(found.bound) == pytest.approx(0.0, abs=1e-12)
    assert found.causes.tolist() == pytest.approx(causes.tolist(), abs=1e-12)
    assert found.points.tolist() == pytest.approx(points.tolist(), abs=1e-12)


def test_only_units_that_matter_are_listed() -> None:
    """2 x 2 x 3 combinations of the three units; the fourth stays as it was."""
    full = three()
    assert full.mass.shape == (12,)
    assert float(full.run([]).causes[-1]) == 0.4


def test_every_set_is_listed_once_with_its_prior() -> None:
    full = three()
    assert len(set(full.sets)) == len(full.sets)
    roots = full.wiring.frame.prior.roots
    for faults, mass in zip(full.sets, full.mass.tolist(), strict=True):
        values = dict.fromkeys(full.wiring.network.roots, 0) | dict(faults)
        assert mass == pytest.approx(np.prod([roots[root].probabilities[value] for root, value in values.items()]))


@pytest.mark.parametrize("sets", [0, 1, 5, 8])
def test_nothing_wrong_and_every_single_fault_are_always_listed(sets: int) -> None:
    short = three(sets)
    faults = [len(one) for one in short.sets]
    assert faults.count(0) == 1
    assert faults.count(1) == 4
    assert short.left_out == pytest.approx(1.0 - float(short.mass.sum()))


def test_a_larger_table_leaves_less_out() -> None:
    """More room lists more of the likely pairs and then of the triples, never less."""
    frame = pump_frame()
    tables = [table(frame, [node(frame, "moves", "ready"), node(frame, "shown")], sets) for sets in (0, 12, 40, 500)]
    assert all(larger.left_out <= smaller.left_out for smaller, larger in pairwise(tables))
    assert tables[-1].left_out < tables[0].left_out


def test_the_bound_is_what_is_left_out_over_what_is_known() -> None:
    """With e left out, S the listed mass times likelihood and L the largest likelihood: e L / (S + e L)."""
    short = three(0)
    found = short.run([On(short.points[0], 0.1, 0.8)])
    total = exp(float(found.log_z))
    missed = short.left_out * 0.8
    assert float(found.bound) == pytest.approx(missed / (total + missed), rel=1e-12)
    assert float(found.bound) > 0.01


@pytest.mark.parametrize("seed", range(30))
def test_the_bound_is_honoured(seed: int) -> None:
    """However few sets are listed, no cause and no point is further off than the bound."""
    rng = random.Random(seed)
    frame = frame_of(random_library(rng, SMALL).library)
    literals = range(2, 2 * len(frame.graph.nodes), 2)
    points = [Point(one, frame.world(None)) for one in rng.sample(literals, min(4, len(literals)))]
    short = table(frame, points, rng.choice([0, 10, 30]))
    listed = Listed(frame)
    for _ in range(3):
        findings = [On(point, rng.choice([0.0, 0.2, 1.0]), rng.choice([0.4, 1.0])) for point in points[:2]]
        found = short.run(findings)
        if listed.log_z(findings) == -inf or float(found.log_z) == -inf:
            continue
        causes, seen = listed.probabilities(findings, points)
        off = max(np.abs(found.causes - causes).max(), np.abs(found.points - seen).max())
        assert off <= float(found.bound) + 1e-12


def test_evidence_that_no_listed_set_explains_has_the_widest_bound() -> None:
    """Nothing may be concluded from a table that lists nothing that fits: another set may."""
    frame = frame_of(
        library(
            """
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.1}
  c: {title: C, probability: 0.1}
  d: {title: D, probability: 0.1}
events:
  top: {title: Top, all: [a, b, c, d]}
"""
        )
    )
    point = node(frame, "top")
    found = table(frame, [point], 1000).run([On(point, 0.0, 1.0)])
    assert float(found.log_z) == -inf
    assert float(found.bound) == 1.0


def test_evidence_of_no_weight_at_all_is_impossible() -> None:
    """Where even the largest likelihood is 0 there is nothing to be off by."""
    full = three()
    found = full.run([On(full.points[0], 0.0, 0.0)])
    assert float(found.log_z) == -inf
    assert float(found.bound) == 0.0


@pytest.mark.parametrize("count", [1, 63, 64, 65, 200])
def test_every_listed_set_is_simulated(count: int) -> None:
    """Sets beyond the first 64 too: each single fault of many makes the top true."""
    causes = "\n".join(f"  c{number}: {{title: C, probability: 0.001}}" for number in range(count))
    names = ", ".join(f"c{number}" for number in range(count))
    frame = frame_of(library(f"causes:\n{causes}\nevents:\n  top: {{title: Top, any: [{names}, {{all: [c0]}}]}}\n"))
    made = table(frame, [node(frame, "top")], 0)
    assert made.shown[0].tolist() == [number for number, faults in enumerate(made.sets) if faults]
    assert len(made.sets) == count + 1

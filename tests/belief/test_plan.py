"""Plans: grouping the checks by situation changes how the answers are found, and never what they are."""

from __future__ import annotations

import random
from math import inf

import numpy as np
import pytest

from faultree.belief.engine import Exact, Finding, Given, Limits, On, TooWide, compile_exact
from faultree.belief.evidence import Point, Reading, points_of, readings_of
from faultree.belief.frame import Frame, frame_of
from faultree.belief.plan import Plan, even, exact_plan, finding, plan_of
from faultree.logic.graph import negate
from tests.belief.engines import narrow
from tests.belief.listed import Listed
from tests.belief.small import node, pump_frame
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import SMALL, random_library

FRAME = pump_frame()
REPORT = tuple(finding(reading) for reading in readings_of(FRAME, ("s/still",), []))
EVIDENCE = tuple(one.point for one in REPORT)
VIEWS = tuple(even(point)[0] for check in FRAME.library.checks for point in points_of(FRAME, check, frozenset()))

NARROW = narrow(FRAME, EVIDENCE, VIEWS)
"""Too narrow for all situations at once, wide enough for each."""

NARROWER = Limits(cells=2)
"""Too narrow for anything exact."""


def plans() -> list[Plan]:
    return [plan_of(FRAME, EVIDENCE, VIEWS, limits) for limits in (Limits(), NARROW, NARROWER)]


def test_the_limits_decide_how_many_engines_there_are() -> None:
    """One where it fits, exact ones for groups of situations where it does not, bounded ones as the last resort."""
    wide, parted, bounded = plans()
    assert len(wide.engines) == 1
    assert len(parted.engines) > 1
    assert all(isinstance(engine, Exact) for engine in parted.engines)
    assert not any(isinstance(engine, Exact) for engine in bounded.engines)


@pytest.mark.parametrize("number", range(3))
def test_every_engine_knows_the_evidence(number: int) -> None:
    """And every point is known to one of them."""
    plan = plans()[number]
    for engine in plan.engines:
        assert set(EVIDENCE) <= set(engine.points)
    assert set(plan.points) == {*EVIDENCE, *VIEWS}
    assert {point for engine in plan.engines for point in engine.points} == set(plan.points)
    for point, owner in plan.owner.items():
        assert point in plan.engines[owner].points


def test_grouped_checks_give_the_same_results() -> None:
    wide, parted, _ = plans()
    one, several = wide.run(REPORT), parted.run(REPORT)
    assert float(several.bound) == 0.0
    assert float(several.log_z) == pytest.approx(float(one.log_z), abs=1e-12)
    assert several.causes.tolist() == pytest.approx(one.causes.tolist(), abs=1e-12)
    assert [float(several.points[parted.place[point]]) for point in wide.points] == pytest.approx(
        one.points.tolist(), abs=1e-12
    )


@pytest.mark.parametrize("number", range(3))
def test_results_are_right_within_the_bound(number: int) -> None:
    plan = plans()[number]
    found = plan.run(REPORT)
    causes, points = Listed(FRAME).probabilities(REPORT, plan.points)
    assert np.abs(found.causes - causes).max() <= float(found.bound) + 1e-12
    assert np.abs(found.points - points).max() <= float(found.bound) + 1e-12
    assert (float(found.bound) > 0.0) == (number == 2)


@pytest.mark.parametrize("number", range(3))
def test_columns_are_runs_with_one_more_finding(number: int) -> None:
    """Each column goes to an engine that knows its points; the results come in the order of the columns."""
    plan = plans()[number]
    columns = [[On(point, off, 1.0)] for point in VIEWS for off in (0.0, 0.3)]
    columns.insert(3, [])
    found = plan.run_columns(REPORT, columns)
    assert len(found) == len(columns)
    for column, result in zip(columns, found, strict=True):
        causes, _ = Listed(FRAME).probabilities([*REPORT, *column], [])
        if float(result.log_z) > -inf:
            assert np.abs(result.causes - causes).max() <= float(result.bound) + 1e-12
        if number < 2:
            assert float(result.log_z) == pytest.approx(Listed(FRAME).log_z([*REPORT, *column]), abs=1e-12)


def test_no_columns_no_results() -> None:
    assert plans()[1].run_columns(REPORT, []) == []


@pytest.mark.parametrize("number", range(2))
def test_the_weight_of_evidence_is_found_by_an_engine_that_knows_it(number: int) -> None:
    """Also of a point that only one of the engines knows, and of what is given of a unit."""
    plan = plans()[number]
    for point in VIEWS:
        findings: list[Finding] = [*REPORT, On(point, 0.2, 0.9), Given(0, (1.0, 0.5, 0.0))]
        assert plan.log_z(findings) == pytest.approx(Listed(FRAME).log_z(findings), abs=1e-12)


def test_a_plan_counts_the_size_of_all_its_engines() -> None:
    parted = plans()[1]
    assert parted.size == sum(engine.size for engine in parted.engines)


@pytest.mark.parametrize("seed", range(15))
def test_grouping_changes_nothing_on_random_cases(seed: int) -> None:
    """The narrowest exact plan of a case gives what one engine gives."""
    rng = random.Random(seed)
    brute = random_case(rng, random_library(rng, SMALL).library)
    frame = frame_of(brute.library)
    report = [finding(one) for one in readings_of(frame, brute.symptoms, [])]
    views = [even(point)[0] for check in frame.library.checks for point in points_of(frame, check, frozenset())]
    wide = plan_of(frame, [one.point for one in report], views)
    parted = plan_of(frame, [one.point for one in report], views, Limits(cells=widest_too_narrow(frame, wide.points)))
    one, several = wide.run(report), parted.run(report)
    if float(one.log_z) == -inf:
        assert float(several.log_z) == -inf
        return
    if float(several.log_z) == -inf:
        assert float(several.bound) == pytest.approx(1.0)
        return
    bound = float(several.bound) + 1e-12
    assert np.abs(several.causes - one.causes).max() <= bound
    assert np.abs(several.points - one.points[[wide.place[point] for point in parted.points]]).max() <= bound


def widest_too_narrow(frame: Frame, points: tuple[Point, ...]) -> int:
    """The largest power of two that is too small a limit on cells for one engine over all points, or 0."""
    cells = 1 << 16
    while cells:
        try:
            compile_exact(frame, points, Limits(cells=cells))
        except TooWide:
            return cells
        cells //= 2
    return 0


def test_an_exact_plan_is_one_engine_or_an_error() -> None:
    """Any of its points may be evidence, and one named twice is known once."""
    plan = exact_plan(FRAME, [*VIEWS, *EVIDENCE, VIEWS[0]])
    assert len(plan.engines) == 1
    assert plan.points == tuple(dict.fromkeys([*VIEWS, *EVIDENCE]))
    with pytest.raises(TooWide):
        exact_plan(FRAME, VIEWS, NARROWER)


def test_an_odd_point_is_asked_by_its_node_and_turned() -> None:
    point = node(FRAME, "moves", "ready")
    plain = point._replace(literal=point.literal & ~1)
    assert even(plain) == (plain, False)
    assert even(plain._replace(literal=negate(plain.literal))) == (plain, True)


def test_a_reading_of_the_opposite_changes_its_factors() -> None:
    point = even(node(FRAME, "moves", "ready"))[0]
    assert finding(Reading(point, 0.1, 0.7)) == On(point, 0.1, 0.7)
    assert finding(Reading(point._replace(literal=negate(point.literal)), 0.1, 0.7)) == On(point, 0.7, 0.1)

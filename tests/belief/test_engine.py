"""What every engine owes: posteriors that are no further off than its bound says, one set of evidence or many."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache
from math import inf

import numpy as np
import pytest

from faultree.base.errors import FaultreeError
from faultree.belief.engine import Engine, Finding, Given, Limits, On, TooWide, compile_exact, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from tests.belief.engines import ENGINES, EXACT
from tests.belief.listed import Listed
from tests.belief.small import MESH, library, node, pump_frame
from tests.oracles.random_libraries import SMALL, random_library

ROUNDING = 1e-12

every_engine = pytest.mark.parametrize("name", ENGINES)


def pump_points(frame: Frame) -> tuple[Point, ...]:
    """Nodes of the pump in several situations, one of them settled and one after a repair."""
    return (
        node(frame, "pressure"),
        node(frame, "shown"),
        node(frame, "shown", "dark"),
        node(frame, "moves", "ready"),
        node(frame, "pressure", "dark"),
        node(frame, "moves", "ready", "pump"),
        node(frame, "noisy"),
    )


@cache
def pump_engine(name: str) -> Engine:
    frame = pump_frame()
    return ENGINES[name](frame, pump_points(frame))


def check_run(engine: Engine, frame: Frame, findings: Sequence[Finding]) -> None:
    """Every probability within the bound of the listed one; the bound 0 where there is nothing to be off."""
    listed = Listed(frame)
    found = engine.run(findings)
    bound = float(found.bound)
    assert 0.0 <= bound <= 1.0
    if listed.log_z(findings) == -inf:
        assert float(found.log_z) == -inf
        return
    if float(found.log_z) == -inf:  # nothing listed explains it, so nothing can be said
        assert bound == pytest.approx(1.0)
        return
    causes, points = listed.probabilities(findings, engine.points)
    assert np.abs(found.causes - causes).max() <= bound + ROUNDING
    assert np.abs(found.points - points).max() <= bound + ROUNDING
    if bound == 0.0:
        assert float(found.log_z) == pytest.approx(listed.log_z(findings), abs=ROUNDING)
    else:
        assert float(found.log_z) <= listed.log_z(findings) + ROUNDING


STILL = ("moves", "ready", 1.0, 0.0)
DARK_NO = ("shown", "dark", 1.0, 0.0)
READ_NO = ("shown", None, 0.95, 0.1)
FEEL_YES = ("pressure", None, 0.0, 1.0)
FEEL_NO = ("pressure", None, 1.0, 0.0)
NOISE = ("noisy", None, 0.1, 0.8)

EVIDENCE: dict[str, list[tuple[str, str | None, float, float]]] = {
    "nothing known": [],
    "a report": [STILL],
    "a report and a noisy reading": [STILL, READ_NO],
    "the same reading twice": [STILL, READ_NO, READ_NO],
    "three things": [STILL, FEEL_NO, NOISE],
    "the other cause": [STILL, FEEL_YES],
    "both gauges": [STILL, READ_NO, DARK_NO, NOISE],
    "what cannot be": [FEEL_YES, FEEL_NO],
}


def findings(evidence: str) -> list[Finding]:
    """One of the sets of evidence above."""
    frame = pump_frame()
    return [On(node(frame, name, situation), off, on) for name, situation, off, on in EVIDENCE[evidence]]


@every_engine
@pytest.mark.parametrize("evidence", EVIDENCE)
def test_posteriors_are_right_within_the_bound(name: str, evidence: str) -> None:
    """Causes and points, to rounding where the engine claims to be exact."""
    check_run(pump_engine(name), pump_frame(), findings(evidence))


@pytest.mark.parametrize("name", EXACT)
@pytest.mark.parametrize("evidence", EVIDENCE)
def test_the_exact_engine_has_no_bound(name: str, evidence: str) -> None:
    assert float(pump_engine(name).run(findings(evidence)).bound) == 0.0


@every_engine
def test_nothing_known_leaves_the_priors(name: str) -> None:
    found = pump_engine(name).run([])
    priors = [p for root in pump_frame().prior.roots for p in root.probabilities[1:]]
    assert found.causes.tolist() == pytest.approx(priors, abs=float(found.bound) + ROUNDING)


@every_engine
def test_points_are_answered_in_the_order_asked(name: str) -> None:
    frame = pump_frame()
    points = pump_points(frame)
    assert pump_engine(name).points == points
    back = ENGINES[name](frame, points[::-1])
    ahead = pump_engine(name).run(findings("a report"))
    assert back.run(findings("a report")).points.tolist() == pytest.approx(ahead.points[::-1].tolist(), abs=ROUNDING)


@every_engine
def test_a_column_is_a_run_of_its_own(name: str) -> None:
    """Common findings with those of each column; one that cannot be does not spoil the others."""
    engine = pump_engine(name)
    common = findings("a report")
    columns = [findings(one)[1:] for one in ("three things", "a report", "the other cause", "both gauges")]
    columns.append(findings("what cannot be"))
    together = engine.run(common, columns)
    for number, column in enumerate(columns):
        alone = engine.run([*common, *column])
        assert float(together.log_z[number]) == pytest.approx(float(alone.log_z), abs=ROUNDING)
        assert float(together.bound[number]) == pytest.approx(float(alone.bound), abs=ROUNDING)
        if float(alone.log_z) > -inf:
            assert together.causes[:, number].tolist() == pytest.approx(alone.causes.tolist(), abs=ROUNDING)
            assert together.points[:, number].tolist() == pytest.approx(alone.points.tolist(), abs=ROUNDING)


@every_engine
def test_no_columns_no_results(name: str) -> None:
    found = pump_engine(name).run(findings("a report"), [])
    assert found.log_z.shape == (0,)
    assert found.causes.shape == (6, 0)


@every_engine
def test_a_run_leaves_nothing_behind(name: str) -> None:
    """Engines are shared by all cases of a library."""
    engine = pump_engine(name)
    before = engine.run(findings("three things"))
    engine.run(findings("the other cause"), [findings("a report"), []])
    engine.best(findings("both gauges"))
    after = engine.run(findings("three things"))
    assert after.causes.tolist() == before.causes.tolist()
    assert after.points.tolist() == before.points.tolist()


@every_engine
def test_no_point_needs_no_variable(name: str) -> None:
    """A library whose reports nothing can change still has its priors."""
    found = ENGINES[name](pump_frame(), ()).run([])
    assert float(found.log_z) == 0.0
    assert found.causes.tolist() == pytest.approx([0.10, 0.05, 0.20, 0.04, 0.02, 0.30])
    assert found.points.shape == (0,)


@every_engine
def test_evidence_on_a_settled_point(name: str) -> None:
    """No power, no pressure: reading that says nothing, reading otherwise cannot be, half believing it costs half."""
    frame = pump_frame()
    engine, point = pump_engine(name), node(frame, "pressure", "dark")
    plain = engine.run([])
    sure = engine.run([On(point, 1.0, 0.0)])
    assert sure.causes.tolist() == pytest.approx(plain.causes.tolist(), abs=ROUNDING)
    assert float(engine.run([On(point, 0.0, 1.0)]).log_z) == -inf
    for off, on in [(0.5, 1.0), (0.2, 0.1)]:
        doubted = engine.run([On(point, off, on)])
        assert float(doubted.log_z) == pytest.approx(float(plain.log_z) + np.log(off), abs=ROUNDING)
        assert float(doubted.bound) >= float(plain.bound) - ROUNDING
    together = engine.run([], [[On(point, 1.0, 0.0)], [On(point, 0.0, 1.0)]])
    assert together.log_z.tolist() == [pytest.approx(float(plain.log_z), abs=ROUNDING), -inf]


@every_engine
def test_a_unit_can_be_given(name: str) -> None:
    """What is known of a root is one factor for each of its values: the pump is good, or worn for certain."""
    frame = pump_frame()
    root = frame.prior.index["s/pump"]
    for factors in [(1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.2, 1.0, 0.5), (0.0, 1.0, 1.0)]:
        check_run(pump_engine(name), frame, [*findings("a report"), Given(root, factors)])


@every_engine
def test_what_is_given_of_a_unit_that_no_point_depends_on(name: str) -> None:
    """It is independent of everything asked: it takes its share of P(evidence) and changes no point."""
    frame = pump_frame()
    engine = ENGINES[name](frame, [node(frame, "pressure")])
    given = Given(frame.prior.index["s/gauge"], (0.5, 1.0, 0.0))
    plain, with_it = engine.run([]), engine.run([given])
    assert float(with_it.log_z - plain.log_z) == pytest.approx(np.log(0.94 * 0.5 + 0.04), abs=ROUNDING)
    assert with_it.points.tolist() == pytest.approx(plain.points.tolist(), abs=ROUNDING)
    assert float(with_it.bound) == pytest.approx(float(plain.bound), abs=ROUNDING)


@every_engine
@pytest.mark.parametrize("evidence", EVIDENCE)
def test_the_best_fault_set_weighs_what_it_says(name: str, evidence: str) -> None:
    """Its log weight is that of exactly these causes; no set weighs more where the engine is exact."""
    listed = Listed(pump_frame())
    weight, causes = pump_engine(name).best(findings(evidence))
    if listed.heaviest(findings(evidence)) == -inf:
        assert (weight, causes) == (-inf, frozenset())
        return
    assert weight == pytest.approx(listed.weight_of(causes, findings(evidence)), abs=ROUNDING)
    # the heaviest set of so small a system has few faults, so that a table lists it as well
    assert weight == pytest.approx(listed.heaviest(findings(evidence)), abs=ROUNDING)


@every_engine
def test_the_best_fault_set_with_a_unit_given(name: str) -> None:
    frame = pump_frame()
    given = [*findings("a report"), Given(frame.prior.index["s/valve"], (1.0, 0.0))]
    weight, causes = pump_engine(name).best(given)
    assert causes == {"s/leak"}
    assert weight == pytest.approx(Listed(frame).heaviest(given), abs=ROUNDING)


@every_engine
@pytest.mark.parametrize("seed", range(6))
def test_the_same_holds_where_everything_is_shared(name: str, seed: int) -> None:
    """Five causes in a mesh of gates, some of which are read."""
    rng = random.Random(seed)
    frame = frame_of(library(MESH))
    points = [node(frame, event) for event in ("ab", "bc", "cd", "de", "ea", "ac", "bd", "top")]
    engine = ENGINES[name](frame, points)
    for _ in range(4):
        findings = random_findings(rng, points)
        check_run(engine, frame, findings)
        weight, causes = engine.best(findings)
        assert weight == pytest.approx(Listed(frame).weight_of(causes, findings), abs=ROUNDING)
        if name in EXACT:
            assert weight == pytest.approx(Listed(frame).heaviest(findings), abs=ROUNDING)


def random_points(rng: random.Random, frame: Frame) -> list[Point]:
    """Some nodes in some situations, some of them after a repair."""
    found = []
    for _ in range(rng.randint(1, 6)):
        where = rng.choice([None, *frame.library.situations])
        repaired = frozenset(root for root in range(len(frame.prior.roots)) if rng.random() < 0.1)
        found.append(Point(2 * rng.randrange(len(frame.graph.nodes)), frame.world(where, repaired)))
    return list(dict.fromkeys(found))


def random_findings(rng: random.Random, points: Sequence[Point]) -> list[Finding]:
    """Perfect and imperfect readings of a few of the points."""
    seen = rng.sample(points, rng.randint(0, min(3, len(points))))
    return [On(point, rng.choice([0.0, 0.1, 1.0]), rng.choice([0.3, 1.0])) for point in seen]


@every_engine
@pytest.mark.parametrize("seed", range(12))
def test_the_same_holds_on_random_libraries(name: str, seed: int) -> None:
    rng = random.Random(seed)
    frame = frame_of(random_library(rng, SMALL).library)
    points = random_points(rng, frame)
    engine = ENGINES[name](frame, points)
    for _ in range(4):
        check_run(engine, frame, random_findings(rng, points))


def test_what_is_too_wide_is_refused_and_not_tried() -> None:
    """By the cells of one table, or by the size of the whole; the error is one of ours."""
    frame = pump_frame()
    points = pump_points(frame)
    assert issubclass(TooWide, FaultreeError)
    for limits in (Limits(cells=7), Limits(size=20)):
        with pytest.raises(TooWide):
            compile_exact(frame, points, limits)
    assert compile_exact(frame, points, Limits(cells=1 << 10, size=10_000)).size <= 10_000


def test_wiring_knows_every_point_and_the_worlds_it_needs() -> None:
    """Worlds that no point asks for are not in the network: none of its responses tells of them."""
    frame = pump_frame()
    one = wire(frame, [node(frame, "shown")])
    assert one.place == {node(frame, "shown"): 0}
    assert one.network.targets[0].variable >= 0
    assert wire(frame, [node(frame, "pressure", "dark")]).network.roots == {}


@every_engine
def test_its_size_is_counted(name: str) -> None:
    assert pump_engine(name).size > 0

"""Advice: expected minutes to restoration, worked out by hand on a system of two parts."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Reply, reading_of
from faultree.belief.frame import frame_of
from faultree.belief.plan import finding
from faultree.belief.posterior import Posterior
from faultree.library.model import Library
from faultree.strategy.advice import Advice, Bench, by_branch, by_unit, repair_minutes, unit_probabilities
from faultree.strategy.case import Case
from tests.belief.small import library
from tests.oracles.brute import expected_minutes
from tests.oracles.random_libraries import SMALL, random_library

TWO = """
access:
  bay: {title: open the bay, minutes: 15}
items:
  x: {title: X, minutes: 20}
  y: {title: Y, minutes: 50, access: [bay]}
causes:
  a: {title: A, item: x, probability: 3.0e-7}
  b: {title: B, item: y, probability: 2.0e-7}
  apart: {title: Has nothing to do with it, probability: 0.5}
events:
  one: {title: Exactly one of two, one_of: [a, b]}
checks:
  look: {title: Look, ask: Is it A?, reads: a, minutes: 4, by: crew}
  peek: {title: Look inside, ask: Is it A?, reads: a, minutes: 4, access: [bay]}
  noisy: {title: Listen, ask: Is it A?, reads: a, minutes: 2, false_yes: 0.1, false_no: 0.2}
  idle: {title: Look elsewhere, ask: Is it so?, reads: one, minutes: 1}
symptoms:
  reported: {title: One of two, event: one, retest: 10}
"""

A, B = 0.6, 0.4
"""Exactly one is wrong, 3 to 2; both are so unlikely beforehand that chance plays no part."""

CLOSE = 1e-4
"""Minutes by which chance may still move an expectation."""

X, Y, Y_OPEN = 20.0 + 10.0, 50.0 + 10.0 + 15.0, 50.0 + 10.0
"""To replace and look again; Y with the bay to be opened first, or open already."""


@pytest.fixture(scope="module")
def two() -> Library:
    return library(TWO)


@pytest.fixture
def case(two: Library) -> Case:
    return Case.open(two, ["reported"])


def named(advice: tuple[Advice, ...]) -> dict[str, Advice]:
    """Advice by the check's or the unit's short id."""
    return {str(one.check or one.item).partition("/")[2]: one for one in advice}


def test_expected_minutes_by_hand(case: Case) -> None:
    """A check first, then the part that it points to; a part first, then the other one if that was not it."""
    right = 0.8 * A + 0.1 * B
    expected = {
        "look": 4.0 + A * X + B * Y,
        "peek": 4.0 + 15.0 + A * X + B * Y_OPEN,
        "x": X + B * Y,
        "y": Y + A * X,
        # after the answer yes X goes first, after no Y or X by probability over minutes
        "noisy": 2.0 + right * X + 0.1 * B * Y + min(0.2 * A * X + 0.9 * B * (X + Y), 0.9 * B * Y + 0.2 * A * (X + Y)),
    }
    found = {name: one.expected_minutes for name, one in named(case.advice()).items()}
    assert found == pytest.approx(expected, abs=CLOSE)


def test_least_expected_minutes_come_first(case: Case) -> None:
    minutes = [one.expected_minutes for one in case.advice()]
    assert minutes == sorted(minutes)
    assert (case.advice()[0].action, case.advice()[0].check) == ("check", "s/look")


def test_a_step_costs_its_own_time_and_the_access_still_closed(case: Case) -> None:
    """A repair also costs the operational check after it."""
    found = named(case.advice())
    assert {name: one.minutes for name, one in found.items()} == {
        "look": 4.0,
        "peek": 19.0,
        "noisy": 2.0,
        "x": X,
        "y": Y,
    }


def test_access_that_a_check_opens_makes_the_repair_after_it_cheaper(case: Case) -> None:
    """Already counted before (the repair that may follow), and seen once the check was made."""
    opened = named(case.cannot_tell("peek").advice())
    assert opened["y"].minutes == Y_OPEN
    assert opened["y"].expected_minutes == pytest.approx(Y_OPEN + A * X, abs=CLOSE)
    assert opened["look"].expected_minutes == pytest.approx(4.0 + A * X + B * Y_OPEN, abs=CLOSE)
    assert named(case.answer("look", "no").advice())["y"].minutes == Y


def test_access_that_a_repair_opened_stays_open(two: Library) -> None:
    found = Case.open(two, ["reported"]).repair("y", gone=False)
    assert {worth.check: worth.minutes for worth in found.checks()}["s/peek"] == 4.0


def test_checks_have_their_bits_and_answers_and_repairs_have_none(case: Case) -> None:
    worths = {worth.check: worth for worth in case.checks()}
    for one in case.advice():
        if one.action == "check":
            assert one.item is None
            assert one.check is not None
            assert (one.bits, one.answers) == (worths[one.check].bits, worths[one.check].answers)
        else:
            assert one.check is None
            assert (one.bits, one.answers) == (0.0, {})


def test_a_check_that_tells_nothing_is_not_advised(case: Case) -> None:
    assert "idle" in {worth.check.partition("/")[2] for worth in case.checks()}
    assert "idle" not in named(case.advice())


def test_with_nothing_left_to_tell_the_part_is_replaced(case: Case) -> None:
    """Once it is known to be B, no check says more; Y is certain to end it."""
    found = case.answer("look", "no").advice()
    assert [(one.action, one.item) for one in found] == [("replace", "s/y")]
    assert found[0].expected_minutes == pytest.approx(Y, abs=CLOSE)


def test_only_those_at_hand_are_asked(case: Case) -> None:
    """`by` keeps the checks that they can answer; replacing a part is advised all the same."""
    assert set(named(case.advice(by=["crew"]))) == {"look", "x", "y"}
    assert set(named(case.advice(by=["shop"]))) == {"x", "y"}
    assert set(named(case.advice(by=["crew", "line"]))) == {"look", "peek", "noisy", "x", "y"}
    assert set(named(case.advice(by=[]))) == {"x", "y"}


@pytest.mark.parametrize("limit", [1, 2, 3])
def test_the_shortlist_is_as_long_as_asked_for(case: Case, limit: int) -> None:
    """By bits per minute: one bit, near enough, in 4 minutes, less than half of it in 2, the same one in 19."""
    checks = [name for name, one in named(case.advice(limit=limit)).items() if one.action == "check"]
    assert set(checks) == set(["look", "noisy", "peek"][:limit])


def test_parts_that_are_certainly_good_are_not_replaced(case: Case) -> None:
    found = named(case.repair("x", gone=False).advice())
    assert set(found) == {"y"}


def test_where_nothing_can_be_repaired_checks_cost_their_minutes() -> None:
    """A report that is seen with nothing wrong leads to no repair; what can still be told is advised."""
    opened = Case.open(
        library(
            """
causes:
  a: {title: A, probability: 0.25}
signals:
  always: {title: Nothing takes it away}
checks:
  look: {title: Look, ask: Is it so?, reads: a, minutes: 7}
symptoms:
  there: {title: It is there, sees: {always: yes}}
"""
        ),
        ["there"],
    )
    (only,) = opened.advice()
    assert (only.action, only.check, only.minutes, only.expected_minutes) == ("check", "s/look", 7.0, 7.0)


def test_a_cause_without_item_is_put_right_in_its_own_minutes() -> None:
    opened = Case.open(
        library(
            """
causes:
  a: {title: A, probability: 0.1, minutes: 12}
events:
  top: {title: Top, any: [a]}
symptoms:
  reported: {title: Reported, event: top, retest: 3}
"""
        ),
        ["reported"],
    )
    (only,) = opened.advice()
    assert (only.action, only.item, only.minutes) == ("replace", "s/a", 15.0)
    assert only.expected_minutes == pytest.approx(15.0)


def test_retests_of_all_reports_are_counted() -> None:
    text = TWO + "  also: {title: Also, sees: {a: yes}, retest: 7}\n"
    found = named(Case.open(library(text), ["reported", "also"]).advice())
    assert found["x"].minutes == 20.0 + 10.0 + 7.0


def test_what_is_gone_already_takes_no_more_time(two: Library) -> None:
    """Where nobody could tell what a repair did, the rest is repaired only as far as there is something to repair."""
    case = Case.open(two, ["reported"]).repair("x", gone=None)
    assert case.cured == pytest.approx(A, abs=1e-6)
    found = {one.check or one.item: one.expected_minutes for one in case.advice()}
    assert found["s/y"] == pytest.approx(Y, abs=CLOSE)
    assert max(found.values()) < 2 * Y


def test_nothing_is_cured_while_every_repair_was_seen_to_fail(two: Library) -> None:
    """A report that was seen to hold after the last repair is not gone, whatever was untold before."""
    case = Case.open(two, ["reported"])
    assert case.cured == 0.0
    assert case.repair("x", gone=None).repair("y", gone=True).cured == 0.0
    assert case.repair("x", gone=False).cured == 0.0


def test_the_time_left_counts_only_what_may_have_to_be_repaired() -> None:
    shares, costs = np.array([[0.2], [0.1]]), np.array([[10.0], [10.0]])
    assert repair_minutes(shares, costs, np.array([0.3])).tolist() == pytest.approx([10.0 * 0.3 + 10.0 * 0.1])


shares_and_costs = st.lists(st.tuples(st.floats(0.01, 1.0), st.floats(1.0, 100.0)), min_size=1, max_size=5)


@given(shares_and_costs, st.floats(1.0, 2.0))
def test_the_order_of_repairs_is_the_best_there_is(pairs: list[tuple[float, float]], slack: float) -> None:
    """Share over cost: no other order takes fewer minutes (all orders tried)."""
    total = sum(share for share, _ in pairs) * slack
    shares = np.array([[share / total] for share, _ in pairs])
    costs = np.array([[cost] for _, cost in pairs])
    best = min(expected_minutes(order) for order in permutations(zip(shares[:, 0], costs[:, 0], strict=True)))
    assert repair_minutes(shares, costs).tolist() == pytest.approx([best], rel=1e-9)


def test_every_column_has_an_order_of_its_own() -> None:
    shares = np.array([[0.5, 1.0, 0.0], [0.5, 0.0, 1.0]])
    costs = np.array([[10.0, 10.0, 10.0], [40.0, 40.0, 5.0]])
    assert repair_minutes(shares, costs).tolist() == pytest.approx([10.0 + 0.5 * 40.0, 10.0, 5.0])


def bench(clearing: list[float], prior: float = 0.0) -> Bench:
    access: tuple[dict[str, float], ...] = ({"bay": 15.0}, {"bay": 15.0, "door": 4.0}, {})
    return Bench(
        ("p", "q", "r"), np.arange(3), np.array([10.0, 20.0, 30.0]), access, np.array(clearing), np.full(3, prior)
    )


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


@pytest.mark.parametrize("seed", range(12))
def test_supposing_branches_or_units_gives_the_same(seed: int) -> None:
    """Bayes' rule: P(unit / branch) from runs with every branch, or from runs with every unit at fault."""
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
        every = np.arange(len(units.units))
        found = by_unit(posterior, units, branches, every)
        np.testing.assert_allclose(found, by_branch(posterior, units, branches), atol=1e-9)
        some = by_unit(posterior, units, branches, every[:1])
        now = unit_probabilities(posterior, units, posterior.result.causes)
        np.testing.assert_allclose(some[:1], found[:1], atol=1e-12)
        np.testing.assert_allclose(some[1:], np.repeat(now[1:, None], len(branches), axis=1), atol=1e-12)

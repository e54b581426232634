"""Advice: expected minutes to restoration, worked out by hand on a system of two parts."""

from __future__ import annotations

import pytest

from faultree.library.model import Library
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case
from tests.belief.small import library

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
    """A check first, then what is best after it; a part first, then the other one if that was not it."""
    right = 0.8 * A + 0.1 * B
    expected = {
        "look": 4.0 + A * X + B * Y,
        "peek": 4.0 + 15.0 + A * X + B * Y_OPEN,
        "x": X + B * Y,
        "y": Y + A * X,
        # after the answer yes X goes first, after no it is still worth 4 minutes to look
        "noisy": 2.0 + right * X + 0.1 * B * Y + 0.2 * A * (4.0 + X) + 0.9 * B * (4.0 + Y),
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

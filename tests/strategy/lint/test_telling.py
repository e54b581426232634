"""What causes do and what checks tell: the simulation and the exact engine, each held against enumeration."""

from __future__ import annotations

from itertools import combinations

import pytest

from faultree.belief.engine import Limits, TooWide
from faultree.library.load import load_texts
from faultree.strategy.lint.oracle import Oracle
from faultree.strategy.lint.telling import Telling, Told
from tests.strategy.lint.enumerated import Enumerated, library

SEEDS = range(60)
NOTHING = Told(frozenset(), frozenset())


def exact(telling: Telling) -> Telling:
    """The same questions, of which the simulation answers none."""
    telling.__dict__["told"] = NOTHING
    telling.__dict__["acting"] = frozenset()
    return telling


@pytest.mark.parametrize("seed", SEEDS)
def test_the_exact_answers_are_those_of_enumeration(seed: int) -> None:
    """With no help from the simulation."""
    brute = Enumerated(library(seed))
    telling = exact(Telling(Oracle(brute.library)))
    for cause in brute.library.causes:
        assert telling.acts(cause) == brute.acts(cause)
        assert set(telling.rivals(cause)) == brute.rivals(cause)
    for check in brute.library.checks:
        assert telling.tells(check) == brute.tells(check)


@pytest.mark.parametrize("seed", SEEDS)
def test_causes_are_alike_where_enumeration_finds_no_difference(seed: int) -> None:
    brute = Enumerated(library(seed))
    telling = Telling(Oracle(brute.library))
    for one, two in combinations(brute.library.causes, 2):
        assert telling.alike(one, two) == brute.alike(one, two)


@pytest.mark.parametrize("seed", SEEDS)
def test_what_the_simulation_shows_is_so(seed: int) -> None:
    """It may miss what takes three faults; it never claims what is not."""
    brute = Enumerated(library(seed))
    telling = Telling(Oracle(brute.library))
    assert all(brute.acts(cause) for cause in telling.acting)
    assert all(brute.tells(check) for check in telling.told.checks)
    for cause in telling.told.causes:
        pairs = [(check, *rival) for check in brute.library.checks for rival in brute.rivals(cause)]
        assert any(brute.apart(check, cause, other, symptom) for check, symptom, other in pairs)


def test_the_random_libraries_hold_every_case() -> None:
    """Both answers of each question come up, so that no test above is empty."""
    acting, alike, telling, rivals = set(), set(), set(), set()
    for seed in SEEDS:
        brute = Enumerated(library(seed))
        acting |= {brute.acts(cause) for cause in brute.library.causes}
        alike |= {brute.alike(one, two) for one, two in combinations(brute.library.causes, 2)}
        telling |= {brute.tells(check) for check in brute.library.checks}
        rivals |= {bool(brute.rivals(cause)) for cause in brute.library.causes}
    assert acting == alike == telling == rivals == {True, False}


def test_the_simulation_finds_nearly_everything() -> None:
    """It is there to spare the engine work: of the random libraries it misses next to nothing."""
    shown = wanted = 0
    for seed in SEEDS:
        brute = Enumerated(library(seed))
        told = Telling(Oracle(brute.library)).told
        wanted += sum(brute.tells(check) for check in brute.library.checks)
        shown += len(told.checks)
    assert wanted >= 40
    assert shown >= 0.95 * wanted


THREE = """
faultree: 1
title: It takes three
causes:
  a: {title: a, probability: 0.1}
  b: {title: b, probability: 0.1}
  c: {title: c, probability: 0.1}
  d: {title: d, probability: 0.1}
events:
  top: {title: top, all: [a, b, {any: [c, d]}]}
checks:
  look: {title: look at c, reads: c}
symptoms:
  s: {title: s, event: top}
"""


def test_what_takes_three_faults_is_found_by_the_engine() -> None:
    """The simulation sees no company of two."""
    telling = Telling(Oracle(load_texts({"s.yaml": THREE})))
    assert telling.told == NOTHING
    assert telling.tells("s/look")
    assert set(telling.rivals("s/c")) == {("s/s", "s/d")}
    assert telling.tells_apart("s/look", "s/c", "s/d", "s/s")


def test_beyond_the_limits_it_says_so() -> None:
    """No answer is guessed."""
    telling = Telling(Oracle(load_texts({"s.yaml": THREE}), Limits(cells=1)))
    with pytest.raises(TooWide):
        telling.tells("s/look")

"""The worth of a check: bits by their definition on small numbers, and the probability of each answer."""

from __future__ import annotations

import random
from math import log2

import pytest

from faultree.base.errors import Contradiction
from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.strategy.case import Case
from faultree.strategy.worth import Worth, worths
from tests.belief.small import library, pump, pump_frame
from tests.oracles.random_libraries import SMALL, random_library


def entropy(*shares: float) -> float:
    return -sum(share * log2(share) for share in shares if share)


FOUR = """
conditions:
  powered: {title: power is on}
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.1}
  c: {title: C, probability: 0.1}
  d: {title: D, probability: 0.1}
  apart: {title: Has nothing to do with it, probability: 0.25}
events:
  one: {title: Exactly one of four, one_of: [a, b, c, d]}
  half: {title: One of two, any: [a, b]}
  idle: {title: Only with power, all: [powered, a]}
checks:
  perfect: {title: T, ask: Q, reads: half}
  quarter: {title: T, ask: Q, reads: a}
  noisy: {title: T, ask: Q, reads: half, false_yes: 0.1, false_no: 0.1}
  lopsided: {title: T, ask: Q, reads: half, false_yes: 0.2}
  blind: {title: T, ask: Q, reads: half, false_yes: 0.5, false_no: 0.5}
  which:
    title: T
    ask: Q
    answers: &which
      is-a: {text: A, when: a}
      is-b: {text: B, when: {all: [b, {not: a}]}}
      is-c: {text: C, when: {all: [c, {none: [a, b]}]}}
      other: {text: Another, when: otherwise}
  which-noisy:
    title: T
    ask: Q
    error: 0.3
    answers:
      is-a: {text: A, when: a}
      is-b: {text: B, when: {all: [b, {not: a}]}}
      is-c: {text: C, when: {all: [c, {none: [a, b]}]}}
      other: {text: Another, when: otherwise}
  elsewhere: {title: T, ask: Q, reads: apart}
  settled: {title: T, ask: Q, reads: idle}
symptoms:
  reported: {title: One of four, event: one}
""".replace("&which", "")

BITS = {
    "perfect": 1.0,
    "quarter": entropy(0.25, 0.75),
    "noisy": 1.0 - entropy(0.1, 0.9),
    "lopsided": entropy(0.6, 0.4) - 0.5 * entropy(0.2, 0.8),
    "blind": 0.0,
    "which": 2.0,
    "which-noisy": 2.0 - entropy(0.7, 0.1, 0.1, 0.1),
    "elsewhere": entropy(0.25, 0.75),
    "settled": 0.0,
}
"""Exactly one of four equally likely faults is there: H(answer) less what remains once the fault is known."""


@pytest.fixture(scope="module")
def found() -> dict[str, Worth]:
    case = Case.open(library(FOUR), ["reported"])
    return {worth.check.partition("/")[2]: worth for worth in case.checks()}


@pytest.mark.parametrize("check", BITS)
def test_bits_are_what_the_answer_tells_of_the_faults(found: dict[str, Worth], check: str) -> None:
    assert found[check].bits == pytest.approx(BITS[check], abs=1e-12)


def test_each_answer_has_its_probability(found: dict[str, Worth]) -> None:
    answers = {name: worth.answers for name, worth in found.items()}
    assert answers["perfect"] == pytest.approx({"yes": 0.5, "no": 0.5})
    assert answers["lopsided"] == pytest.approx({"yes": 0.6, "no": 0.4})
    assert answers["which-noisy"] == pytest.approx({"is-a": 0.25, "is-b": 0.25, "is-c": 0.25, "other": 0.25})
    assert answers["elsewhere"] == pytest.approx({"yes": 0.25, "no": 0.75})
    assert answers["settled"] == {"yes": 0.0, "no": 1.0}


def test_answers_are_in_the_authors_order(found: dict[str, Worth]) -> None:
    assert list(found["perfect"].answers) == ["yes", "no"]
    assert list(found["which"].answers) == ["is-a", "is-b", "is-c", "other"]


def test_most_bits_come_first(found: dict[str, Worth]) -> None:
    bits = [worth.bits for worth in found.values()]
    assert bits == sorted(bits, reverse=True)
    assert next(iter(found)) == "which"


def test_only_the_checks_asked_for_are_measured_with_the_minutes_given() -> None:
    posterior = Posterior(pump_frame(), ("s/still",), ())
    some = worths(posterior, ["s/read", "s/listen"], {"s/read": 7.5, "s/listen": 2.0, "s/feel": 1.0})
    assert {worth.check: worth.minutes for worth in some} == {"s/read": 7.5, "s/listen": 2.0}
    assert worths(posterior, [], {}) == []


def test_a_check_that_was_as_good_as_answered_tells_nothing_more() -> None:
    """Once the noise-free check of the same node is known, a noisy one only adds its own noise."""
    case = Case.open(library(FOUR), ["reported"]).answer("perfect", "yes")
    worth = {one.check: one for one in case.checks()}
    assert worth["s/noisy"].bits == pytest.approx(0.0, abs=1e-12)
    assert worth["s/noisy"].answers["yes"] == pytest.approx(0.9, abs=1e-12)


def test_after_a_repair_a_check_is_worth_what_it_tells_now() -> None:
    """With the pump good, pressure depends on the pipe alone."""
    case = Case.open(pump(), ["still"]).repair("pump", gone=False)
    worth = {one.check: one for one in case.checks()}
    left = 1.0 - 0.8 * 0.7
    assert worth["s/feel"].answers["no"] == pytest.approx(0.2 / left, abs=1e-12)
    assert worth["s/feel"].bits == pytest.approx(entropy(0.2 / left, 1.0 - 0.2 / left), abs=1e-12)


@pytest.mark.parametrize("seed", range(40))
def test_answers_are_probabilities_and_bits_are_bounded(seed: int) -> None:
    """Never below 0 nor above 1, together 1; never more bits than the answer has room for."""
    rng = random.Random(seed)
    drawn = random_library(rng, SMALL).library
    frame = frame_of(drawn)
    for symptom in drawn.symptoms:
        try:
            case = Case.open(drawn, [symptom])
        except Contradiction:
            continue
        for worth in case.checks():
            assert all(0.0 <= one <= 1.0 for one in worth.answers.values()), worth
            assert sum(worth.answers.values()) == pytest.approx(1.0, abs=1e-12)
            assert 0.0 <= worth.bits <= log2(len(worth.answers)) + 1e-12
            assert list(worth.answers) == [one.id for one in frame.library.checks[worth.check].answers]
